// Package toyabove stands above toy, and half of what it promises is toy's.
package toyabove

import "shimsheet/internal/mutants/testdata/toy"

// Outside says whether x has reached the limit.
func Outside(x, limit float64) bool { return !toy.Inside(x, limit) }

// Fourfold is four times x.
func Fourfold(x float64) float64 { return toy.Doubled(toy.Doubled(x)) }
