/** What this phone was set to, put on <html> before the first paint. A plain script, not a module: modules wait.
 *  The settings themselves are made by shop/settings.js. */
(() => {
  let chosen = {};
  try {
    chosen = JSON.parse(localStorage.getItem("forgesite settings")) ?? {};
  } catch {
    // Nothing can be stored here: the page is as it comes.
  }
  const { dataset } = document.documentElement;
  const themes = { day: "light", night: "dark", "black-on-white": "light", "white-on-black": "dark" };
  if (themes[chosen.light]) dataset.theme = themes[chosen.light];
  if (/-on-/.test(chosen.light ?? "")) dataset.contrast = chosen.light;
  if (chosen.hand === "left") dataset.hand = "left";
  if (["125", "150", "200"].includes(chosen.text)) dataset.text = chosen.text;
  if (chosen.aloud === "on") dataset.aloud = "on";
})();
