// Lists the longest tasks of the page's own thread, by processor time, which what else the machine does lengthens less than a clock: what a person feels as a freeze on a quiet machine. A workbook of 10,000 × 40 is read, taken
// and written; then, in a job of 500 machines, each sheet and screen is opened.
//
//	node test/browser/bench-tasks.mjs PAGE.html
import { copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium, copyText, fileURL, list, loopMs, round, wait } from "./browsers.mjs";

const page = fileURL(resolve(process.argv[2]));
const b = await chromium({ width: 1366, height: 768 });
const trace = await b.context.browser().newBrowserCDPSession();
let events = [];
trace.on("Tracing.dataCollected", (e) => { for (const x of e.value) events.push(x); });
const names = [];
/** Does something, and notes its four longest tasks. */
async function during(what, work) {
  events = [];
  await trace.send("Tracing.start", { traceConfig: { includedCategories: ["toplevel", "__metadata"] } });
  await work();
  const ended = new Promise((r) => trace.once("Tracing.tracingComplete", r));
  await trace.send("Tracing.end");
  await ended;
  const main = new Set(events.filter((e) => e.name === "thread_name" && e.args.name === "CrRendererMain").map((e) => `${e.pid}:${e.tid}`));
  const tasks = events.filter((e) => e.ph === "X" && e.name === "ThreadControllerImpl::RunTask" && main.has(`${e.pid}:${e.tid}`)).map((e) => e.tdur / 1000).sort((x, y) => y - x);
  names.push([what, tasks.slice(0, 4).map(Math.round).join(", ")]);
}
const empty = async (p) => {
  await p.idle();
  if ((await p.state()).columns) await p.click("header [data-do=new]");
  await p.idle();
};

const dir = mkdtempSync(join(tmpdir(), "shimsheet-bench-"));
let book = join(dir, "list.tsv");
writeFileSync(book, list(10_000).trimEnd().split("\r\n").map((l, i) => l + Array.from({ length: 20 }, (_, k) => "\t" + (i === 0 ? `Own ${k + 1}` : k % 2 ? `text ${k}` : i * (k + 1))).join("")).join("\r\n"));
for (const last of [false, true]) { // the first makes the workbook out of the list
  names.length = 0;
  const p = await b.open(page);
  await empty(p);
  await wait(500);
  await during("workbook read", async () => {
    await p.files("#file", book);
    await p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && !document.getElementById("open-take").disabled);
  });
  await during("taken, worked out, safety copy", async () => {
    await p.click("#open-take");
    await p.until(() => !document.getElementById("dlg-open").open);
    await p.idle();
    await wait(5000);
  });
  await during("workbook written", async () => {
    await p.click("header [data-do=workbook]");
    await wait(300);
    const made = await p.download(() => p.click("#workbook-save"));
    await p.until(() => !document.getElementById("dlg-workbook").open);
    if (!last) copyFileSync(made, book = join(dir, "list.xlsx"));
  });
  await p.raw.close();
}
rmSync(dir, { recursive: true, force: true });

const p = await b.open(page);
await empty(p);
await copyText(b, list(500));
await p.front();
await during("500 machines pasted", async () => {
  await p.press("Control+v");
  await p.idle();
  await wait(1000);
});
for (const [id, name] of await p.eval(() => [...document.querySelectorAll("#tabs button")].map((e) => [e.id, e.textContent]))) {
  await during(name, async () => {
    await p.click("#" + id);
    await p.idle();
    await wait(300);
  });
}
console.log(`Chromium ${b.version}; load ${round(loadavg()[0])}; loop of 3e8 additions ${loopMs()} ms; longest tasks in ms of processor time`);
for (const [what, tasks] of names) console.log(what.padEnd(34), tasks);
await b.close();
