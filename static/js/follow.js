/** Turns the screens by keys, so that a foot pedal or a knuckle will do: right and space go on, left goes back.
 *  Markup: `<div data-module="follow">` on a page with links of rel="next" and rel="prev". */
const WAYS = { ArrowRight: "next", " ": "next", ArrowLeft: "prev" };
const TAKES_KEYS = "a, button, input, select, textarea, summary, [contenteditable]";

export function start() {
  document.addEventListener("keydown", (event) => {
    const way = WAYS[event.key];
    if (!way || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (event.key === " " && event.target.closest(TAKES_KEYS)) return;
    // A page may hold several screens, of which one is seen.
    const link = [...document.querySelectorAll(`a[rel="${way}"]`)].find((one) => one.offsetParent);
    if (!link) return;
    event.preventDefault();
    link.click();
  });
}
