// The stock over the whole job: what is done under each foot, and what is to be ordered. It may take seconds, so it is worked
// out in a worker, by the page's own program run once more.
import { handOver, fileName } from "./files.js";
import { breathe } from "./workbook.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "Shims". */
export function shimsScreen({ h, ask, act, $, state, view, sheet, say, n, share }) {
  const stop = () => share.stop();
  const root = $("screen-shims");
  let done = ""; // which state of the job is shown
  let lists = null;
  let which = "pick";
  let timer = 0;
  let running = null; // the bar of the work that goes on
  let rest = null; // puts the lines that are not on the screen yet there

  const now = () => `${state().desk} ${state().changes}`;

  async function work() {
    clearTimeout(timer);
    if (done === now()) return draw();
    const at = now();
    const bar = running = h("progress", { max: "1", "aria-label": T.shims.howFarItIs });
    root.replaceChildren(h("p", { class: "busy" }, h("span", {}, T.shims.sharingTheStockOutOver), bar, h("button", { type: "button", onclick: () => { stop(); root.replaceChildren(again(T.shims.stoppedNothingWasChanged)); } }, T.shims.stop)));
    let got;
    try {
      got = await share.lists((p) => { bar.value = p; });
    } catch (e) {
      if (running !== bar) return; // the same is done for a newer state
      running = null;
      if (e) root.replaceChildren(again(fill(T.shims.theListsCouldNotBe, e.message))); // else it was stopped
      return;
    }
    running = null;
    if (at !== now()) return work();
    lists = got;
    done = at;
    draw();
    say(lists.pick.notes[0]);
  }
  const again = (text) => h("p", {}, text, " ", h("button", { type: "button", onclick: work }, T.shims.workItOut));

  /** The list as rows, header first. */
  const rows = (l) => [l.header, ...l.rows];
  const guarded = (s) => (/^[=+\-@]/.test(s) && !/^[+-]?[\d.,]+$/.test(s) ? "'" + s : s);

  function draw() {
    const l = lists[which];
    const caption = which === "pick" ? T.shims.pickList : T.shims.orderList;
    const tabs = h("div", { class: "bar", role: "toolbar", "aria-label": T.shims.lists },
      ...[["pick", T.shims.pickListFootByFoot], ["order", T.shims.orderListTheWholeJob]].map(([k, t]) => h("button", { type: "button", "aria-pressed": String(k === which), class: k === which ? "pressed" : null, onclick: () => { which = k; draw(); root.querySelector(".pressed")?.focus(); } }, t)),
      h("button", { type: "button", onclick: copy }, T.shims.copy), h("button", { type: "button", onclick: csv }, T.shims.saveAsCsv), h("button", { type: "button", onclick: () => print() }, T.shims.print));
    const line = (r, i) => {
      const at = l.at[i];
      const fresh = i === 0 || at !== l.at[i - 1];
      return h("tr", { class: l.short[i] ? "short" : null }, ...r.map((t, k) => {
        if (which === "pick" && k === 0) {
          return h("th", { scope: "row", class: fresh ? null : "again" }, fresh ? h("button", { type: "button", class: "link", onclick: () => { sheet(0); act("goStored", at, -1); view().focus(); } }, t) : h("span", { class: "aside" }, t));
        }
        return h("td", { class: k >= l.words && k <= l.number && which === "order" || which === "pick" && k === 3 ? "num" : null }, t);
      }));
    };
    const body = h("tbody");
    let put = 0;
    const more = (n) => {
      body.append(...l.rows.slice(put, put + n).map((r, k) => line(r, put + k)));
      if ((put += n) >= l.rows.length) body.removeAttribute("aria-busy");
      else body.setAttribute("aria-busy", "true");
    };
    more(100); // a long list comes in pieces
    const mine = rest = () => more(l.rows.length);
    (async () => {
      while (put < l.rows.length) {
        await breathe();
        if (rest !== mine) return;
        more(50);
      }
    })();
    root.replaceChildren(tabs,
      ...l.notes.map((t) => h("p", { class: "note" }, t)),
      lists.assumed ? h("p", {}, h("button", { type: "button", onclick: () => { sheet(3); view().focus(); } }, T.shims.listWhatIsInThe)) : "",
      l.rows.length ? h("div", { class: "wide", tabindex: "0", role: "region", "aria-label": caption }, h("table", { class: "list" }, h("caption", { class: "aside" }, caption), h("thead", {}, h("tr", {}, ...l.header.map((t) => h("th", { scope: "col" }, t)))), body)) : "",
      h("h3", {}, T.shims.cautions), h("ul", {}, ...ask("help").cautions.map((t) => h("li", {}, t))));
  }

  async function copy() {
    const text = rows(lists[which]).map((r) => r.map((t) => t.replace(/[\t\r\n]/g, " ")).join("\t")).join("\r\n");
    try { await navigator.clipboard.writeText(text); } catch {
      const t = h("textarea", {}, text);
      root.append(t);
      t.select();
      document.execCommand("copy"); // no clipboard for a local file in this browser
      t.remove();
    }
    say(fill(T.shims.linesOnTheClipboard, n(lists[which].rows.length)));
  }
  function csv() {
    const name = fileName(which === "pick" ? fill(T.shims.pickList2, state().name || "job") : fill(T.shims.orderList2, state().name || "job"), state().revision, new Date(), "csv");
    handOver(name, "text/csv", ["\ufeff", rows(lists[which]).map((r) => r.map((t) => `"${guarded(t).replace(/"/g, '""')}"`).join(",")).join("\r\n") + "\r\n"]);
    say(fill(T.shims.wasHandedToTheBrowser, name));
  }

  return {
    side: false,
    show: work,
    update(s) { if (s.changed) { clearTimeout(timer); timer = setTimeout(work, 400); } },
    hide() { clearTimeout(timer); if (running) stop(); },
    paper() {
      rest?.();
      const title = which === "pick" ? T.shims.pickList : T.shims.orderList;
      $("paper").replaceChildren(h("h1", {}, title), h("div", { class: "meta" }, h("b", {}, state().name || T.shims.jobWithoutAName), h("span", {}, fill(T.shims.printed, new Date().toLocaleString(T.locale, { dateStyle: "medium", timeStyle: "short" })))),
        ...[...root.children].slice(1).map((c) => c.cloneNode(true)));
    },
  };
}
