// What is to be done: a picture that is seen before it is read, then numbered lists, one, or one for each way of doing it under a head of its own.

/** The picture of what to do at the chosen machine's feet, as wide as its place; none where there is nothing to do. */
export function picture(h, ask, width) {
  const svg = ask("drawing", "todo", Math.min(width, 640))?.svg;
  if (!svg) return [];
  const d = h("div", { class: "drawing todo" });
  d.innerHTML = svg;
  return [d];
}

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
