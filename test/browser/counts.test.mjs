// What a press of a key costs, counted and not timed: how often the page's scripts call the program, events that it listens for among these, and the letters of what goes to it, comes back and
// is put onto the page as HTML. So a slip back is seen on any machine.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { browsers, pageFile, fileURL } from "./browsers.mjs";

// The most that is allowed, a tenth above what was counted on 30 November 2026 on the demo; what is drawn of it depends a little on the browser's letters.
const most = {
  start: { calls: 6, letters: 125_000 },
  arrow: { calls: 2, letters: 25_000 },
  letter: { calls: 2, letters: 38_000 },
  edit: { calls: 4, letters: 43_000 },
};

for (const launch of browsers) {
  describe(launch.name, () => {
    let b, p;
    before(async () => {
      b = await launch();
      p = await b.open(fileURL(pageFile), () => {
        addEventListener("shimsheet-program", () => {
          globalThis.counted = [];
          for (const way of ["call", "act", "tell", "event"]) {
            const had = shimsheet[way];
            shimsheet[way] = (...a) => {
              const out = had(...a);
              counted.push([way === "event" ? way : a[0], (out?.length ?? 1) + a.reduce((n, x) => n + (x?.length ?? 1), 0)]);
              return out;
            };
          }
          const html = Object.getOwnPropertyDescriptor(Element.prototype, "innerHTML");
          Object.defineProperty(Element.prototype, "innerHTML", { ...html, set(text) { counted.push(["", text.length]); html.set.call(this, text); } });
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
      const end = all.findIndex(([name]) => name === "head"); // behind it the job goes to a worker
      if (end >= 0) all = all.slice(0, end);
      const got = { calls: all.filter((x) => x[0] && x[0] !== "event").length, letters: all.reduce((n, x) => n + x[1], 0), names: all.map((x) => x[0]) };
      if (process.env.SHIMSHEET_COUNTS) console.log(what, got.calls, got.letters, got.names.join(" "));
      for (const k of ["calls", "letters"]) assert.ok(got[k] <= most[what][k], `${what}: ${got[k]} ${k}, at most ${most[what][k]}: ${got.names.join(" ")}`);
      assert.ok(all.length > 0, "nothing was counted");
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
