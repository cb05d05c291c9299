// The page around the sheet: toolbar, tabs, panel, problems, dialogs, printing, saving and restoring.
import { SheetView } from "./grid.js";
import { unpacked } from "./bytes.js";
import { part, jobInPage, savedPage, digestOf, complete, damage, handOver, fileName } from "./files.js";
import { Line, lines, copyOf, note, sweep, watch } from "./keep.js";
import { copyChoice } from "./copies.js";
import { exchange, preview, reread, workbook } from "./exchange.js";
import { breathe } from "./workbook.js";
import { menus, menuAt, check } from "./menu.js";
import { setTheme, setPanel } from "./theme.js";
import { toClipboard } from "./clip.js";
import { goScreens } from "./screens.js";
import { remembered } from "./remember.js";
import { sharing, stamp } from "./sharing.js";
import { fill, plural, count as n } from "./texts.js";
import * as T from "texts";

const $ = (id) => document.getElementById(id);

/** Makes an element: h("p", {class: "x"}, "text", child). */
function h(tag, attrs, ...children) {
  const el = document.createElement(tag);
  for (const [k, v] of Object.entries(attrs ?? {})) {
    if (k === "onclick") el.addEventListener("click", v);
    else if (v !== null && v !== undefined && v !== false) el.setAttribute(k, v === true ? "" : v);
  }
  el.append(...children.filter((c) => c !== null && c !== undefined && c !== ""));
  return el;
}

let view; // the sheet
let state; // as the program last said
// How far each opened job is saved: handed is state.changes when it was last handed to the browser, handedAt how that is told; restored:
// it came from a safety copy, and no file has it; lost: changes that no file has, when it was last on the page; line: its safety copy;
// state: as last known; from: the file it came from; opened: when that was saved; before: changes the safety copy had when it was taken
// up.
const savings = new Map();
let saving; // of the job on the page
let coming = null; // that of the job which is opened next
let storageNote = "";
let layoutOf = ""; // which sheet and columns the view has

/** Calls the program. When it has ended, that becomes a banner before it is thrown on. */
function call(op, ...args) {
  try {
    return globalThis.shimsheet.call(op, ...args);
  } catch (e) {
    ended = true;
    banner(fill(T.page.thePageSProgramHas, e?.message ?? e), e?.stack);
    throw e;
  }
}
let ended = false; // the program

/** Asks the program. A failure inside it becomes a banner and null. */
function ask(op, ...args) {
  let text;
  try { text = call(op, ...args); } catch { return null; }
  const answer = JSON.parse(text);
  if (answer && answer.panic !== undefined) {
    banner(fill(T.page.somethingWentWrongInsideThe, answer.panic), answer.stack);
    return null;
  }
  if (answer && answer.error !== undefined) {
    say(answer.error);
    return null;
  }
  return answer;
}

/** Does an operation and brings the page up to it. */
function act(op, ...args) {
  if (view.open && op !== "begin") view.commit(0, 0);
  const at = view.at;
  const s = ask(op, ...args);
  if (!s) return null;
  const sheetChanged = !state || s.sheet !== state.sheet;
  const moved = !state || s.row !== state.row || s.col !== state.col;
  know(s);
  view.state = s;
  if (s.note) say(s.note);
  else if (s.changed && op !== "commit") say(s.undo ? fill(T.page.done, s.undo) : "");
  if (s.header || sheetChanged || s.arranged) relayout();
  if (s.changed || s.header || sheetChanged || s.arranged) {
    frame();
    redraw();
  } else {
    view.restyle();
  }
  if (moved || sheetChanged || s.changed || s.arranged) {
    if (view.columns.length && !screen) view.reveal(s.row, s.col);
    if (op !== "commit" || !s.changed) soon("info", s.changed || sheetChanged);
  }
  if (op === "cancel" || op === "commit" && !s.changed) soon("info"); // the panel drew what was tried
  soon("sums");
  if (s.changed || sheetChanged || s.arranged) screen?.update?.(s);
  if (s.changed) {
    if (op === "commit") { // one row: its cells and its panel come in the same frame
      Promise.resolve(drawing).then(() => {
        info();
        if (!s.note) say(ask("told", ...at)?.text ?? "");
      });
    }
    pump();
    keep();
  } else if (op === "begin" && s.ok) {
    saving.line.begin();
  } else if (s.arranged && saving.line.begun) {
    keep();
  }
  return s;
}

function know(s) {
  const other = !state || s.desk !== state.desk;
  if (other && saving) saving.lost = unsaved();
  state = s;
  if (!other) {
    saving.state = s;
    return;
  }
  if (!savings.has(s.desk)) {
    const mine = coming ?? newSaving("");
    coming = null;
    mine.follows ??= saving?.state.id === s.id ? saving.line.line : "";
    mine.opened = s.savedAt;
    mine.state = s;
    mine.line ??= new Line(s.id, hooksOf(mine));
    savings.set(s.desk, mine);
  }
  saving = savings.get(s.desk);
  saving.lost = false;
  setLast(saving.line.line);
  unwatch?.();
  unwatch = watch(saving.line, (others) => {
    elsewhere = others;
    if (others) {
      const text = T.page.thisJobIsOpenIn;
      if ($("status-do").hidden) say(text);
      else $("status").textContent += " " + text; // what is offered stays
    }
    frame();
  });
}
let unwatch = null;
const newSaving = (from) => ({ handed: 0, handedAt: "", restored: false, lost: false, line: null, state: null, from, opened: "",
  before: 0, began: new Date().toISOString() });

let elsewhere = false; // another tab has this job open

const unsaved = () => state.changes > saving.handed || saving.restored;

/** After the whole job was exchanged, for good: nothing leads back to the ones before. */
function fresh(s) {
  for (const x of savings.values()) x.line.leave();
  savings.clear();
  saving = null;
  know(s);
  view.state = s;
  relayout();
  frame();
  redraw();
  if (document.documentElement.dataset.ready) view.el.scrollTop = 0; // asking for it costs a layout
  soon("info", true);
  pump();
}

function relayout() {
  view.relayout();
}

// Drawing. Everything that waits is done in one go before the next frame; document.documentElement.dataset.idle says when nothing does.
let pending = new Set();
let queued = false;
let drawing = null;
function soon(what, cellsFirst) {
  pending.add(what);
  document.documentElement.dataset.idle = "0";
  if (queued) return;
  queued = true;
  const run = () => {
    queued = false;
    const now = pending;
    pending = new Set();
    if (now.has("info")) info();
    if (now.has("sums")) sums();
    idle();
  };
  if (cellsFirst) painted(run);
  else requestAnimationFrame(run);
}

/** Runs f when the browser has painted what stands there now; a page that is not looked at does not paint, and comes to it all the same. */
function painted(f) {
  let mine = f;
  const go = () => { mine?.(); mine = null; };
  requestAnimationFrame(() => setTimeout(go, 0));
  setTimeout(go, 300);
}

/** What the selection comes to, in the status line; a large one a piece at a time. */
function sums() {
  if (screen) return;
  const s = ask("sums");
  if (!s) return;
  $("sums").textContent = s.text;
  if (!s.done) setTimeout(() => soon("sums"), 0);
}

let drawn = false;
function redraw() {
  if (!state.columns && !drawn) return; // nothing to show, and drawing costs a layout of the whole page
  drawn = true;
  document.documentElement.dataset.idle = "0";
  drawing = view.draw();
  const mine = drawing;
  mine.then(() => {
    $("first")?.remove(); // the live list stands in its place
    if (drawing === mine) drawing = null;
    idle();
  });
}
function idle() {
  if (!drawing && !pumping && pending.size === 0 && !queued) document.documentElement.dataset.idle = "1";
}

// Rows in sight are worked out when they are drawn; the others here, a little at a time, so that the page stays at hand.
let pumping = false;
const channel = new MessageChannel();
channel.port1.onmessage = () => step();
function pump() {
  if (pumping) return;
  pumping = true;
  document.documentElement.dataset.idle = "0";
  Promise.resolve(drawing).then(() => painted(step)); // what is in sight comes first
}
function step() {
  const p = ask("work", 8);
  if (p && p.done < p.total) {
    $("counts").textContent = fill(T.page.workingOutOf, n(p.done), n(p.total));
    channel.port2.postMessage(0);
    return;
  }
  pumping = false;
  if (p?.columns) { // columns that no row had a use for before
    know({ ...state, ...ask("state"), changed: false });
    view.state = state;
    relayout();
    redraw();
  }
  counts();
  screen?.update?.({ changed: true });
  share.soon();
  idle();
}

let share; // see sharing.js

/** The packs are those of the stock shared out now, or it is told why they cannot be. */
function shareTaken(s) {
  know({ ...s, changed: false });
  view.state = state;
  redraw();
  soon("info", true);
  screen?.update?.({ shared: true });
  pump();
}

function counts() {
  const c = ask("count");
  if (!c) return;
  const words = [[c.inside, T.page.inside], [c.outside, T.page.outside], [c.tooClose, T.page.tooCloseToCall],
    [c.notJudged, T.page.notJudged]].filter((w) => w[0]).map((w) => n(w[0]) + " " + w[1]);
  $("counts").textContent = c.couplings ? plural(c.couplings, T.page.couplings) + ": " + words.join(", ") : "";
  $("side-problems").textContent = c.problems ? fill(T.page.problems, n(c.problems)) : T.page.problems2;
  $("panel-problems").replaceChildren();
  if (!$("panel-problems").hidden || state.rows <= 500) problems(); // wording many takes long: not before they are looked at
}

/** Tells something in the line at the foot, with a button if there is something to be done about it. */
function say(text, label, does) {
  $("status").textContent = text;
  const b = $("status-do");
  b.hidden = !label;
  b.textContent = label ?? "";
  b.onclick = does ?? null;
  if (label) $("status").setAttribute("aria-label", fill(T.panel.offered, text, label)); // what is offered is read out with it
  else $("status").removeAttribute("aria-label");
}

function banner(text, detail) {
  $("banner-text").textContent = text;
  $("banner-text").title = detail ?? "";
  $("banner").hidden = false;
}

/** What stands around the sheet: names, marks, buttons. */
function frame() {
  const welcome = state.sheet === 0 && state.columns === 0;
  $("welcome").hidden = !welcome;
  for (const id of ["editbar", "cellbar", "sheet"]) $(id).style.visibility = welcome ? "hidden" : "";
  tabsShown();
  $("work").setAttribute("aria-labelledby", "tab-" + state.sheet);
  view.table.setAttribute("aria-label", $("tab-" + state.sheet).textContent);
  check("units", state.shown);
  check("all", String(state.all));
  check("results-first", String(state.resultsFirst));
  $("viewsaid").textContent = state.view;
  $("viewoff").hidden = !state.view;
  for (const [id, word, name] of [["undo", T.page.undo, state.undo], ["redo", T.page.redo, state.redo]]) {
    const b = $(id);
    b.disabled = !name;
    b.textContent = name ? `${word} ${name}` : word;
    b.title = (name ? `${word} ${name}` : word) + (id === "undo" ? " (Ctrl+Z)" : " (Ctrl+Y)");
  }
  $("jobname").textContent = (state.name || T.page.jobWithoutAName) + (state.revision ? fill(T.page.revision, state.revision) : "");
  const mark = $("savemark");
  const open = unsaved();
  document.querySelector("header [data-do=save]").classList.toggle("main", open);
  mark.className = open ? "unsaved" : "";
  mark.title = storageNote;
  mark.textContent = open ? fill(T.page.notSaved, storageNote ? T.page.noSafetyCopy : "", elsewhere ? T.page.openInAnotherTabToo : "")
    : saving.handedAt || (state.changes ? "" : T.page.asOpened);
  if (!state.changes && !saving.restored && !state.revision && !saving.handedAt) mark.textContent = "";
  if (elsewhere && !open) mark.textContent += T.page.openInAnotherTabToo;
  document.title = (open ? "• " : "") + title();
  document.documentElement.dataset.up = String(saving.before + state.changes); // what the browser's own "Save page as" would lack
  if (welcome) offerCopies();
  const makers = $("makerows"), focused = makers.contains(document.activeElement);
  makers.hidden = !state.makers;
  makers.innerHTML = state.makers ?? "";
  if (focused) view.focus();
}

const title = () => [[state.name, state.revision ? fill(T.page.rev, state.revision) : "",
  state.revision && state.savedAt ? when(state.savedAt) : ""].filter(Boolean).join(" "), "Shimsheet"].filter(Boolean).join(" – ");

/** Which tab is chosen. */
function tabsShown() {
  for (const t of document.querySelectorAll("#tabs [role=tab]")) {
    const on = screen ? t.dataset.screen === screenName : Number(t.dataset.sheet) === state.sheet;
    t.setAttribute("aria-selected", String(on));
    t.tabIndex = on ? 0 : -1;
    if (on) t.scrollIntoView({ block: "nearest", inline: "nearest" });
  }
}

// Screens other than the sheet: each has show(), update(state) when the job changed, and hide().
const screens = {};
let screen = null;
let screenName = "";
function openScreen(name) {
  if (view.open) view.commit(0, 0);
  // these tell of the machines, and so do the buttons on them
  if (["list", "crew", "cards"].includes(name) && state.sheet !== 0) act("sheet", 0);
  if (screenName !== name) screen?.hide?.();
  screen = screens[name] ?? null;
  screenName = screen ? name : "";
  $("work").hidden = !!screen;
  for (const el of document.querySelectorAll(".screen")) el.hidden = el.id !== "screen-" + name;
  document.body.dataset.screen = screenName;
  $("side").hidden = !!screen && !screen.side;
  $("sums").textContent = "";
  tabsShown();
  if (screen) screen.show();
  else if (state.columns) {
    redraw();
    view.reveal(state.row, state.col);
    soon("info");
    soon("sums");
  }
}

function info() {
  const i = ask("info", $("side").hidden ? 0 : $("panel-row").clientWidth - 30);
  if (!i) return;
  $("cell-where").textContent = i.where ?? "";
  $("cell-text").textContent = i.text ?? "";
  $("cell-meaning").textContent = i.meaning ?? "";
  const help = $("cell-help");
  help.className = i.severity === "error" || i.severity === "warning" ? i.severity : "";
  help.textContent = i.problem
    ? (i.severity === "note" ? "" : (i.severity === "error" ? T.page.problem : T.page.look)) + i.problem + (i.hint ? "; " + i.hint : "")
    : (i.help ?? "") + (i.choices?.length ? fill(T.page.oneOf, i.choices.join(", ")) : "");
  help.title = help.textContent;
  $("cell-wrong").textContent = i.problem ? help.textContent : "";
  panel(i);
}

/** The panel of the chosen row; its place is kept while it speaks of the same machine. */
function panel(i) {
  const box = $("panel-row"), keep = box.dataset.about === i.about ? box.scrollTop : 0;
  box.dataset.about = i.about;
  box.innerHTML = i.panel;
  box.scrollTop = keep;
}

function problems() {
  $("panel-problems").innerHTML = ask("problems")?.html ?? "";
}

/** Goes to a cell of a sheet, row and column as stored. */
function jump(at, row, col) {
  sheet(at);
  if (row >= 0) act("goStored", row, col);
  view.focus();
}

function sheet(i) {
  if (view.open) view.commit(0, 0);
  if (screen) openScreen("");
  if (state.sheet !== i) act("sheet", i);
}

// Saving

/** The page is read to its end some moments after it can be used, and a copy needs all of it. */
async function save(kind, another) {
  if (writing) return say(T.page.theLastSavingIsStill);
  writing = true;
  try {
    await saveNow(kind, another);
  } finally {
    writing = false;
  }
}
let writing = false;

async function saveNow(kind, another) {
  if (kind === "html" && (await damage()).length) return broken(await damage());
  if (view.open) view.commit(0, 0);
  const when = new Date();
  // Where the browser can write a file that the person picks, saving again goes to the same file, and the page knows that it arrived.
  let target = kind === "html" && globalThis.showSaveFilePicker ? saving.file : null;
  if (kind === "html" && globalThis.showSaveFilePicker && (!target || another)) {
    try {
      target = await showSaveFilePicker({ suggestedName: fileName(state.name, state.revision + 1, when, kind),
        types: [{ description: T.page.pageWithTheJobInside, accept: { "text/html": [".html"] } }] });
    } catch (e) {
      if (e?.name === "AbortError") return say(T.page.notSavedNoFileWas);
      target = null; // forbidden here: handed over as a download
    }
  }
  const s = ask("save", when.toISOString());
  if (!s) return;
  know({ ...state, revision: s.revision, savedAt: s.savedAt });
  view.state = state;
  const file = fileName(s.name, s.revision, when, kind);
  const time = when.toTimeString().slice(0, 5);
  const changes = state.changes, mine = saving;
  if (target) {
    try {
      const out = await target.createWritable();
      await out.write(new Blob(savedPage(s.text, title(), firstList(s.text)), { type: "text/html" }));
      await out.close();
    } catch (e) {
      mine.file = null;
      say(fill(T.page.couldNotBeWrittenThe, target.name, e?.message ?? e));
      return frame();
    }
    mine.file = target;
    Object.assign(mine, { handed: changes, restored: false, handedAt: fill(T.page.savedInAt, target.name, time) });
    say(fill(T.page.savedIn, target.name));
  } else {
    if (kind === "json") handOver(file, "application/json", [s.text]);
    else handOver(file, "text/html", savedPage(s.text, title(), firstList(s.text)));
    Object.assign(mine, { handed: changes, restored: false, handedAt: fill(T.page.handedToTheBrowserAt, time) });
    say(fill(T.page.wasHandedToTheBrowser, file, time));
  }
  frame();
  if (mine.line.begun) {
    keep();
    mine.line.know();
  }
}

/** The list as the page that is saved shows it before its program is up. */
const firstList = (job) => ask("first", digestOf(job))?.html ?? "";

/** This page's own file is damaged or cut short: a page written from it would be broken too. */
function broken(bad) {
  banner(bad[0] === "end" ? T.page.thisPageSFileIsCut : fill(T.page.thisPageSFileIsDamaged, bad.join(", ")));
  $("banner-save").hidden = true;
}

/** When the program has failed: the job as it last was, out of the program if it still answers, else out of the safety copy, read by the
 * program started once more. */
async function emergency(kind) {
  let text = "";
  try {
    text = JSON.parse(globalThis.shimsheet.call("job")).text ?? "";
  } catch { /* the program has ended */ }
  const from = text ? T.page.asItStands : T.page.asItWasAtThe;
  if (!text) {
    try {
      await again();
      const copy = await copyOf(saving.line.line);
      if (copy && bring(copy)) text = ask("copyText")?.text ?? "";
    } catch { /* then as it came */ }
  }
  text ||= jobInPage();
  const name = fileName(state?.name, state?.revision ?? 0, new Date(), kind);
  if (kind === "html") {
    if ((await damage()).length) return broken(await damage());
    handOver(name, "text/html", savedPage(text, title(), ""));
  } else handOver(name, "application/json", [text]);
  $("banner-text").textContent = fill(T.page.wasHandedToTheBrowser2, name, from,
    kind === "html" ? T.page.openItInTheBrowser : T.page.openItWithOpenIn);
}
let again; // starts the page's program once more

function csv() {
  const s = ask("csv");
  if (!s) return;
  const name = fileName(state.name, state.revision, new Date(), "csv");
  handOver(name, "text/csv", ["\ufeff", s.text]);
  say(fill(T.page.wasHandedToTheBrowser3, name));
}

// Safety copies: see keep.js.

/** Keeps what has changed. */
function keep() {
  saving.line.change(() => {
    const text = call("record");
    if (!text.startsWith("{")) return text;
    banner(fill(T.page.somethingWentWrongInsideThe, JSON.parse(text).panic), text);
    return "";
  });
}

/** What a line of work asks of the page and tells it. mine: how far its job is saved. */
const hooksOf = (mine) => ({
  facts: () => ({
    name: mine.state.name, revision: mine.state.revision, savedAt: mine.state.savedAt, from: mine.from, began: mine.began,
      opened: mine.opened, changes: mine.before + mine.state.changes,
    rows: mine.state.machines, handed: mine.state.changes <= mine.handed && !mine.restored, follows: mine.follows ?? "", page: pageName,
  }),
  whole(asOpened) {
    const c = saving === mine ? ask("wholeCopy", asOpened) : null; // the program hands over the job on the page
    if (!c) return null;
    if (!c.turn) return { head: c.head, rows: [] };
    return (async () => { // a large one, while the page can be used
      const rows = [];
      for (let table = 0; table < c.tables; table++) {
        for (let at = 0; at >= 0;) {
          const r = ask("wholeRows", c.turn, table, at, 2000);
          if (!r || r.gone) return null;
          if (r.rows) rows.push([table, r.rows]);
          at = r.next;
          await breathe();
        }
      }
      return { head: c.head, rows };
    })();
  },
  told(why, gone) {
    if (why === "room") return say(fill(T.page.theBrowserSStorageWas, gone.name || T.page.jobWithoutAName, when(gone.changed)));
    const safe = mine.line.safe;
    const text = why && fill(why === "full" ? T.page.theBrowserSStorageIs : T.page.theBrowserKeepsNoStorage,
      safe ? fill(T.page.onTheDiskIsThe, when(safe.at), plural(mine.before + mine.state.changes - safe.changes, T.page.changes))
      : T.page.nothingIsOnTheDisk);
    if (text === storageNote) return;
    const first = text && !storageNote;
    storageNote = text;
    if (first) say(text);
    frame();
  },
});

const pageName = decodeURIComponent(location.pathname.split("/").pop());

// The line of work this tab had last on this page, for reloading.
const setLast = (line) => {
  try { sessionStorage.setItem("shimsheet:line", JSON.stringify([line, location.href])); } catch { /* then a reload shows the choice */ }
};
function lastLine() {
  try {
    const [line, page] = JSON.parse(sessionStorage.getItem("shimsheet:line"));
    return page === location.href ? line : "";
  } catch { return ""; }
}

/** Hands a copy to the program, which can then compare or open it. */
function bring(copy) {
  if (!ask("copyBegin", new TextEncoder().encode(copy.whole.head))) return false;
  for (const [table, rows] of copy.whole.rows) if (!ask("copyRows", table, rows)) return false;
  for (const r of copy.records) if (!ask("copyRecord", r)) return false;
  return true;
}

/** Opens a copy and goes on with its line of work; or with a line of its own: apart is "copy" if that one is to stay as it is, "beside" if
 * another tab works on it. */
async function restore(line, apart) {
  const copy = await copyOf(line);
  const mine = newSaving(copy?.about.from ?? "");
  const resumed = copy && !apart ? await Line.resume(copy, hooksOf(mine)) : null;
  if (copy && !apart && !resumed) apart = "beside";
  const s = copy && bring(copy) && ask("copyOpen");
  if (!s) {
    resumed?.leave();
    say(T.page.theSafetyCopyCannotBe);
    return false;
  }
  mine.line = resumed;
  mine.before = copy.about.changes;
  mine.follows = resumed ? copy.about.follows : apart === "beside" ? "" : line;
  if (resumed) mine.began = copy.about.began;
  mine.restored = !copy.about.handed;
  coming = mine;
  fresh(s);
  if (resumed) {
    saving.opened = copy.about.opened;
    if (copy.about.aside) resumed.know(); // it is not set aside any more
  }
  frame();
  say(fill(T.page.restoredFromTheSafetyCopy, when(copy.about.changed),
    copy.broken ? T.page.theLastOfItCould : saving.restored ? T.page.noFileHasTheseChanges : ""));
  if (state.columns) view.focus();
  return true;
}

/** Shows what safety copies there are where there is no job yet. */
async function offerCopies() {
  const list = (await lines()).filter((c) => c.line !== saving.line.line).slice(0, 8);
  $("copies").replaceChildren();
  if (!list.length) return;
  $("copies").append(h("h3", {}, T.page.safetyCopiesInThisBrowser), choice.list(list));
}

let choice; // see copies.js

/** After a job was opened from a file: looks for other states of it, and lets the person choose. */
async function lookForOthers(name) {
  const s = state;
  const found = (await lines()).filter((c) => c.job === s.id && c.line !== saving.line.line);
  const out = [];
  for (const about of found) {
    if (about.aside || found.some((x) => x.follows === about.line)) continue;
    const copy = await copyOf(about.line);
    if (state.desk !== s.desk || !copy || !bring(copy)) continue;
    const d = ask("copyCompare", 400);
    if (!d) continue;
    const differs = d.changed + d.onlyA + d.onlyB > 0;
    if (differs && !(about.handed && d.before)) out.push({ about, differences: d, broken: copy.broken });
    else if (!about.open) note(about.line, { aside: new Date().toISOString(), handed: true }); // a file has it
  }
  if (!out.length || state.desk !== s.desk) return;
  choice.ask({ name, state: s }, out);
}

const when = (iso) => (clock ??= new Intl.DateTimeFormat(T.locale, { dateStyle: "medium", timeStyle: "short" })).format(new Date(iso));
let clock = null;

/** Before another job takes the place of this one: the safety copy is brought up, and unsaved work asked about. */
function leave(what) {
  if (view.open) view.commit(0, 0);
  const before = [...savings.values()].some((x) => x.lost);
  if (!unsaved() && !before) return true;
  return confirm(fill(T.page.changesThatNoFileHas, unsaved() ? T.page.thisJobHas : T.page.aJobThatCtrlZ,
    storageNote || T.page.aSafetyCopyStaysIn, what));
}

function opened(s, text, from = "") {
  if (!s) return;
  coming = newSaving(from);
  fresh(s);
  say(text);
  if (s.changes) keep();
  if (state.columns) view.focus();
}

/** A saved page or a job is opened here; everything else is looked at by the program for workbook files first. */
async function openFile(file) {
  if (!file || document.querySelector("dialog[open]")) return;
  if (view.open) view.commit(0, 0);
  const own = /\.(html?|json)$/i.test(file.name) || !/\.(xls.?|csv|tsv|ods)$/i.test(file.name)
    && /^\ufeff?\s*[{<]/.test(await file.slice(0, 200).text());
  if (!own) {
    preview(file);
    return;
  }
  if (!leave(fill(T.page.open, file.name))) return;
  const s = ask("openFile", file.name, new Uint8Array(await file.arrayBuffer()), false);
  if (!s) return;
  opened(s, fill(T.page.isOpen, file.name) + (s.sealed ? "" : T.page.itWasSavedBefore) + (s.whole ? "" : T.page.thePageIsCutShort),
    file.name);
  await lookForOthers(file.name);
}

/** Shows a job that took the place of the one before, which undoing brings back. */
function taken(s, text) {
  know(s);
  view.state = s;
  relayout();
  frame();
  redraw();
  view.el.scrollTop = 0;
  soon("info", true);
  pump();
  say(text);
  keep();
  view.focus();
}

// Dialogs

/** The ways of measuring, as the sheet says them and as people call them, for the program. */
const ways = () => [...document.querySelectorAll("[data-columns]")].flatMap((b) => [b.dataset.columns, b.textContent]).join("\u001f");

/** Opens a dialog that is a screen in Go. */
function dialog(name) {
  if (view.open) view.commit(0, 0);
  inGo.open(name);
}
let inGo; // see screens.js

let helped = false; // the help has been told what it cannot know
async function help() {
  if (!helped) {
    const texts = JSON.parse(await unpacked(part("licences")));
    inGo.send("help", "ways", "", "", ways(), "");
    inGo.send("help", "texts", "", "", texts.join("\u001e"), "");
  }
  helped = true;
  dialog("help");
}

// Printing: a table of its own, for the grid holds only what is in sight.

function paper(one = false) {
  const p = ask("print", when(new Date().toISOString()), state.savedAt ? when(state.savedAt) : "", one);
  if (p) $("paper").innerHTML = p.html;
}

/** One coupling on paper. */
function paperMachine() {
  paper(true);
  onPaper = true;
}
let onPaper = false; // what is to be printed stands there already

const commands = {
  new: () => { if (leave(T.page.beginANewJob)) opened(ask("new"), T.page.aNewJobTheOne); },
  copies: () => choice.show(),
  demo: () => {
    if (!leave(T.page.openTheDemo)) return;
    const d = JSON.parse(part("demo"));
    const lists = ["machines", "job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"];
    opened(ask("demo", ...lists.map((k) => d[k] ?? "")), T.page.theDemoAnInventedWaterworks);
  },
  open: () => $("file").click(),
  save: () => save("html"),
  saveAs: () => save("html", true),
  json: () => save("json"),
  csv,
  workbook: () => { if (view.open) view.commit(0, 0); workbook(); },
  print: async () => { await share.settled(); paper(); onPaper = true; print(); },
  help,
  find: () => dialog("find"),
  headers: () => { inGo.send("headers", "ways", "", "", ways(), ""); dialog("headers"); },
  sort: () => dialog("arrange"),
  groups: () => dialog("groups"),
  showAll: () => { act("arrange", "", ""); backToSheet(); },
  undo: () => { act("undo"); backToSheet(); },
  redo: () => { act("redo"); backToSheet(); },
  insertRows: () => { act("insertRows"); view.focus(); },
  duplicateRows: () => { act("duplicateRows"); view.focus(); },
  moveUp: () => { act("moveRows", -1); view.focus(); },
  moveDown: () => { act("moveRows", 1); view.focus(); },
  deleteRows: () => { act("deleteRows"); view.focus(); },
  fill: () => { act("fill"); view.focus(); },
  series: () => { act("series"); view.focus(); },
  fillRight: () => { act("fillRight"); view.focus(); },
  columns: () => dialog("columns"),
  printCards: async () => { await share.settled(); print(); },
  printMachine: async () => { await share.settled(); paperMachine(); print(); },
};

/** After a button was used: the sheet has the focus again where it is what is looked at. */
/** Copies the selection from a menu. */
function copyBy(op, ...how) {
  const c = act(op, ...how);
  if (c?.text) say(toClipboard(c.text, c.html) ? fill(T.page.onTheClipboard, plural(state.sel[2] - state.sel[0] + 1, T.page.rows),
    plural(state.sel[3] - state.sel[1] + 1, T.page.columns)) : T.screens.notCopied);
  view.focus();
}
Object.assign(commands, {
  copyCells: () => copyBy("copy", false, false),
  copyHeads: () => copyBy("copy", true, false),
  copyPlain: () => copyBy("copy", true, true),
  cutCells: () => copyBy("cut"),
  clearCells: () => { act("delete"); view.focus(); },
  hideColumns: () => { act("hideColumns"); view.focus(); },
});

const backToSheet = () => { if (!screen) view.focus(); };

function listen() {
  document.addEventListener("click", (/** @type {On} */ e) => {
    const b = e.target.closest("button");
    if (!b) return;
    if (b.dataset.do) commands[b.dataset.do]();
    else if (b.dataset.columns !== undefined) {
      if (act("columns", b.dataset.columns)) view.focus();
    } else if (b.dataset.close !== undefined) b.closest("dialog").close();
  });
  const tabs = (root, pick) => root.addEventListener("keydown", (e) => {
    const all = [...root.querySelectorAll("[role=tab]")];
    const at = all.indexOf(document.activeElement);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: all.length - 1 }[e.key];
    if (at < 0 || to === undefined || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    const t = all[(to + all.length) % all.length];
    pick(t);
    t.focus();
  });
  const tab = (t) => { if (t.dataset.screen) openScreen(t.dataset.screen); else sheet(Number(t.dataset.sheet)); };
  $("tabs").addEventListener("click", (/** @type {On} */ e) => {
    const t = e.target.closest("[role=tab]");
    if (!t) return;
    tab(t);
    if (!t.dataset.screen && state.columns) view.focus();
  });
  tabs($("tabs"), tab);
  menus();
  document.addEventListener("click", (/** @type {On} */ e) => {
    const d = e.target.closest("[role=menuitemradio]")?.dataset;
    if (d?.themeSet !== undefined) setTheme(d.themeSet, () => {
      relayout();
      redraw();
      if (!screen && state.columns) view.reveal(state.row, state.col);
      screen?.update?.({ arranged: true });
    });
    else if (d?.units !== undefined) {
      act("showAs", d.units);
      frame();
      relayout();
      redraw();
      soon("info");
      screen?.update?.({ changed: true });
      say(fill(T.page.shownWhatIsTypedStays, document.querySelector(`[data-units="${d.units}"]`).textContent));
    } else if (d?.panelSet !== undefined) {
      setPanel(d.panelSet);
      if (d.panelSet === "hidden") say(T.panel.hidden);
      else soon("info", true);
    } else if (d?.resultsFirst !== undefined) {
      act("resultsFirst", d.resultsFirst === "true");
      view.el.scrollLeft = 0;
    } else if (d?.all !== undefined) {
      act("showAll", d.all === "true");
    }
  });
  const side = (t) => {
    for (const b of [$("side-row"), $("side-problems")]) {
      b.setAttribute("aria-selected", String(b === t));
      b.tabIndex = b === t ? 0 : -1;
      $(b.getAttribute("aria-controls")).hidden = b !== t;
    }
    if (t === $("side-problems") && !$("panel-problems").childElementCount) problems(); // worded when they are looked at
  };
  $("side-row").addEventListener("click", () => side($("side-row")));
  $("side-problems").addEventListener("click", () => side($("side-problems")));
  tabs($("sidetabs"), side);
  $("file").addEventListener("change", (/** @type {On} */ e) => {
    openFile(e.target.files[0]);
    e.target.value = "";
  });
  addEventListener("dragover", (e) => e.preventDefault());
  addEventListener("drop", (e) => {
    e.preventDefault();
    openFile(e.dataTransfer.files[0]);
  });
  $("jobname").addEventListener("click", () => { sheet(1); view.focus(); });
  $("banner-close").addEventListener("click", () => {
    $("banner").hidden = true;
    view.focus();
  });
  $("banner-save").addEventListener("click", () => (ended ? emergency("html") : save("html")));
  $("banner-json").addEventListener("click", () => emergency("json"));
  // The clipboard. Texts and dialogs keep their own; everything else is the sheet's.
  const ours = () => {
    const at = /** @type {Field} */ (document.activeElement);
    const a = at?.closest("dialog:not([open])") ? null : at; // a closed dialog has the focus still until the next frame
    return !screen && !(a && (/^(INPUT|TEXTAREA|SELECT)$/.test(a.tagName) || a.closest("dialog") || a.isContentEditable))
      && !(a && a.closest?.("#side") && String(getSelection()));
  };
  const put = (e, op) => {
    if (!ours() || !state.columns || screen) return;
    e.preventDefault();
    const c = act(op, ...(op === "copy" ? [false, false] : []));
    if (!c?.text) return;
    e.clipboardData.setData("text/plain", c.text);
    e.clipboardData.setData("text/html", c.html);
    say(fill(T.page.onTheClipboard, plural(state.sel[2] - state.sel[0] + 1, T.page.rows),
      plural(state.sel[3] - state.sel[1] + 1, T.page.columns)));
  };
  document.addEventListener("copy", (e) => put(e, "copy"));
  document.addEventListener("cut", (e) => put(e, "cut"));
  document.addEventListener("paste", (e) => {
    if (!ours() || screen) return;
    e.preventDefault();
    const text = e.clipboardData.getData("text/plain");
    if (!text) {
      say(T.page.thereIsNoTextOn);
      return;
    }
    if (view.open) view.commit(0, 0);
    inGo.send("match", "pasted", "", "", text, remembered());
  });

  // Where nothing had the focus before a dialog, the sheet has it after.
  for (const d of document.querySelectorAll("dialog")) {
    d.addEventListener("close", () => {
      const a = document.activeElement;
      if (!screen && !document.querySelector("dialog[open]") && (!a || a === document.body || d.contains(a))) view.focus();
    });
  }

  addEventListener("keydown", (e) => {
    const ctrl = e.ctrlKey || e.metaKey;
    const key = e.key.toLowerCase();
    if (document.querySelector("dialog[open]")) return;
    const typing = /^(INPUT|TEXTAREA)$/.test(document.activeElement?.tagName);
    if (e.key === "F1") { e.preventDefault(); commands.help(); }
    else if (e.key === "F6") {
      e.preventDefault();
      if (view.open) view.commit(0, 0);
      const here = screen ? $("screen-" + screenName) : $("work");
      const stops = [[here, screen ? here.querySelector("input, [tabindex='0'], button") ?? here : view.table],
        [$("side"), $("panel-problems").hidden ? $("panel-row") : $("panel-problems")],
        [$("under"), document.querySelector("#tabs [aria-selected=true]")],
        [document.querySelector("header"), document.querySelector("header [data-do=open]")]].filter(([area]) => !area.hidden);
      let at = stops.findIndex(([area]) => area.contains(document.activeElement));
      if (at < 0) at = e.shiftKey ? 0 : stops.length - 1;
      stops[(at + (e.shiftKey ? stops.length - 1 : 1)) % stops.length][1].focus();
    } else if (e.key === "Escape" && !e.defaultPrevented
      && (screen || document.activeElement?.closest("#side, header, #under, #editbar"))) {
      e.preventDefault();
      if (screen) sheet(state.sheet);
      view.focus();
    } else if (ctrl && key === "s") { e.preventDefault(); save("html"); }
    else if (ctrl && key === "f" && !e.shiftKey && !screen) { e.preventDefault(); commands.find(); }
    else if (ctrl && key === "k") { e.preventDefault(); openScreen("tables"); }
    else if (ctrl && key === "p" && !typing) {
      e.preventDefault();
      if (screen?.paper) print();
      else commands.print();
    }
    else if (ctrl && key === "z" && !typing) { e.preventDefault(); act(e.shiftKey ? "redo" : "undo"); }
    else if (ctrl && key === "y" && !typing) { e.preventDefault(); act("redo"); }
  });
  addEventListener("beforeprint", () => {
    if (view.open) view.commit(0, 0);
    const ofOne = screen === screens.crew || !screen && [4, 5].includes(state.sheet); // Growth and Feet have a machine in their panel
    if (!onPaper) (screen?.paper ?? (ofOne ? paperMachine : paper))();
    onPaper = false;
  });
  addEventListener("beforeunload", (e) => {
    if (view.open) view.commit(0, 0);
    if (unsaved() || [...savings.values()].some((x) => x.lost)) e.preventDefault();
  });
}

/** Which job to show first: the one in the page, or a safety copy. */
async function first() {
  const inPage = jobInPage();
  const found = await early, last = found.find((c) => c.line === lastLine());
  sweep();
  if (inPage === "null") {
    const left = found.filter((c) => !c.open && !c.handed && !c.aside && !found.some((x) => x.follows === c.line));
    const mine = last ?? (left.length === 1 ? left[0] : null);
    if (mine && await restore(mine.line)) return say($("status").textContent, T.page.beginANewJob, commands.new);
    return fresh(ask("new"));
  }
  const open = (anyway) => {
    const s = ask("openJob", new TextEncoder().encode(inPage), anyway);
    if (!s) return null;
    coming = newSaving(pageName);
    fresh(s);
    saving.handedAt = s.savedAt ? fill(T.page.saved, when(s.savedAt)) : "";
    frame();
    if (!s.sealed && !anyway && s.savedAt) say(T.page.thisPageWasSavedBefore);
    return s;
  };
  const s = open(false);
  if (!s) {
    banner(fill(T.page.theJobInThisPage, $("status").textContent));
    fresh(ask("new"));
    say("", T.page.openItAllTheSame, () => { if (open(true)) banner(T.page.thisJobWasDamaged); });
    return;
  }
  if (last && (last.job !== s.id || last.opened === s.savedAt) && await restore(last.line)) {
    return say($("status").textContent, T.page.backToWhatIsIn, () => { open(false); say(T.page.asInTheFile); });
  }
  await lookForOthers(pageName);
}
const early = lines(); // while the program comes up

/** restart starts the page's program once more, after it has ended. lacks: this file is the browser's own copy of a page, which lacks as
 * many changes. */
export async function start(restart, lacks) {
  again = restart;
  view = new SheetView($("sheet"), /** @type {any} */ ($("editor")), call, act);
  globalThis.shimsheetView = view;
  listen();
  share = sharing({ ask, state: () => state, took: shareTaken, ready: () => !view.open,
    when: () => stamp(when(new Date().toISOString()), state.revision, state.changes > saving.handed) });
  inGo = goScreens({ ask, say, changed: () => act("took"), open: (id) => $(id).click(), place: jump,
    back: (top) => { if (screen) sheet(state.sheet); if (top) view.el.scrollTop = 0; view.focus(); }, share, state: () => state, reread });
  screens.crew = inGo.screen("crew");
  screens.shims = inGo.screen("shims", { onPaper: true });
  screens.tables = inGo.screen("tables", { onPaper: true });
  screens.list = inGo.screen("list", { onPaper: true });
  screens.calc = inGo.screen("calc");
  screens.moves = inGo.screen("moves", { onPaper: true });
  screens.cards = inGo.screen("cards", { onPaper: true });
  screens.board = inGo.screen("board", { onPaper: true });
  screens.record = inGo.screen("record", { onPaper: true });
  screens.merge = inGo.screen("merge");
  screens.history = inGo.screen("history");
  commands.matchColumns = () => {
    if (view.open) view.commit(0, 0);
    inGo.send("match", "open", "", "", "", remembered());
  };
  view.showMenu = (x, y) => menuAt($("cellmenu"), x, y, view.table);
  view.drawingWidth = () => ($("drawing") && !$("panel-row").hidden && !$("side").hidden ? $("panel-row").clientWidth - 30 : 0);
  view.trying = (m) => { if (m.svg && $("drawing")) $("drawing").innerHTML = m.svg; };
  exchange({
    ask, take: taken, toScreen: inGo.send, tell: say, back: () => view.focus(),
    about: () => ({ unsaved: unsaved(), machines: () => ask("count").couplings,
      fileName: (ending) => fileName(state.name, state.revision, new Date(), ending) }),
  });
  choice = copyChoice({ h, $, n, plural, when, ask, restore, say, lines, back: () => { if (state.columns) view.focus(); },
    mine: () => saving.line.line, job: () => state.id, bring: async (line) => { const c = await copyOf(line); return c && bring(c); },
    refresh: () => { if (!$("welcome").hidden) offerCopies(); } });
  await first();
  if (state.columns) {
    if (drawing) await drawing;
    view.focus();
  }
  $("first")?.remove(); // where there is no list
  document.documentElement.dataset.ready = "1";
  performance.mark("shimsheet-ready");
  if (Number(lacks) > 0) banner(fill(T.page.thisCopyWasMadeBy, plural(Number(lacks), T.page.changes)));
  complete().then(() => { if (!document.getElementById("part-end")) damage().then(broken); });
}
