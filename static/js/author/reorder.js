/** Moves a step in the list by dragging its grip, or by the up and down keys on it.
 *  Markup: `<section data-module="author/reorder">` round a list of `<li data-key data-move>`, each with a
 *  `.js-grip` button; `data-move` is the address to post the new place to, counted from 0. */
const MOVING = "row--moving";

export function start(root) {
  root.addEventListener("pointerdown", (event) => {
    const grip = event.target.closest(".js-grip");
    if (grip && event.button === 0) drag(rowOf(grip), grip, event);
  });
  root.addEventListener("keydown", (event) => {
    const grip = event.target.closest?.(".js-grip");
    const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (!grip || !by || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const row = rowOf(grip);
    const to = placeOf(row) + by;
    if (to >= 0 && to < row.parentElement.children.length) move(row, to);
  });
}

function rowOf(grip) {
  const row = grip.closest("li");
  if (!row?.dataset.move) throw new Error("author/reorder: a grip belongs in an <li data-move>");
  return row;
}

const placeOf = (row) => [...row.parentElement.children].indexOf(row);

function move(row, to) {
  // By the page itself: the row is swapped away by the answer to the move before.
  window.htmx.ajax("POST", row.dataset.move, { source: row.closest("#bench"), swap: "none", values: { to } });
}

function drag(row, grip, begin) {
  const list = row.parentElement;
  const from = placeOf(row);
  const following = row.nextElementSibling;
  begin.preventDefault();
  grip.focus();
  row.classList.add(MOVING);

  const follow = (event) => {
    scrollNear(event.clientY, list);
    const over = [...list.children].find((one) => one !== row && event.clientY < middle(one));
    if (over !== row.nextElementSibling) list.insertBefore(row, over ?? null);
  };
  const end = (event) => {
    document.removeEventListener("pointermove", follow);
    for (const name of ["pointerup", "pointercancel"]) document.removeEventListener(name, end);
    document.removeEventListener("keydown", giveUp, true);
    row.classList.remove(MOVING);
    const to = placeOf(row);
    if (event.type !== "pointerup") list.insertBefore(row, following);
    else if (to !== from) move(row, to);
    grip.focus();
  };
  const giveUp = (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    end(event);
  };
  // On the document: moving the row in the page would end a capture by its grip.
  document.addEventListener("pointermove", follow);
  for (const name of ["pointerup", "pointercancel"]) document.addEventListener(name, end);
  document.addEventListener("keydown", giveUp, true);
}

function middle(row) {
  const box = row.getBoundingClientRect();
  return box.top + box.height / 2;
}

/** A long list scrolls on while a row is held near its edge. */
function scrollNear(y, list) {
  const edge = 60; // px
  const scroller = list.closest(".bench__steps");
  const box = scroller.scrollHeight > scroller.clientHeight + 1 ? scroller.getBoundingClientRect() : { top: 0, bottom: window.innerHeight };
  const target = scroller.scrollHeight > scroller.clientHeight + 1 ? scroller : window;
  if (y < box.top + edge) target.scrollBy(0, -12);
  else if (y > box.bottom - edge) target.scrollBy(0, 12);
}
