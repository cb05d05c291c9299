// Pictures of the page for looking at, into dist/shots. Not a test: a person looks whether it is calm and clear what to do first.
import { mkdirSync } from "node:fs";
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { chromium, copyText, pageFile, fileURL, root, wait } from "./browsers.mjs";

const dir = join(root, "dist/shots");
mkdirSync(dir, { recursive: true });
for (const [w, h] of process.env.SIZE ? [process.env.SIZE.split("x").map(Number)] : [[1366, 768], [1920, 1080]]) {
  const b = await chromium({ width: w, height: h });
  const p = await b.open(fileURL(pageFile));
  const shot = async (name) => {
    await p.idle();
    await wait(80);
    await p.raw.screenshot({ path: join(dir, `${name}-${w}x${h}.png`) });
  };
  await shot("1-empty");
  await p.click("#welcome [data-columns='reverse indicator']");
  await shot("2-columns");
  await p.click("header [data-do=demo]");
  await p.idle();
  await p.click("#cell-0-0");
  await shot("3-demo");
  await p.goTo(7, await p.columnAt("Movable rim 3"));
  await p.press("Shift+ArrowRight");
  await p.press("Shift+ArrowDown");
  await shot("4-readings-columns");
  await p.goTo(2, "Coupling to front feet");
  await p.type("12,5,0");
  await p.press1("Enter", "ArrowUp");
  await p.click("#side-problems");
  await shot("5-problems");
  await p.click("#side-row");
  await p.press1("Shift+F6");
  await p.press("F2");
  await shot("6-editing");
  await p.press("Escape");
  await p.press1("Control+z");
  await p.goTo(1, "Rear move");
  await shot("7-results");
  await p.click("#tab-1");
  await shot("8-job");
  await p.click("#tab-3");
  await shot("9-stock");
  await p.click("#tab-0");
  await p.press("F1");
  await shot("10-help");
  await p.press("Escape");
  const file = async (name) => {
    await p.until(() => !document.querySelector("dialog[open]"));
    await p.files("#file", join(root, "testdata", name));
    await p.until(() => document.getElementById("dlg-open").open && document.getElementById("open-busy").hidden && document.getElementById("open-what").textContent !== "");
  };
  await file("hostile/openpyxl.xlsx");
  await shot("11-workbook-from-elsewhere");
  await p.eval(() => { document.getElementById("open-body").scrollTop = 400; });
  await shot("12-its-columns");
  await p.press("Escape");
  await file("hostile/truncated.xlsx");
  await shot("13-refused");
  await p.press("Escape");
  await p.until(() => !document.querySelector("dialog[open]"));
  await p.click("header [data-do=workbook]");
  await shot("14-save-workbook");
  await p.press("Escape");
  await p.until(() => !document.querySelector("dialog[open]"));
  await p.click("header [data-do=demo]");
  await p.idle();
  await p.click("#cell-1-0");
  await p.click("#tab-list");
  await p.until(() => document.querySelectorAll("#screen-list [data-row]").length > 0);
  await shot("15-overview");
  await p.click("#tab-crew");
  await shot("16-one-by-one");
  await p.click("#tab-0");
  await p.click("#editbar [data-do=sort]");
  await p.choose("#arrange-body .line.filter select[aria-label=Column]", "=verdict");
  await shot("17-sort-and-filter");
  await p.click("#arrange-body .few input[value=outside]");
  await p.click("#arrange-take");
  await p.press("Control+f");
  await p.type("pump");
  await shot("18-filtered-and-find");
  await p.press("Escape");
  await p.click("#viewoff");
  await p.click("[data-do=groups]");
  await shot("19-groups");
  await p.press("Escape");
  await copyText(b, "Equipment no.\tMotor rpm\tshim avail\tM-12\nP 101\t1480\tyes\t0\n");
  await p.front();
  await p.press("Control+v");
  await shot("20-paste");
  await p.press("Escape");
  for (const m of ["job", "view", "rows"]) {
    await p.click(`[data-menu=menu-${m}]`);
    await shot("21-menu-" + m);
    await p.press("Escape");
  }
  await p.goTo(1, await p.columnAt("Coupling"));
  await p.press("F2");
  await shot("22-words");
  await p.press("Escape");
  for (const theme of ["dark", "sun"]) {
    await p.click(`[data-theme-set=${theme}]`);
    await shot("23-sheet-" + theme);
    await p.click("#tab-list");
    await wait(200);
    await shot("24-overview-" + theme);
    await p.click("#tab-crew");
    await shot("25-one-by-one-" + theme);
    await p.click("#tab-0");
  }
  await p.click('[data-theme-set=""]');
  for (const [name, sw, sh] of [["phone", 390, 844], ["enlarged", 683, 384]]) {
    await p.size(sw, sh);
    await wait(200);
    await shot("26-sheet-" + name);
    await p.raw.screenshot({ path: join(dir, `27-whole-${name}-${w}x${h}.png`), fullPage: true });
    await p.click("#tab-crew");
    await shot("28-one-by-one-" + name);
    await p.click("#tab-list");
    await wait(200);
    await shot("29-overview-" + name);
    await p.click("#tab-0");
  }
  await p.size(w, h);
  if (w === 1366) {
    await p.eval(() => dispatchEvent(new Event("beforeprint")));
    await p.raw.pdf({ path: join(dir, "print.pdf"), preferCSSPageSize: true, landscape: true });
    try {
      execFileSync("pdftoppm", ["-png", "-r", "80", join(dir, "print.pdf"), join(dir, "print")]);
    } catch { console.log("no pdftoppm: print.pdf only"); }
  }
  await b.close();
}
console.log(dir);
