/** Lists what is kept on this phone. Markup: `<div data-module="shop/list">` holding `<template>` of one entry
 *  with `.kept__title` (a link), `.kept__facts`, `.kept__newer` (a link) and `.kept__remove`, and `.kept__none`. */
import { all, isPossible, listOf, remove, said, serve, sum } from "forgesite/shop/kept";

export async function start(root) {
  const none = root.querySelector(".kept__none");
  const notes = isPossible() ? await all() : [];
  none.hidden = notes.length > 0;
  if (!isPossible()) none.textContent = "This browser keeps nothing for use without signal.";
  if (notes.length) serve();
  for (const note of notes) root.append(entry(root, note, none));
}

function entry(root, note, none) {
  const made = root.querySelector("template").content.firstElementChild.cloneNode(true);
  const part = (name) => made.querySelector(`.kept__${name}`);
  part("title").href = note.page;
  part("title").textContent = note.title;
  const when = new Date(note.at).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
  const size = said(sum(note.files) + sum(note.engine));
  part("facts").textContent = `Revision ${note.revision}, kept ${when}, ${size}, ${note.engine ? "with" : "without"} the reckoning`;
  part("remove").addEventListener("click", async () => {
    await remove(note.page);
    made.remove();
    none.hidden = root.querySelector(".kept__entry") !== null;
    root.focus();
  });
  newer(note, part("newer"));
  return made;
}

/** Where there is signal, says when there is a newer revision, or none any more. */
async function newer(note, link) {
  try {
    const { latest } = await listOf(`${note.page}${"to_keep.json"}`);
    if (latest <= note.revision) return;
    link.textContent = `There is a newer revision, ${latest}`;
  } catch (error) {
    if (!/ 4\d\d/.test(error.message)) return; // no signal
    link.textContent = "It is no longer published";
  }
  link.href = `/p/${note.page.split("/")[2]}/`;
  link.hidden = false;
}
