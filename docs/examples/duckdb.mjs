// Rows out of one table and results into another, with the stream between them. DuckDB writes the rows as JSON lines by its own writer, the command works them out, and DuckDB
// reads the results by its own reader.
//
//   node duckdb.mjs list.csv shimsheet       the command
//
// Needs @duckdb/node-api. The verdicts are counted and printed.
import { DuckDBInstance } from "@duckdb/node-api";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const [list, command] = process.argv.slice(2);
const dir = mkdtempSync(join(tmpdir(), "rows-"));
const quoted = (text) => `'${text.replaceAll("'", "''")}'`;
try {
  const db = await (await DuckDBInstance.create(":memory:")).connect();
  const rows = join(dir, "rows.ndjson");
  const results = join(dir, "results.ndjson");
  // all_varchar: a cell stays the text it is, so that 12.5 mil is not lost, and the command reads it as a cell.
  await db.run(`create table machines as from read_csv(${quoted(list)}, header = true, all_varchar = true)`);
  await db.run(`copy machines to ${quoted(rows)} (format json)`);
  try {
    execFileSync(command, ["calc", rows, "-o", results], { stdio: ["ignore", "inherit", "pipe"] });
  } catch (error) {
    if (error.status !== 1) throw error; // 1: some rows not judged, and the results say which
  }
  await db.run(`create table results as from read_json(${quoted(results)}, format = 'newline_delimited', maximum_object_size = 1048576)`);
  const out = await db.runAndReadAll(`select machine, verdict, front_shim_mm, rear_shim_mm from results order by line`);
  for (const row of out.getRowsJson()) console.log(row.join("\t"));
} finally {
  rmSync(dir, { recursive: true });
}
