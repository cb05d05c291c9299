// Runs in a Web Worker: Go's program for workbook files, and what stands between it and the page. What the page sends and gets is small or
// comes piece by piece, so that nothing holds the page up; the program's own messages (cmd/wasm/workbook) are whole jobs as JSON.
//
// From the page: {base64} and {base64: null, env} at first, the program; then {op, …} one at a time. To the page: {progress, 0 … 1 or null for not
// known, what}, {rows}, and one end of each op: {done: …} or {error: a sentence}.
import "go:wasm_exec";
import { bytes, gather } from "./bytes.js";
import { packRows, unpackRows } from "./rows.js";

const post = self.postMessage.bind(self);
let program; // takes a request of the program's
let answer; // settles the request at work
let file, name; // the file the page has opened
let taken; // the job that was read from it
const coming = { head: null, rows: {} }; // the job the page sends for writing

const unpack = new DecompressionStream("gzip");
const packed = unpack.writable.getWriter();
const code = gather(unpack.readable);
code.catch(() => {}); // told where it is waited for
let started;

async function run(env) {
  packed.close().catch(() => {});
  const go = new self.Go();
  Object.assign(go.env, env);
  // The program listens and posts as a worker's does; both are taken over here.
  const ready = new Promise((resolve) => {
    self.postMessage = (m) => {
      if (m.ready) resolve();
      else if (m.progress !== undefined) post({ progress: m.progress });
      else answer?.(m);
    };
  });
  const { instance } = await WebAssembly.instantiate(await code, go.importObject);
  const ended = go.run(instance).then(() => { throw new Error("the program for workbook files has ended"); });
  ended.catch((e) => post({ error: String(e && e.message || e) }));
  await Promise.race([ready, ended]);
  program = self.onmessage;
  self.onmessage = null;
}

/** One request to the program; rejects with its sentence. */
async function ask(request) {
  await started;
  const m = await new Promise((resolve) => {
    answer = resolve;
    program({ data: { id: 1, ...request } });
  });
  if (!m.ok) throw new Error(m.error);
  return m;
}

const tables = ["machines", "readings", "stock", "settings"];

const operations = {
  /** Opens a file, or opens the same one again with other choices. A file without a list of machines still has a preview. */
  async read(m) {
    if (m.data) [file, name] = [m.data, m.name];
    taken = null;
    const choices = m.choices ? JSON.stringify(m.choices) : undefined;
    try {
      const { job, report } = JSON.parse((await ask({ op: "read", name, data: file, choices })).json);
      taken = job;
      const rows = Object.fromEntries(tables.map((t) => [t, job[t]?.rows?.length ?? 0]));
      return { preview: report, rows, own: job.id };
    } catch (e) {
      const preview = JSON.parse((await ask({ op: "inspect", name, data: file })).json);
      return { preview, refused: e.message };
    }
  },
  /** Hands the job over: its tables without rows, and the rows of each. */
  take() {
    const head = { ...taken };
    const n = tables.reduce((sum, t) => sum + (taken[t]?.rows?.length ?? 0), 0);
    for (const t of tables) if (taken[t]) head[t] = { ...taken[t], rows: [] };
    post({ head: JSON.stringify(head) });
    let sent = 0;
    for (const k of [1, 2, 3, 0]) { // machines last
      const t = tables[k];
      const rows = taken[t]?.rows ?? [];
      for (let i = 0; i < rows.length; i += 200) {
        const some = rows.slice(i, i + 200);
        sent += some.length;
        post({ table: k, rows: packRows(some), progress: sent / n });
      }
    }
    return {};
  },
  head(m) { coming.head = JSON.parse(m.head); for (const t of tables) if (coming.head[t]) coming.head[t].rows = []; return null; },
  rows(m) { for (const r of unpackRows(m.rows)) coming.head[tables[m.table]].rows.push(r); return null; },
  async write(m) {
    const job = JSON.stringify(coming.head);
    coming.head = null;
    const out = await ask({ op: m.data ? "addTo" : "write", job, options: JSON.stringify(m.options), data: m.data });
    return { file: out.file };
  },
};

let queue = Promise.resolve();
self.addEventListener("message", (e) => {
  const m = e.data;
  if (m.base64) packed.write(bytes(m.base64)).catch(() => {}); // a failure shows at the reader
  else if (m.env) {
    started = run(m.env);
    started.catch(() => {});
  } else if (m.op) {
    queue = queue.then(() => operations[m.op](m)).then(
      (done) => { if (done) post({ done }, done.file ? [done.file.buffer] : []); },
      (e) => post({ error: e.message }),
    );
  }
});
