// Safety copies on the disk: for each line of work on a job (one opening of it in one tab) a whole copy now and then and a record of every
// change since, in IndexedDB and written through to the disk. No line of work overwrites another's. What a record or a copy says is the
// page's program's business: see internal/desk/keep.go.
//
// A line's lock is held by the tab that works on it for as long as the tab is there. So tabs know of each other without a word, and a
// browser that was ended by force leaves no lock behind.

const lockOf = (job, line) => `shimsheet:${job}:${line}`;
const stores = ["lines", "wholes", "records"];
const daysKept = 30;

const opening = new Promise((yes) => {
  try {
    const q = indexedDB.open("shimsheet", 1);
    q.onupgradeneeded = () => {
      q.result.createObjectStore("lines", { keyPath: "line" });
      q.result.createObjectStore("wholes", { keyPath: "line" });
      q.result.createObjectStore("records", { keyPath: ["line", "seq"] });
    };
    q.onsuccess = () => {
      q.result.onversionchange = () => q.result.close();
      yes(q.result);
    };
    q.onerror = () => yes(null);
  } catch { yes(null); }
});

const recordsOf = (line, to = Infinity) => IDBKeyRange.bound([line, 0], [line, to]);

/** Writes, and resolves when it is on the disk. f gets a function that gives a store. */
async function write(f) {
  const db = await opening;
  if (!db) throw new Error("storage");
  return new Promise((yes, no) => {
    const t = db.transaction(stores, "readwrite", { durability: "strict" });
    t.oncomplete = () => yes();
    t.onabort = () => no(t.error ?? new Error("aborted"));
    try {
      f((name) => t.objectStore(name));
      t.commit(); // at once, without a way back and forth: the tab may be ended next
    } catch (e) {
      try { t.abort(); } catch { /* it has ended */ }
      no(e);
    }
  });
}

/** Asks one thing of a store; undefined if there is no storage. */
async function look(store, f) {
  const db = await opening;
  if (!db) return undefined;
  return new Promise((yes, no) => {
    const q = f(db.transaction(store).objectStore(store));
    q.onsuccess = () => yes(q.result);
    q.onerror = () => no(q.error);
  });
}

/** The locks that are held now; [] where the browser tells none. */
async function held() {
  try { return (await navigator.locks.query()).held.map((l) => l.name); } catch { return []; }
}

const ours = new Set(); // the locks this tab holds or held

/** What is known of every line of work with a change in it, the one changed last first: {line, job, name, revision, savedAt, from, began,
 * changed, changes, rows, handed, aside, follows, typing}, and open if another tab works on it. */
export async function lines() {
  try {
    const [all, locks] = await Promise.all([look("lines", (s) => s.getAll()), held()]);
    return (all ?? []).map((l) => ({ ...l, open: locks.includes(lockOf(l.job, l.line)) && !ours.has(lockOf(l.job, l.line)) }))
      .filter((l) => l.changes > 0 || l.typing || l.open).sort((a, b) => (a.changed < b.changed ? 1 : -1));
  } catch { return []; }
}

/** A line's copy: {about, whole: {head, rows}, records, seq}, or null. broken: a record in between is missing, and those behind it are
 * left out. */
export async function copyOf(line) {
  try {
    const [about, whole, all] = await Promise.all([look("lines", (s) => s.get(line)), look("wholes", (s) => s.get(line)),
      look("records", (s) => s.getAll(recordsOf(line)))]);
    if (!about || !whole) return null;
    const records = [];
    for (const r of all) {
      if (r.seq <= whole.after) continue;
      if (r.seq !== whole.after + records.length + 1) break;
      records.push(r.text);
    }
    return { about, whole, records, seq: whole.after + records.length, broken: all.some((r) => r.seq > whole.after + records.length) };
  } catch { return null; }
}

/** Forgets a line of work. */
export const forget = (line) => write((store) => {
  store("lines").delete(line);
  store("wholes").delete(line);
  store("records").delete(recordsOf(line));
}).catch(() => {});

/** Notes something of a line that no tab works on. */
export async function note(line, what) {
  const about = await look("lines", (s) => s.get(line)).catch(() => null);
  if (about) await write((store) => store("lines").put({ ...about, ...what })).catch(() => {});
}

/** Forgets what was set aside more than thirty days ago, and what was begun without a change. The first write of a page takes longest, so
 * one that does nothing comes before. */
export async function sweep() {
  await write((store) => store("lines").delete("")).catch(() => {});
  const before = new Date(Date.now() - daysKept * 86_400_000).toISOString();
  const all = await look("lines", (s) => s.getAll()).catch(() => []) ?? [], locks = await held();
  // without a change: only looked at
  for (const l of all) {
    if ((l.aside && l.aside < before || !l.changes && !l.typing) && !locks.includes(lockOf(l.job, l.line))) await forget(l.line);
  }
}

/** Until when a line that was set aside is kept. */
export const keptUntil = (about) => new Date(Date.parse(about.aside) + daysKept * 86_400_000);

/** Makes room: forgets the oldest line that was set aside, else the oldest that a file has, and returns what is known of it; null if there
 * is none. */
async function makeRoom(but) {
  const all = (await lines()).filter((l) => l.line !== but && !l.open).reverse();
  const l = all.find((x) => x.aside) ?? all.find((x) => x.handed);
  if (l) await forget(l.line);
  return l ?? null;
}

/** Where a line is held: resolves when the lock is held, to true; to false if another tab has it after a moment. */
function hold(job, line, patience) {
  return new Promise((yes) => {
    if (!globalThis.navigator?.locks) return yes(true);
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), patience);
    navigator.locks.request(lockOf(job, line), { signal: stop.signal }, () => {
      clearTimeout(timer);
      ours.add(lockOf(job, line));
      yes(true);
      return new Promise((free) => { freeing.set(line, free); });
    }).catch(() => yes(false));
  });
}
const freeing = new Map();

const full = (e) => e?.name === "QuotaExceededError" || e?.name === "NS_ERROR_DOM_QUOTA_REACHED";

/** One line of work: what this tab does to one opened job. */
export class Line {
  begun = false; // there is a whole copy, or one is on its way
  safe = null; // {at, changes} of what is on the disk
  #seq = 0; #since = 0; #whole = 0; #broken = false; #making = false; #tried = 0;

  /** job: its id. facts() gives what is to be known of the line now; whole(asOpened) gives a copy {head, rows: [[sheet, packed rows], …]},
   * or a promise of one, null if it was not finished; told(text, why) hears of a failure, "" of success: why is "full", "none" or "room",
   * with what had to go. */
  constructor(job, hooks, line = crypto.randomUUID()) {
    this.job = job;
    this.line = line;
    this.hooks = hooks;
    this.ready = hold(job, line, 3000);
  }

  /** Goes on with a line that was left: the records go behind those that are there. Resolves to null if another tab has it. */
  static async resume(copy, hooks) {
    const l = new Line(copy.about.job, hooks, copy.about.line);
    if (!(await l.ready)) return null;
    l.begun = true;
    l.#seq = copy.seq;
    l.#since = copy.records.reduce((sum, r) => sum + r.length, 0);
    l.#whole = copy.whole.head.length;
    l.#broken = copy.broken; // then a whole copy comes first
    l.safe = { at: copy.about.changed, changes: copy.about.changes };
    return l;
  }

  /** Lets other tabs know that this one has gone on to something else. */
  leave() {
    freeing.get(this.line)?.();
    freeing.delete(this.line);
  }

  #about() { return { ...this.hooks.facts(), line: this.line, job: this.job, changed: new Date().toISOString() }; }

  /** Writes the whole copy ahead of the first change, so that its record has little to wait for. */
  begin() { if (!this.begun) this.#copy(true); }

  /** Keeps a change: next() gives its record. */
  change(next) {
    this.begin();
    if (this.#broken && Date.now() - this.#tried > 5000) this.#copy(false);
    const text = next();
    if (!text) return;
    const seq = ++this.#seq, about = this.#about();
    this.#since += text.length;
    this.#settle(about, write((store) => {
      store("records").put({ line: this.line, seq, text });
      store("lines").put(about);
    }));
    if (this.#since > Math.max(1_000_000, this.#whole)) this.#copy(false);
  }

  /** Keeps what is known of the line; a whole copy that is on its way brings it along. */
  know() {
    if (!this.begun || this.#making) return;
    const about = this.#about();
    this.#settle(about, write((store) => store("lines").put(about)));
  }

  /** Writes a whole copy, and drops the records before it in the same stroke. */
  #copy(asOpened) {
    if (this.#making) return;
    this.begun = true;
    const after = this.#seq, about = this.#about();
    this.#since = 0;
    this.#tried = Date.now();
    const put = (c) => {
      this.#making = false;
      if (!c) {
        this.begun = false; // begun anew with the next change
        return;
      }
      this.#whole = c.rows.reduce((sum, r) => sum + r[1].length, c.head.length);
      this.#settle(about, write((store) => {
        store("wholes").put({ line: this.line, after, ...c });
        store("records").delete(recordsOf(this.line, after));
        store("lines").put({ ...this.#about(), changes: about.changes });
      }).then(() => { this.#broken = false; }));
    };
    const c = this.hooks.whole(asOpened && !this.#seq); // behind a record the job is not as opened any more
    this.#making = true;
    if (c?.then) c.then(put, () => put(null));
    else put(c);
  }

  async #settle(about, done) {
    try {
      await done;
      this.safe = { at: about.changed, changes: about.changes };
      if (!this.#broken) this.hooks.told("");
    } catch (e) {
      this.#broken = true; // a record is missing now: a whole copy comes next
      const gone = full(e) ? await makeRoom(this.line) : null;
      if (gone) {
        this.hooks.told("room", gone);
        this.#copy(false);
      } else this.hooks.told(full(e) ? "full" : "none");
    }
  }
}

/** Tells of other tabs that have the job of a line open: tell(true) when there is one, tell(false) when there is none any more. Returns a
 * function that stops it. */
export function watch({ job, ready }, tell) {
  const bell = globalThis.BroadcastChannel ? new BroadcastChannel("shimsheet") : null;
  let on = true, said = false, waiting = false;
  const look = async () => {
    const theirs = (await held()).filter((n) => n.startsWith(`shimsheet:${job}:`) && !ours.has(n));
    if (!on) return;
    if (said !== theirs.length > 0) {
      said = theirs.length > 0;
      tell(said);
    }
    // waits behind one of them, to hear of its end
    if (theirs.length && !waiting) {
      waiting = true;
      navigator.locks.request(theirs[0], { mode: "shared" }, () => {}).catch(() => {}).then(() => { waiting = false; if (on) look(); });
    }
  };
  if (bell) bell.onmessage = look;
  ready.then(() => {
    if (!on) return;
    bell?.postMessage(job); // only now the others can see the lock
    look();
  });
  return () => {
    on = false;
    bell?.postMessage(job);
    bell?.close();
  };
}
