// The dialogs for files from elsewhere and for workbooks: what a file holds and how it would be read, before anything is replaced; a
// workbook of the job; results added to somebody's workbook.
import { Workbooks, Stopped, breathe } from "./workbook.js";
import { handOver } from "./files.js";

const $ = (id) => document.getElementById(id);
const n = (x) => x.toLocaleString("en-GB");
const plural = (k, one, many) => (k === 1 ? "1 " + one : n(k) + " " + many);
const kinds = [["machines", "Machines"], ["job", "Job"], ["readings", "Readings"], ["stock", "Stock"], ["", "kept unread"]];
const wire = ["machines", "readings", "stock", "job"]; // the sheets as the programs number them
const mostBytes = 200e6; // of a file that is handed to the worker at all; what is read says the program

let h, ask, take, tell, back, about; // of the page

/** hooks: h makes elements, ask asks the page's program, take(state, text) shows an exchanged job, tell(text) says something, back() leads the
 * keyboard to the sheet, about() is what the job on
 * the page is: {state, unsaved, fileName(ending)}. */
export function exchange(hooks) {
  ({ h, ask, take, tell, back, about } = hooks);
  $("dlg-open").addEventListener("close", closed);
  $("open-take").addEventListener("click", takeIt);
  $("dlg-workbook").addEventListener("close", () => { if (!$("dlg-workbook").open && !$("dlg-open").open) stop(); });
  $("workbook-save").addEventListener("click", () => write());
  $("workbook-add").addEventListener("click", () => $("workbook-file").click());
  $("workbook-file").addEventListener("change", (e) => {
    const f = e.target.files[0];
    e.target.value = "";
    if (f) write(f);
  });
}

let worker; // at most one
function start(where) {
  stop();
  worker = new Workbooks((share) => bar(where, share));
  return worker;
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
  const p = box.lastElementChild;
  if (share === null) p.removeAttribute("value");
  else p.value = share;
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
      if (!r) throw new Error("the job could not be handed over");
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
  $("open-title").textContent = "Open " + file.name;
  $("open-body").replaceChildren();
  $("open-what").textContent = "";
  $("open-take").disabled = true;
  $("dlg-open").showModal();
  const mine = open;
  try {
    if (file.size > mostBytes) throw new Error(`the file has ${n(Math.round(file.size / 1e6))} MB, which is too much for this page`);
    bar("open", null, `Reading ${file.name} …`);
    const w = start("open");
    const data = new Uint8Array(await file.arrayBuffer());
    if (open !== mine) return;
    await read(w, { op: "read", name: file.name, data }, [data.buffer]);
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
  $("open-what").textContent = "Nothing is changed.";
  $("open-body").replaceChildren(h("p", { class: "refused", role: "alert" }, `${open.name} cannot be read. ${sentence(e)}`));
  $("open-cancel").focus();
}

async function read(w, message, transfer) {
  const mine = open;
  bar("open", null, `Reading ${open.name} …`);
  $("open-take").disabled = true;
  $("open-body").toggleAttribute("aria-busy", true);
  const r = await w.ask(message, transfer);
  if (open !== mine) return;
  bar("open", 0, "");
  $("open-body").removeAttribute("aria-busy");
  open.preview = r.preview;
  open.refused = r.refused;
  open.rows = r.rows;
  if (r.refused) { // then the preview is without the choices
    for (const s of r.preview.sheets) {
      const kind = open.choices.get(s.name)?.kind;
      if (kind !== undefined && kind !== s.kind) [s.kind, s.why] = [kind, kind ? "chosen" : "kept unread as chosen"];
    }
  }
  for (const s of r.preview.sheets) for (const c of s.columns ?? []) {
    const key = s.name + "\n" + c.letter;
    if (!open.headers.has(key)) open.headers.set(key, c.header); // as in the file: a choice writes it anew
  }
  show();
}

/** Reads again with the choices. Several quick ones are read once. */
async function again() {
  const mine = open;
  open.turn = (open.turn ?? 0) + 1;
  const turn = open.turn;
  $("open-take").disabled = true;
  const before = open.reading;
  let done;
  open.reading = new Promise((r) => { done = r; });
  try {
    await before;
    if (open !== mine || open.turn !== turn) return;
    const sheets = [...open.choices.values()].map((c) => ({ ...c, columns: [...c.columns.values()] }));
    await read(worker, { op: "read", choices: { sheets } });
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

/** A choice list that is filled when it is about to be used: a wide file has thousands of entries otherwise. */
function lazySelect(attrs, label, value, list, changed) {
  const el = h("select", attrs, h("option", { value }, label));
  const fill = () => {
    if (el.options.length > 1) return;
    el.replaceChildren(...list().map(([v, t]) => h("option", { value: v }, t)));
    el.value = value;
  };
  el.addEventListener("pointerdown", fill);
  el.addEventListener("focus", fill);
  el.addEventListener("change", () => changed(el.value));
  return el;
}

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
  const format = { xlsx: "A workbook", xlsm: "A workbook with macros, which are left alone", csv: "A list as text, " + p.encoding, tsv: "A list as text, tabs between, " + p.encoding }[p.format] ?? "A file";
  const lead = `${format}${p.sheets.length > 1 ? ` with ${plural(p.sheets.length, "sheet", "sheets")}` : ""}${p.own ? ", written by this program; it comes back as it was" : ""}. `
    + (machines ? `${plural(machines.rows, "row", "rows")} of machines.` : "");
  const order = { error: 0, warning: 1, note: 2 };
  const word = { error: "Problem: ", warning: "Look: ", note: "" };
  const notices = [...(p.notices ?? [])].sort((a, b) => order[a.severity] - order[b.severity]);
  const upper = (t) => t[0].toUpperCase() + t.slice(1);
  const item = (x) => {
    const where = [p.sheets.length > 1 ? x.sheet : "", x.row ? "row " + n(x.row) : "", x.column].filter(Boolean).join(", ");
    return h("li", { class: x.severity }, h("b", {}, word[x.severity]), where ? upper(where) + ": " : "", x.text + "." + (x.hint ? " " + upper(x.hint) + "." : ""));
  };
  const graver = notices.filter((x) => x.severity !== "note");
  const shown = graver.slice(0, 60);
  const lesser = notices.filter((x) => x.severity === "note").slice(0, 60);
  const focus = document.activeElement?.dataset?.keep;
  const top = body.scrollTop;
  body.replaceChildren(
    h("p", { class: "lead" }, lead),
    open.refused ? h("p", { class: "refused", role: "alert" }, sentence({ message: open.refused })) : "",
    shown.length ? h("ul", { class: "notices", "aria-label": "To look at" }, ...shown.map(item), graver.length > shown.length ? h("li", {}, `and ${n(graver.length - shown.length)} more.`) : "") : "",
    ...used.flatMap(sheetBlock),
    rest.length ? h("section", {}, h("h3", {}, "Sheets kept unread"), h("table", {}, h("tbody", {}, ...rest.slice(0, 60).map((s) => h("tr", {}, h("td", {}, s.name), h("td", {}, s.why), h("td", {}, kindSelect(s))))))) : "",
    results.length ? h("p", {}, `The results on ${results.map((s) => s.name).join(", ")} are worked out anew.`) : "",
    lesser.length ? h("details", {}, h("summary", {}, plural(lesser.length, "note", "notes")), h("ul", {}, ...lesser.map(item))) : "",
  );
  body.scrollTop = top;
  if (focus) body.querySelector(`[data-keep="${CSS.escape(focus)}"]`)?.focus();
  const a = about();
  const name = a.state.name || "the job without a name";
  $("open-what").textContent = open.refused ? "Nothing is changed."
    : only() ? `The ${used.map((s) => kinds.find((k) => k[0] === s.kind)[1]).join(", ")} sheet of the job on the page is replaced; Ctrl+Z brings it back.`
      : a.blank ? "It is opened as a job."
        : `It takes the place of ${name} on the page${a.unsaved ? ", which no file has as it stands" : ""}. Ctrl+Z brings that back as long as this page stays open.`;
  $("open-take").disabled = Boolean(open.refused);
  if (!focus) (open.refused ? $("open-cancel") : $("open-take")).focus();
}

const kindSelect = (s) => {
  const el = h("select", { "aria-label": `Read sheet ${s.name} as`, "data-keep": "kind " + s.name }, ...kinds.map(([v, t]) => h("option", { value: v, selected: v === s.kind }, t)));
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
  const facts = [`Read as ${kind}${s.why === "chosen" ? ", as chosen" : s.why ? ", " + s.why : ""}.`];
  if (s.header_row) facts.push(`Header in row ${n(s.header_row)}${s.titles ? `, under ${plural(s.titles, "title line", "title lines")}` : ""}.`);
  facts.push(`${plural(s.rows, "row", "rows")} read, the last in row ${n(s.last_row)}${s.dimension ? `; the sheet says of itself ${s.dimension}` : ""}.`);
  if (s.merged) facts.push(`${plural(s.merged, "merged range", "merged ranges")}: the first cell counts.`);
  if (s.hidden_rows?.length) facts.push(`${plural(s.hidden_rows.length, "hidden row is", "hidden rows are")} read too.`);
  if (s.kind !== "job") {
    facts.push(`${plural(inputs.length - unread.length, "column is", "columns are")} understood`
      + (unread.length ? `, ${n(unread.length)} kept unread (${unread.slice(0, 6).map((c) => c.header || "column " + c.letter).join(", ")}${unread.length > 6 ? ", …" : ""})` : ", none kept unread")
      + (results.length ? `; ${plural(results.length, "column", "columns")} of results ${results.length === 1 ? "is" : "are"} worked out anew` : "") + ".");
  }
  const row = h("input", { type: "number", min: "1", max: "100000", value: String(s.header_row || ""), "aria-label": `Header row of ${s.name}`, "data-keep": "row " + s.name });
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
    h("p", { class: "fix" }, h("label", {}, "Read as ", kindSelect(s)), s.kind !== "job" ? h("label", {}, "Header row ", row) : "",
      offer ? h("label", {}, number, texts ? ` Write ${texts === 1 ? "the number that is" : `the ${n(texts)} numbers that are`} stored as text the way numbers are written` : " Numbers stored as text are written the way numbers are") : ""),
    inputs.length ? columnTable(s, inputs) : "")];
}

function columnTable(s, list) {
  const rows = list.map((c) => {
    const header = open.headers.get(s.name + "\n" + c.letter) ?? c.header;
    const set = (key, unit) => {
      choice(s.name).columns.set(c.col, { col: c.col, key, unit });
      again();
    };
    const names = () => {
      const own = columns.filter((x) => wire[x.sheet] === s.kind);
      const taken = new Set(list.filter((x) => x !== c && x.key).map((x) => x.key));
      return [["", "kept unread"], ...own.map((x) => [x.key, x.name + (taken.has(x.key) ? " (another column is this)" : "")])];
    };
    const units = c.key ? known(s.kind, c.key)?.units ?? [] : [];
    const what = lazySelect({ "aria-label": `What column ${c.letter}, ${header}, is`, "data-keep": `what ${s.name} ${c.col}` }, c.key ? c.name : "kept unread", c.key, names,
      (key) => set(key, key && c.unit_from === "header" && known(s.kind, key)?.units.includes(c.unit) ? c.unit : ""));
    const unit = units.length
      ? lazySelect({ "aria-label": `Unit of column ${c.letter}, ${header}`, "data-keep": `unit ${s.name} ${c.col}` }, c.unit, c.unit, () => units.map((u) => [u, u]), (u) => set(c.key, u))
      : null;
    const from = c.unit_from === "header" ? (header.includes(c.unit) ? "as the header says" : "as chosen") : c.unit_from === "job" ? "as the job says" : "";
    return h("tr", { class: c.key ? null : "unread" }, h("td", { class: "letter" }, c.letter), h("td", {}, header || "(no name)"), h("td", {}, what), h("td", {}, unit, unit ? h("span", { class: "quiet" }, " " + from) : ""),
      h("td", { class: "sample" }, (c.sample ?? []).join(" · ")), h("td", { class: "count" }, n(c.filled)));
  });
  return h("table", { class: "match", "aria-label": "Columns of " + s.name },
    h("thead", {}, h("tr", {}, ...["", "In the file", "Understood as", "Unit of a bare number", "First texts", "Filled"].map((t, i) => h("th", { scope: "col", class: i === 5 ? "count" : null }, t || h("span", { class: "aside" }, "Column"))))),
    h("tbody", {}, ...rows));
}

async function takeIt() {
  const mine = open;
  const { name } = open;
  $("open-take").disabled = true;
  bar("open", 0, "Taking the rows …");
  try {
    await worker.ask({ op: "take" }, [], (m) => {
      const a = m.head !== undefined ? ask("coming", m.head, only(), open.rows.machines) : ask("comingRows", m.table, m.rows);
      if (!a) throw new Error("the page's program did not take the rows");
    });
    if (open !== mine) return;
    stop();
    bar("open", 1, "Putting the job in place …");
    await breathe();
    const graver = (open.preview.notices ?? []).filter((x) => x.severity !== "note").length;
    const s = ask("take", name);
    if (!s) throw new Error("the page's program did not take the job");
    open.took = true;
    $("dlg-open").close();
    take(s, `${name} is open: ${plural(s.rows, "row", "rows")}.${graver ? ` ${plural(graver, "thing was", "things were")} pointed out when it was read.` : ""} ${s.undo ? "Ctrl+Z brings back the job before." : ""}`);
  } catch (e) {
    failed(mine, e);
  }
}

function closed() {
  if ($("dlg-open").open) return; // the event comes late, and the dialog is there for the next file already
  const took = open?.took;
  stop();
  if (open && !took) tell(`${open.name} was not opened; nothing is changed.`);
  open = null;
  bar("open", 0, "");
  $("open-body").replaceChildren();
}

// Saving

export function workbook() {
  $("workbook-said").textContent = "";
  $("workbook-said").className = "";
  for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = false;
  bar("workbook", 0, "");
  $("dlg-workbook").showModal();
  $("workbook-save").focus();
}

async function write(original) {
  const said = $("workbook-said");
  said.textContent = "";
  said.className = "";
  const a = about();
  if (!a.machines) {
    said.textContent = "There is no machine yet.";
    return;
  }
  for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = true;
  bar("workbook", 0, original ? `Adding the results to a copy of ${original.name} …` : "Writing the workbook …");
  $("workbook-cancel").focus();
  try {
    const w = start("workbook");
    let data;
    if (original) {
      if (original.size > mostBytes) throw new Error(`the file has ${n(Math.round(original.size / 1e6))} MB, which is too much for this page`);
      data = new Uint8Array(await original.arrayBuffer());
    }
    await w.ready;
    const head = ask("head");
    if (!head) throw new Error("the job could not be handed over");
    w.tell({ op: "head", head: head.text });
    for await (const piece of pieces()) {
      if (worker !== w) throw new Stopped();
      w.tell({ op: "rows", ...piece });
    }
    const { file } = await w.ask({ op: "write", options: { live: $("workbook-live").checked }, data }, data ? [data.buffer] : []);
    if (worker !== w) return;
    stop();
    const ending = /\.xlsm$/i.test(original?.name ?? "") ? "xlsm" : "xlsx";
    const name = original ? original.name.replace(/\.(xls[xm])$/i, "") + " with results." + ending : a.fileName("xlsx");
    handOver(name, ending === "xlsm" ? "application/vnd.ms-excel.sheet.macroEnabled.12" : "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", [file]);
    $("dlg-workbook").close();
    back();
    tell(`${name} was handed to the browser. Look in your downloads that it arrived. ${original ? "Your own file is as it was." : "It holds the job too and can be opened here."}`);
  } catch (e) {
    if (e instanceof Stopped) return;
    stop();
    bar("workbook", 0, "");
    for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = false;
    said.className = "refused";
    said.textContent = `${original ? original.name + ": nothing was added. " : "No workbook was written. "}${sentence(e)}`;
  }
}
