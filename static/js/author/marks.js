/** Places the marks of a photo on the photo itself: by pointer, by finger, or by the arrow keys on a handle.
 *  Markup: `<form data-module="author/marks">` with `.js-surface` round the photo, `.js-over` for the drawing,
 *  `.js-after` for its words, `.js-add[data-kind]` buttons, `.js-said` (a live region), `.js-row` fieldsets in
 *  `.js-rows`, the empty one in `template.js-new`, and the names of points as JSON in `#marks-points`.
 *  The rows stay the truth: handles write into them, and the server draws what stands in them. */
const STEP = 1; // % of the photo
const LEAP = 5;
const NEAR = 2; // % a press must travel to be a drag
const BEGIN = { x: 35, y: 35, to_x: 60, to_y: 60 };
const PAIRS = [["x", "y"], ["to_x", "to_y"]];
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export function start(form) {
  const find = (name) => form.querySelector(name);
  const [surface, rows, said] = [".js-surface", ".js-rows", ".js-said"].map(find);
  if (!surface || !rows || !said) throw new Error("author/marks: needs a surface, rows and a live region");
  const names = JSON.parse(document.getElementById("marks-points").textContent);
  const total = form.elements["mark-TOTAL_FORMS"];
  const handles = new Map(); // row → its handles
  const draw = drawer(form);
  let placing = null; // { row, index }: the next press on the photo sets this point

  const field = (row, name) => row.querySelector(`[name$="-${name}"]`);
  const kindOf = (row) => field(row, "kind").value;
  const pairsOf = (row) => PAIRS.slice(0, names[kindOf(row)].length);
  const removed = (row) => field(row, "DELETE").checked;
  const number = (row) => row.querySelector(".js-number").textContent;
  const title = (row) => `${field(row, "kind").selectedOptions[0].text} ${number(row)}`;
  const percent = (row, name) => (field(row, name).value.trim() === "" ? NaN : Number(field(row, name).value.replace(",", ".").replace("%", "")));
  const tell = (words) => (said.textContent = words);

  function put(row, index, x, y) {
    const hold = (value) => String(Math.round(Math.min(Math.max(value, 0), 100) * 10) / 10);
    [field(row, PAIRS[index][0]).value, field(row, PAIRS[index][1]).value] = [hold(x), hold(y)];
    show(row);
    draw();
  }

  const at = (row, index) => PAIRS[index].map((name) => percent(row, name));

  /** Handles stand where the row says; a row that is removed, or has no points yet, has none. */
  function show(row) {
    const own = handles.get(row) ?? [];
    handles.set(row, own);
    for (const handle of own.splice(removed(row) ? 0 : pairsOf(row).length)) handle.remove();
    if (removed(row)) return;
    pairsOf(row).forEach((pair, index) => {
      const [x, y] = at(row, index);
      own[index] ??= made(row, index);
      own[index].hidden = !(x >= 0 && x <= 100 && y >= 0 && y <= 100);
      own[index].classList.toggle("marks__handle--words", kindOf(row) === "label"); // its plate is seen instead
      if (own[index].hidden) return;
      own[index].style.insetInlineStart = `${x}%`;
      own[index].style.insetBlockStart = `${y}%`;
      own[index].setAttribute("aria-label", `${title(row)}, ${names[kindOf(row)][index]}: ${x} % across, ${y} % down`);
    });
  }

  function made(row, index) {
    const handle = document.createElement("button");
    handle.type = "button";
    handle.className = "marks__handle";
    handle.setAttribute("aria-describedby", "marks-help");
    let before = null;
    handle.addEventListener("focus", () => (before = at(row, index)));
    handle.addEventListener("keydown", (event) => keyed(event, row, index, () => before));
    handle.addEventListener("pointerdown", (event) => {
      if (event.button) return;
      event.preventDefault();
      handle.focus();
      follow(handle, event, (x, y) => put(row, index, x, y), () => tell(handle.getAttribute("aria-label")));
    });
    surface.append(handle);
    return handle;
  }

  function keyed(event, row, index, before) {
    const way = ARROWS[event.key];
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (way) {
      const by = event.shiftKey ? LEAP : STEP;
      const [x, y] = at(row, index);
      put(row, index, x + way[0] * by, y + way[1] * by);
      tell(`${at(row, index)[0]} % across, ${at(row, index)[1]} % down`);
    } else if (event.key === "Enter") placed(row, index);
    else if (event.key === "Escape" && placing?.row === row) cancel();
    else if (event.key === "Escape" && before()) {
      put(row, index, ...before());
      tell("Put back.");
    } else if (event.key === "Delete" || event.key === "Backspace") remove(row);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  function placed(row, index) {
    const next = handles.get(row)[index + 1];
    if (next) {
      if (placing) placing.index = index + 1;
      next.focus();
      return tell(`Placed. Now ${names[kindOf(row)][index + 1]}.`);
    }
    end();
    field(row, "text").focus();
    tell(`${title(row)} placed. Type its words.`);
  }

  function add(kind) {
    cancel();
    const row = find(".js-new").content.firstElementChild.cloneNode(true);
    for (const one of row.querySelectorAll("*")) {
      for (const name of ["name", "id", "for", "aria-describedby"]) {
        if (one.hasAttribute(name)) one.setAttribute(name, one.getAttribute(name).replace("__prefix__", total.value));
      }
    }
    total.value = Number(total.value) + 1;
    rows.append(row);
    field(row, "kind").value = kind;
    tidy(row);
    renumber();
    for (const [name, value] of Object.entries(BEGIN)) if (field(row, name) && pairsOf(row).flat().includes(name)) field(row, name).value = value;
    show(row);
    draw();
    placing = { row, index: 0 };
    surface.classList.add("marks__surface--placing");
    handles.get(row)[0].focus({ preventScroll: true });
    surface.scrollIntoView({ block: "nearest" });
    tell(`${title(row)}: press on the photo, or move with the arrow keys and press Enter. First ${names[kind][0]}.`);
  }

  function remove(row) {
    if (placing?.row === row) return cancel();
    field(row, "DELETE").checked = true;
    const what = title(row);
    changed(row);
    ([...handles.values()].flat().find((one) => !one.hidden) ?? find(".js-add")).focus();
    tell(`${what} removed. Clear “Remove” in its row to bring it back.`);
  }

  function end() {
    placing = null;
    surface.classList.remove("marks__surface--placing");
  }

  function cancel() {
    if (!placing) return;
    const { row } = placing;
    const kind = kindOf(row);
    end();
    field(row, "DELETE").checked = true; // its place in the form is counted, so it stays, unseen
    row.hidden = true;
    changed(row);
    find(`.js-add[data-kind="${kind}"]`).focus();
    tell("Nothing added.");
  }

  function changed(row) {
    renumber();
    for (const one of rows.children) show(one);
    tidy(row);
    draw();
  }

  /** A label that becomes an arrow gets a second point, to be taken hold of. */
  function complete(row) {
    const [first, second] = [at(row, 0), at(row, 1)];
    if (pairsOf(row).length < 2 || !second.every(Number.isNaN) || first.some(Number.isNaN)) return;
    PAIRS[1].forEach((name, index) => (field(row, name).value = first[index] + (first[index] > 70 ? -20 : 20)));
  }

  function renumber() {
    let count = 0;
    for (const row of rows.children) row.querySelector(".js-number").textContent = removed(row) ? "" : ++count;
  }

  /** Only what its kind has is shown; what was typed in the rest stays, in case the kind is changed back. */
  function tidy(row) {
    row.classList.toggle("mark-row--removed", removed(row));
    field(row, "length").closest(".field").hidden = kindOf(row) !== "dimension" && !field(row, "length").value;
    for (const name of PAIRS[1]) field(row, name).closest(".field").hidden = names[kindOf(row)].length < 2;
  }

  /** Follow one pointer over the photo until it is let go. */
  function follow(element, begin, move, done) {
    const box = surface.getBoundingClientRect();
    const share = (event) => [((event.clientX - box.left) / box.width) * 100, ((event.clientY - box.top) / box.height) * 100];
    element.setPointerCapture(begin.pointerId);
    const moved = (event) => move(...share(event));
    const ended = (event) => {
      element.removeEventListener("pointermove", moved);
      for (const name of ["pointerup", "pointercancel"]) element.removeEventListener(name, ended);
      done(...share(event));
    };
    element.addEventListener("pointermove", moved);
    for (const name of ["pointerup", "pointercancel"]) element.addEventListener(name, ended);
    return share(begin);
  }

  surface.addEventListener("pointerdown", (event) => {
    if (!placing || event.button) return;
    event.preventDefault();
    const { row, index } = placing;
    const last = pairsOf(row).length - 1;
    let from = null;
    let dragged = false;
    const move = (x, y) => {
      if (Math.hypot(x - from[0], y - from[1]) < NEAR && !dragged) return;
      dragged = index < last;
      put(row, dragged ? index + 1 : index, x, y);
    };
    from = follow(surface, event, move, () => placed(row, dragged ? last : index));
    put(row, index, ...from);
  });
  // A touch is followed by a click at its place on the screen: by then the words may have scrolled there.
  surface.addEventListener("touchstart", (event) => (placing || event.target.closest("button")) && event.preventDefault(), { passive: false });
  form.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && placing) (event.preventDefault(), cancel());
  });
  rows.addEventListener("input", (event) => {
    const row = event.target.closest(".js-row");
    if (event.target === field(row, "kind")) complete(row);
    changed(row);
  });
  for (const button of form.querySelectorAll(".js-add")) button.addEventListener("click", () => add(button.dataset.kind));

  surface.setAttribute("role", "application"); // a screen reader hands the arrow keys on
  surface.setAttribute("aria-label", "The photo and its marks");
  for (const one of form.querySelectorAll(".js-tools, .js-help")) one.hidden = false;
  for (const one of form.querySelectorAll(".js-plain")) one.hidden = true;
  for (const row of [...rows.children]) {
    row.querySelector(".js-points").open = Boolean(row.querySelector(".js-points .field--wrong"));
    // An empty row is for who types the points; it is passed over when saved.
    row.hidden = row.querySelectorAll(".field--wrong").length === 0 && [...row.querySelectorAll("input[type=text]")].every((one) => !one.value);
    if (row.hidden) field(row, "DELETE").checked = true;
    show(row);
    tidy(row);
  }
  find(".js-new").content.querySelector(".js-points").open = false;
  renumber();
  for (const row of rows.children) show(row);
}

/** Ask the server for the drawing of what stands in the rows; while one is on its way, only the last is kept. */
function drawer(form) {
  let busy = false;
  let again = false;
  return async function draw() {
    if (busy) return void (again = true);
    busy = true;
    try {
      const body = new FormData(form);
      body.set("preview", "1");
      const answer = await fetch(form.action, { method: "POST", body });
      if (answer.ok && !answer.redirected) swap(form, await answer.text());
    } catch {
      // No connection: the rows hold what was done, and saving will say so.
    }
    busy = false;
    if (again) (again = false), draw();
  };
}

function swap(form, html) {
  const made = document.createElement("template");
  made.innerHTML = html;
  for (const name of [".js-over", ".js-after"]) {
    const fresh = made.content.querySelector(name);
    if (fresh) form.querySelector(name).replaceChildren(...fresh.childNodes);
  }
}
