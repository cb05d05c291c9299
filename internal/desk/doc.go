// Package desk is the page's program without the browser: the job that lies open, its sheets as they are edited and shown, undo, what is worked out in the
// background, what is saved and brought back, and the screens in Go.
//
// Everything is asked by name. The page's scripts call an operation with texts, numbers, yes or no, and bytes, and get a text: JSON, but for the viewport's
// cells and the records of the safety copy, which are plain. Desk.Answer is that door, operations.go is the table of what can be asked, and tests go in by the same door.
//
// It draws nothing and computes nothing itself: package grid has the rules of editing, package evaluate the meaning and the numbers, package screens what the
// screens in Go show. Of the browser it knows nothing: what is measured, drawn or stored there is the scripts' business.
package desk
