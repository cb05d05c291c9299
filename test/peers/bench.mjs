// The same 10,000 rows in general-purpose programs, each by the same closed formulas, and in this project's solver: what each sums to has to be the same before a time is believed. What is not
// installed is left out and named. No program for the alignment of machines is among them. Figures depend on the machine: note it beside them.
//
//	node test/peers/bench.mjs        HyperFormula comes from npm into dist/peers, for this alone
import { execFileSync } from "node:child_process";
import { mkdirSync, existsSync, writeFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir, loadavg, cpus } from "node:os";
import { createRequire } from "node:module";
import { join, resolve, dirname } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url)), root = resolve(here, "../..");
const hyperformula = "hyperformula@3.1.0";
const median = (a) => [...a].sort((x, y) => x - y)[a.length >> 1];

// Readings in hundredths, distances in millimetres, from a generator that is the same everywhere (Park and Miller, 1988).
let seed = 21;
const random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
const rows = Array.from({ length: 10_000 }, () => {
  const far = (from, to) => Math.round(from + (to - from) * random()), dial = () => Math.round(200 * (random() - 0.5)) / 100;
  const movable = far(60, 180), stationary = far(60, 180), front = movable + far(200, 600), sweep = () => { const v = dial(), h = dial(); return [0, v + h, 2 * v, v - h].map((x) => Math.round(x * 100) / 100); };
  return [movable, stationary, front, front + far(400, 1000), ...sweep(), ...sweep()];
});
const dir = mkdtempSync(join(tmpdir(), "shimsheet-peers-")), file = join(dir, "rows.csv");
writeFileSync(file, rows.map((r) => r.join(",")).join("\n") + "\n");

const told = [], left = [];
const run = (what, f) => {
  try { told.push(...f()); } catch (e) { left.push(`${what}: ${String(e.stderr || e.message).trim().split("\n").at(-1)}`); }
};
const asked = (cmd, ...args) => JSON.parse(execFileSync(cmd, [...args, file], { cwd: root, stdio: ["ignore", "pipe", "pipe"], timeout: 300_000 }));
run("Go", () => asked("go", "run", "./test/peers"));
run("NumPy", () => asked(process.env.PYTHON || "/usr/bin/python3", join(here, "numpy_rows.py")));
run("LibreOffice", () => asked(process.env.PYTHON || "/usr/bin/python3", join(here, "office_rows.py")));
run("HyperFormula", () => {
  const to = join(root, "dist/peers");
  mkdirSync(to, { recursive: true });
  if (!existsSync(join(to, "node_modules/hyperformula"))) execFileSync("npm", ["install", "--no-save", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", to, hyperformula], { stdio: ["ignore", "ignore", "pipe"] });
  const { HyperFormula } = createRequire(join(to, "x.js"))("hyperformula");
  // All rows hang on a factor, W1, so that one change works all of them out anew.
  const sheet = rows.map((r, i) => {
    const at = (f) => "=" + f.replace(/([A-V])#/g, (_, c) => c + (i + 1));
    return [...r, ...["(E#-G#)/2*$W$1", "(F#-H#)/2*$W$1", "(K#-I#)/2*$W$1", "(L#-J#)/2*$W$1", "(M#-O#)/(A#+B#)", "(N#-P#)/(A#+B#)", "-(M#+Q#*(C#-A#))", "-(M#+Q#*(D#-A#))", "-(N#+R#*(C#-A#))", "-(N#+R#*(D#-A#))"].map(at), i ? "" : 1];
  });
  sheet.push([...Array(18).fill(""), ...["S", "T", "U", "V"].map((c) => `=SUM(${c}1:${c}${rows.length})`)]);
  const t = performance.now();
  const hf = HyperFormula.buildFromArray(sheet, { licenseKey: "gpl-v3", maxRows: 20_000 });
  const build = performance.now() - t;
  const sums = () => [18, 19, 20, 21].map((col) => hf.getCellValue({ sheet: 0, row: rows.length, col }));
  const millis = [];
  for (let i = 0; i < 4; i++) {
    hf.setCellContents({ sheet: 0, row: 0, col: 22 }, 2);
    const t = performance.now();
    hf.setCellContents({ sheet: 0, row: 0, col: 22 }, 1);
    if (i) millis.push(performance.now() - t);
  }
  const s = sums();
  return [{ name: `HyperFormula ${HyperFormula.version}, built from its formulas`, sums: s, millis: [build] }, { name: "the same, one change that all rows hang on", sums: s, millis }];
});
rmSync(dir, { recursive: true, force: true });

const [first] = told;
if (!first) throw new Error("nothing ran: " + left.join("; "));
let bad = 0;
console.log(`${cpus().length} × ${cpus()[0].model.trim()}; load ${loadavg()[0].toFixed(1)}; ${rows.length} rows; sums of the shims and moves ${first.sums.map((x) => x.toFixed(6)).join(", ")} mm`);
for (const x of told) {
  const same = x.sums.every((s, i) => Math.abs(s - first.sums[i]) <= 1e-9 * rows.length);
  if (!same) bad++;
  const m = median(x.millis);
  console.log(x.name.padEnd(72), same ? `${m.toFixed(2).padStart(9)} ms (${Math.min(...x.millis).toFixed(2)}–${Math.max(...x.millis).toFixed(2)})  ${(m / median(first.millis)).toFixed(1).padStart(7)} times the first` : `sums to ${x.sums.join(", ")}: not believed`);
}
for (const l of left) console.log("left out, " + l);
process.exitCode = bad ? 1 : 0;
