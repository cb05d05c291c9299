//go:build js && wasm

package main

import (
	"math"
	"strings"

	"shimsheet/internal/calculators"
	"shimsheet/internal/tables"
)

// CalcSettings is what the calculators take from the job.
func (a *app) CalcSettings() calculators.Settings {
	return calculators.Settings{Inch: a.ev.Inch(), Decimal: a.ev.Decimal(), Material: a.calcMaterial}
}

// calcMaterial finds a material: the job's own first.
func (a *app) calcMaterial(name string) (calculators.Material, bool) {
	m := tables.FindMaterial(name)
	own := a.ev.Materials()
	for i := range own {
		if strings.EqualFold(strings.TrimSpace(own[i].Name), strings.TrimSpace(name)) {
			m = &own[i]
		}
	}
	if m == nil {
		return calculators.Material{}, false
	}
	return calculators.Material{Expansion: m.Alpha, Mean: m.MeanBetween, Modulus: math.NaN(), Density: math.NaN(), Source: m.Source}, true
}
