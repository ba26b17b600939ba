/** Takes what the calliper says and shows at once what becomes of the rest. Where the engine is on this phone it
 *  answers; else the site is asked, which answers the same. */
import { opened } from "forgesite/shop/engine";
import * as log from "forgesite/shop/run";

export function answered(form, { of, part, step, add, run }) {
  if (!form) return;
  const place = form.querySelector(".anvil__answer");
  form.addEventListener("focusin", () => warm(of).catch(() => {}), { once: true });
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const typed = gauges(form);
    if (!typed.some((one) => one.length || one.section)) return tell(place, [line("Type a length or a section that you measured.", "alert")]);
    tell(place, [line("Reckoning…")]);
    const known = run() ? log.measuredIn((await log.entries(run(), { part, piece: log.pieceOf(run(), part) })).filter((one) => one.step !== step)) : [];
    const order = [...known, ...typed.map(({ kind, branch, length, section }) => ({ step, kind, branch, length, section }))].filter((one) => one.length || one.section);
    try {
      const answer = await ask(of, part, order, form.action);
      wrong(form, answer.faults, order, step);
      if (!answer.faults.length) for (const one of typed) if (one.length || one.section) await add({ kind: "measured", what: one.kind, branch: one.branch, label: one.label, length: one.length, section: one.section, planned: one.planned });
      tell(place, shown(answer));
    } catch (error) {
      tell(place, [line(error.message, "alert")]);
    }
  });
}

function gauges(form) {
  return [...form.querySelectorAll(".anvil__gauge")].map((one) => {
    const value = (name) => one.querySelector(`[name$=".${name}"]`)?.value.trim() ?? "";
    const { kind, branch, length, section, label } = one.dataset;
    return { kind, branch, label, planned: { length, section }, length: value("length"), section: value("section") };
  });
}

const engineOf = async (of) => {
  const engine = await opened({ worker: document.getElementById("shop").dataset.worker, ...of.engine });
  await engine.plan({ document: of.document, nominal: of.nominal, units: of.units });
  return engine;
};

/** Starts the engine while the size is being typed, where it is kept on this phone: it takes seconds. */
async function warm(of) {
  if (of.document && "caches" in window && (await caches.match(of.engine.archive))) await engineOf(of);
}

async function ask(of, part, measured, address) {
  if (of.document) {
    const engine = await engineOf(of).catch(() => null);
    if (engine) return engine.answer({ part, measured });
  }
  const answer = await fetch(`${address}${address.includes("?") ? "&" : "?"}measured=${encodeURIComponent(JSON.stringify(measured))}`, { headers: { Accept: "application/json" } }).catch(() => null);
  if (!answer) throw new Error("There is no signal, and the reckoning is not kept on this phone. Keep the procedure with it for the next time.");
  if (!answer.ok) throw new Error(`The site answered ${answer.status}. What you typed is still here.`);
  return answer.json();
}

/** What was typed wrong is said at its field. */
function wrong(form, faults, order, step) {
  for (const one of form.querySelectorAll("[aria-invalid]")) {
    one.removeAttribute("aria-invalid");
    one.parentElement.querySelector(".field__error")?.remove();
  }
  for (const { index, field, message } of faults) {
    const { kind, branch, step: at } = order[index];
    const input = at === step && form.querySelector(`[name="${CSS.escape(kind)}.${CSS.escape(branch)}.${field}"]`);
    if (!input) continue;
    input.setAttribute("aria-invalid", "true");
    input.after(Object.assign(document.createElement("p"), { className: "field__error", textContent: message }));
  }
}

/** The answer as the page says it; the site's own page without script says the same (`_replanned.html`). */
function shown({ faults, finished, coming, findings, ways }) {
  if (faults.length && !ways.length) return [line("That is no size yet: see what is said beside it.", "alert")];
  const found = [title("The finished piece"), table(finished)];
  for (const one of findings) found.push(line(`Step ${one.step}, ${one.level}: ${one.text} ${one.hint}`));
  if (ways.length) found.push(title("Ways to go on, the best first"), list(ways));
  const off = coming.filter((one) => !one.near);
  if (off.length) found.push(title("Steps to come that change"), table(off));
  return found;
}

function list(ways) {
  const made = document.createElement("ol");
  made.className = "anvil__ways";
  for (const way of ways) {
    const [whole] = way.finished.filter((one) => !one.near);
    const comes = way.stops.length ? `It does not work: ${way.stops[0]}` : whole ? `${whole.label} ${whole.now ?? "not reached"}, planned ${whole.planned}.` : "It comes out as planned.";
    const item = document.createElement("li");
    item.append(Object.assign(document.createElement("b"), { textContent: way.said }), ` ${comes}`);
    made.append(item);
  }
  return made;
}

function table(sizes) {
  const made = document.createElement("table");
  made.className = "table";
  const head = made.createTHead().insertRow();
  for (const name of ["What", "Planned", "Now"]) head.append(Object.assign(document.createElement("th"), { scope: "col", textContent: name }));
  const body = made.createTBody();
  for (const one of sizes) {
    const row = body.insertRow();
    const label = one.step ? `Step ${one.step}, ${one.label[0].toLowerCase()}${one.label.slice(1)}` : one.label;
    row.append(Object.assign(document.createElement("th"), { scope: "row", textContent: label }));
    row.insertCell().textContent = one.planned + (one.section ? `, ${one.section.planned}` : "");
    row.insertCell().textContent = (one.now ?? "not reached") + (one.section ? `, ${one.section.now}` : "");
    if (one.near) row.className = "anvil__near";
  }
  return made;
}

const title = (text) => Object.assign(document.createElement("h3"), { textContent: text });

function line(text, role) {
  const made = Object.assign(document.createElement("p"), { textContent: text });
  if (role) made.setAttribute("role", role);
  return made;
}

const tell = (place, nodes) => place.replaceChildren(...nodes);
