/** Turns the screens by keys, so that a foot pedal, a headset or a knuckle will do: right, page down, space and
 *  "next track" go on; left, page up and "previous track" go back. Up and down scroll, as ever.
 *  Markup: `<div data-module="follow">` on a page with links of rel="next" and rel="prev". */
const WAYS = {
  ArrowRight: "next",
  PageDown: "next",
  " ": "next",
  MediaTrackNext: "next",
  ArrowLeft: "prev",
  PageUp: "prev",
  MediaTrackPrevious: "prev",
};
const TYPED_IN = "input, select, textarea, [contenteditable]";
const PRESSED = "a, button, summary"; // space is theirs

export function start() {
  document.addEventListener("keydown", (event) => {
    const way = WAYS[event.key];
    if (!way || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || event.repeat) return;
    if (event.target.closest(TYPED_IN) || (event.key === " " && event.target.closest(PRESSED))) return;
    event.preventDefault();
    turn(way);
  });
  // A headset's keys reach a page this way only while the phone takes it for something that plays.
  for (const [action, way] of [["nexttrack", "next"], ["previoustrack", "prev"]]) {
    try {
      navigator.mediaSession?.setActionHandler(action, () => turn(way));
    } catch {
      // Not every browser knows every action.
    }
  }
}

/** A page may hold several screens, of which one is seen. */
function turn(way) {
  [...document.querySelectorAll(`a[rel="${way}"]`)].find((one) => one.offsetParent)?.click();
}
