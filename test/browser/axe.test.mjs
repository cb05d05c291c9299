// The main views are looked over by axe-core in Chromium: nothing serious or critical may be found.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { chromium, copyText, pageFile, fileURL, root, wait } from "./browsers.mjs";

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
  ["demo again", async () => { await p.press("Escape"); await p.until(() => !document.querySelector("dialog[open]")); await p.click("header [data-do=demo]"); await p.idle(); await p.click("#cell-2-0"); }],
  ["overview", async () => { await p.click("#tab-list"); await p.until(() => document.querySelectorAll("#screen-list [data-row]").length > 0); }],
  ["one by one", async () => { await p.click("#tab-crew"); }],
  ["moves", async () => { await p.click("#tab-moves"); await p.idle(); }],
  ["board", async () => { await p.click("#tab-board"); await p.idle(); }],
  ["numbers", async () => { await p.click("#board-numbers"); await p.idle(); }],
  ["sign and hand over, signed", async () => {
    await p.click("#board-numbers");
    await p.click("#tab-record");
    await p.idle();
    await p.click("#record-signed_by");
    await p.type("crew 2");
    await p.click("#record-sign");
    await p.until(() => document.querySelector("#screen-record .signature"));
  }],
  ["merge", async () => {
    const job = join(b.downloads, "crew.json");
    const { length, sha256, ...own } = await p.job();
    writeFileSync(job, JSON.stringify(own).replace("second week of April", "third week of April"));
    await p.click("#tab-merge");
    await p.idle();
    await p.files("#merge-file", job);
    await p.until(() => document.querySelector("#screen-merge fieldset"));
  }],
  ["sort and filter", async () => {
    await p.click("#tab-0");
    await p.click("#editbar [data-do=sort]");
    await p.choose("#arrange-body .line.filter select[aria-label=Column]", "=verdict");
  }],
  ["sorted and filtered", async () => { await p.click("#arrange-body .few input[value=outside]"); await p.click("#arrange-take"); }],
  ["groups", async () => { await p.click("[data-do=showAll]"); await p.click("[data-do=groups]"); }],
  ["find", async () => { await p.press("Escape"); await p.click("#editbar [data-do=find]"); await p.type("pump"); }],
  ["words offered", async () => { await p.press("Escape"); await p.goTo(2, await p.columnAt("Coupling")); await p.press("F2"); await p.until(() => !document.getElementById("editor-choices").hidden); }],
  ["paste", async () => { await p.press("Escape"); await copyText(b, "Machine\tCrew\tSpeed\nP 1\tA\t1480\n"); await p.front(); await p.press("Control+v"); await p.until(() => document.getElementById("dlg-paste").open); }],
  ["the menu Job", async () => { await p.press("Escape"); await p.click("[data-menu=menu-job]"); }],
  ["the menu View", async () => { await p.press("Escape"); await p.click("[data-menu=menu-view]"); }],
  ["the menu Rows and cells", async () => { await p.press("Escape"); await p.click("[data-menu=menu-rows]"); }],
  ["a banner", async () => { await p.press("Escape"); await p.eval(() => shimsheetView.act("no such operation")); }],
  ["all of the help", async () => {
    await p.click("#banner-close");
    await p.press("F1");
    await p.eval(() => { for (const d of document.querySelectorAll("#help-body details")) d.open = true; });
    await p.until(() => [...document.querySelectorAll("#help-body > details")].every((d) => d.childElementCount > 1));
  }],
  ...["dark", "sun"].flatMap((theme) => [
    ["demo, " + theme, async () => { await p.press("Escape"); await p.click(`[data-theme-set=${theme}]`); await p.idle(); await p.click("#side-row"); await p.click("#cell-2-0"); await p.press("Shift+ArrowDown"); }],
    ["problems, " + theme, async () => { await p.click("#side-problems"); }],
    ["overview, " + theme, async () => { await p.click("#tab-list"); await p.until(() => document.querySelectorAll("#screen-list [data-row]").length > 0); }],
    ["one by one, " + theme, async () => { await p.click("#tab-crew"); }],
    ["moves, " + theme, async () => { await p.click("#tab-moves"); await p.idle(); }],
    ["sort and filter, " + theme, async () => { await p.click("#tab-0"); await p.click("#editbar [data-do=sort]"); }],
    ["help, " + theme, async () => { await p.press("Escape"); await p.press("F1"); }],
  ]),
  ["demo, 390 px wide", async () => { await p.press("Escape"); await p.click('[data-theme-set=""]'); await p.size(390, 844); await wait(200); }],
  ["one by one, 390 px wide", async () => { await p.click("#tab-crew"); }],
  ["one by one, a machine is chosen, 390 px wide", async () => { await p.click(".crew-pick"); }],
  ["one by one, about the round, 390 px wide", async () => { await p.press("Escape"); await p.eval(() => [...document.querySelectorAll(".crew-tools button")].find((x) => /^About/.test(x.textContent)).click()); }],
  ["history, 390 px wide", async () => { await p.click("#tab-history"); await p.idle(); }],
  ["cards, 390 px wide", async () => { await p.click("#tab-cards"); await p.idle(); }],
  ["moves, 390 px wide", async () => { await p.click("#tab-moves"); await p.idle(); }],
  ["board, 390 px wide", async () => { await p.click("#tab-board"); await p.idle(); }],
  ["numbers, 390 px wide", async () => { await p.click("#board-numbers"); await p.idle(); }],
  ["sign and hand over, 390 px wide", async () => { await p.click("#tab-record"); await p.idle(); }],
  ["merge, 390 px wide", async () => { await p.click("#tab-merge"); await p.idle(); }],
  ["overview, 390 px wide", async () => { await p.click("#tab-list"); await wait(200); }],
  ["help, 390 px wide", async () => { await p.press("F1"); }],
  ["save workbook", async () => {
    await p.press("Escape");
    await p.size(1366, 768);
    await p.click("#tab-0");
    await p.click("header [data-do=workbook]");
  }],
  ["on paper", async () => { await p.press("Escape"); await p.raw.emulateMedia({ media: "print" }); await p.eval(() => { dispatchEvent(new Event("beforeprint")); document.getElementById("paper").removeAttribute("aria-hidden"); }); }],
  ["the one machine on paper", async () => { await p.raw.emulateMedia({ media: "screen" }); await p.eval(() => { globalThis.print = () => {}; }); await p.click("[data-do=printMachine]"); await p.raw.emulateMedia({ media: "print" }); }],
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
