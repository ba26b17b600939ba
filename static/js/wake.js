/** Keeps the screen on while a step is looked at, where the browser can, and lets go when the page is left or the
 *  run is ended. Markup: `<div data-module="wake">`. */
export function start() {
  if (!("wakeLock" in navigator)) return;
  let held = null;
  let wanted = true;
  const hold = async () => {
    if (!wanted || document.visibilityState !== "visible") return;
    // Refused when the battery is low: the screen then sleeps as usual.
    const lock = await navigator.wakeLock.request("screen").catch(() => null);
    if (!wanted) return lock?.release();
    held = lock;
  };
  const letGo = () => {
    wanted = false;
    held?.release();
    held = null;
  };
  const again = () => {
    if (wanted && held && !held.released) return;
    wanted = true;
    hold();
  };
  document.addEventListener("visibilitychange", hold);
  document.addEventListener("run:ended", letGo);
  document.addEventListener("run:added", ({ detail }) => detail.kind !== "done" && again());
  window.addEventListener("pagehide", letGo);
  window.addEventListener("pageshow", ({ persisted }) => persisted && again());
  hold();
}
