// A choice list that keeps its place while somebody types into it.

const plain = (s) => s.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ").trim();

/** Makes one. list() gives its [value, text] pairs when it is about to be used: a wide list has thousands otherwise. changed(value) is
 * told of a choice: by the mouse at once, by the keys when Enter is pressed or the list is left. What is typed is looked for as a whole,
 * however slowly it comes; until then nothing else changes, as whoever draws the list anew meanwhile would take the typed letters from
 * under it. el.put(value, text) shows another choice. */
export function picker(h, attrs, value, text, list, changed) {
  const el = h("select", attrs, h("option", { value }, text));
  let typed = "", when = 0, keys = false, told = value, full = false;
  const fill = () => {
    if (full) return;
    full = true;
    const now = el.value;
    el.replaceChildren(...list().map(([v, t]) => h("option", { value: v }, t)));
    el.value = now;
  };
  const tell = () => {
    keys = false;
    if (el.value === told) return;
    told = el.value;
    changed(told);
  };
  el.put = (v, t) => {
    told = v;
    typed = "";
    if (full && ![...el.options].some((o) => o.value === v)) el.append(h("option", { value: v }, t));
    else if (!full) el.replaceChildren(h("option", { value: v }, t));
    el.value = v;
  };
  el.renew = () => { full = false; if (document.activeElement === el) fill(); };
  el.addEventListener("pointerdown", () => { fill(); keys = false; typed = ""; });
  el.addEventListener("focus", fill);
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
  return el;
}
