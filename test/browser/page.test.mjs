// The offline page in both browsers: real keys, a real clipboard, real files. Each test's wanted outcome is what a person would see;
// where a number is expected it is worked out here by hand, from the half differences that every textbook of the trade gives.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { once } from "node:events";
import { chromium, firefox, copyText, list, pageFile, fileURL } from "./browsers.mjs";

for (const launch of [chromium, firefox]) {
  describe(launch.name, () => {
    let b, p;
    before(async () => {
      b = await launch();
      console.log(`# ${b.name} ${b.version}`);
    });
    after(async () => { await b?.close(); });

    const fresh = async () => {
      if (p) await p.raw.close();
      p = await b.open(fileURL(pageFile));
      await p.idle();
      // a job of an earlier test is brought back from its safety copy or listed: begin anew
      if ((await p.state()).columns > 0 || (await p.state()).changes > 0) {
        await p.click("header [data-do=new]");
        await p.idle();
      }
    };

    test("starts empty and says what to do first", async () => {
      await fresh();
      assert.match(await p.text("#welcome"), /Paste your list from a workbook/);
      assert.equal(await p.eval(() => document.getElementById("welcome").hidden), false);
      assert.equal(await p.eval(() => document.documentElement.scrollHeight <= innerHeight), true, "the page itself scrolls");
      assert.match(await p.eval(() => document.querySelector("meta[http-equiv]").content), /default-src 'none'.*connect-src 'none'/);
    });

    test("a machine typed by keys is worked out, edited, undone and done again", async () => {
      await fresh();
      await p.click("#welcome [data-columns='reverse indicator']");
      await p.idle();
      assert.equal(await p.eval(() => document.activeElement.getAttribute("role")), "grid", "the sheet has the focus");
      const value = {
        Machine: "Pump 1 motor", "Side at 3": "river side", "Side at 9": "wall", Coupling: "short", Speed: "1480", "Coupling to stationary plane": "100", "Coupling to movable plane": "100",
        "Coupling to front feet": "300", "Front to rear feet": "500",
        // parallel offset: V +0.10 mm, H +0.05 mm at both planes: movable rim c + V cos + H sin, stationary rim c − V cos − H sin, zeroed at 12
        "Movable rim 12": "0", "Movable rim 3": "-0.05", "Movable rim 6": "-0.20", "Movable rim 9": "-0.15",
        "Stationary rim 12": "0", "Stationary rim 3": "0.05", "Stationary rim 6": "0.20", "Stationary rim 9": "0.15",
      };
      const columns = await p.eval(() => JSON.parse(shimsheet.call("layout")).columns.filter((c) => !c.result).map((c) => c.name));
      assert.equal(columns[0], "Machine");
      for (const c of columns) {
        if (value[c]) await p.type(value[c]);
        await p.press("Tab");
        delete value[c];
      }
      assert.deepEqual(value, {}, "columns that were not offered");
      await p.idle();
      assert.deepEqual(await p.column("Verdict", 0, 1), ["outside"]);
      assert.match((await p.column("Offset V", 0, 1))[0], /^0\.100 ± /);
      assert.match((await p.column("Offset H", 0, 1))[0], /^0\.050 ± /);
      assert.match((await p.column("Front shim", 0, 1))[0], /^-0\.10 ± /);
      assert.match((await p.column("Rear shim", 0, 1))[0], /^-0\.10 ± /);
      assert.match((await p.column("Front move", 0, 1))[0], /^0\.05 ± .* wall$/);

      await p.goTo(0, "Machine");
      const panel = await p.text("#panel-row");
      assert.match(panel, /Pump 1 motor/);
      assert.match(panel, /What to do, in this order/);
      assert.ok(panel.indexOf("front feet") < panel.indexOf("towards the wall"), "heights first, then sideways: " + panel);
      assert.match(panel, /measure again/i);

      // typing replaces; the result follows
      await p.goTo(0, "Movable rim 6");
      assert.match(await p.text("#cell-meaning"), /mm/);
      await p.type("-0.19");
      await p.press1("Enter");
      assert.deepEqual(await p.column("Movable rim 6", 0, 1), ["-0.19"]);
      const edited = (await p.column("Offset V", 0, 1))[0];
      assert.doesNotMatch(edited, /^0\.100 /, "result went stale");
      assert.equal((await p.state()).row, 1, "Enter goes down");
      await p.press1("Control+z");
      assert.deepEqual(await p.column("Movable rim 6", 0, 1), ["-0.20"]);
      assert.match((await p.column("Offset V", 0, 1))[0], /^0\.100 ± /);
      assert.match(await p.text("#redo"), /typing/);
      await p.press1("Control+y");
      assert.equal((await p.column("Offset V", 0, 1))[0], edited);
      await p.press1("Control+z", "Control+Shift+z");
      assert.equal((await p.column("Offset V", 0, 1))[0], edited);

      // F2 edits the text that is there; Escape leaves it
      await p.goTo(0, "Machine");
      await p.press("F2");
      await p.type(" A");
      await p.press1("Enter");
      assert.deepEqual(await p.column("Machine", 0, 1), ["Pump 1 motor A"]);
      await p.press("ArrowUp");
      await p.type("never");
      await p.press1("Escape");
      assert.deepEqual(await p.column("Machine", 0, 1), ["Pump 1 motor A"]);
      assert.equal(await p.eval(() => document.getElementById("editor").hidden), true);

      // Delete empties; the row is no longer judged, and says why
      await p.goTo(0, "Speed");
      await p.press1("Delete");
      assert.deepEqual(await p.column("Verdict", 0, 1), ["not judged"]);
      assert.notEqual((await p.column("Why", 0, 1))[0], "");
      assert.equal((await p.column("Offset V", 0, 1))[0], edited, "sound numbers stay");
      await p.press1("Control+z");
      assert.deepEqual(await p.column("Verdict", 0, 1), ["outside"]);
      // a result cannot be typed
      await p.goTo(0, "Verdict");
      await p.type("x");
      await p.idle();
      assert.match(await p.text("#status"), /cannot be typed/);
      assert.deepEqual(await p.column("Verdict", 0, 1), ["outside"]);
    });

    test("a wrong cell is named with what would be right, and the list jumps to it", async () => {
      await p.goTo(0, "Coupling to front feet");
      await p.type("12,5,0");
      await p.press1("Enter");
      assert.deepEqual(await p.column("Coupling to front feet", 0, 1), ["12,5,0"], "what was typed is not lost");
      await p.press1("Control+Home");
      await p.click("#side-problems");
      const text = await p.text("#panel-problems");
      assert.match(text, /\(row 2\), Coupling to front feet.*12,5,0/s);
      await p.click("#panel-problems .error");
      await p.idle();
      const s = await p.state();
      assert.equal(s.col, await p.columnAt("Coupling to front feet"));
      assert.match(await p.text("#cell-help"), /Problem: .*12,5,0/);
      assert.equal(await p.eval(() => document.querySelector(".cur").getAttribute("aria-invalid")), "true");
      assert.match(await p.eval(() => document.querySelector(".cur").className), /perr/);
      await p.click("#side-row");
      await p.press1("Control+z");
      assert.equal(await p.eval(() => document.querySelector(".perr")), null);
    });

    test("arrows, Ctrl, Shift, Home, End, Page keys and the mouse", async () => {
      await fresh();
      await copyText(b, list(60));
      await p.front();
      await p.press1("Control+v");
      const at = async () => { const s = await p.state(); return [s.row, s.col]; };
      const w = (await p.state()).columns;
      await p.press1("Control+Home");
      assert.deepEqual(await at(), [0, 0]);
      await p.press1("ArrowDown", "ArrowRight", "ArrowRight", "ArrowUp", "ArrowLeft");
      assert.deepEqual(await at(), [0, 1]);
      await p.press1("Control+ArrowDown");
      assert.deepEqual(await at(), [59, 1], "to the edge of the filled cells");
      assert.equal(await p.eval(() => !!document.querySelector("#cell-59-1")), true, "scrolled into sight");
      await p.press1("Control+Home", "End");
      assert.deepEqual(await at(), [0, w - 1]);
      await p.press1("Control+End");
      assert.deepEqual(await at(), [59, w - 1]);
      assert.equal(await p.eval((c) => { const e = document.querySelector("#cell-59-" + c); const r = e.getBoundingClientRect(), g = document.getElementById("sheet").getBoundingClientRect(); return r.right <= g.right + 1 && r.bottom <= g.bottom + 1; }, w - 1), true, "the last cell is wholly in sight");
      await p.press1("Home");
      assert.deepEqual(await at(), [59, 0]);
      await p.press1("PageUp");
      assert.ok((await at())[0] < 50 && (await at())[0] > 20);
      await p.press1("Control+Home", "Shift+ArrowDown", "Shift+ArrowDown", "Shift+ArrowRight");
      assert.deepEqual((await p.state()).sel, [0, 0, 2, 1]);
      assert.equal(await p.eval(() => document.querySelectorAll("#sheet [aria-selected=true]").length), 6);
      await p.press1("Control+a");
      assert.deepEqual((await p.state()).sel, [0, 0, 59, w - 1]);
      await p.click("#cell-3-3");
      await p.idle();
      assert.deepEqual(await at(), [3, 3]);
      await p.click("#cell-5-4", { modifiers: ["Shift"] });
      await p.idle();
      assert.deepEqual((await p.state()).sel, [3, 3, 5, 4]);
      const box = await p.eval(() => ["#cell-2-3", "#cell-6-4"].map((s) => { const r = document.querySelector(s).getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }));
      await p.mouse.move(...box[0]);
      await p.mouse.down();
      await p.mouse.move(box[1][0] - 4, box[1][1] - 4);
      await p.mouse.move(...box[1]);
      await p.mouse.up();
      await p.idle();
      assert.deepEqual((await p.state()).sel, [2, 3, 6, 4]);
      await p.doubleClick("#cell-4-0");
      await p.until(() => !document.getElementById("editor").hidden);
      assert.equal(await p.eval(() => document.getElementById("editor").value), "Pump 5");
      await p.press1("Escape");
      // a column by its header, a row by its number
      await p.eval(() => { window.before = shimsheet.call("state"); });
      await p.click("regular-table tbody tr:nth-child(2) th.rowno");
      await p.idle();
      assert.deepEqual((await p.state()).sel, [1, 0, 1, w - 1]);
    });

    test("copy in the sheet and paste elsewhere in it; fill down; rows in and out", async () => {
      await p.goTo(0, 0);
      await p.press1("Control+c");
      assert.match(await p.text("#status"), /on the clipboard/);
      await p.goTo(59, 0);
      await p.press1("ArrowDown", "Control+v");
      assert.deepEqual(await p.column("Machine", 60, 61), ["Pump 1"]);
      assert.deepEqual(await p.column("Verdict", 60, 61), ["not judged"]);
      await p.press1("Control+x");
      assert.deepEqual(await p.column("Machine", 60, 61), [""]);
      // a row with its results comes back without them
      await p.goTo(0, 0);
      await p.press1("Shift+Space", "Control+c");
      await p.goTo(60, 0);
      await p.press1("Control+v");
      assert.deepEqual(await p.column("Note", 60, 61), ["row 1"]);
      assert.match((await p.column("Why", 60, 61))[0], /row 2/, "the second row of a name points at the first");
      await p.press1("Control+z", "Control+z", "Control+z");
      const speed = await p.columnAt("Speed");
      await p.goTo(0, speed);
      await p.type("2960");
      await p.press1("Enter", "ArrowUp", "Shift+ArrowDown", "Shift+ArrowDown", "Control+d");
      assert.deepEqual(await p.column("Speed", 0, 4), ["2960", "2960", "2960", "1480"]);
      await p.press1("Control+z", "Control+z");
      assert.deepEqual(await p.column("Speed", 0, 4), ["1480", "1480", "1480", "1480"]);
      await p.goTo(1, 0);
      await p.click("[data-do=insertRows]");
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 3), ["Pump 1", "", "Pump 2"]);
      await p.click("[data-do=deleteRows]");
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 3), ["Pump 1", "Pump 2", "Pump 3"]);
    });

    test("2,000 × 20 cells come in by the clipboard, one undo takes them out", async () => {
      await fresh();
      await copyText(b, list(2000));
      await p.front();
      await p.press1("Control+v");
      assert.equal((await p.state()).rows, 2000);
      assert.match(await p.text("#counts"), /^2,000 couplings: /);
      const verdicts = await p.column("Verdict", 0, 2000);
      assert.equal(verdicts.filter((v) => v === "inside" || v === "outside" || v === "too close to call").length, 2000, "all are judged");
      // row i: V = d at the movable plane and −(−(d + 0.1)) … by half differences: V(130) = −R6/2 = d, V(−120) = R6/2 = d + 0.1
      const d = (i) => ((i % 41) - 20) / 100;
      const v = await p.column("Offset V", 0, 2000);
      for (const i of [0, 7, 999, 1999]) {
        const want = d(i) + 0.1 + (d(i) - (d(i) + 0.1)) * (120 / 250);
        assert.ok(Math.abs(parseFloat(v[i]) - want) < 0.00051, `row ${i}: ${v[i]}, by hand ${want}`);
      }
      assert.equal((await p.state()).undo, "paste of 2,000 rows".replace(",", ""));
      // an edit far down is followed at once, and nothing else changes
      await p.press1("Control+End");
      const note = await p.columnAt("Stationary rim 6");
      const before = await p.column("Offset V", 0, 2000);
      await p.goTo(5, note);
      await p.type("0.5");
      await p.press1("Enter");
      const now = await p.column("Offset V", 0, 2000);
      assert.notEqual(now[5], before[5]);
      assert.deepEqual(now.filter((x, i) => i !== 5), before.filter((x, i) => i !== 5));
      await p.press1("Control+z", "Control+z");
      assert.equal((await p.state()).columns, 0);
      await p.press1("Control+y");
      assert.deepEqual(await p.column("Offset V", 0, 2000), before);
    });

    test("what is on the screen is what the program holds, after every kind of step", async () => {
      const same = async (after) => {
        await p.idle();
        const seen = await p.seen();
        const ids = Object.keys(seen);
        assert.ok(ids.length > 30, "cells in sight");
        for (const id of ids) {
          const [r, c] = id.split("-").map(Number);
          const want = (await p.eval(([r, c]) => shimsheet.call("viewport", c, r, c + 1, r + 1), [r, c])).slice(1, -2);
          assert.equal(seen[id], want, `cell ${id} after ${after}`);
        }
      };
      await same("redo");
      await p.goTo(3, "Speed");
      await p.type("2960");
      await p.press1("Tab");
      await same("typing");
      await p.press1("Control+End");
      await same("Ctrl+End");
      await p.eval(() => { document.querySelector("regular-table").scrollTop = 777; });
      await new Promise((r) => setTimeout(r, 300));
      await same("scrolling");
      await p.press1("Control+Home");
      await p.click("#tab-1");
      await p.idle();
      await same("the Job sheet");
      await p.click("#tab-0");
      await p.idle();
      await same("back");
    });

    test("the Job sheet sets name, units and decimal sign, and every row follows", async () => {
      await fresh();
      await p.click("#welcome [data-columns='reverse indicator']");
      await p.click("#tab-1");
      await p.idle();
      const names = await p.column("Name", 0, 40);
      const set = async (name, value) => {
        await p.goTo(names.indexOf(name), 1);
        await p.type(value);
        await p.press1("Enter");
      };
      await set("Name", "Winter </script><b>job</b>");
      await set("Units", "inch");
      assert.match(await p.text("#jobname"), /^Winter <\/script>/);
      await p.click("#tab-0");
      await p.idle();
      assert.match(await p.eval(() => JSON.stringify(JSON.parse(shimsheet.call("layout")).columns.find((c) => c.name === "Movable rim 3"))), /"unit":"mil"/);
      await p.click("#tab-1");
      await p.idle();
      await set("Units", "furlongs");
      assert.match(await p.text("#panel-problems"), /Units.*furlongs/s);
      await p.press1("Control+z");
      assert.doesNotMatch(await p.text("#panel-problems"), /furlongs/);
    });

    test("reloading brings the job back and says so", async () => {
      await fresh();
      await copyText(b, list(12));
      await p.front();
      await p.press1("Control+v");
      const before = await p.column("Offset V", 0, 12);
      assert.match(await p.text("#savemark"), /not saved/);
      await p.reload();
      await p.idle();
      assert.match(await p.text("#status"), /Restored from the safety copy/);
      assert.match(await p.text("#savemark"), /not saved/);
      assert.deepEqual(await p.column("Offset V", 0, 12), before);
    });

    test("the saved page opens with the same job and results, and is built from the original parts", async () => {
      await p.click("#tab-1");
      await p.idle();
      await p.goTo(0, 1);
      await p.type("Spring <b>& co</script>");
      await p.press1("Enter");
      await p.click("#tab-0");
      await p.idle();
      const columns = await p.eval(() => JSON.parse(shimsheet.call("layout")).columns.map((c) => c.name));
      const all = async () => Promise.all(columns.map((c) => p.column(c, 0, 12)));
      const before = await all();
      const file = await p.download(() => p.press("Control+s"));
      await p.idle();
      assert.match(file, /Spring-b-&-co-script-rev1-\d{4}-\d\d-\d\d-\d{4}\.html$/);
      assert.match(await p.text("#status"), /handed to the browser/);
      assert.match(await p.text("#savemark"), /handed to the browser/);
      const original = readFileSync(pageFile, "utf8");
      const saved = readFileSync(file, "utf8");
      const job = /<script type="application\/json" id="job">(.*?)<\/script>/s.exec(saved)[1];
      assert.doesNotMatch(job, /</);
      assert.equal(saved.replace(job, "null").replace(/<section id="first".*?<\/section>(?=<script type="application\/json" id="job">)/s, "").replace(/<title>.*?<\/title>/, "<title>Shimsheet</title>"), original, "but for job, its first rows and title it is the page as built");
      await p.raw.close();
      p = await b.open(fileURL(file));
      await p.idle();
      assert.deepEqual(await all(), before);
      assert.match(await p.eval(() => document.title), /^Spring <b>& co<\/script> rev 1 \d+ \w+ \d{4}, \d\d:\d\d – Shimsheet$/);
      assert.match(await p.text("#savemark"), /^saved /);
      // a change of the saved page that no file has is brought back over the file, and can be dropped
      await p.goTo(0, "Machine");
      await p.type("Changed");
      await p.press1("Enter");
      await new Promise((r) => setTimeout(r, 700));
      await p.reload();
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 1), ["Changed"]);
      await p.click("#status-do");
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 1), ["Pump 1"]);
      // and the file opens in a plain page as well
      const json = await p.download(() => p.click("[data-do=json]"));
      await fresh();
      await p.files("#file", file);
      assert.match(await p.answer("file"), /1 row differs \(1 text\)/, "the change that no file has");
      await p.until(() => JSON.parse(shimsheet.call("state")).rows === 12);
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 12), before[columns.indexOf("Machine")]);
      await p.click("header [data-do=new]");
      await p.files("#file", json);
      await p.until(() => JSON.parse(shimsheet.call("state")).rows === 12);
      await p.idle();
      assert.deepEqual(await all(), before);
      const csv = readFileSync(await p.download(() => p.click("[data-do=csv]")), "utf8");
      assert.equal(csv.trimEnd().split(/\r?\n/).length, 13);
      assert.match(csv, /Verdict/);
    });

    test("a job whose name ends a title and holds quotes is saved under it, and opens with it", async () => {
      await fresh();
      await p.click("#welcome [data-columns='reverse indicator']");
      await p.idle();
      await p.type("</title>\"P\" & 'Q'");
      await p.press1("Enter");
      await p.click("#tab-1");
      await p.idle();
      await p.goTo(0, 1);
      await p.type("Spring </title>\"it's\" & co</script>");
      await p.press1("Enter");
      const file = await p.download(() => p.press("Control+s"));
      await p.idle();
      assert.match(file, /Spring-title-it's-&-co-script-rev1-/);
      const saved = readFileSync(file, "utf8");
      assert.match(saved, /<title>Spring &lt;\/title>"it's" &amp; co&lt;\/script> rev 1 [^<]*<\/title>/);
      await p.raw.close();
      p = await b.open(fileURL(file));
      await p.idle();
      assert.match(await p.eval(() => document.title), /^Spring <\/title>"it's" & co<\/script> rev 1 /);
      assert.deepEqual(await p.column("Machine", 0, 1), ["</title>\"P\" & 'Q'"]);
    });

    test("the demo shows 26 couplings, two of them not judged, and what to do", async () => {
      await fresh();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      assert.match(await p.text("#counts"), /^26 couplings: .*\b2 not judged$/);
      await p.click("#cell-0-0");
      await p.idle();
      const text = await p.text("#panel-row");
      const order = ["What to do, in this order", "under", "towards", "easure again", "Where the shaft stands", "What that is predicted to leave", "Numbers", "Cautions"];
      let at = 0;
      for (const w of order) {
        const next = text.indexOf(w, at);
        assert.ok(next >= at, `"${w}" is missing or out of order in: ${text}`);
        at = next;
      }
      assert.match(text, /±/);
      // a verdict has one mark, the same on the sheet and beside it, and no other verdict has it
      const x = await p.columnAt("Verdict"), words = await p.column("Verdict", 0, 26), marks = new Set();
      const mark = (sel) => p.eval((q) => [...document.querySelector(q).classList].find((c) => /^v\d$/.test(c)), sel);
      for (const word of new Set(words)) {
        const r = words.indexOf(word);
        await p.goTo(r, x);
        const here = await mark(`#cell-${r}-${x}`);
        assert.equal(here, await mark("#panel-row .verdict"), word);
        marks.add(here);
      }
      assert.deepEqual([...marks].sort(), ["v0", "v1", "v2", "v3"]);
      // every sheet of the demo is there
      for (const [tab, want] of [[1, /Marrow Ridge/], [2, /High lift/], [3, /180/]]) {
        await p.click("#tab-" + tab);
        await p.idle();
        assert.match(Object.values(await p.seen()).join("|"), want);
      }
    });

    test("all by keyboard: from the first tab stop to a saved page", async () => {
      await fresh();
      const tabTo = async (test) => {
        for (let i = 0; i < 40; i++) {
          if (await p.eval(test)) return;
          await p.press("Tab");
        }
        throw new Error("no tab stop for " + test);
      };
      await tabTo(() => document.activeElement.dataset?.columns === "rim and face");
      await p.press1("Enter");
      await p.type("Pump 9");
      await p.press1("Enter");
      assert.deepEqual(await p.column("Machine", 0, 1), ["Pump 9"]);
      await p.press1("ArrowUp", "F6");
      assert.equal(await p.eval(() => document.activeElement.id), "panel-row");
      await p.press1("F6");
      assert.equal(await p.eval(() => document.activeElement.id), "tab-0");
      await p.press1("ArrowRight");
      assert.equal((await p.state()).sheet, 2);
      await p.press1("End");
      assert.equal(await p.eval(() => document.body.dataset.screen), "calc");
      await p.press1("Home", "F6", "F6");
      assert.equal(await p.eval(() => document.activeElement.getAttribute("role")), "grid");
      await p.press1("F1");
      assert.match(await p.text("#help-body"), /Where to stand/);
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("dlg-help").open), false);
      const file = await p.download(() => p.press("Control+s"));
      assert.match(readFileSync(file, "utf8"), /Pump 9/);
    });

    test("columns are added, renamed and taken out, and each step can be undone", async () => {
      await p.goTo(0, "Machine");
      await p.click("[data-do=columns]");
      await p.click("#col-add");
      await p.type("Foreman");
      await p.click("#col-add-last");
      await p.idle();
      const x = await p.columnAt("Foreman");
      await p.goTo(0, x);
      await p.type("A");
      await p.press1("Enter", "ArrowUp");
      await p.click("[data-do=columns]");
      await p.click("#col-delete");
      await p.idle();
      await assert.rejects(p.columnAt("Foreman"));
      await p.press1("Control+z");
      assert.deepEqual(await p.column("Foreman", 0, 1), ["A"]);
    });

    test("a failure inside the program becomes a banner, and the page goes on", async () => {
      const before = await p.column("Machine", 0, 1);
      await p.eval(() => shimsheetView.act("there is no such operation"));
      assert.match(await p.text("#banner-text"), /Something went wrong inside the page/);
      assert.equal(await p.eval(() => document.getElementById("banner").hidden), false);
      await p.click("#banner-close");
      await p.goTo(0, "Machine");
      assert.deepEqual(await p.column("Machine", 0, 1), before);
      await p.type("Still here");
      await p.press1("Enter");
      assert.deepEqual(await p.column("Machine", 0, 1), ["Still here"]);
    });

    test("pages that begin alike name their jobs otherwise, and know the day", async () => {
      const ids = [];
      for (let i = 0; i < 2; i++) {
        const p = await b.open(fileURL(pageFile));
        await p.idle();
        for (let k = 0; k < 2; k++) {
          await p.eval(() => shimsheet.act("new"));
          ids.push(JSON.parse(await p.eval(() => shimsheet.call("state"))).id);
        }
        const day = await p.eval(() => [JSON.parse(shimsheet.call("save", new Date().toISOString())).text, new Date().toISOString().slice(0, 10)]);
        assert.ok(day[0].includes(day[1]), day[0].slice(0, 300));
        await p.raw.close();
      }
      assert.equal(new Set(ids).size, 4, ids.join(" "));
      assert.ok(ids.every((x) => /^[0-9a-f]{32}$/.test(x)), ids.join(" "));
    });

    test("where no worker can be had the page unpacks its program itself, and takes it from a worker where one can", async () => {
      const started = async (init) => {
        const q = await b.open(fileURL(pageFile), init);
        await q.idle();
        const said = await q.eval(() => [globalThis.workersAsked, typeof shimsheet.call, document.getElementById("banner").hidden]);
        await q.raw.close();
        return said;
      };
      const none = () => { globalThis.workersAsked = 0; globalThis.Worker = class { constructor() { globalThis.workersAsked++; throw new Error("no worker here"); } }; };
      // One fails before the page's program listens, as where no worker may be made of a blob, the other behind it: the first was waited for without end.
      const deaf = () => { globalThis.workersAsked = 0; globalThis.Worker = class { constructor() { globalThis.workersAsked++; Promise.resolve().then(() => this.onerror?.({ preventDefault() {} })); } postMessage() {} terminate() {} }; };
      const mute = () => {
        globalThis.workersAsked = 0;
        globalThis.Worker = class {
          constructor() { globalThis.workersAsked++; this.fail(); }
          fail() { if (globalThis.shimsheetPiece) this.onerror({ preventDefault() {} }); else setTimeout(() => this.fail(), 5); }
          postMessage() {}
          terminate() {}
        };
      };
      const counted = () => { globalThis.workersAsked = 0; const had = globalThis.Worker; globalThis.Worker = class extends had { constructor(...a) { super(...a); globalThis.workersAsked++; } }; };
      for (const init of [none, deaf, mute, counted]) assert.deepEqual(await started(init), [1, "function", true], init.name);
    });

    test("wrong arguments are refused with a sentence", async () => {
      for (const call of [["go", "a", 0, false], ["go", 1], ["viewport", 0, 0, 1, 1e12], ["openFile", "x", [1]], ["commit", 1, 0, 0]]) {
        const a = JSON.parse(await p.eval((c) => shimsheet.call(...c), call));
        assert.match(a.error, /argument \d/, JSON.stringify(call));
      }
      const broken = JSON.parse(await p.eval(() => shimsheet.call("openJob", '{"format":"shimsheet job","version":99}')));
      assert.match(broken.error, /newer|99/);
    });

    test("storage that is forbidden is said and stops nothing", async () => {
      await fresh();
      await p.eval(() => { IDBObjectStore.prototype.put = () => { throw new DOMException("no", "QuotaExceededError"); }; });
      await p.click("#welcome [data-columns='rim and face']");
      await p.type("Pump");
      await p.press1("Enter");
      await p.until(() => /no safety copy/.test(document.getElementById("savemark").textContent));
      assert.match(await p.eval(() => document.getElementById("savemark").title), /storage is full/);
      assert.deepEqual(await p.column("Machine", 0, 1), ["Pump"]);
    });

    test("nothing was asked for, no policy was broken, no error was logged", async () => {
      const far = b.record.requests.filter((u) => !/^(file:|blob:|data:|about:)/.test(u));
      assert.deepEqual(far, []);
      assert.deepEqual(b.record.errors, []);
      // the watch itself is watched: a request of another page is seen, and one that the page is made to try reaches nobody
      let hits = 0;
      const server = createServer((q, r) => { hits += q.url !== "/favicon.ico"; r.end("here"); }).listen(0, "127.0.0.1");
      await once(server, "listening");
      const there = `http://127.0.0.1:${server.address().port}/`;
      const other = await b.open(there);
      assert.ok(b.record.requests.some((u) => u.startsWith(there)), "requests are not recorded");
      await other.raw.close();
      const before = hits;
      const tried = await p.eval(async (u) => {
        new Image().src = u + "image";
        return fetch(u).then(() => "arrived", () => "refused");
      }, there);
      await new Promise((r) => setTimeout(r, 300));
      assert.equal(tried, "refused");
      assert.equal(hits, before, "a request got out");
      assert.ok(b.record.errors.some((e) => /policy violation|Content.Security.Policy/i.test(e)), "policy violations are not recorded");
      server.closeAllConnections();
      server.close();
      await p.raw.close();
      p = null;
    });
  });
}
