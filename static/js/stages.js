/** Steps and runs through the stages of a piece where it stands, without loading the page anew.
 *  Markup: `<form data-module="stages" data-target="id" data-base="/…/" data-query="?draft">` with links of
 *  rel="prev" and rel="next", `<input type="range" name="step">` and buttons `.stages__show`, `.stages__play`.
 *  What stands in the target is told by `stage:shown` on the form, with `detail.number`. */
const REST = 1500; // ms a stage is looked at when running through

export function start(form) {
  const target = document.getElementById(form.dataset.target);
  const slider = form.querySelector("input[type=range]");
  if (!target || !slider) throw new Error("stages: needs a target and a slider");
  const made = new Map(); // number → promise of its HTML
  const last = Number(slider.max);
  let wanted = Number(slider.value);
  let timer = null;

  const address = (number) => `${form.dataset.base}${number}/${form.dataset.query}`;
  const fetched = (number) => {
    if (!made.has(number)) made.set(number, ask(address(number)).catch((error) => (made.delete(number), Promise.reject(error))));
    return made.get(number);
  };

  async function show(number) {
    wanted = number;
    try {
      const html = await fetched(number);
      if (wanted !== number) return; // another was asked for while this came
      target.style.minBlockSize = `${target.offsetHeight}px`; // what stands below does not jump
      target.innerHTML = html;
      tell(form, slider, target, number, last, address);
      form.dispatchEvent(new CustomEvent("stage:shown", { bubbles: true, detail: { number } }));
      for (const near of [number + 1, number - 1]) if (near >= 0 && near <= last) fetched(near).catch(() => {});
    } catch {
      stop();
      location.assign(address(number)); // the browser says what is wrong better than we could
    }
  }

  function stop() {
    clearTimeout(timer);
    timer = null;
    play.setAttribute("aria-pressed", "false");
    play.textContent = "Run through";
  }

  async function run(number) {
    await show(number);
    if (number >= last) stop();
    else if (timer !== null) timer = setTimeout(run, REST, number + 1);
  }

  document.addEventListener("htmx:afterSettle", function forget() {
    made.clear(); // the author has changed something
    if (!form.isConnected) document.removeEventListener("htmx:afterSettle", forget);
  });
  form.querySelector(".stages__show").hidden = true;
  const play = form.querySelector(".stages__play");
  play.hidden = matchMedia("(prefers-reduced-motion: reduce)").matches;
  play.addEventListener("click", () => {
    if (timer !== null) return stop();
    play.setAttribute("aria-pressed", "true");
    play.textContent = "Stop";
    timer = 0;
    run(wanted >= last ? 0 : wanted + 1);
  });
  slider.addEventListener("input", () => (stop(), show(Number(slider.value))));
  form.addEventListener("submit", (event) => (event.preventDefault(), show(Number(slider.value))));
  for (const [rel, by] of [["prev", -1], ["next", 1]]) {
    form.querySelector(`a[rel=${rel}]`).addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
      event.preventDefault();
      stop();
      const number = wanted + by;
      if (number >= 0 && number <= last) show(number);
    });
  }
}

async function ask(address) {
  const answer = await fetch(address, { headers: { "HX-Request": "true" } });
  if (!answer.ok) throw new Error(answer.statusText);
  return answer.text();
}

/** The slider and the links say where one is. */
function tell(form, slider, target, number, last, address) {
  slider.value = number;
  const said = (name) => target.querySelector(name)?.textContent ?? "";
  slider.setAttribute("aria-valuetext", `${said(".stage__where")}: ${said(".stage__title")}`);
  for (const [rel, near] of [["prev", number - 1], ["next", number + 1]]) {
    const link = form.querySelector(`a[rel=${rel}]`);
    const there = near >= 0 && near <= last;
    if (there) {
      link.href = address(near);
      link.removeAttribute("aria-disabled");
      link.removeAttribute("role");
    } else {
      link.setAttribute("aria-disabled", "true"); // it keeps its address, and with it the focus
    }
  }
}
