// Package packs makes thicknesses up from the shims there are: the pack under one foot, the two of a foot pair chosen together, and the stock of a whole job
// shared out over all feet.
//
// Start with [NewPacker] or [NewStockPacker] and [Packer.Pack] or, with pieces in place, [Packer.Change]; [Allocate] shares a counted stock out and says what
// has to be ordered. [Packer.Uncertainty] is what the tolerance of the pieces leaves uncertain.
//
// Thicknesses are mm outside and whole nanometres inside, so that sums are exact. Nothing here knows of shafts: what the packs do to a line is
// calc's, and why a foot wants a thickness is for those who ask.
package packs
