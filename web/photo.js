// Photos.
import { ask, tell } from "./program.js";
import * as T from "texts";

const most = 32767; // characters of a cell

/** A photo small enough for a cell of a workbook, as a data URI; "" where it was refused, which is told. The program looks at its first
 * bytes before it is decoded. */
export async function photo(f) {
  const whole = await new Promise((done) => {
    const r = new FileReader();
    r.onload = () => done(r.result);
    r.onerror = () => done("");
    r.readAsDataURL(f);
  });
  const looked = ask("photo", whole);
  if (!looked) return "";
  const none = () => { tell("say", T.screens.notDecoded); return ""; };
  let img;
  try { img = await createImageBitmap(f, { imageOrientation: "from-image" }); } catch { return none(); }
  const canvas = document.createElement("canvas"), draw = canvas.getContext("2d");
  for (let side = 800; side >= 40; side = Math.floor(side * 0.8)) {
    const k = Math.min(1, side / Math.max(img.width, img.height));
    canvas.width = Math.max(1, Math.round(img.width * k));
    canvas.height = Math.max(1, Math.round(img.height * k));
    draw.imageSmoothingQuality = "high";
    if (looked.format === "png" && k === 1 && whole.length <= most) { // a small drawing keeps its lines sharp and its see-through ground
      draw.drawImage(img, 0, 0);
      const uri = canvas.toDataURL("image/png");
      if (uri.startsWith("data:image/png") && uri.length <= most) return uri;
    }
    draw.fillStyle = "#fff";
    draw.fillRect(0, 0, canvas.width, canvas.height);
    draw.drawImage(img, 0, 0, canvas.width, canvas.height);
    for (const quality of [0.75, 0.6, 0.45]) {
      const uri = canvas.toDataURL("image/jpeg", quality);
      if (uri.startsWith("data:image/jpeg") && uri.length <= most) return uri;
    }
  }
  return none();
}
