// Pasting: a block that brings its own header row goes into a filled sheet by the meaning of its columns, and is shown before it is taken,
// as is a block that writes over much.

import { fill } from "./texts.js";
import * as T from "texts";

/** Returns paste, which takes a clipboard text, and plan, which shows or does what was planned. match() is the matching of columns.
 * @param {Hooks} hooks */
export function pasting({ h, ask, act, say, $, view, plural, n, state, match }) {
  const dialog = $("dlg-paste");
  const done = (s) => {
    view().focus();
    if (s?.changed && !s.note) say(fill(T.paste.doneCtrlZTakesIt, s.undo));
  };
  let then = null; // after the paste that is shown
  $("paste-take").addEventListener("click", () => {
    dialog.close();
    const s = act("planned");
    done(s);
    if (s?.changed) then?.();
    then = null;
  });

  /** Shows what a paste would do, or does it where it only fills an empty sheet. */
  function plan(p, after) {
    then = after;
    if (p.ok && p.table && !p.fresh) return show(p);
    if (!p.ok) return say(p.note || T.paste.nothingWasPasted);
    const s = act("planned");
    done(s);
    if (s?.changed) after?.();
  }

  function show(p) {
    const what = [];
    if (p.new) what.push(fill(T.paste.putInBelowThoseThat, plural(p.new, T.paste.rowsAre)));
    if (p.over) what.push(fill(T.paste.overThoseThatAreThere, plural(p.over, T.paste.rowsGo)));
    if (p.replaced) what.push(plural(p.replaced, T.paste.cellsGetOtherTexts));
    $("paste-body").replaceChildren(
      h("p", {}, what.join("; ") + "."), p.note ? h("p", {}, p.note) : "",
      p.titles ? h("p", { class: "quiet" }, plural(p.titles, T.paste.linesAboveTheHeaderRow)) : "",
      h("table", {}, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, T.paste.pastedColumn),
        h("th", { scope: "col" }, T.paste.goesTo), h("th", { scope: "col" }, T.paste.understoodAs))),
        h("tbody", {}, ...p.columns.map((c) => h("tr", { class: c.left ? "unread" : null }, h("td", {}, c.pasted || T.paste.noHeader),
          h("td", {}, c.left ? T.paste.leftOut : c.name + (c.new ? T.paste.aNewColumn : "")),
          h("td", {}, c.left ? "" : c.known || T.paste.keptNotRead))))),
      p.samples.length ? h("h3", {}, T.paste.textsThatChange) : "",
      p.samples.length ? h("table", {}, h("thead", {}, h("tr", {},
        ...[T.paste.row, T.paste.column, T.paste.now, T.paste.then].map((t) => h("th", { scope: "col" }, t)))),
        h("tbody", {}, ...p.samples.map((s) => h("tr", {}, h("td", {}, String(s.row)), h("td", {}, s.column), h("td", {}, s.old),
          h("td", {}, s.new))))) : "");
    dialog.showModal();
    $("paste-take").focus();
  }

  const paste = (text) => {
    then = null;
    const m = match().look(text);
    if (m?.need === "ask") return match().open(text, m);
    if (m?.need === "before") {
      const p = ask("matchPlan", text, m.head, "");
      if (p) plan(p, () => say(fill(T.match.before, plural(m.applied, T.match.columnsAre)), T.match.change, () => match().open("")));
      return;
    }
    // Shown first: a block with a header, which goes somewhere else than where it is put, and one that writes over much.
    if (state().columns && state().rows) {
      const p = ask("plan", text);
      if (p?.ok && p.table && !p.fresh) return show(p);
      if (p && !p.ok) return say(p.note || T.paste.nothingWasPasted);
      if (p && p.replaced > 50) return show(p);
      if (p) {
        const s = act("planned");
        done(s);
        if (s?.changed && !s.note && p.replaced) say(fill(T.paste.doneNowCtrlZTakes, s.undo,
          plural(p.replaced, T.paste.cellsHaveOtherTexts)));
        return;
      }
    }
    const s = act("paste", text);
    if (!s) return;
    if (!s.changed && /[\t\n,;]/.test(text.trim())) { // a list with a header of its own words: the person says which column is which
      say(T.paste.theHeaderRowIsNot);
      match().open(text);
      return;
    }
    done(s);
    const own = s.changed ? view().columns.filter((c) => c.group === "Own" && !c.result).map((c) => c.name) : [];
    if (own.length) say(fill(T.paste.doneKeptButNotRead, s.undo, own.slice(0, 4).join(", "),
      own.length > 4 ? fill(T.paste.andMore, own.length - 4) : ""), T.paste.matchTheColumns, () => match().open(""));
  };
  return { paste, plan };
}
