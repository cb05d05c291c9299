// Rows of texts as one text, for handing them between the programs: U+001F ends a cell, U+001E a row. A cell that holds one of them, or
// U+001B, has U+001B and a letter instead. rows.go in cmd/wasm/page does the same.

const special = /[\u001b\u001e\u001f]/;

export function packRows(rows) {
  let out = "";
  for (const r of rows) {
    for (const c of r) out += (special.test(c) ? c.replace(/\u001b/g, "\u001be").replace(/\u001e/g, "\u001br").replace(/\u001f/g, "\u001bc") : c) + "\u001f";
    out += "\u001e";
  }
  return out;
}

export function unpackRows(text) {
  const plain = !text.includes("\u001b");
  return text.split("\u001e").slice(0, -1).map((r) => {
    const cells = r.split("\u001f").slice(0, -1);
    return plain ? cells : cells.map((c) => c.replace(/\u001b(.)/g, (_, x) => ({ e: "\u001b", r: "\u001e", c: "\u001f" })[x]));
  });
}
