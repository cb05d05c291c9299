// Package calculators is the small calculations beside the sheet: bolts, beams, expansion, units and the like, each for one set of values in a form and for many
// pasted at once.
//
// Start with [All] or [Find], then [Calculator.Row] or [Calculator.Batch]. Every one bears its formula, a worked example with its source, and its cautions. Cells are
// read as those of the sheets are (package job); what occurs in no sheet, such as a density, has its units here.
package calculators
