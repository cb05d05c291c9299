package desk

import (
	"math"
	"strings"

	"shimsheet/internal/calculators"
	"shimsheet/internal/tables"
)

// CalcSettings is what the calculators take from the job.
func (d *Desk) CalcSettings() calculators.Settings {
	return calculators.Settings{Inch: d.ev.Inch(), Decimal: d.ev.Decimal(), Material: d.calcMaterial}
}

// calcMaterial finds a material: the job's own first.
func (d *Desk) calcMaterial(name string) (calculators.Material, bool) {
	m := tables.FindMaterial(name)
	own := d.ev.Materials()
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
