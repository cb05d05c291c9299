// The page starts here: put the body in, start the Go program out of the page, hand over to page.js. The program's text stands behind
// this script in many elements, each followed by a call of shimsheetPiece, so that it is unpacked and compiled while the browser
// still reads the rest.
import "go:wasm_exec";
import { start } from "./page.js";
import { part, wasmElements } from "./files.js";
import { bytes91, gather } from "./bytes.js";
import { own } from "./workbook.js";
import { fill } from "./texts.js";
import * as T from "texts";

performance.mark("shimsheet-boot");
document.body.insertAdjacentHTML("afterbegin", JSON.parse(part("body")));

const unpack = new DecompressionStream("gzip");
const packed = unpack.writable.getWriter();
const elements = wasmElements();
let taken = 0;
globalThis.shimsheetPiece = (last) => {
  while (taken < elements.length) packed.write(bytes91(elements[taken++].textContent)).catch(() => {}); // a failure shows at the reader
  if (last) packed.close().catch(() => {});
};

async function program() {
  const go = new globalThis.Go();
  go.env.GOGC = "400"; // memory is cheaper here than collections on the only thread
  const ready = new Promise((resolve) => addEventListener("shimsheet-program", resolve, { once: true }));
  const code = await gather(unpack.readable);
  performance.mark("shimsheet-inflated");
  const { module, instance } = await WebAssembly.instantiate(code, go.importObject);
  own.module = module;
  performance.mark("shimsheet-compiled");
  const ended = go.run(instance).then(() => { throw new Error(T.boot.theProgramHasEnded); });
  ended.catch((e) => failed(e));
  await Promise.race([ready, ended]);
}

function failed(e) {
  const box = document.getElementById("banner");
  box.hidden = false;
  document.getElementById("banner-text").textContent = document.documentElement.dataset.ready
    ? fill(T.boot.thePageSProgramHas, e && e.message || e)
    : fill(T.boot.thePageSProgramDoes, e && e.message || e);
}

program().then(() => {
  performance.mark("shimsheet-program");
  return start();
}).catch(failed);
