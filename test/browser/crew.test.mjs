// One by one on a phone, by touches on the pad of keys: what is typed is seen while it is typed, and what it comes to is seen after the last reading. And what
// is in sight after a sort and after Home. With SHIMSHEET_SHOTS=DIR pictures are written there.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { join } from "node:path";
import { browsers, copyText, list, pageFile, fileURL, wait } from "./browsers.mjs";

const sizes = [[390, 844], [390, 664], [844, 390]];

for (const make of browsers) {
  test.describe(make.name, () => {
    let b, p;
    const shot = async (name) => { if (process.env.SHIMSHEET_SHOTS) await p.raw.screenshot({ path: join(process.env.SHIMSHEET_SHOTS, `crew-${b.name}-${name}.png`) }); };
    const key = async (k) => {
      await p.eval((t) => { for (const x of document.querySelectorAll(".crew-keys button")) x.toggleAttribute("data-key", x.textContent === t); }, k);
      await p.tap(".crew-keys [data-key]");
    };
    /** Where the open field is, and whether all of it and its input can be seen. */
    const field = () => p.eval(() => {
      const f = document.querySelector(".field[aria-current=true]"), i = f.querySelector("input").getBoundingClientRect();
      const at = (x, y) => f.contains(document.elementFromPoint(x, y));
      return { name: f.textContent.trim(), value: f.querySelector("input").value, seen: i.top >= 0 && i.bottom <= innerHeight && at(i.x + 4, i.y + 3) && at(i.x + i.width / 2, i.bottom - 3) && at(f.getBoundingClientRect().x + 20, i.y + i.height / 2), focus: document.activeElement === f.querySelector("input") };
    });
    before(async () => {
      b = await make({ width: 390, height: 844 }, true);
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await copyText(b, list(3));
      await p.front();
      await p.press("Control+v");
      await p.idle();
    });
    after(async () => {
      await b?.close();
      assert.deepEqual(b.record.errors, []);
    });

    for (const [w, h] of sizes) {
      // Seen: from the fourth reading on the keys lay over the open field, so that readings were typed blind; and nothing showed what they came to.
      test(`every reading is seen while it is typed, and what to do after the last, ${w}×${h}`, async () => {
        await p.size(w, h);
        await p.eval(() => scrollTo(0, 0));
        await p.tap("#tab-0");
        await wait(200);
        await p.eval(() => { scrollTo(0, 0); document.getElementById("tab-crew").scrollIntoView({ inline: "nearest", block: "nearest" }); });
        await p.tap("#tab-crew");
        await p.idle();
        await shot(`${w}x${h}-0`);
        await p.eval(() => document.querySelector(".field input").scrollIntoView({ block: "center" }));
        await wait(100);
        await p.tap(".field:nth-child(1) input");
        await wait(150);
        const n = await p.eval(() => document.querySelectorAll(".field").length);
        assert.ok(n >= 8, "fields: " + n);
        for (let i = 0; i < n; i++) {
          const before = await field();
          assert.ok(before.seen && before.focus, `field ${i + 1} of ${n}, ${before.name}: ${JSON.stringify(before)}`);
          const value = /sag|12/.test(before.name) ? "0" : / 3/.test(before.name) ? "0.1" : / 6/.test(before.name) ? "0.3" : "0.2"; // top and bottom agree with left and right
          for (const k of value) {
            await key(k);
            assert.ok((await field()).seen, `${before.name} while it is typed`);
          }
          assert.equal((await field()).value, value);
          if (i === 4) await shot(`${w}x${h}-5`);
          await key("Enter");
          await p.idle(); // seen on a busy machine: the next field was looked at before it was drawn
        }
        await p.idle();
        await wait(150);
        await shot(`${w}x${h}-end`);
        const said = await p.eval(() => {
          const t = [...document.querySelectorAll(".crew-says h3")].find((x) => /^What to do/.test(x.textContent)), foot = t?.parentElement.querySelector(".todo [data-foot] .d-num"), push = t?.parentElement.querySelector(".todo [data-push] .d-num");
          const seen = (e) => { const r = e?.getBoundingClientRect(); return !!r && r.top >= 0 && r.top < innerHeight - 30 && e.contains(document.elementFromPoint(r.x + Math.min(r.width / 2, 30), r.y + Math.min(r.height / 2, 8))); };
          return { title: seen(t), foot: seen(foot), push: seen(push), text: [foot, push].map((e) => e?.textContent) };
        });
        assert.ok(said.title && said.foot && said.push, `${w}×${h}: ${JSON.stringify(said)}`);
        assert.equal((await p.job()).machines.rows[0][9], "0.1", "typed into the job");
        // Seen: the keys, scrolled away, lay over the buttons at the top.
        assert.ok(await p.eval(() => { const e = document.querySelector(".crew-nav > button:last-child"), r = e.getBoundingClientRect(); return e.contains(document.elementFromPoint(r.x + 8, r.y + 8)); }), "the way on is in sight");
        // and on to the next machine: its first field is in sight again
        if (w < 800) await p.eval(() => scrollTo(0, document.documentElement.scrollHeight));
        await p.tap(".crew-nav > button:last-child");
        await p.idle();
        await wait(100);
        assert.ok((await field()).seen, "the next machine's first reading");
        await p.tap(".crew-nav > button:first-child");
        await p.idle();
      });
    }

    // Seen: "Boiler house, heating circulation pur", with the end of the name, which tells the first pump from the second, past the edge.
    test("a long name is read to its end where the machine is chosen and where it is worked at; what is told is in sight", async () => {
      await p.size(390, 844);
      await p.eval(() => scrollTo(0, 0));
      await p.tap("#tab-0");
      await p.goTo(0, "Machine");
      await p.type("Boiler house, heating circulation pump 2, motor end");
      await p.press("Enter");
      await p.idle();
      assert.ok(await p.eval(() => { const s = document.getElementById("status"), r = s.getBoundingClientRect(); return s.textContent && r.top > 0 && r.bottom <= innerHeight && s.contains(document.elementFromPoint(r.x + 5, r.y + 5)); }));
      await p.eval(() => document.getElementById("tab-crew").click());
      await p.idle();
      while (await p.eval(() => !document.querySelector(".crew-nav > button:first-child").disabled)) await p.click(".crew-nav > button:first-child").then(() => p.idle());
      await p.click(".crew-name button");
      await p.idle();
      const cut = await p.eval(() => [...document.querySelectorAll(".crew-name button, .crew-choose li button")].filter((x) => x.scrollWidth > x.clientWidth || x.getBoundingClientRect().right > innerWidth).map((x) => x.textContent));
      assert.deepEqual(cut, []);
      assert.match(await p.text(".crew-name button"), /motor end$/);
      await p.press("Escape");
    });

    // Seen: "Save workbook" past the left edge of its dialog, where no finger comes.
    test("every button of a dialog is on the screen of a phone", async () => {
      await p.size(390, 844);
      await p.click("header [data-do=workbook]");
      await p.until(() => document.getElementById("dlg-workbook").open);
      const off = await p.eval(() => [...document.querySelectorAll("dialog[open] button")].filter((x) => { const r = x.getBoundingClientRect(); return r.width && (r.left < 0 || r.right > innerWidth || !x.contains(document.elementFromPoint(r.left + 3, r.y + r.height / 2))); }).map((x) => x.textContent));
      assert.deepEqual(off, []);
      await p.press("Escape");
      await p.until(() => !document.querySelector("dialog[open]"));
    });

    test("after a sort the first row is in sight; Home and Ctrl+Home bring the verdict back", async () => {
      await p.size(900, 500);
      await copyText(b, list(300));
      await p.front();
      await p.eval(() => scrollTo(0, 0));
      await p.click("#tab-0");
      await p.click("header [data-do=new]");
      await p.idle();
      await p.press("Control+v");
      await p.idle();
      await p.press("Control+End");
      await p.idle();
      const sight = () => p.eval(() => { const el = document.querySelector("regular-table"); return { top: el.scrollTop, left: el.scrollLeft, first: !!document.querySelector("#cell-0-0") }; });
      assert.ok((await sight()).top > 1000 && (await sight()).left > 300, JSON.stringify(await sight()));
      await p.press("Home");
      await p.idle();
      assert.equal((await sight()).left, 0);
      assert.ok((await sight()).top > 1000, "Home stays in its row");
      await p.press("Control+End");
      await p.idle();
      await p.click("#editbar [data-do=sort]");
      await p.choose("#arrange-body .line.sort select", "=share_of_limit");
      await p.choose("#arrange-body .line.sort select:nth-of-type(2)", "desc");
      await p.click("#arrange-take");
      await p.idle();
      assert.equal((await sight()).top, 0);
      assert.ok((await sight()).first);
      await p.press("Control+Home");
      await p.idle();
      assert.deepEqual(await sight(), { top: 0, left: 0, first: true });
    });
  });
}
