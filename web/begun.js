// Go's program that began when the page was built (cmd/pagebuild/begun.go): its code, and behind it what its memory holds.

/** A number of a module, none below nought, and where it ends, behind all there is if it is not whole. */
function number(bytes, at) {
  let v = 0;
  for (let m = 1; ; m *= 128) {
    const b = bytes[at++];
    v += (b & 127) * m;
    if (!(b >= 128)) return [v, at];
  }
}

/** Where the code of a program ends, 0 where not enough of it is there. */
function codeEnd(program) {
  for (let at = 8; at < program.length;) {
    const id = program[at];
    const [size, from] = number(program, at + 1);
    if (from > program.length) return 0;
    at = from + size;
    if (id === 10) return at;
  }
  return 0;
}

/** The program out of a stream of its bytes: the module is compiled as soon as its code is there, while the data behind it still comes. */
export async function compiling(stream) {
  let all, length = 0, end = 0, module;
  for (const r = stream.getReader(); ;) {
    const { done, value } = await r.read();
    if (done) break;
    all ??= new Uint8Array(20 << 20); // what is not written to costs nothing
    if (length + value.length > all.length) {
      const more = new Uint8Array(2 * all.length);
      more.set(all);
      all = more;
    }
    all.set(value, length);
    length += value.length;
    end ||= codeEnd(all.subarray(0, length));
    if (!module && end && length >= end) {
      module = WebAssembly.compile(all.subarray(0, end));
      module.catch(() => {}); // told to whoever waits for it
    }
  }
  return { module: await module, code: all.subarray(0, length), end };
}

/**
 * Has the program go on from where it was written down; resolves when it has ended. data is what stands behind its code.
 * @param {WebAssembly.Module} module
 * @param {Uint8Array} data
 */
export async function goOn(module, data) {
  const go = new globalThis.Go();
  const { exports } = await WebAssembly.instantiate(module, go.importObject);
  const memory = new Uint8Array(/** @type {WebAssembly.Memory} */ (exports.mem).buffer);
  let at = 1; // behind the number of the section
  const next = () => {
    const [v, end] = number(data, at);
    at = end;
    return v;
  };
  next(); // its length
  for (let n = next(); n > 0; n--) { // pieces: 0, const, where, end, length, bytes
    at += 2;
    const to = next();
    at++;
    const length = next();
    memory.set(data.subarray(at, at + length), to);
    at += length;
  }
  const asked = JSON.parse(new TextDecoder().decode(WebAssembly.Module.customSections(module, "begun")[0]));
  const run = () => {
    for (const [of, name] of asked) { // of the values it asked for when it began, which count on from the loader's own
      const v = Reflect.get(go._values[of], name);
      go._ids.set(v, go._values.length);
      go._goRefCounts.push(Infinity);
      go._values.push(v);
    }
    /** @type {() => void} */ (exports.resume)();
  };
  await go.run(Object.create(WebAssembly.Instance.prototype, { exports: { value: { ...exports, run } } }));
}
