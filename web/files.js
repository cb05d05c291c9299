// Saving: the page as a file with the job inside, other files, and the safety copies in the browser's storage.

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
  const name = (job || "shimsheet job").normalize("NFKC").replace(/[\\/:*?"<>|\u0000-\u001f]+/g, " ").trim().replace(/\s+/g, "-").slice(0, 60) || "shimsheet-job";
  return `${name}-rev${revision}-${stamp}.${ending}`;
}

// Safety copies: two entries a job, a small one that says what it is and the job itself. Chromium keeps one storage for all local
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

/** Keeps a safety copy. Returns "" or why it could not. */
export function keepCopy(about, job) {
  try {
    localStorage.setItem(prefix + about.id + ":job", job);
    localStorage.setItem(prefix + about.id + ":about", JSON.stringify(about));
    return "";
  } catch (e) {
    return e && (e.name === "QuotaExceededError" || e.name === "NS_ERROR_DOM_QUOTA_REACHED")
      ? "The browser's storage is full, so there is no safety copy: save the page often."
      : "The browser keeps no storage for this page, so there is no safety copy: save the page often.";
  }
}

/** The job of a safety copy, or null. */
export function copiedJob(id) {
  try { return localStorage.getItem(prefix + id + ":job"); } catch { return null; }
}

/** Forgets a safety copy. */
export function dropCopy(id) {
  try {
    localStorage.removeItem(prefix + id + ":about");
    localStorage.removeItem(prefix + id + ":job");
  } catch { /* nothing was kept then */ }
}

/** The job this tab had open last, for reloading. */
export const lastId = () => { try { return sessionStorage.getItem(prefix + "open"); } catch { return null; } };
export const setLastId = (id) => { try { sessionStorage.setItem(prefix + "open", id); } catch { /* a reload shows the list instead */ } };
