// Find and replace, in a bar above the sheet.
import { fill } from "./texts.js";
import * as T from "texts";

/** The commands of the bar. @param {Hooks} hooks */
export function finding({ ask, act, say, $, view, plural, n }) {
  const bar = $("findbar");
  const options = (back, here) => ($("find-case").checked ? "c" : "") + ($("find-whole").checked ? "w" : "")
    + ($("find-sel").checked ? "s" : "") + (back ? "b" : "") + (here ? "h" : "");
  const tell = (s) => {
    $("find-said").textContent = !s || !$("find-text").value ? "" : s.count
      ? fill(T.find.of, n(s.index), n(s.count), s.fixed ? fill(T.find.ofThemWorkedOut, n(s.fixed)) : "",
      s.wrapped ? T.find.fromTheOtherEnd : "") : T.find.notFound;
  };
  const find = (back, here) => {
    if (!$("find-text").value) return tell(null);
    tell(act("find", $("find-text").value, options(back, here)));
  };
  const close = () => { bar.hidden = true; view().focus(); };
  bar.addEventListener("submit", (e) => { e.preventDefault(); find(false, false); });
  $("find-text").addEventListener("input", () => { $("find-sel").checked ? tell(null) : find(false, true); });
  $("find-back").addEventListener("click", () => find(true, false));
  $("find-replace").addEventListener("click", () => tell(act("replace", $("find-text").value, $("find-by").value, options(false, false))));
  $("find-all").addEventListener("click", () => {
    if (!$("find-text").value) return;
    const s = act("replaceAll", $("find-text").value, $("find-by").value, options(false, false));
    $("find-said").textContent = s?.changed ? "" : T.find.nothingToReplace;
    if (s?.changed) say(fill(T.find.doneCtrlZTakesIt, s.undo));
  });
  $("find-close").addEventListener("click", close);
  bar.addEventListener("keydown", (e) => {
    if (e.key === "Escape") { e.preventDefault(); e.stopPropagation(); close(); }
    else if (e.key === "Enter" && e.shiftKey) { e.preventDefault(); find(true, false); }
  });
  return {
    find() {
      bar.hidden = false;
      $("find-sel").checked = view().state.sel[0] !== view().state.sel[2];
      tell(null);
      $("find-text").focus();
      $("find-text").select();
    },
  };
}
