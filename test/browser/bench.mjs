// Measures the page in Chromium and prints a table, and JSON with --json. Figures depend on the machine: note it beside them.
import { readFileSync, statSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { cpus, loadavg } from "node:os";
import { chromium, copyText, list, pageFile, fileURL } from "./browsers.mjs";

const median = (a) => [...a].sort((x, y) => x - y)[Math.floor(a.length / 2)];
const round = (x) => Math.round(x * 10) / 10;
const out = { machine: `${cpus().length} × ${cpus()[0].model.trim()}`, load: round(loadavg()[0]) };

// How fast this machine is just now: a plain loop, to set the figures against (0.3 s on an ordinary laptop, from memory).
const t0 = performance.now();
let sum = 0;
for (let i = 0; i < 3e8; i++) sum += i;
out.loopMs = sum > 0 ? Math.round(performance.now() - t0) : 0;

const b = await chromium();
out.browser = `Chromium ${b.version}`;
out.pageBytes = statSync(pageFile).size;
out.programBytesGzip = Buffer.from([...readFileSync(pageFile, "latin1").matchAll(/class="part-wasm">([^<]*)</g)].map((m) => m[1]).join(""), "base64").length;
out.pageBytesGzip = gzipSync(readFileSync(pageFile)).length;

const ready = [], program = [], parsed = [];
for (let i = 0; i < 7; i++) {
  const p = await b.open(fileURL(pageFile));
  await p.until(() => document.documentElement.dataset.ready === "1");
  const t = await p.eval(() => [performance.getEntriesByName("shimsheet-ready")[0].startTime, performance.getEntriesByName("shimsheet-program")[0].startTime, performance.getEntriesByName("shimsheet-boot")[0].startTime]);
  ready.push(t[0]);
  program.push(t[1]);
  parsed.push(t[2]);
  await p.raw.close();
}
out.readyMs = round(median(ready));
out.readyAllMs = ready.map(round);
out.scriptsRunMs = round(median(parsed));
out.programUpMs = round(median(program));

let p = await b.open(fileURL(pageFile));
await p.idle();
const e = JSON.parse(await p.eval(() => shimsheet.call("bench", 10000, 12)));
if (e.judged !== 10000) throw new Error(`${e.judged} of 10000 rows judged`);
out.rows10000 = { bindMs: e.bindMs[0], firstMs: e.ms[0], warmMs: round(median(e.ms.slice(4))), calcFirstMs: e.calcMs[0], calcWarmMs: round(median(e.calcMs.slice(4))) };
await p.raw.close();

// From the paste event to all results worked out and drawn; and to the results in sight.
const all = [], sight = [], again = [];
for (let i = 0; i < 5; i++) {
  p = await b.open(fileURL(pageFile));
  await p.idle();
  if ((await p.state()).columns) {
    await p.click("header [data-do=new]");
    await p.idle();
  }
  await copyText(b, list(2000));
  await p.front();
  const arm = () => p.eval(() => {
    window.measured = new Promise((done) => {
      document.addEventListener("paste", () => {
        const t0 = performance.now();
        let seen = 0;
        const look = () => {
          if (!seen && document.querySelector('[id^="cell-"][id$="-1"]')?.textContent) seen = performance.now() - t0;
          if (seen && document.documentElement.dataset.idle === "1") done([seen, performance.now() - t0]);
          else setTimeout(look, 1);
        };
        setTimeout(look, 0);
      }, { capture: true, once: true });
    });
    window.measured.then((m) => { window.result = m; });
  });
  await arm();
  await p.press("Control+v");
  await p.until(() => window.result);
  const r = await p.eval(() => window.result);
  sight.push(r[0]);
  all.push(r[1]);
  await p.idle();
  // the same once more, appended: the code is warm
  await p.eval(() => { window.result = null; });
  await arm();
  await p.press("Control+v");
  await p.until(() => window.result);
  again.push((await p.eval(() => window.result))[1]);
  await p.raw.close();
}
out.paste2000x20 = { inSightMs: round(median(sight)), allMs: round(median(all)), againMs: round(median(again)), allRunsMs: all.map(round) };

if (process.argv.includes("--json")) console.log(JSON.stringify(out, null, 1));
else console.log(JSON.stringify(out));
const lines = [
  ["page file", `${(out.pageBytes / 1e6).toFixed(2)} MB`, "≤ 3 MB"],
  ["ready after navigation, median of 7", `${out.readyMs} ms`, "≤ 350 ms"],
  ["10,000 rows reverse indicator, cells read, first", `${round(out.rows10000.firstMs)} ms`, ""],
  ["10,000 rows reverse indicator, cells read, warm", `${out.rows10000.warmMs} ms`, ""],
  ["10,000 rows, calculation alone, first", `${round(out.rows10000.calcFirstMs)} ms`, ""],
  ["10,000 rows, calculation alone, warm", `${out.rows10000.calcWarmMs} ms`, ""],
  ["paste 2,000 × 20 to results in sight", `${out.paste2000x20.inSightMs} ms`, "≤ 250 ms"],
  ["paste 2,000 × 20 to all results", `${out.paste2000x20.allMs} ms`, "≤ 250 ms"],
];
console.log(`\n${out.browser}; ${out.machine}; load ${out.load}; loop of 3e8 additions ${out.loopMs} ms`);
for (const l of lines) console.log(l[0].padEnd(52), l[1].padStart(12), "  ", l[2]);
await b.close();
