// The sheet and its views as a person uses them: keys, mouse and clipboard in both browsers. What is wanted is what such a person would see. Numbers are
// worked out beside the check or are the definition of the inch (exactly 25.4 mm, ISO 80000-3 and the agreement of 1959).
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { chromium, browsers, copyText, list, pageFile, fileURL, wait } from "./browsers.mjs";

for (const launch of browsers) {
  describe(launch.name, () => {
    let b, p;
    before(async () => {
      b = await launch();
      console.log(`# ${b.name} ${b.version}`);
    });
    after(async () => { await b?.close(); });

    const begin = async () => {
      if (!p) {
        p = await b.open(fileURL(pageFile));
        await p.idle();
      }
      await p.size(1366, 768);
      await p.press("Escape");
      const s = await p.state();
      if (s.columns || s.changes) {
        await p.click("header [data-do=new]");
        await p.idle();
      }
    };
    const paste = async (text) => {
      await copyText(b, text);
      await p.front();
      await p.press1("Control+v");
    };
    const withList = async (n) => {
      await begin();
      await paste(list(n));
    };
    const demo = async () => {
      await begin();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
    };
    const focusIn = (sel) => p.eval((s) => !!document.activeElement?.closest(s), sel);
    const stored = async (name) => {
      const m = (await p.job()).machines;
      const c = m.header.findIndex((h) => h.startsWith(name));
      return m.rows.map((r) => r[c] ?? "");
    };
    const rowNumbers = (n) => p.eval((k) => [...document.querySelectorAll("regular-table tbody th.rowno")].slice(0, k).map((t) => t.textContent), n);
    /** Undoes and does again, and looks at the names on the buttons. */
    const backAndForth = async (name, look, was, is) => {
      assert.match(await p.text("#undo"), name);
      const word = (await p.text("#undo")).slice(5);
      await p.press1("Control+z");
      assert.deepEqual(await look(), was, "undone: " + word);
      assert.equal(await p.text("#redo"), "Redo " + word);
      assert.match(await p.text("#status"), new RegExp("^Undone: " + word.replace(/[()[\]]/g, ".")));
      await p.press1("Control+y");
      assert.deepEqual(await look(), is, "done again: " + word);
      await p.press1("Control+z");
      assert.deepEqual(await look(), was);
    };

    test("fill down, right, as a series, and by drawing the small square", async () => {
      await withList(4);
      const speed = () => p.column("Speed", 0, 4), note = () => p.column("Note", 4, 8);
      await p.goTo(0, "Speed");
      await p.type("2960");
      await p.press1("Enter", "ArrowUp", "Shift+ArrowDown", "Shift+ArrowDown", "Control+d");
      assert.deepEqual(await speed(), ["2960", "2960", "2960", "1480"]);
      await backAndForth(/^Undo filling/, speed, ["2960", "1480", "1480", "1480"], ["2960", "2960", "2960", "1480"]);
      await p.goTo(0, "Coupling to stationary plane");
      const right = async () => [(await p.column("Coupling to movable plane", 0, 1))[0], (await p.column("Coupling to front feet", 0, 1))[0]];
      await p.press1("Shift+ArrowRight", "Shift+ArrowRight", "Control+r");
      assert.deepEqual(await right(), ["120", "120"]);
      await backAndForth(/^Undo filling/, right, ["130", "410"], ["120", "120"]);
      await p.goTo(4, "Note");
      await p.type("10");
      await p.press("Enter");
      await p.type("20");
      await p.press1("Enter", "ArrowUp", "ArrowUp", "Shift+ArrowDown", "Shift+ArrowDown", "Shift+ArrowDown", "Control+Shift+d");
      assert.deepEqual(await note(), ["10", "20", "30", "40"]);
      await backAndForth(/^Undo filling/, note, ["10", "20", "", ""], ["10", "20", "30", "40"]);
      // the square stands at the corner of the selection; drawn it goes on, with Ctrl it repeats
      const x = await p.columnAt("Note");
      await p.goTo(4, "Note");
      await p.press1("Shift+ArrowDown");
      await p.draw("#fillhandle", `#cell-7-${x}`);
      assert.deepEqual(await note(), ["10", "20", "30", "40"]);
      assert.deepEqual((await p.state()).sel, [4, x, 7, x]);
      await backAndForth(/^Undo filling/, note, ["10", "20", "", ""], ["10", "20", "30", "40"]);
      await p.goTo(4, "Note");
      await p.press1("Shift+ArrowDown");
      await p.draw("#fillhandle", `#cell-7-${x}`, () => p.down("Control"));
      await p.up("Control");
      assert.deepEqual(await note(), ["10", "20", "10", "20"]);
      // names count on by their number
      await p.goTo(0, "Note");
      await p.draw("#fillhandle", `#cell-3-${x}`);
      assert.deepEqual(await p.column("Note", 0, 4), ["row 1", "row 2", "row 3", "row 4"]);
    });

    test("what is typed is taken when another cell, a row or a column is pressed, and not after Escape", async () => {
      await withList(4);
      const x = await p.columnAt("Note"), note = async (r) => (await p.column("Note", r, r + 1))[0];
      for (const [row, press, sel] of [[0, `#cell-2-${x}`, [2, x, 2, x]], [1, "regular-table tbody tr:nth-child(4) th.rowno", [3, 0, 3]]]) {
        await p.goTo(row, "Note");
        await p.type("seen by hand");
        await p.click(press);
        await p.idle();
        assert.equal(await note(row), "seen by hand");
        assert.deepEqual((await p.state()).sel.slice(0, sel.length), sel, "and what was pressed is chosen");
      }
      await p.goTo(0, "Note");
      await p.type("not this");
      await p.press1("Escape");
      assert.equal(await note(0), "seen by hand");
    });

    test("rows come, go, are doubled and moved, by menu and keys, and each step has its name", async () => {
      await withList(4);
      const names = () => p.column("Machine", 0, 5);
      const was = ["Pump 1", "Pump 2", "Pump 3", "Pump 4", ""];
      const menu = async (name, is, word) => {
        await p.goTo(1, 0);
        await p.click(`[data-do=${name}]`);
        await p.idle();
        assert.deepEqual(await names(), is);
        assert.equal(await focusIn("#sheet"), true, "the sheet has the focus again");
        assert.match(await p.text("#status"), /^Done: /);
        await backAndForth(word, names, was, is);
      };
      await menu("insertRows", ["Pump 1", "", "Pump 2", "Pump 3", "Pump 4"], /^Undo insert/);
      await menu("duplicateRows", ["Pump 1", "Pump 2", "Pump 2", "Pump 3", "Pump 4"], /^Undo (doubl|duplicat|cop)/);
      await menu("deleteRows", ["Pump 1", "Pump 3", "Pump 4", "", ""], /^Undo delet/);
      await p.goTo(0, 0);
      await p.press1("Shift+ArrowDown", "Alt+ArrowDown");
      assert.deepEqual(await names(), ["Pump 3", "Pump 1", "Pump 2", "Pump 4", ""]);
      assert.deepEqual((await p.state()).sel, [1, 0, 2, 0], "the selection goes with the rows");
      await backAndForth(/^Undo mov/, names, was, ["Pump 3", "Pump 1", "Pump 2", "Pump 4", ""]);
      // the buttons do it as well
      await p.goTo(2, 0);
      await p.press1("Alt+ArrowUp");
      assert.deepEqual(await names(), ["Pump 1", "Pump 3", "Pump 2", "Pump 4", ""]);
      await p.click("#undo");
      await p.idle();
      assert.deepEqual(await names(), was);
      await p.click("#redo");
      await p.idle();
      assert.deepEqual(await names(), ["Pump 1", "Pump 3", "Pump 2", "Pump 4", ""]);
      assert.equal(await focusIn("#sheet"), true);
    });

    test("find, go on, go back, replace one, replace all as one step, in the selection; Escape", async () => {
      await withList(5);
      await p.goTo(0, 0);
      await p.press1("Control+f");
      assert.equal(await p.eval(() => document.activeElement.id), "find-text");
      await p.type("motor");
      await p.idle();
      assert.equal(await p.text("#find-said"), "1 of 5");
      const x = await p.columnAt("Stationary");
      const at = async () => { const s = await p.state(); return [s.row, s.col]; };
      await p.press1("Enter");
      assert.deepEqual(await at(), [1, x]);
      assert.equal(await p.text("#find-said"), "2 of 5");
      await p.click("#find-back");
      await p.idle();
      assert.deepEqual(await at(), [0, x]);
      await p.press1("Shift+Enter"); // on the button Previous
      await p.click("#find-text");
      await p.press1("Enter");
      assert.match(await p.text("#find-said"), /of 5/);
      await p.click("#find-case");
      await p.click("#find-next");
      await p.idle();
      assert.equal(await p.text("#find-said"), "Not found");
      await p.click("#find-case");
      await p.goTo(0, x);
      await p.click("#find-by");
      await p.type("Drive");
      await p.click("#find-replace");
      await p.idle();
      assert.deepEqual(await p.column("Stationary", 0, 5), ["Drive 1", "Motor 2", "Motor 3", "Motor 4", "Motor 5"]);
      assert.deepEqual(await at(), [1, x], "and on to the next");
      await p.click("#find-all");
      await p.idle();
      assert.deepEqual(await p.column("Stationary", 0, 5), ["Drive 1", "Drive 2", "Drive 3", "Drive 4", "Drive 5"]);
      assert.match(await p.text("#undo"), /^Undo replacing 4 cells/);
      await p.click("#undo");
      await p.idle();
      assert.deepEqual(await p.column("Stationary", 0, 5), ["Drive 1", "Motor 2", "Motor 3", "Motor 4", "Motor 5"], "one step");
      // only in what is selected
      await p.goTo(1, x);
      await p.press1("Shift+ArrowDown", "Control+f");
      assert.equal(await p.eval(() => document.getElementById("find-sel").checked), true);
      await p.click("#find-all");
      await p.idle();
      assert.deepEqual(await p.column("Stationary", 0, 5), ["Drive 1", "Drive 2", "Drive 3", "Motor 4", "Motor 5"]);
      await p.click("#find-text");
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("findbar").hidden), true);
      assert.equal(await focusIn("#sheet"), true);
    });

    test("find: each box does what stands beside it", async () => {
      await withList(5);
      await p.goTo(0, 0);
      await p.press1("Control+f");
      for (const [text, box, said] of [["Motor", "case", /of 5/], ["Motor", "whole", /^Not found/], ["motor 3", "whole", /^1 of 1/], ["motor 3", "case", /^Not found/], ["motor", "", /of 5/]]) {
        await p.eval((t) => { document.getElementById("find-text").value = t; }, text);
        if (box) await p.click("#find-" + box);
        await p.click("#find-next");
        await p.idle();
        assert.match(await p.text("#find-said"), said, text + " " + box);
        if (box) await p.click("#find-" + box);
      }
      await p.press1("Escape");
    });

    test("sorted by keys: the stored order stays, an edited row does not jump, and the order can be made the job's", async () => {
      await withList(5);
      const names = () => p.column("Machine", 0, 5);
      const up = ["Pump 1", "Pump 2", "Pump 3", "Pump 4", "Pump 5"], down = [...up].reverse();
      await p.click("#editbar [data-do=sort]");
      assert.equal(await p.eval(() => document.activeElement.getAttribute("aria-label")), "Column");
      await p.type("Mach");
      await p.press("Tab");
      await p.type("larg");
      for (let i = 0; i < 20 && !(await p.eval(() => document.activeElement.id === "arrange-take")); i++) await p.press("Tab");
      await p.press1("Enter");
      assert.deepEqual(await names(), down);
      assert.equal(await focusIn("#sheet"), true);
      assert.match(await p.text("#status"), /sorted/);
      assert.match(await p.text("#viewsaid"), /sorted/);
      assert.deepEqual(await rowNumbers(5), ["6", "5", "4", "3", "2"], "numbers tell where the row stands in the job");
      assert.deepEqual(await stored("Machine"), up);
      await p.goTo(0, 0);
      await p.type("Aardvark");
      await p.press1("Enter");
      assert.deepEqual(await names(), ["Aardvark", ...down.slice(1)], "it stays where it is");
      await p.press1("Control+z");
      assert.deepEqual(await names(), down);
      await p.click("#editbar [data-do=sort]");
      await p.eval(() => { [...document.querySelectorAll("#arrange-body button")].find((x) => /Make the shown order/.test(x.textContent)).id = "make-order"; });
      await p.click("#make-order");
      await p.idle();
      assert.deepEqual(await stored("Machine"), down);
      assert.deepEqual(await rowNumbers(5), ["2", "3", "4", "5", "6"]);
      assert.match(await p.text("#undo"), /^Undo sorting 5 rows/);
      await p.press1("Control+z");
      assert.deepEqual(await stored("Machine"), up);
      assert.deepEqual(await names(), down, "as it was: shown sorted");
      assert.deepEqual(await rowNumbers(5), ["6", "5", "4", "3", "2"]);
      await p.press1("Control+y");
      assert.deepEqual(await stored("Machine"), down);
      assert.equal(await p.text("#viewsaid"), "");
      await p.press1("Control+z");
      await p.click("#viewoff");
      await p.idle();
      assert.deepEqual(await names(), up);
      assert.deepEqual(await rowNumbers(5), ["2", "3", "4", "5", "6"]);
      assert.match(await p.text("#status"), /All rows are shown/);
      // a column added or taken out leaves the sorting; Escape leaves the dialog without a change
      await p.click("#editbar [data-do=sort]");
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("dlg-arrange").open), false);
      assert.deepEqual(await names(), up);
    });

    test("filtered by verdict with checkboxes: sheet, overview, paper and one by one follow; a problem takes the filter off", async () => {
      await demo();
      const verdicts = await p.column("Verdict", 0, 26);
      const outside = verdicts.filter((v) => v === "outside").length;
      assert.ok(outside > 3 && outside < 26);
      await p.click("#editbar [data-do=sort]");
      await p.choose("#arrange-body .line.filter select[aria-label=Column]", "=verdict");
      await p.click("#arrange-body .few input[value=outside]");
      await p.click("#arrange-take");
      await p.idle();
      const shown = (await p.state()).rows;
      assert.equal(shown, outside);
      assert.deepEqual([...new Set(await p.column("Verdict", 0, shown))], ["outside"]);
      assert.match(await p.text("#viewsaid"), new RegExp(`^${outside} of \\d+ rows shown`));
      await p.click("#tab-list");
      await p.until(() => document.querySelectorAll("#screen-list [data-row]").length > 0);
      await p.idle();
      assert.equal(await p.eval(() => document.querySelectorAll("#screen-list [data-row]").length), outside);
      await p.click("#tab-0"); // the overview prints its picture, the sheet the list
      await p.idle();
      await p.eval(() => dispatchEvent(new Event("beforeprint")));
      // On paper the same machines in the same order as on the sheet, not the first of the list.
      const onPaper = () => p.eval(() => [...document.querySelectorAll("#paper tbody tr")].map((tr) => [...tr.children].slice(0, 3).map((c) => c.textContent)));
      assert.equal((await onPaper()).length, outside);
      await p.click("#tab-0");
      await p.idle();
      const sheetNames = () => p.column("Machine", 0, outside);
      const here = (rows, names) => rows.map((r) => names.find((n) => r.includes(n)));
      assert.deepEqual(here(await onPaper(), await sheetNames()), await sheetNames());
      assert.ok((await onPaper()).every((r) => r[2].includes("outside")), "another verdict on paper");
      await p.click("#editbar [data-do=sort]");
      await p.choose("#arrange-body .line.sort select[aria-label=Column]", "Machine");
      await p.choose("#arrange-body .line.sort select[aria-label=Direction]", "desc");
      await p.click("#arrange-take");
      await p.idle();
      const byName = await sheetNames();
      assert.equal(new Set(byName).size, outside);
      await p.eval(() => dispatchEvent(new Event("beforeprint")));
      assert.deepEqual(here(await onPaper(), byName), byName, "sorted on the sheet, and not on paper");
      await p.click("#tab-crew");
      await p.idle();
      assert.match(await p.text(".crew-name p"), new RegExp(`of ${outside} \\(`));
      await p.click("#tab-0");
      await p.idle();
      // a problem of a row that is left out
      await p.click("#side-problems");
      const i = await p.eval(() => {
        const rows = JSON.parse(shimsheet.call("rowNumbers", 0, JSON.parse(shimsheet.call("state")).rows)).rows;
        return [...document.querySelectorAll("#panel-problems li button")].findIndex((b) => /^0 \d/.test(b.dataset.arg) && !rows.some((r) => b.querySelector(".where").textContent.includes("row " + r)));
      });
      assert.ok(i >= 0, "a problem in a row that is not shown");
      await p.click(`#panel-problems li:nth-child(${i + 1}) button`);
      await p.idle();
      assert.match(await p.text("#status"), /filter was taken off/);
      assert.equal((await p.state()).rows, 26);
      assert.match(await p.text("#cell-where"), /Row \d+/);
      assert.equal(await p.eval(() => !!document.querySelector("#sheet .cur")), true);
      await p.click("#side-row");
    });

    test("only columns in use are shown, others on demand; groups; widths drawn by the mouse stay, in the job too", async () => {
      await withList(3);
      const names = () => p.eval(() => JSON.parse(shimsheet.call("layout")).columns.map((c) => c.name));
      const few = await names();
      assert.ok(few.includes("Front shim") && !few.includes("Bolt shims"), String(few));
      await p.click("[data-all=true]");
      await p.idle();
      const all = await names();
      assert.ok(all.length > few.length && all.includes("Bolt shims"));
      await p.click("[data-menu=menu-view]");
      assert.equal(await p.eval(() => document.querySelector("[data-all=true]").getAttribute("aria-checked")), "true");
      await p.press("Escape");
      assert.equal(await p.eval(() => document.getElementById("menu-view").hidden), true);
      await p.click("[data-all=false]");
      await p.idle();
      assert.deepEqual(await names(), few);
      await p.click("[data-do=groups]");
      await p.click("#groups-body input[value=Results]");
      await p.click("#groups-take");
      await p.idle();
      const without = await names();
      assert.ok(!without.includes("Front shim") && without.includes("Verdict"));
      assert.match(await p.text("#status"), /columns are shown/);
      // the width of the second visible column: Verdict
      const head = "regular-table thead tr:last-child th:nth-child(3)";
      const width = (await p.box(head)).width;
      const grip = await p.box(head + " .rt-column-resize");
      await p.draw({ x: grip.x + grip.width / 2, y: grip.y + grip.height / 2 }, { x: grip.x + 62, y: grip.y + grip.height / 2 }, () => wait(150));
      const wide = (await p.box(head)).width;
      assert.ok(wide > width + 40, `${width} became ${wide}`);
      await p.goTo(0, 0);
      await p.click("#editbar [data-do=columns]");
      await p.click("#col-add");
      await p.type("Foreman");
      await p.click("#col-add-last");
      await p.idle();
      assert.ok(Math.abs((await p.box(head)).width - wide) < 2, "after the columns were laid out anew");
      assert.ok(!(await names()).includes("Front shim"), "and what was hidden stays so");
      const file = await p.download(() => p.press("Control+s"));
      await p.idle();
      const again = await b.open(fileURL(file));
      await again.idle();
      assert.ok(Math.abs((await again.box(head)).width - wide) < 2, "in the saved file");
      assert.ok(!(await again.eval(() => JSON.parse(shimsheet.call("layout")).columns.map((c) => c.name))).includes("Front shim"));
      // whatever stands there, the job opens
      for (const views of [{ machines: "no view" }, 7, { machines: "view1;Q;H%;W9,;Sx" }]) {
        const s = await again.eval((v) => {
          const j = JSON.parse(JSON.parse(shimsheet.call("job")).text);
          j.views = v;
          delete j.length; // what is changed on purpose has no checksum
          delete j.sha256;
          return JSON.parse(shimsheet.call("openJob", JSON.stringify(j)));
        }, views);
        assert.equal(s.rows, 3, JSON.stringify(views));
      }
      await again.raw.close();
      await p.front();
    });

    test("words are offered while a cell is edited; its meaning and the drawing follow the typing", async () => {
      await begin();
      const rows = list(2).trimEnd().split("\r\n").map((r) => r.split("\t"));
      rows[0].push("Method", "Limits", "Side at 9");
      rows[1].push("", "", "wall");
      rows[2].push("", "", "");
      await paste(rows.map((r) => r.join("\t")).join("\r\n"));
      const offered = () => p.eval(() => (document.getElementById("editor-choices").hidden ? [] : [...document.querySelectorAll("#editor-choices li")].map((l) => l.textContent)));
      await p.goTo(0, "Coupling");
      await p.press("F2");
      await p.until(() => !document.getElementById("editor-choices").hidden);
      const words = await offered();
      assert.ok(words.includes("flexible") && words.includes("spacer"));
      assert.equal(await p.eval(() => document.getElementById("editor").getAttribute("aria-expanded")), "true");
      await p.press("ArrowDown");
      await p.press("ArrowDown");
      assert.equal(await p.eval(() => document.getElementById("editor").value), words[1]);
      await p.press1("Escape");
      assert.deepEqual(await p.column("Coupling", 0, 1), ["short"]);
      await p.type("sp");
      await p.until(() => document.querySelectorAll("#editor-choices li").length === 1);
      assert.match(await p.text("#editor-meaning"), /Enter takes: spacer/);
      await p.press1("Enter");
      assert.deepEqual(await p.column("Coupling", 0, 2), ["spacer", "short"]);
      await p.press("F2");
      await p.until(() => !document.getElementById("editor-choices").hidden);
      await p.eval(() => { [...document.querySelectorAll("#editor-choices li")].find((l) => l.textContent === "spacer").dataset.pick = "1"; });
      await p.click("#editor-choices [data-pick]");
      await p.idle();
      assert.deepEqual(await p.column("Coupling", 0, 2), ["spacer", "spacer"]);
      await p.press1("Control+z", "Control+z");
      await p.goTo(0, "Method");
      await p.press("F2");
      await p.press("ArrowDown");
      assert.ok((await offered()).includes("rim and face"));
      await p.press("Escape");
      await p.type("rev");
      await p.press1("Tab");
      assert.deepEqual(await p.column("Method", 0, 1), ["reverse indicator"]);
      assert.equal((await p.state()).col, await p.columnAt("Limits"));
      await p.press("F2");
      await p.until(() => !document.getElementById("editor-choices").hidden);
      assert.ok((await offered()).length >= 1, "the sets of limits by name");
      await p.press1("Escape");
      await p.goTo(1, "Side at 9");
      await p.press("F2");
      await p.until(() => !document.getElementById("editor-choices").hidden);
      assert.deepEqual((await offered()).sort(), ["river side", "wall"], "sides that have a name already");
      await p.press1("Escape");
      // 0.5 in is 12.7 mm; the drawing follows, and comes back
      await p.goTo(0, "Coupling to front feet");
      const before = await p.eval(() => document.getElementById("drawing").innerHTML);
      await p.type("0.5 in");
      assert.equal(await p.text("#editor-meaning"), "= 12.7 mm");
      assert.notEqual(await p.eval(() => document.getElementById("drawing").innerHTML), before);
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("drawing").innerHTML), before);
      assert.deepEqual(await p.column("Coupling to front feet", 0, 1), ["410"]);
      // keys of the page work in an open cell, and take its text first
      await p.type("500");
      await p.press1("Control+f");
      assert.deepEqual(await p.column("Coupling to front feet", 0, 1), ["500"]);
      assert.equal(await p.eval(() => document.activeElement.id), "find-text");
      await p.press1("Escape");
    });

    test("the status line sums the selection; a wrong cell says why and what would be right", async () => {
      await withList(4);
      await p.goTo(0, "Speed");
      await p.press1("Shift+ArrowDown", "Shift+ArrowDown");
      assert.equal(await p.text("#sums"), "3 numbers · sum 4440 rpm · smallest 1480 rpm · largest 1480 rpm");
      await p.goTo(0, "Machine");
      assert.equal(await p.text("#sums"), "");
      await p.goTo(1, "Speed");
      await p.type("fast");
      await p.press1("Enter", "ArrowUp");
      assert.match(await p.eval(() => document.querySelector("#sheet .cur").className), /perr/);
      assert.match(await p.text("#cell-help"), /^Problem: .*fast.*; /);
      await p.click("#side-problems");
      assert.match(await p.text("#panel-problems"), /\(row 3\), Speed.*fast/s);
      await p.click("#cell-0-0");
      await p.click("#panel-problems .error");
      await p.idle();
      const s = await p.state();
      assert.deepEqual([s.row, s.col], [1, await p.columnAt("Speed")]);
      assert.equal(await focusIn("#sheet"), true);
      await p.click("#side-row");
    });

    test("shown in inch and back: typed texts and the file stay, headers and results change", async () => {
      await withList(3);
      const unit = (name) => p.eval((n) => JSON.parse(shimsheet.call("layout")).columns.find((c) => c.name === n).unit, name);
      const offset = parseFloat((await p.column("Offset V", 0, 1))[0]);
      const pack = await p.column("Front pack", 0, 3);
      const job = JSON.stringify(await p.job());
      assert.equal(await unit("Offset V"), "mm");
      await p.click("[data-units=inch]");
      await p.idle();
      assert.equal(await unit("Offset V"), "mil");
      assert.equal(await unit("Coupling to front feet"), "in");
      const mil = parseFloat((await p.column("Offset V", 0, 1))[0]);
      assert.ok(Math.abs(mil - offset / 0.0254) < 0.07, `${offset} mm is ${mil} mil`);
      assert.match((await p.column("Coupling to front feet", 0, 1))[0], /^16\.14/, "410 mm");
      assert.match(await p.text("#panel-row"), /mil/);
      assert.deepEqual(await p.column("Front pack", 0, 3), pack.map((t) => t + " mm"), "pieces are real things");
      await p.goTo(0, "Coupling to front feet");
      await p.press("F2");
      assert.equal(await p.eval(() => document.getElementById("editor").value), "410");
      await p.press1("Escape");
      assert.equal(JSON.stringify(await p.job()), job);
      await p.click('[data-units=""]');
      await p.idle();
      assert.equal(parseFloat((await p.column("Offset V", 0, 1))[0]), offset);
      assert.deepEqual(await p.column("Front pack", 0, 3), pack);
      assert.deepEqual(await p.column("Coupling to front feet", 0, 1), ["410"]);
    });

    test("a block with a header is shown before it goes into a filled sheet", async () => {
      await withList(3);
      const before = JSON.stringify((await p.job()).machines);
      const speed = await p.column("Speed", 0, 5);
      await p.goTo(0, 0);
      await paste("Foreman\tSpeed [rpm]\r\nA\t2960\r\nB\t2970\r\n");
      assert.equal(await p.eval(() => document.getElementById("dlg-paste").open), true);
      const text = await p.text("#paste-body");
      for (const want of [/2 rows are put in below/, /Foreman/, /a new column/, /Speed/]) assert.match(text, want);
      await p.click("#dlg-paste [data-close]");
      await p.idle();
      assert.equal(JSON.stringify((await p.job()).machines), before, "Cancel leaves all as it was");
      assert.equal(await focusIn("#sheet"), true);
      await p.press1("Control+v");
      await p.press1("Enter"); // the button Paste
      assert.deepEqual((await p.column("Speed", 0, 5)), ["1480", "1480", "1480", "2960", "2970"]);
      assert.deepEqual(await p.column("Foreman", 0, 5), ["", "", "", "A", "B"]);
      await p.press1("Control+z");
      assert.equal(JSON.stringify((await p.job()).machines), before, "one step");
      assert.deepEqual(await p.column("Speed", 0, 5), speed);
    });

    test("a list with headers of its own is not refused: the person says which column is which", async () => {
      await begin();
      await paste("Outage list\t\t\r\nTag\tDriven by\tCplg\r\nP-101\tmotor\tshort\r\n");
      await p.until(() => document.getElementById("dlg-match").open && /P-101/.test(document.getElementById("match-body").textContent));
      assert.match(await p.text("#match-body"), /Read as/);
      await p.press("Escape");
      await p.until(() => !document.querySelector("dialog[open]"));
      assert.equal((await p.state()).columns, 0);
      // one with some known words is taken, and says what it did not understand
      await paste("Machine\tSpeed\tCoupling\tWhose turn\r\nP-101\t1480\tshort\tnight\r\n");
      assert.deepEqual(await p.column("Whose turn", 0, 1), ["night"]);
      assert.match(await p.text("#status"), /Kept, but not read: Whose turn/);
      await p.click("#status-do");
      await p.until(() => document.getElementById("dlg-match").open && /Whose turn/.test(document.getElementById("match-body").textContent));
      await p.press("Escape");
      await p.until(() => !document.querySelector("dialog[open]"));
    });

    test("a menu taken while a cell is open takes the cell's text first", async () => {
      await withList(3);
      await p.goTo(0, "Note");
      await p.type("typed");
      await p.click("[data-do=duplicateRows]");
      await p.idle();
      assert.deepEqual(await p.column("Note", 0, 3), ["typed", "typed", "row 2"]);
      await p.press1("Control+z");
      assert.deepEqual(await p.column("Note", 0, 3), ["typed", "row 2", "row 3"]);
      await p.type("again");
      await p.click("#tab-list");
      await p.idle();
      await p.click("#tab-0");
      await p.idle();
      assert.deepEqual(await p.column("Note", 0, 1), ["again"]);
      // an arrangement outlasts columns that come and go, also by undoing
      await p.click("#editbar [data-do=sort]");
      await p.choose("#arrange-body .line.sort select[aria-label=Column]", "Machine");
      await p.choose("#arrange-body .line.sort select[aria-label=Direction]", "desc");
      await p.click("#arrange-take");
      await p.idle();
      await p.click("#editbar [data-do=columns]");
      await p.click("#col-add");
      await p.type("Foreman");
      await p.click("#col-add-last");
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 3), ["Pump 3", "Pump 2", "Pump 1"]);
      assert.deepEqual(await rowNumbers(3), ["4", "3", "2"]);
      await p.press1("Control+z");
      assert.deepEqual(await p.column("Machine", 0, 3), ["Pump 3", "Pump 2", "Pump 1"]);
      assert.deepEqual(await rowNumbers(3), ["4", "3", "2"]);
    });

    test("one by one: key pad, sign, Enter, next and previous; large targets; what is typed is in the job and can be undone", async () => {
      await withList(3);
      await p.goTo(1, 0);
      await p.click("#tab-2"); // from another sheet it still speaks of the machines
      await p.idle();
      for (const [w, h] of [[1366, 768], [390, 844]]) {
        await p.size(w, h);
        await p.click("#tab-crew");
        await p.idle();
        assert.equal(await p.text(".crew-name h2"), "Pump 2");
        assert.equal(await p.eval(() => document.getElementById("side").hidden), true);
        assert.equal(await p.eval(() => document.documentElement.scrollWidth <= innerWidth), true, "no scrolling sideways at " + w);
        const small = await p.eval(() => [...document.querySelectorAll("#screen-crew button, #screen-crew input, #screen-crew summary")].map((e) => [e.textContent || e.getAttribute("aria-label"), e.getBoundingClientRect()])
          .filter(([, r]) => r.width < 44 || r.height < 44).map(([t, r]) => `${t} ${r.width} × ${r.height}`));
        assert.deepEqual(small, [], "targets smaller than 44 px at " + w);
        const key = async (...list) => {
          for (const k of list) {
            await p.eval((t) => { for (const x of document.querySelectorAll(".crew-keys button")) x.toggleAttribute("data-key", x.textContent === t); }, k);
            await p.click(".crew-keys [data-key]");
          }
          await p.idle();
        };
        const label = () => p.eval(() => document.querySelector(".field[aria-current=true] span").textContent);
        const value = () => p.eval(() => document.querySelector(".field[aria-current=true] input").value);
        await p.click(".field:nth-of-type(2) input");
        assert.match(await label(), /Movable rim 3/);
        const verdict = await p.text(".crew-verdict");
        await key("1", ".", "2", "3", "Erase", "5", "+ / −");
        assert.equal(await value(), "-1.25");
        await key("Enter");
        assert.match(await label(), /Movable rim 6/);
        assert.equal((await stored("Movable rim 3"))[1], "-1.25");
        assert.notEqual(await p.text(".crew-says"), "");
        assert.notEqual(await p.text(".crew-verdict"), verdict);
        await key("Up");
        assert.equal(await value(), "-1.25");
        await key("+ / −", "Enter");
        assert.equal((await stored("Movable rim 3"))[1], "1.25");
        // real keys
        await p.click(".field:nth-of-type(3) input");
        await p.type("0.5");
        await p.press1("Enter");
        assert.equal((await stored("Movable rim 6"))[1], "0.5");
        assert.match(await label(), /Movable rim 9/);
        await p.press1("Control+z");
        assert.notEqual((await stored("Movable rim 6"))[1], "0.5", "Ctrl+Z takes it back");
        // typed by the pad and not entered: going on to the next coupling takes it
        await p.click(".field:nth-of-type(4) input");
        await key("7");
        await p.click(".crew-nav > button:last-child");
        await p.idle();
        assert.equal((await stored("Movable rim 9"))[1], "7");
        assert.equal(await p.text(".crew-name h2"), "Pump 3");
        assert.equal(await p.eval(() => document.querySelector(".crew-nav > button:last-child").disabled), true);
        await p.click(".crew-nav > button:first-child");
        await p.idle();
        assert.equal(await p.text(".crew-name h2"), "Pump 2");
        await p.click("#tab-0");
        await p.idle();
        assert.equal((await p.state()).row, 1, "the sheet stands at the same coupling");
        await p.press1("Control+z", "Control+z", "Control+z");
        assert.equal((await stored("Movable rim 3"))[1], (list(2).split("\r\n")[2].split("\t")[9]));
      }
      await p.size(1366, 768);
    });

    test("overview: worst first; click and Enter go to the row; the corrections counted", async () => {
      await demo();
      await p.click("#tab-list");
      await p.until(() => document.querySelectorAll("#screen-list [data-row]").length === 26);
      await p.idle();
      const rows = await p.eval(() => [...document.querySelectorAll("#screen-list [data-row]")].map((g) => Number(g.dataset.row)));
      const verdicts = await p.column("Verdict", 0, 26);
      const firstInside = rows.findIndex((r) => verdicts[r] === "inside"), lastOutside = rows.findLastIndex((r) => verdicts[r] === "outside");
      assert.ok(lastOutside < firstInside, "what is outside stands above what is inside");
      assert.equal(await p.eval(() => document.querySelectorAll("#screen-list svg").length), 2);
      await p.eval(() => document.querySelector("#screen-list [data-row]").focus());
      await p.press("ArrowDown");
      await p.press1("Enter");
      assert.equal((await p.state()).stored, rows[1]);
      assert.equal(await focusIn("#sheet"), true);
      assert.equal(await p.eval(() => document.getElementById("side").hidden), false);
      await p.click("#tab-list");
      await p.until(() => document.querySelectorAll("#screen-list [data-row]").length === 26);
      await p.idle(); // on a busy machine the list was drawn again under the click
      await p.click(`#screen-list [data-row="${rows[0]}"]`);
      await p.idle();
      assert.equal((await p.state()).stored, rows[0]);
      await p.click("#tab-list");
      await p.press1("Escape");
      assert.equal(await focusIn("#sheet"), true, "Escape goes back to the sheet");
    });

    test("colours are remembered; much enlarged nothing is lost and nothing scrolls sideways", async () => {
      await p.click("[data-theme-set=sun]");
      await p.idle();
      assert.equal(await p.eval(() => getComputedStyle(document.documentElement).getPropertyValue("--row").trim()), "36px");
      assert.ok(Math.abs((await p.box("#sheet .cur")).height - 36) < 1, "the cursor's cell is in sight, and larger");
      await p.reload();
      await p.idle();
      assert.equal(await p.eval(() => document.documentElement.dataset.theme), "sun");
      await p.click("[data-theme-set=dark]");
      await p.idle();
      assert.equal(await p.eval(() => document.documentElement.dataset.theme), "dark");
      await p.click('[data-theme-set=""]');
      await p.idle();
      for (const [w, h] of [[1366, 768], [683, 384], [390, 844]]) { // 683 × 384: 1366 × 768 at 200 %
        await p.size(w, h);
        await wait(150);
        await p.idle();
        assert.equal(await p.eval(() => document.documentElement.scrollWidth <= innerWidth), true, `the page scrolls sideways at ${w}`);
        const lost = await p.eval(() => ["header [data-do=open]", "header [data-do=save]", "[data-menu=menu-job]", "[data-menu=menu-view]", "header [data-do=help]", "#editbar [data-do=find]", "#cell-where", "#sheet", "#panel-row", "#side-problems", "#counts", "#status"].filter((s) => {
          const e = document.querySelector(s);
          if (!e.checkVisibility()) return true;
          e.scrollIntoView();
          const r = e.getBoundingClientRect();
          return r.right < 0 || r.left > innerWidth || r.bottom < 0 || r.top > innerHeight;
        }));
        assert.deepEqual(lost, [], "not to be seen at " + w);
        assert.ok((await p.box("#sheet")).height > 90);
      }
      await p.size(1366, 768);
    });

    test("help: every section opens; figures, evidence and the columns of every sheet are there", async () => {
      await p.press1("F1");
      const sections = await p.eval(() => document.querySelectorAll("#help-body > details").length);
      for (let i = 0; i < sections; i++) {
        if (!(await p.eval((k) => document.getElementById("help-" + k).open, i))) await p.click(`#help-${i} > summary`);
        await p.until((k) => document.getElementById("help-" + k).childElementCount > 1, i);
      }
      const text = await p.text("#help-body");
      const sheets = await p.eval(() => [...document.querySelectorAll("#tabs [data-sheet]")].map((t) => t.textContent));
      assert.ok(sheets.length >= 12);
      for (const s of sheets) assert.match(text, new RegExp("Columns of the sheet " + s));
      assert.ok(await p.eval(() => document.querySelectorAll("#help-body svg").length) >= 6);
      assert.ok(await p.eval(() => [...document.querySelectorAll("#help-body details")].find((d) => /checked against/.test(d.firstChild.textContent)).querySelectorAll("tbody tr").length) > 5);
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("dlg-help").open), false);
    });

    test("menus: arrows walk, a letter finds, Escape gives the focus back", async () => {
      await p.goTo(0, 0);
      await p.click("[data-menu=menu-rows]");
      await p.press("ArrowDown");
      assert.equal(await p.eval(() => document.activeElement.dataset.do), "duplicateRows");
      await p.press("d");
      assert.equal(await p.eval(() => document.activeElement.dataset.do), "deleteRows");
      await p.press1("Escape");
      assert.equal(await p.eval(() => document.getElementById("menu-rows").hidden), true);
      assert.equal(await focusIn("#sheet"), true, "the mouse came from the sheet");
      await p.eval(() => document.querySelector("[data-menu=menu-job]").focus());
      await p.press("ArrowDown");
      await p.press("Escape");
      assert.equal(await p.eval(() => document.activeElement.dataset.menu), "menu-job");
    });

    test("saving goes to the same file where the browser writes files; a failure leaves the job unsaved", async () => {
      await withList(2);
      await p.eval(() => {
        globalThis.asked = 0;
        globalThis.written = [];
        globalThis.showSaveFilePicker = async (o) => {
          globalThis.asked++;
          return { name: o.suggestedName, createWritable: async () => {
            if (globalThis.broken) throw new Error("the disk is gone");
            let text = "";
            return { write: async (blob) => { text = await blob.text(); }, close: async () => { globalThis.written.push(text); } };
          } };
        };
      });
      await p.press1("Control+s");
      await p.until(() => globalThis.written.length === 1);
      await p.until(() => /^saved in .*rev1.*\.html at \d\d:\d\d$/.test(document.getElementById("savemark").textContent));
      assert.match(await p.text("#status"), /^Saved in /);
      await p.goTo(0, 0);
      await p.type("Changed");
      await p.press1("Enter");
      assert.match(await p.text("#savemark"), /not saved/);
      await p.press1("Control+s");
      await p.until(() => globalThis.written.length === 2);
      assert.equal(await p.eval(() => globalThis.asked), 1, "it asks once");
      assert.match(await p.eval(() => globalThis.written[1]), /<script type="application\/json" id="job">.*"revision":2.*Changed/s);
      await p.eval(() => { globalThis.broken = true; });
      await p.goTo(0, 0);
      await p.type("Again");
      await p.press1("Enter", "Control+s");
      await p.until(() => /could not be written/.test(document.getElementById("status").textContent));
      assert.match(await p.text("#savemark"), /not saved/);
      assert.match(await p.eval(() => document.title), /^• /);
      await p.eval(() => { delete globalThis.showSaveFilePicker; });
    });

    test("storage that is forbidden from the beginning is said", async () => {
      const t = await b.open(fileURL(pageFile), () => { IDBFactory.prototype.open = () => { throw new DOMException("no", "SecurityError"); }; });
      await t.idle();
      await t.click("#welcome [data-columns='rim and face']");
      await t.type("Pump");
      await t.press1("Enter");
      await t.until(() => /no safety copy/.test(document.getElementById("savemark").textContent));
      assert.match(await t.eval(() => document.getElementById("savemark").title), /keeps no storage/);
      await t.raw.close();
      await p.front();
    });

    test("when the program fails or has ended the banner hands the job over", async () => {
      await withList(2);
      await wait(900);
      await p.eval(() => shimsheetView.act("no such operation"));
      assert.match(await p.text("#banner-text"), /Something went wrong/);
      const whole = JSON.parse(readFileSync(await p.download(() => p.click("#banner-json")), "utf8"));
      assert.equal(whole.machines.rows.length, 2);
      assert.match(await p.text("#banner-text"), /as it stands/);
      await p.click("#banner-close");
      await p.eval(() => { globalThis.kept = globalThis.shimsheet; globalThis.shimsheet = { call() { throw new Error("Go program has already exited"); } }; });
      b.record.errors.length = 0;
      await p.press("ArrowDown");
      await p.until(() => !document.getElementById("banner").hidden);
      assert.match(await p.text("#banner-text"), /has ended/);
      const copy = JSON.parse(readFileSync(await p.download(() => p.click("#banner-json")), "utf8"));
      assert.deepEqual(copy.machines, whole.machines);
      assert.match(await p.text("#banner-text"), /last safety copy/);
      const page = readFileSync(await p.download(() => p.click("#banner-save")), "utf8");
      assert.match(page, /id="job">\{.*"Pump 2"/s);
      b.record.errors.length = 0; // the failing calls
      await p.eval(() => { globalThis.shimsheet = globalThis.kept; });
      await p.click("#banner-close");
    });

    test("nothing was asked for and no error was logged", () => {
      assert.deepEqual(b.record.requests.filter((u) => !/^(file:|blob:|data:|about:)/.test(u)), []);
      assert.deepEqual(b.record.errors, []);
    });
  });
}
