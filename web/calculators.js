// Small calculations beside the sheet: one set of values in a form, many pasted at once.
import { toClipboard, csvFile, chooser } from "./clip.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "Calculators". */
export function calculatorsScreen({ h, ask, say, $, plural, n }) {
  const root = $("screen-calc");
  const typed = new Map(); // by calculator: its cells
  const pasted = new Map(); // by calculator: the rows pasted
  let list = null;
  let key = "";
  let c = null; // the calculator shown
  let outputs, loose, batch, fields = [];
  let timer = 0;

  const cells = () => typed.get(key) ?? typed.set(key, c.inputs.map(() => "")).get(key);
  const packed = () => cells().map((s) => s.replaceAll("\u001f", " ")).join("\u001f");

  function build() {
    root.tabIndex = -1;
    list ??= ask("calcs")?.list;
    if (!list) return;
    key ||= list[0].key;
    c = ask("calc", key);
    if (!c) return;
    fields = c.inputs.map(field);
    outputs = h("div", { class: "calc-out", role: "region", "aria-live": "polite", "aria-label": T.calculators.result });
    loose = h("div", {});
    batch = many();
    const figure = h("div", { class: "drawing calc-fig" });
    figure.innerHTML = c.svg;
    root.replaceChildren(h("div", { class: "look-two" },
      h("div", { class: "look-side" }, ...chooser(h, T.calculators.calculators, list.map((x) => [x.key, x.title]), key, (k) => {
        key = k;
        say("");
        build();
        root.querySelector(`nav [data-key="${k}"]`)?.focus();
        root.scrollTop = 0;
      })),
      h("div", { class: "look-main" },
        h("h2", {}, c.title), h("p", { class: "about" }, c.about),
        h("div", { class: "calc-two" },
          h("form", { class: "calc-form", "aria-label": c.title }, ...fields.map((f) => f.el), h("p", {}, h("button", { type: "button", onclick: () => enter(c.inputs.map(() => "")) }, T.calculators.clearTheFields))),
          h("div", {}, loose, outputs,
            h("div", { class: "calc-check" }, h("h3", {}, T.calculators.checkedAgainst), h("p", {}, c.check), h("p", {}, h("button", { type: "button", onclick: example }, T.calculators.fillInTheExample))), figure)),
        h("dl", { class: "calc-words" }, h("dt", {}, T.calculators.formula), h("dd", {}, c.formula), h("dt", {}, T.calculators.source), h("dd", {}, c.source)),
        ...c.cautions.map((t) => h("p", { class: "caution" }, t)),
        batch.el)));
    root.querySelector("form").addEventListener("submit", (e) => e.preventDefault());
    work();
    batch.work();
  }

  function field(f, i) {
    const id = "calc-" + i;
    const normally = f.default ? fill(T.calculators.blank, f.default) : "";
    let input;
    if (f.choices.length) {
      input = h("select", { id }, h("option", { value: "" }, normally || T.calculators.notChosen), ...f.choices.map((w) => h("option", { value: w, selected: cells()[i] === w }, w)));
    } else input = h("input", { id, value: cells()[i], placeholder: normally, autocomplete: "off", spellcheck: "false" });
    input.setAttribute("aria-describedby", `${id}-help ${id}-said`);
    input.addEventListener("input", () => { cells()[i] = input.value; work(); batch.soon(); });
    const said = h("p", { id: id + "-said", class: "meaning" });
    return { input, said, el: h("div", { class: "calc-field" }, h("label", { for: id }, f.title, " ", h("small", {}, [f.unit, f.required ? T.calculators.needed : ""].filter(Boolean).join(", "))), input, h("p", { id: id + "-help", class: "quiet" }, f.help), said) };
  }

  function enter(values) {
    typed.set(key, values.slice());
    fields.forEach((f, i) => { f.input.value = values[i]; });
    work();
    batch.work();
  }
  function example() {
    enter(c.example);
    say(T.calculators.theWorkedExampleIsFilled);
  }

  const words = (p) => p.text + (p.hint ? "; " + p.hint : "");

  function work() {
    const r = ask("calcRow", key, packed());
    if (!r) return;
    fields.forEach((f, i) => {
      const wrong = r.problems.filter((p) => p.col === i);
      const bad = wrong.some((p) => p.severity === "error") && f.input.value.trim() !== "";
      f.said.className = bad ? "hint" : wrong.length ? "notice" : "meaning";
      f.said.textContent = wrong.length ? wrong.map(words).join(". ") : r.meanings[i];
      if (bad) f.input.setAttribute("aria-invalid", "true");
      else f.input.removeAttribute("aria-invalid");
    });
    loose.replaceChildren(...r.problems.filter((p) => p.col < 0).map((p) => h("p", { class: "notice" }, words(p))));
    const some = r.outputs.some((t) => t);
    if (!some) return outputs.replaceChildren(h("p", { class: "quiet" }, T.calculators.theResultStandsHereAs));
    const many = key === "convert" && r.outputs[0].includes("; ") ? r.outputs.map((t) => t.split("; ")) : null;
    outputs.replaceChildren(many
      ? h("table", {}, h("caption", {}, fill(T.calculators.as, r.outputs[2])), h("thead", {}, h("tr", {}, ...c.outputs.slice(0, 2).map((o) => h("th", { scope: "col" }, o.title)))), h("tbody", {}, ...many[0].map((t, i) => h("tr", {}, h("td", {}, t), h("td", {}, many[1][i] ?? "")))))
      : h("table", {}, h("caption", { class: "aside" }, T.calculators.result), h("tbody", {}, ...c.outputs.map((o, i) => (r.outputs[i] ? h("tr", { title: o.help || null }, h("th", { scope: "row" }, o.title), h("td", {}, r.outputs[i])) : "")).filter(Boolean))));
  }

  /** Many rows at once. */
  function many() {
    const box = h("textarea", { id: "calc-rows", rows: "5", spellcheck: "false", wrap: "off", "aria-describedby": "calc-rows-help" });
    box.value = pasted.get(key) ?? "";
    const out = h("div", { class: "calc-many" });
    const told = h("p", { role: "status" });
    const args = () => [key, packed(), box.value];
    const workAll = () => {
      clearTimeout(timer);
      timer = 0;
      pasted.set(key, box.value);
      const b = ask("calcBatch", ...args());
      if (!b) return;
      if (!b.total) {
        told.textContent = "";
        out.replaceChildren();
        return;
      }
      told.textContent = fill(T.calculators.ofWorkedOut, n(b.done), plural(b.total, T.calculators.rows), b.bad ? fill(T.calculators.withAProblem, n(b.bad)) : "", b.rows.length < b.total ? fill(T.calculators.theFirstAreShownAll, n(b.rows.length)) : ".");
      const where = (p) => [p.row ? fill(T.calculators.row, p.row) : "", p.column].filter(Boolean).join(", ");
      out.replaceChildren(
        h("p", { class: "bar" }, h("button", { type: "button", class: "main", onclick: () => { const t = ask("calcText", ...args()); if (t) say(toClipboard(t.text, t.html) ? fill(T.calculators.withTheResultsOnThe, plural(t.rows, T.calculators.rows)) : T.calculators.theBrowserDidNotLet); } }, T.calculators.copyForAWorkbook),
          h("button", { type: "button", onclick: () => { const t = ask("calcText", ...args()); if (t) csvFile(`shimsheet-${key.replace(/_/g, "-")}.csv`, t.csv, say); } }, T.calculators.saveAsCsv)),
        b.problems.length ? h("ul", { class: "calc-problems", "aria-label": T.calculators.problems }, ...b.problems.map((p) => h("li", { class: p.severity }, h("b", {}, where(p) ? where(p) + ": " : ""), words(p)))) : "",
        h("div", { class: "look-table", tabindex: "0", role: "region", "aria-label": T.calculators.resultsOfTheRows }, h("table", {}, h("caption", { class: "aside" }, T.calculators.resultsOfTheRows),
          h("thead", {}, h("tr", {}, h("th", { scope: "col" }, T.calculators.row2), ...b.header.map((t, i) => h("th", { scope: "col", class: i >= b.typed ? "result" : null }, t)))),
          h("tbody", {}, ...b.rows.map((r) => h("tr", { class: r.ok ? null : "bad" }, h("th", { scope: "row" }, r.row), ...r.cells.map((t, i) => h("td", { class: i >= b.typed ? "result" : null }, t))))))));
    };
    const soon = () => { clearTimeout(timer); timer = setTimeout(workAll, 120); };
    box.addEventListener("input", soon);
    const el = h("section", { class: "calc-batch", "aria-labelledby": "calc-rows-title" }, h("h3", { id: "calc-rows-title" }, T.calculators.forManyAtOnce),
      h("p", { id: "calc-rows-help", class: "quiet" }, fill(T.calculators.pasteRowsFromAWorkbook, c.inputs.map((i) => i.title).join(", "))),
      h("p", {}, h("button", { type: "button", onclick: () => { if (toClipboard(c.header)) say(T.calculators.theHeaderRowIsOn); } }, T.calculators.copyTheHeaderRow)),
      h("label", { for: "calc-rows" }, T.calculators.rows2), box, told, out);
    return { el, work: workAll, soon };
  }

  return {
    side: false,
    show() {
      build();
      (fields[0]?.input ?? root).focus();
    },
    hide() { if (timer) batch.work(); },
    update(s) { if (s.changed && c && !root.contains(document.activeElement)) build(); },
  };
}
