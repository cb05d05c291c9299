// Saving: the page as a file with the job inside, other files, and the safety copies in the browser's storage.
import * as T from "texts";

/** Text of a part of the page, exactly as the build put it in. */
export const part = (name) => document.getElementById("part-" + name).textContent;

/** The elements that hold the page's program, a live list; pieceBreak stands between their texts, as in cmd/pagebuild. */
export const wasmElements = () => document.getElementsByClassName("part-wasm");
const pieceBreak = '</script><script>shimsheetPiece()</script>\n<script type="application/gzip" class="part-wasm">';

/** The elements that hold the program for workbook files, at the page's end: complete when the page is. */
export const workbookElements = () => document.getElementsByClassName("part-workbook");
const workbookPieceBreak = '</script>\n<script type="application/gzip" class="part-workbook">';

/** Resolves when the whole page is there. It works before that. */
export const complete = () => (document.readyState === "loading" ? new Promise((r) => document.addEventListener("DOMContentLoaded", r, { once: true })) : Promise.resolve());

/** The job in the page, "null" for none. Read before anything else touches the page. */
export const jobInPage = () => document.getElementById("job").textContent.trim();

const escapeText = (s) => s.replace(/&/g, "&amp;").replace(/</g, "&lt;");

/**
 * The whole page with a job inside, from the parts it was built from, filled in the same way as cmd/pagebuild does: a list of texts to be
 * put one behind the other. The page as it stands on the screen has no say in it. The page must be complete.
 */
export function savedPage(job, title) {
  const pieces = (elements, between) => Array.from(elements, (e, i) => [i ? between : "", e.textContent]).flat();
  const parts = {
    TITLE: escapeText(title), STYLE: part("style"), BODY: part("body"), SKELETON: part("skeleton"), JOB: job.replace(/</g, "\\u003c"), DEMO: part("demo"), LICENCES: part("licences"),
    WASM: pieces(wasmElements(), pieceBreak), APP: part("app"), WORKER: part("worker"), WORKBOOK: pieces(workbookElements(), workbookPieceBreak),
  };
  return JSON.parse(parts.SKELETON).split(/@@([A-Z]+)@@/).flatMap((t, i) => (i % 2 ? parts[t] : t));
}

/** Hands a file to the browser, its content a list of texts or bytes. Whether it arrives, a page cannot know. */
export function handOver(name, type, content) {
  const url = URL.createObjectURL(new Blob(content, { type }));
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A file name out of the job's name, revision and time. */
export function fileName(job, revision, when, ending) {
  const two = (n) => String(n).padStart(2, "0");
  const stamp = `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}-${two(when.getHours())}${two(when.getMinutes())}`;
  const name = (job || T.files.shimsheetJob).normalize("NFKC").replace(/[\\/:*?"<>|\u0000-\u001f]+/g, " ").trim().replace(/\s+/g, "-").slice(0, 60) || "shimsheet-job";
  return `${name}-rev${revision}-${stamp}.${ending}`;
}

// Safety copies: a small entry a job that says what it is, and the job itself in one entry or, a long one, in several. Chromium keeps one storage for all local
// files, so the job's id stands in the key.
const prefix = "shimsheet:";

/** The safety copies, newest first: {id, name, revision, changed, rows, handed}. Empty if the storage is forbidden. */
export function copies() {
  const list = [];
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i);
      if (!key.startsWith(prefix) || !key.endsWith(":about")) continue;
      try {
        const about = JSON.parse(localStorage.getItem(key));
        if (about && about.id) list.push(about);
      } catch { /* not ours, or broken: left alone */ }
    }
  } catch { return []; }
  return list.sort((a, b) => (a.changed < b.changed ? 1 : -1));
}

let writing = 0; // counts: what is being written in pieces stops when something else is kept

const why = (e) => (e && (e.name === "QuotaExceededError" || e.name === "NS_ERROR_DOM_QUOTA_REACHED")
  ? T.files.theBrowserSStorageIs
  : T.files.theBrowserKeepsNoStorage);

/** The keys of a job's text: one, or one a piece. */
const jobKeys = (about) => (about?.pieces ? Array.from({ length: about.pieces }, (_, i) => `${prefix}${about.id}:job.${about.turn}.${i}`) : [`${prefix}${about?.id}:job`]);
const read = (id) => {
  try { return JSON.parse(localStorage.getItem(prefix + id + ":about")); } catch { return null; }
};

/** Keeps a safety copy at once. Returns "" or why it could not; then the copy before stays. */
export function keepCopy(about, job) {
  writing++;
  let old = [], before = null;
  try {
    before = read(about.id);
    old = jobKeys(before).map((k) => [k, localStorage.getItem(k)]);
    if (before?.pieces) for (const [k] of old) localStorage.removeItem(k); // there may not be room for both
    localStorage.setItem(prefix + about.id + ":job", job);
    localStorage.setItem(prefix + about.id + ":about", JSON.stringify(about));
    return "";
  } catch (e) {
    try {
      if (before?.pieces) {
        localStorage.removeItem(prefix + about.id + ":job");
        for (const [k, v] of old) if (v !== null) localStorage.setItem(k, v);
      }
    } catch { /* what cannot be put back is told: there is no copy */ }
    return why(e);
  }
}

/** Removes the texts of a job but those of the keys: a copy before, or one that did not come to its end. */
function sweep(id, keys) {
  for (let i = localStorage.length - 1; i >= 0; i--) {
    const key = localStorage.key(i);
    if ((key === `${prefix}${id}:job` || key.startsWith(`${prefix}${id}:job.`)) && !keys.includes(key)) localStorage.removeItem(key);
  }
}

const idle = () => new Promise((r) => (window.requestIdleCallback ? requestIdleCallback(r, { timeout: 500 }) : setTimeout(r, 20)));
const pieceLength = 200_000;

/** The same for a long job, a piece at a time when the browser is idle: the browser's storage holds the page up by the length of what is
 * written. What says which pieces belong together is written last, so a copy is the old one or the new one. Returns null if something else was kept
 * meanwhile. */
export async function keepCopyInPieces(about, job) {
  if (job.length <= pieceLength) return keepCopy(about, job);
  const mine = ++writing;
  const after = { ...about, pieces: Math.ceil(job.length / pieceLength), turn: Date.now().toString(36) + "-" + mine };
  const keys = jobKeys(after);
  const forget = () => { for (const k of keys) localStorage.removeItem(k); };
  try {
    sweep(about.id, jobKeys(read(about.id) ?? about));
    for (let i = 0; i < keys.length; i++) {
      await idle();
      if (mine !== writing) {
        forget();
        return null;
      }
      localStorage.setItem(keys[i], job.slice(i * pieceLength, (i + 1) * pieceLength));
    }
    localStorage.setItem(prefix + about.id + ":about", JSON.stringify(after));
    sweep(about.id, keys);
    return "";
  } catch {
    try { forget(); } catch { /* nothing was kept then */ }
    return keepCopy(about, job); // there may be room for one but not for two
  }
}

/** The job of a safety copy, or null. */
export function copiedJob(id) {
  try {
    const pieces = jobKeys(read(id) ?? { id }).map((k) => localStorage.getItem(k));
    return pieces.includes(null) ? null : pieces.join("");
  } catch { return null; }
}

/** Forgets a safety copy, and what was left of one that did not come to its end. */
export function dropCopy(id) {
  writing++;
  try {
    localStorage.removeItem(prefix + id + ":about");
    sweep(id, []);
  } catch { /* nothing was kept then */ }
}

/** The job this tab had open last, for reloading. */
export const lastId = () => { try { return sessionStorage.getItem(prefix + "open"); } catch { return null; } };
export const setLastId = (id) => { try { sessionStorage.setItem(prefix + "open", id); } catch { /* a reload shows the list instead */ } };

// Which tabs have a job open: each says so every few seconds in the storage they share. Where there is none, nobody warns.
const tab = Math.random().toString(36).slice(2);
let beat = 0;
let told = null;
let lastTold = false;
const here = (id) => prefix + id + ":tab:" + tab;

function others(id) {
  let found = false;
  try {
    for (let i = localStorage.length - 1; i >= 0; i--) {
      const key = localStorage.key(i);
      if (!key.startsWith(prefix + id + ":tab:") || key === here(id)) continue;
      if (Date.now() - Number(localStorage.getItem(key)) < 15_000) found = true;
      else localStorage.removeItem(key);
    }
  } catch { /* no storage */ }
  return found;
}

/** Says that this tab has a job open, and tells when another tab has it too, or not any more. */
export function present(id, tell) {
  leaveJob();
  lastTold = false;
  const look = () => {
    try { localStorage.setItem(here(id), String(Date.now())); } catch { return; }
    const now = others(id);
    if (now !== lastTold) {
      lastTold = now;
      told?.(now);
    }
  };
  told = tell;
  leaving = () => { try { localStorage.removeItem(here(id)); } catch { /* nothing there */ } };
  setTimeout(look, 300);
  beat = setInterval(look, 5000);
  watch = (e) => { if (e.key?.startsWith(prefix + id + ":tab:")) look(); };
  addEventListener("storage", watch);
  addEventListener("pagehide", leaving);
}
let leaving = null;
let watch = null;
function leaveJob() {
  clearInterval(beat);
  leaving?.();
  if (watch) removeEventListener("storage", watch);
  if (leaving) removeEventListener("pagehide", leaving);
}
