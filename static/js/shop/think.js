/** What is read before a step: nothing else of the step is seen until it was. Its link stands where Next does, so
 *  that a thumb or a foot pedal goes through it. Once read, it stands below the step until the browser is closed.
 *  Markup: `<section class="think" data-module="shop/think">` with a `.think__read` link, within a `.layout-follow`. */
export function start(section) {
  const screen = section.closest(".layout-follow");
  const link = section.querySelector(".think__read");
  const bar = screen.querySelector(".follow__actions");
  if (!link || !bar) throw new Error("think: needs a .think__read link and a .follow__actions beside it");
  const key = `forgesite read ${location.pathname}${link.hash}`;

  const read = () => {
    section.classList.add("think--read");
    link.remove();
    screen.querySelector(".anvil")?.before(section);
  };
  if (remembered(key)) return read();
  link.rel = "next";
  bar.append(link);
  link.addEventListener("click", (event) => {
    event.preventDefault();
    remember(key);
    read();
    window.scrollTo(0, 0);
    const head = document.getElementById(link.hash.slice(1));
    head.tabIndex = -1;
    head.focus({ preventScroll: true });
    document.dispatchEvent(new CustomEvent("step:read"));
  });
}

const memory = new Set();

function remembered(key) {
  try {
    return memory.has(key) || sessionStorage.getItem(key) !== null;
  } catch {
    return memory.has(key);
  }
}

function remember(key) {
  memory.add(key);
  try {
    sessionStorage.setItem(key, "");
  } catch {
    // A private window may refuse: it is then read again after a reload.
  }
}
