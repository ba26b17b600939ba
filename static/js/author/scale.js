/** Keeps all small drawings of a part on one scale: when one comes in another, the others are drawn again.
 *  Markup: `<section data-module="author/scale">` round `.row__drawing` elements that load on `redraw`; each
 *  answer tells its scale by the event `author:scale`. */
export function start(root) {
  root.addEventListener("author:scale", (event) => {
    const { scale } = event.detail;
    event.target.dataset.scale = scale;
    for (const drawing of root.querySelectorAll(".row__drawing[data-scale]")) {
      if (drawing.dataset.scale === scale) continue;
      delete drawing.dataset.scale; // asked for once, however many answers tell of the new scale
      window.htmx.trigger(drawing, "redraw");
    }
  });
}
