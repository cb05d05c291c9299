// The page starts here: put the body in, start the Go program out of the page, hand over to page.js. The program's text stands behind
// this script in many elements, each followed by a call of shimsheetPiece, so that it is unpacked while the browser still reads the rest:
// in a worker, for reading takes the page's own thread, or here where no worker can be had.
import "go:wasm_exec";
import { start, prepare } from "./page.js";
import { part, wasmElements, complete, damage, jobInPage, digestOf, handOver } from "./files.js";
import { bytes91 } from "./bytes.js";
import { compiling, goOn } from "./begun.js";
import { own } from "./workbook.js";
import { theme } from "./theme.js";
import { fill } from "./texts.js";
import * as T from "texts";

performance.mark("shimsheet-boot");
// A copy made by the browser's own "Save page as" holds what stood on the screen before the parts: that goes.
const root = document.documentElement;
const lacks = root.dataset.up;
if (lacks !== undefined) {
  for (const k of Object.keys(root.dataset)) delete root.dataset[k];
  for (const k of Object.keys(document.body.dataset)) delete document.body.dataset[k];
  for (let e = document.body.firstElementChild; e && e.id !== "job";) {
    const next = e.nextElementSibling;
    if (e.localName !== "noscript" && e.localName !== "script") e.remove();
    e = next;
  }
}
root.dataset.up = "0";
document.body.insertAdjacentHTML("afterbegin", JSON.parse(part("body")));
theme();
// The list as text, where the live one will stand; not that of a job which somebody took away or changed.
const list = document.getElementById("first");
if (list && list.dataset.of === digestOf(jobInPage())) {
  document.getElementById("sheet").append(list);
  document.getElementById("jobname").textContent = document.title.includes(" – ") ? document.title.split(" – ")[0] : "";
  document.getElementById("viewsaid").textContent = list.dataset.view ?? "";
  document.getElementById("viewoff").hidden = !list.dataset.view;
} else list?.remove();

const elements = wasmElements();
let taken = 0, wholeTaken;
const read = new Promise((resolve) => { wholeTaken = resolve; }); // all elements are there
const helper = globalThis.shimsheetBeside; // a worker that the page's first script began, undefined where there can be none
globalThis.shimsheetPiece = (last) => {
  for (; taken < elements.length; taken++) helper?.postMessage({ own: elements[taken].textContent });
  if (!last) return;
  helper?.postMessage({ compile: true });
  wholeTaken();
};

/** The program as the worker unpacked and compiled it. */
const compiledBeside = () => new Promise((resolve, reject) => {
  if (!helper) return void reject();
  helper.onmessage = ({ data: m }) => (m.module ? resolve(m) : reject());
  helper.onerror = helper.onmessageerror = (/** @type {Event} */ e) => { e.preventDefault(); reject(); };
}).finally(() => helper?.terminate());

/** The program unpacked and compiled here. */
async function compiledHere() {
  await read;
  const unpack = new DecompressionStream("gzip");
  const packed = unpack.writable.getWriter();
  for (const e of elements) packed.write(bytes91(e.textContent)).catch(() => {}); // a failure shows at the reader
  packed.close().catch(() => {});
  return compiling(unpack.readable);
}

async function program() {
  Object.assign(own, await compiledBeside().catch(compiledHere));
  performance.mark("shimsheet-compiled");
  await run();
}

/** Runs the program as it was compiled, at first and once more when it has ended. */
async function run() {
  const ready = new Promise((resolve) => addEventListener("shimsheet-program", resolve, { once: true }));
  const ended = goOn(own.module, own.code.subarray(own.end)).then(() => { throw new Error(T.boot.theProgramHasEnded); });
  ended.catch((e) => failed(e));
  await Promise.race([ready, ended]);
}

/** Says why there is no program, or none any more: a file that is damaged is not the browser's fault. */
async function failed(e) {
  const box = document.getElementById("banner"), text = document.getElementById("banner-text");
  document.getElementById("early")?.remove();
  box.hidden = false;
  if (root.dataset.ready) {
    text.textContent = fill(T.boot.thePageSProgramHas, e && e.message || e);
    return;
  }
  const bad = await damage();
  const job = jobInPage(), there = job !== null && job !== "null";
  text.textContent = (bad[0] === "end" ? T.boot.thisFileIsCutShort : bad.length ? fill(T.boot.thisFileIsDamaged, bad.join(", "))
    : fill(T.boot.thePageSProgramDoes, e && e.message || e))
    + " " + (there ? T.boot.theJobInItIs : "");
  document.getElementById("banner-save").hidden = true; // nothing could be saved but what is broken
  const json = document.getElementById("banner-json");
  json.hidden = !there;
  json.onclick = () => handOver("shimsheet-job.json", "application/json", [job]);
}

complete().then(() => { if (!document.getElementById("part-end") && !own.module) failed(); });
read.then(() => setTimeout(prepare));
program().then(() => {
  performance.mark("shimsheet-program");
  return start(run, lacks);
}).then(() => document.getElementById("early")?.remove()).catch(failed);
