// A saved page shows the first rows of its list as text before its program is up: what stands there is what will stand there, nothing in it is markup, it says that it is not live, and it is
// gone when the program is up.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, writeFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { browsers, pageFile, fileURL } from "./browsers.mjs";

const nasty = `</section></title><script>globalThis.ran = 1</script> & "B"`;

for (const launch of browsers) {
  describe(launch.name, () => {
    let b, dir, saved, shown, boxes;
    /** Opens a page whose program never comes: the calls that hand its pieces over do nothing. */
    const held = (file) => b.open(fileURL(file), () => { Object.defineProperty(globalThis, "shimsheetPiece", { get: () => () => {}, set() {} }); });
    const put = (name, text) => {
      const to = join(dir, name);
      writeFileSync(to, text);
      return to;
    };
    const rows = (p, sel) => p.eval((s) => [...document.querySelectorAll(s)].slice(0, 12).map((tr) => [...tr.cells].slice(0, 5).map((c) => c.textContent)), sel);
    const places = (p, root) => p.eval((r) => [...document.querySelectorAll(`${r} tr`)].slice(0, 8).flatMap((tr) => [...tr.cells].slice(0, 4).map((c) => { const x = c.getBoundingClientRect(); return [Math.round(x.x), Math.round(x.y), c.parentNode.parentNode.localName === "tbody" ? Math.round(x.width) : 0]; })), root);

    before(async () => {
      b = await launch();
      dir = mkdtempSync(join(tmpdir(), "shimsheet-first-"));
      const p = await b.open(fileURL(pageFile));
      await p.idle();
      if (await p.eval(() => document.getElementById("welcome").hidden)) await p.click("header [data-do=new]");
      await p.idle();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      await p.goTo(0, "Machine");
      await p.type(nasty);
      await p.press1("Enter");
      await p.eval(() => JSON.parse(shimsheet.call("arrange", "Machine\tdesc\n", "")));
      await p.press1("Control+Home");
      saved = put("saved.html", readFileSync(await p.download(() => p.press("Control+s")), "utf8"));
      await p.raw.close();
    });
    after(async () => {
      await b?.close();
      rmSync(dir, { recursive: true, force: true });
    });

    test("the list stands where the live one will, in words that it is not live", async () => {
      const p = await held(saved);
      await p.until(() => document.querySelector("#sheet #first table"));
      shown = await rows(p, "#first tbody tr");
      boxes = await places(p, "#first");
      assert.equal(shown.length, 12);
      assert.match(await p.text("#first > p"), /^Not yet live: .*Shown: .*sorted/i);
      assert.equal(await p.eval(() => globalThis.ran), undefined, "a name ran as a script");
      assert.equal(await p.eval(() => document.querySelectorAll("#first script, #first b").length), 0);
      assert.ok(await p.eval((n) => [...document.querySelectorAll("#first th")].some((c) => c.textContent === n), nasty) || !shown.flat().includes(nasty));
      const list = await p.box("#first"), bar = await p.box("#first > p");
      assert.ok(list.width > 500 && list.height > 300 && bar.y + bar.height <= list.y + 1, "the list fills the sheet, the sentence stands above it");
      await p.raw.close();
    });

    test("the live list has the same rows, in the same places, and takes its place", async () => {
      const p = await b.open(fileURL(saved));
      await p.idle();
      assert.equal(await p.eval(() => document.getElementById("first")), null);
      assert.deepEqual(await rows(p, "regular-table tbody tr"), shown);
      const live = await places(p, "regular-table");
      const of = (list) => list.filter((x) => x[2]); // rows: what stands in the header is parted otherwise by the live sheet
      assert.deepEqual(of(live), of(boxes));
      await p.raw.close();
    });

    test("no list of another job is shown, and none where there is no job", async () => {
      const other = put("other.html", readFileSync(saved, "utf8").replace(/(<section id="first"[^>]*data-of=")(.)/, (_, a, c) => a + (c === "0" ? "1" : "0")));
      for (const file of [other, pageFile]) {
        const p = await held(file);
        await p.until(() => document.getElementById("sheet"));
        assert.equal(await p.eval(() => document.getElementById("first")), null, file);
        await p.raw.close();
      }
    });

    if (launch.name === "chromium") {
      test("without scripts the list can be read", async () => {
        const context = await b.context.browser().newContext({ javaScriptEnabled: false });
        const p = await context.newPage();
        await p.goto(fileURL(saved));
        assert.match(await p.locator("#first").innerText(), /Not yet live[\s\S]*Verdict[\s\S]*outside/);
        assert.ok(await p.locator("noscript").isVisible());
        await context.close();
      });
    }
  });
}
