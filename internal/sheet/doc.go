// Package sheet is what a job comes to: the rows of package job understood and worked out, coupling by coupling, and what is said of them in words.
//
// Start with [NewEvaluator], [Evaluator.Run] and [Evaluator.Row]. Inside everything is SI: mm, mm/m, °C.
// One row never touches another, but for the name: a second row of the same name is not judged.
//
// The sheets Growth, Feet, Limits and Materials refine what a row of Machines gives; [Evaluator.Allocate] shares the stock out over the
// whole job. docs/sheets.md says how they work together.
//
// Left out on purpose: the arithmetic (packages calc and packs), the reference values (package tables), what was typed and how it is kept (package job), how
// results are handed on as columns, lists, CSV and JSON (package results), the look of things (the page).
package sheet
