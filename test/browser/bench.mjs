// Measures the page in Chromium and prints a table, and JSON with --json. Figures depend on the machine: note it beside them.
import { readFileSync, statSync, readdirSync, writeFileSync, copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, copyText, list, pageFile, fileURL, wait, median, round, loopMs } from "./browsers.mjs";

const out = { machine: `${cpus().length} × ${cpus()[0].model.trim()}`, load: round(loadavg()[0]) };

out.loopMs = loopMs();

const b = await chromium();
out.browser = `Chromium ${b.version}`;
out.pageBytes = statSync(pageFile).size;
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
// A list as it is pasted into a new job, and then every row worked out; several times over.
const worked = await p.eval((text) => {
  const bind = [], rows = [];
  for (let i = 0; i < 12; i++) {
    shimsheet.act("new");
    const grid = document.getElementById("grid"), clipboardData = new DataTransfer();
    clipboardData.setData("text/plain", text);
    const from = performance.now();
    grid.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
    const pasted = performance.now();
    const at = JSON.parse(shimsheet.call("work", 1e6));
    rows.push(performance.now() - pasted);
    bind.push(pasted - from);
    if (at.done !== at.total) throw new Error(`${at.done} of ${at.total}`);
  }
  const c = JSON.parse(shimsheet.call("count"));
  return { bind, rows, judged: c.couplings - c.notJudged };
}, list(10_000));
if (worked.judged !== 10_000) throw new Error(`${worked.judged} of 10000 rows judged`);
out.rows10000 = { pasteMs: round(worked.bind[0]), pasteWarmMs: round(median(worked.bind.slice(4))), firstMs: round(worked.rows[0]), warmMs: round(median(worked.rows.slice(4))) };
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

// A workbook of 10,000 rows × 40 columns out and in again. The longest freeze is the longest time between two turns of a timer that should
// come every few milliseconds, from the click until nothing waits; and the page's and the workers' memory before, during and after.
const wide = list(10_000).trimEnd().split("\r\n").map((l, i) => l + Array.from({ length: 20 }, (_, k) => "\t" + (i === 0 ? `Own ${k + 1}` : k % 2 ? `text ${k}` : i * (k + 1))).join("")).join("\r\n");
const beat = () => p.eval(() => {
  window.beats = { longest: 0, from: performance.now(), last: performance.now(), on: true, list: [] };
  const c = new MessageChannel();
  c.port1.onmessage = () => {
    const b = window.beats, now = performance.now();
    if (now - b.last > 30) b.list.push([Math.round(b.last - b.from), Math.round(now - b.last)]);
    b.longest = Math.max(b.longest, now - b.last);
    b.last = now;
    if (b.on) setTimeout(() => c.port2.postMessage(0), 1);
  };
  c.port2.postMessage(0);
});
const beaten = () => p.eval(() => { window.beats.on = false; return [window.beats.longest, performance.now() - window.beats.from, window.beats.list]; });
const memory = () => {
  // all processes of this browser, from the system: what the workers hold is in the page's process
  const pids = readdirSync("/proc").filter((d) => /^\d+$/.test(d));
  let sum = 0;
  for (const pid of pids) {
    try {
      if (readFileSync(`/proc/${pid}/cmdline`, "latin1").includes("--type=renderer")) sum += Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, "latin1"))[1]) / 1024;
    } catch { /* it has ended */ }
  }
  return Math.round(sum);
};
const books = { importMs: [], takeMs: [], exportMs: [], importFreezeMs: [], takeFreezeMs: [], exportFreezeMs: [], memoryMB: [] };
const scratch = mkdtempSync(join(tmpdir(), "shimsheet-bench-"));
writeFileSync(join(scratch, "list.tsv"), wide);
let book = join(scratch, "list.tsv");
for (let i = 0; i < 4; i++) { // the first makes the workbook out of the list and is not counted
  p = await b.open(fileURL(pageFile));
  await p.idle();
  if ((await p.state()).columns) {
    await p.click("header [data-do=new]");
    await p.idle();
  }
  const m0 = memory();
  await beat();
  const t = await p.eval(() => performance.now());
  await p.files("#file", book);
  await p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && !document.getElementById("open-take").disabled);
  const importMs = (await p.eval(() => performance.now())) - t;
  const m1 = memory();
  const [f1, , l1] = await beaten();
  await beat();
  const t2 = await p.eval(() => performance.now());
  await p.click("#open-take");
  await p.until(() => !document.getElementById("dlg-open").open);
  const takeMs = (await p.eval(() => performance.now())) - t2;
  await p.idle();
  await wait(6000); // the safety copy is made meanwhile
  const [f2, , l2] = await beaten();
  const m2 = memory();
  await beat();
  await p.click("header [data-do=workbook]");
  const t3 = await p.eval(() => performance.now());
  const made = await p.download(() => p.click("#workbook-save"));
  await p.until(() => !document.getElementById("dlg-workbook").open);
  const exportMs = (await p.eval(() => performance.now())) - t3;
  await wait(1500);
  const [f3, , l3] = await beaten();
  const m3 = memory();
  if (i === 0) copyFileSync(made, book = join(scratch, "list.xlsx"));
  else {
    books.importMs.push(round(importMs));
    books.takeMs.push(round(takeMs));
    books.exportMs.push(round(exportMs));
    books.importFreezeMs.push(round(f1));
    books.takeFreezeMs.push(round(f2));
    books.exportFreezeMs.push(round(f3));
    books.memoryMB.push([m0, m1, m2, m3]);
  }
  if (process.argv.includes("--freezes")) console.log({ l1, l2, l3 });
  await p.raw.close();
}
books.bytes = statSync(book).size;
rmSync(scratch, { recursive: true, force: true });
out.workbook10000x40 = books;

if (process.argv.includes("--json")) console.log(JSON.stringify(out, null, 1));
else console.log(JSON.stringify(out));
const lines = [
  ["page file", `${(out.pageBytes / 1e6).toFixed(2)} MB`, "≤ 7.5 MB"],
  ["ready after navigation, median of 7", `${out.readyMs} ms`, "≤ 350 ms"],
  ["10,000 rows reverse indicator, cells read, first", `${round(out.rows10000.firstMs)} ms`, ""],
  ["10,000 rows reverse indicator, cells read, warm", `${out.rows10000.warmMs} ms`, ""],
  ["10,000 rows, pasted into the program, first", `${out.rows10000.pasteMs} ms`, ""],
  ["10,000 rows, pasted into the program, warm", `${out.rows10000.pasteWarmMs} ms`, ""],
  ["paste 2,000 × 20 to results in sight", `${out.paste2000x20.inSightMs} ms`, "≤ 250 ms"],
  ["paste 2,000 × 20 to all results", `${out.paste2000x20.allMs} ms`, "≤ 250 ms"],
  ["workbook 10,000 × 40: file to preview", `${median(books.importMs)} ms`, "≤ 2500 ms with the next"],
  ["workbook 10,000 × 40: taken", `${median(books.takeMs)} ms`, ""],
  ["workbook 10,000 × 40: written", `${median(books.exportMs)} ms`, "≤ 2000 ms"],
  ["longest freeze: reading", `${median(books.importFreezeMs)} ms`, "≤ 50 ms"],
  ["longest freeze: taking, working out, safety copy", `${median(books.takeFreezeMs)} ms`, "≤ 50 ms"],
  ["longest freeze: writing", `${median(books.exportFreezeMs)} ms`, "≤ 50 ms"],
  ["memory before, with the preview, after taking, after writing", books.memoryMB.at(-1).join(", ") + " MB", ""],
];
console.log(`\n${out.browser}; ${out.machine}; load ${out.load}; loop of 3e8 additions ${out.loopMs} ms`);
for (const l of lines) console.log(l[0].padEnd(52), l[1].padStart(12), "  ", l[2]);
await b.close();
