// One coupling at a time, for whoever stands at the machine with gloves on: large numbers, readings typed by a pad of keys or a keyboard into the round that counts, what to do.
import { fill } from "./texts.js";
import * as T from "texts";

/** The screen "One by one". */
export function crewScreen({ h, ask, act, say, $, state, sheet, view, undo }) {
  const root = $("screen-crew");
  let row = -1; // stored row of the coupling
  let at = 0; // which field is open
  let data = null;
  let text = ""; // as typed in the open field
  let fresh = true; // the next key begins the text anew

  /** What the program tells of a coupling, its drawings as wide as there is room. */
  const about = (step) => ask("crew", row, step, Math.min(Math.max(root.clientWidth - (root.clientWidth > 800 ? 460 : 30), 300), 760));

  const load = (step) => {
    if (row < 0) row = Math.max(state().stored, 0);
    const now = about(step);
    if (!now) return;
    data = now;
    if (data.total) {
      row = data.row;
      if (state().stored !== row) act("goStored", row, -1); // what is printed, and where the sheet stands afterwards
    }
    if (step) at = firstEmpty(0);
    at = Math.min(at, Math.max((data.fields?.length ?? 0) - 1, 0));
    open(at);
  };

  /** The first empty field from i on, then from the beginning; 0 where all are filled. */
  const firstEmpty = (i) => {
    const fields = data.fields ?? [], empty = (f) => f.text.trim() === "";
    const k = fields.findIndex((f, n) => n >= i && empty(f));
    return k >= 0 ? k : Math.max(fields.findIndex(empty), 0);
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
  const shape = () => JSON.stringify([data.row, data.number, data.total, data.view, data.state, data.rounds, (data.fields ?? []).map((f) => [f.sheet, f.row, f.col])]);

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
    readBack();
    refresh();
  }

  /** Puts the typed text into the job if it is another one. */
  function take() {
    const f = data?.fields?.[at];
    if (!f || f.text === text) return;
    act("crewSet", f.sheet, f.row, f.col, text);
    data = about(0) ?? data;
    const wrong = data.fields?.[at]?.problem;
    say(wrong ? `${f.name}: ${wrong}` : data.said);
  }

  function next(step) {
    take();
    const fields = data.fields, n = fields.length;
    const empty = step > 0 ? fields.findIndex((f, k) => k > at && f.text.trim() === "") : -1;
    const missed = step > 0 && empty < 0 && at + 1 < n ? -1 : fields.findIndex((f, k) => k < at && f.text.trim() === "");
    if (empty >= 0) open(empty); // the next empty one
    else if (at + step < n) open(Math.max(at + step, 0));
    else if (missed >= 0) open(missed); // one was left out
    else {
      open(at);
      return conclude();
    }
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
    readBack();
    reveal();
    undoable();
  }

  /** What is typed, in digits to be read at arm's length, beside the clock with the angle that is asked for. */
  function readBack() {
    const f = data?.fields?.[at], box = root.querySelector(".crew-read");
    if (!box || !f) return;
    box.querySelector(".crew-digits").textContent = text || "–";
    box.querySelector(".crew-asked").textContent = f.name + (f.unit ? ", " + f.unit : "");
    const clock = box.querySelector(".crew-clock");
    if (clock.dataset.angle !== (f.angle ?? "")) {
      clock.dataset.angle = f.angle ?? "";
      clock.innerHTML = f.angle === undefined ? "" : ask("clockAt", row, f.angle)?.svg ?? "";
    }
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

  /** Has a key do its work when a finger leaves it, however long it lay there: a glove presses slowly, and some browsers make no click of that. A click that comes of
   * the same touch is left out, whichever key it meets: the keys may be new ones by then. The field keeps the focus. */
  function onPress(b, run) {
    b.addEventListener("pointerdown", (e) => e.preventDefault());
    b.addEventListener("contextmenu", (e) => e.preventDefault());
    b.addEventListener("pointerup", (e) => {
      if (e.pointerType === "mouse") return;
      touched = e.timeStamp;
      run();
    });
    b.addEventListener("click", (e) => { if (e.timeStamp - touched > 1000) run(); }); // mouse, keyboard, or what reads the screen aloud
  }

  let touched = -Infinity; // when a finger last left a key
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
    else root.querySelector(d < 0 ? ".crew-nav > button:first-child" : ".crew-nav > button:last-child")?.focus();
    say(fill(T.crew.of, data.name, data.number, data.total));
  }
  const fine = () => matchMedia("(pointer: fine)").matches;

  /** Takes back the last thing typed: first what is not taken yet. */
  function back() {
    const f = data?.fields?.[at];
    if (f && f.text !== text) open(at);
    else if (f && data.undo) {
      act("undoOn", f.sheet);
      load(0);
    } else if (state().undo) {
      undo();
      load(0);
    }
    focusField();
  }

  /** Begins a round: the next (0), as left (1), hot (2). What is typed from then on goes into it. */
  function newRound(kind) {
    take();
    const now = new Date(), two = (n) => String(n).padStart(2, "0");
    act("newRound", row, kind, `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())} ${two(now.getHours())}:${two(now.getMinutes())}`);
    load(0);
    open(firstEmpty(0));
    focusField();
  }

  /** Readings from the clipboard into the fields from the open one on; where the browser does not hand them over, or asks first, from a field to paste into. */
  function paste() {
    take();
    let asked = false;
    const put = (t) => { act("crewPaste", row, at, t); load(0); open(firstEmpty(0)); focusField(); };
    const instead = () => { if (!asked) { asked = true; askToPaste(put); } };
    const read = navigator.clipboard?.readText?.();
    if (!read) return instead();
    const late = setTimeout(instead, 500); // a browser may wait for the person to allow it
    read.then((t) => {
      clearTimeout(late);
      if (!t) return instead();
      if (asked) root.querySelector(".crew-ask")?.remove();
      put(t);
    }, () => { clearTimeout(late); instead(); });
  }

  function askToPaste(put) {
    const box = h("textarea", { rows: 2, "aria-label": T.crew.pasteHere });
    const bar = h("div", { class: "crew-ask" }, h("label", {}, T.crew.pasteHere, box), h("button", { type: "button", onclick: () => { const t = box.value; bar.remove(); put(t); } }, T.crew.takeIt), h("button", { type: "button", onclick: () => { bar.remove(); focusField(); } }, T.crew.notNow));
    root.querySelector(".crew-ask")?.remove();
    root.querySelector(".crew-tools").after(bar);
    box.focus();
  }

  /** How the open round was read: who, how warm, with what, what was done, what lies under the feet now. */
  function howRead() {
    if (root.querySelector(".crew-about")) return root.querySelector(".crew-about").remove();
    take();
    const boxes = data.about.map(([name, t], i) => h("input", { value: t, "aria-label": name, title: i === data.about.length - 1 ? T.crew.packsMeans : null }));
    const bar = h("form", { class: "crew-ask crew-about" }, ...boxes.map((b, i) => h("label", {}, data.about[i][0], b)),
      h("button", { type: "submit" }, T.crew.takeIt), h("button", { type: "button", onclick: () => bar.remove() }, T.crew.notNow));
    bar.addEventListener("submit", (e) => {
      e.preventDefault();
      const changed = boxes.map((b, i) => [data.about[i][0], b.value, data.about[i][1]]).filter(([, now, was]) => now !== was);
      bar.remove();
      for (const [name, now] of changed) act("crewAbout", row, name, now);
      load(0);
      focusField();
    });
    root.querySelector(".crew-ask")?.remove();
    root.querySelector(".crew-tools").after(bar);
    boxes[0].focus();
  }

  /** Strikes a round, with a reason: it is shown and not used. at is its row of the Rounds sheet; below 0 the readings found stand in the machine's own row. */
  function strike(name, at) {
    const box = h("input", { "aria-label": T.crew.whyItDoesNotCount });
    const bar = h("form", { class: "crew-ask" }, h("label", {}, fill(T.crew.strikeWhy, name), box), h("button", { type: "submit" }, T.crew.strikeIt), h("button", { type: "button", onclick: () => bar.remove() }, T.crew.notNow));
    bar.addEventListener("submit", (e) => {
      e.preventDefault();
      if (!box.value.trim()) { say(T.crew.aReasonIsNeeded); return box.focus(); }
      act("strike", row, at, box.value);
      load(0);
    });
    root.querySelector(".crew-ask")?.remove();
    root.querySelector(".crew-tools").after(bar);
    box.focus();
    bar.scrollIntoView({ block: "center", behavior: "instant" });
  }

  /** The machine chooser: a field to search in, which also takes the code of a card, and the machines that fit. */
  function chooser() {
    const shown = root.querySelector(".crew-choose");
    if (shown) { shown.remove(); return root.querySelector(".crew-pick")?.focus(); }
    take();
    const list = h("ul", {}), box = h("input", { type: "search", id: "crew-search", autocomplete: "off", spellcheck: "false", "aria-label": T.crew.searchAMachine, placeholder: T.crew.searchAMachine });
    const go = (i) => {
      root.querySelector(".crew-choose")?.remove();
      row = i;
      at = 0;
      load(0);
      open(firstEmpty(0));
      root.scrollIntoView({ block: "start", behavior: "instant" });
      focusField();
    };
    const look = () => {
      const r = ask("findMachine", box.value);
      if (!r) return;
      if (r.code) return;
      list.replaceChildren(...(r.list ?? []).map(([i, name, how]) => h("li", {}, h("button", { type: "button", onclick: () => go(Number(i)) }, h("b", {}, name), " ", h("span", { class: "quiet" }, how)))));
      if (!r.list?.length) list.append(h("li", { class: "quiet" }, T.crew.noMachineFits));
    };
    const enter = () => {
      const r = ask("findMachine", box.value);
      if (!r?.code) return list.querySelector("button")?.click();
      if (r.row < 0) return say(r.why);
      go(r.row);
      say([r.why, r.round === data.state.replace(/^round /, "") ? fill(T.crew.cardFound, data.name, r.round) : fill(T.crew.cardOfOtherRound, data.name, r.round, data.state)].filter(Boolean).join(" "));
    };
    box.addEventListener("input", look);
    box.addEventListener("paste", () => setTimeout(() => { if (/^shimsheet-card:/i.test(box.value.trim())) enter(); }));
    box.addEventListener("keydown", (e) => {
      if (e.key === "Enter") { e.preventDefault(); enter(); }
      else if (e.key === "Escape") { e.preventDefault(); chooser(); }
    });
    root.querySelector(".crew-nav").after(h("div", { class: "crew-choose", role: "region", "aria-label": T.crew.chooseAMachine }, box, list));
    look();
    box.focus();
  }

  function draw() {
    if (!data.total) {
      drawn = "";
      root.replaceChildren(h("div", { class: "empty" }, h("p", {}, data.view ? fill(T.crew.noCouplingIsAmongThe, data.view) : T.crew.thereIsNoCouplingYet),
        data.view ? h("button", { type: "button", "data-do": "showAll" }, T.crew.showAllRows) : ""));
      return;
    }
    const nav = h("div", { class: "crew-nav" },
      h("button", { type: "button", disabled: data.number === 1, onclick: () => step(-1) }, T.crew.previous),
      h("div", { class: "crew-name" }, h("h2", {}, h("button", { type: "button", class: "crew-pick", "aria-label": fill(T.crew.chooseAnother, data.name), onclick: chooser }, data.name)),
        h("p", { class: "quiet" }, fill(T.crew.of2, data.number, data.total, data.view ? ` (${data.view})` : "") + ", " + data.state)),
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
      input.addEventListener("input", () => { text = input.value; fresh = false; readBack(); undoable(); });
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
    if (!(data.fields ?? []).length && !data.waiting && data.state === "waiting") fields.append(h("p", { class: "quiet" }, T.crew.allStruck));
    else if (!(data.fields ?? []).length) fields.append(h("p", { class: "quiet" }, T.crew.thisRowHasNoColumns, h("button", { type: "button", onclick: () => { sheet(0); act("goStored", row, -1); view().focus(); } }, T.crew.showItInTheSheet)));
    const read = h("div", { class: "crew-read", "aria-hidden": "true" }, h("span", { class: "crew-clock" }), h("span", { class: "crew-asked" }), h("output", { class: "crew-digits" }));
    const keys = h("div", { class: "crew-keys", role: "group", "aria-label": T.crew.keys }, read, ...["7", "8", "9", "back", "4", "5", "6", "±", "1", "2", "3", "up", "0", data.decimal, ":", "down"].map((k) => {
      const b = h("button", { type: "button", tabindex: "-1" }, { back: T.crew.erase, "±": "+ / −", up: T.crew.up, down: T.crew.enter }[k] ?? k);
      onPress(b, () => { if (k === "up") next(-1); else if (k === "down") next(1); else key(k); });
      return b;
    }));
    const tool = (label, run, title) => h("button", { type: "button", onclick: run, title: title ?? null }, label);
    const tools = h("div", { class: "crew-tools", role: "group", "aria-label": T.crew.thisMachine },
      tool(fill(T.crew.newRound, data.waiting ? "1" : data.next), () => newRound(0), T.crew.newRoundMeans), tool(T.crew.asLeft, () => newRound(1), T.crew.asLeftMeans), tool(T.crew.paste, paste),
      data.about?.length ? tool(T.crew.about, howRead, T.crew.aboutMeans) : "", tool(T.crew.asHot, () => newRound(2), T.crew.asHotMeans), h("button", { type: "button", "data-do": "printMachine" }, T.crew.print));
    root.replaceChildren(nav, h("p", { class: "crew-verdict v" + data.verdict }, data.said), tools,
      h("div", { class: "crew-main" },
        h("div", { class: "crew-entry" }, fields, keys),
        h("div", { class: "crew-says", tabindex: "0", role: "region", "aria-label": T.crew.verdictAndWhatToDo, "data-screen-in-go": "panel" })));
    refresh();
    drawn = shape();
    readBack();
    undoable();
  }

  const typing = () => text !== (data?.fields?.[at]?.text ?? "");

  /** Whether there is something that Undo takes back. */
  function undoable() {
    const b = root.querySelector(".crew-undo");
    if (b) b.disabled = !state().undo && !data.undo && (data.fields?.[at]?.text ?? "") === text;
  }

  /** The verdict and what to do, without touching the fields. */
  function refresh() {
    const box = root.querySelector(".crew-says"), verdict = root.querySelector(".crew-verdict");
    if (!box) return;
    box.innerHTML = data.says;
    Object.assign(verdict, { className: "crew-verdict v" + data.verdict, textContent: data.said });
    undoable();
  }

  root.addEventListener("click", (e) => {
    const b = e.target.closest("[data-strike]");
    if (b) strike(b.dataset.strike, Number(b.dataset.row));
  });

  return {
    side: false,
    show() {
      row = Number(root.dataset.row ?? -1);
      delete root.dataset.row;
      at = 0;
      load(0);
      if (data?.total) open(firstEmpty(0));
      if (matchMedia("(max-height: 560px) and (min-width: 640px)").matches) root.scrollIntoView({ block: "start", behavior: "instant" }); // the page's own bars would leave no room
      if (fine()) focusField();
    },
    hide() { take(); row = -1; },
    update(s) {
      if (s.shared && row >= 0) { // the readings that are being typed stay
        const { said, says, verdict } = about(0) ?? data;
        data = { ...data, said, says, verdict };
        refresh();
      } else if ((s.changed || s.arranged) && row >= 0 && !typing() && !root.querySelector("input:focus")) load(0); // what is half typed stays, whether the field has the focus or not
    },
  };
}
