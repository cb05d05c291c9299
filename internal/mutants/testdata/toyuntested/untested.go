// Package toyuntested stands above toy, without tests.
package toyuntested

import "shimsheet/internal/mutants/testdata/toy"

// Eightfold is eight times x.
func Eightfold(x float64) float64 { return toy.Doubled(toy.Doubled(toy.Doubled(x))) }
