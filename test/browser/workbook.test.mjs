// Workbooks and lists in and out of the offline page, in both browsers, from file://. The workbooks of testdata/hostile were made by openpyxl or
// byte by byte (see foreign.py and internal/workbook there); numbers are worked out here by hand: a shim is −(offset + slope × distance).
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync, mkdtempSync, rmSync } from "node:fs";
import { inflateRawSync } from "node:zlib";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { browsers, list, pageFile, fileURL, root } from "./browsers.mjs";

const hostile = join(root, "testdata/hostile");
const demoBook = join(root, "testdata/demo/job.xlsx");

/** The parts of a zip file. */
function unzip(file) {
  const b = readFileSync(file);
  let at = b.lastIndexOf(Buffer.from("PK\x05\x06", "latin1"));
  const n = b.readUInt16LE(at + 10);
  at = b.readUInt32LE(at + 16);
  const out = {};
  for (let i = 0; i < n; i++) {
    const [packing, size, names, extra, note, from] = [b.readUInt16LE(at + 10), b.readUInt32LE(at + 20), b.readUInt16LE(at + 28), b.readUInt16LE(at + 30), b.readUInt16LE(at + 32), b.readUInt32LE(at + 42)];
    const name = b.toString("utf8", at + 46, at + 46 + names);
    const data = from + 30 + b.readUInt16LE(from + 26) + b.readUInt16LE(from + 28);
    const raw = b.subarray(data, data + size);
    out[name] = (packing ? inflateRawSync(raw) : raw).toString("utf8");
    at += 46 + names + extra + note;
  }
  return out;
}

for (const launch of browsers) {
  describe(launch.name + ", workbooks", () => {
    let b, p, dir;
    before(async () => {
      b = await launch();
      dir = mkdtempSync(join(tmpdir(), "shimsheet-lists-"));
      console.log(`# ${b.name} ${b.version}`);
    });
    after(async () => {
      await b?.close();
      rmSync(dir, { recursive: true, force: true });
    });

    const fresh = async () => {
      if (p) await p.raw.close();
      p = await b.open(fileURL(pageFile));
      await p.idle();
      if ((await p.state()).columns > 0 || (await p.state()).changes > 0) {
        await p.click("header [data-do=new]");
        await p.idle();
      }
    };
    const write = (name, data) => {
      writeFileSync(join(dir, name), data);
      return join(dir, name);
    };
    /** The dialog is there and waits for the person. */
    const settled = () => p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden
      && (!document.getElementById("open-take").disabled || !!document.querySelector("#open-body .refused")));
    const look = async (file) => {
      await p.files("#file", file);
      await settled();
    };
    const leave = async (how = () => p.press("Escape")) => {
      await how();
      await p.until(() => !document.querySelector("dialog[open]"));
    };
    const take = async () => {
      await p.click("#open-take");
      await p.until(() => !document.getElementById("dlg-open").open);
      await p.idle();
    };
    const job = async () => JSON.parse(JSON.parse(await p.eval(() => shimsheet.call("job"))).text);
    /** The job without where it was read from, and without titles that hold nothing. */
    const content = async () => {
      const j = await job();
      for (const k of ["length", "sha256"]) delete j[k]; // of the text, which says where it was read from
      for (const k of ["machines", "readings", "stock", "settings", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"]) if (j[k]) {
        delete j[k].file;
        if (!j[k].title?.length) delete j[k].title;
      }
      return j;
    };
    const columns = () => p.eval(() => JSON.parse(shimsheet.call("layout")).columns.map((c) => c.name));
    const shared = () => p.until(() => document.documentElement.dataset.sharing === "0"); // the packs shown are those of the sharing-out
    const table = async (rows) => (await shared(), Promise.all((await columns()).map((c) => p.column(c, 0, rows))));

    test("the demo's workbook gives what the demo's lists give, in one step that can be undone", async () => {
      await fresh();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      const want = await table(26), names = await columns();
      await p.click("header [data-do=new]");
      await p.idle();
      await p.click("#welcome [data-columns='rim and face']");
      await p.type("Before");
      await p.press1("Enter");
      const before = await content();
      await look(demoBook);
      const said = await p.text("#open-body");
      assert.match(said, /26 rows of machines/);
      assert.match(said, /Header in row 3, under 2 title lines/);
      assert.match(said, /26 rows read, the last in row 29; the sheet says of itself A1:[BC][A-Z]29/);
      assert.match(await p.text("#open-what"), /takes the place of .* which no file has as it stands\. Ctrl\+Z brings that back/);
      assert.deepEqual(await content(), before, "something was replaced before it was taken");
      await take();
      assert.deepEqual(await columns(), names);
      assert.deepEqual(await table(26), want);
      assert.match(await p.text("#counts"), /^26 couplings: .*\b2 not judged$/);
      assert.match(await p.text("#undo"), /opening of job\.xlsx/);
      // an edit of the new job is undone first, then the exchange; both come back in turn
      await p.goTo(0, "Machine");
      await p.type("Edited");
      await p.press1("Enter");
      const edited = await content();
      await p.press1("Control+z");
      assert.match(await p.text("#undo"), /opening of job\.xlsx/);
      await p.press1("Control+z");
      assert.deepEqual(await content(), before);
      assert.match(await p.text("#savemark"), /not saved/);
      await p.press1("Control+y");
      assert.deepEqual(await table(26), want);
      await p.press1("Control+y");
      assert.deepEqual(await content(), edited);
    });

    test("a workbook from elsewhere: what was found is said, a wrong unit and a wrong match are put right first", async () => {
      await fresh();
      await look(join(hostile, "openpyxl.xlsx"));
      const said = await p.text("#open-body");
      assert.match(said, /A workbook with 3 sheets/);
      assert.match(said, /Pumps west.*Read as Machines, by its headers\. Header in row 4, under 3 title lines\. 6 rows read, the last in row 10/s);
      assert.match(said, /Store.*Read as Stock/s);
      assert.match(said, /Sheets kept unread.*Notes.*no header row with known names/s);
      for (const w of [/Problem: .*row 7, Coupling to front feet.*no stored value/, /Look: .*row 6, Speed.*stored as text/, /Look: .*row 9.*is a date, 2026-01-08/, /hidden row/]) assert.match(said, w);
      const unit = (letter) => p.eval((l) => document.querySelector(`select[aria-label^="Unit of column ${l},"]`)?.value, letter);
      assert.equal(await unit("C"), "in");
      assert.equal(await unit("D"), "mm");
      const header = async () => { await settled(); return p.eval(() => [...document.querySelectorAll("#open-body .match tbody tr")].slice(0, 10).map((r) => r.cells[2].querySelector("select").selectedOptions[0].textContent)); };
      await p.choose('select[aria-label^="Unit of column D,"]', "in");
      await p.until(() => /as chosen/.test(document.querySelector('select[aria-label^="Unit of column D,"]').parentElement.textContent));
      await p.choose('select[aria-label^="What column J,"]', "");
      await p.until(() => document.querySelector('select[aria-label^="What column J,"]').value === "");
      await settled();
      await p.choose('select[aria-label^="What column I,"]', "note");
      await p.until(() => document.querySelector('select[aria-label^="What column I,"]').value === "note");
      assert.deepEqual(await header(), ["Machine", "Speed", "Coupling to front feet", "Front to rear feet", "Given offset V", "Given offset H", "Given slope V", "Given slope H", "Note", "kept unread"]);
      // numbers stored as text: only on the person's word
      assert.match(await p.text("#open-body"), /stored as text/);
      await p.click('#open-numbers-0');
      await p.until(() => !/is stored as text; it is kept/.test(document.getElementById("open-body").textContent));
      await settled();
      await take();
      assert.deepEqual((await p.column("Note", 0, 2)), ["W-17", "4711"]);
      const rear = (await p.column("Rear shim", 0, 6))[1], front = (await p.column("Front shim", 0, 6))[1];
      const shim = (z) => -(0.12 + 0.1 * z / 1000);
      assert.ok(Math.abs(parseFloat(front) - shim(14.125 * 25.4)) < 0.0051, `front ${front}`);
      assert.ok(Math.abs(parseFloat(rear) - shim((14.125 + 560) * 25.4)) < 0.0051, `rear ${rear}, the distance in inches`);
      assert.match(await p.eval(() => JSON.stringify(JSON.parse(shimsheet.call("layout")).columns.find((c) => c.name === "Front to rear feet"))), /"unit":"in"/);
      await p.click("#tab-3");
      await p.idle();
      assert.match(Object.values(await p.seen()).join("|"), /0\.05\|20/);
      // as found, for comparison
      await fresh();
      await look(join(hostile, "openpyxl.xlsx"));
      await take();
      assert.ok(Math.abs(parseFloat((await p.column("Rear shim", 0, 6))[1]) - shim(14.125 * 25.4 + 560)) < 0.0051);
    });

    test("what was pointed out stays in the list of problems, and the safety copy of a long job comes back whole", async () => {
      await fresh();
      const lines = list(3000).replace("Note", "Nota bene").split("\r\n");
      lines[7] = lines[7].replace("1480", "14x80");
      await look(write("long.tsv", lines.join("\r\n")));
      // a choice that leaves no list of machines is refused; another choice made before it is kept
      await p.choose("#open-what-0-19", "note");
      await settled();
      await p.choose("#open-kind-0", "");
      await settled();
      await p.choose("#open-kind-0", "machines");
      await settled();
      assert.match(await p.text("#open-body"), /Nota bene/);
      await take();
      await p.click("#side-problems"); // a long list is worded when it is looked at
      await p.idle();
      const problems = await p.text("#panel-problems");
      assert.match(problems, /As read: long.*1 column is kept unread: "Nota bene"/);
      assert.match(problems, /As read: long.*3000 rows were read below the header, the last in row 3001/);
      assert.match(problems, /14x80/);
      const want = await content();
      const pieces = async () => (await p.kept()).filter((l) => l.rows === 3000 && l.pieces > 1);
      while (!(await pieces()).length) await new Promise((r) => setTimeout(r, 50)); // a long job is written while the page can be used
      await p.reload();
      await p.idle();
      assert.deepEqual(await content(), want);
      // an edit is one record behind the whole copy
      await p.goTo(0, "Machine");
      await p.type("Edited");
      await p.press1("Enter");
      while ((await pieces())[0].records !== 1) await new Promise((r) => setTimeout(r, 50));
      await p.reload();
      await p.idle();
      assert.equal((await content()).machines.rows[0][0], "Edited");
    });

    test("a sheet and a header row are chosen, and a file without a list can be cancelled", async () => {
      await fresh();
      await look(join(hostile, "openpyxl.xlsx"));
      const as = 'select[aria-label="Read sheet Pumps west as"]';
      await p.choose(as, "");
      await p.until(() => !!document.querySelector("#open-body .refused"));
      assert.match(await p.text("#open-body .refused"), /No sheet looks like a list of machines \(sheets: "Pumps west", "Notes", "Store"\)/);
      assert.equal(await p.eval(() => document.getElementById("open-take").disabled), true);
      assert.equal(await p.eval((s) => document.querySelector(s).value, as), "", "the choice is not shown");
      await p.choose(as, "machines");
      await p.until(() => !document.querySelector("#open-body .refused"));
      await settled();
      assert.match(await p.text("#open-body"), /Read as Machines, as chosen/);
      await leave();
      await look(write("late.csv", "a,b\nleft out,1\nPump,Revs\nMachine,Speed\nP-1,1480\n"));
      await p.until(() => !!document.querySelector("#open-body input[type=number]"));
      assert.equal(await p.eval(() => document.querySelector("#open-body input[type=number]").value), "4");
      await p.eval(() => {
        const i = document.querySelector("#open-body input[type=number]");
        i.value = "3";
        i.dispatchEvent(new Event("change", { bubbles: true })); // as one of a person does
      });
      await p.until(() => /Header in row 3/.test(document.getElementById("open-body").textContent));
      await settled();
      assert.match(await p.text("#open-body"), /2 kept unread \(Pump, Revs\)/);
      await leave(() => p.click("#open-cancel"));
      assert.equal((await p.state()).changes, 0);
      await p.until(() => /late\.csv was not opened; nothing is changed/.test(document.getElementById("status").textContent)); // the event of the closing comes behind it
    });

    test("what the page writes it reads back as the same job, and writes the same again", async () => {
      await fresh();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      const before = await content(), shown = await table(26);
      await p.click("header [data-do=workbook]");
      const first = await p.download(() => p.click("#workbook-save"));
      assert.match(first, /Spring-shutdown-couplings-rev0-\d{4}-\d\d-\d\d-\d{4}.*\.xlsx$/);
      await p.until(() => !document.getElementById("dlg-workbook").open);
      assert.match(await p.text("#status"), /was handed to the browser/);
      assert.match(await p.text("#savemark"), /not saved/, "a workbook handed over is no proof that the job is saved");
      const parts = unzip(first);
      assert.doesNotMatch(Object.values(parts).join(""), /<f>/);
      await p.goTo(1, "Machine");
      await p.type("Changed meanwhile");
      await p.press1("Enter");
      await look(first);
      assert.match(await p.text("#open-body"), /written by this program/);
      await take();
      assert.deepEqual(await content(), before);
      assert.deepEqual(await table(26), shown);
      await p.click("header [data-do=workbook]");
      const second = await p.download(() => p.click("#workbook-save"));
      assert.deepEqual(readFileSync(second), readFileSync(first));
      await p.until(() => !document.getElementById("dlg-workbook").open);
    });

    test("live formulas are written on the person's choice", async () => {
      await p.click("header [data-do=workbook]");
      await p.click("#workbook-live");
      const parts = unzip(await p.download(() => p.click("#workbook-save")));
      const formulas = Object.values(parts).join("").match(/<f>/g)?.length ?? 0;
      assert.ok(formulas > 100, `${formulas} formulas`);
      await p.until(() => !document.getElementById("dlg-workbook").open);
    });

    test("what is made while the dialog stands is the job as it is then, and the same workbook as one that is written at once", async () => {
      const one = async (stands) => {
        await p.click("header [data-do=workbook]");
        await p.eval((ms) => new Promise((r) => setTimeout(r, ms)), stands);
        const parts = unzip(await p.download(() => p.click("#workbook-save")));
        await p.until(() => !document.getElementById("dlg-workbook").open);
        return parts;
      };
      const atOnce = await one(0);
      assert.deepEqual(await one(2500), atOnce);
      await p.click("header [data-do=workbook]"); // opened, left, and the job goes on
      await p.eval(() => new Promise((r) => setTimeout(r, 2500)));
      await p.click("#workbook-cancel");
      await p.until(() => !document.getElementById("dlg-workbook").open);
      await p.eval(() => shimsheet.call("go", 0, 0, false));
      await p.click("regular-table tbody td");
      await p.press1("Home");
      await p.type("Pump that came later");
      await p.press1("Enter");
      const later = await one(2500);
      assert.ok(Object.values(later).some((x) => x.includes("Pump that came later")), "the workbook is of the job as it was");
      await p.press1("Control+z");
      assert.deepEqual(Object.values(await one(0)).some((x) => x.includes("Pump that came later")), false);
    });

    test("results are added to a copy of the person's own workbook", async () => {
      await fresh();
      const mine = join(hostile, "libreoffice.xlsx");
      await look(mine);
      await take();
      await p.click("header [data-do=workbook]");
      const file = await p.download(() => p.files("#workbook-file", mine));
      assert.match(file, /libreoffice with results.*\.xlsx$/);
      const was = unzip(mine), is = unzip(file);
      assert.deepEqual(is["xl/worksheets/sheet1.xml"], was["xl/worksheets/sheet1.xml"], "the person's sheet is touched");
      for (const name of ["Pumps west", "Notes", "Results (Shimsheet)", "Method (Shimsheet)"]) assert.ok(is["xl/workbook.xml"].includes(`name="${name}"`), name);
      await p.until(() => !document.getElementById("dlg-workbook").open);
      // what cannot be added to says so, and the dialog stays
      await p.click("header [data-do=workbook]");
      await p.files("#workbook-file", join(hostile, "truncated.xlsx"));
      await p.until(() => document.getElementById("workbook-said").textContent);
      assert.match(await p.text("#workbook-said"), /^truncated\.xlsx: nothing was added\. .*cut short/);
      assert.equal(await p.eval(() => document.getElementById("workbook-save").disabled), false);
      await leave();
    });

    test("a hostile file becomes a sentence, and the job stays", async () => {
      await fresh();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      const before = await job();
      const state = await p.state();
      const refused = { "truncated.xlsx": /cut short/, "flipped-byte.xlsx": /damaged/, "says-huge.xlsx": /unpacks to/, "protected.xlsx": /password/, "old.xls": /old \.xls/, "document.ods": /OpenDocument/, "webpage.xlsx": /web page/,
        "empty.xlsx": /empty/, "entities.xlsx": /document type/, "deep.xlsx": /deep/, "far-column.xlsx": /XFD2/, "long-cell.xlsx": /A2 holds/, "range-absurd.xlsx": /no range/ };
      for (const [name, want] of Object.entries(refused)) {
        await look(join(hostile, name));
        const said = await p.text("#open-body");
        assert.ok(said.startsWith(name + " cannot be read. "), said);
        assert.match(said, want);
        assert.doesNotMatch(said, /goroutine|panic|fault of the program/);
        assert.equal(await p.eval(() => document.getElementById("open-take").disabled), true);
        await leave();
        assert.deepEqual(await job(), before, name);
      }
      assert.deepEqual(await p.state(), state);
      assert.ok(readdirSync(hostile).length > 40);
    });

    test("cancel stops a long import at once and leaves the job, and the next one works", async () => {
      await fresh();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      const before = await job();
      const big = write("big.tsv", list(60_000));
      for (const how of [() => p.click("#open-cancel"), () => p.press("Escape")]) {
        await p.files("#file", big);
        await p.until(() => !document.getElementById("open-busy").hidden && /Reading big\.tsv/.test(document.getElementById("open-busy").textContent));
        assert.equal(await p.eval(() => document.getElementById("open-take").disabled), true);
        await leave(how);
        await p.idle();
        assert.deepEqual(await job(), before);
        assert.equal((await p.state()).undo, "");
      }
      await look(write("small.tsv", list(3)));
      await take();
      assert.equal((await p.state()).rows, 3);
    });

    test("lists: dropped, in other encodings, and a list of another sheet comes into the job", async () => {
      await fresh();
      await p.eval(async (text) => {
        const d = new DataTransfer();
        d.items.add(new File([text], "dropped.csv"));
        dispatchEvent(new DragEvent("drop", { dataTransfer: d, cancelable: true }));
      }, list(5).replaceAll("\t", ";"));
      await settled();
      assert.match(await p.text("#open-body"), /A list as text, UTF-8\. 5 rows of machines/);
      await take();
      assert.match(await p.text("#counts"), /^5 couplings/);
      const shown = await table(5);
      await look(write("utf16.csv", Buffer.from("\ufeff" + list(5).replace("Pump 1", "Pumpe für Öl"), "utf16le")));
      assert.match(await p.text("#open-body"), /UTF-16/);
      await take();
      assert.equal((await p.column("Machine", 0, 1))[0], "Pumpe für Öl");
      await look(write("latin.csv", Buffer.from(list(5).replace("Pump 1", "Pumpe für Öl").replaceAll("\t", ","), "latin1")));
      assert.match(await p.text("#open-body"), /Windows-1252/);
      await leave();
      // a stock list does not throw the machines away
      await look(write("store.csv", "Thickness [mm],Pieces on hand\n0.05,20\n0.10,10\n"));
      assert.match(await p.text("#open-what"), /The Stock sheet of the job on the page is replaced; Ctrl\+Z brings it back/);
      await take();
      assert.equal((await p.state()).sheet, 3);
      assert.deepEqual(await p.column("Pieces on hand", 0, 2), ["20", "10"]);
      await p.click("#tab-0");
      await p.idle();
      assert.equal((await p.column("Machine", 0, 1))[0], "Pumpe für Öl");
      await p.goTo(0, "Machine");
      await p.type("Only here");
      await p.press1("Enter", "Control+z", "Control+z");
      assert.equal((await p.column("Machine", 0, 1))[0], "Pumpe für Öl", "an edit showed on the job before");
      assert.equal((await job()).stock?.rows?.length ?? 0, 0);
      await p.press1("Control+z");
      assert.deepEqual(await table(5), shown);
      // texts with the signs that part cells between the programs
      await look(write("signs.csv", "Machine,Speed,Note\nP\u001b1,1480,\"a\u001eb\u001fc\u001bed\"\n"));
      await take();
      const j = await job();
      assert.deepEqual(j.machines.rows, [["P\u001b1", "1480", "a\u001eb\u001fc\u001bed"]]);
    });

    test("a saved page carries the program for workbooks", async () => {
      const file = await p.download(() => p.press("Control+s"));
      await p.raw.close();
      p = await b.open(fileURL(file));
      await p.idle();
      await look(demoBook);
      await take();
      assert.match(await p.text("#counts"), /^26 couplings/);
    });

    test("nothing was asked for, no policy was broken, no error was logged", async () => {
      assert.deepEqual(b.record.requests.filter((u) => !/^(file:|blob:|data:|about:)/.test(u)), []);
      assert.deepEqual(b.record.errors, []);
    });
  });
}
