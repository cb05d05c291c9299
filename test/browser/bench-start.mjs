// Measures how pages start, several of them in turns so that what else the machine does falls on all alike: marks of the page, first paint, and in Chromium the processor time of the page's
// main thread until it was ready. With -rate the processor is slowed down.
//
// Each page is opened in a tab that has stood for a second, when the machine is idle: a new tab of Chromium loads pages of the browser's own beside it, which took half of both cores.
//
//	node test/browser/bench-start.mjs OLD.html NEW.html [-runs 9] [-rate 4] [-browser firefox]
import { readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { resolve } from "node:path";
import { chromium, firefox, fileURL, median, round, loopMs } from "./browsers.mjs";

/** Waits until the machine has nothing else to do, 90 seconds at most. */
async function idle() {
  const now = () => { const v = readFileSync("/proc/stat", "utf8").split("\n")[0].trim().split(/\s+/).slice(1).map(Number); return [v[3] + v[4], v.reduce((a, n) => a + n, 0)]; };
  for (const until = Date.now() + 90_000; Date.now() < until;) {
    const was = now();
    await new Promise((r) => setTimeout(r, 400));
    const is = now();
    if ((is[0] - was[0]) / (is[1] - was[1]) > 0.9) return;
  }
}

const args = process.argv.slice(2);
const option = (name, usual) => { const i = args.indexOf("-" + name); return i < 0 ? usual : args.splice(i, 2)[1]; };
const rate = Number(option("rate", 1)), runs = Number(option("runs", 9)), name = option("browser", "chromium");
const b = name === "chromium" ? await chromium() : await firefox();
const all = args.map(() => ({}));
for (let i = 0; i <= runs; i++) { // the first is not counted
  for (const [k, page] of args.entries()) {
    const p = await b.open(null);
    await new Promise((r) => setTimeout(r, 1000));
    await idle();
    const c = b.context ? await b.context.newCDPSession(p.raw) : null;
    if (c && rate > 1) await c.send("Emulation.setCPUThrottlingRate", { rate });
    await c?.send("Performance.enable", { timeDomain: "threadTicks" });
    await p.raw.goto(fileURL(resolve(page)), c ? { waitUntil: "commit", timeout: 120_000 } : {});
    await p.until(() => document.documentElement.dataset.ready === "1");
    const m = await p.eval(() => Object.fromEntries([...performance.getEntriesByType("mark"), ...performance.getEntriesByType("paint")].map((x) => [x.name.replace("shimsheet-", ""), x.startTime])));
    if (c) for (const x of (await c.send("Performance.getMetrics")).metrics) if (["ThreadTime", "LayoutDuration", "ScriptDuration"].includes(x.name)) m["processor: " + x.name] = x.value * 1000;
    if (i) for (const [n, v] of Object.entries(m)) (all[k][n] ??= []).push(v);
    await p.raw.close();
  }
}
console.log(`${b.name} ${b.version}; ${rate} times slower; load ${loadavg()[0].toFixed(1)}; loop of 3e8 additions ${loopMs()} ms; ${runs} runs of each in turns`);
for (const [k, page] of args.entries()) {
  console.log(page);
  for (const [n, v] of Object.entries(all[k]).sort((x, y) => median(x[1]) - median(y[1]))) console.log("  " + n.padEnd(28), `${round(median(v))} ms`.padStart(12), ` (${round(Math.min(...v))}–${round(Math.max(...v))})`);
}
await b.close();
