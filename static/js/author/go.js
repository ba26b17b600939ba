/** Follows links and sends forms marked `data-go` without leaving the page: the answer swaps its parts.
 *  Markup: `<div id="bench" data-module="author/go">` round `<a data-go href>`, `<form data-go method="post">` and
 *  `<button data-go>` of any other form. The requests are the page's own and not the link's: a link may be
 *  swapped away while its request waits for one before it, and would be forgotten with it. */
export function start(root) {
  if (!root.id) throw new Error("author/go: the element needs an id");
  root.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-go]");
    if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    go(root, "GET", link.href);
  });
  // Before htmx sees it: a button that goes somewhere is no ordinary save of its form.
  root.addEventListener(
    "submit",
    (event) => {
      const { target: form, submitter: button } = event;
      if (!("go" in form.dataset) && !(button && "go" in button.dataset)) return;
      event.preventDefault();
      event.stopPropagation();
      if (button?.getAttribute("aria-disabled") !== "true") go(root, "POST", form.action, new FormData(form, button));
    },
    true,
  );
}

function go(root, verb, address, values = {}) {
  const focused = document.activeElement;
  // What is typed is saved first: leaving the field sends it, and requests are answered in order.
  if (focused?.matches("input, textarea, select")) focused.blur();
  const panel = root.querySelector("#bench-panel");
  panel.inert = true; // nothing may be typed into what is about to be swapped away
  const arrive = (event) => {
    if (event.detail.elt !== root) return;
    root.removeEventListener("htmx:afterSettle", arrive);
    root.removeEventListener("htmx:afterRequest", arrive);
    panel.inert = false;
    setTimeout(() => focus(root, focused));
  };
  root.addEventListener("htmx:afterRequest", arrive);
  window.htmx.ajax(verb, address, { source: root, swap: "none", values });
}

/** The focus stays where it was, or on what stands there now; else it goes to what has come. */
function focus(root, before) {
  const now = before.id ? document.getElementById(before.id) : null;
  const wanted = root.querySelector("[autofocus]") ?? (now?.offsetParent ? now : null);
  if (wanted) wanted.focus({ preventScroll: true });
  else if (document.activeElement === document.body) root.querySelector("#bench-panel").focus({ preventScroll: true });
}
