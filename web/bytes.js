// Bytes out of texts and out of streams.

const value = new Uint8Array(128);
for (let c = 33, n = 0; c < 127; c++) if (c !== 38 && c !== 60 && c !== 92) value[c] = n++; // not & < \

/** Bytes out of base 91 as cmd/pagebuild writes it: thirteen bits in two letters, of what is left over six bits or fewer in one. */
export function bytes91(text) {
  const end = text.length - 1;
  const out = new Uint8Array(((end + 1 >> 1) * 13 + (~end & 1) * 6) >> 3);
  let n = 0, bits = 0, have = 0, i = 0;
  for (; i < end; i += 2) {
    bits = bits << 13 | value[text.charCodeAt(i)] * 91 + value[text.charCodeAt(i + 1)];
    have += 5;
    out[n++] = bits >>> have;
    if (have >= 8) out[n++] = bits >>> (have -= 8);
    bits &= (1 << have) - 1;
  }
  if (i === end) out[n] = (bits << 6 | value[text.charCodeAt(i)]) >>> have - 2;
  return out;
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

/** A text that was packed and written in base 91. */
export const unpacked = async (text) => new TextDecoder()
  .decode(await gather(new Blob([bytes91(text)]).stream().pipeThrough(new DecompressionStream("gzip"))));

/** The program that is written as changes to another: see cmd/pagebuild/delta.go. Both have come through gzip, which holds them to their
 * sums. */
export function changed(base, changes) {
  let at = 0;
  const cursor = (start) => ({ at: start });
  const number = (c) => {
    let v = 0;
    for (let m = 1; ; m *= 128) {
      const b = changes[c.at++];
      v += (b & 127) * m;
      if (b < 128) return v;
    }
  };
  const head = cursor(0);
  const program = new Uint8Array(number(head));
  const sizes = [number(head), number(head), number(head), number(head)];
  const [lengths, steps, diffs, extras] = sizes.map((_, i) => cursor(sizes.slice(0, i).reduce((a, b) => a + b, head.at)));
  // The bytes between are most of it: a loop over plain variables is compiled soon.
  let out = 0, d = diffs.at;
  for (const end = steps.at; lengths.at < end;) {
    const ahead = number(lengths), fresh = number(lengths), step = number(steps);
    const stop = out + ahead;
    while (out < stop) program[out++] = base[at++] + changes[d++];
    program.set(changes.subarray(extras.at, extras.at + fresh), out);
    out += fresh;
    extras.at += fresh;
    at += step % 2 ? -(step + 1) / 2 : step / 2;
  }
  return program;
}
