// Measures what the first file costs, which has the program for workbook files put together and started: from a small list chosen as a file to its dialog, several pages in turns.
//
//	node test/browser/bench-file.mjs OLD.html NEW.html [-runs 6] [-browser firefox]
import { loadavg, tmpdir } from "node:os";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { chromium, firefox, fileURL, list, median, round, loopMs, wait } from "./browsers.mjs";

const args = process.argv.slice(2);
const option = (name, usual) => { const i = args.indexOf("-" + name); return i < 0 ? usual : args.splice(i, 2)[1]; };
const runs = Number(option("runs", 6)), name = option("browser", "chromium");
const dir = mkdtempSync(join(tmpdir(), "shimsheet-bench-"));
const file = join(dir, "small.tsv");
writeFileSync(file, list(20));
const b = name === "chromium" ? await chromium() : await firefox();
const all = args.map(() => []);
for (let i = 0; i <= runs; i++) { // the first is not counted
  for (const [k, page] of args.entries()) {
    const p = await b.open(fileURL(resolve(page)));
    await p.idle();
    await wait(400);
    const from = await p.eval(() => performance.now());
    await p.files("#file", file);
    await p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && !document.getElementById("open-take").disabled);
    if (i) all[k].push((await p.eval(() => performance.now())) - from);
    await p.raw.close();
  }
}
rmSync(dir, { recursive: true, force: true });
console.log(`${b.name} ${b.version}; load ${round(loadavg()[0])}; loop of 3e8 additions ${loopMs()} ms; ${runs} runs of each in turns`);
for (const [k, page] of args.entries()) console.log(`${page}: file to dialog ${round(median(all[k]))} ms (${round(Math.min(...all[k]))}–${round(Math.max(...all[k]))})`);
await b.close();
