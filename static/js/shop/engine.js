/** The engine beside the page. `opened({worker, runtime, archive, lock})` starts it, or gives the one started;
 *  then `plan({document, nominal, units})` and `answer({part, measured})` give promises. */
let engine = null;

export function opened({ worker, ...addresses }) {
  engine ??= start(worker, addresses);
  return engine;
}

async function start(address, addresses) {
  const thread = new Worker(address, { type: "module" });
  const waiting = new Map();
  let last = 0;
  thread.onmessage = ({ data: { id, result, fault } }) => {
    const { resolve, reject } = waiting.get(id);
    waiting.delete(id);
    if (fault === undefined) resolve(result);
    else reject(new Error(fault));
  };
  thread.onerror = (event) => {
    for (const { reject } of waiting.values()) reject(new Error(event.message || "The engine does not start."));
    waiting.clear();
    engine = null;
  };
  const call = (name, given) =>
    new Promise((resolve, reject) => {
      waiting.set((last += 1), { resolve, reject });
      thread.postMessage({ id: last, call: name, ...given });
    });
  try {
    await call("open", addresses);
  } catch (error) {
    thread.terminate();
    engine = null; // the next who asks tries again
    throw error;
  }
  let planned = {}; // what is planned already is not planned again: that is half the time of an answer
  const plan = (given) => {
    const key = JSON.stringify(given);
    if (planned.key !== key) {
      planned = { key, done: call("plan", given) };
      planned.done.catch(() => (planned = {}));
    }
    return planned.done;
  };
  return { plan, answer: (given) => call("answer", given) };
}
