// The browser's side of the screens in Go (package screens): one listener for each kind of event takes what was pressed, typed or chosen
// to the program, and what the program answers is put on the page.
import { toClipboard } from "./clip.js";
import { handOver, fileName } from "./files.js";
import { Workbooks } from "./workbook.js";
import { pick } from "./pick.js";
import { remember } from "./remember.js";
import { fill } from "./texts.js";
import * as T from "texts";

const SEP = "\u001f", END = "\u001e";

let filling = false; // the program puts something on the page: what that makes the browser tell is no act of the person's

/** Puts HTML into an element; what had the focus and the place in its text gets them back, by its id. */
function fillRegion(id, html, ifNew) {
  const el = document.getElementById(id);
  if (!el) throw new Error("no-element-" + id);
  if (ifNew && el.shownLast === html) return; // what somebody is about to press stays where it is
  el.shownLast = html;
  const active = /** @type {Field} */ (document.activeElement);
  const had = el.contains(active) && active !== el ? active : null;
  const at = had && typeof had.selectionStart === "number" ? had : null, from = at?.selectionStart, to = at?.selectionEnd;
  const scrolls = [...el.querySelectorAll("[data-scroll][id]")].map((x) => ({ id: x.id, left: x.scrollLeft, top: x.scrollTop }));
  const chosen = [...el.querySelectorAll("input[type=file][id]")].filter((x) => x.files.length);
  filling = true;
  el.innerHTML = html;
  for (const box of el.querySelectorAll("[data-rows]")) {
    box.querySelector("svg")?.setAttribute("role", "group"); // not an image: there are links in it
    box.querySelectorAll("[data-row]").forEach((g, i) => {
      g.setAttribute("tabindex", i ? "-1" : "0");
      g.setAttribute("role", "link");
      g.removeAttribute("aria-label"); // the name is what stands in it, the title first
    });
  }
  for (const x of chosen) document.getElementById(x.id)?.replaceWith(x); // a file that was chosen and not yet read stays chosen
  for (const x of scrolls) document.getElementById(x.id)?.scrollTo(x.left, x.top);
  const now = had?.id ? document.getElementById(had.id) : null;
  now?.focus({ preventScroll: true });
  if (at && now && now.setSelectionRange) now.setSelectionRange(from, to);
  filling = false;
}

const fine = matchMedia("(pointer: fine)"), low = matchMedia("(max-height: 560px) and (min-width: 640px)");
const sticks = (el) => getComputedStyle(el).position === "sticky";

/** Brings an element into sight: between what lies over the edges of its screen, whose heights the style knows by their names. */
function reveal(root, id, centre) {
  for (const el of root.querySelectorAll("[data-over]"))
    root.style.setProperty("--" + el.dataset.over, (sticks(el) ? el.offsetHeight : 0) + "px");
  document.getElementById(id)?.scrollIntoView({ block: centre ? "center" : "nearest", behavior: "instant" });
}

/** Leads to what is to be read now, from its beginning; where it lies low, or under something, it is brought up. */
function read(root, el) {
  el.scrollTop = 0;
  el.focus({ preventScroll: true });
  const under = [...root.querySelectorAll("[data-over]")].at(-1);
  if (el.getBoundingClientRect().top > innerHeight / 2 || sticks(under))
    (el.firstElementChild ?? el).scrollIntoView({ block: "start", behavior: "instant" });
}

/** What a field holds, for the program. */
function fieldHolds(el) {
  if (el.type === "checkbox" || el.type === "radio") return String(el.checked);
  return el.tagName === "DETAILS" ? String(el.open) : el.value ?? "";
}

/** What an element holds: a form all its fields; with data-form all those of its form. */
function held(el) {
  const form = el.dataset.form === undefined ? el : el.form;
  return form.tagName !== "FORM" ? fieldHolds(el)
    : [...form.elements].filter((x) => x.name).map((x) => x.name + SEP + fieldHolds(x)).join(END);
}

/** The screens in Go. ask calls the program; say tells; changed() brings the page up to a job that was changed; open(id) goes to the tab
 * with that id, place(sheet, row, column) to a cell; back() gives the sheet the focus; reread has the file that is open read again; share
 * is sharing.js. screen makes the screen of a name, as page.js knows screens; open opens a dialog that is one, send tells it something.
 * @param {Hooks} hooks */
export function goScreens({ ask, say, changed, open, place, back, share, state, reread }) {
  const waiting = new Map(); // by element or screen: {timer, run}
  const flush = (name) => {
    for (const [key, w] of [...waiting]) {
      if (w.name !== name) continue;
      clearTimeout(w.timer);
      waiting.delete(key);
      w.run();
    }
  };
  const later = (key, name, ms, run) => {
    clearTimeout(waiting.get(key)?.timer);
    waiting.set(key, { name, run, timer: setTimeout(() => { waiting.delete(key); run(); }, ms) });
  };

  function apply(name, u, ifNew = false) {
    if (!u) return;
    for (const [id, html] of u.regions) fillRegion(id, html, ifNew);
    for (const [id, attribute, value] of u.attributes) {
      const el = document.getElementById(id);
      if (value === undefined) el?.removeAttribute(attribute);
      else el?.setAttribute(attribute, value);
    }
    for (const [id, text] of u.values) {
      const el = document.getElementById(id);
      if (el?.type === "checkbox") el.checked = text === "true";
      else if (el && el.value !== text) el.value = text;
    }
    const dialog = u.dialog && /** @type {Field} */ (document.querySelector("dialog[open]"));
    if (dialog && dialog.id !== u.dialog) dialog.close();
    if (u.changed) changed();
    if (u.remember) remember(u.remember);
    if (u.say && !u.copy) say(u.say, u.offer?.[0], u.offer && (() => send(name, u.offer[1], "", "", "", "")));
    if (u.dialog && u.dialog !== "-") {
      const el = document.getElementById(u.dialog);
      if (!el.open) el.showModal();
      el.querySelector(".dlg-body").scrollTop = 0;
    }
    const root = document.getElementById("screen-" + name);
    if (u.window === "always" || u.window && low.matches) root.scrollIntoView({ block: "start", behavior: "instant" });
    const touch = u.finger && !fine.matches, to = touch ? u.finger : u.focus, shown = u.reveal && to !== "-";
    if (shown && touch) reveal(root, u.reveal);
    if (to) document.getElementById(to)?.focus({ preventScroll: !!shown && !touch });
    if (u.select && !touch) document.getElementById(u.focus)?.select();
    if (shown && !touch) reveal(root, u.reveal, u.centre);
    if (u.read) read(root, document.getElementById(u.read));
    if (u.top) root?.scrollTo(0, 0);
    if (u.copy) say(toClipboard(...u.copy) ? u.say ?? "" : T.screens.notCopied);
    if (u.paste) clipboard(name, u.paste);
    if (u.file) {
      const [name, type, text, ending] = u.file, named = ending ? fileName(name, state().revision, new Date(), ending) : name;
      handOver(named, type, [text]);
      if (ending) say(fill(T.clip.wasHandedToTheBrowser, named));
    }
    if (u.soon) later(name, name, u.soonIn, () => send(name, u.soon, "", "soon", "", ""));
    if (u.reread) void reread(u.reread);
    if (u.print) print();
    if (u.share) void shareOut(name, u.share);
    if (u.unshare) share.stop();
    if (u.open) open(u.open);
    if (u.place) place(...u.place);
    if (u.sheet) back(u.sheetTop);
  }

  /** Has the stock shared out for a screen, and tells it what came of that. */
  async function shareOut(name, job) {
    const mine = waitsForLists = { name };
    const told = (p) => { const bar = document.getElementById("share-bar"); if (bar) bar.value = p; };
    const [kind, value] = await share.lists(told).then((got) => ["shared", got.lists],
      (e) => (e ? ["refused", e.message] : ["stopped", ""]));
    if (waitsForLists === mine) waitsForLists = null;
    send(name, "lists", job, kind, value, "");
  }
  let waitsForLists = null;

  const send = (name, ...event) => apply(name, tell(name, ...event));
  const tell = (name, ...event) => {
    const root = document.getElementById("screen-" + name);
    if (resized && root) {
      resized = false;
      ask("screen", name, "wide", String(root.clientWidth));
    }
    return ask("screen", name, "event", ...event);
  };
  let resized = false;
  addEventListener("resize", () => { resized = true; });

  /** Sends an event the text of the clipboard; where the browser has none to hand over, or waits for the person to allow it, the event
   * says so first. */
  function clipboard(name, event) {
    let told = false;
    const none = () => { if (!told) send(name, event, "", "none", "", ""); told = true; };
    const late = setTimeout(none, 500), text = navigator.clipboard?.readText?.() ?? Promise.resolve("");
    text.catch(() => "").then((t) => {
      clearTimeout(late);
      if (t) send(name, event, "", "pasted", t, "");
      else none();
    });
  }

  // A list that gets its choices when somebody comes to it.
  for (const kind of ["pointerdown", "focusin"]) document.addEventListener(kind, (/** @type {On} */ { target: el }) => {
    const name = el.closest?.("[data-screen-in-go]")?.dataset.screenInGo;
    if (!name || el.picks || el.dataset.choices === undefined) return;
    el.picks = true;
    const fill = () => send(name, el.dataset.choices, el.dataset.arg, "choices", el.value, "");
    pick(el, fill, (value) => send(name, el.dataset.on, el.dataset.arg, "change", value, ""));
    if (kind === "focusin") fill();
  }, true);

  let touched = -Infinity; // when a finger last left a key
  function take(e, kind, as) {
    const keyed = kind === "keydown";
    const el = e.target.closest?.(as ? `[data-${as}]` : keyed ? "[data-keyed]" : "[data-on]");
    const root = el?.closest("[data-screen-in-go]");
    if (!root || filling) return;
    const name = root.dataset.screenInGo, arg = el.dataset.arg ?? "";
    if (as) return send(name, el.dataset[as], arg, kind, held(el), "");
    if (keyed) {
      const plain = e.ctrlKey || e.metaKey ? "Control+" + e.key.toLowerCase() : e.altKey ? "" : e.key;
      const keys = el.dataset.keys.split(" "), key = e.shiftKey && keys.includes("Shift+" + plain) ? "Shift+" + plain : plain;
      if (!keys.includes(key)) return;
      const u = tell(name, el.dataset.keyed, arg, kind, held(el), key);
      if (!u?.pass) e.preventDefault();
      return apply(name, u);
    }
    // A click that comes of the touch which a key was pressed with is left out, whichever key it meets: the keys may be new ones by then.
    if (e.type === "click" && el.dataset.press !== undefined && e.timeStamp - touched <= 1000) return;
    const field = /^(INPUT|TEXTAREA)$/.test(el.tagName), list = el.tagName === "SELECT", box = field && /^(checkbox|radio)$/.test(el.type);
    const wants = el.tagName === "FORM" ? "submit" : el.tagName === "DETAILS" ? "toggle"
      : list || box ? "change" : field ? "input" : "click";
    if (kind === "submit") e.preventDefault();
    if (el.type === "file") {
      if (kind === "change") void files(name, el);
      return;
    }
    if (kind !== wants || el.picks) return;
    const run = () => send(name, el.dataset.on, arg, kind, held(el), e.inputType === "insertFromPaste" ? "paste" : "");
    if (el.dataset.wait) later(el, name, Number(el.dataset.wait), run);
    else run();
  }
  for (const kind of ["click", "input", "change", "submit", "keydown", "toggle"])
    document.addEventListener(kind, (e) => take(e, kind), kind === "toggle"); // which does not rise
  document.addEventListener("focusin", (e) => take(e, "focus", "focused"));
  document.addEventListener("change", (e) => take(e, "change", "left"));

  // A key under a finger: some browsers make no click of a slow press, as of a glove.
  const key = (e) => e.target.closest?.("[data-press]");
  for (const kind of ["pointerdown", "contextmenu"]) document.addEventListener(kind, (e) => { if (key(e)) e.preventDefault(); });
  document.addEventListener("pointerup", (e) => {
    if (!key(e) || e.pointerType === "mouse") return;
    touched = e.timeStamp;
    take(e, "click");
  });

  // All of a field that was just gone to stays selected when it is pressed; a second press places the caret.
  const whole = (e) => e.target === document.activeElement && e.target.dataset.fresh !== undefined;
  document.addEventListener("mousedown", (/** @type {On & MouseEvent} */ e) => { if (e.detail === 1 && whole(e)) e.preventDefault(); });
  document.addEventListener("click", (/** @type {On} */ e) => setTimeout(() => {
    if (whole(e) && e.target.selectionStart === e.target.selectionEnd) e.target.select();
  }));

  /** A photo small enough for a cell of a workbook, as a data URI; "" where it was refused, which is told. The program looks at its first
   * bytes before it is decoded. */
  async function photo(f) {
    const whole = await new Promise((done) => {
      const r = new FileReader();
      r.onload = () => done(r.result);
      r.onerror = () => done("");
      r.readAsDataURL(f);
    });
    const looked = ask("photo", whole);
    if (!looked) return "";
    const most = 32767; // characters of a cell
    let img;
    try { img = await createImageBitmap(f, { imageOrientation: "from-image" }); } catch { say(T.screens.notDecoded); return ""; }
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
    say(T.screens.notDecoded);
    return "";
  }

  /** A job in a file as a text: that of a saved page or a job file as it is, that of a workbook as the program for workbook files reads
   * it. */
  async function job(f) {
    if (!/\.xls[xm]$/i.test(f.name)) return f.text();
    say(fill(T.exchange.reading, f.name));
    const w = new Workbooks();
    try {
      const data = new Uint8Array(await f.arrayBuffer());
      return (await w.ask({ op: "text", name: f.name, data }, [data.buffer])).text;
    } finally {
      w.end();
    }
  }

  /** Hands the files chosen to the program, one by one: the job or the photo in each, and its name; of a file that cannot be read, why. */
  async function files(name, el) {
    for (const f of [...el.files]) {
      const to = (kind, text, key) => send(name, el.dataset.on, el.dataset.arg ?? "", kind, text, key);
      if (el.dataset.read === "text") {
        await job(f).then((text) => to("file", text, f.name), (e) => to("refused", e.message, f.name));
        continue;
      }
      const uri = await photo(f);
      if (uri) to("file", uri, f.name + ", " + Math.ceil(f.size / 1000) + " kB");
    }
  }

  let drawing = false; // a stroke is under way: its field must not be made anew under it
  let late = null; // what waits for its end

  // A field to sign in: strokes of a pen, finger or mouse, as points in the units of the drawing.
  document.addEventListener("pointerdown", (/** @type {On & PointerEvent} */ e) => {
    const pen = e.target.closest?.("svg[data-pen]"), root = pen?.closest("[data-screen-in-go]");
    if (!root || e.button) return;
    e.preventDefault();
    const box = /** @type {any} */ (pen).viewBox.baseVal, points = [];
    const line = pen.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "polyline"));
    const put = (e) => {
      const at = pen.getBoundingClientRect();
      const x = Math.round((e.clientX - at.left) * box.width / at.width), y = Math.round((e.clientY - at.top) * box.height / at.height);
      if (x < 0 || y < 0 || x > box.width || y > box.height || points.at(-1) === x + "," + y) return;
      points.push(x + "," + y);
      line.setAttribute("points", points.length > 1 ? points.join(" ") : points[0] + " " + (x + 1) + "," + y);
    };
    put(e);
    drawing = true;
    const end = () => {
      drawing = false;
      for (const k of ["pointermove", "pointerup", "pointercancel"]) pen.removeEventListener(k, k === "pointermove" ? put : end);
      send(root.dataset.screenInGo, pen.dataset.pen, "", "pen",
        "pen:" + [...pen.querySelectorAll("polyline")].map((l) => " " + l.getAttribute("points")).join(";"), "");
      late?.();
      late = null;
    };
    pen.setPointerCapture(e.pointerId);
    pen.addEventListener("pointermove", put);
    pen.addEventListener("pointerup", end);
    pen.addEventListener("pointercancel", end);
  });

  // Up and down along the buttons of a list at the side; where data-arrows names an element, along all that can be pressed in a list, and
  // up from the first to that element.
  document.addEventListener("keydown", (/** @type {On & KeyboardEvent} */ e) => {
    const to = { ArrowDown: 1, ArrowUp: -1 }[e.key], list = to && e.target.closest?.("[data-screen-in-go] [data-arrows]");
    if (!list) return;
    e.preventDefault();
    const up = list.dataset.arrows;
    const all = up ? [...list.querySelectorAll("button, input")].filter((x) => !x.disabled && x.offsetParent)
      : /** @type {Field[]} */ ([...list.children]);
    const at = all.indexOf(/** @type {Field} */ (document.activeElement)) + to;
    if (at < 0 && up) document.getElementById(up).focus();
    else all[Math.max(0, Math.min(all.length - 1, at))].focus();
  });

  // A drawing whose parts lead to rows: they are one stop for the keys, arrows walk along them, Enter or a press goes to the row.
  const go = (g) => send(g.closest("[data-screen-in-go]").dataset.screenInGo, g.closest("[data-rows]").dataset.rows, g.dataset.row,
    "click", "", "");
  const partOf = (e) => e.target.closest?.("[data-rows] [data-row]");
  document.addEventListener("click", (e) => { if (partOf(e)) go(partOf(e)); });
  document.addEventListener("focusin", (e) => {
    const g = partOf(e);
    if (g) for (const x of g.closest("[data-rows]").querySelectorAll("[data-row]")) x.setAttribute("tabindex", x === g ? "0" : "-1");
  });
  document.addEventListener("keydown", (e) => {
    const g = partOf(e), to = { ArrowDown: 1, ArrowUp: -1 }[e.key];
    if (!g || !to && e.key !== "Enter") return;
    e.preventDefault();
    if (!to) return go(g);
    const all = [...g.closest("[data-rows]").querySelectorAll("[data-row]")];
    all[Math.max(0, Math.min(all.length - 1, all.indexOf(g) + to))].focus();
  });

  // Ctrl+C in a screen with something to copy takes that, where no text is selected or typed into.
  document.addEventListener("copy", (e) => {
    const at = /** @type {Field} */ (document.activeElement), root = at?.closest("[data-screen-in-go]");
    if (!root?.querySelector("[data-copies]") || /^(INPUT|TEXTAREA)$/.test(at.tagName) && at.type !== "checkbox"
      || String(getSelection())) return;
    const u = ask("screen", root.dataset.screenInGo, "event", "copy", "", "copied", "", "");
    if (!u?.copy) return;
    e.preventDefault();
    e.clipboardData.setData("text/plain", u.copy[0]);
    e.clipboardData.setData("text/html", u.copy[1]);
    say(u.say);
  });

  const screen = (name, more = {}) => {
    const root = document.getElementById("screen-" + name);
    root.dataset.screenInGo = name;
    root.tabIndex = -1;
    return {
      side: false,
      show() { apply(name, ask("screen", name, "show", String(root.clientWidth))); },
      hide() {
        flush(name);
        apply(name, ask("screen", name, "hide"));
        if (waitsForLists?.name === name) share.stop();
      },
      update(s) {
        if (!s.changed && !s.shared && !s.arranged) return;
        const now = () => apply(name, ask("screen", name, "changed", String(root.clientWidth)), true);
        if (drawing) late = now;
        else now();
      },
      ...more.onPaper && { paper: () => apply(name, ask("screen", name, "event", "paper", "", "print", "", "")) },
    };
  };
  return { screen, send, open: (name) => apply(name, ask("screen", name, "show")) };
}
