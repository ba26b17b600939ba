/** Sends what this phone has of runs that belong to a class or an account, once each, when there is signal.
 *  A photo follows its entry; without consent it goes to an account only, whose owner alone sees it.
 *  Markup: `<div data-module="shop/sync">` on a page that shows a run. `run:sent` on document tells what came back. */
import * as log from "forgesite/shop/run";

const AGAIN = 15_000; // ms: how often a phone in a class asks what was signed
const AT_ONCE = 200;

export function start() {
  let waiting = null;
  const soon = (after = 500) => {
    clearTimeout(waiting);
    waiting = setTimeout(all, after);
  };
  document.addEventListener("run:added", () => soon());
  window.addEventListener("online", () => soon(0));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && soon(0));
  async function all() {
    if (navigator.onLine !== false && document.visibilityState === "visible") {
      for (const run of await log.runs().catch(() => [])) if (await waits(run)) await send(run).catch(() => {});
    }
    soon(AGAIN);
  }
  soon(0);
}

/** Whether a run has something to send or to hear of: one that is ended, and sent whole, has not. */
async function waits(run) {
  if (!run.code && !run.account) return false;
  if (!run.ended || !run.told) return true;
  return (await log.entries(run)).some((one) => !one.sent) || (await log.photos(run)).some((one) => !one.sent && mayGo(run, one));
}

const mayGo = (run, { consent }) => consent || Boolean(run.account);

/** Sends a run; gives it as it is afterwards. What the site refuses is thrown in its own words. */
export async function send(run) {
  let unsent;
  let changed = run;
  do {
    unsent = (await log.entries(run)).filter((one) => !one.sent);
    const { key, slug, revision, units, nominal, started, ended, name, code, account } = run;
    const about = { slug, revision: revision || null, units, nominal, started, ended: Boolean(ended), name, code, account: Boolean(account) };
    const now = unsent.slice(0, AT_ONCE).map(({ sent, run: _, ...one }) => one);
    const answer = await fetch(`/runs/${run.id}/entries/`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ key, run: about, entries: now }),
    });
    const told = await answer.json().catch(() => ({ fault: `The site answered ${answer.status}.` }));
    if (!answer.ok) throw new Error(told.fault);
    await log.mark(run, told.have);
    changed = await log.change(run.id, { signed: told.signed, course: told.course?.title ?? "", told: Boolean(ended) });
    document.dispatchEvent(new CustomEvent("run:sent", { detail: changed }));
    if (now.length && told.have.length === 0) break; // nothing was taken: no use in asking on and on
  } while (unsent.length > AT_ONCE);
  for (const one of await log.photos(run)) if (!one.sent && mayGo(run, one)) await sendPhoto(run, one);
  return changed;
}

/** Sends a photo once. One that the site refuses for good is not sent again; it stays on the phone. */
async function sendPhoto(run, { id, photo }) {
  const body = new FormData();
  body.append("key", run.key);
  body.append("file", photo, `${id}.jpg`);
  const answer = await fetch(`/runs/${run.id}/photos/${id}/`, { method: "POST", body });
  if (answer.ok || [400, 403, 413, 415, 422].includes(answer.status)) await log.photoSent(id);
}
