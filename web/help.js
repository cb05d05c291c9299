// The help: signs with a drawing, methods with sketches, every column as the program reads it, keys, cautions, what all of it was checked against.
import { part } from "./files.js";
import { fill } from "./texts.js";
import * as T from "texts";

const keys = [[T.help.arrows, T.help.moveWithCtrlToThe], [T.help.enterF2, T.help.openTheCellTypingReplaces],
  [T.help.enterTab, T.help.takeTheTextAndGo], [T.help.upAndDownInAn, T.help.walkThroughTheWordsIt], [T.help.escape, T.help.leaveTheCellAsIt], [T.help.delete, T.help.emptyTheSelectedCells],
  [T.help.ctrlCCtrlXCtrl, T.help.copyCutPasteABlock], [T.help.ctrlZCtrlY, T.help.undoRedo],
  [T.help.ctrlAShiftSpaceCtrl, T.help.selectAllTheRowsThe], [T.help.ctrlDCtrlR, T.help.fillTheSelectionDownOr], [T.help.ctrlShiftD, T.help.fillDownAsASeries],
  [T.help.altUpAltDown, T.help.moveTheSelectedRows], [T.help.ctrlF, T.help.findAndReplace], [T.help.homeEndPageUpPage, T.help.withCtrlFirstAndLast],
  [T.help.ctrlS, T.help.saveThePage], [T.help.ctrlP, T.help.printTheList], ["F6", T.help.goRoundSheetPanelTabs], ["F1", T.help.thisHelp]];

/** The command of the help. */
export function helping({ h, ask, $, helpData }) {
  const figure = (what, width) => {
    const d = h("div", { class: "drawing" });
    d.innerHTML = ask("figure", what, width)?.svg ?? "";
    return d;
  };
  const table = (heads, rows, cls) => h("table", { class: cls }, h("thead", {}, h("tr", {}, ...heads.map((t) => h("th", { scope: "col" }, t)))), h("tbody", {}, ...rows.map((r) => h("tr", {}, ...r.map((t) => h("td", {}, t))))));

  /** The table of evidence as EVIDENCE.md has it: a Markdown table. */
  function evidence(text) {
    const lines = text.split("\n");
    const out = [];
    let rows = [];
    const flush = () => {
      if (rows.length > 1) out.push(table(rows[0], rows.slice(2)));
      rows = [];
    };
    for (const l of lines) {
      if (l.startsWith("|")) rows.push(l.split("|").slice(1, -1).map((c) => c.trim().replace(/[`*]/g, "")));
      else {
        flush();
        if (l.trim()) out.push(h("p", {}, l.replace(/[`*#]/g, "").trim()));
      }
    }
    flush();
    return out;
  }

  function write(body) {
    const text = helpData();
    if (!text) return;
    const sections = [
      [T.help.firstSteps, () => [h("ol", {},
        h("li", {}, T.help.pasteYourListFromA),
        h("li", {}, T.help.lookAtProblemsEachSays),
        h("li", {}, T.help.overviewShowsEveryCouplingBy),
        h("li", {}, T.help.chosenRowTellsTheVerdict),
        h("li", {}, T.help.savePageOneFileThat))]],
      [T.help.whereToStandAndWhich, () => [figure("clock", 620), h("ul", {},
        h("li", {}, T.help.oneMachineStaysStationaryOne),
        h("li", {}, T.help.n12OClockIsUp),
        h("li", {}, T.help.aDialSPlungerPushed),
        h("li", {}, T.help.distancesAreTakenFromThe),
        h("li", {}, T.help.offsetVMovableShaftHigh),
        h("li", {}, T.help.shimsAddTakeOutTurn))]],
      [T.help.waysOfMeasuring, () => [...document.querySelectorAll("#welcome [data-columns]")].filter((b) => b.dataset.columns).flatMap((b) => [h("h4", {}, b.textContent), figure(b.dataset.columns, 620)])],
      [T.help.verdicts, () => [h("p", {}, T.help.insideAndOutsideAreSaid)]],
      [T.help.cautions, () => [h("ul", {}, ...text.cautions.map((t) => h("li", {}, t)))]],
      [T.help.keys, () => [h("table", {}, h("tbody", {}, ...keys.map(([k, t]) => h("tr", {}, h("td", {}, ...k.split(", ").flatMap((x, i) => [i ? ", " : "", h("kbd", {}, x)])), h("td", {}, t)))))]],
      [T.help.saving, () => [
        h("p", {}, T.help.savePageWritesThisPage),
        h("p", {}, T.help.aFileThatIsOlder)]],
      [T.help.workbooksAndLists, () => [
        h("p", {}, T.help.openTakesWorkbooksXlsxXlsm),
        h("p", {}, T.help.saveWorkbookWritesAFresh)]],
      ...[...new Set(text.columns.map((c) => c.sheet))].map((name) => [fill(T.help.columnsOfTheSheet, name), () => [table([T.help.column, T.help.unitOfABareNumber, T.help.meaning, T.help.alsoSpelt],
        text.columns.filter((c) => c.sheet === name).map((c) => [c.name, c.unit, c.help + (c.choices?.length ? fill(T.help.oneOf, c.choices.join(", ")) : "") + (c.result ? T.help.workedOut : ""), (c.also ?? []).slice(0, 4).join(", ")]), "cols")]]),
      [T.help.whatThisWasCheckedAgainst, () => evidence(JSON.parse(part("licences"))[2])],
      [T.help.aboutThisPage, () => [h("p", {}, fill(T.help.shimsheetTheGridIsDrawn, text.version)),
        h("details", {}, h("summary", {}, T.help.licencesInFull), ...JSON.parse(part("licences")).slice(0, 2).map((t) => h("pre", {}, t)))]],
    ];
    const made = sections.map(([title, content], i) => {
      const d = h("details", { id: "help-" + i, open: i < 2 }, h("summary", {}, title));
      const fillIn = () => { if (d.open && d.childElementCount === 1) d.append(...content()); };
      d.addEventListener("toggle", fillIn);
      fillIn();
      return d;
    });
    body.replaceChildren(...made);
  }

  return {
    help() {
      const body = $("help-body");
      if (!body.childElementCount) write(body);
      $("dlg-help").showModal();
      body.focus();
    },
  };
}
