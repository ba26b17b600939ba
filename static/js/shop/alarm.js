/** Fills the whole screen with one thing to see from the anvil; a touch or any key takes it away. Sound alone is
 *  not heard in a forge, so it is seen, and felt where the phone can. */
export function alarm(words, more = "") {
  document.querySelector(".alarm")?.remove();
  const before = document.activeElement;
  const sign = document.createElement("button");
  sign.type = "button";
  sign.className = "alarm";
  sign.setAttribute("role", "alert");
  const large = document.createElement("strong");
  large.textContent = words;
  const small = document.createElement("span");
  small.textContent = more;
  sign.append(large, small);
  const away = (event) => {
    event.preventDefault();
    event.stopPropagation();
    sign.remove();
    document.removeEventListener("keydown", away, true);
    before?.focus?.({ preventScroll: true });
  };
  sign.addEventListener("click", away);
  document.addEventListener("keydown", away, true);
  document.body.append(sign);
  sign.focus();
  navigator.vibrate?.([400, 200, 400, 200, 400]);
}
