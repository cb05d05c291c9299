// Texts and tables on the clipboard, and as files.
import { handOver } from "./files.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** Puts a text, and the same as an HTML table, on the clipboard. It works from a local file too, where browsers offer no other way. */
export function toClipboard(text, html) {
  const back = document.activeElement;
  const box = document.createElement("textarea"); // a browser copies only where something is chosen
  box.className = "aside";
  box.value = text;
  document.body.append(box);
  box.select();
  let done = false;
  const put = (e) => {
    e.clipboardData.setData("text/plain", text);
    if (html) e.clipboardData.setData("text/html", html);
    e.preventDefault();
    e.stopImmediatePropagation();
    done = true;
  };
  addEventListener("copy", put, { capture: true });
  document.execCommand("copy");
  removeEventListener("copy", put, { capture: true });
  box.remove();
  back?.focus?.({ preventScroll: true });
  return done;
}

/** Hands a table over as a CSV file. */
export function csvFile(name, csv, say) {
  handOver(name, "text/csv", ["\ufeff", csv]);
  say(fill(T.clip.wasHandedToTheBrowser, name));
}

/** A list at the side that one of is chosen, and the same as a drop-down list where there is no room for it. */
export function chooser(h, label, list, chosen, pick) {
  const select = h("select", {}, h("option", { value: "", hidden: true, selected: !chosen }), ...list.map(([key, title]) => h("option", { value: key, selected: key === chosen }, title)));
  select.value = chosen;
  select.addEventListener("change", () => pick(select.value));
  const nav = h("nav", { "aria-label": label }, ...list.map(([key, title]) => h("button", { type: "button", "data-key": key, "aria-current": key === chosen ? "true" : null, onclick: () => pick(key) }, title)));
  nav.addEventListener("keydown", (e) => {
    const all = [...nav.children], to = { ArrowDown: 1, ArrowUp: -1 }[e.key];
    if (!to) return;
    e.preventDefault();
    all[Math.max(0, Math.min(all.length - 1, all.indexOf(document.activeElement) + to))].focus();
  });
  return [nav, h("label", { class: "narrow" }, label + " ", select)];
}
