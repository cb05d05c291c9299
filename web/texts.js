// Texts with values in them. The words stand in texts.en.json, which the scripts import as "texts": cmd/pagebuild says which language that is.
import * as T from "texts";

/** A text with {0}, {1} … replaced by the values. */
export const fill = (text, ...values) => text.replace(/\{(\d+)\}/g, (_, i) => values[i]);

/** The one of a pair that fits a number, the number in it for {0}: ["1 row", "{0} rows"]. */
export const plural = (n, [one, many]) => fill(n === 1 ? one : many, n.toLocaleString(T.locale));
