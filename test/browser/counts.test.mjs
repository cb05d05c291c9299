// What a press of a key costs, counted and not timed: calls of the program and letters that go through to it and back. So a slip back is seen on any machine.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { browsers, pageFile, fileURL } from "./browsers.mjs";

// The most that is allowed, a tenth above what was counted on 30 November 2026 on the demo; what is drawn of it depends a little on the browser's letters.
const most = {
  start: { calls: 16, letters: 145_000 },
  arrow: { calls: 6, letters: 26_000 },
  letter: { calls: 2, letters: 20_000 },
  edit: { calls: 15, letters: 45_000 },
};

for (const launch of browsers) {
  describe(launch.name, () => {
    let b, p;
    before(async () => {
      b = await launch();
      p = await b.open(fileURL(pageFile), () => {
        addEventListener("shimsheet-program", () => {
          const { call } = shimsheet;
          globalThis.counted = [];
          shimsheet.call = (...a) => {
            const out = call(...a);
            counted.push([a[0], out.length + a.reduce((n, x) => n + (x?.length ?? 1), 0)]);
            return out;
          };
        });
      });
      await p.idle();
      if (await p.eval(() => document.getElementById("welcome").hidden)) await p.click("header [data-do=new]");
      await p.idle();
    });
    after(() => b?.close());

    /** Nothing waits, the sharing-out of the stock included, which a worker does and which then is drawn. */
    const settled = async () => {
      await p.idle();
      await p.until(() => document.documentElement.dataset.sharing === "0");
      await p.idle();
    };
    const count = async (what, does) => {
      await settled();
      await p.eval(() => { counted.length = 0; });
      await does();
      await settled();
      let all = await p.eval(() => counted);
      const end = all.findIndex(([name]) => name === "sharing"); // behind it the job goes to a worker
      if (end >= 0) all = all.slice(0, end);
      const got = { calls: all.length, letters: all.reduce((n, x) => n + x[1], 0), names: all.map((x) => x[0]) };
      if (process.env.SHIMSHEET_COUNTS) console.log(what, got.calls, got.letters, got.names.join(" "));
      for (const k of ["calls", "letters"]) assert.ok(got[k] <= most[what][k], `${what}: ${got[k]} ${k}, at most ${most[what][k]}: ${got.names.join(" ")}`);
      assert.ok(got.calls > 0, "nothing was counted");
    };

    test("calls and letters of the demo opened, an arrow, a letter typed, a cell changed", async () => {
      await count("start", () => p.click("#welcome [data-do=demo]"));
      await p.goTo(3, "Movable rim 6");
      await count("arrow", () => p.press("ArrowDown"));
      await p.press("F2");
      await p.idle();
      await count("letter", () => p.type("1"));
      await p.press("Escape");
      await p.idle();
      await p.type("-0.31");
      await count("edit", () => p.press("Enter"));
    });
  });
}
