// Measures a large sheet in Chromium, 10,000 rows × 60 columns in a saved page: first paint, scrolling, one edit, a paste and its undo, a drawing.
// Run by bench.mjs' side: node test/browser/bench-sheet.mjs. Figures depend on the machine: note it beside them.
import { writeFileSync, readFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir, loadavg } from "node:os";
import { join } from "node:path";
import { chromium, copyText, list, pageFile, fileURL, wait, median, round, loopMs } from "./browsers.mjs";

const runs = Number(process.argv[2] ?? 5);
const loop = loopMs();

// 10,000 machines with 40 columns of the person's own behind the 20 that are read.
const rows = list(10_000).trimEnd().split("\r\n").map((l, i) => [...l.split("\t"), ...Array.from({ length: 40 }, (_, k) => (i === 0 ? `Own ${k + 1}` : k % 2 ? `text ${k}` : String(i * (k + 1))))]);
const job = { format: "shimsheet job", version: 1, revision: 1, saved_at: "2026-01-01T00:00:00Z", machines: { name: "Machines", first_row: 2, header: rows[0], rows: rows.slice(1) } };
const dir = mkdtempSync(join(tmpdir(), "shimsheet-bench-"));
/** The page with the job in it; another job in each run, so that nothing stands in the safety copy yet. */
const saved = (run) => {
  const file = join(dir, `big${run}.html`), text = JSON.stringify({ ...job, id: String(run).padStart(32, "b") }).replace(/</g, "\\u003c");
  writeFileSync(file, readFileSync(pageFile, "utf8").replace('<script type="application/json" id="job">null</script>', () => `<script type="application/json" id="job">${text}</script>`));
  return file;
};

const b = await chromium({ width: 1366, height: 768 });
const m = { firstPaint: [], scrollMedian: [], scrollWorst: [], edit: [], paste: [], undo: [], drawing: [] };
for (let i = 0; i < runs; i++) {
  const p = await b.open(fileURL(saved(i)));
  await p.until(() => document.documentElement.dataset.ready === "1");
  const shown = await p.eval(() => performance.getEntriesByName("shimsheet-ready")[0].startTime - performance.getEntriesByName("shimsheet-program")[0].startTime);
  m.firstPaint.push(shown);
  m.loaded ??= [];
  m.loaded.push(await p.eval(() => performance.getEntriesByName("shimsheet-ready")[0].startTime));
  await p.idle();
  // scrolling: time between frames while the table is scrolled by the wheel's steps
  const s = await p.eval(async () => {
    const el = document.querySelector("regular-table");
    const frames = [];
    let last = 0;
    for (let k = 0; k < 120; k++) {
      el.scrollTop += k < 80 ? 84 : 5000;
      const t = performance.now();
      await new Promise((r) => requestAnimationFrame(() => setTimeout(r, 0)));
      if (last) frames.push(performance.now() - t);
      last = t;
    }
    frames.sort((x, y) => x - y);
    return [frames[frames.length >> 1], frames.at(-1)];
  });
  m.scrollMedian.push(s[0]);
  m.scrollWorst.push(s[1]);
  await p.press1("Control+Home");
  // one edit to the results of its row in the panel; in the first row, where Shift and Enter stay in it
  const edited = "Movable rim 6";
  await p.goTo(0, edited);
  const stood = Number(rows[1][rows[0].findIndex((h) => h.startsWith(edited))]);
  for (const more of [0.02, 0.03, 0.01]) { // a reading much further off is not judged, and says the same each time
    await p.type((stood + more).toFixed(2));
    await p.eval(() => {
      const at = document.querySelector("#panel-row").textContent;
      window.result = 0;
      addEventListener("keydown", function hear(e) {
        if (e.key !== "Enter") return; // Shift comes before it
        removeEventListener("keydown", hear, true);
        const t = performance.now();
        const look = () => (document.querySelector("#panel-row").textContent !== at || performance.now() - t > 3000 ? (window.result = performance.now() - t) : setTimeout(look, 0));
        setTimeout(look, 0);
      }, true);
    });
    await p.press("Shift+Enter");
    await p.until(() => window.result);
    m.edit.push(await p.eval(() => window.result));
    await p.idle();
  }
  // a paste of 2,000 × 20 and its undo, to results in sight
  const n = await b.open(fileURL(pageFile));
  await n.idle();
  if ((await n.state()).columns) {
    await n.click("header [data-do=new]");
    await n.idle();
  }
  await copyText(b, list(2000));
  await n.front();
  const arm = (event, done) => n.eval(([event, done]) => {
    window.result = 0;
    const f = new Function("return " + done);
    const h = (e) => {
      if (event === "keydown" && e.key !== "z") return;
      removeEventListener(event, h, true);
      const t = performance.now();
      const look = () => (f() ? (window.result = performance.now() - t) : setTimeout(look, 0));
      setTimeout(look, 0);
    };
    addEventListener(event, h, true);
  }, [event, done]);
  await arm("paste", `document.querySelector('[id^="cell-"][id$="-1"]')?.textContent`);
  await n.press("Control+v");
  await n.until(() => window.result);
  m.paste.push(await n.eval(() => window.result));
  await n.idle();
  await arm("keydown", `!document.getElementById("welcome").hidden`);
  await n.press("Control+z");
  await n.until(() => window.result);
  m.undo.push(await n.eval(() => window.result));
  await n.idle();
  await n.raw.close();
  m.drawing.push(await p.eval(() => {
    const list = [];
    for (let k = 0; k < 30; k++) {
      const t = performance.now();
      JSON.parse(shimsheet.call("info", 336));
      list.push(performance.now() - t);
    }
    return list.sort((x, y) => x - y)[15];
  }));
  await p.raw.close();
}
rmSync(dir, { recursive: true, force: true });
console.log(`Chromium ${b.version}; load ${round(loadavg()[0])}; loop of 3e8 additions ${loop} ms; ${runs} runs`);
for (const [name, values, goal] of [["job open and painted after the program is up", m.firstPaint, 400], ["the same from navigation", m.loaded, 0], ["scroll frame, median", m.scrollMedian, 16], ["scroll frame, worst", m.scrollWorst, 50], ["one edit to results", m.edit, 30],
  ["paste of 2,000 × 20 to results in sight", m.paste, 250], ["undo of it", m.undo, 200], ["a drawing", m.drawing, 16]]) {
  console.log(name.padEnd(48), `${round(median(values))} ms (${values.map(round).sort((x, y) => x - y).join(", ")})`, goal ? `goal ${goal}` : "");
}
await b.close();
