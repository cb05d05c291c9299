// Texts with values in them. The words stand in internal/words/catalogue.txt; the scripts import as "texts" what cmd/pagebuild makes of it
// in the language of the page.

/** A text with {0}, {1} … replaced by the values. */
export const fill = (text, ...values) => text.replace(/\{(\d+)\}/g, (_, i) => values[i]);
