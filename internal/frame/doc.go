// Package frame is the page around the sheet, without the browser: what the buttons, tabs and keys do, which screen is shown, what stands in the line at the foot, how far the job
// is saved, which safety copies there are to go on with, and when rows that wait are worked out. It asks package desk for everything about the job, and a [Browser] for everything that
// is to be seen, so that it is tested without one; cmd/wasm/page is the only other room that a browser's event passes through.
//
// Left out: the drawing of cells (a library of the page's, to which web/grid.js is the glue), and what the browser itself has to do with bytes: storage, streams, workers.
package frame
