// The page's side of what is done in a worker: workbook files, by the program for them, and what may take seconds, by the page's own
// program run once more. Started when one is wanted and ended afterwards.
import { part, workbookElements, complete } from "./files.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** Lets the browser do what waits: draw, take clicks. */
const channel = new MessageChannel();
let waiting = [];
channel.port1.onmessage = () => waiting.shift()?.();
export const breathe = () => new Promise((r) => { waiting.push(r); channel.port2.postMessage(0); });

/** Thrown at whoever waits for a worker that was ended. */
export class Stopped extends Error { stopped = true; }

/** The page's own program, compiled, as it was unpacked, and where its code ends. */
export const own = { module: null, code: null, end: 0 };

export class Workbooks {
  #worker; #settle; #parts; #ended = false;
  /** told(share 0 … 1) is called while something is worked on. */
  told = (/** @type {number} */ _share) => {};

  /** module: a compiled program to run instead of that for workbook files. */
  constructor(module) {
    const url = URL.createObjectURL(new Blob([JSON.parse(part("worker"))], { type: "text/javascript" }));
    this.#worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.#worker.onerror = (e) => {
      e.preventDefault();
      this.#settle?.no(new Error(fill(T.workbook.theProgramForWorkbookFiles, e.message || T.workbook.itCannotBeStarted)));
    };
    this.#worker.onmessage = ({ data: m }) => {
      try {
        if (m.progress !== undefined) this.told(m.progress);
        if (m.head !== undefined || m.rows !== undefined) this.#parts?.(m);
        else if (m.done) this.#settle?.yes(m.done);
        else if (m.error !== undefined) this.#settle?.no(new Error(m.error));
      } catch (e) {
        this.#settle?.no(e);
      }
    };
    this.ready = this.#feed(module);
    this.ready.catch(() => {});
  }

  async #feed(module) {
    if (!module) {
      await complete();
      this.#worker.postMessage({ code: own.code });
      for (const e of workbookElements()) {
        if (this.#ended) return;
        this.#worker.postMessage({ piece: e.textContent });
        await breathe();
      }
    }
    // memory is cheaper here than collections, and all of it is given back
    const data = module && own.code.slice(own.end);
    this.#worker.postMessage(module ? { module, data } : { env: { GOGC: "400" } }, module ? [data.buffer] : []);
  }

  /** Has one thing done; parts is called with what comes before the end. Rejects with a sentence, or Stopped. */
  async ask(message, transfer = [], parts = null) {
    await this.ready;
    if (this.#ended) throw new Stopped();
    return new Promise((yes, no) => {
      this.#settle = { yes, no };
      this.#parts = parts;
      this.#worker.postMessage(message, transfer);
    });
  }

  /** Has it work on something small until it is asked for something: the browser makes its code fast meanwhile. */
  warm() { this.ready.then(() => { if (!this.#ended) this.#worker.postMessage({ op: "warm", times: 12 }); }).catch(() => {}); }

  /** Sends what is answered by nothing. */
  tell(message) { this.#worker.postMessage(message); }

  /** Ends the worker, whatever it does, and gives its memory back. */
  end() {
    this.#ended = true;
    this.#worker.terminate();
    this.#settle?.no(new Stopped());
  }
}
