// Texts and tables on the clipboard.

/** Puts a text, and the same as an HTML table, on the clipboard. It works from a local file too, where browsers offer no other way. */
export function toClipboard(text, html) {
  const back = /** @type {Field} */ (document.activeElement);
  const box = document.createElement("textarea"); // a browser copies only where something is chosen
  box.className = "aside";
  box.value = text;
  document.body.append(box);
  box.select();
  let done = false;
  const put = (e) => {
    e.clipboardData.setData("text/plain", text);
    if (html) e.clipboardData.setData("text/html", html);
    e.preventDefault();
    e.stopImmediatePropagation();
    done = true;
  };
  addEventListener("copy", put, { capture: true });
  document.execCommand("copy");
  removeEventListener("copy", put, { capture: true });
  box.remove();
  back?.focus?.({ preventScroll: true });
  return done;
}
