// Films how a saved page opens in Chromium with the processor slowed down: what stood on the screen at each tenth of a second, as pictures, and when which of the page's own marks came.
//
//	node test/browser/film.mjs PAGE INTO [times slower, 4] [width×height]
import { mkdirSync, writeFileSync } from "node:fs";
import { loadavg } from "node:os";
import { join, resolve } from "node:path";
import { chromium, fileURL, loopMs, wait } from "./browsers.mjs";

const [page, into, rate = "4", size = "1366x768"] = process.argv.slice(2);
if (!into) throw new Error("film.mjs PAGE INTO [times slower] [width×height]");
const [width, height] = size.split("x").map(Number);
mkdirSync(into, { recursive: true });
const b = await chromium({ width, height });
const p = await b.open(null);
const c = await b.context.newCDPSession(p.raw);
await c.send("Emulation.setCPUThrottlingRate", { rate: Number(rate) });
const frames = [];
c.on("Page.screencastFrame", (f) => {
  frames.push({ at: f.metadata.timestamp * 1000, data: f.data });
  c.send("Page.screencastFrameAck", { sessionId: f.sessionId }).catch(() => {});
});
await c.send("Page.startScreencast", { format: "png", everyNthFrame: 1 });
const load = loadavg()[0];
await p.raw.goto(fileURL(resolve(page)), { waitUntil: "commit", timeout: 120_000 });
await p.idle();
await wait(500);
await c.send("Page.stopScreencast");
const origin = await p.eval(() => performance.timeOrigin);
const marks = await p.eval(() => [...performance.getEntriesByType("mark"), ...performance.getEntriesByType("paint")].map((m) => [m.name.replace("shimsheet-", ""), Math.round(m.startTime)]).sort((x, y) => x[1] - y[1]));
await b.close();
console.log(`Chromium ${b.version}; ${rate} times slower; load ${load.toFixed(1)}; loop of 3e8 additions ${loopMs()} ms`);
console.log(marks.map(([n, t]) => `${n} ${t}`).join(", "));
let last = -1;
const end = frames.at(-1).at - origin;
for (let t = 0; t <= end + 100; t += 100) {
  const k = frames.findLastIndex((f) => f.at - origin <= t);
  if (k === last || k < 0) continue;
  last = k;
  const name = `${String(t).padStart(5, "0")}.png`;
  writeFileSync(join(into, name), Buffer.from(frames[k].data, "base64"));
  console.log(`${(t / 1000).toFixed(1)} s: another picture, ${name}, presented at ${Math.round(frames[k].at - origin)} ms`);
}
