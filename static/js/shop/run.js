/** The log of a run, on this phone: one store of runs, one of entries, which are only ever added, and one of the
 *  photos that entries tell of. A run is of one revision of a procedure; the newest that is not ended goes on.
 *
 *  An entry: {id, run, part, step, kind, at, ...what was entered}. `id` is made here once, so that sending it twice
 *  is sending it once; the order is that of `n`, which the store counts, not that of a clock that may jump.
 *  `piece` is there from the second piece of a part on. */
const NAME = "forgesite";
const asked = (request) => new Promise((resolve, reject) => ((request.onsuccess = () => resolve(request.result)), (request.onerror = () => reject(request.error))));

let opening = null;
function opened() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 2);
    request.onupgradeneeded = ({ oldVersion }) => {
      const { result } = request;
      if (oldVersion < 1) {
        result.createObjectStore("runs", { keyPath: "id" });
        result.createObjectStore("entries", { keyPath: "n", autoIncrement: true }).createIndex("run", "run");
      }
      result.createObjectStore("photos", { keyPath: "id" }).createIndex("run", "run");
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close(); // a newer page is waiting for it
      resolve(request.result);
    };
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
  document.dispatchEvent(new CustomEvent("run:changed", { detail: run }));
  return run;
}

/** Which piece of a part is being made, from 1. */
export const pieceOf = (run, part) => run?.pieces?.[part] ?? 1;

/** Adds an entry, with the photo it tells of where there is one, both or neither; gives the entry back. */
export async function add(run, entry, photo = null) {
  const piece = pieceOf(run, entry.part);
  const whole = { ...entry, ...(piece > 1 ? { piece } : {}), id: crypto.randomUUID(), run: run.id, at: Date.now(), sent: false };
  const into = (await opened()).transaction(photo ? ["entries", "photos"] : ["entries"], "readwrite");
  const done = new Promise((resolve, reject) => ((into.oncomplete = resolve), (into.onerror = into.onabort = () => reject(into.error))));
  into.objectStore("entries").add(whole).onsuccess = ({ target }) => (whole.n = target.result);
  if (photo) into.objectStore("photos").add({ id: whole.id, run: run.id, consent: Boolean(entry.consent), photo, sent: false });
  await done;
  document.dispatchEvent(new CustomEvent("run:added", { detail: whole }));
  return whole;
}

/** The entries of a run in order, of one part, step or piece where these are given. */
export async function entries(run, { part, step, piece } = {}) {
  const all = await asked((await store("entries")).index("run").getAll(run.id));
  const is = (value, wanted) => wanted === undefined || value === wanted;
  return all.filter((one) => is(one.part, part) && is(one.step, step) && is(one.piece ?? 1, piece));
}

/** The photos of a run on this phone: {id, run, consent, photo, sent}; `id` is the entry's. */
export const photos = async (run) => asked((await store("photos")).index("run").getAll(run.id));

export const photoOf = async (id) => asked((await store("photos")).get(id));

/** Notes that a photo is sent, or will not be taken. */
export async function photoSent(id) {
  const into = await store("photos", "readwrite");
  const found = await asked(into.get(id));
  if (found) await asked(into.put({ ...found, sent: true }));
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
  const pictures = await photos({ id });
  const album = await store("photos", "readwrite");
  await Promise.all(pictures.map((one) => asked(album.delete(one.id))));
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
