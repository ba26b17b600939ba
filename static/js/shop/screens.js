/** One screen at a time, of a page that holds them all; which one is in the address after the #, and remembered.
 *  Markup: `<div data-module="shop/screens" data-slug>` round `<section class="shop__screen" id>`.
 *  `screen:shown` on a section tells that it is the one seen now. */
export function start(root) {
  const screens = [...root.querySelectorAll(".shop__screen")];
  const place = `forgesite place ${root.dataset.slug}`;
  const holding = (id) => (id ? document.getElementById(id)?.closest(".shop__screen") : null); // a place within a screen
  const show = (wanted, { focus = true } = {}) => {
    const found = screens.find((one) => one.id === wanted) ?? holding(wanted) ?? screens[0];
    for (const one of screens) one.hidden = one !== found;
    window.scrollTo(0, 0);
    if (focus) found.focus({ preventScroll: true });
    remember(place, found.id);
    document.title = `${found.dataset.title} · ${root.dataset.title}`;
    found.dispatchEvent(new CustomEvent("screen:shown", { bubbles: true }));
  };
  window.addEventListener("hashchange", () => show(location.hash.slice(1)));
  if (location.hash) show(location.hash.slice(1), { focus: false });
  else {
    const last = remembered(place);
    if (last) history.replaceState(null, "", `#${last}`);
    show(last, { focus: false });
  }
}

function remember(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // A private window may refuse; the place is then in the address alone.
  }
}

function remembered(key) {
  try {
    return localStorage.getItem(key) ?? "";
  } catch {
    return "";
  }
}
