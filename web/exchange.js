// The dialogs for files from elsewhere and for workbooks: what a file holds and how it would be read, before anything is replaced; a
// workbook of the job; results added to somebody's workbook.
import { Workbooks, Stopped, own, breathe } from "./workbook.js";
import { handOver } from "./files.js";
import { pick } from "./pick.js";
import { packRows, unpackRows } from "./rows.js";
import { remembered, remember } from "./remember.js";
import { fill, plural, count as n } from "./texts.js";
import * as T from "texts";

const $ = (id) => document.getElementById(id);
const kinds = [["machines", T.exchange.machines], ["job", T.exchange.job], ["readings", T.exchange.readings], ["stock", T.exchange.stock],
  ["growth", T.exchange.growth], ["feet", T.exchange.feet], ["limits", T.exchange.limits], ["materials", T.exchange.materials],
  ["checks", T.exchange.checks], ["rounds", T.exchange.rounds], ["trains", T.exchange.trains], ["record", T.exchange.record],
  ["", T.exchange.keptUnread]];
// the sheets as the programs number them
const wire = ["machines", "readings", "stock", "job", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"];
const mostBytes = 200e6; // of a file that is handed to the worker at all; what is read says the program

let h, ask, take, tell, back, about; // of the page

/** hooks: h makes elements, ask asks the page's program, take(state, text) shows an exchanged job, tell(text) says something, back() leads
 * the keyboard to the sheet, about() is what the job on the page is: {state, unsaved, fileName(ending)}. @param {Hooks} hooks */
export function exchange(hooks) {
  ({ h, ask, take, tell, back, about } = hooks);
  for (const b of document.querySelectorAll("header [data-do=workbook], header [data-do=open]")) {
    let dwell; // the pointer only passing over means nothing
    b.addEventListener("pointerenter", () => { dwell = setTimeout(ahead, 150); });
    b.addEventListener("pointerleave", () => clearTimeout(dwell));
    b.addEventListener("focus", ahead);
    b.addEventListener("click", ahead);
  }
  // Whoever looks at the stock or the feet may want the lists next.
  for (const id of ["tab-shims", "tab-3", "tab-5"]) {
    for (const event of ["pointerenter", "focus", "click"]) $(id).addEventListener(event, listsAhead);
  }
  addEventListener("dragenter", (e) => { if (e.dataTransfer?.types?.includes("Files")) ahead(); });
  $("dlg-open").addEventListener("close", closed);
  $("open-take").addEventListener("click", takeIt);
  $("dlg-workbook").addEventListener("close", () => { if (!$("dlg-workbook").open && !$("dlg-open").open) stop(); });
  $("workbook-save").addEventListener("click", () => write());
  $("workbook-add").addEventListener("click", () => $("workbook-file").click());
  $("workbook-file").addEventListener("change", (/** @type {On} */ e) => {
    const f = e.target.files[0];
    e.target.value = "";
    if (f) write(f);
  });
}

let worker; // at most one
let spare; // one that is started before it is wanted, so that it is warm then
let unwanted; // the timer that ends it
function start(where) {
  stop();
  worker = spare ?? new Workbooks();
  spare = null;
  clearTimeout(unwanted);
  worker.told = (share) => bar(where, share);
  return worker;
}

/** Starts the program for workbook files ahead, when it is likely to be wanted. Unused, it gives its memory back after a while. */
function ahead() {
  if (worker) return;
  if (!spare) {
    spare = new Workbooks();
    spare.warm();
  }
  clearTimeout(unwanted);
  unwanted = setTimeout(() => {
    spare?.end();
    spare = null;
  }, 120_000);
}
function stop() {
  worker?.end();
  worker = null;
}

/** Shows how far the work is; share null: not known. what "" hides it. */
function bar(where, share, what) {
  const box = $(where + "-busy");
  if (what !== undefined) {
    box.hidden = !what;
    box.firstElementChild.textContent = what;
  }
  const p = /** @type {Field} */ (box.lastElementChild);
  if (share === null) p.removeAttribute("value");
  else p.value = String(share);
}

const sentence = (e) => {
  const [first] = String(e.message).split("\n"); // what follows is for whoever mends the program
  const s = first.trim();
  return s[0].toUpperCase() + s.slice(1) + (/[.!?]$/.test(s) ? "" : ".");
};

/** The rows of the job on the page, some at a time: {table, rows packed}. The page can be used in between. */
export async function* pieces() {
  for (let table = 0; table < wire.length; table++) {
    for (let at = 0; ;) {
      const r = ask("rows", table, at, 2000);
      if (!r) throw new Error(T.exchange.theJobCouldNotBe);
      if (r.rows) yield { table, rows: r.rows };
      if (r.next < 0) break;
      at = r.next;
      await breathe();
    }
  }
}

// Opening

let open; // {file, preview, headers, choices, refused}
let columns; // what a column can be chosen as, by kind of sheet

/** Reads a file in the worker and shows what it holds. */
export async function preview(file) {
  if ($("dlg-open").open) return;
  stop();
  open = { name: file.name, size: file.size, preview: null, headers: new Map(), choices: new Map(), took: false };
  $("open-title").textContent = fill(T.exchange.open, file.name);
  $("open-body").replaceChildren();
  $("open-what").textContent = "";
  $("open-take").disabled = true;
  $("dlg-open").showModal();
  const mine = open;
  try {
    if (file.size > mostBytes) throw new Error(fill(T.exchange.theFileHasMbWhich, n(Math.round(file.size / 1e6))));
    bar("open", null, fill(T.exchange.reading, file.name));
    const w = start("open");
    const data = new Uint8Array(await file.arrayBuffer());
    if (open !== mine) return;
    await read(w, { op: "read", name: file.name, data, choices: choices() }, [data.buffer]);
  } catch (e) {
    failed(mine, e);
  }
}

function failed(mine, e) {
  if (open !== mine || e instanceof Stopped) return;
  bar("open", 0, "");
  $("open-body").removeAttribute("aria-busy");
  open.preview = null;
  $("open-take").disabled = true;
  $("open-what").textContent = T.exchange.nothingIsChanged;
  $("open-body").replaceChildren(h("p", { class: "refused", role: "alert" }, fill(T.exchange.cannotBeRead, open.name, sentence(e))));
  $("open-cancel").focus();
}

async function read(w, message, transfer) {
  const mine = open;
  bar("open", null, fill(T.exchange.reading, open.name));
  $("open-take").disabled = true;
  $("open-body").toggleAttribute("aria-busy", true);
  const r = await w.ask(message, transfer);
  if (open !== mine) return;
  bar("open", 0, "");
  $("open-body").removeAttribute("aria-busy");
  open.preview = r.preview;
  open.refused = r.refused;
  open.rows = r.rows;
  for (const s of r.preview.sheets) for (const c of s.columns ?? []) {
    const key = s.name + "\n" + c.letter;
    if (!open.headers.has(key)) open.headers.set(key, c.header); // as in the file: a choice writes it anew
  }
  show();
}

/** What a person chose, and what was matched in other jobs, as the program takes it. */
const choices = () => JSON.stringify({ sheets: [...open.choices.values()].map((c) => ({ ...c, columns: [...c.columns.values()] })),
  before: unpackRows(remembered()).map(([sheet, header, means]) => ({ sheet, header, means })) });

/** Reads again with the choices. Several quick ones are read once. */
async function again() {
  const mine = open;
  open.turn = (open.turn ?? 0) + 1;
  const turn = open.turn;
  $("open-take").disabled = true;
  const before = open.reading;
  let done = () => {};
  open.reading = new Promise((r) => { done = () => r(undefined); });
  try {
    await before;
    if (open !== mine || open.turn !== turn) return;
    await read(worker, { op: "read", choices: choices() });
  } catch (e) {
    failed(mine, e);
  } finally {
    done();
  }
}

function choice(sheet) {
  if (!open.choices.has(sheet)) open.choices.set(sheet, { sheet, columns: new Map() });
  return open.choices.get(sheet);
}

/** After another header or another kind, what was chosen for the columns speaks of other columns. */
function anew(choice) {
  choice.columns.clear();
  for (const key of open.headers.keys()) if (key.startsWith(choice.sheet + "\n")) open.headers.delete(key);
}

const lazySelect = (attrs, label, value, list, changed) => {
  const el = h("select", attrs, h("option", { value }, label));
  pick(el, () => {
    el.replaceChildren(...list().map(([v, t]) => h("option", { value: v }, t)));
    el.value = value;
  }, changed);
  return el;
};

/** The file is a list of another sheet than Machines. */
const only = () => !open.refused && !open.preview.sheets.some((s) => s.kind === "machines");

const known = (kind, key) => columns.find((c) => wire[c.sheet] === kind && c.key === key);

function show() {
  columns ??= ask("columnsToMatch").columns;
  const p = open.preview;
  const body = $("open-body");
  const used = p.sheets.filter((s) => s.kind);
  const results = p.own ? p.sheets.filter((s) => !s.kind && s.why.startsWith("results of this program")) : [];
  const rest = p.sheets.filter((s) => !s.kind && !results.includes(s));
  const machines = used.find((s) => s.kind === "machines");
  const format = { xlsx: T.exchange.aWorkbook, xlsm: T.exchange.aWorkbookWithMacrosWhich, csv: fill(T.exchange.aListAsText, p.encoding),
    tsv: fill(T.exchange.aListAsTextTabs, p.encoding) }[p.format] ?? T.exchange.aFile;
  const sheets = p.sheets.length > 1 ? fill(T.exchange.with, plural(p.sheets.length, T.exchange.sheets)) : "";
  const lead = `${format}${sheets}${p.own ? T.exchange.writtenByThisProgramIt : ""}. `
    + (machines ? fill(T.exchange.ofMachines, plural(machines.rows, T.exchange.rows)) : "");
  const order = { error: 0, warning: 1, note: 2 };
  const word = { error: T.exchange.problem, warning: T.exchange.look, note: "" };
  const notices = [...(p.notices ?? [])].sort((a, b) => order[a.severity] - order[b.severity]);
  const upper = (t) => t[0].toUpperCase() + t.slice(1);
  const item = (x) => {
    const where = [p.sheets.length > 1 ? x.sheet : "", x.row ? fill(T.exchange.row, n(x.row)) : "", x.column].filter(Boolean).join(", ");
    return h("li", { class: x.severity }, h("b", {}, word[x.severity]), where ? upper(where) + ": " : "",
      x.text + "." + (x.hint ? " " + upper(x.hint) + "." : ""));
  };
  const graver = notices.filter((x) => x.severity !== "note");
  const shown = graver.slice(0, 60);
  const lesser = notices.filter((x) => x.severity === "note").slice(0, 60);
  const focus = /** @type {Field} */ (document.activeElement)?.dataset?.keep;
  const top = body.scrollTop;
  body.replaceChildren(
    h("p", { class: "lead" }, lead),
    open.refused ? h("p", { class: "refused", role: "alert" }, sentence({ message: open.refused })) : "",
    shown.length ? h("ul", { class: "notices", "aria-label": T.exchange.toLookAt }, ...shown.map(item),
      graver.length > shown.length ? h("li", {}, fill(T.exchange.andMore, n(graver.length - shown.length))) : "") : "",
    ...used.flatMap(sheetBlock),
    rest.length ? h("section", {}, h("h3", {}, T.exchange.sheetsKeptUnread),
      h("table", {}, h("tbody", {}, ...rest.slice(0, 60).map((s) =>
      h("tr", {}, h("td", {}, s.name), h("td", {}, s.why), h("td", {}, kindSelect(s))))))) : "",
    results.length ? h("p", {}, fill(T.exchange.theResultsOnAreWorked, results.map((s) => s.name).join(", "))) : "",
    lesser.length ? h("details", {}, h("summary", {}, plural(lesser.length, T.exchange.notes)), h("ul", {}, ...lesser.map(item))) : "",
  );
  body.scrollTop = top;
  if (focus) body.querySelector(`[data-keep="${CSS.escape(focus)}"]`)?.focus();
  const a = about();
  const name = a.state.name || T.exchange.theJobWithoutAName;
  $("open-what").textContent = open.refused ? T.exchange.nothingIsChanged
    : only() ? fill(T.exchange.theSheetOfTheJob, used.map((s) => kinds.find((k) => k[0] === s.kind)[1]).join(", "))
      : a.blank ? T.exchange.itIsOpenedAsA
        : fill(T.exchange.itTakesThePlaceOf, name, a.unsaved ? T.exchange.whichNoFileHasAs : "");
  $("open-take").disabled = Boolean(open.refused);
  if (!focus) (open.refused ? $("open-cancel") : body.querySelector(".guesses") ?? $("open-take")).focus();
}

const kindSelect = (s) => {
  const el = h("select", { "aria-label": fill(T.exchange.readSheetAs, s.name), "data-keep": "kind " + s.name },
    ...kinds.map(([v, t]) => h("option", { value: v, selected: v === s.kind }, t)));
  el.addEventListener("change", () => {
    const c = choice(s.name);
    c.kind = el.value;
    anew(c);
    again();
  });
  return el;
};

function sheetBlock(s) {
  const kind = kinds.find((k) => k[0] === s.kind)[1];
  const cols = s.columns ?? [];
  const results = cols.filter((c) => c.result);
  const inputs = cols.filter((c) => !c.result);
  const unread = inputs.filter((c) => !c.key);
  const texts = inputs.reduce((sum, c) => sum + (c.text_numbers ?? 0), 0);
  const chosen = open.choices.get(s.name);
  const facts = [fill(T.exchange.readAs, kind, s.why === "chosen" ? T.exchange.asChosen : s.why ? ", " + s.why : "")];
  if (s.header_row) facts.push(fill(T.exchange.headerInRow, n(s.header_row),
    s.titles ? fill(T.exchange.under, plural(s.titles, T.exchange.titleLines)) : ""));
  facts.push(fill(T.exchange.readTheLastInRow, plural(s.rows, T.exchange.rows), n(s.last_row),
    s.dimension ? fill(T.exchange.theSheetSaysOfItself, s.dimension) : ""));
  if (s.merged) facts.push(fill(T.exchange.theFirstCellCounts, plural(s.merged, T.exchange.mergedRanges)));
  if (s.hidden_rows?.length) facts.push(fill(T.exchange.readToo, plural(s.hidden_rows.length, T.exchange.hiddenRowsAre)));
  if (s.kind !== "job") {
    facts.push(fill(T.exchange.understood, plural(inputs.length - unread.length, T.exchange.columnsAre),
      unread.length ? fill(T.exchange.keptUnread2, n(unread.length),
      unread.slice(0, 6).map((c) => c.header || fill(T.exchange.column, c.letter)).join(", "), unread.length > 6 ? ", …" : "")
      : T.exchange.noneKeptUnread, results.length ? fill(T.exchange.workedOutAnew, plural(results.length, T.exchange.columnsOfResultsAre))
      : ""));
  }
  const row = h("input", { type: "number", min: "1", max: "100000", value: String(s.header_row || ""),
    "aria-label": fill(T.exchange.headerRowOf, s.name), "data-keep": "row " + s.name });
  row.addEventListener("change", () => {
    const v = Math.floor(Number(row.value));
    if (!(v >= 1 && v <= 100000)) return;
    const c = choice(s.name);
    c.header_row = v;
    anew(c);
    again();
  });
  const number = h("input", { type: "checkbox", "data-keep": "text " + s.name, checked: Boolean(chosen?.text_to_numbers) });
  number.addEventListener("change", () => {
    choice(s.name).text_to_numbers = number.checked;
    again();
  });
  const offer = !open.preview.own && (texts || chosen?.text_to_numbers); // in our own, texts are as typed
  return [h("section", {},
    h("h3", {}, s.name),
    h("p", {}, facts.join(" ")),
    h("p", { class: "fix" }, h("label", {}, T.exchange.readAs2, kindSelect(s)),
      s.kind !== "job" ? h("label", {}, T.exchange.headerRow, row) : "",
      offer ? h("label", {}, number, texts ? fill(T.exchange.writeStoredAsTextThe, plural(texts, T.exchange.theNumberThatIs))
        : T.exchange.numbersStoredAsTextAre) : ""),
    ...(inputs.length ? columnTable(s, inputs) : []))];
}

function columnTable(s, list) {
  const guesses = list.filter((c) => c.guess);
  const name = (key) => known(s.kind, key)?.name ?? key;
  const take = (cols) => {
    for (const [c, key] of cols) choice(s.name).columns.set(c.col, { col: c.col, key, unit: c.guess_unit ?? "" });
    again();
  };
  /** The columns of a question: one answer settles a series. */
  const answer = (c, key) => {
    const family = c.place && key.endsWith("_" + c.place) ? key.slice(0, -c.place.length) : "";
    take(family ? list.filter((x) => x.series === c.series && x.asked).map((x) => [x, family + x.place]) : [[c, key]]);
  };
  const rows = list.map((c) => {
    const header = open.headers.get(s.name + "\n" + c.letter) ?? c.header;
    const set = (key, unit) => {
      choice(s.name).columns.set(c.col, { col: c.col, key, unit });
      again();
    };
    const names = () => {
      const own = columns.filter((x) => wire[x.sheet] === s.kind);
      const taken = new Set(list.filter((x) => x !== c && x.key).map((x) => x.key));
      return [["", T.exchange.keptUnread], ...own.map((x) => [x.key, x.name + (taken.has(x.key) ? T.exchange.anotherColumnIsThis : "")])];
    };
    const units = c.key ? known(s.kind, c.key)?.units ?? [] : [];
    const what = lazySelect({ "aria-label": fill(T.exchange.whatColumnIs, c.letter, header), "data-keep": `what ${s.name} ${c.col}` },
      c.key ? c.name : T.exchange.keptUnread, c.key, names,
      (key) => set(key, key && c.unit_from === "header" && known(s.kind, key)?.units.includes(c.unit) ? c.unit : ""));
    const unit = units.length
      ? lazySelect({ "aria-label": fill(T.exchange.unitOfColumn, c.letter, header), "data-keep": `unit ${s.name} ${c.col}` }, c.unit,
        c.unit, () => units.map((u) => [u, u]), (u) => set(c.key, u))
      : null;
    const from = c.unit_from === "header" ? (header.includes(c.unit) ? T.exchange.asTheHeaderSays : T.exchange.asChosen2)
      : c.unit_from === "job" ? T.exchange.asTheJobSays : "";
    return h("tr", { class: c.key ? null : "unread" }, h("td", { class: "letter" }, c.letter), h("td", {}, header || T.exchange.noName),
      h("td", { class: "how" }, what, ...(c.guess ? [h("br"), h("b", {}, T.exchange.guess), ` ${name(c.guess)}: ${c.because} `,
        h("button", { type: "button", "data-keep": `take ${s.name} ${c.col}`, onclick: () => take([[c, c.guess]]) },
        T.exchange.takeTheGuess)] : []),
        ...(c.asked && !(c.series && list.find((x) => x.series === c.series && x.asked) !== c)
          ? [h("br"), h("b", {}, T.exchange.which), ` ${c.because} `,
          ...c.asked.map((key) => h("button", { type: "button", onclick: () => answer(c, key) }, name(key)))] : c.asked
          ? [h("br"), T.exchange.asTheFirst] : [])), h("td", {}, unit, unit ? h("span", { class: "quiet" }, " " + from) : ""),
      h("td", { class: "sample" }, (c.sample ?? []).join(" · ")), h("td", { class: "count" }, n(c.filled)));
  });
  const all = guesses.length > 1 ? h("p", { class: "fix" },
    h("button", { type: "button", class: "guesses", onclick: () => take(guesses.map((c) => [c, c.guess])) },
    plural(guesses.length, T.exchange.takeTheGuesses)), " ", T.exchange.lookAtEach) : "";
  return [all, table(s, rows)];
}

function table(s, rows) {
  return h("table", { class: "match", "aria-label": fill(T.exchange.columnsOf, s.name) },
    h("thead", {}, h("tr", {}, ...["", T.exchange.inTheFile, T.exchange.understoodAs, T.exchange.unitOfABareNumber, T.exchange.firstTexts,
      T.exchange.filled].map((t, i) => h("th", { scope: "col", class: i === 5 ? "count" : null },
      t || h("span", { class: "aside" }, T.exchange.column2))))),
    h("tbody", {}, ...rows));
}

async function takeIt() {
  const mine = open;
  const { name } = open;
  $("open-take").disabled = true;
  bar("open", 0, T.exchange.takingTheRows);
  try {
    await worker.ask({ op: "take" }, [], (m) => {
      const a = m.head !== undefined ? ask("coming", m.head, only(), open.rows[0]) : ask("comingRows", m.table, m.rows);
      if (!a) throw new Error(T.exchange.thePageSProgramDid);
    });
    if (open !== mine) return;
    stop();
    bar("open", 1, T.exchange.puttingTheJobInPlace);
    await breathe();
    const graver = (open.preview.notices ?? []).filter((x) => x.severity !== "note").length;
    const notices = (open.preview.notices ?? []).map((x) =>
      [x.severity, x.sheet ?? "", x.row ?? 0, x.column ?? "", x.col, x.text,
      x.hint ?? ""].map((c) => String(c).replace(/[\u001b\u001e\u001f]/g, " ") + "\u001f").join("") + "\u001e");
    const learnt = (open.preview.learnt ?? []).map((l) => [l.sheet, l.header, l.means]);
    const s = ask("take", name, notices.join(""), packRows(learnt));
    if (learnt.length) remember(packRows(learnt));
    if (!s) throw new Error(T.exchange.thePageSProgramDid2);
    open.took = true;
    $("dlg-open").close();
    take(s, fill(T.exchange.isOpen, name, plural(s.rows, T.exchange.rows),
      graver ? fill(T.exchange.pointedOutWhenItWas, plural(graver, T.exchange.thingsWere)) : "",
      s.undo ? T.exchange.ctrlZBringsBackThe : ""));
  } catch (e) {
    failed(mine, e);
  }
}

function closed() {
  if ($("dlg-open").open) return; // the event comes late, and the dialog is there for the next file already
  const took = open?.took;
  stop();
  if (open && !took) tell(fill(T.exchange.wasNotOpenedNothingIs, open.name));
  open = null;
  bar("open", 0, "");
  $("open-body").replaceChildren();
}

// Saving

export function workbook() {
  ahead();
  $("workbook-said").textContent = "";
  $("workbook-said").className = "";
  for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = false;
  bar("workbook", 0, "");
  $("dlg-workbook").showModal();
  $("workbook-save").focus();
}

/** Hands the job over to a worker; wanted() says whether that is still to be done. */
async function hand(w, wanted) {
  await w.ready;
  const head = ask("head");
  if (!head) throw new Error(T.exchange.theJobCouldNotBe);
  w.tell({ op: "head", head: head.text });
  for await (const piece of pieces()) {
    if (!wanted()) throw new Stopped();
    w.tell({ op: "rows", ...piece });
  }
}

let lister; // the page's program in a worker; kept for a while, as one change and the lists are wanted again
let busy; // the one that is at work
let idle; // the timer that ends it
function listsAhead() {
  clearTimeout(idle);
  lister ??= new Workbooks(own.module);
  if (lister !== busy) idle = setTimeout(stopLists, 120_000);
}

/** Stops the work on the lists. */
export function stopLists() {
  clearTimeout(idle);
  lister?.end();
  lister = null;
}

/** The stock shared out and the lists of the whole job, worked out in a worker; when is what is said of the time: told(share) hears how
 * far it is. Rejects with a sentence, or null when it was stopped, as it is when they are wanted anew. */
export async function lists(when, told) {
  if (busy) stopLists();
  listsAhead();
  clearTimeout(idle);
  const w = busy = lister;
  try {
    w.told = told;
    await hand(w, () => lister === w);
    const out = { ...await w.ask({ op: "lists", when }), when };
    if (busy === w) busy = null;
    if (lister === w) listsAhead();
    return out;
  } catch (e) {
    if (busy === w) busy = null;
    if (e instanceof Stopped) throw null;
    if (lister === w) stopLists();
    throw new Error(sentence(e));
  }
}

async function write(original) {
  const said = $("workbook-said");
  said.textContent = "";
  said.className = "";
  const a = about();
  if (!a.machines) {
    said.textContent = T.exchange.thereIsNoMachineYet;
    return;
  }
  for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = true;
  bar("workbook", 0, original ? fill(T.exchange.addingTheResultsToA, original.name) : T.exchange.writingTheWorkbook);
  $("workbook-cancel").focus();
  try {
    const w = start("workbook");
    let data;
    if (original) {
      if (original.size > mostBytes) throw new Error(fill(T.exchange.theFileHasMbWhich, n(Math.round(original.size / 1e6))));
      data = new Uint8Array(await original.arrayBuffer());
    }
    await hand(w, () => worker === w);
    const { file } = await w.ask({ op: "write", options: JSON.stringify({ live: $("workbook-live").checked }), data },
      data ? [data.buffer] : []);
    if (worker !== w) return;
    stop();
    const ending = /\.xlsm$/i.test(original?.name ?? "") ? "xlsm" : "xlsx";
    const name = original ? fill(T.exchange.withResults, original.name.replace(/\.(xls[xm])$/i, ""), ending) : a.fileName("xlsx");
    handOver(name, ending === "xlsm" ? "application/vnd.ms-excel.sheet.macroEnabled.12"
      : "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", [file]);
    $("dlg-workbook").close();
    back();
    tell(fill(T.exchange.wasHandedToTheBrowser, name, original ? T.exchange.yourOwnFileIsAs : T.exchange.itHoldsTheJobToo));
  } catch (e) {
    if (e instanceof Stopped) return;
    stop();
    bar("workbook", 0, "");
    for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = false;
    said.className = "refused";
    said.textContent = `${original ? fill(T.exchange.nothingWasAdded, original.name) : T.exchange.noWorkbookWasWritten}${sentence(e)}`;
  }
}
