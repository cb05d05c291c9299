// The list as a picture: every coupling's share of its limits, worst first, and how large the corrections are.
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "Overview". */
export function listScreen({ h, ask, act, $, state, view, sheet, openScreen, say }) {
  const root = $("screen-list");
  let timer = 0;

  function draw() {
    timer = 0;
    const width = Math.max(root.clientWidth - 36, 280);
    const over = ask("picture", "overview", width);
    const histogram = ask("picture", "histogram", Math.min(width, 900));
    if (!over) return;
    const filters = h("div", { class: "bar", role: "toolbar", "aria-label": T.list.overview },
      h("button", { type: "button", "data-do": "sort" }, T.list.sortAndFilter),
      state().view ? h("span", { class: "viewed" }, state().view) : "",
      state().view ? h("button", { type: "button", "data-do": "showAll" }, T.list.showAllRows) : "",
      h("button", { type: "button", onclick: () => print() }, T.list.print));
    const box = h("div", { class: "drawing overview", role: "region", "aria-label": T.list.allCouplingsWorstFirstEnter });
    box.innerHTML = over.svg;
    box.querySelector("svg")?.setAttribute("role", "group"); // not an image: there are links in it
    const all = [...box.querySelectorAll("[data-row]")];
    for (const g of all) {
      g.setAttribute("tabindex", g === all[0] ? "0" : "-1"); // one stop for all; arrows walk
      g.setAttribute("role", "link");
      g.removeAttribute("aria-label"); // the name is what stands in it, the title first
      g.addEventListener("focus", () => { for (const x of all) x.setAttribute("tabindex", x === g ? "0" : "-1"); });
      const go = () => { sheet(0); act("goStored", Number(g.dataset.row), -1); view().focus(); };
      g.addEventListener("click", go);
      g.addEventListener("keydown", (e) => {
        const to = { ArrowDown: 1, ArrowUp: -1 }[e.key];
        if (e.key === "Enter") { e.preventDefault(); go(); }
        else if (to) { e.preventDefault(); all[Math.max(0, Math.min(all.length - 1, all.indexOf(g) + to))].focus(); }
      });
    }
    const bars = h("div", { class: "drawing" });
    bars.innerHTML = histogram?.svg ?? "";
    const top = root.scrollTop;
    root.replaceChildren(filters, box, bars);
    root.scrollTop = top;
  }

  return {
    side: false,
    /** The picture, on paper. */
    paper() {
      const s = state(), box = h("div", { class: "drawing" });
      box.innerHTML = ask("picture", "overview", 1000)?.svg ?? "";
      const bars = h("div", { class: "drawing" });
      bars.innerHTML = ask("picture", "histogram", 700)?.svg ?? "";
      $("paper").replaceChildren(h("section", { class: "one picture" }, h("h1", {}, s.name || T.list.jobWithoutAName), h("div", { class: "meta" }, h("b", {}, T.list.overview), h("span", {}, s.revision ? fill(T.list.revision, s.revision) : T.list.notSavedYet), h("span", {}, s.view ?? "")), box, bars));
    },
    show() { draw(); },
    update(s) { if (s.changed || s.arranged) { clearTimeout(timer); timer = setTimeout(draw, 60); } },
    hide() { clearTimeout(timer); },
  };
}
