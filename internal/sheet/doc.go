// Package sheet is the job: what people typed, sheet by sheet, what it means, and what comes out of it for every coupling.
//
// Start with [NewJob] or [ReadDelimited] and [Table.SplitHeader] to get a [Job], then [NewEvaluator], [Evaluator.Run] and
// [Evaluator.Row]. [Columns] is the one table of columns: reading, the printed reference, the help in the page and the header
// block to copy all use it. [Job.MarshalJSON] keeps a job with every typed text as it was.
//
// A cell's unit is its own, else that of its column's header, else the job's. Inside and in JSON everything is SI: mm, mm/m, °C.
// One row never touches another, but for the name: a second row of the same name is not judged.
//
// The sheets Growth, Feet, Limits and Materials refine what a row of Machines gives; [Evaluator.Allocate] shares the stock out over the
// whole job. docs/sheets.md says how they work together.
//
// Left out on purpose: the arithmetic (package calc), the reference values (package tables), the look of things (the page), files
// other than delimited text and JSON.
package sheet
