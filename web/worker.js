// Runs in a Web Worker: Go's program for workbook files (cmd/wasm/workbook, which tells what can be asked of it), and what stands between
// it and the page: the program comes in pieces, requests wait for each other, and parts are packed and unpacked by the browser. Or the
// page's own program as it was compiled there, for the lists of the stock.
//
// From the page at its start: {own} and at last {compile}, answered by {module, code, end} or {error}. Later: {code} and {piece} at first,
// the page's own program and the changes that make that for workbook files of it, then {env}; or {module, data}; then {op, …}. To the
// page: {progress}, the pieces of a job, and one end of each op but warm, work and make, whose failure shows when what they do is wanted,
// and head and rows, whose failure is that of the op behind them: {done: …} or {error: a sentence}.
import "go:wasm_exec";
import { compiling, goOn } from "./begun.js";
import { bytes91, gather, changed } from "./bytes.js";
import * as T from "texts";

const post = self.postMessage.bind(self);
let program; // takes a request of the program's
let answer; // settles the request at work

/** What comes in packed pieces; a failure shows where code is waited for. */
function unpacking(into) {
  const stream = new DecompressionStream("gzip");
  const packed = stream.writable.getWriter();
  const code = into(stream.readable);
  code.catch(() => {});
  return { code, take: (text) => packed.write(bytes91(text)).catch(() => {}), end: () => packed.close().catch(() => {}) };
}
const own = unpacking(compiling), changes = unpacking(gather);
let code; // the page's own program as it was unpacked at the page's start
let started;

/** Lets some work go on beside what waits for it; if it fails, the reader of the stream it feeds fails too. */
const beside = (work) => { work().catch(() => {}); };

/** What a stream gives, put together into a window that is handed over when it is full: each handing over has its price. */
async function* filled(stream) {
  const window = new Uint8Array(1 << 20);
  const reader = stream.getReader();
  let n = 0;
  try {
    for (let r; !(r = await reader.read()).done;) {
      for (let at = 0, k; at < r.value.length; at += k) {
        k = Math.min(window.length - n, r.value.length - at);
        window.set(r.value.subarray(at, at + k), n);
        if ((n += k) < window.length) continue;
        yield window;
        n = 0;
      }
    }
    if (n) yield window.subarray(0, n);
  } finally {
    reader.cancel().catch(() => {});
  }
}

globalThis.packing = {
  /** A gzip file is made of the packed bytes, so that the browser checks size and checksum on the way. */
  async inflate(data, size, sum, sink) {
    const tail = new DataView(new ArrayBuffer(8));
    tail.setUint32(0, sum, true);
    tail.setUint32(4, size, true);
    const stream = new DecompressionStream("gzip");
    beside(async () => {
      const w = stream.writable.getWriter();
      for (const p of [new Uint8Array([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 255]), data, new Uint8Array(tail.buffer)]) await w.write(p);
      await w.close();
    });
    for await (const piece of filled(stream.readable)) if (!sink(piece)) throw new Error(T.worker.moreThanWasSaid);
  },
  async deflate(window, fill) {
    const stream = new CompressionStream("gzip");
    beside(async () => {
      const w = stream.writable.getWriter();
      for (let n; (n = fill());) await w.write(window.slice(0, n)); // a copy: some hosts read on after they have said that it is written
      await w.close();
    });
    return gather(stream.readable);
  },
};

/** Hands the page its own program, compiled, whose pieces have all come. */
async function compile() {
  try {
    own.end();
    const m = await own.code;
    post(m, [m.code.buffer]);
  } catch (e) {
    post({ error: String(e && e.message || e) });
  }
}

/** Runs the page's own program. */
async function page(module, data) {
  self.shimsheetProgress = (progress) => post({ progress });
  const ready = new Promise((resolve) => self.addEventListener("shimsheet-program", resolve, { once: true }));
  const ended = goOn(module, data).then(() => { throw new Error(T.worker.theProgramHasEnded); });
  ended.catch((e) => post({ error: String(e && e.message || e) }));
  await Promise.race([ready, ended]);
  const calls = { head: (m) => ["listsHead", m.head], rows: (m) => ["listsRows", m.table, m.rows], lists: (m) => ["lists", m.when] };
  program = ({ data: m }) => {
    const done = JSON.parse(self.shimsheet.call(...calls[m.op](m)));
    const error = done.error ?? done.panic;
    answer({ ok: error === undefined, error, done });
  };
}

async function run(env) {
  changes.end();
  const go = new self.Go();
  Object.assign(go.env, env);
  // The program listens and posts as a worker's does; both are taken over here.
  const ready = new Promise((resolve) => {
    self.postMessage = (m) => {
      if (m.ready) resolve();
      else if (m.ok === undefined) post(m);
      else answer?.(m);
    };
  });
  const { instance } = await WebAssembly.instantiate(changed(code, await changes.code), go.importObject);
  const ended = go.run(instance).then(() => { throw new Error(T.worker.theProgramForWorkbookFiles); });
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
    program({ data: request });
  });
  if (!m.ok) throw new Error(m.error);
  return m;
}

const silent = new Set(["head", "rows"]);
let refused = null; // what a silent one failed with

async function operate(request) {
  if (silent.has(request.op)) {
    if (request.op === "head") refused = null;
    await ask(request).catch((e) => { refused ??= e; }); // nobody waits for it: told at what is asked next
    return;
  }
  const no = refused;
  refused = null;
  if (no) throw no;
  const m = await ask(request);
  if (m.file) post({ done: { file: m.file } }, [m.file.buffer]);
  else if (request.op === "read") post({ done: { text: m.json } });
  else post({ done: m.done ?? (m.json ? JSON.parse(m.json) : {}) });
}

/** Works on something small, over and over until there is a request. */
async function warm(times) {
  await started;
  for (; times > 0 && !wanted; times--) {
    await ask({ op: "warm" });
    await new Promise((r) => setTimeout(r)); // lets a request in
  }
}

/** Works ahead, unless what it is for is wanted already. */
const ahead = (request) => (request.op === "make" && writing ? undefined : ask(request));

let wanted = false, writing = false;
let queue = Promise.resolve();
self.addEventListener("message", (e) => {
  const m = e.data;
  if (m.own) own.take(m.own);
  else if (m.compile) compile();
  else if (m.code) code = m.code;
  else if (m.piece) changes.take(m.piece);
  else if (m.module || m.env) {
    started = m.module ? page(m.module, m.data) : run(m.env);
    started.catch(() => {});
  } else if (m.op === "warm") {
    queue = queue.then(() => warm(m.times)).catch(() => {}); // what is wrong shows at the first request
  } else if (m.op === "work" || m.op === "make") {
    queue = queue.then(() => ahead(m)).catch(() => {}); // the same
  } else if (m.op) {
    wanted = true;
    writing ||= m.op === "write";
    queue = queue.then(() => operate(m)).catch((e) => post({ error: e.message }));
  }
});
