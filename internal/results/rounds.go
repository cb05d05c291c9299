package results

import (
	"shimsheet/internal/evaluate"
)

// rounds writes the rounds and the state. All rounds are there, struck ones too.
func (j *Rows) rounds(r *evaluate.RowResult) {
	j.str(`,"state":`, r.StateWord().Code())
	j.str(`,"stage":`, evaluate.StageOf(r).Word().Code())
	j.open(`,"rounds":`, '[')
	for k := range r.Rounds {
		o := &r.Rounds[k]
		j.open("", '{')
		j.str(`,"round":`, o.Name)
		j.int(`,"row":`, o.Row)
		j.str(`,"when":`, o.When)
		j.str(`,"by":`, o.By)
		j.str(`,"temperature":`, o.Temperature)
		j.str(`,"instrument":`, o.Instrument)
		j.str(`,"packs_in_place":`, o.Packs)
		j.str(`,"done":`, o.Done)
		j.str(`,"struck":`, o.Struck)
		j.str(`,"verdict":`, o.Verdict.String())
		j.str(`,"why":`, o.Why.String())
		j.vector(&offsetKeys, &o.Offset)
		j.vector(&slopeKeys, &o.Slope)
		if p := &o.Predicted; evaluate.Known(p.DV + p.TV + p.DH + p.TH) {
			j.open(`,"predicted":`, '{')
			j.line(p)
			j.shut('}')
		} else {
			j.null(`,"predicted":`)
		}
		j.open(`,"missed_mm":`, '[')
		for _, f := range o.Missed {
			j.open("", '{')
			j.str(`,"foot":`, f.Foot)
			j.num(`,"v":`, f.V)
			j.num(`,"h":`, f.H)
			j.shut('}')
		}
		j.shut(']')
		j.shut('}')
	}
	j.shut(']')
}

// history writes what older jobs say of a row; nothing where there are none.
func (j *Rows) history(i int) {
	if !j.e.HasHistory() {
		return
	}
	j.open(`,"history":`, '[')
	for _, p := range j.e.History(i) {
		j.open("", '{')
		j.str(`,"file":`, p.File)
		j.str(`,"when":`, p.When)
		j.str(`,"round":`, p.Round)
		j.str(`,"now":`, p.Now)
		j.str(`,"why":`, p.Why.String())
		j.vector(&offsetKeys, &p.Offset)
		j.vector(&slopeKeys, &p.Slope)
		j.num(`,"offset_beyond_mm":`, evaluate.Beyond(&p.Offset))
		j.num(`,"slope_beyond":`, evaluate.Beyond(&p.Slope))
		j.shut('}')
	}
	j.shut(']')
	if d, ok := j.e.Drift(i); ok {
		j.open(`,"drift":`, '{')
		j.int(`,"times":`, d.Times)
		j.num(`,"years":`, d.Years)
		j.num(`,"offset_v_mm_a_year":`, d.V)
		j.num(`,"u_offset_v_mm_a_year":`, d.UV)
		j.num(`,"offset_h_mm_a_year":`, d.H)
		j.num(`,"u_offset_h_mm_a_year":`, d.UH)
		j.num(`,"sd_v_mm":`, d.SV)
		j.num(`,"sd_h_mm":`, d.SH)
		j.shut('}')
	} else {
		j.null(`,"drift":`)
	}
}
