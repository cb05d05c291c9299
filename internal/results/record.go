package results

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/units"
)

// record writes the signature that speaks for the machine and all rows of the Record sheet that name it.
func (j *Rows) record(r *evaluate.RowResult) {
	by, at, digest := "", "", ""
	for k := range r.Record {
		if s := &r.Record[k]; s.Signs() && s.State == r.Signed {
			by, at, digest = s.By, s.At, s.Digest
		}
	}
	j.str(`,"signed_by":`, by)
	j.str(`,"signed_at":`, at)
	j.str(`,"digest":`, digest)
	j.bool(`,"changed_since_signed":`, r.Signed == evaluate.SignFailed)
	j.open(`,"record":`, '[')
	for k := range r.Record {
		j.recordRow(&r.Record[k])
	}
	j.shut(']')
}

func (j *writer) recordRow(s *evaluate.RecordRow) {
	j.open("", '{')
	j.int(`,"row":`, s.Row)
	j.str(`,"machine":`, s.Machine)
	j.str(`,"state":`, s.State.Word().Code())
	for _, f := range [...][2]string{{"role", s.Role}, {"signed_by", s.By}, {"signed_at", s.At}, {"result", s.Result}, {"deviation", s.Deviation}, {"allowed_by", s.AllowedBy}, {"instrument", s.Instrument},
		{"certificate", s.Certificate}, {"due", s.Due}, {"photo", s.Photo}, {"signature", s.Signature}, {"note", s.Note}, {"digest", s.Digest}, {"why", s.Why.String()}} {
		if f[1] != "" {
			j.str(memberName(f[0]), f[1])
		}
	}
	j.shut('}')
}

// checks writes the checks of the Checks sheet. Lengths are in mm, torques in N·m; what was typed stands beside them.
func (j *Rows) checks(r *evaluate.RowResult) {
	j.open(`,"checks":`, '[')
	for k := range r.Checks {
		c := &r.Checks[k]
		j.open("", '{')
		j.str(`,"check":`, c.Name)
		j.int(`,"row":`, c.Row)
		j.num(`,"value":`, c.Value)
		j.num(`,"limit":`, c.Limit)
		j.str(`,"unit":`, [...]string{units.Length: "mm", units.Torque: "N·m"}[c.Kind])
		j.str(`,"value_text":`, c.Text)
		j.str(`,"source":`, c.Source.String())
		j.str(`,"by":`, c.By)
		j.str(`,"when":`, c.When)
		j.str(`,"state":`, c.State.String())
		j.bool(`,"failed":`, c.State == evaluate.CheckFailed)
		j.bool(`,"hold":`, c.Hold)
		j.shut('}')
	}
	j.shut(']')
}

// axial writes the gap.
func (j *Rows) axial(r *evaluate.RowResult) {
	x := r.Axial
	if x == nil {
		x = &evaluate.Axial{Gap: calc.ShaftGap{Found: nan, Wanted: nan, Tolerance: nan, Float: nan, Mark: nan}}
		x.Forecast = x.Gap.After(calc.Line{}, calc.Line{})
	}
	g, f := &x.Gap, &x.Forecast
	j.num(`,"gap_mm":`, g.Found)
	j.num(`,"gap_wanted_mm":`, g.Wanted)
	j.num(`,"gap_tolerance_mm":`, g.Tolerance)
	j.num(`,"gap_after_mm":`, f.After)
	j.num(`,"gap_after_least_mm":`, f.Least)
	j.num(`,"gap_after_most_mm":`, f.Most)
	j.num(`,"gap_push_mm":`, f.Axial)
	if f.Verdict == calc.NotJudged {
		j.null(`,"gap_verdict":`)
	} else {
		j.str(`,"gap_verdict":`, f.Verdict.String())
	}
	j.num(`,"end_float_mm":`, g.Float)
	j.num(`,"running_mark_mm":`, g.Mark)
}
