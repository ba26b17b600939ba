/** Lists the runs on this phone, to take away, to add to an account, to remove.
 *  Markup: `<div data-module="shop/runs">` holding `<template>` of one entry with `.run__title`, `.run__facts`,
 *  `.run__save` (a link), `.run__account` and `.run__remove` (buttons) and `.run__told`, and `.runs__none`. */
import * as log from "forgesite/shop/run";
import { send } from "forgesite/shop/sync";

export async function start(root) {
  const none = root.querySelector(".runs__none");
  const runs = await log.runs().catch(() => null);
  if (runs === null) return (none.textContent = "This browser keeps no log here: it may be a private window.");
  none.hidden = runs.length > 0;
  for (const run of runs) root.append(await entry(root, run, none));
}

async function entry(root, run, none) {
  const made = root.querySelector("template").content.firstElementChild.cloneNode(true);
  const part = (name) => made.querySelector(`.run__${name}`);
  const entries = await log.entries(run);
  const unsent = entries.filter((one) => !one.sent).length;
  const when = new Date(run.started).toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });
  part("title").textContent = run.title;
  part("facts").textContent = [`Begun ${when}`, run.ended ? "done" : "", run.name, run.course, `${entries.length} entries${run.code || run.account ? `, ${unsent} not sent yet` : ", on this phone only"}`].filter(Boolean).join(", ");
  const file = new Blob([JSON.stringify({ format: "forgesite.run", version: 1, ...run, key: undefined, entries }, null, 2)], { type: "application/json" });
  part("save").href = URL.createObjectURL(file);
  part("save").download = `run-${run.id}.json`;
  const told = (text) => ((part("told").textContent = text), (part("told").hidden = false));
  part("account").hidden = Boolean(run.account);
  part("account").addEventListener("click", async () => {
    try {
      const mine = await log.change(run.id, { account: true });
      const sent = await send(mine);
      told("It is in your account now.");
      part("account").hidden = Boolean(sent.account);
    } catch (error) {
      await log.change(run.id, { account: false });
      told(error instanceof TypeError ? "There is no signal. Try again where there is." : `${error.message} Sign in first to add it to your account.`);
    }
  });
  part("remove").addEventListener("click", async () => {
    const now = await log.runOf(run.id);
    if (now.code || now.account) {
      const gone = await fetch(`/runs/${run.id}/forget/`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ key: run.key }) }).catch(() => null);
      if (!gone?.ok) return told("It was sent to the site, which cannot be reached to delete it there. Try again where there is signal.");
    }
    await log.forget(run.id);
    made.remove();
    none.hidden = root.querySelector(".run") !== null;
    root.focus();
  });
  return made;
}
