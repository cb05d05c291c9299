// A machine is taken through three rounds on a phone, by touches on the pad of keys: found, a round after the first move, a round after the second. Nothing typed before is written over, a mistake is
// struck with a reason, and the code of a card finds its machine. With SHIMSHEET_SHOTS=DIR pictures are written there.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { join } from "node:path";
import { tmpdir } from "node:os";
import { mkdtempSync, writeFileSync } from "node:fs";
import { browsers, copyText, pageFile, fileURL, wait } from "./browsers.mjs";

const readings = ["Movable rim 12", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9"];
const head = ["Machine", "Side at 3", "Side at 9", "Speed", "Coupling", "Coupling to stationary plane", "Coupling to movable plane", "Coupling to front feet", "Front to rear feet", ...readings];
const machine = (name) => [name, "river side", "hillside", "1480", "short", "100", "100", "300", "500", ...readings.map(() => "")];
const text = [head, machine("Pump 1"), machine("Pump 2")].map((r) => r.join("\t")).join("\n");

// Heights times the cosine, places sideways times the sine: rims at planes 100 mm to both sides of the coupling, for lines that are less and less off.
const round = (dv, dh) => ["0", (dh - dv).toFixed(2), (-2 * dv).toFixed(2), (-dh - dv).toFixed(2), "0", (dv - dh).toFixed(2), (2 * dv).toFixed(2), (dv + dh).toFixed(2)];
const rounds = [round(0.2, 0.1), round(0.05, 0.02), round(0.01, 0.01)];

for (const make of browsers) {
  test.describe(make.name, () => {
    let b, p, taps = 0;
    const shot = async (name) => { if (process.env.SHIMSHEET_SHOTS) await p.raw.screenshot({ path: join(process.env.SHIMSHEET_SHOTS, `rounds-${b.name}-${name}.png`) }); };
    const tapText = async (where, t) => {
      await p.eval(({ where, t }) => { for (const x of document.querySelectorAll(where)) x.toggleAttribute("data-tapped", x.textContent.trim() === t || t.endsWith("*") && x.textContent.startsWith(t.slice(0, -1))); }, { where, t });
      await p.eval((where) => document.querySelector(where + "[data-tapped]")?.scrollIntoView({ block: "center", inline: "nearest" }), where);
      await p.tap(where + "[data-tapped]");
    };
    const key = async (k) => {
      if (!/\d/.test(k)) taps++;
      await p.eval((t) => { for (const x of document.querySelectorAll(".crew-keys button")) x.toggleAttribute("data-key", x.textContent === t); }, k);
      await p.tap(".crew-keys [data-key]");
    };
    const typed = async (value) => {
      for (const k of value.replace("-", "")) await key(k);
      if (value.startsWith("-")) await key("+ / −");
      await p.eval((v) => { if (document.querySelector(".crew-digits").textContent !== v) throw new Error("read back: " + document.querySelector(".crew-digits").textContent + " for " + v); }, value);
      await key("Enter");
      await wait(30);
    };
    const open = () => p.eval(() => document.querySelector(".field[aria-current=true] > span").textContent);
    before(async () => {
      b = await make({ width: 390, height: 844 }, true);
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await copyText(b, text);
      await p.front();
      await p.press("Control+v");
      await p.idle();
      await p.eval(() => document.getElementById("tab-crew").scrollIntoView({ inline: "nearest", block: "nearest" }));
      await p.tap("#tab-crew");
      await p.idle();
    });
    after(async () => {
      await b?.close();
      assert.deepEqual(b.record.errors, []);
    });

    test("eight readings in at most 20 taps beyond the digits; the clock shows what is asked for", async () => {
      assert.match(await p.text(".crew-name"), /waiting/);
      taps = 0;
      for (const [i, v] of rounds[0].entries()) {
        assert.match(await open(), new RegExp("^" + readings[i]), "the next empty field is open");
        assert.ok(await p.eval(() => !!document.querySelector(".crew-clock svg")), "a clock");
        await typed(v);
      }
      console.log(`# ${b.name}: ${taps} taps beyond the digits for 8 readings`);
      assert.ok(taps <= 20, taps + " taps beyond the digits");
      await p.idle();
      assert.ok(await p.eval(() => !!document.querySelector(".crew-says .todo [data-push]")), "what to do is drawn");
      await shot("found");
    });

    test("two more rounds: each in fields of its own, nothing written over, what was missed is said and drawn", async () => {
      for (const k of [1, 2]) {
        await tapText(".crew-tools button", "New round " + k);
        await p.idle();
        assert.match(await p.text(".crew-name"), new RegExp("round " + k));
        assert.ok(await p.eval(() => [...document.querySelectorAll(".field input")].every((i) => i.value === "")), "the fields of a new round are empty");
        for (const v of rounds[k]) await typed(v);
        await p.idle();
      }
      await shot("round2");
      const job = await p.job(), at = (list, row, name) => list.rows[row][list.header.indexOf(name)];
      const own = job.machines, list = job.rounds;
      assert.deepEqual(readings.map((n) => at(own, 0, n)), rounds[0], "as found");
      for (const k of [1, 2]) assert.deepEqual(readings.map((n) => at(list, k - 1, n)), rounds[k], "round " + k);
      assert.deepEqual([0, 1].map((k) => at(list, k, "Round")), ["1", "2"]);
      const said = await p.text(".crew-says");
      assert.match(said, /After the last move the front feet came to stand/);
      assert.ok(await p.eval(() => !!document.querySelector(".crew-says [data-plane=V]")), "the rounds are drawn");
    });

    test("a round is struck with a reason only, and counts no more; Undo brings it back", async () => {
      await tapText(".crew-rounds li:last-child button", "Strike…");
      await p.tap(".crew-ask button[type=submit]");
      await wait(50);
      assert.match(await p.text("#status"), /reason/);
      await p.eval(() => document.querySelector(".crew-ask input").focus());
      await p.type("the bracket slipped");
      await p.tap(".crew-ask button[type=submit]");
      await p.idle();
      assert.match(await p.text(".crew-name"), /round 1/);
      assert.match(await p.text(".crew-rounds"), /struck: the bracket slipped/);
      await shot("struck");
      const list = (await p.job()).rounds;
      assert.equal(list.rows[1][list.header.indexOf("Struck")], "the bracket slipped");
    });

    test("how a round was read is typed beside it", async () => {
      await tapText(".crew-tools button", "About this round…");
      await p.eval(() => document.querySelector('.crew-about input[aria-label="By"]').focus());
      await p.type("Kim");
      await p.eval(() => document.querySelector('.crew-about input[aria-label="Instrument"]').focus());
      await p.type("dial 0417");
      await shot("about");
      await tapText(".crew-about button", "Take them");
      await p.idle();
      const list = (await p.job()).rounds;
      assert.deepEqual(["Round", "By", "Instrument"].map((n) => list.rows[0][list.header.indexOf(n)]), ["1", "Kim", "dial 0417"]);
    });

    // Seen: the readings found, which stand in the machine's own row, could not be struck on the page but by typing over them.
    test("the readings found are struck too: they stay as they are, nothing is typed over them, and they are read anew", async () => {
      await p.eval(() => scrollTo(0, 0));
      await p.tap(".crew-pick");
      await p.type("pump 2");
      await wait(50);
      await p.tap(".crew-choose li button");
      await p.idle();
      // by the paste button: from the clipboard, or where the browser asks for it, from a field to paste into
      await copyText(b, rounds[0].join("\t"));
      await p.front();
      await tapText(".crew-tools button", "Paste");
      await p.until(() => !!document.querySelector(".crew-ask textarea") || document.querySelector(".field input").value !== "", null, "pasted, or asked for it");
      if (await p.eval(() => !!document.querySelector(".crew-ask textarea"))) {
        await p.eval(() => document.querySelector(".crew-ask textarea").focus());
        await p.press("Control+v");
        await tapText(".crew-ask button", "Take them");
      }
      await p.idle();
      assert.deepEqual(await p.eval(() => [...document.querySelectorAll(".field input")].map((i) => i.value)), rounds[0], "pasted");
      assert.match(await p.text("#status"), /8 readings pasted/);
      await tapText(".crew-rounds li:last-child button", "Strike…");
      await p.eval(() => document.querySelector(".crew-ask input").focus());
      await p.type("read at the wrong machine");
      await p.tap(".crew-ask button[type=submit]");
      await p.idle();
      assert.match(await p.text(".crew-name"), /waiting/);
      assert.match(await p.text(".crew-rounds"), /struck: read at the wrong machine/);
      assert.equal(await p.eval(() => document.querySelectorAll(".field").length), 0, "struck readings are no fields");
      assert.match(await p.text(".crew-fields"), /stay as they are/);
      await shot("found-struck");
      await tapText(".crew-tools button", "New round found");
      await p.idle();
      for (const v of rounds[1]) await typed(v);
      await p.idle();
      await tapText(".crew-tools button", "Round hot");
      await p.idle();
      for (const v of rounds[2]) await typed(v);
      await p.idle();
      assert.match(await p.text(".crew-name"), /found, hot/);
      assert.match(await p.text(".crew-says"), /Read hot: .*held against the line wanted hot/);
      assert.ok(await p.eval(() => { const r = document.getElementById("crew-hot").getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; }), "in sight after the last reading");
      await shot("hot");
      const job = await p.job(), own = job.machines, list = job.rounds, at = (t, row, n) => t.rows[row][t.header.indexOf(n)];
      assert.deepEqual(readings.map((n) => at(own, 1, n)), rounds[0], "as found, untouched");
      assert.deepEqual([2, 3, 4].map((k) => [at(list, k, "Round"), at(list, k, "Struck") ?? "", readings.map((n) => at(list, k, n) ?? "").join(" ")]),
        [["found", "read at the wrong machine", readings.map(() => "").join(" ")], ["found", "", rounds[1].join(" ")], ["hot", "", rounds[2].join(" ")]]);
    });

    test("a machine is searched by its name and by the code of its card", async () => {
      await p.eval(() => scrollTo(0, 0));
      await p.tap(".crew-pick");
      await p.type("pump 2");
      await wait(50);
      assert.equal(await p.eval(() => document.querySelectorAll(".crew-choose li").length), 1);
      await shot("search");
      await p.tap(".crew-choose li button");
      await p.idle();
      assert.match(await p.text(".crew-name"), /Pump 2/);
      await p.tap(".crew-pick");
      await p.type("shimsheet-card:/Pump 1/1");
      await p.press("Enter");
      await p.idle();
      assert.match(await p.text(".crew-name"), /Pump 1/);
      assert.match(await p.text("#status"), /Card of Pump 1, round 1/);
    });

    test("an older job beside this one: has the machine moved since?", async () => {
      const file = join(mkdtempSync(join(tmpdir(), "shimsheet-older-")), "spring-2025.json");
      const { length, sha256, ...older } = await p.job(); // the seal is that of the text as it was
      writeFileSync(file, JSON.stringify(older));
      await p.eval(() => document.getElementById("tab-history").scrollIntoView({ inline: "nearest", block: "nearest" }));
      await p.tap("#tab-history");
      await p.idle();
      await p.files("#history-file", file);
      await p.idle();
      await p.until(() => document.querySelectorAll("#screen-history tbody tr").length === 2, null, "two machines");
      const cells = await p.eval(() => [...document.querySelectorAll("#screen-history tbody tr")].map((r) => [...r.children].map((c) => c.textContent)));
      assert.deepEqual(cells[0].slice(0, 5).filter((_, i) => i !== 1), ["Pump 1", "spring-2025.json", "1", "found"]);
      assert.equal(cells[0][5], "0.15", "found 0.20 high now, and 0.05 in round 1 then");
      assert.match(cells[0].at(-1), /mm more than the readings explain/);
      assert.match(cells[1].at(-1), /no more than the readings explain; slope no more/);
      assert.ok(await p.eval(() => document.documentElement.scrollWidth <= innerWidth), "nothing sticks out");
      await shot("history");
      await p.eval(() => document.getElementById("tab-crew").scrollIntoView({ inline: "nearest", block: "nearest" }));
      await p.tap("#tab-crew");
      await p.idle();
      assert.match(await p.text(".crew-says"), /Since .*spring-2025\.json, round 1/);
    });
  });
}
