// What is to be done, as numbered lists: one, or one for each way of doing it under a head of its own.

/** h makes elements; sentences are pairs of kind and text in their order, of which those of the kinds "way" and "do" are taken. */
export function steps(h, sentences) {
  const out = [];
  let list = null;
  for (const [kind, text] of sentences ?? []) {
    if (kind === "way") {
      out.push(h("p", { class: "way" }, text));
      list = null;
    } else if (kind === "do") {
      if (!list) out.push((list = h("ol", {})));
      list.append(h("li", {}, text));
    }
  }
  return out;
}
