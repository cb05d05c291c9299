package results

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// pairKeys are the members of front and rear feet.
var pairKeys = [...]struct{ shim, uShim, move, uMove, pack, remove, uPack string }{
	{`,"front_shim_mm":`, `,"u_front_shim_mm":`, `,"front_move_mm":`, `,"u_front_move_mm":`, `,"front_pack_mm":`, `,"front_remove_mm":`, `,"u_front_pack_mm":`},
	{`,"rear_shim_mm":`, `,"u_rear_shim_mm":`, `,"rear_move_mm":`, `,"u_rear_move_mm":`, `,"rear_pack_mm":`, `,"rear_remove_mm":`, `,"u_rear_pack_mm":`},
}

// Rows writes results row by row: the objects that [WriteJSON] has in machines. It keeps memory from one row to the next.
type Rows struct {
	writer
	e     *sentences.Teller
	picks []evaluate.Picked
	why   []byte
	held  writtenLimits
}

// NewRows writes rows of e.
func NewRows(e *sentences.Teller) *Rows { return &Rows{writer: writer{memo: new(numberTexts)}, e: e} }

// Append appends row i's object; null for a row without a coupling.
func (j *Rows) Append(dst []byte, i int) []byte {
	r := j.e.Row(i)
	if r == nil || r.Kind != evaluate.MachineRow {
		return append(dst, "null"...)
	}
	j.b = dst
	j.row(r)
	return j.b
}

// row writes the object of a row.
func (j *Rows) row(r *evaluate.RowResult) {
	j.b = append(j.b, '{')
	j.members(r)
	j.shut('}')
}

// members writes what a row came to.
func (j *Rows) members(r *evaluate.RowResult) {
	c := &r.Calc
	if j.picks = j.e.HoldPacks(j.picks, r); j.picks != nil { // they are asked for many times below
		defer j.e.ReleasePacks(r)
	}
	j.str(`,"machine":`, r.Name)
	j.str(`,"verdict":`, r.Verdict.String())
	j.why = j.e.AppendWhy(j.why[:0], r)
	j.str(`,"why":`, string(j.why))
	j.int(`,"row":`, r.Row)
	j.str(`,"sheet":`, j.e.SheetName(job.MachinesSheet))
	j.str(`,"method":`, r.Method.String())
	j.bool(`,"method_inferred":`, r.MethodInferred)
	j.str(`,"coupling":`, r.Coupling.String())
	j.str(`,"mounting":`, job.ColMounting.Info().Choices[evaluate.AsInt(r.OnFlange)])
	j.num(`,"speed_rpm":`, r.Speed)
	if r.Stopped() {
		j.str(`,"status":`, words.ProblemNotComputed.Code())
	} else {
		j.str(`,"status":`, c.Status.Code())
	}
	j.str(`,"seen_from":`, job.ColSeenFrom.Info().Choices[evaluate.AsInt(r.FromStationary)])
	j.str(`,"side_3":`, r.Side3)
	j.str(`,"side_9":`, r.Side9)
	j.vector(&offsetKeys, &r.Offset)
	j.num(`,"offset_clock_deg":`, r.Offset.Clock())
	j.vector(&slopeKeys, &r.Slope)
	j.num(`,"slope_clock_deg":`, r.Slope.Clock())
	j.num(`,"share_of_limit_pct":`, c.Found.Share*100)
	j.num(`,"chance_inside_pct":`, c.Found.Chance*100)
	j.pairs(r)
	j.packs(r)
	j.num(`,"wanted_offset_v_mm":`, r.Wanted.DV)
	j.num(`,"wanted_offset_h_mm":`, r.Wanted.DH)
	j.num(`,"wanted_slope_v":`, r.Wanted.TV)
	j.num(`,"wanted_slope_h":`, r.Wanted.TH)
	j.wanted(r)
	j.feet(r)
	j.predicted(r)
	j.limits(r)
	j.rounds(r)
	j.history(r.Row - j.e.Job().Machines.SourceRow(0))
	j.axial(r)
	j.checks(r)
	j.record(r)
	j.sweeps(r)
	j.num(`,"misfit_ratio":`, c.Misfit)
	j.num(`,"residual_sd_mm":`, c.ResidualSD)
	j.num(`,"residual_limit_mm":`, c.ResidualLimit)
	j.problems(r.Problems)
	j.open(`,"hints":`, '[')
	for _, h := range r.Hints {
		j.str("", h.String())
	}
	j.shut(']')
}

// pairs writes shims, moves and packs of the front, the rear and the further feet.
func (j *Rows) pairs(r *evaluate.RowResult) {
	var unknown []float64
	for k, name := range pairKeys {
		f := r.Foot([...]int{r.Front, r.Rear}[k])
		none := calc.Foot{Station: nan, Shim: nan, UShim: nan, Move: nan, UMove: nan, Rounded: nan, MoveRounded: nan}
		if f == nil {
			f = &none
		}
		j.num(name.shim, f.Shim)
		j.num(name.uShim, f.UShim)
		j.num(name.move, f.Move)
		j.num(name.uMove, f.UMove)
		at := [...]int{r.Front, r.Rear}[k]
		j.pair(name.pack, r, at, false)
		j.pair(name.remove, r, at, true)
		j.num(name.uPack, j.e.PairPackU(r, at, &unknown))
	}
	further := func(key string, get func(k int, f *calc.Foot)) {
		j.open(key, '[')
		for _, i := range r.Further {
			if f := r.Foot(i); f != nil {
				get(i, f)
			}
		}
		j.shut(']')
	}
	further(`,"further_shims_mm":`, func(_ int, f *calc.Foot) { j.num("", f.Shim) })
	further(`,"u_further_shims_mm":`, func(_ int, f *calc.Foot) { j.num("", f.UShim) })
	further(`,"further_moves_mm":`, func(_ int, f *calc.Foot) { j.num("", f.Move) })
	further(`,"u_further_moves_mm":`, func(_ int, f *calc.Foot) { j.num("", f.UMove) })
	further(`,"further_packs_mm":`, func(k int, _ *calc.Foot) { j.pair("", r, k, false) })
	further(`,"further_removes_mm":`, func(k int, _ *calc.Foot) { j.pair("", r, k, true) })
	further(`,"u_further_packs_mm":`, func(k int, _ *calc.Foot) { j.num("", j.e.PairPackU(r, k, &unknown)) })
}

// predicted writes what the rounded packs and moves leave, the angles at the flex planes, and what is done at the bolts of a flange.
func (j *Rows) predicted(r *evaluate.RowResult) {
	c := &r.Calc
	var unknown []float64
	j.num(`,"after_offset_v_mm":`, c.After.DV)
	j.num(`,"after_offset_h_mm":`, c.After.DH)
	j.num(`,"after_offset_mm":`, math.Hypot(c.After.DV, c.After.DH))
	j.num(`,"after_slope_v":`, c.After.TV)
	j.num(`,"after_slope_h":`, c.After.TH)
	j.num(`,"after_slope":`, math.Hypot(c.After.TV, c.After.TH))
	j.num(`,"after_share_of_limit_pct":`, c.AfterJ.Share*100)
	j.num(`,"after_chance_inside_pct":`, c.AfterJ.Chance*100)
	if c.HasAfter {
		j.str(`,"after_verdict":`, r.AfterVerdict.String())
	} else {
		j.null(`,"after_verdict":`)
	}
	j.vector(&flexStationaryKeys, &c.Found.FlexS)
	j.vector(&flexMovableKeys, &c.Found.FlexM)
	j.num(`,"slide_v_mm":`, c.SlideV)
	j.num(`,"slide_h_mm":`, c.SlideH)
	j.nums(`,"bolt_shims_mm":`, c.BoltShims)
	j.open(`,"bolt_packs_mm":`, '[')
	for i := range c.BoltPacks {
		j.nums("", c.BoltPacks[i].Pieces)
	}
	j.shut(']')
	j.open(`,"u_bolt_packs_mm":`, '[')
	for i := range c.BoltPacks {
		j.num("", j.e.BoltPackU(&c.BoltPacks[i], &unknown))
	}
	j.shut(']')
	_, _, unknown = j.e.PacksKnown(r, true)
	j.nums(`,"tolerance_unknown_mm":`, unknown)
}

// sweeps writes what the checks found on each sweep.
func (j *Rows) sweeps(r *evaluate.RowResult) {
	c := &r.Calc
	j.open(`,"sweep_checks":`, '[')
	for k := range r.Sweeps {
		if k >= len(c.Checks) {
			break
		}
		j.open("", '{')
		j.str(`,"sweep":`, r.Sweeps[k].Name)
		j.int(`,"readings":`, r.Sweeps[k].Readings)
		j.num(`,"balance_mm":`, c.Checks[k].Balance)
		j.num(`,"balance_limit_mm":`, c.Checks[k].BalanceLimit)
		j.num(`,"closure_mm":`, c.Checks[k].Closure)
		j.num(`,"closure_limit_mm":`, c.Checks[k].ClosureLimit)
		j.num(`,"sag_at_6_mm":`, c.Checks[k].Sag)
		j.num(`,"misfit_ratio":`, c.Checks[k].Misfit)
		j.shut('}')
	}
	j.shut(']')
}

// writtenLimits is how the limits of a row were written.
type writtenLimits struct {
	limits evaluate.Used
	shares bool
	text   []byte
}

// limits writes the limits the row was held to. They are those of the row before more often than not, and then copied.
func (j *Rows) limits(r *evaluate.RowResult) {
	l, shares := &r.Limits, j.e.AddsShares(r)
	if w := &j.held; w.text == nil || w.limits != *l || w.shares != shares {
		j := writer{w.text[:0], j.memo}
		j.open("", '{')
		j.num(`,"offset_mm":`, l.Offset)
		j.num(`,"slope":`, l.Slope)
		j.str(`,"set":`, l.Set)
		j.num(`,"up_to_rpm":`, l.UpTo)
		if l.Set != "" {
			j.str(`,"source":`, l.Source.String())
		} else {
			j.null(`,"source":`)
		}
		j.bool(`,"own_set":`, l.Own)
		j.bool(`,"own_offset":`, l.OwnOffset)
		j.bool(`,"own_slope":`, l.OwnSlope)
		j.str(`,"reason":`, l.Reason)
		j.bool(`,"looser_used":`, l.LooserUsed)
		j.bool(`,"looser_refused":`, l.LooserRefused)
		alone := ""
		if l.Alone != nil {
			alone = l.Alone.String()
		}
		j.str(`,"not_compared":`, alone)
		j.bool(`,"shares_added":`, shares)
		j.shut('}')
		*w = writtenLimits{*l, shares, j.b}
	}
	j.key(`,"limits":`)
	j.b = append(j.b, j.held.text...)
}

// pair writes the pieces that go under each foot of pair k, or with remove those that make the amount to take out; null where the feet differ.
func (j *Rows) pair(key string, r *evaluate.RowResult, k int, remove bool) {
	f := r.Foot(k)
	if f == nil || math.IsNaN(f.Rounded) {
		j.null(key)
		return
	}
	var c packs.Change
	switch list, alike := j.e.PairPacks(r, k); {
	case r.Feet == nil && r.Stays():
		c = evaluate.PackChange(&f.Pack, f.Shim < 0, false)
	case r.Stays() && len(list) == 0: // nothing is done under its feet
	case !alike || len(list) < 2:
		j.null(key)
		return
	default:
		c = list[0].Change
	}
	out := len(c.Take) > 0 || c.Status == packs.ChangeUnlisted
	switch {
	case out != remove, out && len(c.Put) > 0:
		j.null(key)
	case c.Status == packs.ChangeUnlisted:
		j.nums(key, c.Pieces)
	case out:
		j.nums(key, c.Take)
	default:
		j.nums(key, evaluate.NewPieces(&c))
	}
}

// packs writes what is done under each foot of the row, and where that comes from.
func (j *Rows) packs(r *evaluate.RowResult) {
	if s := j.e.PacksFromWord(r); s != "" {
		j.str(`,"packs_from":`, s)
	} else {
		j.null(`,"packs_from":`)
	}
	j.bool(`,"packs_together":`, r.Together)
	j.open(`,"packs":`, '[')
	packs := j.e.PacksOf(r)
	for k := range packs {
		p := &packs[k]
		j.open("", '{')
		j.str(`,"foot":`, p.Foot)
		j.num(`,"shim_mm":`, p.Wanted)
		if p.Made {
			j.str(`,"pick":`, p.Pick.Status.String())
		} else {
			j.null(`,"pick":`)
		}
		j.change(&p.Change, p.Made, p.Listed, p.InPlace)
		j.shut('}')
	}
	j.shut(']')
}
