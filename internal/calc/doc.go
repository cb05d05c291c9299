// Package calc is the arithmetic of aligning two coupled shafts: pure functions on plain numbers, millimetres and mm/m inside.
//
// Start with [Solve], which takes the readings of one row ([Input]) to the line of the movable shaft with its covariance, the
// corrections at the feet, the line predicted after the packs that package packs makes for them, and the verdict with its chance ([Result]).
// [Diagnose] says which reading or slip would explain a failed check.
//
// Left out on purpose: text, units and wording (packages job and sentences), the reference values themselves (package tables), and moving both
// machines of a train.
package calc
