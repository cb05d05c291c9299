// One way of driving both browsers: Debian's Chromium by playwright-core, Debian's Firefox by puppeteer-core over WebDriver BiDi.
// Every browser runs with a fresh profile and downloads into a directory of its own.
import { mkdtempSync, readdirSync, statSync, existsSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve, dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

export const root = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
export const pageFile = process.env.SHIMSHEET_PAGE ? resolve(process.env.SHIMSHEET_PAGE) : join(root, "dist/shimsheet.html");
export const fileURL = (path) => pathToFileURL(path).href;
export const wait = (ms) => new Promise((r) => setTimeout(r, ms));

if (!existsSync(pageFile)) throw new Error(`${pageFile} is missing: build it first with go run ./cmd/pagebuild`);

const chromiumFlags = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/** What a page did that it should not: requests, console errors, exceptions, policy violations. */
class Record {
  requests = [];
  errors = [];
}

// Saving writes into a picked file where the browser offers that; no test can answer the browser's own dialog, so the tests save by download.
const watchPolicy = () => { delete globalThis.showSaveFilePicker; addEventListener("securitypolicyviolation", (e) => console.error("policy violation: " + e.violatedDirective + " " + e.blockedURI)); };

export async function chromium(size = { width: 1366, height: 768 }, touch = false) {
  const { chromium } = await import("playwright-core");
  const downloads = mkdtempSync(join(tmpdir(), "shimsheet-chromium-"));
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", headless: true, args: chromiumFlags, downloadsPath: downloads });
  const context = await browser.newContext({ viewport: size, acceptDownloads: true, hasTouch: touch });
  await context.addInitScript(watchPolicy);
  const record = new Record();
  const open = async (url, init) => {
    const p = await context.newPage();
    if (init) await p.addInitScript(init);
    p.on("request", (r) => record.requests.push(r.url()));
    p.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") record.errors.push(m.text()); });
    p.on("pageerror", (e) => record.errors.push(String(e.stack || e)));
    p.on("dialog", (d) => d.accept().catch(() => {}));
    if (url) await p.goto(url);
    return new Page(p, {
      press: (k) => p.keyboard.press(k),
      type: (s) => p.keyboard.type(s),
      click: (sel, opt) => p.click(sel, opt),
      doubleClick: (sel) => p.dblclick(sel),
      files: (sel, f) => p.setInputFiles(sel, f),
      choose: async (sel, v) => { await p.focus(sel); await p.selectOption(sel, v); },
      reload: () => p.reload(),
      front: () => p.bringToFront(),
      size: (width, height) => p.setViewportSize({ width, height }),
      down: (k) => p.keyboard.down(k),
      up: (k) => p.keyboard.up(k),
      mouse: p.mouse,
      touch: (x, y) => p.touchscreen.tap(x, y),
      async download(f) {
        const [d] = await Promise.all([p.waitForEvent("download"), f()]);
        const to = join(downloads, d.suggestedFilename());
        await d.saveAs(to);
        return to;
      },
    });
  };
  return { name: "Chromium", version: browser.version(), open, record, downloads, context, close: async () => { await browser.close(); rmSync(downloads, { recursive: true, force: true }); } };
}

export async function firefox(size = { width: 1366, height: 768 }, touch = false) {
  const { default: puppeteer } = await import("puppeteer-core");
  const downloads = mkdtempSync(join(tmpdir(), "shimsheet-firefox-"));
  const browser = await puppeteer.launch({
    browser: "firefox", executablePath: process.env.FIREFOX || "/usr/bin/firefox-esr", headless: true, defaultViewport: size,
    extraPrefsFirefox: {
      ...(touch ? { "dom.w3c_touch_events.enabled": 1 } : {}),
      "browser.download.folderList": 2, "browser.download.dir": downloads, "browser.download.useDownloadDir": true, "browser.download.always_ask_before_handling_new_types": false,
      "browser.helperApps.neverAsk.saveToDisk": "text/html,application/json,text/csv,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet,application/vnd.ms-excel.sheet.macroEnabled.12", "datareporting.policy.dataSubmissionEnabled": false, "app.update.disabledForTesting": true,
    },
  });
  const record = new Record();
  const combo = async (p, k) => {
    const keys = k.split("+");
    const last = { Space: " " }[keys.at(-1)] ?? keys.at(-1);
    keys.pop();
    for (const m of keys) await p.keyboard.down(m);
    await p.keyboard.press(last);
    for (const m of keys.reverse()) await p.keyboard.up(m);
  };
  // What is drawn anew between finding and pressing is looked for once more, as playwright does by itself. Seen on a busy machine: "Node is detached from document".
  const click = async (p, sel, opt) => {
    for (let left = 20; ; left--) {
      try {
        // What lies under something else is scrolled to, as a person does, and playwright. Seen: a field under the key pad of a phone was pressed through the pad.
        await p.$eval(sel, (el) => {
          const r = el.getBoundingClientRect(), at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2);
          if (r.width && !el.contains(at) && !at?.contains(el)) el.scrollIntoView({ block: "center" });
        });
        return await p.click(sel, opt);
      } catch (e) {
        if (!left || !/detached/.test(e.message)) throw e;
        await wait(25);
      }
    }
  };
  const open = async (url, init) => {
    const p = await browser.newPage();
    await p.evaluateOnNewDocument(watchPolicy);
    if (init) await p.evaluateOnNewDocument(init);
    p.on("request", (r) => record.requests.push(r.url()));
    p.on("console", (m) => { if (m.type() === "error" || m.type() === "warn") record.errors.push(m.text()); });
    p.on("pageerror", (e) => record.errors.push(String(e.stack || e)));
    p.on("dialog", (d) => d.accept().catch(() => {}));
    if (url) await p.goto(url);
    return new Page(p, {
      press: (k) => combo(p, k),
      type: (s) => p.keyboard.type(s),
      click: (sel, opt) => (opt?.modifiers?.length
        ? p.keyboard.down(opt.modifiers[0]).then(() => click(p, sel)).then(() => p.keyboard.up(opt.modifiers[0]))
        : click(p, sel)),
      doubleClick: (sel) => click(p, sel, { count: 2 }),
      files: async (sel, f) => (await p.$(sel)).uploadFile(f),
      choose: async (sel, v) => { await p.focus(sel); await p.select(sel, v); },
      reload: () => p.reload(),
      front: () => p.bringToFront(),
      size: (width, height) => p.setViewport({ width, height }),
      down: (k) => p.keyboard.down(k),
      up: (k) => p.keyboard.up(k),
      mouse: p.mouse,
      touch: (x, y) => p.touchscreen.tap(x, y),
      async download(f) {
        const before = new Set(readdirSync(downloads));
        await f();
        let seen = ""; // a file has a name of the browser's own first, and may be gone between two looks: it has arrived when it stands there twice
        for (let i = 0; i < 200; i++) {
          const all = readdirSync(downloads), file = all.find((n) => !before.has(n) && !n.endsWith(".part"));
          const whole = file && !all.some((n) => n.endsWith(".part")) && statSync(join(downloads, file), { throwIfNoEntry: false })?.size > 0;
          if (whole && file === seen) return join(downloads, file);
          seen = whole ? file : "";
          await wait(50);
        }
        throw new Error("no file arrived in " + downloads);
      },
    });
  };
  return { name: "Firefox", version: await browser.version(), open, record, downloads, close: async () => { await browser.close(); rmSync(downloads, { recursive: true, force: true }); } };
}

/** Both browsers; with SHIMSHEET_QUICK set Chromium alone, for the files whose run in Firefox takes minutes and finds what the others' find. */
export const browsers = process.env.SHIMSHEET_QUICK ? [chromium] : [chromium, firefox];

/** A page of Shimsheet under real keys and a real mouse. */
class Page {
  constructor(raw, how) {
    this.raw = raw;
    Object.assign(this, how);
    // What stands in a closed menu is reached through the menu's button, as a person does.
    this.click = async (sel, opt) => {
      const opener = await this.eval((q) => {
        const menu = document.querySelector(q)?.closest(".menu[hidden]");
        return menu ? `[data-menu=${menu.id}]` : null;
      }, sel);
      if (opener) await how.click(opener);
      await how.click(sel, opt);
    };
    this.eval = (f, ...a) => raw.evaluate(a.length > 1 ? new Function("list", `return (${f})(...list)`) : f, a.length > 1 ? a : a[0]);
  }
  async until(f, arg, what = String(f)) {
    // Yes or no is said in the page: Firefox hands an element over as nothing at all. Seen: "never became true" of an element that stood there.
    const yes = new Function("arg", `return Boolean((${f})(arg))`);
    for (const end = Date.now() + 60_000; Date.now() < end;) {
      if (await this.eval(yes, arg)) return;
      await wait(25);
    }
    throw new Error("never became true: " + what);
  }
  /** Waits until the page is up and nothing waits to be worked out or drawn. */
  async idle() {
    await this.until(() => document.documentElement.dataset.ready === "1" && document.documentElement.dataset.idle === "1");
  }
  async press1(...keys) {
    for (const k of keys) await this.press(k);
    await this.idle();
  }
  text(sel) { return this.eval((s) => document.querySelector(s)?.textContent ?? null, sel); }
  state() { return this.eval(() => JSON.parse(shimsheet.call("state"))); }
  /** Shown text of cells by column name and row, straight from the program. */
  async column(name, from = 0, to = 60) {
    const x = await this.columnAt(name);
    const s = await this.eval(([x, a, b]) => shimsheet.call("viewport", x, a, x + 1, b), [x, from, to]);
    return s.split("\x1e").slice(0, -1).map((r) => r.slice(1, -1));
  }
  async columnAt(name) {
    const x = await this.eval((n) => JSON.parse(shimsheet.call("layout")).columns.findIndex((c) => c.name === n), name);
    if (x < 0) throw new Error("no column " + name);
    return x;
  }
  /** The job as it would be saved. */
  async job() { return JSON.parse(JSON.parse(await this.eval(() => shimsheet.call("job"))).text); }
  /** Answers the choice between several states: "file", or "copy" for the last of the others. Returns what it said. */
  async answer(which) {
    await this.until(() => document.getElementById("dlg-copies").open, null, "the choice is shown");
    const text = await this.text("#copies-body");
    await this.eval((last) => { const all = [...document.querySelectorAll("#copies-body section.state > p > button")]; all.at(last ? -1 : 0).click(); }, which === "copy");
    await this.until(() => !document.getElementById("dlg-copies").open);
    await this.until((last) => (last ? /^Restored/ : /^Going on with/).test(document.getElementById("status").textContent), which === "copy");
    await this.idle();
    return text;
  }
  /** The safety copies on the disk: what is known of each line of work, with whole (it has a whole copy), rows (of a long one) and records behind it. */
  kept() {
    return this.eval(async () => {
      const db = await new Promise((r) => { const q = indexedDB.open("shimsheet"); q.onsuccess = () => r(q.result); });
      const all = (store) => new Promise((r) => { const q = db.transaction(store).objectStore(store).getAll(); q.onsuccess = () => r(q.result); });
      const [lines, wholes, records] = [await all("lines"), await all("wholes"), await all("records")];
      db.close();
      return lines.map((l) => { const w = wholes.find((x) => x.line === l.line); return { ...l, whole: !!w, pieces: w?.rows.length ?? 0, records: records.filter((r) => r.line === l.line && r.seq > (w?.after ?? 0)).length }; });
    });
  }
  /** Where an element is on the screen: x, y, width, height. */
  box(sel) {
    return this.eval((s) => { const r = document.querySelector(s).getBoundingClientRect(); return { x: r.x, y: r.y, width: r.width, height: r.height }; }, sel);
  }
  /** Touches the middle of an element, which has to be what lies uppermost there. */
  async tap(sel) {
    const at = await this.eval((s) => {
      const e = document.querySelector(s), r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2, top = document.elementFromPoint(x, y);
      return { x, y, free: !!top && (e.contains(top) || top.contains(e)), what: (top?.className || top?.tagName) + " " + innerWidth + "×" + innerHeight };
    }, sel);
    if (!at.free) throw new Error(`${sel} cannot be touched at ${at.x}, ${at.y}: there is ${at.what}`);
    await this.touch(at.x, at.y);
  }
  /** Draws with the mouse from the middle of one element to another, or to a place. */
  async draw(from, to, meanwhile) {
    const mid = async (s) => { if (typeof s !== "string") return s; const b = await this.box(s); return { x: b.x + b.width / 2, y: b.y + b.height / 2 }; };
    const a = await mid(from), z = await mid(to);
    await this.mouse.move(a.x, a.y);
    await this.mouse.down();
    await this.mouse.move((a.x + z.x) / 2, (a.y + z.y) / 2);
    await this.mouse.move(z.x, z.y);
    await meanwhile?.();
    await this.mouse.up();
    await this.idle();
  }
  /** The cells on the screen as the reader of the page sees them: {id: {text, cls}}. */
  seen() {
    return this.eval(() => Object.fromEntries([...document.querySelectorAll("regular-table tbody [id^=cell-]")].map((c) => [c.id.slice(5), c.textContent])));
  }
  /** Puts the cursor at a column (by name) and a row with the program's own keys: Ctrl+Home, then arrows. */
  async goTo(row, name) {
    const x = typeof name === "number" ? name : await this.columnAt(name);
    await this.press("Control+Home");
    for (let i = 0; i < row; i++) await this.press("ArrowDown");
    for (let i = 0; i < x; i++) await this.press("ArrowRight");
    await this.idle();
  }
}

/** Puts a text on the clipboard by a real copy out of a text area in another tab. */
export async function copyText(browser, text) {
  const tab = await browser.open("about:blank");
  await tab.eval((t) => {
    document.body.innerHTML = "<textarea></textarea>";
    const a = document.querySelector("textarea");
    a.value = t;
    a.focus();
    a.select();
  }, text);
  await tab.front();
  await tab.press("Control+a");
  await tab.press("Control+c");
  await wait(300);
  await tab.raw.close();
}

/** A list of couplings, reverse indicator, 20 columns, header row first, as a workbook puts it on the clipboard. */
export function list(rows) {
  const head = ["Machine", "Stationary", "Speed [rpm]", "Coupling", "Coupling to stationary plane [mm]", "Coupling to movable plane [mm]", "Coupling to front feet [mm]", "Front to rear feet [mm]",
    "Movable rim 12 [mm]", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9", "Movable sag at 6", "Stationary sag at 6", "Side at 3", "Note"];
  const out = [head];
  for (let i = 0; i < rows; i++) {
    const d = ((i % 41) - 20) / 100, h = ((i % 23) - 11) / 100;
    const f = (x) => x.toFixed(2);
    out.push([`Pump ${i + 1}`, `Motor ${i + 1}`, "1480", "short", "120", "130", "410", "620", "0", f(h - d), f(-2 * d), f(-h - d), "0", f(d - h + 0.1), f(2 * (d + 0.1)), f(d + h + 0.1), "0", "0", "river side", "row " + (i + 1)]);
  }
  return out.map((r) => r.join("\t")).join("\r\n") + "\r\n";
}

// For the benchmarks.

export const median = (a) => [...a].sort((x, y) => x - y)[Math.floor(a.length / 2)];
export const round = (x) => Math.round(x * 10) / 10;

/** How fast this machine is just now, ms: a plain loop, to set the figures against (0.3 s on an ordinary laptop, from memory). */
export function loopMs() {
  const t = performance.now();
  let sum = 0;
  for (let i = 0; i < 3e8; i++) sum += i;
  return sum > 0 ? Math.round(performance.now() - t) : 0;
}
