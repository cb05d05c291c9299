package results

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
)

// feet writes the single feet and the soft foot.
func (j *Rows) feet(r *evaluate.RowResult) {
	j.open(`,"feet":`, '[')
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			j.open("", '{')
			j.str(`,"foot":`, f.Name)
			j.int(`,"row":`, f.Row)
			j.num(`,"station_mm":`, f.Station)
			j.num(`,"across_mm":`, f.Across)
			j.num(`,"align_mm":`, f.Align)
			j.num(`,"u_align_mm":`, f.UAlign)
			j.num(`,"soft_mm":`, f.Soft)
			j.num(`,"shim_mm":`, f.Wanted)
			j.change(&f.Change, f.HasStock, f.Listed, f.InPlace)
			j.num(`,"u_pack_mm":`, j.e.FootPackU(f, new([]float64)))
			j.num(`,"room_up_mm":`, f.Room.Up)
			j.num(`,"room_down_mm":`, f.Room.Down)
			j.num(`,"room_left_mm":`, f.Room.Left)
			j.num(`,"room_right_mm":`, f.Room.Right)
			j.shut('}')
		}
	}
	j.shut(']')
	if r.Feet == nil || !r.Feet.HasSoft {
		j.null(`,"soft_foot":`)
		return
	}
	s := &r.Feet.Soft
	j.open(`,"soft_foot":`, '{')
	j.str(`,"status":`, s.Status.Code())
	j.num(`,"limit_mm":`, r.Feet.Limit)
	if s.Status == calc.SoftOK {
		j.str(`,"pattern":`, s.Pattern.String())
		j.open(`,"feet":`, '[')
		for _, k := range s.Off {
			j.str("", r.Feet.Feet[k].Name)
		}
		j.shut(']')
		j.bool(`,"sure":`, s.Sure)
		j.num(`,"decided_mm":`, s.Decided)
		j.num(`,"u_decided_mm":`, s.UDecided)
		j.bool(`,"from_gaps":`, s.FromGaps)
		j.num(`,"total_mm":`, s.Total)
		j.num(`,"least_total_mm":`, s.Bound)
		j.bool(`,"piping_pulls":`, s.Pull)
		j.num(`,"piping_change_mm":`, s.PullLargest)
		j.open(`,"tapers":`, '[')
		for k := range s.Feet {
			x := &s.Feet[k]
			if !x.Angled {
				continue
			}
			j.open("", '{')
			j.str(`,"foot":`, r.Feet.Feet[k].Name)
			j.num(`,"taper_along_mm":`, x.TaperAlong)
			j.num(`,"taper_across_mm":`, x.TaperAcross)
			j.num(`,"slope_along":`, x.SlopeAlong)
			j.num(`,"slope_across":`, x.SlopeAcross)
			j.str(`,"opens":`, x.Open.String())
			j.bool(`,"machining":`, x.Machine)
			j.open(`,"steps":`, '[')
			for _, st := range x.Steps {
				j.open("", '{')
				j.num(`,"thickness_mm":`, st.Thickness)
				j.num(`,"share":`, st.Share)
				j.shut('}')
			}
			j.shut(']')
			j.shut('}')
		}
		j.shut(']')
	}
	j.shut('}')
}

// change writes what is done under a foot.
func (j *writer) change(c *packs.Change, has, listed bool, in []float64) {
	list := func(k string, ok bool, v []float64) {
		if ok {
			j.nums(k, v)
		} else {
			j.null(k)
		}
	}
	list(`,"in_place_mm":`, listed, in)
	if !has {
		j.null(`,"status":`)
		return
	}
	j.str(`,"status":`, c.Status.Code())
	out := c.Status == packs.ChangeUnlisted
	list(`,"pack_mm":`, !out && listed, c.Pieces)
	list(`,"keep_mm":`, listed, c.Keep)
	if out {
		j.nums(`,"take_mm":`, c.Pieces)
	} else {
		j.nums(`,"take_mm":`, c.Take)
	}
	j.nums(`,"put_mm":`, c.Put)
	j.num(`,"net_mm":`, c.Net)
	j.num(`,"error_mm":`, c.Error)
	j.num(`,"shortfall_mm":`, c.Shortfall)
}
