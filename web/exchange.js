// The dialogs for files from elsewhere and for workbooks: what a file holds and how it would be read, before anything is replaced; a
// workbook of the job; results added to somebody's workbook.
import { Workbooks, Stopped, own, breathe } from "./workbook.js";
import { handOver } from "./files.js";
import { ask, tell } from "./program.js";
import { fill, count as n } from "./texts.js";
import * as T from "texts";

const $ = (id) => document.getElementById(id);
const sheets = 12; // as the programs number them
const mostBytes = 200e6; // of a file that is handed to the worker at all; what is read says the program

/** Listens for what wants a worker soon, and in the dialogs. */
export function exchange() {
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
  for (let table = 0; table < sheets; table++) {
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

// Opening: what the file holds and how it is read is shown by a screen in Go ("open").

let open; // {name, took, turn, reading}

/** Reads a file in the worker and shows what it holds. */
export async function preview(file) {
  if ($("dlg-open").open) return;
  stop();
  const mine = open = { name: file.name, took: false, turn: 0, reading: null };
  tellScreen("begin", "", "", file.name);
  try {
    if (file.size > mostBytes) throw new Error(fill(T.exchange.theFileHasMbWhich, n(Math.round(file.size / 1e6))));
    bar("open", null, fill(T.exchange.reading, file.name));
    const w = start("open");
    const data = new Uint8Array(await file.arrayBuffer());
    if (open !== mine) return;
    await read(w, { op: "read", name: file.name, data, choices: tell("choices") }, [data.buffer]);
  } catch (e) {
    failed(mine, e);
  }
}

const tellScreen = (event, arg, value, name) => tell("screen", "open", event, arg, value, name);

function failed(mine, e) {
  if (open !== mine || e instanceof Stopped) return;
  bar("open", 0, "");
  $("open-body").removeAttribute("aria-busy");
  tellScreen("failed", "", String(e.message), "");
}

async function read(w, message, transfer) {
  const mine = open;
  bar("open", null, fill(T.exchange.reading, open.name));
  $("open-body").toggleAttribute("aria-busy", true);
  const r = await w.ask(message, transfer);
  if (open !== mine) return;
  bar("open", 0, "");
  $("open-body").removeAttribute("aria-busy");
  tellScreen("read", tell("unsaved") ? "unsaved" : "", r.text, "");
}

/** Reads again with the choices. Several quick ones are read once. */
export async function reread(choices) {
  const mine = open, turn = ++open.turn, before = open.reading;
  let done = () => {};
  open.reading = new Promise((r) => { done = () => r(undefined); });
  try {
    await before;
    if (open !== mine || open.turn !== turn) return;
    await read(worker, { op: "read", choices });
  } catch (e) {
    failed(mine, e);
  } finally {
    done();
  }
}

async function takeIt() {
  const mine = open;
  $("open-take").disabled = true;
  bar("open", 0, T.exchange.takingTheRows);
  try {
    await worker.ask({ op: "take" }, [], (m) => {
      const a = m.head !== undefined ? ask("coming", m.head) : ask("comingRows", m.table, m.rows);
      if (!a) throw new Error(T.exchange.thePageSProgramDid);
    });
    if (open !== mine) return;
    stop();
    bar("open", 1, T.exchange.puttingTheJobInPlace);
    await breathe();
    open.took = true;
    if (tell("take")) return;
    open.took = false;
    throw new Error(T.exchange.thePageSProgramDid2);
  } catch (e) {
    failed(mine, e);
  }
}

function closed() {
  if ($("dlg-open").open) return; // the event comes late, and the dialog is there for the next file already
  stop();
  bar("open", 0, "");
  if (open) tellScreen("closed", open.took ? "taken" : "", "", "");
  open = null;
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
  if (!tell("machines")) {
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
    const name = original ? fill(T.exchange.withResults, original.name.replace(/\.(xls[xm])$/i, ""), ending) : tell("savename", "xlsx");
    handOver(name, ending === "xlsm" ? "application/vnd.ms-excel.sheet.macroEnabled.12"
      : "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", [file]);
    $("dlg-workbook").close();
    globalThis.shimsheetView.focus();
    tell("say", fill(T.exchange.wasHandedToTheBrowser, name, original ? T.exchange.yourOwnFileIsAs : T.exchange.itHoldsTheJobToo));
  } catch (e) {
    if (e instanceof Stopped) return;
    stop();
    bar("workbook", 0, "");
    for (const id of ["workbook-save", "workbook-add", "workbook-live"]) $(id).disabled = false;
    said.className = "refused";
    said.textContent = `${original ? fill(T.exchange.nothingWasAdded, original.name) : T.exchange.noWorkbookWasWritten}${sentence(e)}`;
  }
}

/** A job in a file as a text: that of a saved page or a job file as it is, that of a workbook as the program for workbook files reads
 * it. */
export async function jobText(f) {
  if (!/\.xls[xm]$/i.test(f.name)) return f.text();
  tell("say", fill(T.exchange.reading, f.name));
  const w = new Workbooks();
  try {
    const data = new Uint8Array(await f.arrayBuffer());
    return (await w.ask({ op: "text", name: f.name, data }, [data.buffer])).text;
  } finally {
    w.end();
  }
}
