// The choice between several states of one job, and the list of earlier copies under Job. What is not chosen stays.
import { forget, keptUntil, note } from "./keep.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** hooks: h, $, n, plural, when, ask, say of the page; restore(line, apart) opens a copy; lines() tells of all; bring(line) hands one to
 * the program to compare; mine() is the line of the job on the page, job() its id; refresh() is called when a copy is forgotten; back()
 * leads the keyboard to the sheet. @param {Hooks} hooks */
export function copyChoice(hooks) {
  const { h, $, n, plural, when, ask, restore, say, lines, mine, job, bring, refresh, back } = hooks;
  const dialog = $("dlg-copies");
  let waits = false; // for an answer: nothing closes the dialog before
  dialog.addEventListener("cancel", (e) => { if (waits) e.preventDefault(); });
  dialog.addEventListener("keydown", (e) => { if (waits && e.key === "Escape") e.preventDefault(); });
  dialog.addEventListener("close", () => { if (waits) dialog.showModal(); }); // some browsers close it at the second Escape

  /** Who made a copy, when, and how far a file has it: sentences. */
  function facts(c) {
    const who = c.open ? T.copies.inAnotherTab : c.line === mine() ? T.copies.inThisTab : T.copies.inAnEarlierSitting;
    const out = [fill(T.copies.changedFrom, when(c.changed), plural(c.changes, T.copies.changes), who, when(c.began))];
    out.push(c.from ? fill(T.copies.begunWith, c.from, c.opened ? fill(T.copies.savedThen, when(c.opened)) : "")
      : T.copies.begunWithoutAFile);
    out.push(c.handed ? T.copies.itWasHanded : T.copies.noFileHasIt);
    if (c.aside) out.push(fill(T.copies.keptUntil, keptUntil(c).toLocaleDateString(T.locale, { dateStyle: "medium" })));
    return out.join(" ");
  }

  /** What sets two states apart, counted and row by row: two elements. a and b are what the two are called. */
  function difference(d, a, b) {
    const counts = [d.changed && count(d.changed, T.copies.rowsDiffer, plural(d.cells, T.copies.texts)),
      d.onlyA && count(d.onlyA, T.copies.rowsOnly, a), d.onlyB && count(d.onlyB, T.copies.rowsOnly, b)].filter(Boolean);
    if (!counts.length) return [h("p", {}, T.copies.noDifference)];
    const line = ([sheet, rowA, rowB, name, column, x, y]) =>
      h("tr", {}, h("td", {}, sheet), h("td", {}, rowA || rowB), h("td", {}, name), h("td", {}, column || T.copies.theWholeRow),
      h("td", {}, rowA ? x || T.copies.blank : T.copies.notThere), h("td", {}, rowB ? y || T.copies.blank : T.copies.notThere));
    const box = h("details", {}, h("summary", {}, T.copies.rowByRow),
      h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": T.copies.rowByRow },
      h("table", { class: "list" }, h("thead", {}, h("tr", {},
        ...[T.copies.sheet, T.copies.row, T.copies.name, T.copies.column, upper(a), upper(b)].map((t) => h("th", { scope: "col" }, t)))),
        h("tbody", {}, ...d.list.map(line)))),
      d.list.length < d.cells + d.onlyA + d.onlyB ? h("p", { class: "quiet" }, fill(T.copies.theFirstAreShown, n(d.list.length))) : "");
    box.open = d.list.length <= 12;
    return [h("p", { class: "differ" }, counts.join("; ") + "."), box];
  }
  const count = (k, /** @type {string[]} */ [one, many], what) => fill(k === 1 ? one : many, n(k), what);
  const upper = (t) => t[0].toUpperCase() + t.slice(1);

  function shut() {
    waits = false;
    dialog.close();
  }

  function open(title, ...children) {
    $("copies-title").textContent = title;
    $("copies-body").replaceChildren(...children);
    $("copies-foot").hidden = waits;
    if (!dialog.open) dialog.showModal();
    $("copies-body").scrollTop = 0;
  }

  /** Asks which of several states to go on with. file: {name, state} of what was opened, which is on the page; others: [{about,
   * differences, broken}]. */
  function choose(file, others) {
    waits = true;
    const aside = (but) => Promise.all(others.filter((o) => o !== but && !o.about.open)
      .map((o) => note(o.about.line, { aside: new Date().toISOString() })));
    const s = file.state;
    const take = async (o) => {
      shut();
      await aside(o);
      if (o) await restore(o.about.line, o.about.open ? "beside" : "");
      else say(fill(T.copies.goingOnWithTheFile, file.name));
      back();
    };
    const card = (title, text, more, label, o) => h("section", { class: "state" }, h("h3", {}, title), h("p", {}, text),
      ...more.slice(0, 1), h("p", {}, h("button", { type: "button", onclick: () => take(o) }, label)), ...more.slice(1));
    open(s.name ? fill(T.copies.thereAreSeveral, s.name) : T.copies.thereAreSeveralStates,
      h("p", { class: "lead" }, fill(T.copies.whatYouDoNotChoose, plural(others.length, T.copies.states))),
      card(fill(T.copies.theFile, file.name),
        s.savedAt ? fill(T.copies.revisionSaved, n(s.revision), when(s.savedAt), plural(s.machines, T.copies.rows))
          : plural(s.machines, T.copies.rows), [], T.copies.goOnWithTheFile, null),
      ...others.map((o) => card(fill(o.about.open ? T.copies.theOtherTab : T.copies.theCopy, when(o.about.changed)),
        facts(o.about) + (o.broken ? T.copies.itsEndIsMissing : ""),
        difference(o.differences, T.copies.inTheFile, o.about.open ? T.copies.inTheOtherTab : T.copies.inTheCopy),
          o.about.open ? T.copies.takeTheOther : T.copies.goOnWithTheCopy, o)));
    $("copies-body").focus(); // no button: a key that was meant for the sheet chooses nothing
  }

  /** The copies as a list with what can be done with each. */
  function list(all) {
    return h("ul", { class: "copies" }, ...all.map((c) => {
      const revision = c.revision ? fill(T.page.revision, n(c.revision)) : "";
      const label = `${c.name || T.page.jobWithoutAName}${revision}, ${plural(c.rows, T.copies.rows)}`;
      const what = h("div", {});
      const compare = async () => {
        if (!await bring(c.line)) return what.replaceChildren(h("p", {}, T.copies.cannotBeRead));
        const d = ask("copyCompare", 400);
        if (d) what.replaceChildren(...difference(d, T.copies.onThePage, T.copies.inTheCopy));
      };
      const drop = async () => {
        if (!c.handed && !confirm(fill(T.copies.reallyForget, label))) return;
        await forget(c.line);
        if (dialog.open) show();
        refresh();
      };
      return h("li", {}, h("b", {}, label), h("p", {}, facts(c)),
        h("p", {}, h("button", { type: "button", "aria-label": fill(T.copies.openThis, label), onclick: () => take(c) }, T.copies.open),
          " ",
          c.job === job() ? h("button", { type: "button", onclick: compare }, T.copies.differences) : "", " ",
          c.open ? "" : h("button", { type: "button", "aria-label": fill(T.copies.forgetThis, label), onclick: drop }, T.copies.forget)),
            what);
    }));
  }

  async function take(c) {
    if (dialog.open) dialog.close();
    await restore(c.line, c.open ? "beside" : c.aside || c.handed ? "copy" : "");
  }

  /** Shows the copies that there are, those of the job on the page first. */
  async function show() {
    const all = (await lines()).filter((c) => c.line !== mine());
    const own = all.filter((c) => c.job === job()), rest = all.filter((c) => c.job !== job());
    open(T.copies.earlierCopies, h("p", { class: "lead" }, all.length ? T.copies.keptInThisBrowser : T.copies.thereIsNone),
      own.length ? h("h3", {}, T.copies.ofThisJob) : "", own.length ? list(own) : "",
        rest.length ? h("h3", {}, T.copies.ofOtherJobs) : "", rest.length ? list(rest) : "");
  }

  return { ask: choose, list, show };
}
