// The way to the page's program. When it has ended, a banner says so, and hands the job over from what is on the disk.
import { copyOf } from "./keep.js";
import { jobInPage, savedPage, damage, handOver, fileName } from "./files.js";
import { fill } from "./texts.js";
import * as T from "texts";

const $ = (id) => document.getElementById(id);

let ended = false;
let again; // starts the program once more

/** Calls the program. When it has ended, that becomes a banner before it is thrown on. */
function guarded(f) {
  try {
    return f();
  } catch (e) {
    ended = true;
    banner(fill(T.page.thePageSProgramHas, e?.message ?? e), e?.stack);
    throw e;
  }
}

/** Asks an operation of the program for its text. */
export const call = (op, ...args) => guarded(() => globalThis.shimsheet.call(op, ...args));

/** Has an operation done on the sheet, and the page brought up to it: false where it was refused. */
export const act = (op, ...args) => guarded(() => globalThis.shimsheet.act(op, ...args));

/** Tells the program's frame of the page something. */
export const tell = (what, ...args) => guarded(() => globalThis.shimsheet.tell(what, ...args));

/** Asks an operation. A failure inside the program becomes a banner and null, a refusal is told and null. */
export function ask(op, ...args) {
  let answer;
  try { answer = JSON.parse(call(op, ...args)); } catch { return null; }
  if (answer.panic !== undefined) tell("panicked", answer.panic, answer.stack);
  else if (answer.error !== undefined) tell("say", answer.error);
  else return answer;
  return null;
}

function banner(text, detail) {
  $("banner-text").textContent = text;
  $("banner-text").title = detail ?? "";
  $("banner").hidden = false;
}

/** The job as it last was, out of the program if it still answers, else out of the safety copy, read by the program started once more. */
async function emergency(kind) {
  let text = "";
  try {
    text = JSON.parse(globalThis.shimsheet.call("job")).text ?? "";
  } catch { /* the program has ended */ }
  const from = text ? T.page.asItStands : T.page.asItWasAtThe;
  if (!text) {
    try {
      await again();
      const copy = await copyOf(sessionStorage.getItem("shimsheet:line").split("\n")[0]);
      const { call } = globalThis.shimsheet;
      call("copyBegin", new TextEncoder().encode(copy.whole.head));
      for (const [table, rows] of copy.whole.rows) call("copyRows", table, rows);
      for (const r of copy.records) call("copyRecord", r);
      text = JSON.parse(call("copyText")).text ?? "";
    } catch { /* then as it came */ }
  }
  text ||= jobInPage();
  const { name, revision } = globalThis.shimsheetView?.state ?? {};
  const file = fileName(name, revision ?? 0, kind);
  if (kind === "html") {
    const bad = await damage();
    if (bad.length) return banner(bad[0] === "end" ? T.page.cutShort : fill(T.page.damaged, bad.join(", ")), "");
    handOver(file, "text/html", savedPage(text, document.title.replace(/^• /, ""), ""));
  } else handOver(file, "application/json", [text]);
  $("banner-text").textContent = fill(T.page.wasHandedToTheBrowser, file, from,
    kind === "html" ? T.page.openItInTheBrowser : T.page.openItWithOpenIn);
}

// Where the program listens: before anybody else ("first:", on the way down), with everybody, and behind all ("last:", at the window).
const first = ["pointerdown", "click", "keydown", "focusin", "cancel", "close", "toggle"];
const among = ["pointerdown", "pointerup", "contextmenu", "mousedown", "click", "input", "change", "submit", "focusin", "focusout",
  "keydown", "copy", "cut", "paste"];
const atWindow = { keydown: "last:keydown", resize: "resize", dragover: "dragover", drop: "drop", beforeprint: "beforeprint",
  beforeunload: "beforeunload" };

/** Takes the browser's events to the program from now on. restart starts it once more. */
export function listen(restart) {
  again = restart;
  const hear = (name) => (e) => { if (!ended) guarded(() => globalThis.shimsheet.event(name, e)); };
  for (const kind of first) document.addEventListener(kind, hear("first:" + kind), true);
  for (const kind of among) document.addEventListener(kind, hear(kind));
  for (const [kind, name] of Object.entries(atWindow)) addEventListener(kind, hear(name));
  $("banner-json").addEventListener("click", () => emergency("json"));
  $("banner-save").addEventListener("click", () => { if (ended) emergency("html"); });
  $("banner-close").addEventListener("click", () => {
    $("banner").hidden = true;
    globalThis.shimsheetView?.focus();
  });
}

