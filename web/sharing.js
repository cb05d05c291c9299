// The stock shared out over the job, for the packs on the page and for the lists: by a worker, of itself a moment after a change, and once
// for each state of the job. Until it is done the program says of its packs that they are from a full box.
import { lists as shareOut, stopLists } from "./exchange.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** took(state) hears that the packs shown are others now; when() is the time as it is told; ready() whether that may come between what
 * somebody does. @param {Hooks} hooks */
export function sharing({ ask, state, took, when, ready }) {
  let last = null; // {at, got}: the lists of a state of the job
  let running = null; // {at, promise, told: who hears how far it is}
  let timer = 0;
  const root = document.documentElement;
  const now = () => `${state().desk} ${state().changes}`;
  const mark = () => { root.dataset.sharing = timer || running ? "1" : "0"; };
  mark();

  /** The lists of the job as it is. Rejects as those of the worker do: with null when it was stopped. */
  function lists(told) {
    const at = now();
    if (last?.at === at) return Promise.resolve(last.got);
    if (running?.at !== at) {
      clearTimeout(timer);
      timer = 0;
      const mine = running = { at, told: new Set(), promise: null };
      mine.promise = shareOut(when(), (p) => { for (const f of mine.told) f(p); }).then((got) => {
        if (at === now()) {
          last = { at, got };
          take(got, at);
        }
        return got;
      }, (e) => {
        if (e && at === now()) tell("notShared", e.message);
        throw e;
      }).finally(() => {
        if (running === mine) running = null;
        mark();
      });
      mark();
    }
    if (told) running.told.add(told);
    return running.promise;
  }

  function tell(/** @type {string} */ op, ...args) {
    const s = ask(op, ...args);
    if (s) took(s);
  }

  /** Puts the packs on the page, when nobody is in the middle of a cell. */
  function take(got, at) {
    if (at !== now() || !ask("sharing")?.wanted) return;
    if (ready()) tell("shared", got.sharing, got.when);
    else setTimeout(() => take(got, at), 300);
  }

  /** After a change, when every row is worked out. */
  function soon() {
    clearTimeout(timer);
    timer = 0;
    if (last?.at !== now() && ask("sharing")?.wanted) {
      timer = setTimeout(() => {
        timer = 0;
        lists().catch(() => {}); // told where it is looked at
      }, Math.min(700 + state().rows, 5000)); // a long job takes long, and is not to be begun again at every cell
    }
    mark();
  }

  /** Waits for what is on its way, but not for ever. */
  async function settled() {
    if (timer) lists().catch(() => {});
    if (running) await Promise.race([running.promise.catch(() => {}), new Promise((r) => setTimeout(r, 4000))]);
  }

  return { lists, soon, settled, stop: stopLists };
}

/** What is said of the time of a sharing-out. */
export const stamp = (time, revision, changed) => fill(T.sharing.on, time,
  !revision ? "" : fill(changed ? T.sharing.revisionAndChanges : T.sharing.revision, revision));
