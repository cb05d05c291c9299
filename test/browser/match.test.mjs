// Headers of one's own, from paste to results, in both browsers: guessed and shown as guesses, asked where two meanings are as likely, kept in the job and
// offered in the next one. With SHIMSHEET_SHOTS=DIR the pictures of it are written there.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, writeFileSync, mkdtempSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { browsers, copyText, pageFile, fileURL, wait } from "./browsers.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const text = (rows) => rows.map((r) => r.join("\t")).join("\r\n") + "\r\n";
// Made up for the test, in the short forms of planners.
const good = ["Equip no", "Cplg", "Cplg-FF", "FF-RF", "S plane", "M plane", "M 0", "M 90", "M 180", "M 270", "S 0", "S 90", "S 180", "S 270"];
const row = (name) => [name, "short", "410", "620", "120", "130", "0", "0.05", "0.12", "0.07", "0", "-0.15", "-0.02", "0.13"];
const doubtful = ["Pump", "Motor", "Driver RPM", "Cplg-FF", "FF-RF", "M plane", "T", "R", "B", "L", "T", "R", "B", "L", "Face Ø"];

for (const make of browsers) {
  test.describe(make.name, () => {
    let b, p;
    const shot = async (name) => { if (process.env.SHIMSHEET_SHOTS) await p.raw.screenshot({ path: join(process.env.SHIMSHEET_SHOTS, `match-${b.name}-${name}.png`) }); };
    const paste = async (rows) => { await copyText(b, text(rows)); await p.front(); await p.press("Control+v"); };
    const opens = () => p.until(() => document.getElementById("dlg-match").open);
    const shut = () => p.until(() => !document.querySelector("dialog[open]"));
    /** The rows of the dialog: header, what it is read as, how. */
    const rows = () => p.eval(() => [...document.querySelectorAll("#match-body tbody tr")].map((r) => [r.cells[0].textContent, r.querySelector("select").selectedOptions[0].textContent, r.className]));
    before(async () => {
      b = await make();
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await p.eval(() => { // real clicks are counted
        globalThis.clicks = 0;
        addEventListener("click", (e) => { if (e.isTrusted) clicks++; }, true);
      });
    });
    after(async () => {
      await b?.close();
      assert.deepEqual(b.record.errors, []);
    });

    // Seen: of a list turned on its side, as a spreadsheet beside a drawing has it, the dialog showed columns without a name and nothing said what the matter was.
    test("a list turned on its side is told so, laid out one machine a row with one press, and read", async () => {
      const lists = [["", "P-201", "P-202"], ["rpm", "1480", "2960"], ...["T", "R", "B", "L"].map((x, i) => ["M rim " + x, String(i), "0"]), ["Cpl to front feet", "410", "411"]];
      await paste(lists);
      await opens();
      assert.match(await p.text("#match-body .shape"), /first column: the list is turned on its side/);
      await p.press("Enter");
      await p.until(() => !document.querySelector("#match-body .shape"));
      assert.deepEqual((await rows()).map((r) => r[1]), ["Machine", "Speed", ...["12", "3", "6", "9"].map((x) => "Movable rim " + x), "Coupling to front feet"]);
      await p.press("Escape");
      await shut();
      assert.equal((await p.state()).columns, 0, "nothing was taken");
      await paste([["Machine", "Point", "Value"], ["P-1", "Speed", "1480"], ["P-1", "Speed", "1490"], ["P-1", "Offset limit", "1"], ["P-1", "Slope limit", "1"]]);
      await opens();
      assert.match(await p.text("#match-body .shape"), /one value a row.*cannot be laid out here without leaving something out/);
      await p.press("Escape");
      await shut();
    });

    test("a list in short forms: the dialog opens by itself, guesses are told as guesses, one click reads fourteen columns", async () => {
      await paste([good, row("P-101"), row("P-102")]);
      await opens();
      await shot("1-guesses");
      assert.deepEqual((await rows()).map((r) => r[1]), ["Machine", "Coupling", "Coupling to front feet", "Front to rear feet", "Coupling to stationary plane", "Coupling to movable plane",
        ...["Movable rim", "Stationary rim"].flatMap((f) => ["12", "3", "6", "9"].map((x) => f + " " + x))]);
      assert.ok((await rows()).every((r) => r[2] === "guess"));
      assert.match(await p.text("#match-body tbody tr .how"), /^guess ./);
      assert.equal(await p.text("#match-take"), "Take the 14 guesses and read the list");
      assert.equal((await p.state()).columns, 0, "nothing is taken before a person has seen it");
      await p.eval(() => { clicks = 0; });
      await p.click("#match-take");
      await p.idle();
      assert.equal(await p.eval(() => clicks), 1);
      await shot("2-results");
      assert.match(await p.text("#status"), /14 columns are matched/);
      assert.deepEqual(await p.column("Machine", 0, 2), ["P-101", "P-102"]);
      assert.match((await p.column("Offset V", 0, 1))[0], /^[−-]?0\.\d/);
      await p.press("Control+z");
      await p.idle();
      assert.equal((await p.state()).columns, 0);
      await p.press("Control+y");
      await p.idle();
    });

    test("the same headers again in this job: nothing is asked, and it is said", async () => {
      await paste([good, row("P-103")]);
      await p.until(() => document.getElementById("dlg-paste").open);
      assert.equal(await p.eval(() => document.getElementById("dlg-match").open), false);
      assert.match(await p.text("#paste-body"), /Movable rim 12/);
      await p.click("#paste-take");
      await p.idle();
      assert.match(await p.text("#status"), /^14 columns are read as matched before in this job/);
      assert.equal(await p.text("#status-do"), "Change the match…");
      assert.deepEqual(await p.column("Machine", 0, 3), ["P-101", "P-102", "P-103"]);
      const [first, ...others] = await p.column("Offset V", 0, 3);
      assert.ok(first && others.every((v) => v === first), "read alike");
      const job = await p.job();
      assert.ok(job.settings.rows.some((r) => r[0] === "Header of Machines: M 90" && r[1] === "Movable rim 3"), "it is saved with the job");
    });

    test("it stays in a menu, and can be changed there", async () => {
      await p.click("[data-do=matchColumns]");
      await opens();
      assert.match(await p.text("#match-body"), /was “M 90”/);
      await p.press("Escape");
      await shut();
      await p.eval(() => document.getElementById("status-do").click());
      await opens();
      await p.press("Escape");
      await shut();
    });

    test("the next job on this computer: offered, and one click takes it", async () => {
      await p.click("header [data-do=new]");
      await p.idle();
      await paste([good, row("P-201")]);
      await opens();
      assert.ok((await rows()).every((r) => r[2] === "before"));
      assert.match(await p.text("#match-body tbody tr .how"), /as matched before on this computer/);
      await p.press("Enter");
      await p.idle();
      assert.deepEqual(await p.column("Machine", 0, 1), ["P-201"]);
      await p.click("header [data-do=new]");
      await p.idle();
      await p.eval(() => localStorage.removeItem("shimsheet-headers"));
    });

    test("what has two meanings is asked; one answer settles a series; fifteen columns in at most six clicks", async () => {
      await paste([doubtful, ["P 1", "M 1", "1480", "410", "620", "130", "0", "0.05", "0.12", "0.07", "0", "-0.15", "-0.02", "0.13", "200"]]);
      await opens();
      await shot("3-questions");
      const asked = (await rows()).filter((r) => r[2] === "question").map((r) => r[0]);
      assert.deepEqual(asked, ["Pump", "Motor", "T", "R", "B", "L", "T", "R", "B", "L"]);
      assert.ok((await rows()).filter((r) => r[2] === "question").every((r) => r[1] === "kept, not read"), "a question is no guess");
      assert.match(await p.text("#match-said"), /4 questions are open/);
      await p.eval(() => { clicks = 0; });
      const answer = async (at, words) => {
        await p.eval(([i, w]) => { [...document.querySelectorAll("#match-body tbody tr")][i].querySelectorAll(".how button").forEach((x) => x.toggleAttribute("data-this", x.textContent === w)); }, [at, words]);
        await p.click("#match-body [data-this]");
      };
      await answer(0, "Stationary");
      await answer(1, "Machine");
      await answer(6, "Movable rim 12");
      await answer(10, "Face 12");
      assert.deepEqual((await rows()).slice(6, 14).map((r) => r[1]), ["Movable rim", "Face"].flatMap((f) => ["12", "3", "6", "9"].map((x) => f + " " + x)));
      await p.click("#match-take");
      await p.idle();
      assert.ok(await p.eval(() => clicks) <= 6);
      assert.deepEqual(await p.column("Machine", 0, 1), ["M 1"]);
      assert.deepEqual(await p.column("Face 9", 0, 1), ["0.13"]);
      assert.notEqual((await p.column("Offset V", 0, 1))[0], "");
    });

    test("without the guesses, and not at all", async () => {
      await p.click("header [data-do=new]");
      await p.idle();
      await p.eval(() => localStorage.removeItem("shimsheet-headers"));
      await paste([["Machine", "Spd rpm", ...good.slice(1)], ["P 1", "1480", ...row("").slice(1)]]);
      await opens();
      await p.press("Escape");
      await shut();
      assert.equal((await p.state()).columns, 0);
      await p.press("Control+v");
      await opens();
      await p.click("#match-less");
      await p.idle();
      assert.deepEqual(await p.eval(() => JSON.parse(shimsheet.call("layout")).columns.filter((c) => c.group === "Own").map((c) => c.name)), ["Spd rpm", ...good.slice(1)]);
      assert.ok(!(await p.job()).settings?.rows.some((r) => r[0].startsWith("Header of")));
    });

    // Seen: Ctrl+V right after Escape did nothing, five times in a hundred on a busy computer: until the next frame the focus stood in the closed dialog.
    test("a list pasted in the moment a dialog closes is taken, and the sheet has the focus after", async () => {
      await p.eval((list) => {
        document.activeElement.blur();
        const dialog = document.getElementById("dlg-match"), clipboardData = new DataTransfer();
        clipboardData.setData("text/plain", list);
        dialog.showModal();
        document.getElementById("match-take").focus();
        dialog.close();
        // data and dataType for Firefox, which does not know clipboardData. Seen: the list never came.
        document.activeElement.dispatchEvent(new ClipboardEvent("paste", { clipboardData, data: list, dataType: "text/plain", bubbles: true, cancelable: true }));
      }, text([["Machine", "Spd rpm", ...good.slice(1)], ["P 1", "1480", ...row("").slice(1)]]));
      await opens();
      await p.press("Escape");
      await shut();
      await p.until(() => document.activeElement.closest("#work"));
    });

    // Seen: "Movable rim 6" typed into the list of a column ended at another column: each letter was taken for a choice at once, the file was read again, and
    // the list that got the next letters was a new one that knew nothing of the letters before.
    test("what is typed into a list is found as a whole, fast and slowly, in both dialogs", async () => {
      const type = async (sel, pause) => {
        await p.eval((s) => document.querySelector(s).focus(), sel);
        for (const [i, c] of [..."Movable rim 6"].entries()) { // a pause longer than a browser waits for the next letter, after every fourth and before the last
          await p.type(c);
          if (i % 4 === 3) await wait(pause);
        }
        assert.equal(await p.eval((s) => document.activeElement === document.querySelector(s) && document.activeElement.selectedOptions[0].textContent, sel), "Movable rim 6");
        await p.press("Enter");
        await wait(300);
        assert.equal(await p.eval((s) => document.querySelector(s).selectedOptions[0].textContent, sel), "Movable rim 6");
      };
      for (const pause of [0, 1100]) {
        await p.click("header [data-do=new]");
        await p.idle();
        await paste([["Machine", "Xyz", "Qqq", "M 0", "M 90", "M 270"], ["P 1", "0.1", "0.2", "0", "0.1", "0.2"]]);
        await opens();
        await type("#match-body tbody tr:nth-child(2) select", pause);
        await p.press("Escape");
        await shut();
        const file = join(mkdtempSync(join(tmpdir(), "shimsheet-match-")), "own words.csv");
        writeFileSync(file, "Machine,Speed,Xyz,Qqq\nP 1,1480,0.1,0.2\n");
        await p.files("#file", file);
        await p.until(() => document.getElementById("dlg-open").open && !document.getElementById("open-take").disabled);
        await type("#open-body .match tbody tr:nth-child(3) select", pause);
        await p.until(() => document.querySelector("#open-body .match tbody tr:nth-child(3)").cells[2].querySelector("select").selectedOptions[0].textContent === "Movable rim 6" && !document.getElementById("open-take").disabled);
        await p.click("#open-cancel");
        await shut();
      }
    });

    test("a file with headers of its own: guesses stand beside the columns, are taken by a press, and are kept in the job", async () => {
      await p.click("header [data-do=new]");
      await p.idle();
      await p.eval(() => localStorage.removeItem("shimsheet-headers"));
      const file = join(mkdtempSync(join(tmpdir(), "shimsheet-match-")), "own words.csv");
      writeFileSync(file, [good, row("P-101"), row("P-102")].map((r) => r.join(",")).join("\n"));
      const read = () => p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && !document.getElementById("open-take").disabled && !!document.querySelector("#open-body .match"));
      await p.files("#file", file);
      await read();
      await shot("5-file");
      assert.match(await p.text("#open-body"), /0 columns are understood, 14 kept unread/);
      assert.match(await p.text("#open-body .how"), /guess Machine: /);
      await p.click("#open-body .guesses");
      await p.until(() => !document.querySelector("#open-body .guesses"));
      await read();
      await p.click("#open-take");
      await shut();
      await p.idle();
      assert.match(await p.text("#counts"), /^2 couplings/);
      assert.notEqual((await p.column("Offset V", 0, 1))[0], "");
      assert.equal((await p.job()).settings.rows.filter((r) => r[0].startsWith("Header of Machines: ")).length, 14);
      assert.equal(await p.eval(() => JSON.parse(localStorage.getItem("shimsheet-headers")).length), 14);
    });

    test("nothing serious in the dialog for axe, on a desk and on a phone", async () => {
      await p.click("header [data-do=new]");
      await p.idle();
      await p.eval(() => localStorage.removeItem("shimsheet-headers"));
      await p.eval(axe);
      await paste([doubtful, ["P 1", "M 1", "1480", "410", "620", "130", "0", "0.05", "0.12", "0.07", "0", "-0.15", "-0.02", "0.13", "200"]]);
      await opens();
      for (const [w, h] of [[1366, 768], [1920, 1080], [390, 844]]) {
        await p.size(w, h);
        await wait(300);
        await shot(`4-${w}`);
        const bad = await p.eval(async () => (await globalThis.axe.run(document, { resultTypes: ["violations"] })).violations.filter((v) => v.impact === "serious" || v.impact === "critical").map((v) => v.id + ": " + v.nodes.map((x) => x.html.slice(0, 160)).join(" | ")));
        assert.deepEqual(bad, []);
        assert.ok(await p.eval(() => document.getElementById("match-body").scrollWidth <= document.getElementById("match-body").clientWidth + 1), `sideways scrolling at ${w}`);
        // Seen: another rule of the page took the rows of questions apart on a desk.
        if (w > 800) assert.ok(await p.eval(() => [...document.querySelectorAll("#match-body tr")].every((r) => getComputedStyle(r).display === "table-row")));
        const take = await p.box("#match-take");
        assert.ok(take.y + take.height <= h && take.x >= 0 && take.x + take.width <= w, `the button is out of sight at ${w}`);
      }
      await p.size(1366, 768);
      await p.press("Escape");
      await shut();
    });
  });
}
