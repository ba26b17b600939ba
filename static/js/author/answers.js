/** Tells of what became of a change, where the server's answer alone does not.
 *  Markup: `<div data-module="author/answers">` round the page's parts: `#bench-saved`, places
 *  `<div data-fields="a b" data-wrong="b">` that follow their fields, and `.js-save` buttons, which are not
 *  needed where every change saves itself. */
const SAVING_AFTER = 400; // ms: a quicker answer needs no word about waiting

export function start(root) {
  const saved = () => root.querySelector("#bench-saved");
  if (!saved()) throw new Error("author/answers: needs #bench-saved");
  const tidy = () => {
    for (const button of root.querySelectorAll(".js-save")) button.hidden = true;
    for (const place of root.querySelectorAll("[data-fields]")) mark(place);
  };
  let waiting;
  root.addEventListener("htmx:beforeRequest", (event) => {
    if (event.detail.requestConfig.verb === "get") return;
    clearTimeout(waiting);
    waiting = setTimeout(() => (saved().textContent = "Saving…"), SAVING_AFTER);
  });
  root.addEventListener("htmx:afterRequest", () => clearTimeout(waiting));
  root.addEventListener("htmx:sendError", () => say(saved(), "Not saved", ": the site cannot be reached. Nothing typed is lost; it is tried again with the next change."));
  root.addEventListener("htmx:responseError", (event) => say(saved(), "Not saved", `: the site answered ${event.detail.xhr.status}. Nothing typed is lost; copy it before you load the page again.`));
  root.addEventListener("htmx:afterSettle", tidy);
  root.addEventListener("htmx:oobAfterSwap", tidy);
  tidy();
  followCurrent(root);
}

/** A long list scrolls to the step at the bench, and follows it while drawings come in above; but from when the
 *  list is scrolled by hand it is left where it is, until another step is gone to. */
function followCurrent(root) {
  let isFollowed = true;
  const show = () => isFollowed && showCurrent(root);
  for (const name of ["wheel", "touchmove", "pointerdown", "keydown"]) {
    root.querySelector(".author__steps").addEventListener(name, () => (isFollowed = false), { passive: true });
  }
  document.addEventListener("htmx:pushedIntoHistory", () => {
    isFollowed = true;
    arrive(root);
  });
  root.addEventListener("htmx:afterSettle", show);
  show();
}

function showCurrent(root) {
  const row = root.querySelector(".row--current");
  const scroller = row?.closest(".author__steps");
  if (!scroller || scroller.scrollHeight <= scroller.clientHeight) return;
  const [list, box] = [scroller.getBoundingClientRect(), row.getBoundingClientRect()];
  const foot = Math.min(list.bottom, window.innerHeight);
  if (box.top < list.top) scroller.scrollTop -= list.top - box.top;
  else if (box.bottom > foot) scroller.scrollTop += Math.min(box.bottom - foot, box.top - list.top);
}

/** Where the list and the step are not seen together, going to a step means going to its top. */
function arrive(root) {
  const panel = root.querySelector("#bench-panel");
  if (panel && root.querySelector(".author__steps")?.offsetParent === null) {
    panel.scrollIntoView({ block: "start" });
    panel.focus({ preventScroll: true });
  }
}

function say(place, word, rest) {
  const strong = document.createElement("strong");
  strong.textContent = word;
  place.replaceChildren(strong, rest);
}

/** Says at each field whether what is typed in it is wrong: fields are never swapped, so the answer cannot. */
function mark(place) {
  const wrong = new Set(place.dataset.wrong.split(" ").filter(Boolean));
  for (const name of place.dataset.fields.split(" ").filter(Boolean)) {
    for (const field of document.getElementsByName(name)) {
      if (wrong.has(name)) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }
}
