// Plants faults into the page's scripts, one at a time, puts the script with each into the page that was built, and says whether the browser tests notice. By hand, from the project's
// root, after the page was built:
//
//   node test/browser/faults.mjs            every fault
//   node test/browser/faults.mjs 3 7        the third and the seventh
//
// A fault is a text that stands once in a script and what takes its place; the test file that ought to notice, and a part of the name of the test in it that is run. TESTING.md has
// what came out. The exit status is 1 when one lived.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { spawnSync } from "node:child_process";
import { tmpdir } from "node:os";
import { join } from "node:path";

export const faults = [
  { what: "row numbers are those of the screen after a sort", file: "grid.js", from: "String(numbers ? numbers[y] : this.firstRow + y0 + y)", to: "String(this.firstRow + y0 + y)", test: "sheet", name: "sorted by keys" },
  { what: "what is typed is lost when another cell is clicked", file: "grid.js", from: "if (this.open) this.commit(0, 0);\n    const last", to: "if (this.open) this.cancel();\n    const last", test: "sheet", name: "what is typed is taken" },
  { what: "Enter goes up", file: "grid.js", from: "this.commit(e.shiftKey ? -1 : 1, 0);", to: "this.commit(e.shiftKey ? 1 : -1, 0);", test: "page", name: "a machine typed by keys" },
  { what: "Tab goes back", file: "grid.js", from: "this.commit(0, e.shiftKey ? -1 : 1);", to: "this.commit(0, e.shiftKey ? 1 : -1);", test: "page", name: "a machine typed by keys" },
  { what: "the square fills across what was drawn down", file: "grid.js", from: "filling = down >= across ?", to: "filling = down < across ?", test: "sheet", name: "fill down" },
  { what: "inside and too close to call exchange their marks", file: "grid.js", from: '2: "v2", 3: "v3"', to: '2: "v3", 3: "v2"', test: "page", name: "the demo shows 26" },
  { what: "a wrong cell has no mark", file: "grid.js", from: '{ e: "perr",', to: '{ e: "",', test: "page", name: "a wrong cell is named" },
  { what: "a name may end the title of a saved page", file: "files.js", from: '.replace(/&/g, "&amp;").replace(/</g, "&lt;")', to: '.replace(/&/g, "&amp;")', test: "page", name: "ends a title" },
  { what: "the month of a file name counts from 0", file: "files.js", from: "two(when.getMonth() + 1)", to: "two(when.getMonth())", test: "page", name: "the saved page opens" },
  { what: "a change is not kept on the disk", file: "keep.js", from: '      store("records").put({ line: this.line, seq, text });\n', to: "", test: "keep", name: "" },
  { what: "colours are not remembered", file: "page.js", from: "if (value) globalThis[where].setItem(key, value);", to: "if (value) globalThis[where].getItem(key);", test: "sheet", name: "colours are remembered" },
];

function run(command, args, env = {}) {
  const r = spawnSync("nice", ["-n", "5", command, ...args], { encoding: "utf8", env: { ...process.env, ...env }, maxBuffer: 1e8 });
  return { ok: r.status === 0, text: r.stdout + r.stderr };
}

/** The script of the page, bundled from a copy of web/. */
function bundle(dir) {
  const to = join(mkdtempSync(join(tmpdir(), "bundle-")), "app.js");
  const built = run("go", ["run", "./cmd/pagebuild", "-scripts", dir, "-o", to]);
  if (!built.ok) throw new Error(built.text);
  return readFileSync(to, "utf8");
}

const whole = readFileSync("dist/shimsheet.html", "utf8"), app = bundle("web");
const sum = (text) => createHash("sha256").update(text).digest("hex");

/** The page with another script, and its checksum. */
function pageWith(script) {
  for (const part of [app, sum(app)]) if (whole.split(part).length !== 2) throw new Error("dist/shimsheet.html was built from other scripts");
  return whole.replace(app, () => script).replace(sum(app), sum(script));
}

/** Plants one fault; "killed" by which test, or "lived". */
function plant(f) {
  const dir = mkdtempSync(join(tmpdir(), "faults-"));
  try {
    cpSync("web", dir, { recursive: true });
    const file = join(dir, f.file), text = readFileSync(file, "utf8");
    if (text.split(f.from).length !== 2) throw new Error(`${f.file}: "${f.from}" does not stand there once`);
    writeFileSync(file, text.replace(f.from, () => f.to));
    const page = join(dir, "page.html");
    writeFileSync(page, pageWith(bundle(dir)));
    const tests = run("node", ["--test", ...(f.name ? ["--test-name-pattern", f.name] : []), `test/browser/${f.test}.test.mjs`], { SHIMSHEET_PAGE: page, SHIMSHEET_QUICK: "1" });
    const passed = Number(/^[#ℹ] pass (\d+)/m.exec(tests.text)?.[1] ?? 0), failed = Number(/^[#ℹ] fail (\d+)/m.exec(tests.text)?.[1] ?? 0);
    if (passed + failed === 0) throw new Error("no test ran: " + tests.text.slice(-500));
    const by = [...tests.text.matchAll(/^ *(?:not ok \d+ - |✖ )(.*?)(?: \([\d.]+ms\))?$/gm)].map((m) => m[1]);
    return failed ? "killed   by " + (by.find((n) => !/^(Chromium|Firefox|failing)/.test(n)) ?? by[0]) : "LIVED";
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

const asked = process.argv.slice(2).map(Number);
let lived = 0, tried = 0;
for (const [i, f] of faults.entries()) {
  if (asked.length && !asked.includes(i + 1)) continue;
  const came = plant(f);
  tried++;
  if (came === "LIVED") lived++;
  console.log(`${String(i + 1).padStart(2)} ${f.file.padEnd(11)} ${f.what}: ${came}`);
}
console.log(`${tried - lived} of ${tried} noticed`);
process.exitCode = lived ? 1 : 0;
