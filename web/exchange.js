// What the dialogs for files from elsewhere and for workbooks have a worker do, and the lists of the stock.
import { Workbooks, Stopped, own, breathe } from "./workbook.js";
import { ask, tell } from "./program.js";
import { fill } from "./texts.js";
import * as T from "texts";

const sheets = 12; // as the programs number them

/** Listens for what wants a worker soon. */
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
    for (const event of ["pointerenter", "focus", "click"]) document.getElementById(id).addEventListener(event, listsAhead);
  }
  addEventListener("dragenter", (e) => { if (e.dataTransfer?.types?.includes("Files")) ahead(); });
}

let worker; // at most one
let spare; // one that is started before it is wanted, so that it is warm then
let unwanted; // the timer that ends it
function start(told) {
  stopWorker();
  worker = spare ?? new Workbooks();
  spare = null;
  clearTimeout(unwanted);
  worker.told = told;
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
export function stopWorker() {
  worker?.end();
  worker = null;
}

/** The rows of the job on the page, some at a time: {table, rows packed}. The page can be used in between. */
async function* pieces() {
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

/** Reads a file in the worker, null: the last one once more; how it would be read, as JSON. */
export async function readFile(file, choices, told) {
  if (!file) return (await worker.ask({ op: "read", choices })).text;
  const w = start(told), data = new Uint8Array(await file.arrayBuffer());
  return (await w.ask({ op: "read", name: file.name, data, choices }, [data.buffer])).text;
}

/** Has the worker hand over the job of that file: each is called with its head, then with its rows, and says whether it takes them. */
export const takeRows = (each) => worker.ask({ op: "take" }, [], (m) => { if (!each(m)) throw new Stopped(); });

let prepared = null; // the worker that has the job, and when it has all of it

/** Hands the job to a worker, which makes a workbook of it before it is wanted: to be called again once the job has changed. */
export function prepareWorkbook(live) {
  const w = start(() => {});
  const handed = hand(w, () => worker === w).then(() => {
    w.tell({ op: "work" });
    w.tell({ op: "make", options: JSON.stringify({ live }) });
  });
  handed.catch(() => {}); // told to whoever writes
  prepared = { w, handed };
}

/** A workbook of the job that was prepared, or a copy of somebody's with the results added: its bytes. */
export async function writeWorkbook(original, live, told) {
  if (!worker || prepared?.w !== worker) prepareWorkbook(live);
  const { w, handed } = prepared;
  w.told = told;
  const data = original ? new Uint8Array(await original.arrayBuffer()) : undefined;
  await handed;
  const { file } = await w.ask({ op: "write", options: JSON.stringify({ live }), data }, data ? [data.buffer] : []);
  if (worker !== w) throw new Stopped();
  stopWorker();
  return file;
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
 * far it is. Rejects with Stopped when they are wanted anew. */
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
    if (!(e instanceof Stopped) && lister === w) stopLists();
    throw e;
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
