package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// What is taken where nobody says more: common practice, no source.
const (
	defaultTempU = 2.0  // K, standard uncertainty of a temperature of the Growth sheet
	defaultCoefU = 0.05 // of a coefficient, where its table does not say
)

// The supports of a coupling, in the order of the Growth sheet's words.
const (
	movFront = iota
	movRear
	statNear
	statFar
	numSupports
)

// A GrowthPart is one row of the Growth sheet as it was understood.
type GrowthPart struct {
	Row           int          // of the source
	Support       int          // 0 movable front, 1 movable rear, 2 stationary near, 3 stationary far
	Part          string       // as typed
	Material      string       // name of the material used, "" the row's own coefficient, or none needed
	OwnMaterial   bool         // of the Materials sheet
	Source        words.Phrase // where the coefficient comes from
	Height        float64      // mm, sideways parts: the length across; NaN where the growth is given
	Side          int          // 0 it grows up, 1 towards 3 o'clock, −1 towards 9 o'clock
	Alpha         float64      // 1e-6/K; NaN: from a table of means
	Cold, Running float64      // °C
	V, H          float64      // mm, growth given; NaN none

	uT, uA   float64
	material *tables.Material
}

// A GrowthSupport is one support's growth.
type GrowthSupport struct {
	Name         string  // as the Growth sheet has it
	Movable      bool    // of the movable machine
	Sheet        bool    // from the Growth sheet; else from the columns of the row
	Station      float64 // mm from the coupling centre, signed
	V, UV, H, UH float64 // mm, with expanded uncertainty (k = 2); NaN where there is none
	ColumnV      float64 // mm, what the row's own columns say, not used when Sheet; NaN nothing
	ColumnH      float64
}

// Growth is what the wanted line of a row rests on where it rests on the Growth sheet or on a measured change.
type Growth struct {
	Measured  bool      // on a measured change from cold to hot
	Change    calc.Line // then: hot less cold
	UChange   calc.Line // its expanded uncertainty (k = 2)
	BySets    bool      // worked out from two sets of readings; else the row's columns have it
	FromFound bool      // then: the readings as found are the cold set
	Cold, Hot calc.Line // then: the lines of the two sets
	Supports  []GrowthSupport
	Parts     []GrowthPart
	Cov       calc.Cov // of the wanted line
}

// growthRows is what the Growth sheet holds for one machine.
type growthRows struct {
	claim
	parts []GrowthPart
}

// readGrowth reads the Growth sheet.
func (e *Evaluator) readGrowth() {
	e.growths = nil
	l := e.lines(job.GrowthSheet, job.GrowthMachine, job.GrowthUnit, job.GrowthMachine, job.GrowthSupport)
	if l == nil {
		return
	}
	e.growths = map[string]*growthRows{}
	last := ""
	for l.next() {
		key, cl := l.owner(job.GrowthMachine)
		if key == "" {
			if last != "" {
				e.growths[last].bad = l.src() // it may well have belonged there
			}
			continue
		}
		g := e.growths[key]
		if g == nil {
			g = &growthRows{claim: cl}
			e.growths[key] = g
			e.claims = append(e.claims, &g.claim)
		}
		last = key
		if p := e.growthPart(l); !l.bad {
			g.parts = append(g.parts, p)
		} else if g.bad == 0 {
			g.bad = l.src()
		}
	}
}

// growthPart reads the row at hand.
func (e *Evaluator) growthPart(l *lines) GrowthPart {
	p := GrowthPart{Row: l.src(), Support: l.choice(job.GrowthSupport), Part: l.text(job.GrowthPart),
		Height: l.number(job.GrowthHeight, notNegative), Alpha: l.number(job.GrowthCoefficient, anything), Cold: l.number(job.GrowthCold, anything), Running: l.number(job.GrowthRunning, anything),
		V: l.number(job.GrowthRise, anything), H: l.number(job.GrowthSideways, anything), uT: l.number(job.GrowthTemperatureU, notNegative), uA: l.number(job.GrowthCoefficientU, notNegative)}
	if l.bad || l.coefficientDoubt(job.GrowthCoefficient, job.GrowthCold, job.GrowthRunning) {
		return p
	}
	if p.Support < 0 {
		l.missing(job.GrowthSupport, words.Plain(job.HintChoices(job.GrowthSupport)))
		return p
	}
	p.Side = [...]int{0, 1, -1}[max(l.choice(job.GrowthDirection), 0)]
	if l.bad {
		return p
	}
	computed := Known(p.Height) || Known(p.Running) || Known(p.Alpha) || !l.blank(job.GrowthMaterial)
	switch {
	case computed && p.Side == 0 && Known(p.V):
		l.fail(job.GrowthRise, words.ProblemSlopeAndGap.With(job.GrowthRise.Info().Name, job.GrowthHeight.Info().Name), words.HintGrowthGiven.With())
		return p
	case computed && p.Side != 0 && Known(p.H):
		l.fail(job.GrowthSideways, words.ProblemSlopeAndGap.With(job.GrowthSideways.Info().Name, job.GrowthHeight.Info().Name), words.HintGrowthGiven.With())
		return p
	case !computed && !Known(p.V) && !Known(p.H):
		l.missing(job.GrowthHeight, words.HintGrowthPart.With())
		return p
	case !computed && p.Side != 0 && Known(p.H):
		l.fail(job.GrowthDirection, words.ProblemDirectionGiven.With(job.GrowthDirection.Info().Name, job.GrowthSideways.Info().Name), words.HintDirectionGiven.With())
		return p
	case !computed:
		return p
	}
	if math.IsNaN(p.Cold) {
		p.Cold = e.set.cold
	}
	if math.IsNaN(p.uT) {
		p.uT = e.set.tempU
	}
	switch {
	case math.IsNaN(p.Height):
		l.missing(job.GrowthHeight, words.HintGrowthPart.With())
	case math.IsNaN(p.Cold):
		l.missing(job.GrowthCold, words.HintGrowthCold.With())
	case math.IsNaN(p.Running):
		l.missing(job.GrowthRunning, words.HintGrowthPart.With())
	case Known(p.Alpha):
		p.Source = words.ProblemOwnRow.With(e.SheetName(job.GrowthSheet), p.Row)
		if math.IsNaN(p.uA) {
			p.uA = e.set.coefU
		}
	case l.blank(job.GrowthMaterial):
		l.missing(job.GrowthMaterial, words.HintGrowthMaterial.With())
	default:
		name := l.text(job.GrowthMaterial)
		if row := e.badMaterials[nameKey(name)]; row > 0 {
			l.fail(job.GrowthMaterial, words.ProblemBadMaterial.With(e.SheetName(job.MaterialsSheet), name, row), words.HintLongBad.With())
			return p
		}
		m, own := e.findMaterial(name)
		if m == nil {
			l.fail(job.GrowthMaterial, words.ProblemNoSuchMaterial.With(job.Quote(name)), e.hintMaterials())
			return p
		}
		p.material, p.Material, p.OwnMaterial, p.Alpha, p.Source = m, m.Name, own, m.Alpha, words.SentenceAsItIs.With(m.Source)
		if math.IsNaN(p.uA) {
			if p.uA = m.RelU; math.IsNaN(p.uA) || p.uA == 0 && own {
				p.uA = e.set.coefU
			}
		}
	}
	return p
}

// hintMaterials lists the materials.
func (e *Evaluator) hintMaterials() words.Phrase {
	var names []string
	for i := range e.ownMaterials {
		names = append(names, e.ownMaterials[i].Name)
	}
	list := tables.Materials()
	for i := range list {
		names = append(names, list[i].Name)
	}
	return words.HintMaterialsAre.With(strings.Join(names, ", "))
}

// station is where a support of the row stands, mm from the coupling centre, signed. NaN, with the reason recorded: not to be had.
func (e *Evaluator) station(r *RowResult, support int) float64 {
	dist := func(id job.ColumnID) float64 {
		x, _ := e.need(r, id, words.HintGrowthStation.With())
		return x
	}
	switch support {
	case movFront, movRear:
		if f := e.sc.footing; f != nil && e.sc.state[job.ColToFront] == absent && e.sc.state[job.ColMovableToFront] == absent && len(f.along) > 1 {
			return f.along[map[int]int{movFront: 0, movRear: len(f.along) - 1}[support]]
		}
		x := dist(job.ColToFront)
		if support == movRear {
			x += dist(job.ColFrontToRear)
		}
		return x
	case statNear:
		return -dist(job.ColStationaryNear)
	}
	return -dist(job.ColStationaryFar)
}

// wantedFromSheet settles the wanted line from the Growth sheet's rows of this machine. Supports the sheet does not name keep the growth of the row's columns.
func (e *Evaluator) wantedFromSheet(r *RowResult, g *growthRows, w *want) {
	if g.bad > 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemSheetBad.With(e.SheetName(job.GrowthSheet), g.bad), words.HintLongBad.With())
		w.noWanted = true
		return
	}
	hot, ok := e.runningLine(r)
	if !ok {
		w.noWanted = true
		return
	}
	in := calc.GrowthInput{Hot: hot}
	out := &Growth{Parts: g.parts}
	maker := partMaker{r: r, parts: g.parts, groups: map[string]int{}, cold: nan}
	for s := range numSupports {
		sup, told, grows := e.growthSupport(&maker, s, w)
		if !grows {
			continue
		}
		told.Station = e.station(r, s)
		if sup.Station = told.Station; math.IsNaN(sup.Station) {
			w.noWanted = true
			continue
		}
		in.Supports = append(in.Supports, sup)
		out.Supports = append(out.Supports, told)
	}
	if w.noWanted {
		return
	}
	var res calc.GrowthResult
	calc.Growth(&in, &res)
	if res.Status != calc.GrowthOK {
		e.growthFailed(r, g, out, &res)
		w.noWanted = true
		return
	}
	for i := range out.Supports {
		s, c := &out.Supports[i], &res.Supports[i]
		s.V, s.UV, s.H, s.UH = c.V, 2*c.UV, c.H, 2*c.UH
	}
	e.tellInstead(r, out)
	out.Cov = res.Cov
	freed(&out.Cov, &hot)
	r.Growth = out
	e.sc.in.Wanted, e.sc.in.WantedCov = res.Wanted, res.Cov
}

// growthSupport is what the parts of the Growth sheet say of support s, or the row's growth columns where the sheet does not name it. grows is false where neither says anything, and where what is said cannot be
// read, which w notes.
func (e *Evaluator) growthSupport(maker *partMaker, s int, w *want) (sup calc.GrowthSupport, told GrowthSupport, grows bool) {
	id := job.ColGrowth + job.ColumnID(2*s)
	cv, sv := e.num(id)
	ch, sh := e.num(id + 1)
	sup = calc.GrowthSupport{Movable: s < statNear, GivenV: nan, GivenH: nan}
	told = GrowthSupport{Name: job.GrowthSupport.Info().Choices[s], Movable: s < statNear, ColumnV: cv, ColumnH: ch}
	told.Sheet = maker.support(s, &sup)
	switch {
	case told.Sheet:
	case sv == unreadable || sh == unreadable:
		w.noWanted = true
		return sup, told, false
	case sv == fine || sh == fine:
		sup.GivenV, sup.GivenH = KnownOr(told.ColumnV, 0), KnownOr(told.ColumnH, 0)
	default:
		return sup, told, false
	}
	return sup, told, true
}

// tellInstead tells where growth columns of the row say another number than the Growth sheet, which counts.
func (e *Evaluator) tellInstead(r *RowResult, out *Growth) {
	var differ []words.Phrase
	for i := range out.Supports {
		s := &out.Supports[i]
		if !s.Sheet {
			continue
		}
		for p, col := range [2]float64{s.ColumnV, s.ColumnH} {
			if v := [2]float64{s.V, s.H}[p]; Known(col) && e.Thickness(col) != e.Thickness(v) {
				id := job.ColGrowth + job.ColumnID(2*slices.Index(job.GrowthSupport.Info().Choices, s.Name)+p)
				differ = append(differ, words.ProblemGrowthDiffers.With(id.Info().Name, e.Thickness(v), e.Thickness(col)))
			}
		}
	}
	if len(differ) > 0 {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemGrowthInstead.With(words.Together(differ...)), words.HintGrowthInstead.With())
	}
}

// A partMaker makes the parts that a machine grows by out of rows of the Growth sheet.
type partMaker struct {
	r      *RowResult
	parts  []GrowthPart
	groups map[string]int // materials by name key, numbered from 1: parts of one share the error of its coefficient
	cold   float64        // °C, of the first part; NaN none came yet
}

// support gives sup the parts of support s and what is given for it, and says whether there are any.
func (m *partMaker) support(s int, sup *calc.GrowthSupport) (found bool) {
	given := [2]float64{}
	worked := [2]bool{}
	for i := range m.parts {
		p := &m.parts[i]
		if p.Support != s {
			continue
		}
		found = true
		turned := 1.0
		if m.r.FromStationary {
			turned = -1
		}
		given[0] += KnownOr(p.V, 0)
		given[1] += turned * KnownOr(p.H, 0)
		if math.IsNaN(p.Height) {
			continue
		}
		worked[p.Side&1] = true
		sup.Parts = append(sup.Parts, m.part(p, turned))
	}
	if !found {
		return false
	}
	for k, dst := range [2]*float64{&sup.GivenV, &sup.GivenH} {
		if !worked[k] {
			*dst = given[k]
		} else if given[k] != 0 { // what is given grows as a part of its own that is known exactly
			sup.Parts = append(sup.Parts, calc.GrowthPart{Height: given[k], Across: k == 1, Alpha: 1e4, Cold: 0, Running: 100})
		}
	}
	return true
}

// part is a row whose growth is worked out. turned is −1 where sides are named as seen from the stationary machine.
func (m *partMaker) part(p *GrowthPart, turned float64) calc.GrowthPart {
	part := calc.GrowthPart{Height: p.Height, Across: p.Side != 0, Alpha: p.Alpha, Cold: p.Cold, Running: p.Running, UAlpha: p.uA, UCold: p.uT, URunning: p.uT}
	if float64(p.Side)*turned < 0 {
		part.Height = -p.Height
	}
	part.Height += 0 // no −0
	if mat := p.material; mat != nil {
		if m.groups[nameKey(mat.Name)] == 0 {
			m.groups[nameKey(mat.Name)] = len(m.groups) + 1
		}
		part.AlphaGroup = m.groups[nameKey(mat.Name)]
		if len(mat.Temps) > 0 && math.IsNaN(mat.Alpha) {
			part.Table = &calc.MeanTable{Reference: mat.T0, Temp: mat.Temps, Mean: mat.Means}
		}
	}
	if math.IsNaN(m.cold) {
		m.cold = p.Cold
	}
	if p.Cold == m.cold { // one cold morning, one thermometer
		part.ColdGroup = 1
	}
	return part
}

// growthFailed records why the growth of a row cannot be worked out.
func (e *Evaluator) growthFailed(r *RowResult, g *growthRows, out *Growth, res *calc.GrowthResult) {
	text, hint := words.ProblemGrowthFailed.With(res.Status), words.Phrase{}
	switch res.Status {
	case calc.GrowthOneSupport:
		var have [numSupports]bool
		for i := range out.Supports {
			have[slices.Index(job.GrowthSupport.Info().Choices, out.Supports[i].Name)] = true
		}
		for s := range numSupports {
			if other := s ^ 1; !have[s] && have[other] {
				text, hint = words.ProblemGrowthOne.With(job.GrowthSupport.Info().Choices[other], job.GrowthSupport.Info().Choices[s]), words.HintGrowthOne.With()
				break
			}
		}
	case calc.GrowthOutsideTable:
		hint = words.HintGrowthTable.With()
		if res.Support >= 0 && res.Support < len(out.Supports) {
			n := 0
			for i := range g.parts {
				if p := &g.parts[i]; job.GrowthSupport.Info().Choices[p.Support] == out.Supports[res.Support].Name && Known(p.Height) {
					if n == res.Part {
						text = words.Joined(text, words.ProblemGrowthRow.With(e.SheetName(job.GrowthSheet), p.Row, p.Material))
					}
					n++
				}
			}
		}
	}
	e.problem(r, job.Error, job.NoColumn, text, hint)
}

// coldSetting settles the wanted line from the maker's cold setting: four numbers in columns, or a wanted set of readings. It reports whether that is where the wanted line comes from, or
// would: beside growth, a measured change or something wanted hot it is a conflict, and the row is not judged until Wanted from says which holds.
func (e *Evaluator) coldSetting(r *RowResult, g *growthRows, w *want) bool {
	sc := &e.sc
	columns := false
	for id := job.ColColdOffsetV; id <= job.ColColdSlopeH; id++ {
		columns = columns || sc.state[id] != absent
	}
	set := sc.long.set(wantedSet)
	if !columns && set == nil {
		return false
	}
	chosen := e.set.wantedFrom
	switch v, st := e.num(job.ColWantedFrom); st {
	case fine:
		chosen = int(v) + 1
	case unreadable:
		chosen = 0
	}
	if other := e.otherWanted(g); !other.Empty() {
		switch chosen {
		case 0:
			e.problem(r, job.Error, job.ColWantedFrom, words.ProblemColdAndGrowth.With(other), words.HintColdAndGrowth.With())
			w.noWanted = true
			return true
		case 1:
			e.problem(r, job.Warning, job.ColWantedFrom, words.ProblemGrowthUnused.With(other), words.Phrase{})
		case 2:
			e.problem(r, job.Warning, job.ColWantedFrom, words.ProblemColdUnused.With(), words.Phrase{})
			return false
		}
	} else if chosen == 2 { // growth is asked for and there is none: silence would drop the setting
		e.problem(r, job.Error, job.ColWantedFrom, words.ProblemColdUnused.With(), words.HintColdAndGrowth.With())
		w.noWanted = true
		return true
	}
	if columns && set != nil {
		e.problem(r, job.Error, job.ColColdOffsetV, words.ProblemColdAndCold.With(), words.HintColdAndCold.With())
		w.noWanted = true
		return true
	}
	in := &sc.in
	r.ColdSetting = true
	if set != nil {
		if !e.setLine(r, wantedSet, &in.Wanted, &in.WantedCov) {
			w.noWanted = true
		}
		in.WantedCov = calc.Cov{} // the maker's numbers are what is wanted, not what was measured
		return true
	}
	part := func(id job.ColumnID) float64 {
		v, st := e.num(id)
		switch {
		case st == absent && r.Coupling == tables.Universal && id <= job.ColColdOffsetH:
			return nan // left where it is
		case st == absent:
			e.missing(r, id, words.HintCold.With())
			w.noWanted = true
		case st == unreadable:
			w.noWanted = true
		}
		return v + 0
	}
	wanted := calc.Line{DV: part(job.ColColdOffsetV), DH: part(job.ColColdOffsetH), TV: part(job.ColColdSlopeV), TH: part(job.ColColdSlopeH)}
	if !w.noWanted {
		in.Wanted = wanted
	}
	return true
}

// otherWanted names what else says where the shaft should stand; empty: nothing does.
func (e *Evaluator) otherWanted(g *growthRows) words.Phrase {
	sc := &e.sc
	some := func(from, to job.ColumnID) bool {
		for id := from; id <= to; id++ {
			if sc.state[id] != absent {
				return true
			}
		}
		return false
	}
	switch {
	case g != nil:
		return words.WordGrowthSheet.With()
	case sc.long.set(hotSet) != nil:
		return words.WordHotSet.With()
	case some(job.ColChangeOffsetV, job.ColChangeSlopeH):
		return words.WordChange.With()
	case e.growthInColumns():
		return words.WordGrowthColumns.With()
	case some(job.ColRunningOffsetV, job.ColRunningSlopeH):
		return words.WordRunning.With()
	}
	return words.Phrase{}
}

// runningLine is where the maker wants the shaft hot. Its offset is free (NaN) for a universal coupling without a running offset.
func (e *Evaluator) runningLine(r *RowResult) (l calc.Line, ok bool) {
	ok = true
	get := func(id job.ColumnID, blankIs float64) float64 {
		v, st := e.num(id)
		switch st {
		case fine:
			return v
		case absent:
			return blankIs
		}
		ok = false
		return nan
	}
	free := 0.0
	if r.Coupling == tables.Universal {
		free = nan
	}
	l = calc.Line{DV: get(job.ColRunningOffsetV, free), TV: get(job.ColRunningSlopeV, 0), DH: get(job.ColRunningOffsetH, free), TH: get(job.ColRunningSlopeH, 0)}
	return l, ok
}

// wantedHot settles the line a round hot is held against: the running line. What the machine lost of its growth between the stop and the readings is uncertain, by the share of growth that cooled
// gives.
func (e *Evaluator) wantedHot(r *RowResult, w *want) {
	in := &e.sc.in
	hot, ok := e.runningLine(r)
	if w.noWanted = w.noWanted || !ok; w.noWanted {
		return
	}
	in.Wanted = hot
	share := e.cooled(r, true)
	if c := e.sc.cooling; c != nil {
		grown := [4]float64{hot.DV - c.Wanted.DV, hot.TV - c.Wanted.TV, hot.DH - c.Wanted.DH, hot.TH - c.Wanted.TH}
		for k, x := range grown {
			for j, y := range grown {
				if Known(x) && Known(y) {
					in.WantedCov[k][j] = share * share * x * y
				}
			}
		}
	}
}

// measuredChange settles the wanted line from a measured change: T = running − (hot − cold). It reports whether the row has one.
func (e *Evaluator) measuredChange(r *RowResult, w *want) bool {
	sc := &e.sc
	some := false
	for id := job.ColChangeOffsetV; id <= job.ColChangeSlopeH; id++ {
		some = some || sc.state[id] != absent
	}
	if !some {
		return false
	}
	var v [4]float64
	for k := range v {
		id := job.ColChangeOffsetV + job.ColumnID(k)
		x, st := e.num(id)
		if st == absent {
			e.missing(r, id, words.HintChange.With())
		}
		if st != fine {
			w.noWanted = true
		}
		v[k] = x
	}
	hot, ok := e.runningLine(r)
	if w.noWanted = w.noWanted || !ok; w.noWanted {
		return true
	}
	m := &calc.ColdToHot{Hot: calc.Line{DV: v[0], DH: v[1], TV: v[2], TH: v[3]}}
	_, u := e.trust(tables.GivenLine)
	for k, x := range [4]float64{u, tables.GivenSlope, u, tables.GivenSlope} { // it is the difference of two given lines
		m.ColdCov[k][k], m.HotCov[k][k] = x*x, x*x
	}
	m.Cooled = e.cooled(r, false)
	sc.in.Wanted, sc.in.Measured = hot, m
	r.Growth = &Growth{Measured: true}
	return true
}

// A hot reading that does not say how long the machine had stood is taken as one after so many minutes: common practice, no source.
const (
	defaultCooling = 0.01 // share of the change a minute, standard uncertainty
	minutesUnsaid  = 10
)

// cooled is the standard uncertainty of a measured change, as a share of it, from the minutes between the stop and the hot readings. Readings of dials need the
// machine stopped, so without the minutes they are asked for; a change given as numbers may have been measured while it ran.
func (e *Evaluator) cooled(r *RowResult, stopped bool) float64 {
	minutes, st := e.num(job.ColMinutes)
	if st != fine {
		if !stopped {
			return 0
		}
		minutes = minutesUnsaid
		e.problem(r, job.Warning, job.ColMinutes, words.ProblemNoMinutes.With(), words.HintNoMinutes.With(minutesUnsaid))
	}
	return e.set.cooling * minutes
}

// measuredSets settles the wanted line from a hot set of readings and its cold partner: a cold set of its own, else what was found. It reports whether
// the Readings sheet has a hot set.
func (e *Evaluator) measuredSets(r *RowResult, w *want) bool {
	sc := &e.sc
	hot, cold := sc.long.set(hotSet), sc.long.set(coldSet)
	if hot == nil {
		if cold != nil && !sc.cold {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemColdAlone.With(), words.HintColdAlone.With())
		}
		return false
	}
	for id := job.ColChangeOffsetV; id <= job.ColChangeSlopeH; id++ {
		if sc.state[id] != absent {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemSetsInstead.With(), words.Phrase{})
			break
		}
	}
	m := &calc.ColdToHot{FromFound: cold == nil || sc.cold}
	ok := e.setLine(r, hotSet, &m.Hot, &m.HotCov)
	if sc.round != nil && cold == nil { // hot is compared with what was found, not with what was read after a move
		m.FromFound = false
		if f := sc.found; f == nil || !f.HasLine() {
			e.problem(r, job.Error, job.NoColumn, words.ProblemHotNoFound.With(), words.HintHotNoFound.With())
			ok = false
		} else {
			m.Cold, m.ColdCov = f.Calc.Line, f.Calc.Cov
		}
	} else if !m.FromFound {
		ok = e.setLine(r, coldSet, &m.Cold, &m.ColdCov) && ok
	}
	target, known := e.runningLine(r)
	if w.noWanted = w.noWanted || !ok || !known; w.noWanted {
		return true
	}
	m.Cooled = e.cooled(r, true)
	sc.in.Wanted, sc.in.Measured = target, m
	r.Growth = &Growth{Measured: true, BySets: true, FromFound: m.FromFound}
	return true
}

// setLine works out the line of a set of readings of the Readings sheet, taken with the dials, brackets and distances of the row. It returns false,
// with the reasons recorded, if there is none or a check failed.
func (e *Evaluator) setLine(r *RowResult, which int, line *calc.Line, cov *calc.Cov) bool {
	sc := &e.sc
	set, word := sc.long.set(which), job.ReadingsSet.Info().Choices[which]
	if set.bad > 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemSetBad.With(word, set.bad), words.HintLongBad.With())
		return false
	}
	// The sweeps are made behind those of the row, and taken off again.
	n, ok := len(sc.sweeps), true
	r.setSweeps |= set.families()
	for f := range job.NumFamilies {
		if s := &set.sweeps[f]; len(s.angle) > 0 {
			ok = e.sweep(r, f, s.angle, s.reading, true, f.String()) && ok
		}
	}
	sweeps, infos, textual := sc.sweeps[n:], r.Sweeps[n:], sc.textual[n:]
	sc.sweeps, sc.fam, sc.textual, r.Sweeps, r.models = sc.sweeps[:n], sc.fam[:n], sc.textual[:n], r.Sweeps[:n], r.models[:n]
	if !ok {
		return false
	}
	in := calc.Input{Sweeps: sweeps, Given: calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}, Length: nan, Limits: calc.Limits{Offset: nan, Slope: nan},
		Checks: e.set.checks, FlangeStation: nan, UDistance: e.set.distanceU}
	res := &sc.set
	calc.Solve(&in, res)
	if res.Status == calc.OK || res.Status == calc.NoLimit {
		*line, *cov = res.Line, res.Cov
		return true
	}
	text, hint := e.readingsFailed(res)
	name := ""
	if res.Sweep >= 0 && res.Sweep < len(infos) {
		name = infos[res.Sweep].Name + ": "
	}
	var slips []words.Phrase
	for _, f := range calc.Diagnose(&in, res, nil) {
		if h := e.findingText(&f, sweeps, infos, textual); !h.Empty() {
			slips = append(slips, h)
		}
	}
	e.problem(r, job.Error, job.NoColumn, words.ProblemSetFailed.With(word, name, text), words.Together(append(slips, hint)...))
	return false
}

// settleChange completes what is told of a measured change once the line found is known.
func (e *Evaluator) settleChange(r *RowResult, w *want) {
	m := e.sc.in.Measured
	if m == nil {
		return
	}
	c := &r.Calc
	if m.FromFound && c.Status != calc.OK && c.Status != calc.NoLimit && c.Status != calc.NoLength {
		w.noWanted, r.Growth = true, nil // the readings found are half of it
		return
	}
	g := r.Growth
	_, g.Cov = m.Wanted(&e.sc.in.Wanted, &c.Line, &c.Cov)
	whole := g.Cov
	freed(&g.Cov, &e.sc.in.Wanted)
	g.Cold, g.Hot = m.Cold, m.Hot
	if m.FromFound {
		g.Cold = c.Line
	}
	g.Change = calc.Line{DV: g.Hot.DV - g.Cold.DV, TV: g.Hot.TV - g.Cold.TV, DH: g.Hot.DH - g.Cold.DH, TH: g.Hot.TH - g.Cold.TH}
	u := func(k int) float64 { return 2 * math.Sqrt(max(whole[k][k], 0)) }
	g.UChange = calc.Line{DV: u(0), TV: u(1), DH: u(2), TH: u(3)}
}

// freed takes out of the covariance of a wanted line the offsets that are free: they are wanted as they were found.
func freed(c *calc.Cov, target *calc.Line) {
	for k, d := range [3]float64{target.DV, 0, target.DH} {
		if math.IsNaN(d) {
			for j := range c {
				c[k][j], c[j][k] = 0, 0
			}
		}
	}
}

// growthInColumns says whether the row's growth columns hold something.
func (e *Evaluator) growthInColumns() bool {
	for id := job.ColGrowth; id < job.ColGrowth+2*numSupports; id++ {
		if e.sc.state[id] != absent {
			return true
		}
	}
	return false
}

// A WantedReading is what one dial should read cold on the wanted line.
type WantedReading struct {
	Sweep    string
	Readings []calc.ExpectedReading // at 12, 3, 6 and 9
}

// WantedReadings returns what each sweep of the row would read cold, zeroed at 12, with the shafts on the wanted line. Nil for a row without a
// wanted line or without sweeps.
func (e *Evaluator) WantedReadings(r *RowResult) []WantedReading {
	if !r.HasLine() || !knownLine(r.Wanted) {
		return nil
	}
	var cov *calc.Cov
	if r.Growth != nil {
		cov = &r.Growth.Cov
	}
	list := make([]WantedReading, 0, len(r.Sweeps))
	for i := range r.Sweeps {
		if i >= len(r.models) {
			break
		}
		s := &r.Sweeps[i]
		if x, ok := r.models[i].Expect(&r.Wanted, cov, job.PositionAngle[:job.Again12], make([]calc.ExpectedReading, 0, job.Again12)); ok {
			list = append(list, WantedReading{s.Name, x})
		}
	}
	return list
}

// A WantedSource says where the wanted line of a row comes from.
type WantedSource uint8

// The sources of a wanted line.
const (
	WantedFromColumns WantedSource = iota // growth and running line in the row's columns, or nothing at all
	WantedFromCold                        // the maker's cold setting
	WantedFromSets                        // a hot set of readings and a cold one
	WantedFromChange                      // a measured change in the row's columns
	WantedFromGrowth                      // the Growth sheet
)

// String is the source as JSON has it.
func (s WantedSource) String() string {
	return [...]string{"columns", "cold setting", "two sets of readings", "measured change", "growth sheet"}[s]
}

// WantedBy says where the wanted line comes from, and how sure that makes it.
func (r *RowResult) WantedBy() (WantedSource, calc.Cov) {
	switch {
	case r.ColdSetting:
		return WantedFromCold, r.coldCov
	case r.Growth == nil:
		return WantedFromColumns, calc.Cov{}
	case r.Growth.BySets:
		return WantedFromSets, r.Growth.Cov
	case r.Growth.Measured:
		return WantedFromChange, r.Growth.Cov
	}
	return WantedFromGrowth, r.Growth.Cov
}

// AppendWantedReadings appends them as a list: "Movable rim 0, -0.12, -0.30, -0.18 at 12, 3, 6, 9".
func (e *Evaluator) AppendWantedReadings(b []byte, r *RowResult) []byte {
	u := job.QThickness.Unit(e.set.inch)
	for k, w := range e.WantedReadings(r) {
		if k > 0 {
			b = append(b, "; "...)
		}
		b = append(append(b, w.Sweep...), ' ')
		for i := range w.Readings {
			if i > 0 {
				b = append(b, ", "...)
			}
			b = AppendNumber(b, w.Readings[i].Zeroed, u, Decimals(u, true), e.set.mark)
		}
	}
	return b
}

// MovedWanted says whether the wanted line is another than straight through.
func (r *RowResult) MovedWanted() bool {
	w := &r.Wanted
	return !math.IsNaN(w.DV) && (w.TV != 0 || w.TH != 0 || r.Coupling != tables.Universal && (w.DV != 0 || w.DH != 0))
}
