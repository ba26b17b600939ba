/** Offers to keep a procedure on this phone, tells how large it is first, and whether it is really kept.
 *  Markup: `<div data-module="shop/keep" data-list="/…/kept.json">`. What is said goes into it. */
import { isPossible, keep, listOf, noteOf, remove, said, sum } from "forgesite/shop/kept";

export async function start(root) {
  const say = (...nodes) => root.replaceChildren(...nodes);
  if (!isPossible()) return say(words("This browser keeps nothing here for use without signal. Print the card for the shop."));
  let list;
  say(words("Looking up how large it is…"));
  try {
    list = await listOf(root.dataset.list);
  } catch {
    return say(words("What is to be kept could not be asked for. Try again where there is signal."));
  }
  const note = await noteOf(list.page).catch(() => null);
  if (note) return kept(note);
  offer();

  function offer(fault = "") {
    const engine = document.createElement("input");
    engine.type = "checkbox";
    engine.checked = true;
    const label = document.createElement("label");
    label.className = "keep__engine";
    label.append(engine, ` With the reckoning, to re-plan from what you measure without signal: ${said(sum(list.engine))} more`);
    const press = button(`Keep on this phone: ${said(sum(list.files))}`, async () => {
      const bar = document.createElement("progress");
      bar.setAttribute("aria-label", "Keeping it");
      say(words("Keeping it. Stay on this page."), bar);
      try {
        await keep(list, { engine: engine.checked, told: (done, of) => ((bar.max = of), (bar.value = done)) });
        kept(await noteOf(list.page));
      } catch (error) {
        offer(error.message);
      }
    });
    say(...(fault ? [words(fault, "alert")] : []), press, label);
  }

  function kept(note) {
    const open = document.createElement("a");
    open.className = "button button--shop";
    open.href = note.page;
    open.textContent = "Open what is kept";
    const when = new Date(note.at).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
    const how = note.engine ? "with the reckoning" : "without the reckoning";
    const forget = button("Remove it from this phone", async () => (await remove(note.page), offer()));
    forget.classList.add("button--quiet");
    say(words(`Kept on this phone on ${when}, ${how}: it works without signal.`, "status"), open, forget);
  }
}

function words(text, role) {
  const paragraph = document.createElement("p");
  paragraph.textContent = text;
  if (role) paragraph.setAttribute("role", role);
  return paragraph;
}

function button(text, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "button button--shop";
  made.textContent = text;
  made.addEventListener("click", act);
  return made;
}
