// The record of a machine signed with a drawn name, a change that shows, the board, a photo, and three saved pages merged.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { createHash, randomBytes } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { tmpdir } from "node:os";
import { deflateSync, crc32 } from "node:zlib";
import { browsers, pageFile, fileURL } from "./browsers.mjs";

/** A PNG of w × h pixels of noise, or, where told, only its head. */
function png(w, h, headOnly) {
  const chunk = (kind, data) => {
    const b = Buffer.concat([Buffer.alloc(4), Buffer.from(kind), data, Buffer.alloc(4)]);
    b.writeUInt32BE(data.length, 0);
    b.writeUInt32BE(crc32(b.subarray(4, 8 + data.length)) >>> 0, 8 + data.length);
    return b;
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(w, 0);
  head.writeUInt32BE(h, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const raw = headOnly ? Buffer.from([0]) : randomBytes(h * (3 * w + 1)).map((x, i) => i % (3 * w + 1) ? x : 0);
  return Buffer.concat([Buffer.from("\x89PNG\r\n\x1a\n", "latin1"), chunk("IHDR", head), chunk("IDAT", deflateSync(raw)), chunk("IEND", Buffer.alloc(0))]);
}

const machine = "Filter hall, scour blower B motor";
for (const make of browsers) {
  test.describe(make.name, () => {
    let b, p, dir;
    before(async () => {
      dir = mkdtempSync(join(tmpdir(), "shimsheet-record-"));
      b = await make({ width: 1366, height: 900 });
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await p.click("header [data-do=demo]");
      await p.idle();
    });
    after(async () => {
      await b?.close();
      rmSync(dir, { recursive: true, force: true });
      assert.deepEqual(b.record.errors, []);
    });
    const choose = async () => {
      await p.click("#tab-record");
      await p.idle();
      await p.choose("#record-machine", machine);
      await p.idle();
    };

    test("a machine is signed for with a drawn name; a later change shows, and goes when it is undone", async () => {
      await choose();
      await p.click("#record-signed_by");
      await p.type("crew 2");
      const at = await p.box("#record-pen");
      // Seen: what the job says changed while somebody signed (the stock was shared out), the screen was made anew under the pen, and the stroke was lost.
      await p.draw({ x: at.x + 40, y: at.y + 40 }, { x: at.x + 200, y: at.y + 70 }, async () => { await p.eval(() => { shimsheetView.act("insertRows"); }); });
      await p.click("#record-sign");
      await p.idle();
      await p.eval(() => { shimsheetView.act("deleteRows"); });
      assert.match(await p.text("#screen-record .signature"), /crew 2, aligner, .*: signed/);
      assert.equal(await p.eval(() => document.querySelectorAll("#screen-record .penned polyline").length), 1);
      const digest = (await p.text("#screen-record .digest")).split(" ").at(-1);
      const j = await p.job(), row = j.record.rows.length - 1 + j.record.first_row;
      const text = readFileSync(await p.download(() => p.click(`#screen-record [data-on=text][data-arg="${row}"]`)), "utf8");
      assert.equal(createHash("sha256").update(text).digest("hex"), digest, "the digest of the text that the page hands over");
      await p.click("#tab-0");
      await p.idle();
      const names = await p.column("Machine", 0, 30), i = names.indexOf(machine);
      await p.goTo(i, "Coupling to front feet");
      await p.type("391");
      await p.press1("Enter");
      await choose();
      assert.match(await p.text("#screen-record .signature"), /changed since signed/);
      await p.click("#tab-0");
      await p.press1("Control+z");
      await choose();
      assert.match(await p.text("#screen-record .signature"), /crew 2, aligner, .*: signed/);
    });

    test("a photo is scaled down to what a cell holds; bombs, other types and scripts are refused", async () => {
      await choose();
      const photo = join(dir, "photo.png");
      writeFileSync(photo, png(400, 300));
      await p.files("#record-photo", photo);
      await p.until(() => document.querySelector("#screen-record .photos img")?.complete, null, "the photo");
      const src = await p.eval(() => document.querySelector("#screen-record .photos img").src);
      assert.match(src, /^data:image\/jpeg;base64,/);
      assert.ok(src.length <= 32767, `${src.length} characters`);
      assert.match(await p.text("#screen-record figcaption"), /JPEG, \d+ × \d+, \d+\.\d kB/);
      const rows = (await p.job()).record.rows.length;
      for (const [name, data] of [["bomb.png", png(60000, 60000, true)], ["x.png", Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="document.title=1"><script>document.title=1</script></svg>')],
        ["y.jpg", Buffer.from("GIF89a\x01\x00\x01\x00\x00\x00\x00;", "latin1")], ["z.jpg", readFileSync(photo).subarray(0, 20)], ["half.png", readFileSync(photo).subarray(0, 9000)]]) {
        const file = join(dir, name);
        writeFileSync(file, data);
        await p.files("#record-photo", file);
        await p.idle();
      }
      await new Promise((r) => setTimeout(r, 500));
      assert.equal((await p.job()).record.rows.length, rows, "a hostile file became a row");
      await p.click("#tab-11");
      await p.press1("Control+z");
    });

    test("the board counts the machines by stage and by area", async () => {
      await p.click("#tab-board");
      await p.idle();
      assert.match(await p.text("#screen-board .stages"), /2 signed/);
      assert.match(await p.text("#screen-board .stages"), /\d+ measured/);
      await p.choose("#board-by", "crew");
      await p.idle();
      assert.match(await p.text("#screen-board"), /crew not said/);
    });

    test("the numbers of the shutdown stand on the board, an earlier one beside them, and go into a list", async () => {
      await p.click("#board-numbers");
      await p.idle();
      assert.match(await p.text("#screen-board"), /Inside at the first attempt.*How well sweeps repeat.*How far feet missed/s);
      const { length, sha256, ...job } = await p.job();
      const file = join(dir, "last-year.json");
      writeFileSync(file, JSON.stringify(job).replace("second week of April", "a year before"));
      await p.files("#board-earlier", file);
      await p.until(() => /a year before/.test(document.getElementById("screen-board").textContent), null, "the year before");
      const csv = readFileSync(await p.download(() => p.click("#board-csv")), "utf8");
      for (const want of ["second week of April", "a year before", "How far feet missed"]) assert.ok(csv.includes(want), csv);
      await p.click("#board-numbers");
      await p.idle();
    });

    test("a workbook that a crew brings back is merged as a saved page is, and one that is no workbook is refused", async () => {
      await p.click("#tab-0");
      await p.idle();
      await p.goTo(0, "Limit reason");
      await p.type("crew 4 was here");
      await p.press1("Enter");
      await p.click("header [data-do=workbook]");
      await p.until(() => document.getElementById("dlg-workbook").open);
      const file = await p.download(() => p.click("#workbook-save"));
      await p.until(() => !document.getElementById("dlg-workbook").open);
      await p.click("#tab-0");
      await p.press1("Control+z");
      const before = JSON.stringify(await p.job());
      assert.ok(!before.includes("crew 4 was here"));
      await p.click("#tab-merge");
      await p.idle();
      const broken = join(dir, "broken.xlsx");
      writeFileSync(broken, readFileSync(file).subarray(0, 5000));
      await p.files("#merge-file", broken);
      await p.until(() => /broken\.xlsx: /.test(document.querySelector("#screen-merge [role=alert]")?.textContent), null, "the refusal");
      await p.files("#merge-file", file);
      await p.until((n) => [...document.querySelectorAll("#screen-merge li")].some((x) => x.textContent.includes(n)), file.split("/").at(-1), "the workbook");
      assert.match(await p.text("#screen-merge"), /Intake, raw water pump 1 motorLimit reasonchanged in one file/);
      assert.equal(await p.eval(() => document.querySelectorAll("#screen-merge fieldset").length), 0, await p.text("#screen-merge"));
      await p.click("#merge-do");
      await p.idle();
      assert.match(JSON.stringify((await p.job()).machines.rows[0]), /crew 4 was here/);
      await choose();
      assert.match(await p.text("#screen-record .signature"), /: signed/, "what was signed stays signed");
      await p.click("#tab-0");
      await p.press1("Control+z");
      await p.idle();
      assert.equal(JSON.stringify(await p.job()), before, "undone");
    });

    // Seen at 390 px: the checks of a record 524 px wide, the buttons of the lists of shims 676 px.
    test("on a phone held upright no sheet and no screen scrolls sideways as a whole", async () => {
      await p.size(390, 844);
      const wide = [];
      for (const id of await p.eval(() => [...document.querySelectorAll("#tabs [role=tab]")].map((t) => t.id))) {
        await p.click("#" + id);
        await p.idle();
        const w = await p.eval(() => document.documentElement.scrollWidth);
        if (w > 390) wide.push(id + " " + w);
      }
      assert.deepEqual(wide, []);
      await p.size(1366, 900);
      await p.click("#tab-0");
      await p.idle();
    });

    test("three saved pages are merged: new rows come in, what two changed is asked, what was signed stays, and it can be undone", async () => {
      await p.click("#tab-0");
      await p.idle();
      const base = await p.job(), text = JSON.parse(await p.eval(() => shimsheet.call("job"))).text;
      const page = (j) => `<!doctype html><html><script type="application/json" id="job">${JSON.stringify(j).replaceAll("<", "\\u003c")}</script><p id="part-end"></p></html>`;
      const files = [0, 1, 2].map((k) => {
        const j = JSON.parse(text);
        delete j.length;
        delete j.sha256;
        const col = (sheet, name) => j[sheet].header.indexOf(name);
        const note = col("machines", "Note");
        const set = (i, c, s) => { const r = j.machines.rows[i]; while (r.length <= c) r.push(""); r[c] = s; };
        set(k, note, "crew " + (k + 1) + " was here");
        if (k > 0) set(5, note, "seen by crew " + (k + 1)); // two of them
        j.rounds.rows.push(Object.assign(Array(j.rounds.header.length).fill(""), { 0: j.machines.rows[10 + k][0], 1: "1", 2: "day " + (k + 1) }));
        const file = join(dir, `crew-${k + 1}.html`);
        writeFileSync(file, page(j));
        return file;
      });
      await p.click("#tab-merge");
      await p.idle();
      for (const f of files) {
        const name = f.split("/").at(-1);
        await p.files("#merge-file", f);
        await p.idle();
        await p.until((n) => [...document.querySelectorAll("#screen-merge li")].some((x) => x.textContent.includes(n)), name, "the file " + name);
      }
      const said = await p.text("#screen-merge");
      assert.match(said, /taken as signed/);
      assert.equal(await p.eval(() => document.querySelectorAll("#screen-merge fieldset").length), 2, said);
      assert.equal(await p.eval(() => document.getElementById("merge-do").disabled), true);
      for (const id of ["#merge-0-1", "#merge-1-1"]) { // one of them is a note that was there before: without an earlier state its change is a question
        await p.click(id);
        await p.idle();
      }
      await p.click("#merge-do");
      await p.idle();
      const got = await p.job();
      const all = JSON.stringify(got);
      for (const k of [1, 2, 3]) assert.ok(all.includes(`crew ${k} was here`) && all.includes(`day ${k}`), `crew ${k}`);
      assert.equal(got.machines.rows.length, base.machines.rows.filter((r) => r.some(Boolean)).length);
      await choose();
      assert.match(await p.text("#screen-record .signature"), /: signed/);
      await p.click("#tab-0");
      await p.press1("Control+z");
      await p.idle();
      assert.deepEqual((await p.job()).machines.rows, base.machines.rows, "undone");
    });
  });
}
