// The screens Tables and Calculators by real keys and a real clipboard, in both browsers, and looked over by axe-core in Chromium.
// Every wanted number is one that a document prints, named beside it, or is worked out here by hand.
import { test, describe, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium, browsers, copyText, pageFile, fileURL, wait } from "./browsers.mjs";

/** What is on the clipboard, by pasting it into a text area of another tab. */
async function pasted(b) {
  const tab = await b.open("about:blank");
  await tab.eval(() => { document.body.innerHTML = "<textarea></textarea>"; document.querySelector("textarea").focus(); });
  await tab.front();
  await tab.press("Control+v");
  await wait(200);
  const text = await tab.eval(() => document.querySelector("textarea").value);
  await tab.raw.close();
  return text;
}

const hits = (p) => p.eval(() => [...document.querySelectorAll("#screen-tables .hits > li")].map((li) => ({
  title: li.querySelector(".hit-open").textContent, head: li.querySelector(".hit-head").textContent, text: li.textContent,
  facts: [...li.querySelectorAll("tr")].map((r) => [...r.children].map((c) => c.textContent)),
})));
const shown = (p) => p.eval(() => [...document.querySelectorAll("#screen-tables .look-table tbody tr[data-row]")].map((r) => [...r.children].slice(1).map((c) => c.textContent)));
const results = (p) => p.eval(() => Object.fromEntries([...document.querySelectorAll("#screen-calc .calc-out tbody tr")].map((r) => [r.children[0].textContent, r.children[1]?.textContent])));

for (const launch of browsers) {
  describe(launch.name + ": tables and calculators", () => {
    let b, p;
    before(async () => {
      b = await launch();
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      await p.click("#tab-6"); // the demo's own limits would come first
      await p.press1("Control+a", "Delete");
      await p.click("#tab-0");
      await p.idle();
    });
    after(async () => { await b?.close(); });

    const lookUp = async (text) => {
      await p.front();
      await p.press("Control+k");
      assert.equal(await p.eval(() => document.activeElement.id), "look-box", "the box has the focus");
      await p.press("Control+a");
      await p.type(text);
      await p.idle();
      return hits(p);
    };
    const open = async (key) => {
      await p.press("Control+k");
      await p.press("Control+a");
      await p.press("Delete");
      await p.click(`#screen-tables nav [data-key=${key}]`);
      await p.idle();
    };
    const calc = async (key) => {
      await p.front();
      await p.click("#tab-calc");
      await p.click(`#screen-calc nav [data-key=${key}]`);
      await p.idle();
    };
    const field = async (i, text) => {
      await p.click("#calc-" + i);
      await p.press("Control+a");
      await p.type(text);
    };

    test("what is looked up, and where it is from", async () => {
      const fact = (h, label, value) => assert.ok(h.facts.some((f) => f[0].includes(label) && f[1] === value), `${label} ${value} in ${JSON.stringify(h.facts)}`);
      let h = (await lookUp("M16 8.8"))[0];
      fact(h, "stress area", "157 mm²"); // ISO 898-1, quoted
      fact(h, "proof load", "91000 N"); // ISO 898-1, quoted
      fact(h, "K 0.2 ", "218 N·m"); // by hand: 0.2 × 16 mm × 0.75 × 91 kN = 218.4
      assert.match(h.text, /30 % either way on K is −23 to \+43 % on the preload/);
      assert.match(h.facts[0][2], /^ISO 898-1.*quoted$/);
      h = (await lookUp("steel 80C"))[0];
      // ASME BPVC II-D (2001), table TE-1, means from 70 °F: 150 °F 6.6, 200 °F 6.7; 80 °C = 176 °F: 6.6 + 0.1·26/50
      fact(h, "mean coefficient", "6.652 1e-6/°F");
      assert.match(h.text, /ASME BPVC Section II/);
      const speed = await lookUp("1780 rpm");
      // L. Nelik and others, Practical Pumping Handbook, p. 178: up to 1800 rpm 0.004 in; API RP 686: 0.5 mm/m
      fact(speed[0], "offset limit", "0.1016 mm");
      fact(speed[0], "slope limit", "0.5 mm/m");
      assert.match(speed[0].text, /Practical Pumping Handbook/);
      const motor = speed.find((x) => x.title.endsWith("at 60 Hz"));
      fact(motor, "synchronous speed", "1800 rpm"); // 120 · 60 / 4
      fact(motor, "slip", "1.11 %"); // 20/1800
      const slope = await lookUp("0.0015 in/10in");
      assert.ok(slope.some((x) => x.facts.some((f) => f[1] === "0.15 mm/m")), "0.0015 in over 10 in is 0.15 mm/m");
      h = (await lookUp("213T"))[0];
      fact(h, "front to rear feet", "139.7 mm"); // NEMA MG 1, quoted: 2F 5.5 in
      fact(h, "shaft centre above the feet", "133.35 mm"); // D 5.25 in
      fact(h, "shaft shoulder to front feet", "88.9 mm"); // BA 3.5 in
      assert.equal((await lookUp("zzyzx")).length, 0);
      assert.match(await p.text("#screen-tables .look-main"), /“zzyzx” is not understood and was left out/);
      assert.equal((await lookUp("1 3/4 grade 5"))[0].title, "1 3/4-5");
      assert.match(await p.text("#screen-tables .look-main"), /^Grade 5 ends at 1 1\/2 in .* is larger.*near it stands below/s);
    });

    test("every question of the list, by the page's own look-up", async () => {
      await lookUp("x");
      const list = readFileSync(new URL("../../testdata/lookup/questions.tsv", import.meta.url), "utf8").split("\n").filter((l) => l && !/^(#|question\t)/.test(l)).map((l) => l.split("\t"));
      assert.ok(list.length >= 200);
      const wrong = await p.eval((all) => {
        const box = document.getElementById("look-box"), main = document.querySelector("#screen-tables .look-main");
        const bad = [];
        for (const [query, kind, , row, says] of all) {
          box.value = query;
          box.dispatchEvent(new Event("input", { bubbles: true }));
          const said = [...main.querySelectorAll("[class*=said-]")];
          const got = said.length ? said[0].className.match(/said-(\w+)/)[1] : "row";
          const first = main.querySelector(".hits > li");
          const title = first?.querySelector(".hit-open").textContent ?? "";
          const facts = [...(first?.querySelectorAll("tr") ?? [])].map((r) => r.children[0].textContent + " = " + r.children[1].textContent);
          const words = said.map((e) => e.textContent).join(" ").toLowerCase();
          if (got !== kind) bad.push(`${query}: ${got}, not ${kind}`);
          else if (row && !title.startsWith(row)) bad.push(`${query}: ${title}, not ${row}`);
          else if (says.includes(" = ") ? !facts.includes(says) : !words.includes(says.toLowerCase())) bad.push(`${query}: no ${says} in ${facts.join("; ")} ${words}`);
        }
        box.value = "";
        box.dispatchEvent(new Event("input", { bubbles: true }));
        return bad;
      }, list);
      assert.deepEqual(wrong, []);
    });

    test("by keys alone from the box to the sheet, and one Ctrl+Z takes it back", async () => {
      await p.click("#tab-0");
      await p.goTo(2, "Machine");
      const before = [await p.column("Front to rear feet"), await p.column("Coupling to front feet")];
      await lookUp("213t");
      for (const k of ["ArrowDown", "Enter", "Enter"]) await p.press(k);
      await p.idle();
      assert.equal(await p.eval(() => document.activeElement.getAttribute("role")), "grid", "the sheet has the focus");
      let s = await p.state();
      assert.deepEqual([s.sheet, s.row, s.col], [0, 2, await p.columnAt("Front to rear feet")], "the cursor is at the cell");
      assert.equal((await p.column("Front to rear feet"))[2], "5.5 in");
      assert.match(await p.text("#cell-meaning"), /139\.7/);
      assert.match(await p.text("#undo"), /frame 213T/);
      assert.match(await p.text("#status"), /Measure the machine/);
      await p.press1("Control+z");
      assert.deepEqual([await p.column("Front to rear feet"), await p.column("Coupling to front feet")], before);
      // with what the frame does not know
      await lookUp("213t");
      for (const k of ["ArrowDown", "Enter", "ArrowDown"]) await p.press(k);
      await p.type("soon");
      await p.press("Enter");
      assert.match(await p.text("#screen-tables .ask .hint"), /"soon" is not a length.*write/);
      await p.press("Control+a");
      await p.type("1 in");
      await p.press("Enter");
      await p.idle();
      assert.equal((await p.column("Coupling to front feet"))[2], "200.025 mm"); // 3.5 + 3.375 + 1 = 7.875 in (NEMA MG 1; N-W from memory)
      assert.equal((await p.column("Front to rear feet"))[2], "5.5 in");
      await p.press1("Control+z");
      assert.deepEqual([await p.column("Front to rear feet"), await p.column("Coupling to front feet")], before, "one step");
      // Escape leads back, a step at a time
      await lookUp("213t");
      for (const k of ["ArrowDown", "Enter", "Escape"]) await p.press(k);
      assert.equal(await p.eval(() => document.activeElement.className), "hit-open");
      await p.press("Escape");
      assert.equal(await p.eval(() => document.activeElement.id), "look-box");
      await p.press("Escape");
      assert.equal(await p.eval(() => document.activeElement.value), "");
    });

    test("a limit set, a shim, a material go into their sheets", async () => {
      const does = async (query, label) => {
        await lookUp(query);
        await p.press("ArrowDown");
        await p.press("Enter");
        for (let i = 0; i < 8 && !(await p.eval(() => document.activeElement.textContent)).includes(label); i++) await p.press("ArrowDown");
        await p.press("Enter");
        await p.idle();
        return p.state();
      };
      let s = await does("1780 rpm flexible", "Use the set");
      assert.equal(s.sheet, 0);
      assert.equal((await p.column("Limits"))[s.row], "published");
      await p.press1("Control+z");
      s = await does("0.1 mm shim", "sheet Stock");
      assert.equal(s.sheet, 3);
      assert.equal((await p.column("Thickness"))[s.row], "0.1 mm");
      await p.press1("Control+z");
      s = await does("grey iron 40C", "sheet Materials");
      assert.equal(s.sheet, 7);
      assert.equal((await p.column("Material"))[s.row], "grey iron");
      assert.equal((await p.column("Coefficient"))[s.row], "11.4 1e-6/K"); // data pages after Callister, app. B
      assert.equal((await hitsOf("grey iron 40C"))[0].head.includes("yours"), true, "the job's own row wins");
      await p.click("#tab-7");
      await p.press1("Control+z");
      s = await does("grey iron 40C", "sheet Growth");
      assert.equal(s.sheet, 4);
      assert.equal((await p.column("Material"))[s.row], "grey iron");
      assert.notEqual((await p.column("Machine"))[s.row], "");
      await p.press1("Control+z");
      async function hitsOf(q) { return lookUp(q); }
    });

    test("the job's own limits come first and are marked", async () => {
      await copyText(b, "Set\tCoupling\tUp to speed\tOffset\tSlope\npublished\tflexible\t1800\t0.05 mm\t0.4 mm/m\n=1+1\tflexible\t3600\t0.02 mm\t0.3 mm/m\n");
      await p.front();
      await p.click("#tab-6");
      await p.idle();
      await p.press("Control+v");
      await wait(200);
      if (await p.eval(() => document.getElementById("dlg-paste").open)) await p.click("#paste-take");
      await p.idle();
      const found = await lookUp("1780 rpm flexible");
      assert.match(found[0].head, /yours/);
      assert.equal(found[0].facts[0][1], "0.05 mm");
      assert.match(found[0].text, /stated by you/);
      assert.ok(!found.some((x) => x.facts.some((f) => f[0] === "offset limit" && f[1] === "0.1016 mm")), "the built-in set of this name gives way");
      await open("limits");
      const rows = await shown(p);
      assert.match(rows[0][0], /^published.*yours$/);
      assert.deepEqual(rows[0].slice(3, 5), ["0.05", "0.4"], "as typed");
      assert.match(rows.find((r) => r[0] === "published" && r[2] === "1200").at(-2), /yours takes its place/);
      const file = await p.download(() => p.click("#screen-tables .look-bar button:nth-of-type(2)"));
      const csv = readFileSync(file, "utf8");
      assert.match(csv, /^\ufeffSet,Coupling,Speed up to \[rpm\],/);
      assert.match(csv, /\n'=1\+1,flexible,3600,/, "nothing that a spreadsheet would run");
      await p.click("#tab-6");
      await p.press1("Control+z");
    });

    test("a table is sorted, filtered, copied and printed", async () => {
      await open("frames_nema");
      const header = (text) => p.eval((t) => [...document.querySelectorAll("#screen-tables thead button")].findIndex((x) => x.textContent.startsWith(t)) + 2, text);
      const n = await header("2F");
      const sort = `#screen-tables thead th:nth-child(${n}) button`;
      await p.click(sort);
      await p.click(sort);
      assert.equal(await p.eval((q) => document.querySelector(q).closest("th").getAttribute("aria-sort"), sort), "descending");
      assert.equal((await shown(p))[0][0], "449T"); // NEMA MG 1, from memory: 2F 25 in, the longest here
      await p.click("#look-filter");
      await p.type("21");
      assert.deepEqual((await shown(p)).map((r) => r[0]), ["215T", "213T"]); // 7 in, 5.5 in
      assert.equal(await p.eval(() => document.activeElement.id), "look-filter", "filtering keeps the focus");
      assert.match(await p.text("#screen-tables caption"), /2 of 33 rows/);
      await p.click("#screen-tables .look-bar button:nth-of-type(1)");
      await wait(150);
      let text = await pasted(b);
      await p.front();
      assert.equal(text.split(/\r?\n/)[0], "Frame\tD [in]\t2E [in]\t2F [in]\tBA [in]\tN-W [in]\tSource");
      assert.match(text, /\n213T\t5\.25\t8\.5\t5\.5\t3\.5\t3\.375\tNEMA MG 1/);
      // one row only, in millimetres
      await p.choose("#look-units", "metric");
      await p.click("#look-filter");
      await p.press("Control+a");
      await p.type("215t");
      await p.click("#screen-tables tr[data-row] input");
      await p.click("#screen-tables .look-bar button:nth-of-type(1)");
      await wait(150);
      text = await pasted(b);
      await p.front();
      assert.deepEqual(text.trim().split(/\r?\n/).map((l) => l.split("\t").slice(0, 4)), [["Frame", "D [mm]", "2E [mm]", "2F [mm]"], ["215T", "133.35", "215.9", "177.8"]]); // × 25.4
      await p.eval(() => dispatchEvent(new Event("beforeprint")));
      assert.match(await p.text("#paper"), /^Motor frames: NEMA.*215T133\.35215\.9177\.8/s);
      await p.choose("#look-units", "");
      await p.click("#screen-tables tr[data-row] input");
    });

    test("a calculator by hand values, with what is wrong beside the field", async () => {
      await calc("gap");
      await field(0, "0.3");
      await field(1, "200");
      assert.equal((await results(p))["Slope found"], "1.5000 mm/m"); // 0.3/200
      await field(0, "12 mil");
      assert.equal(await p.text("#calc-0-said"), "0.30480 mm = 12.000 mil"); // 12 × 0.0254
      assert.equal((await results(p))["Slope found"], "1.5240 mm/m");
      await field(1, "wide");
      assert.match(await p.text("#calc-1-said"), /"wide" is not a length; write/);
      assert.equal(await p.eval(() => document.getElementById("calc-1").getAttribute("aria-invalid")), "true");
      assert.equal((await results(p))["Slope found"], undefined, "no number stays behind");
      await calc("droop");
      await calc("gap");
      assert.equal(await p.eval(() => document.getElementById("calc-1").value), "wide", "what was typed is kept");
      await calc("convert");
      await field(0, "12.5 mil");
      await field(2, "mm; in; µm");
      const units = await p.eval(() => [...document.querySelectorAll("#screen-calc .calc-out tbody tr")].map((r) => r.children[1].textContent));
      assert.deepEqual(units, ["0.3175 mm", "0.0125 in", "317.5 µm"]); // 1 in = 25.4 mm (NIST SP 811, app. B.8)
    });

    test("the example comes to the printed check", async () => {
      const example = async (key) => {
        await calc(key);
        await p.click("#screen-calc .calc-check button");
        return [await results(p), await p.text("#screen-calc .calc-check")];
      };
      let [r, check] = await example("droop"); // Roark, table 8.1, recomputed
      assert.match(check, /6\.083 µm \+ 5\.847 µm.*−23\.86 µm/);
      assert.deepEqual([r["Droop by own weight"], r["Droop by tip mass"], r["Sag reading at 6"]], ["0.006083 mm", "0.005847 mm", "-0.02386 mm"]);
      [r, check] = await example("feet"); // Bloch & Geitner, vol. 3, fig. 5-21: −2.714 and +6.571 mil, × 0.0254
      assert.match(check, /−2\.714 and \+6\.571 mil/);
      assert.match(r["Front shim"], /^-0\.0689\d* mm$/);
      assert.match(r["Rear shim"], /^0\.1669\d* mm$/);
      [r, check] = await example("growth"); // ASME BPVC II-D (2001), table TE-1: 20 in × 6.7e-6/°F × 130 °F = 0.01742 in
      assert.match(r["Growth"], /^0\.4424\d* mm$/);
    });

    test("fifty rows at once, one with a wrong unit", async () => {
      await calc("gap");
      await p.click("#screen-calc form button");
      const gap = (i) => (i + 1) / 100;
      const lines = ["Diameter [mm]\tPump\tGap difference [mm]", ...Array.from({ length: 50 }, (_, i) => `${200 + i}\tP${i + 1}\t${i === 16 ? "0.17 kN" : gap(i).toFixed(2)}`)];
      await copyText(b, lines.join("\r\n"));
      await p.front();
      await p.click("#calc-rows");
      await p.press("Control+v");
      await p.until(() => document.querySelectorAll("#screen-calc .calc-many tbody tr").length === 50);
      assert.match(await p.text("#screen-calc .calc-batch [role=status]"), /^49 of 50 rows worked out, 1 with a problem/);
      assert.match(await p.text("#screen-calc .calc-problems .error"), /^Row 18, Gap difference.*kN is the unit of a force/);
      const table = await p.eval(() => [...document.querySelectorAll("#screen-calc .calc-many tr")].map((r) => [...r.children].map((c) => c.textContent)));
      const at = table[0].indexOf("Slope found [mm/m]");
      assert.ok(at > 0, table[0].join());
      for (let i = 0; i < 50; i++) {
        if (i === 16) assert.equal(table[i + 1][at], "");
        else assert.ok(Math.abs(Number(table[i + 1][at]) - (1000 * gap(i)) / (200 + i)) < 1e-4, table[i + 1].join()); // mm/m
      }
      await p.click("#screen-calc .calc-many button");
      await wait(150);
      const text = await pasted(b);
      await p.front();
      const out = text.trim().split(/\r?\n/).map((l) => l.split("\t"));
      assert.equal(out.length, 51);
      assert.deepEqual(out[0].slice(0, 3), ["Diameter [mm]", "Pump", "Gap difference [mm]"]);
      assert.equal(out[50][out[0].indexOf("Slope found [mm/m]")], "2.0080"); // 0.50/249
    });

    test("a mixed column in one unit, a reason for each cell that cannot be read", async () => {
      await calc("convert_column");
      await field(2, "mm");
      await p.click("#calc-rows");
      await copyText(b, "12.5 mil\n1/2 in\nsoft\n3 kN\n0.5\n0.02 m\n");
      await p.front();
      await p.click("#calc-rows");
      await p.press("Control+v");
      await p.until(() => document.querySelectorAll("#screen-calc .calc-many tbody tr").length === 6);
      const exact = await p.eval(() => { const t = [...document.querySelectorAll("#screen-calc .calc-many tr")].map((r) => [...r.children].map((c) => c.textContent)); const at = t[0].indexOf("Exact"); return t.slice(1).map((r) => r[at]); });
      assert.deepEqual(exact, ["0.3175", "12.7", "", "", "", "20"]); // NIST SP 811, app. B.8
      const problems = await p.eval(() => [...document.querySelectorAll("#screen-calc .calc-problems li")].map((li) => li.textContent));
      assert.equal(problems.length, 3);
      ["Row 3", "Row 4", "Row 5"].forEach((w, i) => assert.ok(problems[i].startsWith(w), problems[i]));
    });

    test("a material by its name, and a job with a decimal comma", async () => {
      await calc("growth");
      await p.click("#screen-calc form button");
      for (const [i, text] of [[0, "20 in"], [2, "carbon steel"], [4, "70 °F"], [5, "200 °F"]]) await field(i, text);
      assert.match((await results(p))["Growth"], /^0\.4424\d* mm$/); // ASME BPVC II-D (2001), table TE-1: 0.01742 in
      await p.click("#tab-1");
      await p.idle();
      await p.goTo((await p.column("Setting")).indexOf("Decimal sign"), "Value");
      await p.type("comma");
      await p.press1("Enter");
      await calc("droop");
      await p.click("#screen-calc .calc-check button");
      assert.equal(await p.eval(() => document.getElementById("calc-3").value), "0,150 kg");
      assert.equal((await results(p))["Droop by own weight"], "0,006083 mm"); // Roark, table 8.1
      await p.click("#tab-0");
      await lookUp("213t");
      for (const k of ["ArrowDown", "Enter", "Enter"]) await p.press(k);
      await p.idle();
      const s = await p.state();
      assert.equal((await p.column("Front to rear feet"))[s.row], "5,5 in");
      assert.match(await p.text("#cell-meaning"), /139,7/);
    });

    test("nothing was asked for and nothing went wrong", () => {
      assert.deepEqual(b.record.errors, []);
      assert.deepEqual(b.record.requests.filter((u) => !/^(file|blob|data|about):/.test(u)), []);
    });
  });
}

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
for (const [width, height] of [[1366, 768], [390, 844]]) {
  describe(`axe, ${width} px wide`, () => {
    let b, p;
    before(async () => {
      b = await chromium({ width, height });
      p = await b.open(fileURL(pageFile));
      await p.idle();
      await p.click("#welcome [data-do=demo]");
      await p.idle();
      await p.raw.evaluate(axe);
    });
    after(async () => { await b?.close(); });
    const query = async (q) => { await p.press("Control+k"); await p.press("Control+a"); await p.type(q); };
    const views = [
      ["a table", async () => { await p.press("Control+k"); }],
      ["its rows in use", async () => { await p.click("#screen-tables tbody tr button"); }],
      ["hits", async () => { await query("steel 80C"); }],
      ["a hit open", async () => { await query("213T"); await p.press("ArrowDown"); await p.press("Enter"); }],
      ["nothing found", async () => { await query("zzyzx"); }],
      ["a calculator", async () => { await p.eval(() => document.getElementById("tab-calc").scrollIntoView()); await p.click("#tab-calc"); }],
      ["an example", async () => { await p.click("#screen-calc .calc-check button"); }],
      ["a wrong field", async () => { await p.click("#calc-0"); await p.type("x"); }],
      ["rows", async () => { await p.click("#calc-rows"); await p.type("12 mil\nsoft\n"); await p.until(() => document.querySelectorAll("#screen-calc .calc-many tbody tr").length === 2); }],
      ["dark", async () => { await p.eval(() => { document.documentElement.dataset.theme = "dark"; }); }],
      ["dark table", async () => { await query("1780 rpm"); }],
      ["sunlight", async () => { await p.eval(() => { document.documentElement.dataset.theme = "sun"; }); }],
    ];
    for (const [name, go] of views) {
      test(name, async () => {
        await go();
        await p.idle();
        const found = await p.eval(async () => (await axe.run(document, { resultTypes: ["violations"] })).violations.map((v) => ({ id: v.id, impact: v.impact, at: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)), why: v.nodes[0].failureSummary })));
        assert.deepEqual(found.filter((v) => v.impact === "serious" || v.impact === "critical"), []);
        if (found.length) console.log("# lesser: " + found.map((v) => `${v.id} (${v.impact})`).join(", "));
        const wide = await p.eval(() => [document.documentElement.scrollWidth - innerWidth, ...[...document.querySelectorAll(".screen:not([hidden])")].map((s) => s.scrollWidth - s.clientWidth)]);
        assert.ok(wide.every((d) => d <= 0), "the page is wider than the window: " + wide);
      });
    }
  });
}
