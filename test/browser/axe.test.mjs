// The main views are looked over by axe-core in Chromium: nothing serious or critical may be found.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { chromium, pageFile, fileURL, root } from "./browsers.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
let b, p;
before(async () => {
  b = await chromium();
  p = await b.open(fileURL(pageFile));
  await p.idle();
  await p.raw.evaluate(axe);
});
after(async () => { await b?.close(); });

const file = async (name) => {
  await p.until(() => !document.querySelector("dialog[open]"));
  await p.files("#file", join(root, "testdata/hostile", name));
  await p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && (!document.getElementById("open-take").disabled || !!document.querySelector("#open-body .refused")));
};
const views = [
  ["empty", async () => {}],
  ["columns chosen", async () => { await p.click("#welcome [data-columns='rim and face']"); }],
  ["demo", async () => { await p.click("header [data-do=demo]"); }],
  ["demo, a cell open", async () => { await p.goTo(3, 6); await p.press("F2"); }],
  ["a wrong cell", async () => { await p.press("Escape"); await p.goTo(1, "Speed"); await p.type("fast"); await p.press1("Enter", "ArrowUp"); }],
  ["problems", async () => { await p.click("#side-problems"); }],
  ["Job", async () => { await p.click("#tab-1"); }],
  ["Readings", async () => { await p.click("#tab-2"); }],
  ["columns", async () => { await p.click("[data-do=columns]"); }],
  ["help", async () => { await p.press("Escape"); await p.press("F1"); }],
  ["header row", async () => { await p.press("Escape"); await p.click("header [data-do=new]"); await p.idle(); await p.click("[data-do=headers]"); }],
  ["what a workbook holds", async () => { await p.press("Escape"); await file("openpyxl.xlsx"); }],
  ["a refused workbook", async () => { await p.press("Escape"); await file("truncated.xlsx"); }],
  ["save workbook", async () => { await p.press("Escape"); await p.until(() => !document.querySelector("dialog[open]")); await p.click("header [data-do=workbook]"); }],
];
for (const [name, go] of views) {
  test("axe: " + name, async () => {
    await go();
    await p.idle();
    const found = await p.eval(async () => (await axe.run(document, { resultTypes: ["violations"] })).violations.map((v) => ({ id: v.id, impact: v.impact, at: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)), why: v.nodes[0].failureSummary })));
    assert.deepEqual(found.filter((v) => v.impact === "serious" || v.impact === "critical"), []);
    if (found.length) console.log("# lesser: " + found.map((v) => `${v.id} (${v.impact})`).join(", "));
  });
}
