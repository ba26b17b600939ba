/** Takes part in a class from this phone: the run that goes on gets the code and the name, and is sent from now on.
 *  Markup: templates/procedures/courses/joined.html. */
import * as log from "forgesite/shop/run";
import { send } from "forgesite/shop/sync";

export function start(form) {
  form.hidden = false;
  const of = JSON.parse(document.getElementById("run-of").textContent);
  const trouble = form.querySelector("[role=alert]");
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const name = form.elements.name.value.trim();
    if (!name) return form.elements.name.focus();
    try {
      const last = await log.current(of);
      // A run of someone else on this phone, or of another class, is left as it is.
      const mine = last && (!last.code || last.code === form.dataset.code) && (!last.name || last.name === name) ? last : await log.begin(of);
      const run = await log.change(mine.id, { name, code: form.dataset.code });
      await log.add(run, { kind: "at", part: "", step: "", number: 0 });
      await send(run);
      location.assign(form.dataset.address);
    } catch (error) {
      trouble.textContent = error.message || "This browser keeps no log here: it may be a private window.";
      trouble.hidden = false;
    }
  });
}
