// Package evaluate is what a job comes to: the rows of package job understood and worked out, coupling by coupling, as numbers, statuses and codes.
//
// Start with [NewEvaluator], [Evaluator.Run] and [Evaluator.Row]; row.go is the way of one row from top to bottom. Inside everything is SI: mm, mm/m, °C.
// One row never touches another, but for the name: a second row of the same name is not judged.
//
// The sheets Growth, Feet, Limits and Materials refine what a row of Machines gives; [Evaluator.Allocate] shares the stock out over the
// whole job. docs/sheets.md says how they work together.
//
// What is found out is a code with its values, a [words.Phrase], and a sentence only when somebody asks: nothing here makes one. Only names.go gives names in words, to things that nobody has named.
//
// Left out on purpose: the arithmetic (packages calc and packs), the reference values (package tables), what was typed and how it is kept (package job), what is said of results (package
// sentences), how they are handed on as columns, lists, CSV and JSON (package results), the look of things (the page).
package evaluate
