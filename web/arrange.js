// Sort, filter and column groups: what is shown of the sheet, never what is stored.
import { plural } from "./texts.js";
import * as T from "texts";

const operators = [["c", T.arrange.holds], ["n", T.arrange.doesNotHold], ["e", T.arrange.is], ["d", T.arrange.isNot], ["l", T.arrange.isLessThan], ["m", T.arrange.isAtMost], ["g", T.arrange.isMoreThan], ["h", T.arrange.isAtLeast], ["z", T.arrange.isEmpty], ["f", T.arrange.isFilled]];

/** The commands. */
export function arranging({ h, ask, act, $, view, back }) {
  const dialog = $("dlg-arrange");
  const body = $("arrange-body");
  let about = null;

  const pickColumn = (chosen) => {
    const s = h("select", { "aria-label": T.arrange.column }, h("option", { value: "" }, T.arrange.chooseAColumn),
      ...about.columns.map((c) => h("option", { value: c.id, selected: c.id === chosen }, c.name + (c.unit ? ` [${c.unit}]` : "") + (c.result ? T.arrange.workedOut : ""))));
    return s;
  };
  const sortLine = (k) => h("p", { class: "line sort" }, pickColumn(k?.col), " ", h("select", { "aria-label": T.arrange.direction }, h("option", { value: "" }, T.arrange.smallestFirst), h("option", { value: "desc", selected: k?.desc }, T.arrange.largestFirst)), " ", drop());
  const drop = () => h("button", { type: "button", onclick: (e) => {
    const line = e.target.closest(".line"), more = line.parentElement.nextElementSibling.querySelector("button");
    line.remove();
    more.focus();
  } }, T.arrange.takeOut);
  const more = (to, make) => () => {
    const line = make();
    to.append(line);
    line.querySelector("select").focus();
  };
  const filterLine = (f) => {
    const col = pickColumn(f?.col);
    const op = h("select", { "aria-label": T.arrange.condition }, ...operators.map(([v, t]) => h("option", { value: v, selected: v === f?.op }, t)));
    const value = h("input", { "aria-label": T.arrange.value, value: f?.values?.[0] ?? "", autocomplete: "off" });
    const few = h("span", { class: "few" });
    const fill = () => {
      const c = about.columns.find((x) => x.id === col.value);
      const words = c?.few ?? [];
      few.replaceChildren(...words.map((w) => h("label", {}, h("input", { type: "checkbox", value: w, checked: (f?.values ?? []).includes(w) }), " " + w)));
      const list = words.length > 0 && "ed".includes(op.value);
      few.hidden = !list;
      value.hidden = list || "zf".includes(op.value);
    };
    col.addEventListener("change", () => {
      if (!f && about.columns.find((x) => x.id === col.value)?.few.length) op.value = "e";
      fill();
    });
    op.addEventListener("change", fill);
    fill();
    return h("p", { class: "line filter" }, col, " ", op, " ", value, few, " ", drop());
  };

  function open() {
    about = ask("viewOf");
    if (!about) return;
    const sorts = h("div", {}, ...(about.sort.length ? about.sort : [null]).map(sortLine));
    const filters = h("div", {}, ...(about.filter.length ? about.filter : [null]).map(filterLine));
    body.replaceChildren(
      h("h3", {}, T.arrange.sortBy), sorts, h("p", {}, h("button", { type: "button", onclick: more(sorts, sortLine) }, T.arrange.andThenBy)),
      h("h3", {}, T.arrange.showOnlyRowsWhere), filters, h("p", {}, h("button", { type: "button", onclick: more(filters, filterLine) }, T.arrange.and)),
      h("p", { class: "quiet" }, T.arrange.thisChangesWhatIsShown),
      view().state.view ? h("p", {}, h("button", { type: "button", onclick: () => { dialog.close(); act("sortStored"); back(); } }, T.arrange.makeTheShownOrderThe)) : "",
    );
    dialog.showModal();
    body.querySelector("select").focus();
  }

  $("arrange-take").addEventListener("click", () => {
    const sort = [...body.querySelectorAll(".line.sort")].map((l) => [...l.querySelectorAll("select")].map((s) => s.value)).filter((v) => v[0]).map((v) => v.join("\t")).join("\n");
    const filter = [...body.querySelectorAll(".line.filter")].map((l) => {
      const [col, op] = [...l.querySelectorAll("select")].map((s) => s.value);
      const few = l.querySelector(".few");
      const values = few.hidden ? [l.querySelector("input[aria-label=Value]").value.trim()] : [...few.querySelectorAll("input:checked")].map((c) => c.value);
      return col && ("zf".includes(op) || values.some((v) => v)) ? [col, op, ...values].join("\t") : "";
    }).filter(Boolean).join("\n");
    dialog.close();
    act("arrange", sort, filter);
    if (sort) view().el.scrollTop = 0; // whoever sorts wants to see what came first, not where the cursor's row went
    back();
  });
  dialog.addEventListener("keydown", (e) => {
    if (e.key === "Enter" && e.target.tagName === "INPUT") { e.preventDefault(); $("arrange-take").click(); }
  });

  const groups = $("dlg-groups");
  $("groups-take").addEventListener("click", () => {
    const hidden = [...$("groups-body").querySelectorAll("input:not(:checked)")].map((c) => c.value);
    groups.close();
    act("showColumns", $("groups-body").dataset.all === "true", hidden.join("\t"));
    back();
  });

  return {
    sort: open,
    showAll() { act("arrange", "", ""); back(); },
    groups() {
      const g = ask("columnGroups");
      if (!g) return;
      $("groups-body").dataset.all = String(g.all);
      $("groups-body").replaceChildren(...(g.groups.length ? g.groups.map((x) => h("p", {}, h("label", {}, h("input", { type: "checkbox", value: x.name, checked: !x.hidden }), ` ${x.title} (${plural(x.count, T.arrange.columns)})`)))
        : [h("p", { class: "quiet" }, T.arrange.thisSheetSColumnsBelong)]));
      groups.showModal();
    },
  };
}
