/** Takes a photo at a step, makes it small, asks who may see it, and keeps it with its entry in the log. */
import * as log from "forgesite/shop/run";

const LONGEST = 1600; // px
const QUALITY = 0.8;

export function pictures(panel, add) {
  const root = panel.querySelector(".anvil__photo");
  const part = (name) => root.querySelector(`.${name}`);
  const [take, ask, taken, told, list] = ["js-take", "anvil__ask", "js-taken", "js-photo-told", "anvil__photos"].map(part);
  let photo = null;

  const show = (one) => {
    photo = one;
    ask.hidden = !one;
    if (taken.src) URL.revokeObjectURL(taken.src);
    if (one) taken.src = URL.createObjectURL(one);
    else taken.removeAttribute("src");
  };
  take.addEventListener("change", async () => {
    const [file] = take.files;
    take.value = "";
    if (!file) return;
    told.textContent = "";
    show(await small(file).catch(() => null));
    if (photo) part("js-shared").focus();
    else told.textContent = "This file is no picture that the phone can read.";
  });
  const keep = async (consent) => {
    if (photo && (await add({ kind: "photo", consent }, photo))) show(null);
  };
  part("js-shared").addEventListener("click", () => keep(true));
  part("js-own").addEventListener("click", () => keep(false));
  part("js-away").addEventListener("click", () => show(null));

  show(null);
  const shown = new Map();
  return async (entries) => {
    const wanted = entries.filter((one) => one.kind === "photo");
    for (const { id, consent } of wanted) {
      if (shown.has(id)) continue;
      const item = document.createElement("li");
      shown.set(id, item);
      const found = await log.photoOf(id).catch(() => null);
      const image = Object.assign(new Image(), { alt: consent ? "A photo that the teacher may see" : "A photo for you alone" });
      if (found) image.src = URL.createObjectURL(found.photo);
      item.append(image, Object.assign(document.createElement("span"), { textContent: consent ? "Others may see it" : "Only you" }));
    }
    list.replaceChildren(...wanted.map(({ id }) => shown.get(id)));
  };
}

/** A JPEG of the picture in a file, at most so long a side; nothing else that the file tells is in it. */
async function small(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((resolve, reject) => canvas.toBlob((made) => (made ? resolve(made) : reject(new Error("no picture"))), "image/jpeg", QUALITY));
}
