// The program that is written as changes to another. cmd/pagebuild tells the form (foresee.go, delta.go) and reads it in the same way. Both
// have come through gzip, which holds them to their sums.

const call = 0x10, constant = 0x42, own = 0xff; // operations
const first = 0x1000; // what functions are counted from in their addresses
/** What an operation takes: so many bytes at least, and 16 if its last number may be longer; or one of these. */
const table = 32, prefix = 33, edited = 34;
const shapes = new Uint8Array(256).fill(1);
for (const [from, to, shape] of [[2, 4, 18], [12, 13, 18], [14, 14, table], [16, 16, edited], [17, 17, 19], [32, 38, 18], [40, 62, 19],
  [63, 64, 18], [65, 66, edited], [67, 67, 5], [68, 68, 9], [252, 252, prefix], [own, own, edited]]) shapes.fill(shape, from, to + 1);

/** Reads numbers: unsigned and signed ones as WebAssembly has them, and steps, whose lowest bit is the sign. */
export class Reader {
  constructor(/** @type {Uint8Array} */ bytes, at = 0) {
    this.bytes = bytes;
    this.at = at;
    this.size = 1; // one more than the last number could be
  }
  number() {
    let v = 0;
    for (let m = 1; ; m *= 128) {
      const b = this.bytes[this.at++];
      v += (b & 127) * m;
      if (b > 127) continue;
      this.size = m * 128;
      return v;
    }
  }
  signed() {
    const v = this.number();
    return v * 2 < this.size ? v : v - this.size;
  }
  step() {
    const v = this.number();
    return v % 2 ? -(v + 1) / 2 : v / 2;
  }
}

/** Where the contents of a section begin and end. */
function section(bytes, id) {
  for (const r = new Reader(bytes, 8); r.at < bytes.length;) {
    const found = bytes[r.at++], end = r.number() + r.at;
    if (found === id) return { at: r.at, end };
    r.at = end;
  }
  return { at: 0, end: 0 };
}

/** Writes a length into so many bytes. */
function length(out, at, v, width) {
  for (; width--; v >>= 7) out[at++] = v & 127 | (width ? 128 : 0);
}

/** Where the next operation begins whose number may be put otherwise; those of one byte never are. */
function next(bytes, at, end) {
  while (at < end) {
    const op = bytes[at], shape = shapes[op];
    if (shape < 16) at += shape;
    else if (shape < 32) for (at += shape - 16; bytes[at - 1] > 127;) at++;
    else if (shape === edited) {
      if (bytes[at + 1] > 127 || op === own) return at;
      at += 2;
    } else if (shape === prefix) at += bytes[at + 1] < 8 ? 2 : bytes[at + 1] === 10 ? 4 : 3; // memory copied, or filled
    else {
      const r = new Reader(bytes, at + 1);
      for (let n = r.number(); n >= 0 && r.at < end; n--) r.number();
      at = r.at;
    }
  }
  return end;
}

/** Copies a function, the one of that address, with numbers put otherwise, and its places in itself written as steps, or back. */
function copied(bytes, at, end, out, to, address, moved) {
  let done = at, last = 0;
  for (let n = bytes[at++]; n > 0; n--) { // locals
    while (bytes[at++] > 127);
    at++;
  }
  while ((at = next(bytes, at, end)) < end) {
    const before = at, op = bytes[at++];
    let v = 0, bits = 0, b, is, like = op;
    do {
      b = bytes[at++];
      v |= (b & 127) << bits;
      bits += 7;
    } while (b > 127);
    if (op === own) {
      last += bits < 32 ? v << 32 - bits >> 32 - bits : v;
      is = address + last;
      like = constant;
    } else if (bits > 35 || v < 0 || b > (bits < 35 ? 63 : 7)) continue;
    else if (op === constant && v >> 16 === address >> 16) {
      is = v - address - last;
      last += is;
      like = own;
    } else if ((is = moved(op, v)) === v) continue;
    while (done < before) out[to++] = bytes[done++];
    out[to++] = like;
    for (; is < -64 || is > 63; is >>= 7) out[to++] = is & 127 | 128;
    out[to++] = is & 127;
    done = at;
  }
  while (done < end) out[to++] = bytes[done++];
  return to;
}

/** A copy of a program, each function copied so. */
function rewritten(bytes, moved = (/** @type {number} */ _op, /** @type {number} */ v) => v) {
  const out = new Uint8Array(bytes.length * 3); // two bytes become six at most
  const code = section(bytes, 10), r = new Reader(bytes, code.at);
  r.number();
  let to = r.at;
  out.set(bytes.subarray(0, to));
  for (let address = first * 65536; r.at < code.end; address += 65536) {
    const size = r.number(), end = Math.min(r.at + size, code.end), begin = to + 4;
    const n = copied(bytes, r.at, end, out, begin, address, moved) - begin;
    const width = n < 2 ** 7 ? 1 : n < 2 ** 14 ? 2 : n < 2 ** 21 ? 3 : 4;
    length(out, to, n, width);
    out.copyWithin(to + width, begin, begin + n);
    to += width + n;
    r.at = end;
  }
  length(out, code.at - 5, to - code.at, 5);
  out.set(bytes.subarray(r.at), to);
  return out.subarray(0, to + bytes.length - r.at);
}

/** The first program as far as the other can be told from it by the foresight that r stands before. */
function foreseen(program, r) {
  const runs = () => {
    const n = Math.min(r.number(), r.bytes.length), starts = new Int32Array(n), shifts = new Int32Array(n);
    for (let i = 0; i < n; i++) {
      starts[i] = r.step() + (starts[i - 1] ?? 0);
      shifts[i] = r.step() + (shifts[i - 1] ?? 0);
    }
    return (v) => { // the last start that is not behind it
      let low = 0;
      for (let high = n; low < high;) {
        const mid = low + high >> 1;
        if (starts[mid] > v) high = mid;
        else low = mid + 1;
      }
      return low ? v + shifts[low - 1] : v;
    };
  };
  const called = runs(), lies = runs(), tables = r.step(), tail = r.step();
  const imports = new Reader(program, section(program, 2).at).number(), count = new Reader(program, section(program, 10).at).number();
  const moved = (op, v) => {
    if (op === call) return v < imports ? v : called(v - imports) + imports;
    const n = (v >> 16) - first;
    return n >= 0 && n < count ? v + (called(n) - n) * 65536 : lies(v);
  };
  const out = rewritten(program, moved);
  const data = new Reader(out, section(out, 11).at + 3), base = data.signed(), size = data.at++ && data.number();
  const memory = new DataView(out.buffer, data.at, size), end = base + size;
  const word = (at) => memory.getUint32(at - base, true), put = (at, v) => memory.setUint32(at - base, v, true);
  const offset = (at, from, unit = 1) => {
    const v = word(at);
    if (v && v < 2 ** 32 - 1) put(at, Math.trunc((lies(from + v * unit) - lies(from)) / unit));
  };
  // Go's records of functions.
  const [names, files, lines, records] = [32, 40, 56, 64].map((i) => tables + word(tables + i));
  for (let i = 0, functions = word(tables + 8); i < functions; i++) {
    const entry = records + 8 * i, at = records + word(entry + 4), more = word(at + 28), last = memory.getUint8(at + 43 - base);
    put(entry, called(i) * 65536);
    offset(entry + 4, records);
    put(at, called(i) * 65536);
    offset(at + 4, names);
    offset(at + 32, files, 4);
    for (let k = 16; k < 28; k += 4) offset(at + k, lines);
    for (let k = 0; k < more; k++) offset(at + 44 + 4 * k, lines);
    for (let k = 0; k < last; k++) offset(at + 44 + 4 * (more + k), tail);
  }
  // Pointers.
  for (let at = base + 7 & ~7; at + 8 <= end; at += 8) {
    const low = word(at);
    if (low && !word(at + 4) && (at < records || at >= tail)) put(at, moved(constant, low));
  }
  return out;
}

/** What the changes that r stands before make of a program. */
export function patched(from, r) {
  const changes = r.bytes, program = new Uint8Array(r.number());
  const sizes = [r.number(), r.number(), r.number(), r.number()];
  const [lengths, steps, diffs, extras] = sizes.map((_, i) => new Reader(changes, sizes.slice(0, i).reduce((a, b) => a + b, r.at)));
  let at = 0, out = 0, diff = diffs.at;
  for (const end = Math.min(steps.at, changes.length); lengths.at < end;) {
    const ahead = lengths.number(), fresh = lengths.number();
    program.set(from.subarray(at, at + ahead), out);
    at += ahead + steps.step();
    for (const stop = Math.min(out + ahead, program.length); out < stop; out++) {
      const d = changes[diff++];
      if (d) program[out] += d;
    }
    program.set(changes.subarray(extras.at, extras.at + fresh), out);
    out += fresh;
    extras.at += fresh;
  }
  return program;
}

/** The program that is written as changes to another. */
export function changed(base, changes) {
  const r = new Reader(changes);
  return rewritten(patched(foreseen(base, r), r));
}
