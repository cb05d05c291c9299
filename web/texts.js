// Texts with values in them. The words stand in texts.en.json, which the scripts import as "texts": cmd/pagebuild says which language that
// is.
import * as T from "texts";

/** A text with {0}, {1} … replaced by the values. */
export const fill = (text, ...values) => text.replace(/\{(\d+)\}/g, (_, i) => values[i]);

/** A number of things as people write it. Small ones look the same in every language this page has; the first that the browser is asked
 * for takes it many milliseconds. */
export const count = (n) => (n >= 0 && n < 1000 ? String(n) : n.toLocaleString(T.locale));

/** The one of a pair that fits a number, the number in it for {0}: ["1 row", "{0} rows"].
 * @param {number} n @param {string[]} pair */
export const plural = (n, [one, many]) => fill(n === 1 ? one : many, count(n));
