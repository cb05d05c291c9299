// One pack for a foot: what the panel, the sheet, One by one, the lists and both papers say is done under each foot, read as a person reads it, is the same.
// SHIMSHEET_PAPERS=DIR keeps the papers there as PDF.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, writeFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { browsers, chromium, pageFile, fileURL, root } from "./browsers.mjs";

const csv = (name) => readFileSync(join(root, "testdata/packs", name), "utf8").trim().split("\n").map((l) => l.split(","));
const sheet = (name, file) => { const [header, ...rows] = csv(file); return { name, first_row: 2, header, rows }; };
const job = { format: "shimsheet job", version: 1, id: "d".repeat(32), revision: 3, saved_at: "2026-01-01T00:00:00Z",
  machines: sheet("Machines", "machines.csv"), stock: sheet("Stock", "stock.csv"), feet: sheet("Feet", "feet.csv"), settings: sheet("Job", "job.csv") };

/** "0.50 + 0.10" or "take out 0.50, put in 1.00": what goes in and what comes out, thinnest first. */
const pieces = (s) => s.split("+").map(Number).sort((a, b) => a - b).join("+");
function reads(text) {
  const d = { take: "", put: "" };
  for (const part of text.split(", ")) {
    if (/^(short of stock|nothing|)$/.test(part)) continue;
    const m = part.match(/^(take out |put in )?([\d. +]+)$/);
    assert.ok(m, `"${text}" cannot be read`);
    d[m[1] === "take out " ? "take" : "put"] = pieces(m[2]);
  }
  return d.take || d.put ? `${d.take} | ${d.put}` : "";
}
const both = (pair) => [`${pair === "further" ? "further 1" : pair} 9`, `${pair === "further" ? "further 1" : pair} 3`];

/** The sentences of what to do. */
function sentences(list) {
  const out = {};
  const put = (feet, pair, text) => { for (const f of pair ? both(pair) : [feet]) if (reads(text)) out[f] = reads(text); };
  for (const s of list) {
    let m;
    if ((m = s.match(/^Add ([\d.]+) mm under (both (front|rear|further) feet|[a-z0-9 ]+?)(?: \(([^)]*)\))?;/))) put(m[2], m[3], m[4] ?? m[1]);
    else if ((m = s.match(/^Take out ([\d.]+) mm under (both (front|rear|further) feet|[a-z0-9 ]+?);/))) put(m[2], m[3], "take out " + m[1]);
    else if ((m = s.match(/^Add ([\d. +]+) mm under ([a-z0-9 ]+)(?:\.|, for)/))) put(m[2], null, m[1]);
    else if ((m = s.match(/^Under the flange at (bolt \d+) \([^)]*\): ([\d.]+) mm(?: \(([^)]*)\))?\./))) { if (Number(m[2])) put(m[1], null, m[3] ?? m[2]); }
    else if ((m = s.match(/^Under ([a-z0-9 ]+): (.*?)(?:; then|, for)/))) put(m[1], null, m[2]);
  }
  return out;
}
/** The cells of a front and a rear pack. */
function cells(front, rear) {
  const out = {};
  for (const [pair, text] of [["front", front], ["rear", rear]]) {
    const each = text.includes(": ") ? text.split("; ").map((s) => { const [side, ...does] = s.split(": "); return [`${pair} ${side}`, does.join(": ")]; }) : both(pair).map((f) => [f, text]);
    for (const [f, t] of each) if (reads(t)) out[f] = reads(t);
  }
  return out;
}
const only = (o, what) => Object.fromEntries(Object.entries(o).filter(([k]) => what.test(k)).sort());

for (const launch of browsers) {
  describe(launch.name, () => {
    let b, p, dir, want;
    before(async () => {
      dir = mkdtempSync(join(tmpdir(), "shimsheet-packs-"));
      const file = join(dir, "packs.html");
      writeFileSync(file, readFileSync(pageFile, "utf8").replace('<script type="application/json" id="job">null</script>', () => `<script type="application/json" id="job">${JSON.stringify(job).replace(/</g, "\\u003c")}</script>`));
      b = await launch();
      p = await b.open(fileURL(file));
      await p.idle();
      await p.front();
      await p.eval(() => { globalThis.print = () => {}; });
    });
    after(async () => {
      await b?.close();
      rmSync(dir, { recursive: true, force: true });
    });
    const shared = () => p.until(() => document.documentElement.dataset.sharing === "0");
    const does = () => p.eval(() => [...document.querySelectorAll("#panel-row ol li")].map((e) => e.textContent));
    const row = async (i) => { await p.click("#tab-0"); await p.goTo(i, "Machine"); await p.idle(); };

    test("from a full box at first, and then from the stock shared out, with the time", async () => {
      await shared();
      await row(1);
      assert.match(await p.text("#panel-row"), /The packs are from the stock shared out over the whole job, on .* \(revision 3\)\./);
    });

    test("the lists", async () => {
      await p.click("#tab-shims");
      await p.until(() => document.querySelector("#screen-shims table.list") && !document.querySelector("#screen-shims [aria-busy]"));
      const list = await p.eval(() => [...document.querySelectorAll("#screen-shims tbody tr")].map((tr) => [...tr.children].map((c) => c.textContent)));
      want = {};
      for (const [machine, foot, , , text] of list) if (reads(text)) (want[machine] ??= {})[foot] = reads(text);
      assert.match(await p.text("#screen-shims"), /from the stock shared out over the whole job, on .*chosen together.*D together, E together soft/s);
      assert.ok(want["B the same"]["front 9"] !== want["B the same"]["front 3"], "the stock is scarce enough to try something");
      const marked = await p.eval(() => [...document.querySelectorAll("#screen-shims tr.short")].map((tr) => tr.children[2].textContent));
      assert.ok(marked.length > 0 && marked.every((t) => t.startsWith("short of stock")), String(marked));
      // the order list counts what the pick list puts in
      const put = {};
      for (const does of Object.values(want).flatMap((feet) => Object.values(feet))) for (const piece of does.split(" | ")[1].split("+").filter(Number)) put[Number(piece)] = (put[Number(piece)] ?? 0) + 1;
      const press = (k) => p.click(`#screen-shims [role=toolbar] button:nth-of-type(${k})`);
      await press(2);
      await p.until(() => document.querySelector("#screen-shims thead th")?.textContent.startsWith("Thickness"));
      const order = await p.eval(() => [...document.querySelectorAll("#screen-shims tbody tr")].map((tr) => [...tr.children].map((c) => Number(c.textContent))));
      assert.deepEqual(Object.fromEntries(order.filter(([, n]) => n > 0).map(([mm, n]) => [mm, n])), put);
      await press(1);
      await p.until(() => document.querySelector("#screen-shims thead th")?.textContent === "Machine" && !document.querySelector("#screen-shims [aria-busy]"));
    });

    test("panel, columns and One by one say the same of every foot", async () => {
      for (const [i, m] of job.machines.rows.entries()) {
        await row(i);
        const name = m[0], mine = Object.fromEntries(Object.entries(want[name] ?? {}).sort());
        assert.deepEqual(only(sentences(await does()), /./), mine, name + ", panel");
        if (name !== "F inside") {
          const c = cells((await p.column("Front pack", i, i + 1))[0], (await p.column("Rear pack", i, i + 1))[0]);
          assert.deepEqual(only(c, /front|rear/), only(mine, /front|rear/), name + ", columns");
        }
        await p.click("#tab-crew");
        await p.idle();
        const said = await p.eval(() => [...document.querySelectorAll(".crew-says ol li")].map((e) => e.textContent));
        assert.deepEqual(only(sentences(said), /./), mine, name + ", one by one");
      }
    });

    test("both papers say the same, where it comes from and when; a machine that stays has no shims and moves on them", async () => {
      await p.click("#tab-0");
      await p.click("header [data-do=print]");
      await p.until(() => !!document.querySelector("#paper table"));
      const paper = await p.eval(() => ({ head: [...document.querySelectorAll("#paper th")].map((e) => e.textContent), rows: [...document.querySelectorAll("#paper tbody tr")].map((tr) => [...tr.children].map((c) => c.textContent)), text: document.querySelector("#paper").textContent }));
      const at = (name) => paper.head.findIndex((t) => t.startsWith(name));
      for (const r of paper.rows) {
        if (r.length < paper.head.length) { // one cell says all: it stays, it is on a flange, or there is no line
          assert.ok(!Object.keys(only(want[r[1]] ?? {}, /front|rear/)).length, r[1] + " has packs: " + r.join(" | "));
          if (/inside/.test(r[1])) assert.equal(r.at(-1), "stays", r[1]);
          continue;
        }
        assert.deepEqual(only(cells(r[at("Front pack")], r[at("Rear pack")]), /./), only(want[r[1]] ?? {}, /front|rear/), r[1]);
        const moves = [r[at("Front push")], r[at("Rear push")]];
        if (/inside/.test(r[1])) assert.deepEqual(moves, ["stays", "stays"], r[1]);
        if (r[1] === "H tiny") assert.deepEqual(moves, ["leave", "leave"]);
      }
      assert.match(paper.text, /from the stock shared out over the whole job, on .*short of, to be ordered.*chosen together/s);
      for (const i of [1, 2, 4]) {
        await row(i);
        await p.click("header [data-do=printMachine]");
        await p.until((name) => document.querySelector("#paper h1")?.textContent === name, job.machines.rows[i][0]);
        const said = await p.eval(() => [...document.querySelectorAll("#paper .one > ol li")].map((e) => e.textContent));
        assert.deepEqual(only(sentences(said), /./), only(want[job.machines.rows[i][0]], /./), job.machines.rows[i][0] + ", on paper");
        assert.match(await p.text("#paper"), /The packs are from the stock shared out over the whole job, on /);
      }
    });

    test("a change: from a full box until the stock is shared out again", async () => {
      await row(0);
      await p.goTo(0, "Given offset V");
      await p.type("-0.10");
      await p.press1("Enter");
      await p.idle();
      await p.goTo(1, "Machine");
      await p.idle();
      const between = await p.eval(() => [document.documentElement.dataset.sharing, document.querySelector("#panel-row").textContent]);
      if (between[0] === "1") assert.match(between[1], /The packs are from a full box: the stock is not shared out over the job yet/);
      await shared();
      await p.until(() => /stock shared out over the whole job, on .* \(revision 3 with later changes\)/.test(document.querySelector("#panel-row").textContent));
      await p.press1("Control+z");
      await shared();
      await row(1);
      assert.deepEqual(only(sentences(await does()), /./), only(want["B the same"], /./), "undone, it is as it was");
    });

    if (process.env.SHIMSHEET_PAPERS && launch === chromium) test("papers", async () => {
      const out = process.env.SHIMSHEET_PAPERS;
      await row(1);
      await p.raw.screenshot({ path: join(out, "panel.png") });
      for (const [file, tab, how] of [["machine", "#tab-0", "header [data-do=printMachine]"], ["list", "#tab-0", "header [data-do=print]"], ["pick", "#tab-shims", null]]) {
        await p.click(tab);
        await p.idle();
        if (how) await p.click(how);
        else {
          await p.until(() => document.querySelector("#screen-shims table.list") && !document.querySelector("#screen-shims [aria-busy]"));
          await p.eval(() => dispatchEvent(new Event("beforeprint")));
        }
        await new Promise((r) => setTimeout(r, 500));
        await p.raw.pdf({ path: join(out, file + ".pdf"), preferCSSPageSize: true });
      }
    });

    test("asked the network for nothing and said nothing on the console", async () => {
      assert.deepEqual(b.record.errors, []);
      assert.deepEqual(b.record.requests.filter((u) => !/^(file:|about:|data:|blob:)/.test(u)), []);
    });
  });
}
