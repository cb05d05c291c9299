// Package results hands on what a job came to: the columns of results as text and as numbers, the list with its results behind it as CSV, all results as JSON, a table
// for a terminal, and the lists of the job (what to pick, what to order, feet, moves, board, history). Command, page, workbook, stream and handler take them from here.
//
// Start with [WriteJSON], [WriteCSV], [WriteTable], [NewList]; [Rows] and [Feed] write row by row; [Text] and [Number] give one result.
//
// Left out on purpose: working anything out, and the sentences (package sentences), and how a workbook or a screen looks.
package results

import "math"

var nan = math.NaN()
