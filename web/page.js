// What of the page is still a script beside the sheet: what the program (package frame) asks of the browser by name.
import { SheetView } from "./grid.js";
import { unpacked } from "./bytes.js";
import { part, jobInPage, savedPage, digestOf, damage, complete, ended, handOver, fileName } from "./files.js";
import { Line, lines, copyOf, note, sweep, watch, forget, keptUntil } from "./keep.js";
import { exchange, prepareWorkbook, stopWorker, readFile, takeRows, writeWorkbook, lists, stopLists, jobText } from "./exchange.js";
import { breathe } from "./workbook.js";
import { photo } from "./photo.js";
import { toClipboard } from "./clip.js";
import { call, act, ask, tell, listen } from "./program.js";
import * as T from "texts";

const $ = (id) => document.getElementById(id);

let clock = null;
const dayAndTime = (iso) =>
  (clock ??= new Intl.DateTimeFormat(T.locale, { dateStyle: "medium", timeStyle: "short" })).format(new Date(iso));
let early = lines(); // asked while the program comes up

/** The hooks of a line of work: facts, onPage and told are the program's; whole is a copy of the job, null if it was not finished. */
const hooksOf = (mine) => ({
  ...mine,
  whole(asOpened) {
    const c = mine.onPage() ? ask("wholeCopy", asOpened) : null; // the program hands over the job on the page
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
});

/** While the program comes up: what takes the browser long the first time, and a page with a job in it needs. */
export function prepare() {
  if (jobInPage() !== "null") dayAndTime(0);
}

/** Shows the page's first job. restart starts the page's program once more, after it has ended. lacks: this file is the browser's own copy
 * of a page, which lacks as many changes. */
export async function start(restart, lacks) {
  const view = new SheetView($("sheet"), /** @type {any} */ ($("editor")), call,
    (op, ...args) => (act(op, ...args) ? view.state : null), (x, y) => tell("menu", x, y), () => tell("edit"));
  globalThis.shimsheetView = view;
  exchange();
  listen(restart);
  let ready;
  const shown = new Promise((r) => { ready = r; });
  globalThis.shimsheet.start({
    view, ready, breathe, toClipboard, handOver, fileName, jobInPage, digestOf, damage, stopWorker, readFile, takeRows,
    prepareWorkbook, writeWorkbook, lists, stopLists, jobText, photo, copyOf, forget, note, sweep, watch,
    lines() {
      const list = early ?? lines();
      early = null;
      return list;
    },
    cutShort: () => complete().then(() => !ended()),
    viewState(text) { view.state = JSON.parse(text); },
    clipboardText: () => (navigator.clipboard?.readText?.() ?? Promise.resolve("")).catch(() => ""),
    handOverPage: (name, ...page) => handOver(name, "text/html", savedPage(...page)),
    pickFile: (suggestedName, description) => showSaveFilePicker({ suggestedName,
      types: [{ description, accept: { "text/html": [".html"] } }] }),
    async writePage(target, ...page) {
      const out = await target.createWritable();
      await out.write(new Blob(savedPage(...page), { type: "text/html" }));
      await out.close();
    },
    unpacked: (name) => unpacked(part(name)),
    licences: async () => JSON.parse(await unpacked(part("licences"))),
    pageName: decodeURIComponent(location.pathname.split("/").pop()),
    kept: (where, key) => { try { return globalThis[where].getItem(key); } catch { return null; } },
    keep(where, key, value) {
      try {
        if (value) globalThis[where].setItem(key, value);
        else globalThis[where].removeItem(key);
      } catch { /* then it lasts until the page is closed */ }
    },
    keptUntil: (about) => keptUntil(about).toISOString(),
    utf8: (text) => new TextEncoder().encode(text),
    newLine: (job, hooks) => new Line(job, hooksOf(hooks)),
    resume: (copy, hooks) => Line.resume(copy, hooksOf(hooks)),
    clock: dayAndTime,
    day: (iso) => new Date(iso).toLocaleDateString(T.locale, { dateStyle: "medium" }),
    hourMinute: (iso) => new Date(iso).toTimeString().slice(0, 5),
  }, Number(lacks) || 0);
  await shown;
}
