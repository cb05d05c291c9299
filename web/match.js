// Matching the columns of a list with those of the sheet: what is known by name, what was matched before, what is a guess and is told as
// one, and what somebody has to say. Opens by itself when a pasted list lacks what its rows need.
import { picker } from "./pick.js";
import { packRows, unpackRows } from "./rows.js";
import { fill, plural } from "./texts.js";
import * as T from "texts";

const key = "shimsheet-headers";

/** What was matched in the jobs on this computer: [sheet, header, meaning], the last first. */
export function remembered() {
  try {
    const list = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(list) ? list.filter((r) => Array.isArray(r) && r.length === 3 && r.every((c) => typeof c === "string")) : [];
  } catch { return []; }
}

/** Keeps for the next job what this one knows. */
export function remember(rows) {
  try {
    const same = (a, b) => a[0] === b[0] && a[1].toLowerCase() === b[1].toLowerCase();
    localStorage.setItem(key, JSON.stringify([...rows, ...remembered().filter((o) => !rows.some((r) => same(r, o)))].slice(0, 400)));
  } catch { /* the next job asks again */ }
}

/** hooks: as the page gives them; plan(p, then) shows what a paste would do, or does it. @param {Hooks} hooks */
export function matching({ h, ask, act, say, $, state, back, plan }) {
  const dialog = $("dlg-match"), body = $("match-body"), foot = $("match-foot");
  let text = ""; // "": the sheet at hand
  let about, lines, columns;

  const others = () => packRows(remembered());
  const known = (k) => columns.find((c) => c.key === k);

  function open(list, m) {
    text = list;
    about = m ?? ask("match", text, -1, others());
    if (!about) return;
    if (!text && !about.columns.length) return say(T.match.thereAreNoColumns);
    const wire = ask("columnsToMatch").columns;
    columns = wire.filter((c) => c.on === about.sheet);
    if (!columns.length) return say(T.match.theJobSheetHasRows);
    draw();
    if (!dialog.open) dialog.showModal();
    body.scrollTop = 0;
    (body.querySelector(".shape button") ?? lines.find((l) => l.how === "ask")?.chips?.[0] ?? $("match-take")).focus();
  }

  /** Where a column of the list stands: how it came to its meaning, and which. */
  const line = (c) => ({ c, how: { known: "known", before: "before", guessed: "guess", asked: "ask", unread: "none" }[c.state],
    key: c.key, unit: c.unit });

  function draw() {
    lines = about.columns.map(line);
    const head = h("input", { type: "number", min: "0", max: "200", value: String(about.head), "aria-label": T.match.headerRow });
    head.addEventListener("change", () => {
      const m = ask("match", text, Math.max(0, Math.floor(Number(head.value) || 0)), others());
      if (m) { about = m; draw(); body.querySelector("input")?.focus(); }
    });
    const guesses = lines.filter((l) => l.how === "guess").length, questions = groups("ask").length;
    body.replaceChildren(
      h("p", { class: "lead" }, text ? fill(T.match.rowsOfTheSheet, plural(about.rows, T.match.rows), about.sheet)
        : fill(T.match.theColumnsOf, about.sheet),
        about.lacks && !about.shape ? " " + fill(T.match.asItStands, about.lacks) : ""),
      about.shape ? h("p", { class: "shape" }, fill(T.match.shape, about.shape), " ", about.straight
        ? h("button", { type: "button", onclick: () => open(about.straight) }, T.match.layOut) : T.match.layOutByHand) : "",
      guesses || questions ? h("p", {}, [guesses ? plural(guesses, T.match.aGuessIs) : "",
        questions ? plural(questions, T.match.aQuestionIs) : ""].filter(Boolean).join(" ")) : "",
      text ? h("p", { class: "fix" }, h("label", {}, T.match.headerInRow, " ", head), " ",
        h("span", { class: "quiet" }, T.match.zeroForNone)) : "",
      h("table", { class: "match", "aria-label": T.match.columnsOfTheList },
        h("thead", {}, h("tr", {}, ...[T.match.inYourList, T.match.firstTexts, T.match.readAs, T.match.unit,
          T.match.whereFrom].map((t) => h("th", { scope: "col" }, t)))),
        h("tbody", {}, ...lines.map(row))));
    lines.forEach(bring);
    sum();
  }

  /** Questions that one answer settles: the readings of a series are one. */
  const groups = (how) => [...new Set(lines.filter((l) => l.how === how).map((l) => l.c.series || -1 - l.c.col))];

  function row(l) {
    const c = l.c;
    const name = c.header || T.match.noName;
    const list = () => {
      const taken = new Map(lines.filter((x) => x !== l && x.key).map((x) => [x.key, x.c.header]));
      return [["", T.match.keptUnread], ...columns.map((x) =>
        [x.key, x.name + (taken.has(x.key) ? fill(T.match.isReadSo, taken.get(x.key) || T.match.noName) : "")])];
    };
    l.what = picker(h, { "aria-label": fill(T.match.whatIs, name) }, l.key, known(l.key)?.name ?? T.match.keptUnread, list,
      (k) => choose(l, k));
    l.units = picker(h, { "aria-label": fill(T.match.unitOf, name) }, "", "",
      () => [["", l.job ? fill(T.match.asTheJob, l.job) : T.match.none], ...(known(l.key)?.units ?? []).map((u) => [u, u])],
      (u) => { l.unit = u; sum(); });
    l.said = h("td", { class: "how" });
    l.tr = h("tr", {}, h("th", { scope: "row" }, name, c.was ? h("span", { class: "quiet" }, " " + fill(T.match.was, c.was)) : ""),
      h("td", { class: "sample" }, c.sample.join(" · ")), h("td", {}, l.what), h("td", {}, l.units), l.said);
    return l.tr;
  }

  /** Brings the row of a column up to what was settled. */
  function bring(l) {
    l.tr.className = l.how === "ask" ? "question" : l.how;
    const is = known(l.key);
    l.what.put(l.key, is?.name ?? T.match.keptUnread);
    l.job = is?.unit ?? "";
    l.units.hidden = !is?.units.length;
    l.units.renew();
    l.units.put(l.unit, l.unit || (l.job ? fill(T.match.asTheJob, l.job) : T.match.none));
    l.chips = [];
    const said = { known: T.match.byItsName, chosen: T.match.asYouChose, none: T.match.notRead,
      before: l.c.source === "job" ? T.match.asInThisJob : T.match.asOnThisComputer }[l.how];
    if (l.how === "guess") l.said.replaceChildren(h("b", {}, T.match.guess), " " + l.c.why);
    else if (l.how === "ask") {
      const first = !l.c.series || lines.find((x) => x.c.series === l.c.series) === l;
      if (first) l.chips = l.c.keys.map((k) => h("button", { type: "button", onclick: () => { choose(l, k); next(l); } },
        known(k)?.name ?? k));
      l.said.replaceChildren(h("b", {}, T.match.which), " ", first ? l.c.why + " " : T.match.asTheFirst, ...l.chips);
    } else l.said.replaceChildren(said ?? "");
    const twice = l.key && lines.find((x) => x !== l && x.key === l.key);
    if (twice) l.said.append(" ", h("b", {}, fill(T.match.isReadTwice, twice.c.header || T.match.noName)));
  }

  /** What somebody chose for a column; the others of its series follow. */
  function choose(l, k) {
    const before = l.key;
    const set = (x, key) => {
      x.key = key;
      x.how = key ? "chosen" : "none";
      if (key && x.unit && !known(key)?.units.includes(x.unit)) x.unit = x.c.unit;
    };
    set(l, k);
    const place = l.c.place;
    if (l.c.series && (k === "" || k.endsWith("_" + place))) {
      const family = k.slice(0, k.length - place.length);
      for (const x of lines) {
        if (x === l || x.c.series !== l.c.series || x.how === "chosen" && x.key && before
          && !x.key.startsWith(before.slice(0, before.length - place.length))) continue;
        if (k === "" || known(family + x.c.place)) set(x, k && family + x.c.place);
      }
    }
    lines.forEach(bring);
    sum();
  }

  /** After an answer: the next question, or the button that takes it all. */
  function next(l) {
    const at = lines.indexOf(l);
    const l2 = [...lines.slice(at), ...lines.slice(0, at)].find((x) => x.how === "ask" && x.chips.length);
    (l2?.chips[0] ?? $("match-take")).focus();
  }

  function sum() {
    const count = (how) => lines.filter((l) => l.how === how).length;
    const open = groups("ask").length;
    const parts = [[count("known"), T.match.areKnown], [count("before"), T.match.asBefore], [count("guess"), T.match.areGuesses],
      [count("chosen"), T.match.areChosen], [count("none"), T.match.areUnread]];
    $("match-said").textContent = parts.filter(([n]) => n).map(([n, t]) => plural(n, t)).join(", ") + "."
      + (open ? " " + plural(open, T.match.questionsOpen) : "");
    const guesses = count("guess");
    $("match-take").textContent = guesses ? plural(guesses, text ? T.match.takeGuesses : T.match.takeGuessesHere) : text
      ? T.match.readItSo : T.match.nameThemSo;
    $("match-less").hidden = !guesses;
  }

  function take(guesses) {
    const rows = [];
    for (const l of lines) {
      if (l.how === "ask" || l.how === "guess" && !guesses) continue;
      if (l.how === "none" && l.c.state !== "known" && l.c.state !== "before") continue;
      if (l.how === "known" && l.unit === l.c.unit) continue;
      rows.push([l.c.col, l.key, l.unit]);
    }
    const head = about.head, list = text;
    dialog.close();
    const then = () => {
      keep();
      say(fill(T.match.done, plural(rows.filter((r) => r[1]).length, T.match.columnsAre)), T.match.change, () => open(""));
    };
    if (list) {
      const p = ask("matchPlan", list, head, packRows(rows));
      if (p) plan(p, then);
      return;
    }
    if (act("matchPlan", "", 0, packRows(rows))) then();
    back();
  }

  /** What this job knows is there for the next one. */
  function keep() { remember(unpackRows(ask("learnt")?.rows ?? "")); }

  $("match-take").addEventListener("click", () => take(true));
  $("match-less").addEventListener("click", () => take(false));

  return {
    open, keep,
    /** What is to be done before a clipboard text is pasted. */
    look: (list) => ask("match", list, -1, others()),
    others,
  };
}
