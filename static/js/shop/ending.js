/** Ends a run on its last screen, with what was measured against the plan, and takes the ending back; begins another
 *  piece of a part that is made several times. Markup: templates/procedures/follow/_ending.html. */
import * as log from "forgesite/shop/run";

export async function start(root) {
  const of = JSON.parse(document.getElementById("run-of").textContent);
  const { part, heats, quantity } = root.dataset;
  const find = (name) => root.querySelector(`.js-${name}`);
  const [told, list, done, undone, another, again] = ["told", "measured", "done", "undone", "another", "again"].map(find);
  let run = (await log.current(of).catch(() => null)) ?? (await lastEnded(of));
  root.hidden = false;

  const update = async () => {
    const piece = log.pieceOf(run, part);
    const entries = run ? await log.entries(run, { part, piece }).catch(() => []) : [];
    const ended = Boolean(run?.ended);
    told.textContent = said(run, entries, piece, Number(quantity), Number(heats));
    list.replaceChildren(...measured(entries));
    if (done) done.hidden = ended || !run;
    if (undone) undone.hidden = !ended;
    if (again) again.hidden = !ended;
    if (another) another.hidden = ended || !run || piece >= Number(quantity);
  };
  done?.addEventListener("click", async () => {
    run = await log.change(run.id, { ended: Date.now() });
    await log.add(run, { kind: "done", part, step: "", number: 0 });
    document.dispatchEvent(new CustomEvent("run:ended", { detail: run }));
    await update();
    undone.focus();
  });
  undone?.addEventListener("click", async () => {
    run = await log.change(run.id, { ended: null });
    await log.add(run, { kind: "undone", part, step: "", number: 0 });
    await update();
    done.focus();
  });
  another?.addEventListener("click", async () => {
    const piece = log.pieceOf(run, part) + 1;
    run = await log.change(run.id, { pieces: { ...run.pieces, [part]: piece } });
    await log.add(run, { kind: "piece", part, step: "", number: 0 });
    toFirst(part);
  });
  again?.addEventListener("click", async () => {
    const { name, code, account } = run;
    const { document: _, engine: __, ...what } = of;
    await log.change((await log.begin(what)).id, { name, code, account });
    toFirst(null, root.dataset.start);
  });
  document.addEventListener("run:added", async () => {
    run = (await log.current(of)) ?? run;
    update();
  });
  await update();
}

async function lastEnded(of) {
  const all = await log.runs().catch(() => []);
  return all.find((one) => one.slug === of.slug && one.revision === of.revision) ?? null;
}

function said(run, entries, piece, quantity, heats) {
  if (!run) return "No run is on: nothing was counted, measured or noted on this phone.";
  const which = quantity > 1 ? `Piece ${piece} of ${quantity}. ` : "";
  const taken = log.heatsIn(entries);
  const counted = `${taken} heat${taken === 1 ? "" : "s"} taken, ${heats} planned.`;
  return `${which}${run.ended ? "The run is ended. " : ""}${counted}`;
}

/** What was last measured of each thing, beside what the plan says of it. */
function measured(entries) {
  const last = new Map();
  for (const one of entries) if (one.kind === "measured") last.set(`${one.step} ${one.what} ${one.branch}`, one);
  return [...last.values()].map((one) => {
    const sizes = ["length", "section"].filter((name) => one[name]).map((name) => `${one[name]}, planned ${one.planned?.[name] ?? "not told"}`);
    return Object.assign(document.createElement("li"), { textContent: `Step ${one.number}, ${(one.label ?? "").toLowerCase()}: ${sizes.join("; ")}` });
  });
}

/** On to the first step of a part, or of the first part: on a page of all screens by the #, else by the address. */
function toFirst(part, start) {
  const screens = [...document.querySelectorAll(".shop__screen")];
  const screen = screens.find((one) => one.dataset.number === "0" && (part === null || one.dataset.part === part));
  if (screen) location.hash = screen.id;
  else location.assign(part === null ? start : `../0/${location.search}`);
}
