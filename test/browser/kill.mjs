// How much typing a browser that is ended by force loses. A browser with a profile of its own opens a page file with a job inside, a person's keys type readings, and
// at a random moment the browser's whole process group is ended with SIGKILL; it is started again on the same profile, and what the page offers is held against
// what had been typed, cell by cell.
//
//	node test/browser/kill.mjs [-browser chromium|firefox|both] [-kills 10] [-rows 40,2000,10000] [-sit 4.7] [-pause 0] [-minutes 60] [-seed 1] [-out table.json]
//
// -sit is how many seconds after the first key the end comes at the latest, -pause how many seconds are between two cells on
// average, -minutes after how many minutes no further sitting is begun.
// Each group of processes is ended by its own id. A cell counts as typed as soon as the key that ends it was taken by the page, and as lost when it is not there after the
// start; how long before the end it was typed is told with it. What is in the open cell at the end does not count.
import { mkdtempSync, writeFileSync, readFileSync, rmSync, existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, basename } from "node:path";
import { list, pageFile, fileURL, wait, loopMs } from "./browsers.mjs";

/** Numbers that repeat. */
function random(seed) {
  let s = seed >>> 0;
  return () => {
    s = s + 0x6d2b79f5 >>> 0;
    let t = Math.imul(s ^ s >>> 15, s | 1);
    t = t + Math.imul(t ^ t >>> 7, t | 61) ^ t;
    return ((t ^ t >>> 14) >>> 0) / 4294967296;
  };
}

/** A page file with a job of some rows inside, made the way a person does: as the build leaves a place for it. */
export function pageWith(rows, file) {
  const lines = list(rows).trimEnd().split("\r\n").map((l) => l.split("\t"));
  const job = { format: "shimsheet job", version: 1, id: "0123456789abcdef" + String(rows).padStart(16, "0"), revision: 1, saved_at: "2026-11-01T08:00:00.000Z",
    machines: { name: "Machines", first_row: 2, header: lines[0], rows: lines.slice(1) } };
  const page = readFileSync(pageFile, "utf8");
  const place = '<script type="application/json" id="job">null</script>';
  if (!page.includes(place)) throw new Error("the page has no place for a job");
  writeFileSync(file, page.replace(place, () => place.replace("null", JSON.stringify(job).replace(/</g, "\\u003c"))));
}

const settings = {
  chromium: { browser: "chrome", executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"] },
  firefox: { browser: "firefox", executablePath: process.env.FIREFOX || "/usr/bin/firefox-esr", extraPrefsFirefox: { "datareporting.policy.dataSubmissionEnabled": false, "app.update.disabledForTesting": true, "browser.sessionstore.resume_from_crash": false, "toolkit.startup.max_resumed_crashes": -1 } },
};

/** The browser with a profile, on a page. */
async function start(name, profile, url) {
  const { default: puppeteer } = await import("puppeteer-core");
  const browser = await puppeteer.launch({ ...settings[name], headless: true, userDataDir: profile, defaultViewport: { width: 1366, height: 768 }, protocolTimeout: 240_000, timeout: 240_000 });
  const page = (await browser.pages())[0] ?? await browser.newPage();
  page.on("dialog", (d) => d.accept().catch(() => {}));
  await page.goto(url, { timeout: 240_000 });
  return { browser, page, version: await browser.version(), pid: browser.process().pid };
}

/** Ends a browser's whole process group, by its own id, without a word to it, and waits until it is gone. */
async function kill(b) {
  const gone = new Promise((r) => b.browser.process().once("exit", r));
  try { process.kill(-b.pid, "SIGKILL"); } catch { process.kill(b.pid, "SIGKILL"); }
  await gone;
  for (let i = 0; i < 100; i++) {
    try { process.kill(-b.pid, 0); } catch { break; } // nobody of the group is left
    await wait(20);
  }
  await b.browser.disconnect?.().catch?.(() => {});
}

const until = async (page, f, arg, what) => {
  for (const end = Date.now() + 120_000; Date.now() < end; await wait(25)) if (await page.evaluate(f, arg)) return;
  throw new Error("never became true: " + what);
};
const ready = (page) => until(page, () => document.documentElement.dataset.ready === "1", null, "the page is up");

/** Lets the page tell of each record that is on the disk: how many milliseconds after the key that ended the cell, and from when its writing was begun. The page itself is told
 * of that by the same event. */
const listen = (page, heard) => {
  page.on("console", (m) => {
    const found = /^on the disk: ([\d.]+) ([\d.]+)$/.exec(m.text());
    if (found) heard.push({ key: Number(found[1]), write: Number(found[2]) });
  });
  return page.evaluate(() => {
    let key = 0;
    addEventListener("keydown", (e) => { if (e.key === "Enter") key = performance.now(); }, true);
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...what) {
      const q = put.apply(this, what);
      if (this.name === "records") {
        const began = performance.now(), of = key;
        this.transaction.addEventListener("complete", () => console.debug(`on the disk: ${(performance.now() - of).toFixed(1)} ${(performance.now() - began).toFixed(1)}`));
      }
      return q;
    };
  });
};

/** All rows of the machines, as the page would save them. */
const rowsOf = (page) => page.evaluate(() => JSON.parse(JSON.parse(globalThis.shimsheet.call("job")).text).machines.rows);

/** One sitting: starts the browser, takes up what was left, looks what is there, types, and ends the browser. typed is what is to be there: row → text in the column
 * Note. Returns what was lost. */
async function sitting(name, profile, url, model, rnd, { sit, pause }) {
  const b = await start(name, profile, url);
  const { page } = b;
  await ready(page);
  const found = { asked: false, lost: [], extra: 0, said: "", version: b.version };
  if (model.kills > 0 && (model.typed.size || model.open)) {
    // What was left is looked for once the page is up, and offered when it is found, also when it is but the cell that was open at the end. Seen: typing went on under the
    // offer, was never taken, and counted as lost.
    for (const end = Date.now() + 10_000; Date.now() < end && !await page.evaluate(() => document.getElementById("dlg-copies").open); await wait(25));
    if (await page.evaluate(() => document.getElementById("dlg-copies").open)) {
      found.asked = true;
      await page.evaluate(() => [...document.querySelectorAll("#copies-body section.state button")].at(-1).click());
      await until(page, () => !document.getElementById("dlg-copies").open && document.getElementById("status").textContent.startsWith("Restored"), null, "the copy is taken up");
    }
    found.elsewhere = /another tab/.test(await page.evaluate(() => document.getElementById("savemark").textContent + document.getElementById("status").textContent));
    const rows = await rowsOf(page);
    const note = model.header.indexOf("Note");
    rows.forEach((r, i) => {
      const want = model.typed.get(i) ?? "row " + (i + 1), is = r[note] ?? "";
      if (is === want) return;
      if (model.open && model.open[0] === i && is === model.open[1]) {
        found.extra++; // the cell that was being typed came through all the same
        model.typed.set(i, is);
      } else found.lost.push({ row: i, want, is, ms: Math.round(model.ended - (model.at.get(i) ?? 0)) });
    });
    if (rows.length !== model.rows) found.lost.push({ rows: rows.length });
    for (const x of found.lost) {
      if (x.row === undefined) continue;
      x.told = model.order.indexOf(x.row) >= 0 && model.order.indexOf(x.row) < model.heard.length;
      model.typed.set(x.row, x.is);
    }
  }
  model.open = null;
  model.order = [];
  model.heard = [];
  await listen(page, model.heard);

  // Types readings as a person does: goes to a row, a column, and down. The browser may end at any key.
  const most = 700 + rnd() * (sit * 1000 - 700);
  let dead = false, begin;
  const begun = new Promise((r) => { begin = r; });
  const end = (async () => {
    await begun;
    await wait(most);
    dead = true;
    model.ended = performance.now();
    await kill(b);
  })();
  try {
    const at = Math.floor(rnd() * Math.max(model.rows - 60, 1));
    await page.evaluate((row) => {
      const x = JSON.parse(shimsheet.call("layout")).columns.findIndex((c) => c.name === "Note");
      shimsheetView.act("go", row, x, false);
      shimsheetView.focus();
    }, at);
    for (let i = at; !dead; i++) {
      begin();
      const text = (rnd() * 2 - 1).toFixed(3);
      model.open = [i, text];
      await page.keyboard.type(text, { delay: Math.round(25 + rnd() * 40) }); // a quick hand: three to five cells a second
      await page.keyboard.press("Enter");
      if (dead) break; // the end came at this key: the cell was being typed
      model.typed.set(i, text);
      model.at.set(i, performance.now());
      model.order.push(i);
      model.open = null;
      model.count++;
      if (pause) await wait(pause * (500 + rnd() * 1000));
      if (i + 1 >= model.rows) break;
    }
  } catch (e) {
    begin();
    if (!dead) { await end; throw e; }
  }
  await end;
  model.kills++;
  model.heard.forEach((w, i) => model.writes.push({ ...w, first: i === 0 }));
  return found;
}

/** Some kills of one browser on one length of list. */
export async function series(name, rows, kills, seed, log = () => {}, how = { sit: 4.7, pause: 0 }) {
  const rnd = random(seed);
  const dir = mkdtempSync(join(tmpdir(), "shimsheet-kill-"));
  const file = join(dir, `job-${rows}.html`);
  pageWith(rows, file);
  const writes = [];
  const fresh = () => ({ profile: mkdtempSync(join(dir, "profile-")), model: { rows, header: list(0).trimEnd().split("\t"), typed: new Map(), at: new Map(), ended: 0, open: null, kills: 0, count: 0, order: [], heard: [], writes } });
  const total = { browser: name, version: "", rows, kills: 0, typed: 0, lostCells: 0, lostKills: 0, lostMore: 0, lostThoughTold: 0, openKept: 0, asked: 0, saidElsewhere: 0, oldestLostMs: 0, broken: [] };
  let { profile, model } = fresh();
  try {
    // each sitting looks at what the kill before it left; the last one's kill is not counted
    while (total.kills < kills && Date.now() < (how.end ?? Infinity)) {
      const before = model.kills, typed = model.typed.size;
      const f = await sitting(name, profile, fileURL(file), model, rnd, how).catch((e) => ({ error: e }));
      if (f.error) {
        total.broken.push(String(f.error.stack ?? f.error).slice(0, 300));
        log(`${name} ${rows}: ${f.error.message}`);
        if (total.broken.length > 5 + kills / 10) throw f.error;
        ({ profile, model } = fresh());
        continue;
      }
      total.version = f.version;
      if (before > 0 && typed) {
        total.kills++;
        total.lostCells += f.lost.length;
        total.lostKills += f.lost.length > 0;
        total.lostMore += f.lost.length > 1;
        total.lostThoughTold += f.lost.filter((x) => x.told).length; // the page had heard that it is on the disk
        total.openKept += f.extra;
        total.asked += f.asked;
        total.saidElsewhere += f.elsewhere;
        total.oldestLostMs = Math.max(total.oldestLostMs, ...f.lost.map((x) => x.ms ?? Infinity));
        if (f.lost.length) log(`${name} ${rows}: lost ${JSON.stringify(f.lost.slice(0, 5))}`);
        if (total.kills % 5 === 0) log(`${name} ${rows}: ${total.kills} kills, ${total.typed + model.count} cells typed, lost after ${total.lostKills}`);
      }
      if (model.kills >= 12) { // a profile does not last for ever
        total.typed += model.count;
        rmSync(profile, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
        ({ profile, model } = fresh());
      }
    }
    total.typed += model.count;
    const spread = (list) => { list.sort((x, y) => x - y); return list.length ? { least: list[0], median: list[list.length >> 1], most: list.at(-1) } : null; };
    total.writes = { told: writes.length, keyToDiskMs: spread(writes.map((w) => w.key)), firstOfSittingMs: spread(writes.filter((w) => w.first).map((w) => w.key)), writeToDiskMs: spread(writes.map((w) => w.write)) };
  } finally {
    rmSync(dir, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
  }
  return total;
}

if (process.argv[1] && basename(process.argv[1]) === "kill.mjs") {
  const arg = (name, or) => { const i = process.argv.indexOf("-" + name); return i < 0 ? or : process.argv[i + 1]; };
  const names = { both: ["chromium", "firefox"] }[arg("browser", "both")] ?? [arg("browser")];
  const kills = Number(arg("kills", 10)), lengths = arg("rows", "40,2000,10000").split(",").map(Number), seed = Number(arg("seed", 1)), how = { sit: Number(arg("sit", 4.7)), pause: Number(arg("pause", 0)), end: Date.now() + Number(arg("minutes", 1e6)) * 60_000 }, out = arg("out", "");
  const log = (s) => console.log(new Date().toISOString().slice(11, 19), s);
  const all = existsSync(out) ? JSON.parse(readFileSync(out, "utf8")) : [];
  if (kills > 9) log(`a plain loop takes ${loopMs()} ms here`);
  for (const rows of lengths) {
    for (const name of names) {
      const begun = Date.now();
      const t = await series(name, rows, kills, seed + rows, log, how);
      t.seconds = Math.round((Date.now() - begun) / 1000);
      t.date = new Date().toISOString().slice(0, 10);
      all.push(t);
      console.log(JSON.stringify(t));
      if (out) writeFileSync(out, JSON.stringify(all, null, 1) + "\n");
    }
  }
}
