// Bytes out of texts and out of streams.

const value = new Uint8Array(128);
for (let i = 33; i < 118; i++) value[i] = i - 33;
[..."vwxy{|}~"].forEach((c, i) => { value[c.charCodeAt(0)] = "<&@$\\\"'`".charCodeAt(i) - 33; });

/** Bytes out of base 85 as cmd/pagebuild writes it: ascii85 with a few letters exchanged. */
export function bytes85(text) {
  const out = new Uint8Array(text.length * 4); // a z stands for four zeros
  let n = 0, word = 0, k = 0;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 122 && k === 0) {
      n += 4;
      continue;
    }
    word = word * 85 + value[c];
    if (++k < 5) continue;
    out[n++] = word / 0x1000000;
    out[n++] = word >>> 16;
    out[n++] = word >>> 8;
    out[n++] = word;
    word = k = 0;
  }
  if (k) {
    for (let i = k; i < 5; i++) word = word * 85 + 84;
    for (let i = 0; i < k - 1; i++) out[n++] = word / 2 ** (24 - 8 * i);
  }
  return out.slice(0, n);
}

/** All of a stream. A reader of our own: handing the stream on as a Response takes longer. */
export async function gather(stream) {
  const pieces = [];
  let length = 0;
  for (const r = stream.getReader(); ;) {
    const { done, value } = await r.read();
    if (done) break;
    pieces.push(value);
    length += value.length;
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const p of pieces) {
    all.set(p, at);
    at += p.length;
  }
  return all;
}
