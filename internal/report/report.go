package report

import (
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// Options say how a drawing is to come out. The zero value is good.
type Options struct {
	// Width of the drawing in CSS pixels (96 to the inch); 0: 760. It is laid out anew for its width, with letters of the same size, so hand
	// in the width of the place it goes to. Held to 280 … 2400.
	Width float64

	// Prefix begins every id in the drawing. Give each drawing on one page its own. "": "d". Anything but ASCII letters, digits, - and _ is
	// left out.
	Prefix string

	// Bare leaves out the heading and what stands beside the drawing anyway, where its place has them: so far only of [WhatToDo].
	Bare bool

	// Standalone adds the XML namespace's file form: an XML declaration and the style sheet, for a file of its own.
	Standalone bool
}

// CSS is a style sheet for the drawings' classes: the page's blue and brown, which colour-blind people can tell apart, with dark and
// high-contrast forms. In print everything is black. Drawings are complete without it.
const CSS = `.d-draw{color:inherit;max-width:100%;height:auto}
.d-found,.d-curve,.d-mark,.d-offset{color:#0b5cad}
.d-after,.d-do,.d-odd,.d-slope{color:#8f3a00}
.d-soft,.d-dim,.d-lead,.d-axis{color:#434c57}
@media (prefers-color-scheme:dark){.d-auto .d-found,.d-auto .d-curve,.d-auto .d-mark,.d-auto .d-offset{color:#7db8f5}.d-auto .d-after,.d-auto .d-do,.d-auto .d-odd,.d-auto .d-slope{color:#f0a878}.d-auto .d-soft,.d-auto .d-dim,.d-auto .d-lead,.d-auto .d-axis{color:#c3cad3}}
@media (forced-colors:active){.d-draw *{color:CanvasText}}
@media print{.d-draw *{color:#000}}`

// Machine appends the drawing of row's coupling: a side view and a top view with the line found, the wanted line, the line predicted after the
// work, the limits and the uncertainty, exaggerated by a stated scale; what to do at each foot, in the sheet's words; distances. A spacer
// coupling shows its spool and both flex planes, a machine on a flange its bolt circle with the shim at each bolt.
//
// row is the index of the row in the Machines sheet, as in [evaluate.Evaluator.Row]. What the row lacks is left out and named. For a row
// without a coupling the drawing says so.
//
// x runs to the right from the coupling to the movable machine, so the side view is seen from the 9 o'clock side, and in the top view 3
// o'clock is up: standing behind the movable machine and looking at the coupling, 3 o'clock is on the right.
func Machine(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	return machine(dst, ev, row, opt)
}

// Sweeps appends a plot for each sweep of the row: readings (the sag of the bracket taken off) over the clock position, the curve
// c + a·cos φ + b·sin φ that the row's line stands for, the residuals, and in words which reading stands out.
func Sweeps(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	return sweeps(dst, ev, row, opt)
}

// Overview appends the list as one drawing: a line a machine, the largest share of a limit first, a circle for the offset and a diamond for
// the slope (spacer couplings: the larger angle of the two flex planes) on one axis of shares of the limit, bars for the uncertainty (k = 2)
// and the verdict in words. Machines that are not judged stand at the end with the reason. rows are indices of rows to show, in any order;
// nil: all. Each machine is a group with class d-row and data-row, the index of its row. More than 60 machines are set closer.
func Overview(dst []byte, ev *sentences.Teller, rows []int, opt Options) []byte {
	return overview(dst, ev, rows, opt)
}

// Histogram appends how large the corrections of the list are: front shims, rear shims and sideways moves by magnitude, in bins of the job's
// unit, each bar with its count. rows as in [Overview].
func Histogram(dst []byte, ev *sentences.Teller, rows []int, opt Options) []byte {
	return histogram(dst, ev, rows, opt)
}

// ClockFigure appends the help drawing of the clock: where to stand, and what 12, 3, 6 and 9 o'clock are. side3 and side9 are the names of
// the sides; "" leaves them out.
func ClockFigure(dst []byte, side3, side9 string, opt Options) []byte {
	return clockFigure(dst, side3, side9, opt)
}

// ClockAt appends a clock with a hand at an angle, degrees from 12 through 3: where the dial is read that is asked for.
func ClockAt(dst []byte, angle float64, opt Options) []byte { return clockAt(dst, angle, opt) }

// MethodFigure appends the help drawing of a method: how dial and bracket sit, and which distances are measured, by the names of their
// columns. MethodBlank gives the sketch of the distances that every method needs.
func MethodFigure(dst []byte, m job.Method, opt Options) []byte {
	return methodFigure(dst, m, opt)
}
