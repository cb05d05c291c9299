// Rows out of one text, as sheet.AppendPacked makes it: U+001F ends a cell, U+001E a row; U+001B with a letter stands for each of the
// three in a cell.

export function unpackRows(text) {
  const plain = !text.includes("\u001b");
  return text.split("\u001e").slice(0, -1).map((r) => {
    const cells = r.split("\u001f").slice(0, -1);
    return plain ? cells : cells.map((c) => c.replace(/\u001b(.)/g, (_, x) => ({ e: "\u001b", r: "\u001e", c: "\u001f" })[x]));
  });
}

const packCell = (c) => String(c).replace(/[\u001b\u001e\u001f]/g, (x) => "\u001b" + { "\u001b": "e", "\u001e": "r", "\u001f": "c" }[x]);
export const packRows = (rows) => rows.map((r) => r.map((c) => packCell(c) + "\u001f").join("") + "\u001e").join("");
