package sheet

import (
	"io"
	"math"
	"sync"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

func (j *js) problem(p *job.Problem) {
	j.open("", '{')
	j.str(`,"severity":`, p.Severity.String())
	if p.File != "" {
		j.str(`,"file":`, p.File)
	}
	j.str(`,"sheet":`, p.Sheet)
	if p.Row > 0 {
		j.int(`,"row":`, p.Row)
	}
	if p.Column != "" {
		j.str(`,"column":`, p.Column)
	}
	j.str(`,"text":`, p.Text)
	if p.Hint != "" {
		j.str(`,"hint":`, p.Hint)
	}
	j.shut('}')
}

func (j *js) problems(list []job.Problem) {
	j.open(`,"problems":`, '[')
	for i := range list {
		j.problem(&list[i])
	}
	j.shut(']')
}

// pages are the memory that results are written in on their way to a writer.
var pages = sync.Pool{New: func() any {
	b := make([]byte, 0, 1<<16)
	return &b
}}

// memos are memory for the numbers of a writing; each begins empty.
var memos = sync.Pool{New: func() any { return new(numberTexts) }}

// ResultsJSON writes the results of every coupling:
//
//	{"job":{…}, "machines":[{"machine":…, "verdict":…, …}, …], "problems":[…], "cautions":[…]}
//
// Always SI: mm, mm/m, °C, rpm. Numbers are exact to the last bit, a number that does not exist is null. offset_ and slope_ are the line as
// found; wanted_ is where it should stand cold; after_ is what the rounded packs and moves are predicted to leave. u_ is the expanded
// uncertainty, k = 2; u_…pack_mm is what the tolerance of the pieces put in or taken out makes of it, and tolerance_unknown_mm lists the thicknesses of
// pieces whose tolerance is not known. feet holds the single feet of the Feet sheet, and soft_foot what they say; growth what the wanted line rests on. stock_plan,
// pick_list and order_list are there once [Evaluator.Allocate] was called; until then packs are those of a full box, and packs_from says which they are. A pack is
// null where shims come out, then remove_ holds the pieces that make the amount; and where the feet of the pair do not all get the same pieces: packs has them foot
// by foot.
func (e *Evaluator) ResultsJSON(w io.Writer) error {
	page := pages.Get().(*[]byte)
	if e.numbers == nil {
		e.numbers = memos.Get().(*numberTexts)
		*e.numbers = numberTexts{}
		defer func() {
			memos.Put(e.numbers)
			e.numbers = nil
		}()
	}
	j := js{(*page)[:0], e.numbers}
	defer func() {
		if *page = j.b[:0]; cap(j.b) <= 1<<18 {
			pages.Put(page)
		}
	}()
	j.open("", '{')
	j.open(`,"job":`, '{')
	j.str(`,"id":`, e.job.ID)
	j.int(`,"revision":`, e.job.Revision)
	j.str(`,"saved_at":`, e.job.SavedAt)
	for _, c := range []job.ColumnID{job.SettingName, job.SettingSite, job.SettingDate, job.SettingPeople} {
		j.str(memberName(c.Info().Key), e.Setting(c.Info().Key))
	}
	j.str(`,"units":`, job.SettingUnits.Info().Choices[map[bool]int{true: 1}[e.set.inch]])
	j.num(`,"cold_temperature_c":`, e.set.cold)
	j.str(`,"default_coupling":`, e.set.coupling.String())
	j.str(`,"default_limits":`, e.set.limits)
	m, v := e.Count()
	j.int(`,"machines":`, m)
	j.open(`,"verdicts":`, '{')
	for k, n := range v {
		j.int(memberName(calc.Verdict(k).String()), n)
	}
	j.shut('}')
	j.shut('}')
	j.open(`,"machines":`, '[')
	first := true
	for i := range e.dirty {
		r := e.Row(i)
		if r.Kind != MachineRow {
			continue
		}
		if !first {
			j.b = append(j.b, ',', '\n')
		}
		first = false
		e.rowJSON(&j, r)
		if len(j.b) > 1<<16 {
			if _, err := w.Write(j.b); err != nil {
				return err
			}
			j.b = j.b[:0]
		}
	}
	if len(j.b) == 0 { // keep the writer's look at its last sign true after a flush
		j.b = append(j.b, '\n')
	}
	j.shut(']')
	e.trainsJSON(&j)
	e.allocationJSON(&j)
	var list []job.Problem
	list = append(list, e.Problems()...)
	for i := range e.dirty {
		if r := e.Row(i); r.Kind == HeaderRow || r.Kind == LeftOutRow {
			list = append(list, r.Problems...)
		}
	}
	j.problems(list)
	j.key(`,"cautions":`)
	j.raw(cautionsJSON())
	j.shut('}')
	j.b = append(j.b, '\n')
	_, err := w.Write(j.b)
	return err
}

// cautionsJSON is the list of cautions, which are the same in every answer.
var cautionsJSON = sync.OnceValue(func() string {
	var j js
	j.open("", '[')
	for _, c := range tables.Cautions() {
		j.open("", '{')
		j.str(`,"text":`, c.Text)
		j.str(`,"source":`, c.Source.String())
		j.shut('}')
	}
	j.shut(']')
	return string(j.b)
})

// memo is what the evaluator remembers of how numbers are written.
func (e *Evaluator) memo() *numberTexts {
	if e.numbers == nil {
		e.numbers = new(numberTexts)
	}
	return e.numbers
}

// AppendRowJSON appends row i's object of ResultsJSON; null for a row without a coupling.
func (e *Evaluator) AppendRowJSON(dst []byte, i int) []byte {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return append(dst, "null"...)
	}
	j := js{dst, e.memo()}
	e.rowJSON(&j, r)
	return j.b
}

// pairKeys are the members of front and rear feet.
var pairKeys = [...]struct{ shim, uShim, move, uMove, pack, remove, uPack string }{
	{`,"front_shim_mm":`, `,"u_front_shim_mm":`, `,"front_move_mm":`, `,"u_front_move_mm":`, `,"front_pack_mm":`, `,"front_remove_mm":`, `,"u_front_pack_mm":`},
	{`,"rear_shim_mm":`, `,"u_rear_shim_mm":`, `,"rear_move_mm":`, `,"u_rear_move_mm":`, `,"rear_pack_mm":`, `,"rear_remove_mm":`, `,"u_rear_pack_mm":`},
}

func (e *Evaluator) rowJSON(j *js, r *RowResult) {
	c := &r.Calc
	if r.picks == nil { // they are asked for many times below
		e.picks = e.boxPacks(append(e.picks[:0], Picked{})[:0], r)
		r.picks = e.picks
		defer func() { r.picks = nil }()
	}
	j.b = append(j.b, '{')
	j.str(`,"machine":`, r.Name)
	j.str(`,"verdict":`, r.Verdict.String())
	e.why = e.AppendWhy(e.why[:0], r)
	j.str(`,"why":`, string(e.why))
	j.int(`,"row":`, r.Row)
	j.str(`,"sheet":`, e.sheetName(job.MachinesSheet))
	j.str(`,"method":`, r.Method.String())
	j.bool(`,"method_inferred":`, r.MethodInferred)
	j.str(`,"coupling":`, r.Coupling.String())
	j.str(`,"mounting":`, job.ColMounting.Info().Choices[asInt(r.OnFlange)])
	j.num(`,"speed_rpm":`, r.Speed)
	if r.stopped {
		j.str(`,"status":`, msgNotComputed)
	} else {
		j.str(`,"status":`, c.Status.String())
	}
	j.str(`,"seen_from":`, job.ColSeenFrom.Info().Choices[asInt(r.FromStationary)])
	j.str(`,"side_3":`, r.Side3)
	j.str(`,"side_9":`, r.Side9)
	j.vector(&offsetKeys, &r.Offset)
	j.num(`,"offset_clock_deg":`, r.Offset.Clock())
	j.vector(&slopeKeys, &r.Slope)
	j.num(`,"slope_clock_deg":`, r.Slope.Clock())
	j.num(`,"share_of_limit_pct":`, c.Found.Share*100)
	j.num(`,"chance_inside_pct":`, c.Found.Chance*100)
	var unknown []float64
	for k, name := range pairKeys {
		f := r.foot([...]int{r.Front, r.Rear}[k])
		none := calc.Foot{Station: nan, Shim: nan, UShim: nan, Move: nan, UMove: nan, Rounded: nan, MoveRounded: nan}
		if f == nil {
			f = &none
		}
		j.num(name.shim, f.Shim)
		j.num(name.uShim, f.UShim)
		j.num(name.move, f.Move)
		j.num(name.uMove, f.UMove)
		at := [...]int{r.Front, r.Rear}[k]
		e.pairJSON(j, name.pack, r, at, false)
		e.pairJSON(j, name.remove, r, at, true)
		j.num(name.uPack, e.pairPackU(r, at, &unknown))
	}
	further := func(key string, get func(k int, f *calc.Foot)) {
		j.open(key, '[')
		for _, i := range r.Further {
			if f := r.foot(i); f != nil {
				get(i, f)
			}
		}
		j.shut(']')
	}
	further(`,"further_shims_mm":`, func(_ int, f *calc.Foot) { j.num("", f.Shim) })
	further(`,"u_further_shims_mm":`, func(_ int, f *calc.Foot) { j.num("", f.UShim) })
	further(`,"further_moves_mm":`, func(_ int, f *calc.Foot) { j.num("", f.Move) })
	further(`,"u_further_moves_mm":`, func(_ int, f *calc.Foot) { j.num("", f.UMove) })
	further(`,"further_packs_mm":`, func(k int, _ *calc.Foot) { e.pairJSON(j, "", r, k, false) })
	further(`,"further_removes_mm":`, func(k int, _ *calc.Foot) { e.pairJSON(j, "", r, k, true) })
	further(`,"u_further_packs_mm":`, func(k int, _ *calc.Foot) { j.num("", e.pairPackU(r, k, &unknown)) })
	e.packsJSON(j, r)
	j.num(`,"wanted_offset_v_mm":`, r.Wanted.DV)
	j.num(`,"wanted_offset_h_mm":`, r.Wanted.DH)
	j.num(`,"wanted_slope_v":`, r.Wanted.TV)
	j.num(`,"wanted_slope_h":`, r.Wanted.TH)
	e.growthJSON(j, r)
	e.feetJSON(j, r)
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
		j.num("", changeU(e.packer, &packs.Change{Pack: c.BoltPacks[i]}, &unknown))
	}
	j.shut(']')
	_, _, unknown = e.packsKnown(r, true)
	j.nums(`,"tolerance_unknown_mm":`, unknown)
	e.limitsJSON(j, r)
	e.roundsJSON(j, r)
	e.historyJSON(j, r.Row-e.job.Machines.SourceRow(0))
	e.axialJSON(j, r)
	e.checksJSON(j, r)
	e.recordJSON(j, r)
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
	j.num(`,"misfit_ratio":`, c.Misfit)
	j.num(`,"residual_sd_mm":`, c.ResidualSD)
	j.num(`,"residual_limit_mm":`, c.ResidualLimit)
	j.problems(r.Problems)
	j.open(`,"hints":`, '[')
	for _, h := range r.Hints {
		j.str("", h)
	}
	j.shut(']')
	j.shut('}')
}

// writtenLimits is how the limits of a row were written.
type writtenLimits struct {
	limits Used
	shares bool
	text   []byte
}

// limitsJSON writes the limits the row was held to. They are those of the row before more often than not, and then copied.
func (e *Evaluator) limitsJSON(j *js, r *RowResult) {
	l, shares := &r.Limits, e.set.addShares && r.Coupling.ByOffset()
	if w := &e.written; w.text == nil || w.limits != *l || w.shares != shares {
		j := js{w.text[:0], j.memo}
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
		j.str(`,"not_compared":`, l.Alone)
		j.bool(`,"shares_added":`, shares)
		j.shut('}')
		*w = writtenLimits{*l, shares, j.b}
	}
	j.key(`,"limits":`)
	j.b = append(j.b, e.written.text...)
}

// pairJSON writes the pieces that go under each foot of pair k, or with remove those that make the amount to take out; null where the feet differ.
func (e *Evaluator) pairJSON(j *js, key string, r *RowResult, k int, remove bool) {
	f := r.foot(k)
	if f == nil || math.IsNaN(f.Rounded) {
		j.null(key)
		return
	}
	var c packs.Change
	switch list, alike := e.PairPacks(r, k); {
	case r.Feet == nil && r.Stays():
		c = packChange(&f.Pack, f.Shim < 0, false)
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
		j.nums(key, NewPieces(&c))
	}
}

// packsJSON writes what is done under each foot of the row, and where that comes from.
func (e *Evaluator) packsJSON(j *js, r *RowResult) {
	if s := e.packsFromWord(r); s != "" {
		j.str(`,"packs_from":`, s)
	} else {
		j.null(`,"packs_from":`)
	}
	j.bool(`,"packs_together":`, r.Together)
	j.open(`,"packs":`, '[')
	packs := e.packs(r)
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
