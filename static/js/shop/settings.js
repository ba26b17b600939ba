/** How this phone shows the screens: hand, light, size of text, voice. Kept on the phone and told to nobody;
 *  early.js puts it on <html> before the first paint.
 *  Markup: `<form data-module="shop/settings" hidden>` with radios named hand, light, text, aloud, the first of each
 *  being what is without a choice. `settings:changed` on document tells of a change. */
const KEY = "forgesite settings";
const THEMES = { day: "light", night: "dark", "black-on-white": "light", "white-on-black": "dark" };
let unkept = null; // where nothing can be stored they live as long as the page

export function settings() {
  try {
    return unkept ?? JSON.parse(localStorage.getItem(KEY)) ?? {};
  } catch {
    return unkept ?? {};
  }
}

export function choose(name, value) {
  const chosen = { ...settings(), [name]: value };
  try {
    localStorage.setItem(KEY, JSON.stringify(chosen));
  } catch {
    unkept = chosen;
  }
  apply(chosen);
  document.dispatchEvent(new CustomEvent("settings:changed", { detail: chosen }));
}

function apply({ hand, light, text, aloud }) {
  const set = (name, value) => (value ? (document.documentElement.dataset[name] = value) : delete document.documentElement.dataset[name]);
  if (light !== undefined) set("theme", THEMES[light]);
  set("contrast", /-on-/.test(light ?? "") ? light : "");
  set("hand", hand === "left" ? "left" : "");
  set("text", text === "100" ? "" : text);
  set("aloud", aloud === "on" ? "on" : "");
}

export function start(form) {
  const mark = () => {
    const chosen = settings();
    for (const name of new Set([...form.querySelectorAll("input")].map((one) => one.name))) {
      const radios = [...form.querySelectorAll(`[name="${name}"]`)];
      (radios.find((one) => one.value === chosen[name]) ?? radios[0]).checked = true;
    }
  };
  form.addEventListener("change", ({ target }) => choose(target.name, target.value));
  document.addEventListener("settings:changed", mark);
  mark();
  form.closest("[hidden]").hidden = false;
}
