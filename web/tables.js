// Reference tables: one look-up box over all of them, each as a table, and what a row can put into a sheet.
import { toClipboard, csvFile, chooser } from "./clip.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "Tables". */
export function tablesScreen({ h, ask, act, say, $, openScreen, sheet, view, plural }) {
  const root = $("screen-tables");
  let list = null; // the tables, and the machines
  let machine = -1;
  let key = ""; // the table shown
  const views = new Map(); // by table: {filter, by, down, chosen}
  let system = "";
  let data = null; // the table shown
  let hits = [];
  let sayings = []; // what must be said of the answer: [kind, sentence]
  let all = false; // every hit is shown
  let box, said, main, side, forWhom;

  const look = () => views.get(key) ?? views.set(key, { filter: "", by: -1, down: false, chosen: new Set() }).get(key);
  const args = () => [key, system, look().filter, look().by, look().down];
  const machineName = () => list.machines.find((m) => Number(m[0]) === machine)?.[1] ?? "";

  function build() {
    root.tabIndex = -1;
    box = h("input", { id: "look-box", autocomplete: "off", spellcheck: "false", "aria-describedby": "look-hint" });
    box.addEventListener("input", () => { all = false; found(); });
    box.addEventListener("keydown", (e) => {
      if (e.key === "ArrowDown") { e.preventDefault(); (stops()[0] ?? side.querySelector("[aria-current]"))?.focus(); }
      else if (e.key === "Enter") { e.preventDefault(); stops()[0]?.click(); }
      else if (e.key === "Escape" && box.value) { e.preventDefault(); box.value = ""; found(); }
    });
    said = h("p", { class: "quiet", role: "status" });
    forWhom = h("select", { id: "look-machine" });
    forWhom.addEventListener("change", () => { machine = Number(forWhom.value); panel(); });
    side = h("div", { class: "look-side" });
    main = h("div", { class: "look-main" });
    root.replaceChildren(
      h("div", { class: "look-top" },
        h("div", { role: "search" }, h("label", { for: "look-box" }, T.tables.lookUp), box, said),
        h("p", { class: "look-for" }, h("label", { for: "look-machine" }, T.tables.useFor), forWhom),
        h("p", { id: "look-hint", class: "quiet" }, T.tables.aBoltM1688)),
      h("div", { class: "look-two" }, side, main));
  }

  /** Brings the screen up to the job: its machines, its own tables. */
  function refresh() {
    list = ask("tables") ?? list;
    if (!list) return;
    if (!list.machines.some((m) => Number(m[0]) === machine)) machine = list.chosen;
    if (!key) key = list.tables[0].key;
    forWhom.replaceChildren(...list.machines.map(([row, name]) => h("option", { value: row, selected: Number(row) === machine }, name)));
    forWhom.parentElement.hidden = !list.machines.length;
    names();
    found();
  }

  function names() {
    side.replaceChildren(...chooser(h, T.tables.tables, list.tables.map((t) => [t.key, t.title + (t.own ? T.tables.withYours : "")]), box.value ? "" : key, (k) => {
      key = k;
      box.value = "";
      found();
      names();
      side.querySelector(`[data-key="${k}"]`)?.focus({ preventScroll: true });
    }));
  }

  // Looking up

  function found() {
    const answer = box.value.trim() ? ask("lookup", box.value) : null;
    hits = answer?.hits ?? [];
    sayings = answer?.said ?? [];
    const count = sayings.some(([k]) => k === "refused") && hits.length ? "" : hits.length ? fill(T.tables.found, hits.length) : T.tables.nothingFound;
    said.replaceChildren(...(box.value.trim() ? [h("span", { class: "aside" }, sayings.map(sentence).join(" ") + " "), count] : [])); // read out; seen over the hits
    const on = box.value.trim() ? "" : key;
    side.querySelector("select").value = on;
    for (const b of side.querySelectorAll("nav button")) b.setAttribute("aria-current", String(b.dataset.key === on));
    panel();
  }

  const sentence = ([, text]) => text.replace(/^./, (c) => c.toUpperCase()) + ".";

  const stops = () => [...main.querySelectorAll(".hit-open, .hit-acts:not([hidden]) button, .hit-acts:not([hidden]) input")].filter((b) => !b.disabled);

  function panel() {
    if (!box.value.trim()) return table();
    const some = all ? hits : hits.slice(0, 10);
    main.replaceChildren(
      ...sayings.map((x) => h("p", { class: "notice said-" + x[0] }, sentence(x))),
      sayings.some(([k]) => k === "refused") && hits.length ? h("p", { class: "quiet" }, T.tables.neighbours) : "",
      hits.length ? h("ol", { class: "hits" }, ...some.map(hit)) : sayings.length ? "" : h("p", { class: "quiet" }, T.tables.noRowHasTheseWords),
      some.length < hits.length ? h("button", { type: "button", onclick: () => { const n = some.length; all = true; panel(); stops()[n]?.focus(); } }, fill(T.tables.showAll, hits.length)) : "");
  }

  function hit(x, i) {
    const acts = x.key ? actions(x, [
      [T.tables.showItInItsTable, () => { key = x.key; Object.assign(look(), { filter: "", chosen: new Set([x.row]) }); box.value = ""; found(); names(); main.querySelector(`tr[data-row="${x.row}"] input`)?.focus(); main.querySelector(`tr[data-row="${x.row}"]`)?.scrollIntoView({ block: "center" }); }],
    ]) : h("div", { class: "hit-acts" });
    acts.append(h("button", { type: "button", onclick: () => {
      const rows = [[x.title], ...lines(x)];
      if (toClipboard(rows.map((r) => r.join("\t")).join("\r\n"))) say(fill(T.tables.isOnTheClipboard, x.title));
    } }, T.tables.copy));
    acts.hidden = true;
    const open = h("button", { type: "button", class: "hit-open", "aria-expanded": "false", onclick: () => {
      acts.hidden = !acts.hidden;
      open.setAttribute("aria-expanded", String(!acts.hidden));
      for (const r of el.querySelectorAll("tr[hidden]")) r.hidden = false;
      rest.hidden = true;
      if (!acts.hidden) acts.querySelector("button:not(:disabled), input")?.focus();
    } }, x.title);
    const rows = lines(x);
    const most = i === 0 ? 18 : 4;
    const sameAbove = (k) => k > 0 && k !== most && rows[k][2] === rows[k - 1][2]; // a source that holds for several lines stands once
    const below = (k) => { let j = k + 1; while (j < rows.length && sameAbove(j)) j++; return j - k; };
    const rest = h("p", { class: "quiet", hidden: rows.length <= most }, fill(T.tables.whenOpened, plural(rows.length - most, T.tables.moreValues)));
    const el = h("li", {}, h("div", { class: "hit-head" }, open, x.own ? h("b", { class: "yours" }, T.tables.yours) : "", h("span", { class: "quiet" }, [x.why, x.table].filter(Boolean).join(" · "))), acts,
      rows.length ? h("table", { "aria-label": x.title }, h("tbody", {}, ...rows.map(([a, b, c], k) => h("tr", { hidden: k >= most }, h("th", { scope: "row" }, a), h("td", {}, b), sameAbove(k) ? "" : h("td", { class: "src", rowspan: below(k) }, c ?? ""))))) : "",
      rest,
      x.note && x.note !== "yours" ? h("p", { class: "note" }, x.note.replace(/^./, (c) => c.toUpperCase()) + ".") : "",
      x.source && !(x.facts?.length) ? h("p", { class: "src" }, fill(T.tables.source, x.source)) : "");
    el.addEventListener("keydown", (e) => {
      const at = stops(), n = at.indexOf(document.activeElement);
      if (e.key === "ArrowDown" || e.key === "ArrowUp") {
        e.preventDefault();
        const to = n + (e.key === "ArrowDown" ? 1 : -1);
        if (to < 0) box.focus();
        else at[Math.min(to, at.length - 1)].focus();
      } else if (e.key === "Escape") {
        e.preventDefault();
        if (document.activeElement !== open) { acts.hidden = true; open.setAttribute("aria-expanded", "false"); open.focus(); }
        else box.focus();
      }
    });
    return el;
  }

  /** What a hit tells, line by line: what, value, source. */
  const lines = (x) => (x.facts?.length ? x.facts : x.cells ?? []);

  /** What can be done with a row. */
  function actions(x, more) {
    const out = h("div", { class: "hit-acts", role: "group", "aria-label": fill(T.tables.whatToDoWith, x.title ?? x.name) });
    for (const a of x.actions) {
      const label = a.label.replace("%", machineName() || T.tables.aMachineTheJobHas);
      const off = a.machine && !machineName();
      if (!a.ask) {
        out.append(h("button", { type: "button", disabled: off, onclick: () => use(x, a, "") }, label));
        continue;
      }
      const field = h("input", { autocomplete: "off", spellcheck: "false", disabled: off });
      const hint = h("span", { class: "hint", role: "alert" });
      const take = () => { if (!field.value.trim()) { hint.textContent = T.tables.typeTheDistanceFirstSuch; field.focus(); } else use(x, a, field.value, hint, field); };
      field.addEventListener("keydown", (e) => { if (e.key === "Enter") { e.preventDefault(); take(); } });
      out.append(h("span", { class: "ask" }, h("label", {}, a.ask + " ", field), h("button", { type: "button", disabled: off, onclick: take }, label), hint));
    }
    for (const [label, does] of more) out.append(h("button", { type: "button", onclick: does }, label));
    return out;
  }

  function use(x, a, text, hint, field) {
    if (a.do.startsWith("sheet")) {
      sheet(Number(a.do.slice(5)));
      view().focus();
      return;
    }
    busy = true;
    const s = act("tableDo", x.key, x.row, a.do, machine, text);
    busy = false;
    if (!s) {
      if (hint) { hint.textContent = $("status").textContent; field.setAttribute("aria-invalid", "true"); field.focus(); }
      return;
    }
    openScreen("");
    view().reveal(s.row, s.col);
    view().focus();
  }
  let busy = false;

  // One table

  function table(focus) {
    data = ask("table", ...args());
    if (!data) return;
    const v = look();
    const filter = h("input", { id: "look-filter", value: v.filter, autocomplete: "off", spellcheck: "false" });
    filter.addEventListener("input", () => { v.filter = filter.value; rowsOnly(); });
    const units = h("select", { id: "look-units" }, ...[["", T.tables.asTheSourcePrintsThem], ["metric", T.tables.metric], ["inch", T.tables.inch]].map(([k, t]) => h("option", { value: k, selected: k === system }, t)));
    units.addEventListener("change", () => { system = units.value; table("look-units"); });
    main.replaceChildren(
      h("p", { class: "about" }, data.about),
      h("p", { class: "quiet" }, data.grades),
      h("div", { class: "bar look-bar", role: "toolbar", "aria-label": T.tables.table },
        h("label", { for: "look-filter" }, T.tables.filter), filter, h("label", { for: "look-units" }, T.tables.units), units,
        h("button", { type: "button", onclick: copy, title: T.tables.theRowsChosenOrAll }, T.tables.copyForAWorkbook),
        h("button", { type: "button", onclick: () => { const t = texts(); if (t) csvFile(`shimsheet-${key.replace(/_/g, "-")}.csv`, t.csv, say); } }, T.tables.saveAsCsv),
        h("button", { type: "button", onclick: () => print() }, T.tables.print)),
      h("div", { class: "look-table", tabindex: "0", role: "region", "aria-label": data.title }));
    rowsOnly();
    if (focus) $(focus)?.focus();
  }

  function rowsOnly() {
    data = ask("table", ...args()) ?? data;
    const v = look();
    const useful = data.rows.some((r) => r.actions.length);
    const head = [...data.columns, { title: T.tables.source2 }].map((c, i) => {
      const on = v.by === i;
      return h("th", { scope: "col", class: c.number ? "num" : null, "aria-sort": on ? (v.down ? "descending" : "ascending") : null },
        h("button", { type: "button", onclick: () => {
          if (!on) Object.assign(v, { by: i, down: false });
          else if (!v.down) v.down = true;
          else v.by = -1;
          rowsOnly();
          main.querySelectorAll("thead th button")[i]?.focus();
        } }, c.title, h("span", { class: "sorted", "aria-hidden": "true" }, on ? (v.down ? " ▾" : " ▴") : "")));
    });
    const pick = (on, r) => { if (on) v.chosen.add(r.row); else v.chosen.delete(r.row); };
    const body = data.rows.map((r) => {
      const tick = h("input", { type: "checkbox", "aria-label": fill(T.tables.choose, r.name) });
      tick.checked = v.chosen.has(r.row);
      const tr = h("tr", { "data-row": r.row, class: r.own ? "own" : r.gives ? "gives" : null, "data-chosen": tick.checked ? "1" : null });
      tick.addEventListener("change", () => { pick(tick.checked, r); tr.toggleAttribute("data-chosen", tick.checked); });
      tr.append(h("td", { class: "tick" }, tick), ...r.cells.map((t, i) => h(i ? "td" : "th", { scope: i ? null : "row", class: data.columns[i].number ? "num" : i || t.length > 28 ? null : "short" }, t, i || !r.own ? "" : h("b", { class: "yours" }, T.tables.yours))),
        h("td", { class: "src" }, r.source, r.gives ? h("b", {}, T.tables.yoursTakesItsPlace) : ""));
      if (useful) {
        const b = h("button", { type: "button", "aria-expanded": "false", "aria-label": fill(T.tables.use, r.name), onclick: () => {
          const next = tr.nextElementSibling;
          const on = !next?.classList.contains("acts");
          if (on) {
            const acts = actions(r, []);
            const row = h("tr", { class: "acts" }, h("td", { colspan: head.length + 2 }, acts));
            row.addEventListener("keydown", (e) => { if (e.key === "Escape") { e.preventDefault(); row.remove(); b.setAttribute("aria-expanded", "false"); b.focus(); } });
            tr.after(row);
            acts.querySelector("button:not(:disabled), input")?.focus();
          } else next.remove();
          b.setAttribute("aria-expanded", String(on));
        } }, T.tables.use2);
        tr.append(h("td", {}, r.actions.length ? b : ""));
      }
      return tr;
    });
    const count = data.rows.length === data.all ? plural(data.all, T.tables.rows) : fill(T.tables.of, data.rows.length, plural(data.all, T.tables.rows));
    main.querySelector(".look-table").replaceChildren(h("table", {},
      h("caption", {}, h("h2", {}, data.title), h("span", { class: "quiet", role: "status" }, " " + count)),
      h("thead", {}, h("tr", {}, h("th", { class: "tick", scope: "col" }, h("span", { class: "aside" }, T.tables.choose2)), ...head, useful ? h("th", { scope: "col" }, h("span", { class: "aside" }, T.tables.use3)) : "")),
      h("tbody", {}, ...body)));
  }

  const texts = () => ask("tableText", ...args(), [...look().chosen].join(" "));

  function copy() {
    const t = texts();
    if (!t) return;
    say(toClipboard(t.text, t.html) ? fill(T.tables.withTheirSourcesOnThe, plural(t.rows, T.tables.rows)) : T.tables.theBrowserDidNotLet);
  }

  root.addEventListener("copy", (e) => {
    if (/^(INPUT|TEXTAREA)$/.test(document.activeElement?.tagName) && document.activeElement.type !== "checkbox" || String(getSelection()) || box?.value.trim()) return;
    const t = texts();
    if (!t) return;
    e.preventDefault();
    e.clipboardData.setData("text/plain", t.text);
    e.clipboardData.setData("text/html", t.html);
    say(fill(T.tables.withTheirSourcesOnThe, plural(t.rows, T.tables.rows)));
  });

  /** What is shown, on paper. */
  function paper() {
    const grid = (head, rows) => h("table", { class: "plain" }, head ? h("thead", {}, h("tr", {}, ...head.map((t) => h("th", { scope: "col" }, t)))) : "", h("tbody", {}, ...rows.map((r) => h("tr", {}, ...r.map((t) => h("td", {}, t ?? ""))))));
    if (box.value.trim()) {
      $("paper").replaceChildren(h("h1", {}, fill(T.tables.lookedUp, box.value.trim())), ...sayings.map((x) => h("p", {}, sentence(x))), ...(all ? hits : hits.slice(0, 10)).flatMap((x) => [h("h2", {}, x.title), h("p", {}, [x.why, x.note, x.source].filter(Boolean).join(" · ")), grid(null, lines(x))]));
      return;
    }
    const only = look().chosen, rows = data.rows.filter((r) => !only.size || only.has(r.row));
    $("paper").replaceChildren(h("h1", {}, data.title), h("p", {}, data.about), h("p", {}, data.grades), grid([...data.columns.map((c) => c.title), T.tables.source2], rows.map((r) => [...r.cells, r.source + (r.gives ? T.tables.yoursTakesItsPlace : "")])));
  }

  return {
    side: false,
    paper,
    show() {
      if (!box) build();
      machine = -1; // the one chosen in the sheet
      refresh();
      box.focus();
      box.select();
    },
    hide() {},
    update(s) {
      if (s.changed && !busy && box && !main.contains(document.activeElement)) refresh();
    },
  };
}
