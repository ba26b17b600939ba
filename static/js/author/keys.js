/** The author's keys: undo, redo, and moving the step at the bench.
 *  Markup: `<div data-module="author/keys">` round the page's parts: forms `.js-undo` and `.js-redo`, buttons
 *  `.js-move-up` and `.js-move-down` where there is a step to move. */
export function start(root) {
  if (!root.querySelector(".js-undo")) throw new Error("author/keys: needs a form .js-undo");
  document.addEventListener("keydown", (event) => {
    if (!root.isConnected || event.defaultPrevented) return;
    const target = wanted(event);
    if (!target) return;
    const found = root.querySelector(target);
    if (!found) return;
    event.preventDefault();
    const button = found.matches("form") ? found.querySelector("button") : found;
    button.form.requestSubmit(button);
  });
}

function wanted(event) {
  const command = event.ctrlKey || event.metaKey;
  if (command && !event.altKey && !isTyping(event.target)) {
    const key = event.key.toLowerCase();
    if (key === "z") return event.shiftKey ? ".js-redo" : ".js-undo";
    if (key === "y" && !event.shiftKey) return ".js-redo";
  }
  if (event.altKey && !command && !event.shiftKey) {
    if (event.key === "ArrowUp") return ".js-move-up";
    if (event.key === "ArrowDown") return ".js-move-down";
  }
  return null;
}

/** Whether the keys belong to the text that is being typed, which has an undo of its own. */
function isTyping(element) {
  return element.isContentEditable || element.matches("textarea, input:not([type=radio], [type=checkbox], [type=file], [type=hidden])");
}
