/** Counts heats, times them, takes measurements and notes at one step, all of it into the log of the run.
 *  Markup: templates/procedures/follow/_anvil.html. The page says what it is of in `#run-of`. */
import { alarm } from "forgesite/shop/alarm";
import { clock, said } from "forgesite/shop/clock";
import { answered } from "forgesite/shop/measuring";
import { pictures } from "forgesite/shop/pictures";
import * as log from "forgesite/shop/run";

export async function start(panel) {
  const of = JSON.parse(document.getElementById("run-of").textContent);
  const { part, step, number } = panel.dataset;
  let run = await log.current(of).catch(() => null);
  const add = async (entry, photo) => {
    try {
      run ??= (await log.current(of)) ?? (await log.begin(of));
      return await log.add(run, { part, step, number: Number(number), ...entry }, photo);
    } catch {
      trouble(panel, "This browser keeps no log here: it may be a private window, or the phone is full. Nothing you enter is kept.");
      return null;
    }
  };
  const here = () => (run ? log.entries(run, { part, step, piece: log.pieceOf(run, part) }) : Promise.resolve([]));

  for (const one of panel.querySelectorAll(".js-only")) one.hidden = false;
  const after = [heats(panel, add), notes(panel, add), gate(panel, add, () => run), pictures(panel, add)];
  const update = async () => {
    const entries = await here().catch(() => []);
    for (const one of after) one(entries);
  };
  heatClock(panel, add, `${of.slug} ${part} ${step}`);
  soakClock(panel, add, `${of.slug} soak`);
  answered(panel.querySelector(".anvil__measure"), { of, part, step, add, run: () => run });
  document.addEventListener("run:added", update);
  document.addEventListener("run:changed", ({ detail }) => {
    if (detail.slug !== of.slug || detail.revision !== of.revision || (run && detail.id !== run.id)) return;
    run = detail.ended ? null : detail;
    update();
  });
  opened(panel, async () => run && add({ kind: "at" }));
  await update();
}

/** Tells when the screen of this step is seen: at once on a page of its own, else each time it is turned to. */
function opened(panel, seen) {
  const screen = panel.closest(".shop__screen");
  if (!screen || !screen.hidden) seen();
  screen?.addEventListener("screen:shown", seen);
}

function gate(panel, add, run) {
  const told = panel.querySelector(".js-gate");
  if (!told) return () => {};
  const { part, step } = panel.dataset;
  const ask = panel.querySelector(".js-ask");
  const initials = panel.querySelector(".js-initials");
  ask.addEventListener("click", () => add({ kind: "gate_asked" }));
  panel.querySelector(".js-sign").addEventListener("click", () => {
    const by = initials.value.trim();
    if (by) add({ kind: "gate", initials: by });
    else initials.focus();
  });
  return (entries) => {
    const here = entries.find((one) => one.kind === "gate");
    const there = run()?.signed?.find((one) => one.part === part && one.step === step && one.by);
    const by = here?.initials ?? there?.by;
    const asked = entries.some((one) => one.kind === "gate_asked");
    told.textContent = by ? `Signed by ${by}. Go on.` : asked ? "The teacher was asked to look. Wait." : "Stop here and have it looked at before you go on.";
    ask.disabled = Boolean(by) || asked;
  };
}

function heats(panel, add) {
  const count = panel.querySelector(".js-heats");
  if (!count) return () => {};
  const back = panel.querySelector(".js-unheat");
  panel.querySelector(".js-heat").addEventListener("click", () => add({ kind: "heat" }));
  back.addEventListener("click", () => add({ kind: "heat_undone" }));
  return (entries) => {
    const taken = log.heatsIn(entries);
    count.textContent = taken;
    back.disabled = taken < 1;
  };
}

function heatClock(panel, add, name) {
  const press = panel.querySelector(".js-out");
  if (!press) return;
  const shown = panel.querySelector(".js-clock");
  const seconds = Number(panel.dataset.seconds);
  const running = clock(name, {
    show(left) {
      shown.textContent = left === null ? `${seconds} s` : said(left);
      press.textContent = left === null ? "Out of the fire" : "Back in the fire";
    },
    ended({ late }) {
      if (late < 600) alarm("Stop. Back to the fire", "By the reckoning it is too cold to forge. Look at the metal.");
    },
  });
  press.addEventListener("click", () => {
    if (running.runs) return running.stop();
    running.start(seconds);
    add({ kind: "out" });
  });
}

function soakClock(panel, add, name) {
  const press = panel.querySelector(".js-soak");
  const shown = panel.querySelector(".js-soak-clock");
  let seconds = 60;
  const running = clock(name, {
    show(left) {
      shown.textContent = said(left ?? seconds);
      press.textContent = left === null ? "Soak in the fire" : "Stop the soak";
    },
    ended({ late }) {
      if (late < 600) alarm("Soaked", "The time you set is over.");
    },
  });
  press.addEventListener("click", () => {
    if (running.runs) return running.stop();
    running.start(seconds);
    add({ kind: "soak", seconds });
  });
  panel.querySelector(".js-longer").addEventListener("click", () => {
    seconds += 30;
    if (running.runs) running.longer(30);
    else shown.textContent = said(seconds);
  });
}

function notes(panel, add) {
  const form = panel.querySelector(".anvil__note");
  const list = panel.querySelector(".anvil__log");
  form.addEventListener("click", (event) => {
    const { chip } = event.target.dataset;
    if (chip) add({ kind: "chip", text: chip });
  });
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const text = form.elements.note.value.trim();
    if (text && (await add({ kind: "note", text }))) form.reset();
  });
  return (entries) => {
    const told = entries.filter((one) => one.kind === "note" || one.kind === "chip");
    list.replaceChildren(...told.map((one) => Object.assign(document.createElement("li"), { textContent: one.text })));
  };
}

function trouble(panel, words) {
  const told = panel.querySelector(".anvil__trouble") ?? document.createElement("p");
  told.className = "anvil__trouble";
  told.setAttribute("role", "alert");
  told.textContent = words;
  panel.prepend(told);
}
