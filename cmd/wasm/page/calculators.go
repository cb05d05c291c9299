//go:build js && wasm

package main

import (
	"math"
	"strings"

	"shimsheet/internal/sheet"
	"shimsheet/internal/tables"
)

// CalcSettings is what the calculators take from the job.
func (a *app) CalcSettings() sheet.CalcSettings {
	return sheet.CalcSettings{Inch: a.ev.Inch(), Decimal: a.ev.Decimal(), Material: a.calcMaterial}
}

// calcMaterial finds a material: the job's own first.
func (a *app) calcMaterial(name string) (sheet.Material, bool) {
	m := tables.FindMaterial(name)
	own := a.ev.Materials()
	for i := range own {
		if strings.EqualFold(strings.TrimSpace(own[i].Name), strings.TrimSpace(name)) {
			m = &own[i]
		}
	}
	if m == nil {
		return sheet.Material{}, false
	}
	return sheet.Material{Expansion: m.Alpha, Mean: m.MeanBetween, Modulus: math.NaN(), Density: math.NaN(), Source: m.Source}, true
}
