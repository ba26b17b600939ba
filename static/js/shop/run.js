/** The log of a run, on this phone: one store of runs and one of entries, which are only ever added. A run is of
 *  one revision of a procedure; the newest that is not ended is the one that goes on.
 *
 *  An entry: {id, run, part, step, kind, at, ...what was entered}. `id` is made here once, so that sending it twice
 *  is sending it once; the order is that of `n`, which the store counts, not that of a clock that may jump. */
const NAME = "forgesite";
const asked = (request) => new Promise((resolve, reject) => ((request.onsuccess = () => resolve(request.result)), (request.onerror = () => reject(request.error))));

let opening = null;
function opened() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("runs", { keyPath: "id" });
      request.result.createObjectStore("entries", { keyPath: "n", autoIncrement: true }).createIndex("run", "run");
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  opening.catch(() => (opening = null));
  return opening;
}

async function store(name, mode = "readonly") {
  return (await opened()).transaction(name, mode).objectStore(name);
}

/** All runs, the newest first. */
export async function runs() {
  return (await asked((await store("runs")).getAll())).sort((one, other) => other.started - one.started);
}

export const runOf = async (id) => asked((await store("runs")).get(id));

/** The run that goes on of a revision, or null. `of` is {slug, revision}. */
export async function current(of) {
  return (await runs()).find((one) => one.slug === of.slug && one.revision === of.revision && !one.ended) ?? null;
}

/** Begins a run. `of` is {slug, title, revision, units, nominal}. */
export async function begin(of) {
  const run = { ...of, id: crypto.randomUUID(), key: secret(), started: Date.now(), ended: null, name: "", code: "" };
  await asked((await store("runs", "readwrite")).add(run));
  return run;
}

export async function change(id, changes) {
  const runs = await store("runs", "readwrite");
  const run = { ...(await asked(runs.get(id))), ...changes };
  await asked(runs.put(run));
  return run;
}

/** Adds an entry and gives it back. */
export async function add(run, entry) {
  const whole = { ...entry, id: crypto.randomUUID(), run: run.id, at: Date.now(), sent: false };
  whole.n = await asked((await store("entries", "readwrite")).add(whole));
  document.dispatchEvent(new CustomEvent("run:added", { detail: whole }));
  return whole;
}

/** The entries of a run in order, of one part or step where these are given. */
export async function entries(run, { part, step } = {}) {
  const all = await asked((await store("entries")).index("run").getAll(run.id));
  return all.filter((one) => (part === undefined || one.part === part) && (step === undefined || one.step === step));
}

/** Notes that the site has these. */
export async function mark(run, ids) {
  const has = new Set(ids);
  const all = await entries(run);
  const into = await store("entries", "readwrite");
  await Promise.all(all.filter((one) => has.has(one.id) && !one.sent).map((one) => asked(into.put({ ...one, sent: true }))));
}

/** Forgets a run and all that was entered in it. */
export async function forget(id) {
  const all = await entries({ id });
  const from = await store("entries", "readwrite");
  await Promise.all(all.map((one) => asked(from.delete(one.n))));
  await asked((await store("runs", "readwrite")).delete(id));
}

/** What was last measured of each thing, as the engine asks for it. */
export function measuredIn(all) {
  const last = new Map();
  for (const one of all) if (one.kind === "measured") last.set(`${one.step} ${one.what} ${one.branch}`, one);
  return [...last.values()].filter((one) => one.length || one.section).map((one) => ({ step: one.step, kind: one.what, branch: one.branch, length: one.length, section: one.section }));
}

/** How many heats were taken for a step; one taken back is not. */
export const heatsIn = (all) => all.reduce((count, one) => count + (one.kind === "heat" ? 1 : one.kind === "heat_undone" ? -1 : 0), 0);

function secret() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (one) => one.toString(16).padStart(2, "0")).join("");
}
