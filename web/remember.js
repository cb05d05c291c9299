// What was matched in the jobs on this computer, for the next one: packed rows of sheet, header, meaning, the last first.
import { packRows, unpackRows } from "./rows.js";

const key = "shimsheet-headers";

function all() {
  try {
    const list = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(list) ? list.filter((r) => Array.isArray(r) && r.length === 3 && r.every((c) => typeof c === "string")) : [];
  } catch { return []; }
}

export const remembered = () => packRows(all());

/** Keeps for the next job what this one knows. */
export function remember(packed) {
  try {
    const rows = unpackRows(packed), same = (a, b) => a[0] === b[0] && a[1].toLowerCase() === b[1].toLowerCase();
    localStorage.setItem(key, JSON.stringify([...rows, ...all().filter((o) => !rows.some((r) => same(r, o)))].slice(0, 400)));
  } catch { /* the next job asks again */ }
}
