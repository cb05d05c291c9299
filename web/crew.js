// One coupling at a time, for whoever stands at the machine: large numbers, readings typed by a pad of keys or a keyboard, what to do.
import { picture as seen, steps } from "./steps.js";
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "One by one". */
export function crewScreen({ h, ask, act, say, $, state, sheet, view, undo, feet }) {
  const root = $("screen-crew");
  let row = -1; // stored row of the coupling
  let at = 0; // which field is open
  let data = null;
  let text = ""; // as typed in the open field
  let fresh = true; // the next key begins the text anew

  const load = (step) => {
    if (row < 0) row = Math.max(state().stored, 0);
    const now = ask("crew", row, step);
    if (!now) return;
    data = now;
    if (data.total) {
      row = data.row;
      if (state().stored !== row) act("goStored", row, -1); // what is printed, and where the sheet stands afterwards
    }
    if (step) at = 0;
    at = Math.min(at, Math.max((data.fields?.length ?? 0) - 1, 0));
    open(at);
  };

  function open(i) {
    at = i;
    text = data.fields?.[i]?.text ?? "";
    fresh = true;
    if (data.total && drawn === shape()) bring();
    else draw();
  }

  // What is on the screen stays there while a field is gone to: a new one under the finger would swallow the tap.
  let drawn = "";
  const shape = () => JSON.stringify([data.row, data.number, data.total, data.view, (data.fields ?? []).map((f) => f.col)]);

  /** Brings what is on the screen up to the data. */
  function bring() {
    root.querySelectorAll(".field").forEach((label, i) => {
      const f = data.fields[i], input = label.querySelector("input");
      if (i === at) label.setAttribute("aria-current", "true");
      else label.removeAttribute("aria-current");
      const now = i === at ? text : f.text;
      if (input.value !== now) input.value = now;
      if (f.severity === "error") input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      label.querySelector(".hint").textContent = f.problem ?? "";
    });
    refresh();
  }

  /** Puts the typed text into the job if it is another one. */
  function take() {
    const f = data?.fields?.[at];
    if (!f || f.text === text) return;
    act("set", row, f.col, text);
    data = ask("crew", row, 0) ?? data;
    const wrong = data.fields?.[at]?.problem;
    say(wrong ? `${f.name}: ${wrong}` : (data.sentences ?? []).filter((s) => s[0] === "verdict").map((s) => s[1]).join(" "));
  }

  function next(step) {
    take();
    const n = data.fields.length;
    if (at + step >= n) {
      open(at);
      return conclude();
    }
    open(Math.max(at + step, 0));
    focusField();
  }

  function key(k) {
    const f = data.fields?.[at];
    if (!f) return;
    const sign = text.startsWith("-") || text.startsWith("+") ? text[0] : "";
    if (k === "±") {
      text = sign === "-" ? text.slice(1) : "-" + text.slice(sign.length);
      fresh = false;
    } else if (k === "back") {
      text = fresh ? "" : text.slice(0, -1);
      fresh = false;
    } else {
      text = (fresh ? "" : text) + k;
      fresh = false;
    }
    const box = current();
    if (box) box.value = text;
    reveal();
    undoable();
  }

  /** Brings the open field into sight: between what stays at the top and the keys, which lie over what scrolls under them. */
  function reveal() {
    const field = current()?.closest(".field");
    if (!field) return;
    const over = (el) => (el && getComputedStyle(el).position === "sticky" ? el.offsetHeight : 0);
    root.style.setProperty("--nav", over(root.querySelector(".crew-nav")) + "px");
    root.style.setProperty("--keys", over(root.querySelector(".crew-keys")) + "px");
    field.scrollIntoView({ block: "nearest", behavior: "instant" });
  }

  /** After the last reading: what it comes to. */
  function conclude() {
    const box = root.querySelector(".crew-says");
    if (!box) return;
    box.scrollTop = 0;
    box.focus({ preventScroll: true });
    if (box.getBoundingClientRect().top > innerHeight / 2 || getComputedStyle(root.querySelector(".crew-keys")).position === "sticky") (box.firstElementChild ?? box).scrollIntoView({ block: "start", behavior: "instant" });
  }

  const current = () => root.querySelector(".field[aria-current=true] input");

  function focusField() {
    current()?.focus({ preventScroll: true });
    reveal();
  }

  /** Goes to another coupling, and keeps the focus in the screen. */
  function step(d) {
    take();
    load(d);
    reveal();
    if (fine()) focusField();
    else root.querySelector(d < 0 ? ".crew-nav button:first-child" : ".crew-nav button:last-child")?.focus();
    say(fill(T.crew.of, data.name, data.number, data.total));
  }
  const fine = () => matchMedia("(pointer: fine)").matches;

  /** Takes back the last thing typed: first what is not taken yet. */
  function back() {
    const f = data?.fields?.[at];
    if (f && f.text !== text) open(at);
    else if (state().undo) {
      undo();
      load(0);
    }
    focusField();
  }

  function draw() {
    if (!data.total) {
      drawn = "";
      root.replaceChildren(h("div", { class: "empty" }, h("p", {}, data.view ? fill(T.crew.noCouplingIsAmongThe, data.view) : T.crew.thereIsNoCouplingYet),
        data.view ? h("button", { type: "button", "data-do": "showAll" }, T.crew.showAllRows) : ""));
      return;
    }
    const of = (kind) => (data.sentences ?? []).filter((s) => s[0] === kind).map((s) => s[1]);
    const nav = h("div", { class: "crew-nav" },
      h("button", { type: "button", disabled: data.number === 1, onclick: () => step(-1) }, T.crew.previous),
      h("div", { class: "crew-name" }, h("h2", {}, data.name), h("p", { class: "quiet" }, fill(T.crew.of2, data.number, data.total, data.view ? ` (${data.view})` : ""))),
      h("button", { type: "button", class: "crew-undo", title: T.crew.ctrlZ, onclick: back }, T.crew.undo),
      h("button", { type: "button", disabled: data.number === data.total, onclick: () => step(1) }, T.crew.next));
    const fields = h("div", { class: "crew-fields", role: "group", "aria-label": T.crew.readings }, ...(data.fields ?? []).map((f, i) => {
      const input = h("input", { value: f.text, inputmode: "none", autocomplete: "off", spellcheck: "false", "aria-label": f.name + (f.unit ? ", " + f.unit : ""), "aria-invalid": f.severity === "error" ? "true" : null });
      input.addEventListener("focus", () => {
        if (at !== i) { take(); open(i); }
        (input.isConnected ? input : current())?.select();
        reveal();
      });
      input.addEventListener("mousedown", (e) => { if (fresh && e.detail === 1 && document.activeElement === input) e.preventDefault(); }); // all stays selected; a second press places the caret
      input.addEventListener("click", () => setTimeout(() => { if (fresh && document.activeElement === input && input.selectionStart === input.selectionEnd) input.select(); })); // the click puts the caret somewhere
      input.addEventListener("input", () => { text = input.value; fresh = false; undoable(); });
      input.addEventListener("keydown", (e) => {
        if (e.key === "Enter" || e.key === "ArrowDown") { e.preventDefault(); next(1); }
        else if (e.key === "ArrowUp") { e.preventDefault(); next(-1); }
        else if (e.key === "Escape" && f.text !== text) { e.preventDefault(); open(at); focusField(); }
        else if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z") { e.preventDefault(); back(); }
      });
      input.addEventListener("change", () => { if (at === i && data.fields[i].text !== text) { take(); bring(); } });
      return h("label", { class: "field", "aria-current": i === at ? "true" : null }, h("span", {}, f.name, f.unit ? h("small", {}, " " + f.unit) : ""), input,
        h("span", { class: "hint" }, f.problem ?? ""));
    }));
    if (!(data.fields ?? []).length) fields.append(h("p", { class: "quiet" }, T.crew.thisRowHasNoColumns, h("button", { type: "button", onclick: () => { sheet(0); act("goStored", row, -1); view().focus(); } }, T.crew.showItInTheSheet)));
    const keys = h("div", { class: "crew-keys", role: "group", "aria-label": T.crew.keys }, ...["7", "8", "9", "back", "4", "5", "6", "±", "1", "2", "3", "up", "0", data.decimal, ":", "down"].map((k) => {
      const b = h("button", { type: "button", tabindex: "-1" }, { back: T.crew.erase, "±": "+ / −", up: T.crew.up, down: T.crew.enter }[k] ?? k);
      b.addEventListener("pointerdown", (e) => e.preventDefault()); // the field keeps the focus
      b.addEventListener("click", () => { if (k === "up") next(-1); else if (k === "down") next(1); else key(k); });
      return b;
    }));
    root.replaceChildren(nav, h("p", { class: "crew-verdict v" + data.verdict }, of("verdict").join(" ")),
      h("div", { class: "crew-main" },
        h("div", { class: "crew-entry" }, fields, keys),
        h("div", { class: "crew-says", tabindex: "0", role: "region", "aria-label": T.crew.verdictAndWhatToDo }, ...says(of))));
    drawn = shape();
    undoable();
  }

  /** Whether there is something that Undo takes back. */
  function undoable() {
    const b = root.querySelector(".crew-undo");
    if (b) b.disabled = !state().undo && (data.fields?.[at]?.text ?? "") === text;
  }

  function says(of) {
    const out = [h("p", { class: "crew-again verdict v" + data.verdict }, of("verdict").join(" "))]; // where the one at the top is out of sight
    const todo = steps(h, data.sentences);
    const width = Math.min(Math.max(root.clientWidth - (root.clientWidth > 800 ? 460 : 30), 300), 760);
    if (todo.length) out.push(h("h3", {}, T.crew.whatToDoInThis), ...seen(h, ask, width), ...todo, ...of("packs").map((t) => h("p", { class: "packs" }, t)));
    const here = out.length;
    for (const [title, kind] of [[T.crew.whatThatIsPredictedTo, "after"], [T.crew.whereTheShaftStands, "line"], [T.crew.problemsAndNotes, "hint"], [T.crew.cautions, "caution"]]) {
      const list = of(kind);
      if (list.length) out.push(h("h3", {}, title), ...list.map((t) => h("p", {}, t)));
    }
    const svg = ask("drawing", "machine", width)?.svg;
    if (svg) {
      const d = h("div", { class: "drawing" });
      d.innerHTML = svg;
      out.splice(here, 0, d, ...feet.more(data, width));
    }
    return out;
  }

  /** The verdict and what to do, without touching the fields. */
  function refresh() {
    const of = (kind) => (data.sentences ?? []).filter((s) => s[0] === kind).map((s) => s[1]);
    root.querySelector(".crew-says")?.replaceChildren(...says(of));
    const verdict = root.querySelector(".crew-verdict");
    if (verdict) Object.assign(verdict, { className: "crew-verdict v" + data.verdict, textContent: of("verdict").join(" ") });
    undoable();
  }

  return {
    side: false,
    show() {
      row = Number(root.dataset.row ?? -1);
      delete root.dataset.row;
      load(0);
      if (matchMedia("(max-height: 560px) and (min-width: 640px)").matches) root.scrollIntoView({ block: "start", behavior: "instant" }); // the page's own bars would leave no room
      if (fine()) focusField();
    },
    hide() { take(); row = -1; },
    update(s) {
      if (s.shared && row >= 0) { // the readings that are being typed stay
        data = { ...data, sentences: ask("crew", row, 0)?.sentences ?? data.sentences };
        refresh();
      } else if ((s.changed || s.arranged) && row >= 0 && !root.querySelector("input:focus")) load(0);
    },
  };
}
