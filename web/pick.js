// A choice list that keeps its place while somebody types into it.

const plain = (s) => s.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ").trim();

/** Makes a select with its present choice only into one. fill() puts all options in when it is about to be used: a wide list has thousands
 * otherwise. changed(value) is told of a choice: by the mouse at once, by the keys when Enter is pressed or the list is left. What is typed
 * is looked for as a whole, however slowly it comes; until then nothing else changes, as whoever draws the list anew meanwhile would take
 * the typed letters from under it. */
export function pick(el, fill, changed) {
  let typed = "", when = 0, keys = false, told = el.value, full = false;
  const open = () => { if (!full) fill(); full = true; };
  const tell = () => {
    keys = false;
    if (el.value === told) return;
    told = el.value;
    changed(told);
  };
  el.addEventListener("pointerdown", () => { open(); keys = false; typed = ""; });
  el.addEventListener("focus", open);
  el.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === "Enter") {
      e.preventDefault(); // it opens the list in some browsers
      return tell();
    }
    if (e.key === "Backspace" && typed) {
      e.preventDefault();
      typed = typed.slice(0, -1);
    } else if (e.key.length === 1 && (e.key !== " " || typed)) {
      e.preventDefault(); // the browser's own search forgets what was typed a second ago
      if (Date.now() - when > 5000) typed = "";
      typed += e.key;
    } else {
      typed = "";
      keys ||= /^(Arrow|Page|Home|End)/.test(e.key);
      return;
    }
    when = Date.now();
    keys = true;
    const want = plain(typed);
    const all = [...el.options];
    const found = all.find((o) => plain(o.text) === want) ?? all.find((o) => plain(o.text).startsWith(want))
      ?? all.find((o) => plain(o.text).includes(want));
    if (found && want) el.value = found.value;
  });
  el.addEventListener("change", () => { if (!keys) tell(); });
  el.addEventListener("blur", () => { typed = ""; tell(); });
}
