// Saving: the page as a file with the job inside, and other files.
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
export const complete = () => (document.readyState === "loading"
  ? new Promise((r) => document.addEventListener("DOMContentLoaded", r, { once: true })) : Promise.resolve());

/** The job in the page, "null" for none. Read before anything else touches the page. */
export const jobInPage = () => document.getElementById("job").textContent.trim();

/** The digest at the end of a job's text, by which the list beside it is known to be its own. */
export const digestOf = (job) => /"sha256":"([0-9a-f]{64})"}$/.exec(job.slice(-80))?.[1] ?? "";

/** The page was read to its end. */
export const ended = () => !!document.getElementById("part-end");

/** What of the page is not as it was built: names of parts, "end" when it is cut short; [] if it is whole. Waits until all there is of it
 * has been read. */
export const damage = () => (looked ??= (async () => {
  await complete();
  if (!ended()) return ["end"];
  const sums = JSON.parse(part("manifest")), bad = [];
  for (const [name, sum] of Object.entries(sums)) {
    const text = name === "wasm" || name === "workbook"
      ? Array.from(document.getElementsByClassName("part-" + name), (e) => e.textContent).join("") : part(name);
    const digest = await globalThis.crypto?.subtle?.digest("SHA-256", new TextEncoder().encode(text));
    if (digest && Array.from(new Uint8Array(digest), (b) => b.toString(16).padStart(2, "0")).join("") !== sum) bad.push(name);
  }
  return bad;
})().catch(() => ["manifest"]));
let looked = null;

const escapeText = (s) => s.replace(/&/g, "&amp;").replace(/</g, "&lt;");

/** The whole page with a job inside, from the parts it was built from, filled in the same way as cmd/pagebuild does: a list of texts to be
 * put one behind the other. The page as it stands on the screen has no say in it. first is the list as it is shown before the program is
 * up, of this job (digestOf). The page must be complete. */
export function savedPage(job, title, first) {
  const pieces = (elements, between) => Array.from(elements, (e, i) => [i ? between : "", e.textContent]).flat();
  const parts = {
    TITLE: escapeText(title), STYLE: part("style"), BODY: part("body"), SKELETON: part("skeleton"), FIRST: first,
      JOB: job.replace(/</g, "\\u003c"), MANIFEST: part("manifest"), DEMO: part("demo"), LICENCES: part("licences"),
    WASM: pieces(wasmElements(), pieceBreak), APP: part("app"), WORKER: part("worker"),
      WORKBOOK: pieces(workbookElements(), workbookPieceBreak),
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

/** A file name out of the job's name, revision and the time now. */
export function fileName(job, revision, ending) {
  const when = new Date();
  const two = (n) => String(n).padStart(2, "0");
  const stamp = `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}-${two(when.getHours())}${two(when.getMinutes())}`;
  const name = (job || T.files.shimsheetJob).normalize("NFKC").replace(/[\\/:*?"<>|\u0000-\u001f]+/g, " ").trim()
    .replace(/\s+/g, "-").slice(0, 60) || "shimsheet-job";
  return `${name}-rev${revision}-${stamp}.${ending}`;
}
