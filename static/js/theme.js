/** Day or night, remembered in a cookie so that the server writes it into the page and nothing flashes.
 *  Markup: `<div data-module="theme" hidden><button class="js-theme" value="dark">…</div>`. */
const YEAR = 31536000;
const dark = window.matchMedia("(prefers-color-scheme: dark)");

const shown = () => document.documentElement.dataset.theme ?? (dark.matches ? "dark" : "light");

export function start(root) {
  const buttons = [...root.querySelectorAll(".js-theme")];
  if (!buttons.length) throw new Error("theme: needs .js-theme buttons");
  const mark = () => buttons.forEach((button) => button.setAttribute("aria-pressed", String(button.value === shown())));
  for (const button of buttons) {
    button.addEventListener("click", () => {
      document.documentElement.dataset.theme = button.value;
      document.cookie = `theme=${button.value}; path=/; max-age=${YEAR}; SameSite=Lax`;
      mark();
    });
  }
  dark.addEventListener("change", mark);
  mark();
  root.hidden = false;
}
