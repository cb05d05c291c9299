// The screen of the trains: the plan of a train, plans side by side, one chosen, what the sheet then says, the picture by width, and the paper.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { browsers, pageFile, fileURL } from "./browsers.mjs";

for (const make of browsers) {
  test.describe(make.name, () => {
    let b, p;
    const seen = (sel) => p.eval((s) => { const el = document.querySelector(s); return !!el && el.getClientRects().length > 0; }, sel);
    before(async () => {
      b = await make({ width: 1366, height: 768 });
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await p.click("header [data-do=demo]");
      await p.idle();
    });
    after(async () => {
      await b?.close();
      assert.deepEqual(b.record.errors, []);
    });

    test("the train of the chosen row is shown with its plan, its picture and the order of the work", async () => {
      const names = await p.column("Machine", 0, 26);
      await p.goTo(names.indexOf("Power house, house turbine"), "Machine");
      assert.match(await p.text("#panel-row"), /Train House set, plan "least work"/);
      await p.click("#tab-moves");
      await p.idle();
      assert.equal(await p.text("#screen-moves h2"), "House set");
      assert.match(await p.text("#screen-moves .about"), /follows the plan "least work", which was chosen/);
      assert.match(await p.text("#screen-moves"), /1\. Power house, house turbine, heights/);
      assert.ok(await seen(".moves .for-wide svg") && !await seen(".moves .for-narrow svg"));
      const rows = await p.eval(() => document.querySelectorAll(".moves .feet tbody tr").length);
      assert.equal(rows, 6);
    });

    test("what stops a plan is said and marked; a plan that is chosen is what the sheet speaks of, and can be taken back", async () => {
      await p.click("#moves-train-0");
      await p.idle();
      assert.equal(await p.text("#screen-moves h2"), "Thickener");
      assert.match(await p.text("#screen-moves .about"), /base-bound: .* need 0\.3 mm more room down/);
      assert.match(await p.text("#screen-moves tr.stops"), /this room stops the plan/);
      const choose = await p.eval(() => {
        for (const el of document.querySelectorAll("#moves-plans tbody tr")) if (/^shared out/.test(el.textContent)) el.querySelector("[data-on=choose]").id = "choose-shared";
        return !!document.getElementById("choose-shared");
      });
      assert.ok(choose);
      await p.click("#choose-shared");
      await p.idle();
      assert.match(await p.text("#screen-moves .about"), /follows the plan "shared out", which was chosen/);
      await p.click("#tab-0");
      await p.idle();
      const names = await p.column("Machine", 0, 26), row = names.indexOf("Sludge hall, thickener pump motor");
      await p.goTo(row, "Machine");
      const said = await p.text("#panel-row");
      assert.match(said, /plan "shared out"/);
      assert.match(said, /thickener pump moves too/);
      await p.click("#tab-moves");
      await p.idle();
      await p.click("#moves-plans [data-on=back]");
      await p.idle();
      await p.click("#tab-0");
      await p.goTo(row, "Machine");
      await p.idle();
      assert.match(await p.text("#panel-row"), /What follows moves this machine alone/);
    });

    test("on a phone the picture is drawn for its width, and nothing runs out of the page", async () => {
      await p.click("#tab-moves");
      await p.size(390, 844);
      await p.idle();
      assert.ok(await seen(".moves .for-narrow svg") && !await seen(".moves .for-wide svg"));
      assert.ok(await p.eval(() => document.querySelector("#screen-moves").scrollWidth <= document.querySelector("#screen-moves").clientWidth + 1));
      await p.size(1366, 768);
    });

    test("on paper the train stands with its picture, its feet and the cautions", async () => {
      await p.eval(() => { globalThis.print = () => dispatchEvent(new Event("beforeprint")); });
      await p.click("#screen-moves [data-on=print]");
      await p.idle();
      const said = await p.eval(() => document.getElementById("paper").textContent);
      assert.match(said, /Moves of a train/);
      assert.match(said, /lock/i);
      assert.ok(await p.eval(() => !!document.querySelector("#paper svg") && !!document.querySelector("#paper .feet")));
    });
  });
}
