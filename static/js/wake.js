/** Keeps the screen on while it is looked at, where the browser can. Markup: `<div data-module="wake">`. */
export function start() {
  if (!("wakeLock" in navigator)) return;
  const hold = () => {
    // Refused when the battery is low: the screen then sleeps as usual.
    if (document.visibilityState === "visible") navigator.wakeLock.request("screen").catch(() => {});
  };
  document.addEventListener("visibilitychange", hold);
  hold();
}
