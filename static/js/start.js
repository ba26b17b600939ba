/** Starts the behaviour each element asks for: `<p data-module="timer">` runs start() of "forgesite/timer". */
const started = new WeakSet();

async function startOne(element) {
  if (started.has(element)) return;
  started.add(element);
  for (const name of element.dataset.module.split(/\s+/).filter(Boolean)) {
    const behaviour = await import(`forgesite/${name}`);
    behaviour.start(element);
  }
}

export function startWithin(root) {
  if (root.matches?.("[data-module]")) startOne(root);
  for (const element of root.querySelectorAll("[data-module]")) startOne(element);
}

startWithin(document);
// htmx tells of every piece it puts into the page; those come with behaviours of their own.
document.addEventListener("htmx:load", (event) => startWithin(event.detail.elt));
