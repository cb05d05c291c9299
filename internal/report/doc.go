// Package report draws: what a job says about its couplings, as dimensioned line drawings in SVG text.
//
// Start with [Machine] for one coupling, [WhatToDo] for what is done at its feet, [Rounds] for how it came there, [Sweeps] for its readings, [FeetPlan] and [GrowthFigure] for what the
// sheets Feet and Growth hold of it, [Train] for a whole train, [Overview] and [Histogram] for the list, [ClockFigure] and [MethodFigure] for the help, [CardSketch], [ClockAt] and [Code] for
// cards and One by one. Each appends one complete svg element to a byte slice. The same bytes stand in the page, in print and in a
// file on its own (with [Options.Standalone]); equal input gives equal bytes.
//
// Words come first, then shapes, dashes and hatching; no fact is carried by colour. The line types are those of technical drawing
// (ISO 128-2, from memory): a long-dashed dotted line for a centre line, a thin continuous line for dimensions with arrowheads (ISO 129-1,
// from memory), a dashed line for what is not there yet. Everything is drawn in currentColor unless the style sheet says otherwise, so it
// prints in black. Every drawing has role img, a title and a desc in words that say what the drawing says.
//
// Classes. The presentation attributes in the drawing are enough; a style sheet may change them by class. [CSS] is one such sheet.
//
//	d-draw      the svg element of every drawing
//	d-auto      for a page to put around drawings that are to follow a dark theme
//	d-text      words and numbers                      d-soft      words of less weight
//	d-head      headings                               d-num       numbers that say what to do
//	d-paper     the ground behind a drawing            d-body      outlines of machines, hubs, feet, brackets
//	d-ground    the base the feet stand on             d-datum     centre line of the stationary shaft
//	d-wanted    the wanted line                        d-found     the line as found
//	d-after     the line predicted after the work      d-band      the uncertainty around the line found, k = 2
//	d-limit     limits: outlines                       d-hatch     limits: hatching
//	d-spool     the spool of a spacer coupling         d-do        arrows that say what to move, shims that go in
//	d-dim       dimension lines and their arrowheads   d-lead      leaders from a word to its place
//	d-axis      axes and their ticks                   d-grid      thin lines across a plot
//	d-curve     the fitted curve of a sweep            d-mark      a reading
//	d-raw       sag not taken off; shims that come out     d-odd       the reading that stands out
//	d-res       residuals                              d-bar       bars of a histogram
//	d-offset    the mark of an offset                  d-slope     the mark of a slope or an angle
//	d-rock      the diagonal a machine rocks on
//	d-code      the modules of a code
//	d-pm        bars of uncertainty                    d-row       the group of one machine in a list, with data-row
//	d-hit       what takes the pointer for a row
//	d-inside, d-outside, d-close, d-not   beside d-row: the verdict
//
// Left out on purpose: arithmetic on readings (package calc), the wording of units and sides (package sentences), paper and pages.
package report
