/** What is kept on this phone: one store for each procedure, and one for the files that all pages are made of.
 *  A procedure counts as kept when its note is there, which is written last, after everything was found again. */
const SHARED = "forgesite files";
const OF = "forgesite shop ";
const NOTE = "kept.json";

export const isPossible = () => "serviceWorker" in navigator && "caches" in window;

/** The worker that serves what is kept; it starts with the first thing that is. */
export const serve = () => navigator.serviceWorker.register("/sw.js");

/** What is to be kept of a page: its files and the engine's, with how many bytes there are. */
export async function listOf(address) {
  const answer = await fetch(address, { credentials: "omit" });
  if (!answer.ok) throw new Error(`The site answered ${answer.status}.`);
  return answer.json();
}

/** Keeps a procedure; `told(done, of)` hears how far it is. Rejects with words for the reader, and then counts
 *  as not kept; what has come is not fetched again the next time. */
export async function keep(list, { engine = true, told = () => {} } = {}) {
  await serve();
  await navigator.storage?.persist?.();
  const files = Object.keys({ ...list.files, ...(engine ? list.engine : {}) });
  const own = await caches.open(OF + list.page);
  const shared = await caches.open(SHARED);
  const storeOf = (file) => (isShared(file) ? shared : own);
  try {
    let done = 0;
    for (const file of files) {
      const had = isShared(file) && file.startsWith("/static/") === false ? await shared.match(file) : null;
      if (!had) await storeOf(file).put(file, await fetched(file));
      told((done += 1), files.length);
    }
    for (const file of files) if (!(await storeOf(file).match(file))) throw new Error(`${file} was not kept.`);
    const note = { ...list, engine: engine ? list.engine : null, at: Date.now(), all: files };
    await own.put(list.page + NOTE, Response.json(note));
  } catch (error) {
    if (error.name === "QuotaExceededError") {
      await remove(list.page);
      throw new Error("There is not enough room on this phone. Nothing was kept.");
    }
    throw new Error(`Not kept: ${error.message}`);
  }
}

async function fetched(file) {
  const answer = await fetch(file, { credentials: "omit" }).catch(() => null);
  if (!answer) throw new Error("the network was lost. Try again where there is signal; what has come is not fetched twice.");
  if (!answer.ok) throw new Error(`the site answered ${answer.status} for ${file}.`);
  return answer;
}

const isShared = (file) => file.startsWith("/static/") || file.startsWith("/engine/") || file === "/shop/";

/** The notes of all that is kept, the newest first. */
export async function all() {
  const found = [];
  for (const name of await caches.keys()) {
    if (!name.startsWith(OF)) continue;
    const answer = await (await caches.open(name)).match(name.slice(OF.length) + NOTE);
    if (answer) found.push(await answer.json());
  }
  return found.sort((one, other) => other.at - one.at);
}

/** The note of one page, or undefined when it is not kept. */
export const noteOf = async (page) => (await all()).find((one) => one.page === page);

/** Forgets a procedure, and the files that no other one needs. */
export async function remove(page) {
  await caches.delete(OF + page);
  const needed = new Set((await all()).flatMap((one) => one.all));
  const shared = await caches.open(SHARED);
  for (const request of await shared.keys()) {
    if (!needed.has(new URL(request.url).pathname)) await shared.delete(request);
  }
}

/** "1.3 MB" */
export const said = (bytes) => (bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

export const sum = (files) => Object.values(files ?? {}).reduce((all, one) => all + one, 0);
