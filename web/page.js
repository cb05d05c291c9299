// The page around the sheet: toolbar, tabs, panel, problems, dialogs, printing, saving and restoring.
import { SheetView } from "./grid.js";
import { part, jobInPage, savedPage, complete, handOver, fileName, copies, keepCopy, copiedJob, dropCopy, lastId, setLastId } from "./files.js";
import { exchange, preview, workbook, pieces } from "./exchange.js";
import { unpackRows } from "./rows.js";

const $ = (id) => document.getElementById(id);
const n = (x) => x.toLocaleString("en-GB");
const plural = (k, one, many) => (k === 1 ? "1 " + one : n(k) + " " + many);

/** Makes an element: h("p", {class: "x"}, "text", child). */
function h(tag, attrs, ...children) {
  const el = document.createElement(tag);
  for (const [k, v] of Object.entries(attrs ?? {})) {
    if (k === "onclick") el.addEventListener("click", v);
    else if (v !== null && v !== false) el.setAttribute(k, v === true ? "" : v);
  }
  el.append(...children.filter((c) => c !== null && c !== undefined && c !== ""));
  return el;
}

let view; // the sheet
let state; // as the program last said
// How far each opened job is saved: handed is state.changes when it was last handed to the browser, handedAt how that is told; restored: it came
// from a safety copy, and no file has it; lost: changes that no file has, when it was last on the page.
const savings = new Map();
let saving; // of the job on the page
let storageNote = "";
let layoutOf = ""; // which sheet and columns the view has

/** Asks the program. A failure inside it becomes a banner and null. */
function ask(op, ...args) {
  const answer = JSON.parse(globalThis.shimsheet.call(op, ...args));
  if (answer && answer.panic !== undefined) {
    banner(`Something went wrong inside the page (${answer.panic}). What you typed is still here: save the page now, then open the saved file.`, answer.stack);
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
  const at = view.at;
  const s = ask(op, ...args);
  if (!s) return null;
  const sheetChanged = !state || s.sheet !== state.sheet;
  const moved = !state || s.row !== state.row || s.col !== state.col;
  know(s);
  view.state = s;
  if (s.note) say(s.note);
  else if (s.changed && op !== "commit") say("");
  if (s.header || sheetChanged) relayout();
  if (s.changed || s.header || sheetChanged) {
    frame();
    redraw();
  } else {
    view.restyle();
  }
  if (moved || sheetChanged || s.changed) {
    if (view.columns.length) view.reveal(s.row, s.col);
    soon("info");
  }
  if (s.changed) {
    if (op === "commit" && !s.note) say(ask("told", ...at)?.text ?? "");
    pump();
    safetySoon();
  }
  return s;
}

function know(s) {
  const other = !state || s.desk !== state.desk;
  if (other && saving) saving.lost = unsaved();
  state = s;
  if (!other) return;
  if (!savings.has(s.desk)) savings.set(s.desk, { handed: 0, handedAt: "", restored: false, lost: false });
  saving = savings.get(s.desk);
  saving.lost = false;
  if (view) setLastId(s.id);
}

const unsaved = () => state.changes > saving.handed || saving.restored;

/** After the whole job was exchanged, for good: nothing leads back to the ones before. */
function fresh(s) {
  savings.clear();
  saving = null;
  know(s);
  view.state = s;
  relayout();
  frame();
  redraw();
  if (document.documentElement.dataset.ready) view.el.scrollTop = 0; // asking for it costs a layout
  soon("info");
  pump();
}

function relayout() {
  view.relayout();
}

// Drawing. Everything that waits is done in one go before the next frame; document.documentElement.dataset.idle says when nothing does.
let pending = new Set();
let queued = false;
let drawing = null;
function soon(what) {
  pending.add(what);
  document.documentElement.dataset.idle = "0";
  if (queued) return;
  queued = true;
  requestAnimationFrame(() => {
    queued = false;
    const now = pending;
    pending = new Set();
    if (now.has("info")) info();
    idle();
  });
}
let drawn = false;
function redraw() {
  if (!state.columns && !drawn) return; // nothing to show, and drawing costs a layout of the whole page
  drawn = true;
  document.documentElement.dataset.idle = "0";
  drawing = view.draw();
  const mine = drawing;
  mine.then(() => {
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
  if (drawing) drawing.then(step); // what is in sight comes first
  else step();
}
function step() {
  const p = ask("work", 14);
  if (p && p.done < p.total) {
    $("counts").textContent = `Working out ${n(p.done)} of ${n(p.total)} …`;
    channel.port2.postMessage(0);
    return;
  }
  pumping = false;
  counts();
  problems();
  idle();
}

function counts() {
  const c = ask("count");
  if (!c) return;
  const words = [[c.inside, "inside"], [c.outside, "outside"], [c.tooClose, "too close to call"], [c.notJudged, "not judged"]].filter((w) => w[0]).map((w) => n(w[0]) + " " + w[1]);
  $("counts").textContent = c.couplings ? plural(c.couplings, "coupling", "couplings") + ": " + words.join(", ") : "";
}

/** Tells something in the line at the foot, with a button if there is something to be done about it. */
function say(text, label, does) {
  $("status").textContent = text;
  const b = $("status-do");
  b.hidden = !label;
  b.textContent = label ?? "";
  b.onclick = does ?? null;
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
  $("cellbar").style.visibility = welcome ? "hidden" : "";
  $("sheet").style.visibility = welcome ? "hidden" : "";
  for (let i = 0; i < 4; i++) {
    const t = $("tab-" + i);
    t.setAttribute("aria-selected", String(i === state.sheet));
    t.tabIndex = i === state.sheet ? 0 : -1;
  }
  $("work").setAttribute("aria-labelledby", "tab-" + state.sheet);
  view.table.setAttribute("aria-label", ["Machines", "Job", "Readings", "Stock"][state.sheet]);
  for (const [id, word, name] of [["undo", "Undo", state.undo], ["redo", "Redo", state.redo]]) {
    const b = $(id);
    b.disabled = !name;
    b.textContent = name ? `${word} ${name}` : word;
    b.title = (name ? `${word} ${name}` : word) + (id === "undo" ? " (Ctrl+Z)" : " (Ctrl+Y)");
  }
  $("jobname").textContent = (state.name || "Job without a name") + (state.revision ? `, revision ${state.revision}` : "");
  const mark = $("savemark");
  const open = unsaved();
  document.querySelector("header [data-do=save]").classList.toggle("main", open);
  mark.className = open ? "unsaved" : "";
  mark.title = storageNote;
  mark.textContent = open ? "not saved" + (storageNote ? ", no safety copy" : "") : saving.handedAt || (state.changes ? "" : "as opened");
  if (!state.changes && !saving.restored && !state.revision && !saving.handedAt) mark.textContent = "";
  document.title = (open ? "• " : "") + title();
  if (welcome) offerCopies();
}

const title = () => (state.name ? `${state.name}${state.revision ? " rev " + state.revision : ""} – Shimsheet` : state.revision ? `rev ${state.revision} – Shimsheet` : "Shimsheet");

function info() {
  const i = ask("info");
  if (!i) return;
  $("cell-where").textContent = i.where ?? "";
  $("cell-text").textContent = i.text ?? "";
  $("cell-meaning").textContent = i.meaning ?? "";
  const help = $("cell-help");
  help.className = i.severity === "error" || i.severity === "warning" ? i.severity : "";
  help.textContent = i.problem
    ? (i.severity === "note" ? "" : (i.severity === "error" ? "Problem: " : "Look: ")) + i.problem + (i.hint ? "; " + i.hint : "")
    : (i.help ?? "") + (i.choices?.length ? " One of: " + i.choices.join(", ") + "." : "");
  help.title = help.textContent;
  panel(i);
}

/** The panel of the chosen row: verdict, why, what to do in order, what that leaves, the numbers, hints, cautions. */
function panel(i) {
  const box = $("panel-row");
  const of = (kind) => (i.sentences ?? []).filter((s) => s[0] === kind).map((s) => s[1]);
  if (!i.machine) {
    box.replaceChildren(h("p", { class: "quiet" }, state.sheet === 0 && state.columns ? "Choose a row with a machine to read what to do." : "Nothing chosen."));
    return;
  }
  const out = [h("h2", {}, i.machine)];
  out.push(h("p", { class: "verdict v" + i.verdict }, of("verdict").join(" ")));
  const line = of("line");
  if (line.length) out.push(h("h3", {}, "Where the shaft stands"), ...line.map((t) => h("p", {}, t)));
  const todo = of("do");
  if (todo.length) out.push(h("h3", {}, "What to do, in this order"), h("ol", {}, ...todo.map((t) => h("li", {}, t))));
  const after = of("after");
  if (after.length) out.push(h("h3", {}, "What that is predicted to leave"), ...after.map((t) => h("p", {}, t)));
  // problems stand among the hints; the others are how something was understood
  const wrong = (t) => i.problems.some((p) => p.severity === "error" && t.includes(p.text));
  const hints = of("hint");
  if (hints.length) out.push(h("h3", {}, "Problems and notes"), ...hints.map((t) => h("p", { class: wrong(t) ? "hint" : "notice" }, t)));
  if (i.numbers.length) {
    out.push(h("h3", {}, "Numbers"), h("table", { "aria-label": "Numbers of the row" }, h("tbody", {}, ...i.numbers.map(([k, v]) => h("tr", {}, h("th", { scope: "row" }, k), h("td", {}, v))))));
    out.push(h("p", { class: "quiet" }, "± is the expanded uncertainty, k = 2."));
  }
  const cautions = of("caution");
  if (cautions.length) out.push(h("h3", {}, "Cautions"), ...cautions.map((t) => h("p", { class: "caution" }, t)));
  const keep = box.dataset.machine === i.machine ? box.scrollTop : 0;
  box.dataset.machine = i.machine;
  box.replaceChildren(...out);
  box.scrollTop = keep;
}

function problems() {
  const p = ask("problems");
  if (!p) return;
  $("side-problems").textContent = p.total ? `Problems (${n(p.total)})` : "Problems";
  const word = { error: "", warning: "worth a look: ", note: "note: " };
  $("panel-problems").replaceChildren(
    p.total
      ? h("ul", {}, ...p.list.map((e) => h("li", {}, h("button", { type: "button", class: e.severity, onclick: () => jump(e) },
        h("span", { class: "where" }, e.where), h("span", { class: "sev" }, word[e.severity]), e.text + (e.hint ? "; " + e.hint : "")))))
      : h("p", { class: "quiet" }, "No problems."),
    p.total > p.list.length ? h("p", { class: "quiet" }, `The first ${n(p.list.length)} of ${n(p.total)}.`) : "",
  );
}

function jump(e) {
  sheet(e.sheet);
  if (e.row >= 0) act("go", e.row, Math.max(e.col, 0), false);
  view.focus();
}

function sheet(i) {
  if (view.open) view.commit(0, 0);
  if (state.sheet !== i) act("sheet", i);
}

// Saving

/** The page is read to its end some moments after it can be used, and a copy needs all of it. */
async function save(kind) {
  if (kind === "html" && document.readyState === "loading") await complete();
  if (view.open) view.commit(0, 0);
  const when = new Date();
  const s = ask("save", when.toISOString());
  if (!s) return;
  know({ ...state, revision: s.revision, savedAt: s.savedAt });
  view.state = state;
  const file = fileName(s.name, s.revision, when, kind);
  if (kind === "json") handOver(file, "application/json", [s.text]);
  else handOver(file, "text/html", savedPage(s.text, title()));
  saving.handed = state.changes;
  saving.restored = false;
  const time = when.toTimeString().slice(0, 5);
  saving.handedAt = `handed to the browser at ${time}`;
  say(`${file} was handed to the browser at ${time}. Look in your downloads that it arrived; the page cannot know.`);
  frame();
  safety();
}

function csv() {
  const s = ask("csv");
  if (!s) return;
  const name = fileName(state.name, state.revision, new Date(), "csv");
  handOver(name, "text/csv", ["\ufeff", s.text]);
  say(`${name} was handed to the browser. It holds the results, not the job: save the page as well.`);
}

let timer = 0;
function safetySoon() {
  clearTimeout(timer);
  timer = setTimeout(state.rows > 500 ? safetyInPieces : safety, Math.min(400 + state.rows / 4, 4000));
}
function safety() {
  clearTimeout(timer);
  timer = 0;
  if (!state || state.changes === 0 && !saving.restored) return;
  const s = ask("job");
  if (s) keep(s, s.text);
}

/** The same for a long job, without holding the page up. What changes meanwhile begins it anew. */
async function safetyInPieces() {
  if (pumping) return safetySoon();
  const now = () => `${state.desk} ${state.changes} ${state.revision}`;
  const at = now(), mine = timer;
  const s = ask("head");
  if (!s) return;
  const head = JSON.parse(s.text);
  const names = ["machines", "readings", "stock", "settings"], rows = names.map(() => []);
  for await (const p of pieces()) {
    if (now() !== at || timer !== mine) return;
    rows[p.table].push(JSON.stringify(unpackRows(p.rows)).slice(1, -1));
  }
  const tables = names.map((name, k) => head[name] && `${JSON.stringify(name)}:${JSON.stringify({ ...head[name], rows: undefined }).slice(0, -1)},"rows":[${rows[k].join(",")}]}`).filter(Boolean);
  for (const name of names) delete head[name];
  timer = 0;
  keep(s, JSON.stringify(head).slice(0, -1) + "," + tables.join(",") + "}");
}

function keep(s, text) {
  const why = keepCopy({ id: s.id, name: s.name, revision: s.revision, changed: new Date().toISOString(), rows: ask("count").couplings, handed: !unsaved() }, text);
  if (why === storageNote) return;
  storageNote = why;
  if (why) say(why);
  frame();
}

function offerCopies() {
  const list = copies().filter((c) => c.id !== state.id).slice(0, 8);
  $("copies").replaceChildren();
  if (!list.length) return;
  $("copies").append(h("h3", {}, "Safety copies in this browser"), h("ul", {}, ...list.map((c) => h("li", {},
    h("button", { type: "button", onclick: () => restore(c.id) }, `${c.name || "Job without a name"}, ${plural(c.rows, "coupling", "couplings")}`), " ",
    `changed ${when(c.changed)}${c.handed ? ", handed to the browser since" : ", not saved"} `,
    h("button", { type: "button", onclick: () => { dropCopy(c.id); offerCopies(); } }, "Forget")))));
}

const when = (iso) => new Date(iso).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });

function restore(id) {
  const text = copiedJob(id);
  const about = copies().find((c) => c.id === id);
  const s = text && ask("openJob", text);
  if (!s) {
    say("The safety copy cannot be read.");
    return false;
  }
  fresh(s);
  saving.restored = !about?.handed;
  frame();
  say(`Restored from the safety copy of ${about ? when(about.changed) : "this browser"}.${saving.restored ? " No file has these changes yet: save the page." : ""}`);
  return true;
}

/** Before another job takes the place of this one: the safety copy is brought up, and unsaved work asked about. */
function leave(what) {
  if (view.open) view.commit(0, 0);
  safety();
  const elsewhere = [...savings.values()].some((x) => x.lost);
  if (!unsaved() && !elsewhere) return true;
  return confirm(`${unsaved() ? "This job has" : "A job that Ctrl+Z leads back to has"} changes that no file has. ${storageNote || "A safety copy stays in this browser."}\n\n${what} all the same?`);
}

function opened(s, text) {
  if (!s) return;
  fresh(s);
  say(text);
  if (s.changes) safetySoon();
  if (state.columns) view.focus();
}

/** A saved page or a job is opened here; everything else is looked at by the program for workbook files first. */
async function openFile(file) {
  if (!file || document.querySelector("dialog[open]")) return;
  if (view.open) view.commit(0, 0);
  const own = /\.(html?|json)$/i.test(file.name) || !/\.(xls.?|csv|tsv|ods)$/i.test(file.name) && /^\ufeff?\s*[{<]/.test(await file.slice(0, 200).text());
  if (!own) {
    safety();
    preview(file);
    return;
  }
  if (!leave("Open " + file.name)) return;
  const s = ask("openFile", file.name, new Uint8Array(await file.arrayBuffer()));
  opened(s, `${file.name} is open.`);
}

/** Shows a job that took the place of the one before, which undoing brings back. */
function taken(s, text) {
  know(s);
  view.state = s;
  relayout();
  frame();
  redraw();
  view.el.scrollTop = 0;
  soon("info");
  pump();
  say(text);
  safetySoon();
  view.focus();
}

// Dialogs

let helpText;
function help() {
  helpText ??= ask("help");
  if (!helpText) return;
  const body = $("help-body");
  if (!body.childElementCount) {
    const keys = [["Arrows", "move; with Ctrl to the edge of the filled cells; with Shift select"], ["Enter, F2", "open the cell; typing replaces its text"],
      ["Enter, Tab", "take the text and go down or right; with Shift up or left"], ["Escape", "leave the cell as it was"], ["Delete", "empty the selected cells"],
      ["Ctrl+C, Ctrl+X, Ctrl+V", "copy, cut, paste; a block with its header row is put in column by column, by meaning"], ["Ctrl+Z, Ctrl+Y", "undo, redo"],
      ["Ctrl+A, Shift+Space, Ctrl+Space", "select all, the rows, the columns"], ["Ctrl+D", "fill the selection's first row down"], ["Home, End, Page Up, Page Down", "with Ctrl: first and last cell"],
      ["Ctrl+S", "save the page"], ["F6", "go round sheet, panel, tabs"], ["F1", "this help"]];
    const tables = ["Machines", "Job", "Readings", "Stock"].flatMap((sheet) => {
      const rows = helpText.columns.filter((c) => c.sheet === sheet);
      return [h("h3", {}, "Columns of the sheet " + sheet), h("table", { class: "cols" },
        h("thead", {}, h("tr", {}, ...["Column", "Unit of a bare number (metric, inch job)", "Meaning", "Also spelt"].map((t) => h("th", { scope: "col" }, t)))),
        h("tbody", {}, ...rows.map((c) => h("tr", {}, h("td", {}, c.name), h("td", {}, c.unit), h("td", {}, c.help + (c.choices?.length ? " One of: " + c.choices.join(", ") + "." : "") + (c.result ? " (worked out)" : "")),
          h("td", {}, (c.also ?? []).slice(0, 4).join(", "))))))];
    });
    body.append(
      h("h3", {}, "Where to stand, and which sign is which"),
      h("ul", {},
        h("li", {}, "One machine stays (stationary), one is moved (movable). Stand behind the movable machine and look along the shafts at the coupling."),
        h("li", {}, "12 o'clock is up, 3 o'clock is at your right hand, whichever way the shafts turn. Say in Side at 3 and Side at 9 what people on site call those sides."),
        h("li", {}, "A dial's plunger pushed in reads positive. A gap that is open is positive. In a straightedge step, the movable hub proud is positive."),
        h("li", {}, "Distances are taken from the coupling centre and are positive on both sides."),
        h("li", {}, "Offset V: movable shaft high is positive. Offset H: towards 3 o'clock is positive. Slope: how the movable shaft rises, or leads towards 3 o'clock, as it goes away from the coupling, in mm/m (the same number in mil/in)."),
        h("li", {}, "Shims: + add, − take out. Turn both shafts together, in one direction only.")),
      h("h3", {}, "Verdicts"),
      h("p", {}, "Inside and outside are said only when the uncertainty of the readings leaves no doubt. Else it is too close to call with these readings. Not judged: a check failed or something is missing; Why says what. The numbers that are sound are shown all the same."),
      h("h3", {}, "Cautions"), h("ul", {}, ...helpText.cautions.map((t) => h("li", {}, t))),
      h("h3", {}, "Keys"), h("table", {}, h("tbody", {}, ...keys.map(([k, t]) => h("tr", {}, h("td", {}, ...k.split(", ").flatMap((x, i) => [i ? ", " : "", h("kbd", {}, x)])), h("td", {}, t))))),
      h("h3", {}, "Saving"),
      h("p", {}, "Save page writes this page with the job inside: one file that opens anywhere, without a network. The browser's storage only holds a safety copy of the last state. A page cannot know whether a download arrived, so it says that it was handed to the browser."),
      h("h3", {}, "Workbooks and lists"),
      h("p", {}, "Open takes workbooks (.xlsx, .xlsm) and lists (.csv, .tsv), or drop one on the page. You see first which sheet and which column is understood as what, and can put it right; nothing is replaced before you take it. Formulas count by the values stored in the file. Ctrl+Z brings back the job before."),
      h("p", {}, "Save workbook writes a fresh workbook with inputs, results and how they came about, with live formulas if you choose so, or adds the results to a copy of a workbook of yours."),
      ...tables,
      h("h3", {}, "This page"),
      h("p", {}, `Shimsheet ${helpText.version}. The grid is drawn by regular-table 0.9.2, © the Regular Table Authors, Apache License 2.0. The program is compiled by Go, © The Go Authors, BSD 3-clause licence.`),
      h("details", {}, h("summary", {}, "Licences, in full"), ...JSON.parse(part("licences")).map((t) => h("pre", {}, t))),
    );
  }
  $("dlg-help").showModal();
  body.focus();
}

function headers() {
  helpText ??= ask("help");
  if (!helpText) return;
  const pick = $("headers-method");
  const fill = () => { $("headers-text").value = helpText.blocks[0][pick.value]; };
  if (!pick.options.length) {
    for (const b of document.querySelectorAll("[data-columns]")) pick.append(h("option", { value: b.dataset.columns }, b.textContent));
    pick.addEventListener("change", fill);
    $("headers-copy").addEventListener("click", async () => {
      $("headers-text").select();
      try {
        await navigator.clipboard.writeText($("headers-text").value);
      } catch {
        document.execCommand("copy"); // no clipboard for a local file in this browser: the selection is copied instead
      }
      say("The header row is on the clipboard.");
    });
  }
  fill();
  $("dlg-headers").showModal();
}

function columnsDialog() {
  helpText ??= ask("help");
  const col = view.columns[state.col];
  const names = ["Machines", "Job", "Readings", "Stock"];
  $("col-known").replaceChildren(...helpText.columns.filter((c) => c.sheet === names[state.sheet] && !c.result).map((c) => h("option", { value: c.name })));
  const input = col && !col.result ? col : null;
  $("col-name").value = input ? input.name + (input.unit ? ` [${input.unit}]` : "") : "";
  $("col-name").disabled = $("col-rename").disabled = $("col-delete").disabled = $("col-add-before").disabled = !input;
  $("col-add").value = "";
  $("dlg-columns").showModal();
}

// Printing: a table of its own, for the grid holds only what is in sight.

function paper() {
  const p = ask("print");
  if (!p) return;
  $("paper").replaceChildren(
    h("h1", {}, p.name || "Job without a name"),
    h("div", { class: "meta" }, h("b", {}, "Coupling alignment, one row a coupling"), ...p.lines.map(([k, v]) => h("span", {}, `${k}: ${v}`)), h("span", {}, state.revision ? `Revision ${state.revision}, ${when(state.savedAt)}` : "Not saved yet"), h("span", {}, "Printed " + when(new Date().toISOString())),
      h("span", {}, "Shims: + add, − take out. ± expanded uncertainty, k = 2.")),
    h("table", {}, h("thead", {}, h("tr", {}, ...p.header.map((t) => h("th", { scope: "col" }, t)))),
      h("tbody", {}, ...p.rows.map((r, i) => h("tr", {}, ...r.map((t, k) => h("td", { class: k === 2 ? "v v" + p.marks[i] : k >= 4 && k <= 9 ? "r" : null }, t)))))),
    h("div", { class: "tail" }, h("b", {}, "Cautions"), h("ul", {}, ...p.cautions.map((t) => h("li", {}, t))),
      h("div", { class: "sign" }, ...["Aligned by, date", "Measured again by, date", "Accepted by, date"].map((t) => h("div", {}, t)))),
  );
}

const commands = {
  new: () => { if (leave("Begin a new job")) opened(ask("new"), "A new job. The one before stays in this browser's safety copies."); },
  demo: () => {
    if (!leave("Open the demo")) return;
    const d = JSON.parse(part("demo"));
    opened(ask("demo", d.machines ?? "", d.job ?? "", d.readings ?? "", d.stock ?? ""), "The demo: an invented waterworks. Click a row to read what to do; change a cell and watch its row.");
  },
  open: () => $("file").click(),
  save: () => save("html"),
  json: () => save("json"),
  csv,
  workbook: () => { if (view.open) view.commit(0, 0); workbook(); },
  print: () => { paper(); print(); },
  help,
  headers,
  undo: () => act("undo"),
  redo: () => act("redo"),
  insertRows: () => { act("insertRows"); view.focus(); },
  deleteRows: () => { act("deleteRows"); view.focus(); },
  fill: () => { act("fill"); view.focus(); },
  columns: columnsDialog,
};

function listen() {
  document.addEventListener("click", (e) => {
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
    if (at < 0 || to === undefined) return;
    e.preventDefault();
    const t = all[(to + all.length) % all.length];
    pick(t);
    t.focus();
  });
  for (let i = 0; i < 4; i++) $("tab-" + i).addEventListener("click", () => { sheet(i); if (state.columns) view.focus(); });
  tabs($("tabs"), (t) => sheet(Number(t.id.slice(4))));
  const side = (t) => {
    for (const b of [$("side-row"), $("side-problems")]) {
      b.setAttribute("aria-selected", String(b === t));
      b.tabIndex = b === t ? 0 : -1;
      $(b.getAttribute("aria-controls")).hidden = b !== t;
    }
  };
  $("side-row").addEventListener("click", () => side($("side-row")));
  $("side-problems").addEventListener("click", () => side($("side-problems")));
  tabs($("sidetabs"), side);
  $("file").addEventListener("change", (e) => {
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
  $("banner-save").addEventListener("click", () => save("html"));
  $("banner-json").addEventListener("click", () => save("json"));
  $("col-add-before").addEventListener("click", () => column("addColumn", view.columns[state.col].column, $("col-add").value.trim()));
  $("col-add-last").addEventListener("click", () => column("addColumn", -1, $("col-add").value.trim()));
  $("col-rename").addEventListener("click", () => column("rename", view.columns[state.col].column, $("col-name").value.trim()));
  $("col-delete").addEventListener("click", () => column("deleteColumn", view.columns[state.col].column));
  const column = (op, at, name) => {
    if (name === "") return say("Write a name first.");
    $("dlg-columns").close();
    act(op, ...(name === undefined ? [at] : [at, name]));
    view.focus();
  };

  // The clipboard. Texts and dialogs keep their own; everything else is the sheet's.
  const ours = () => {
    const a = document.activeElement;
    return !(a && (/^(INPUT|TEXTAREA|SELECT)$/.test(a.tagName) || a.closest("dialog") || a.isContentEditable)) && !(a && a.closest?.("#side") && String(getSelection()));
  };
  const put = (e, op) => {
    if (!ours() || !state.columns) return;
    e.preventDefault();
    const c = act(op);
    if (!c) return;
    e.clipboardData.setData("text/plain", c.text);
    e.clipboardData.setData("text/html", c.html);
    say(`${plural(state.sel[2] - state.sel[0] + 1, "row", "rows")} × ${plural(state.sel[3] - state.sel[1] + 1, "column", "columns")} on the clipboard.`);
  };
  document.addEventListener("copy", (e) => put(e, "copy"));
  document.addEventListener("cut", (e) => put(e, "cut"));
  document.addEventListener("paste", (e) => {
    if (!ours()) return;
    e.preventDefault();
    const text = e.clipboardData.getData("text/plain");
    if (!text) {
      say("There is no text on the clipboard.");
      return;
    }
    const s = act("paste", text);
    if (s?.changed) {
      view.focus();
      if (!s.note) say("Done: " + s.undo + ". Ctrl+Z takes it back.");
    }
  });

  addEventListener("keydown", (e) => {
    const ctrl = e.ctrlKey || e.metaKey;
    const key = e.key.toLowerCase();
    if (document.querySelector("dialog[open]")) return;
    const typing = /^(INPUT|TEXTAREA)$/.test(document.activeElement?.tagName);
    if (e.key === "F1") { e.preventDefault(); help(); }
    else if (e.key === "F6") {
      e.preventDefault();
      if (view.open) view.commit(0, 0);
      const stops = [view.table, $("panel-problems").hidden ? $("panel-row") : $("panel-problems"), $("tab-" + state.sheet), document.querySelector("[data-do=new]")];
      const inside = [$("sheet"), $("side"), $("under"), document.querySelector("header")];
      let at = inside.findIndex((el) => el.contains(document.activeElement));
      if (at < 0) at = e.shiftKey ? 0 : stops.length - 1;
      stops[(at + (e.shiftKey ? stops.length - 1 : 1)) % stops.length].focus();
    } else if (ctrl && key === "s") { e.preventDefault(); save("html"); }
    else if (ctrl && key === "p" && !typing) { e.preventDefault(); commands.print(); }
    else if (ctrl && key === "z" && !typing) { e.preventDefault(); act(e.shiftKey ? "redo" : "undo"); }
    else if (ctrl && key === "y" && !typing) { e.preventDefault(); act("redo"); }
  });
  addEventListener("beforeprint", paper);
  addEventListener("beforeunload", (e) => {
    if (view.open) view.commit(0, 0);
    safety();
    if (unsaved() || [...savings.values()].some((x) => x.lost)) e.preventDefault();
  });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden" && timer) safety(); });
}

/** Which job to show first: the one in the page, or a safety copy. */
function first() {
  const inPage = jobInPage();
  const list = copies();
  const last = lastId(); // before a job is opened here
  if (inPage !== "null") {
    const s = ask("openJob", inPage);
    if (s) {
      fresh(s);
      saving.handedAt = s.savedAt ? `saved ${when(s.savedAt)}` : "";
      frame();
      const copy = list.find((c) => c.id === s.id);
      if (copy && !copy.handed && copy.changed > s.savedAt && restore(s.id)) {
        say($("status").textContent, "Back to what is in the file", () => opened(ask("openJob", inPage), "As in the file."));
      }
      return;
    }
    banner("The job in this page cannot be read. It is untouched in the file. Look for a safety copy below, or open an earlier file.");
  }
  const mine = list.find((c) => c.id === last) ?? (list.length === 1 && !list[0].handed ? list[0] : null);
  if (mine && inPage === "null" && restore(mine.id)) say($("status").textContent, "Begin a new job", commands.new);
  else fresh(ask("new"));
}

export async function start() {
  view = new SheetView($("sheet"), $("editor"), (...a) => globalThis.shimsheet.call(...a), act);
  globalThis.shimsheetView = view;
  listen();
  exchange({
    h, ask, take: taken, tell: say, back: () => view.focus(),
    about: () => ({ state, unsaved: unsaved(), blank: !state.changes && !state.columns, machines: ask("count").couplings, fileName: (ending) => fileName(state.name, state.revision, new Date(), ending) }),
  });
  first();
  if (state.columns) {
    if (drawing) await drawing;
    view.focus();
  }
  document.documentElement.dataset.ready = "1";
  performance.mark("shimsheet-ready");
}
