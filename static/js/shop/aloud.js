/** Reads a screen aloud, with the phone's own voice, where that was asked for; it stops when the screen is left.
 *  Markup: `<div data-module="shop/aloud" data-text="Step 2 of 9. Taper. …" hidden>`. */
import { settings } from "forgesite/shop/settings";

const ENGLISH = /^en\b/i;

/** A voice that the phone has itself, before one that needs the network. */
function voice() {
  const all = speechSynthesis.getVoices().filter((one) => ENGLISH.test(one.lang));
  return all.find((one) => one.localService && /^en-GB/i.test(one.lang)) ?? all.find((one) => one.localService) ?? all[0] ?? null;
}

export function start(root) {
  if (!("speechSynthesis" in window)) return;
  const press = document.createElement("button");
  press.type = "button";
  press.className = "button button--quiet button--shop";
  root.append(press);
  let saying = null;

  const quiet = () => {
    if (saying) speechSynthesis.cancel();
    saying = null;
    press.textContent = "Read aloud";
  };
  const say = () => {
    speechSynthesis.cancel();
    const spoken = new SpeechSynthesisUtterance(root.dataset.text);
    spoken.lang = "en-GB";
    spoken.voice = voice();
    spoken.rate = 0.9;
    spoken.onend = spoken.onerror = () => saying === spoken && quiet();
    saying = spoken;
    press.textContent = "Stop reading";
    speechSynthesis.speak(spoken);
  };
  const offer = () => {
    root.hidden = settings().aloud !== "on";
    if (root.hidden) quiet();
  };

  press.addEventListener("click", () => (saying ? quiet() : say()));
  document.addEventListener("settings:changed", offer);
  document.addEventListener("screen:shown", quiet);
  window.addEventListener("pagehide", quiet);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && quiet());
  quiet();
  offer();
}
