// Go's programs that began when the page was built.

/**
 * Has such a program go on from where it was written down (cmd/pagebuild/begun.go); resolves when it has ended.
 * @param {WebAssembly.Module} module
 */
export async function goOn(module) {
  const go = new globalThis.Go();
  const { exports } = await WebAssembly.instantiate(module, go.importObject);
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
