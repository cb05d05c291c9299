package results

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// wanted writes where the wanted line comes from: how sure it is, what the dials should read, what grows.
func (j *Rows) wanted(r *evaluate.RowResult) {
	from, cov := r.WantedBy()
	u := func(k int) float64 {
		if math.IsNaN(r.Wanted.DV) {
			return nan
		}
		return 2 * math.Sqrt(math.Max(cov[k][k], 0))
	}
	j.num(`,"u_wanted_offset_v_mm":`, u(0))
	j.num(`,"u_wanted_offset_h_mm":`, u(2))
	j.num(`,"u_wanted_slope_v":`, u(1))
	j.num(`,"u_wanted_slope_h":`, u(3))
	if math.IsNaN(r.Wanted.DV) {
		j.null(`,"wanted_from":`)
	} else {
		j.str(`,"wanted_from":`, from.String())
	}
	j.open(`,"wanted_readings":`, '[')
	for _, w := range j.e.WantedReadings(r) {
		j.open("", '{')
		j.str(`,"sweep":`, w.Sweep)
		for k, key := range [...]string{`,"at_12_mm":`, `,"at_3_mm":`, `,"at_6_mm":`, `,"at_9_mm":`} {
			if k < len(w.Readings) {
				j.num(key, w.Readings[k].Zeroed)
			}
		}
		j.shut('}')
	}
	j.shut(']')
	if r.Growth == nil {
		j.null(`,"growth":`)
		return
	}
	j.open(`,"growth":`, '{')
	if g := r.Growth; g.Measured {
		line := func(of string, l *calc.Line) {
			j.num(memberName(of+"_offset_v_mm"), l.DV)
			j.num(memberName(of+"_offset_h_mm"), l.DH)
			j.num(memberName(of+"_slope_v"), l.TV)
			j.num(memberName(of+"_slope_h"), l.TH)
		}
		line("change", &g.Change)
		line("u_change", &g.UChange)
		if g.BySets {
			j.bool(`,"cold_set_is_found":`, g.FromFound)
			line("cold", &g.Cold)
			line("hot", &g.Hot)
		}
	} else {
		j.open(`,"supports":`, '[')
		for i := range g.Supports {
			s := &g.Supports[i]
			j.open("", '{')
			j.str(`,"support":`, s.Name)
			j.bool(`,"growth_sheet":`, s.Sheet)
			j.num(`,"station_mm":`, s.Station)
			j.num(`,"growth_v_mm":`, s.V)
			j.num(`,"u_growth_v_mm":`, s.UV)
			j.num(`,"growth_h_mm":`, s.H)
			j.num(`,"u_growth_h_mm":`, s.UH)
			j.num(`,"columns_growth_v_mm":`, s.ColumnV)
			j.num(`,"columns_growth_h_mm":`, s.ColumnH)
			j.shut('}')
		}
		j.shut(']')
		j.open(`,"parts":`, '[')
		for i := range g.Parts {
			p := &g.Parts[i]
			j.open("", '{')
			j.int(`,"row":`, p.Row)
			j.str(`,"support":`, job.GrowthSupport.Info().Choices[p.Support])
			j.str(`,"part":`, p.Part)
			j.num(`,"height_mm":`, p.Height)
			j.str(`,"direction":`, job.GrowthDirection.Info().Choices[(p.Side+3)%3])
			j.str(`,"material":`, p.Material)
			j.bool(`,"own_material":`, p.OwnMaterial)
			j.num(`,"coefficient_1e6_per_k":`, p.Alpha)
			j.str(`,"source":`, p.Source.String())
			j.num(`,"cold_c":`, p.Cold)
			j.num(`,"running_c":`, p.Running)
			j.num(`,"growth_v_mm":`, p.V)
			j.num(`,"growth_h_mm":`, p.H)
			j.shut('}')
		}
		j.shut(']')
	}
	j.shut('}')
}
