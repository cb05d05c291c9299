// What the page says of single feet and of growth: the panel on the sheets Feet and Growth, the drawings beside a machine, rows made for machines.
import { picture as seen, steps } from "./steps.js";
import { fill } from "./texts.js";
import * as T from "texts";

export const feetSheet = 5, growthSheet = 4; // in the order of the program's sheets

/** panel(i) is the content of the panel on the sheets Feet and Growth, null on the others; more(i, width) the folded drawings of a machine; paper(i, width) both
 * for print; bar() brings the buttons above an empty sheet up to date. */
export function feetPanel({ h, ask, act, $, state, view, jump }) {
  const bar = h("div", { id: "makerows", class: "bar", role: "group", "aria-label": T.feet.makeRows, hidden: true });
  $("editbar").after(bar);
  const open = { feet: false, growth: false };

  const picture = (what, width) => {
    const d = h("div", { class: "drawing" });
    d.innerHTML = ask("drawing", what, width)?.svg ?? "";
    return d;
  };

  /** Buttons that make rows for the machines chosen on the Machines sheet, and for all that have none. */
  function makers(f) {
    const make = (which) => () => { act("makeRows", which); view().focus(); };
    const whom = f.chosen?.length ? f.chosen.join("; ") + (f.more ? fill(T.feet.andMore, f.more) : "") : "";
    return [h("span", { class: "quiet" }, state().sheet === feetSheet ? T.feet.fourFeetAMachine : T.feet.fourSupportsAMachine),
      whom && h("button", { type: "button", class: "makes", id: "makerows-chosen", onclick: make("chosen") }, fill(T.feet.makeRowsFor, whom)), " ",
      h("button", { type: "button", class: "makes", id: "makerows-all", onclick: make("all") }, fill(T.feet.makeRowsForOfThe, f.all === 1 ? T.feet.theOneMachine : fill(T.feet.allMachines, f.all)))].filter(Boolean);
  }

  /** What each dial should read cold, as a table. */
  const readings = (f) => (f.wanted?.length ? [h("h3", {}, fill(T.feet.wantedReadingsCold, f.unit)),
    h("table", { class: "wanted", "aria-label": T.feet.wantedReadingsCold2 }, h("thead", {}, h("tr", {}, ...[T.feet.dial, "12", "3", "6", "9"].map((t) => h("th", { scope: "col" }, t)))),
      h("tbody", {}, ...f.wanted.map(([name, ...r]) => h("tr", {}, h("th", { scope: "row" }, name), ...r.map((t) => h("td", {}, t)))))),
    h("p", { class: "quiet" }, T.feet.whatEachDialReadsWhen)] : []);

  const faults = (f) => (f.problems?.length ? [h("h3", {}, T.feet.problemsOfTheseRows), ...f.problems.map((p) => h("p", { class: p.severity === "note" ? "notice" : "hint" },
    h("button", { type: "button", class: "where", onclick: () => jump(p) }, p.where), " " + p.text + (p.hint ? "; " + p.hint : "")))] : []);

  function panel(i) {
    const feet = state().sheet === feetSheet;
    if (i.nobody) return [h("p", {}, fill(T.feet.theListOfMachinesHas, i.nobody))];
    if (!feet && state().sheet !== growthSheet) return null;
    const f = ask("feet");
    if (!f?.machine) return [h("p", { class: "quiet" }, T.feet.writeTheNameOfA)];
    const width = Math.max($("panel-row").clientWidth - 30, 280);
    const of = (kind) => (i.sentences ?? []).filter((s) => s[0] === kind).map((s) => s[1]);
    const out = [h("h2", {}, f.machine)];
    const todo = steps(h, i.sentences), does = () => (todo.length ? [h("h3", {}, T.feet.whatToDoInThis), ...seen(h, ask, width), ...todo, ...of("packs").map((t) => h("p", { class: "packs" }, t))] : []);
    const verdict = h("p", { class: "verdict v" + i.verdict }, of("verdict").join(" "));
    if (feet) {
      out.push(h("p", { class: "said" }, f.head ? h("b", {}, fill(T.feet.feet, f.head)) : T.feet.thisMachineHasNoRows, f.why?.[0] ?? ""));
      if (f.head) out.push(picture("feet", width), ...does());
      out.push(h("h3", {}, T.feet.theCoupling), verdict);
    } else {
      out.push(verdict);
      if (i.growth) out.push(picture("growth", width));
      else out.push(h("p", { class: "said" }, T.feet.noGrowthIsWorkedOut));
      out.push(...readings(f));
      if (f.growth.length) out.push(h("h3", {}, T.feet.fromColdToRunning), h("ul", {}, ...f.growth.map((t) => h("li", {}, t))));
      out.push(...does());
    }
    out.push(...faults(f));
    if (state().rows > 0 && f.all > 0) out.push(h("h3", {}, T.feet.furtherMachines), h("p", {}, ...makers(f)));
    const cautions = of("caution");
    if (cautions.length) out.push(h("h3", {}, T.feet.cautions), ...cautions.map((t) => h("p", { class: "caution" }, t)));
    return out;
  }

  /** The drawings of feet and growth of a machine that has them, folded: drawn when they are opened. */
  function more(i, width) {
    return [["rounds", T.feet.rounds], ["feet", T.feet.feet2], ["growth", T.feet.growth]].filter(([what]) => i[what]).map(([what, title]) => {
      const el = h("details", { class: "plots", "data-what": what }, h("summary", {}, title));
      const fill = () => {
        if (!el.open || el.childElementCount > 1) return;
        el.append(picture(what, width));
        if (what === "growth") el.append(...readings(ask("feet") ?? {}));
      };
      el.open = open[what];
      fill();
      el.addEventListener("toggle", () => { open[what] = el.open; fill(); });
      return el;
    });
  }

  function paper(i, width) {
    const out = [];
    if (i.feet) out.push(picture("feet", width));
    if (i.growth) out.push(picture("growth", width), ...readings(ask("feet") ?? {}));
    return out;
  }

  function rows() {
    const own = state().sheet === feetSheet || state().sheet === growthSheet;
    const f = own ? ask("feet") : null;
    const show = !!f && f.all > 0 && state().rows === 0;
    const focused = bar.contains(document.activeElement);
    bar.hidden = !show;
    if (show) bar.replaceChildren(...makers(f));
    if (focused) view().focus();
  }

  return { panel, more, paper, bar: rows };
}
