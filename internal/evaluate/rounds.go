package evaluate

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Round is one set of readings of a coupling in the course of the work: as found, after each move, as left, and hot after the start. Nothing overwrites an earlier one; a round
// that was a mistake is struck, with its reason, and still shown. A round hot is held against the line wanted hot and is never what shims and moves are worked out from.
type Round struct {
	Name        string // found, 1, 2, …, left, hot
	Row         int    // source row of the Rounds sheet; 0: none stands there, the readings are those of the Machines row
	When        string
	By          string
	Temperature string
	Instrument  string
	Packs       string // what lies under the feet now, as typed
	Done        string // what was done before these readings, in people's own words
	Struck      string // why it does not count; "" it does

	Verdict calc.Verdict
	Why     words.Phrase
	Line    calc.Line // as read; NaN where there is none
	Cov     calc.Cov  // of Line
	Offset  calc.Vector
	Slope   calc.Vector

	Sweeps    []SweepRead  // what the checks found on each sweep
	Share     float64      // of its limit, the largest; NaN where nothing was judged
	Stand     []StandFoot  // where the front and the rear feet stand; nil where that is not known
	Predicted calc.Line    // the line read in the round before, moved by what was done; NaN where there is none
	sound     bool         // there is a line, and its readings passed their checks
	Missed    []MissedFoot // read less predicted, at the front and the rear feet; nil where nothing was predicted
}

// A SweepRead is a sweep as somebody read it, with what the checks found on it.
type SweepRead struct {
	Name  string // of its columns: Movable rim, Gap
	Gauge bool   // read with feeler or straightedge, not with a dial
	Check calc.SweepCheck
}

// Hot says whether the round was read at the machine stopped hot: it tells of growth, and of no move.
func (o *Round) Hot() bool { return o.Name == hotRound }

// SweepsRead are the sweeps of the readings that count.
func (r *RowResult) SweepsRead() (list []SweepRead) {
	for k := range min(len(r.Sweeps), len(r.Calc.Checks)) {
		list = append(list, SweepRead{r.Sweeps[k].Name, r.Method == job.StraightedgeAndGap, r.Calc.Checks[k]})
	}
	return list
}

// A MissedFoot is how far a pair of feet came to stand from where it should: V positive stands higher, H positive farther towards 3 o'clock, mm. A foot that sprang back is
// negative in V.
type MissedFoot struct {
	Foot   string // front or rear
	V, H   float64
	Sprang bool // it came to stand lower than it should, by more than the readings of both rounds explain
}

// A StandFoot is how a pair of feet stands to the wanted line, mm: V positive stands high, H positive towards 3 o'clock, each with its expanded uncertainty; and where it should have come to by
// what was done, NaN where nothing was predicted.
type StandFoot struct {
	Foot                   string // front or rear
	V, H, UV, UH           float64
	PredictedV, PredictedH float64
}

// The order of rounds.
const (
	roundFound = 0
	roundLeft  = math.MaxInt32 - 1
	roundHot   = math.MaxInt32
)

// A roundRow is a row of the Rounds sheet as it was read.
type roundRow struct {
	Round
	order int
	done  [4]float64 // front shim, rear shim, front move, rear move, mm; NaN: as advised
	packs []footPack // what lies under the feet now; nil: not said
	cells []roundCell
	about int // source row of a round found that has no readings and speaks of those of the Machines row; 0 else
}

// A footPack is what a round says lies under a foot, or under both feet of a pair.
type footPack struct {
	foot   string
	pieces []float64 // mm; empty: the bare base
	row    int       // of the source, where it is said
}

// A roundCell is a reading of a round as typed.
type roundCell struct {
	id   job.ColumnID
	text string
	unit units.Unit
	col  int
}

// machineRounds are the rounds of one machine in their order, struck ones too.
type machineRounds struct {
	claim    claim
	list     []roundRow
	twice    string // name of a round that stands twice, neither struck; "" none does
	bad      int    // source row of the first round that cannot be used, 0 none
	nameless int    // source row of the first that does not say which round it is, and so counts for nothing; 0 none
}

// roundName reads which round a row is: found, 1, as left, round 2, 3rd, after 1st move, final.
func roundName(s string) (name string, order int, ok bool) {
	said := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return unicode.IsSpace(r) || r == '_' })
	if len(said) == 1 && (said[0] == "as-found" || said[0] == "as-left") {
		said = strings.Split(said[0], "-")
	}
	switch n := len(said); {
	case n > 1 && said[0] == "after": // the number is that of the move, and so of the readings behind it
		said = slices.DeleteFunc(said[1:], func(w string) bool { return w == "the" || w == "move" })
	case n > 2 && said[0] == "round" && (said[1] == "no" || said[1] == "no."):
		said = said[2:]
	case n > 1 && (said[0] == "round" || said[0] == "as"):
		said = said[1:]
	case n == 2 && said[1] == "round":
		said = said[:1]
	}
	if len(said) != 1 {
		return "", 0, false
	}
	switch w := said[0]; w {
	case "found", "initial":
		return foundRound, roundFound, true
	case "left", "final":
		return leftRound, roundLeft, true
	case "hot", "running":
		return hotRound, roundHot, true
	default:
		n, err := strconv.Atoi(roundDigits(w))
		if err != nil || n < 1 || n >= roundLeft {
			return "", 0, false
		}
		return strconv.Itoa(n), n, true
	}
}

// roundDigits takes off what stands about the number of a round: 1st, 2., R3, #4, and the decimals that a spreadsheet shows.
func roundDigits(w string) string {
	w = strings.TrimPrefix(strings.TrimPrefix(w, "#"), "r")
	if i := len(w) - 2; i > 0 && (w[i:] == "st" || w[i:] == "nd" || w[i:] == "rd" || w[i:] == "th") {
		return w[:i]
	}
	if whole, rest, ok := strings.Cut(w, "."); ok && strings.Trim(rest, "0") == "" {
		return whole
	}
	return w
}

// readRounds reads the Rounds sheet.
func (e *Evaluator) readRounds() {
	e.rounds = nil
	t := e.job.Table(job.RoundsSheet)
	if t == nil {
		return
	}
	readings := job.ReadingColumns()
	l := e.lines(job.RoundsSheet, job.RoundsMachine, job.RoundsUnit, job.RoundsMachine, job.RoundsRound)
	if l == nil {
		return
	}
	at, _, _, ok := e.bindSimple(job.RoundsSheet, readings)
	if !ok {
		return
	}
	e.roundUnits(l, readings, at)
	e.rounds = map[string]*machineRounds{}
	for l.next() {
		key, cl := l.owner(job.RoundsMachine)
		if key == "" {
			continue
		}
		m := e.rounds[key]
		if m == nil {
			m = &machineRounds{claim: cl}
			e.rounds[key] = m
			e.claims = append(e.claims, &m.claim)
		}
		row, ok := e.roundRow(l)
		if !ok {
			if m.nameless == 0 && l.struck() == "" {
				m.nameless = l.src()
			}
			continue
		}
		for k, b := range at {
			if c, ok := l.reading(readings[k], b); ok {
				row.cells = append(row.cells, c)
			}
		}
		if l.bad && m.bad == 0 {
			m.bad = l.src()
		}
		m.list = append(m.list, row)
	}
	for _, m := range e.rounds {
		sorting.Stable(m.list, func(a, b roundRow) int { return cmp.Compare(a.order, b.order) })
		last := -1
		for k := range m.list {
			if m.list[k].Struck != "" {
				continue
			}
			if last >= 0 && m.list[last].order == m.list[k].order {
				m.twice = m.list[k].Name
			}
			last = k
		}
	}
}

// reading takes the cell of a column of readings from the row at hand, as typed, with the unit of a bare number there; ok is false where nothing is given.
func (l *lines) reading(c job.ColumnID, b boundColumn) (cell roundCell, ok bool) {
	row := l.rows[l.i]
	if b.col < 0 || b.col >= len(row) || job.Blank(row[b.col]) || job.NotGiven(row[b.col]) {
		return cell, false
	}
	cell = roundCell{c, row[b.col], b.unit, b.col}
	if said := l.said(); said != "" {
		u, why := job.RowUnit(said, c.Info().Quantity, b.unit, b.own)
		if why != "" && !job.BearsUnit(cell.text, c.Info().Quantity, u, l.e.set.mark) {
			l.bad = true
			l.e.problems = append(l.e.problems, job.Problem{Severity: job.Error, File: l.t.File, Sheet: l.e.SheetName(l.kind), Row: l.src(), Column: c.Info().Name,
				Text: words.Plain(why), Hint: words.HintUnitColumn.With(), Col: b.col})
		}
		cell.unit = u
	}
	return cell, true
}

// roundRow reads the row at hand; ok is false where it does not say which round it is, which is reported.
func (e *Evaluator) roundRow(l *lines) (row roundRow, ok bool) {
	if l.blank(job.RoundsRound) {
		l.missing(job.RoundsRound, words.HintRound.With())
		return row, false
	}
	if row.Name, row.order, ok = roundName(l.text(job.RoundsRound)); !ok {
		l.fail(job.RoundsRound, words.ProblemNoSuchRound.With(job.Quote(l.text(job.RoundsRound))), words.HintRound.With())
		return row, false
	}
	if l.struck() == "" && !l.blank(job.RoundsStruck) {
		l.tell(job.Warning, job.RoundsStruck, words.ProblemNotStruck.With(job.Quote(l.text(job.RoundsStruck))), words.HintNotStruck.With())
	}
	row.Row, row.When, row.By, row.Temperature, row.Done, row.Struck = l.src(), l.text(job.RoundsWhen), l.text(job.RoundsBy), l.text(job.RoundsTemperature), l.text(job.RoundsDone), l.struck()
	row.Instrument, row.Packs = l.text(job.RoundsInstrument), l.text(job.RoundsPacks)
	row.packs = l.footPacks(job.RoundsPacks)
	for k := range row.done {
		row.done[k] = l.number(job.RoundsFrontShim+job.ColumnID(k), anything)
	}
	return row, true
}

// struck is the reason that strikes the round at hand. A word that says no is none.
func (l *lines) struck() string {
	switch s := l.text(job.RoundsStruck); strings.ToLower(s) {
	case "no", "n", "0", "false", "not struck", "counts", "valid":
		return ""
	default:
		return s
	}
}

// roundUnits looks at the units of columns of readings: as on the Machines sheet where a dial has one over some of its columns, and where a column has one there and none here.
func (e *Evaluator) roundUnits(l *lines, readings []job.ColumnID, at []boundColumn) {
	tell := func(sev job.Severity, col int, c job.ColumnID, text, hint words.Phrase) {
		e.problems = append(e.problems, job.Problem{Severity: sev, File: l.t.File, Sheet: e.SheetName(l.kind), Row: max(l.first-1, 0), Column: c.Info().Name, Text: text, Hint: hint, Col: col})
	}
	if l.col(job.RoundsUnit) >= 0 { // each row says its unit
		return
	}
	var bind []binding
	var from []int
	for k, b := range at {
		if b.col >= 0 {
			bind, from = append(bind, binding{id: readings[k], unit: b.unit, own: b.own}), append(from, k)
		}
	}
	dialUnits(bind, func(sev job.Severity, k int, c job.ColumnID, text, hint words.Phrase) {
		tell(sev, at[from[k]].col, c, text, hint)
	})
	for k := range bind {
		b := &at[from[k]]
		b.unit = bind[k].unit
		if b.own || b.unit == units.None {
			continue
		}
		e.unitElsewhere(l, bind[k].id, b, func(c job.ColumnID) bool { return c == bind[k].id })
	}
}

// unitElsewhere takes the unit from a column of readings whose header bears none, where one like it bears another on the Machines sheet: it may have been meant for both.
func (e *Evaluator) unitElsewhere(l *lines, c job.ColumnID, b *boundColumn, alike func(c job.ColumnID) bool) {
	for _, x := range e.bind {
		if x.own && alike(x.id) && x.unit != b.unit && x.unit != units.None {
			e.problems = append(e.problems, job.Problem{Severity: job.Error, File: l.t.File, Sheet: e.SheetName(l.kind), Row: max(l.first-1, 0), Column: c.Info().Name,
				Text: words.ProblemUnitOfSheet.With(e.SheetName(job.MachinesSheet), x.id.Info().Name, x.unit, b.unit), Hint: words.HintUnitOfSome.With(), Col: b.col})
			b.unit = units.None
			return
		}
	}
}

// footPacks reads what lies under the feet: "front 9: 0.5+0.2; rear: 0". nil where nothing is said, or it cannot be read, which is reported.
func (l *lines) footPacks(c job.ColumnID) (list []footPack) {
	if l.blank(c) || job.NotGiven(l.cell(c)) {
		return nil
	}
	for part := range strings.SplitSeq(l.cell(c), ";") {
		foot, pack, ok := strings.Cut(part, ":")
		if ok = ok && !job.Blank(foot) && !job.Blank(pack); !ok {
			l.fail(c, words.ProblemRoundPacks.With(job.Quote(strings.TrimSpace(part))), words.HintRoundPacks.With())
			return nil
		}
		pieces, text, hint := parsePieces(pack, l.unit(c), l.e.set.mark)
		if text.Empty() && len(pieces) > packs.MaxInPlace {
			text, hint = words.ProblemPackMany.With(len(pieces), packs.MaxInPlace), words.HintPieces.With()
		}
		if !text.Empty() {
			l.fail(c, text, hint)
			return nil
		}
		l.askPieces(c, pieces, strings.TrimSpace(pack))
		list = append(list, footPack{strings.TrimSpace(foot), pieces, l.src()})
	}
	return list
}

// evalRow works row i out, and holds what was signed for it against that.
func (e *Evaluator) evalRow(i int) {
	e.evalReadings(i)
	e.judgeRecord(i, e.at(i))
}

// evalReadings works row i out: with the readings of its row, or of the last of its rounds that is not struck.
func (e *Evaluator) evalReadings(i int) {
	r := e.at(i)
	e.dirty[i] = false
	var m *machineRounds
	if k := e.keys[i]; k != "" && e.dups[i] < 0 {
		m = e.rounds[k]
	}
	e.sc.plan = nil
	if m == nil {
		e.sc.plan = e.rowPlans[i]
		e.evalRound(i, r, nil)
		return
	}
	e.evalRounds(i, r, m)
}

// evalRounds works out every round of a machine. The row's own result is that of the last one that is not struck.
func (e *Evaluator) evalRounds(i int, r *RowResult, m *machineRounds) {
	list, counts, open := e.roundList(i, m)
	rounds := make([]Round, len(list))
	var before *RowResult // the last round before that is not struck
	e.sc.found = nil
	for k := range list {
		o := &list[k]
		res := r
		if e.sc.plan = e.rowPlans[i]; k != counts {
			res, e.sc.plan = &RowResult{}, nil
		}
		if o.packs != nil && o.Struck == "" {
			e.sc.packs = o.packs
		}
		e.sc.hot, e.sc.cooling, e.sc.unsettled = o.order == roundHot, before, res == r && (m.twice != "" || m.bad > 0)
		e.evalRound(i, res, o)
		e.sc.hot, e.sc.unsettled = false, false
		rounds[k] = o.Round
		out := &rounds[k]
		out.Row = max(o.Row, o.about)
		out.Verdict, out.Why, out.Line, out.Offset, out.Slope = res.Verdict, e.Why(res), res.Calc.Line, res.Offset, res.Slope
		out.Predicted = calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}
		out.Cov, out.Share, out.Sweeps, out.sound = res.Calc.Cov, res.Calc.Found.Share, res.SweepsRead(), res.soundLine()
		if o.Struck != "" {
			continue
		}
		if before != nil && before.HasLine() {
			if o.order == roundHot {
				out.grow(before, res)
			} else {
				out.predict(before, o.done, e.rowPlans[i] != nil)
			}
			if res.HasLine() {
				out.miss(before, &res.Calc.Cov)
			}
		}
		out.stand(res)
		if o.order == roundHot {
			for _, p := range res.Problems {
				if p.Column == job.ColMinutes.Info().Name || p.Sheet == e.SheetName(job.RoundsSheet) {
					r.Problems = append(r.Problems, p)
				}
			}
			continue
		}
		if o.order == roundFound {
			e.sc.found = res
		}
		before = res
		if k == counts { // what follows is struck or hot and must not write over it
			copied := *res
			before = &copied
		}
	}
	found := e.sc.found
	if found == r {
		found = nil
	}
	e.sc.found, e.sc.cooling = nil, nil
	if counts < 0 {
		waiting := &roundRow{Round: Round{Name: StateWaiting}}
		if len(list) > 0 {
			waiting.Struck = list[len(list)-1].Struck
		}
		e.evalRound(i, r, waiting)
	}
	e.staleFeet(r, list, counts)
	e.sc.packs = nil
	r.Rounds, r.State = rounds, StateWaiting
	if open >= 0 {
		r.open = &list[open]
	}
	if counts >= 0 {
		r.counting, r.foundRound = &list[counts], found
		if r.State = list[counts].Name; list[counts].order != roundFound && list[counts].order != roundLeft {
			r.State = "round " + r.State
		}
	}
	if m.nameless > 0 {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemRoundNameless.With(e.SheetName(job.RoundsSheet), m.nameless), words.HintRound.With())
	}
	if m.twice != "" {
		e.withhold(r, words.ProblemRoundTwice.With(m.twice), words.HintRoundTwice.With())
	}
	if m.bad > 0 {
		e.withhold(r, words.ProblemSheetBad.With(e.SheetName(job.RoundsSheet), m.bad), words.HintLongBad.With())
	}
}

// roundList is the rounds of row i in their order, with that of its own readings; which of them counts, the last cold one that is not struck, and which is open, the last of all that is not struck; −1
// none. A round found of the Rounds sheet that has no readings speaks of the readings of the Machines row: who read them and when, and why they are struck.
func (e *Evaluator) roundList(i int, m *machineRounds) (list []roundRow, counts, open int) {
	list, counts, open = m.list, -1, -1
	if e.hasReadings(i) {
		own := roundRow{Round: Round{Name: foundRound}, done: [4]float64{nan, nan, nan, nan}}
		about := slices.IndexFunc(list, func(o roundRow) bool { return o.order == roundFound && len(o.cells) == 0 })
		switch {
		case about >= 0:
			list = slices.Clone(list)
			list[about].about, list[about].Row = list[about].Row, 0
		case !slices.ContainsFunc(list, func(o roundRow) bool { return o.order == roundFound && o.Struck == "" }):
			list = append([]roundRow{own}, list...)
		}
	}
	for k := range list {
		if list[k].Struck == "" {
			if open = k; list[k].order != roundHot {
				counts = k
			}
		}
	}
	return list, counts, open
}

// staleFeet points out that the Feet sheet says what lies under the feet and no round does, though something was done since they were found.
func (e *Evaluator) staleFeet(r *RowResult, list []roundRow, counts int) {
	if counts < 0 || list[counts].order == roundFound || r.Feet == nil || e.sc.packs != nil {
		return
	}
	if slices.ContainsFunc(r.Feet.Feet, func(f Foot) bool { return f.Listed }) {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemFeetStale.With(list[counts].Name), words.HintFeetStale.With())
	}
}

// placed puts what the last round says lies under the feet in the place of what the Feet sheet says.
func (e *Evaluator) placed(r *RowResult, out *Feet, g *feetRows, w *want) {
	for _, p := range e.sc.packs {
		end, side := FootWords(p.foot)
		if k, ok := footNumber(p.foot); ok && k <= len(e.set.numbered) {
			end, side = e.set.numbered[k-1][0], e.set.numbered[k-1][1]
		}
		if r.FromStationary {
			side = -side
		}
		some := false
		named := slices.ContainsFunc(g.feet, func(f footRow) bool { return job.NormalForm(f.Name) == job.NormalForm(p.foot) })
		for k := range g.feet {
			f := &g.feet[k]
			if named && job.NormalForm(f.Name) != job.NormalForm(p.foot) || !named && (end < 0 || f.end != end || side != 0 && f.side != side) {
				continue
			}
			out.Feet[k].InPlace, out.Feet[k].Listed, some = p.pieces, true, true
		}
		if !some {
			e.packsProblem(r, job.Error, &p, words.ProblemRoundFoot.With(job.Quote(p.foot)), words.HintRoundFoot.With())
			w.noVerdict, w.noFeet = true, true
		}
	}
}

// packsProblem records a problem of the row that lies where a round says what is under a foot.
func (e *Evaluator) packsProblem(r *RowResult, sev job.Severity, p *footPack, text, hint words.Phrase) {
	r.Problems = append(r.Problems, job.Problem{Severity: sev, File: e.job.Table(job.RoundsSheet).File, Sheet: e.SheetName(job.RoundsSheet), Row: p.row, Column: job.RoundsPacks.Info().Name,
		Text: text, Hint: hint, Col: -1})
}

// FromRounds says whether the readings that count stand on the Rounds sheet.
func (r *RowResult) FromRounds() bool { return r.counting != nil && r.counting.Row > 0 }

// withhold takes the verdict of a row back for a reason that lies in its rounds.
func (e *Evaluator) withhold(r *RowResult, text, hint words.Phrase) {
	e.problem(r, job.Error, job.NoColumn, text, hint)
	r.Verdict, r.AfterVerdict, r.withheld = calc.NotJudged, calc.NotJudged, true
	r.Why = words.Together(r.Why, text)
}

// hasReadings says whether the Machines row, or the Readings sheet, has readings of the machine as found.
func (e *Evaluator) hasReadings(i int) bool {
	if l := e.long[e.keys[i]]; l.set(foundSet) != nil || l.set(coldSet) != nil {
		return true
	}
	row := e.job.Machines.Rows[i]
	for col, b := range e.bind {
		if col < len(row) && b.id != job.NoColumn && b.id < job.NumInputs && job.IsReading(b.id) && !job.Blank(row[col]) {
			return true
		}
	}
	return false
}

// advised is where the line was to come to stand after a round: where its packs and moves bring it; without packs on the wanted line. A machine inside its limit was to be
// left as it stood. ok is false where nothing was advised, because nobody knows where the feet are.
func (r *RowResult) advised() (line calc.Line, ok bool) {
	switch {
	case r.Verdict == calc.Inside:
		return r.Calc.Line, true
	case r.Calc.HasAfter:
		return r.Calc.After, true
	case knownLine(r.Wanted):
		return r.Wanted, r.Foot(r.Front) != nil
	}
	return line, false
}

// predict says where the shaft should stand after what was done since the round before: as typed, and where nothing was typed as that round advised. What a plan of the whole train
// asked at that round is not kept, so there only what was typed counts, all of it.
func (o *Round) predict(before *RowResult, done [4]float64, planned bool) {
	front, rear := before.Foot(before.Front), before.Foot(before.Rear)
	told := Known(done[0]) || Known(done[1]) || Known(done[2]) || Known(done[3])
	to, advised := before.advised()
	advised = advised && !planned
	if !told {
		if advised {
			o.Predicted = to
		}
		return
	}
	if front == nil || rear == nil {
		return
	}
	var change [4]float64
	for k, x := range [2]float64{front.Station, rear.Station} {
		v0, h0 := before.Calc.Line.At(x)
		v1, h1 := to.At(x)
		change[k], change[2+k] = v1-v0, h1-h0
	}
	for k := range change {
		if Known(done[k]) {
			change[k] = done[k]
		} else if !advised {
			return
		}
	}
	o.Predicted = before.Calc.Line.Moved(front.Station, rear.Station, change[0], change[1], change[2], change[3])
}

// grow says where the shaft should stand hot: where it stood cold, and as much farther as growth says.
func (o *Round) grow(before, res *RowResult) {
	w, hot, l := &before.Wanted, &res.Wanted, &before.Calc.Line
	o.Predicted = calc.Line{DV: l.DV + hot.DV - w.DV, TV: l.TV + hot.TV - w.TV, DH: l.DH + hot.DH - w.DH, TH: l.TH + hot.TH - w.TH}
}

// stand notes where the feet stand to the wanted line.
func (o *Round) stand(res *RowResult) {
	w := &res.Wanted
	if !res.HasLine() || !knownLine(*w) {
		return
	}
	for k, name := range [2]string{"front", "rear"} {
		f := res.Foot([2]int{res.Front, res.Rear}[k])
		if f == nil {
			continue
		}
		v, h := o.Line.At(f.Station)
		wv, wh := w.At(f.Station)
		pv, ph := o.Predicted.At(f.Station)
		uv, uh := res.Calc.Cov.At(f.Station)
		o.Stand = append(o.Stand, StandFoot{name, v - wv, h - wh, 2 * uv, 2 * uh, pv - wv, ph - wh})
	}
}

// miss says how far the feet came to stand from where they should. cov is that of the line read now.
func (o *Round) miss(before *RowResult, cov *calc.Cov) {
	if !knownLine(o.Predicted) {
		return
	}
	for k, name := range [2]string{"front", "rear"} {
		f := before.Foot([2]int{before.Front, before.Rear}[k])
		if f == nil {
			continue
		}
		v, h := o.Line.At(f.Station)
		pv, ph := o.Predicted.At(f.Station)
		u1, _ := before.Calc.Cov.At(f.Station)
		u2, _ := cov.At(f.Station)
		o.Missed = append(o.Missed, MissedFoot{name, v - pv, h - ph, !o.Hot() && v-pv < -2*math.Hypot(u1, u2)})
	}
}

// What a round is called, as it is typed and shown, where it has no number; and the state of a machine at which nothing was read that counts.
const (
	foundRound   = "found"
	leftRound    = "left"
	hotRound     = "hot"
	StateWaiting = "waiting"
)

// StateWord says how far the machine is: found, round 2, left; waiting where nothing was read that counts. Once somebody signed it is signed, or changed since signed.
func (r *RowResult) StateWord() words.Phrase {
	if r.Signed == SignHolds || r.Signed == SignFailed {
		return r.Signed.Word().With()
	}
	return words.Plain(r.RoundWord())
}

// RoundWord says which round counts.
func (r *RowResult) RoundWord() string {
	switch {
	case r.State != "":
		return r.State
	case len(r.Sweeps) > 0 || r.HasLine():
		return foundRound
	}
	return StateWaiting
}

// Reads are the families of readings that the row's method asks for; of a row without a method those that the sheet has columns for.
func (e *Evaluator) Reads(r *RowResult) job.FamilySet {
	have := r.Method.Reads() | r.setSweeps
	if r.Method == job.MethodBlank {
		for _, b := range e.bind {
			if b.id >= job.ColReading && b.id < job.ColMovableSag {
				have |= 1 << job.Family((b.id-job.ColReading)/job.NumPositions)
			}
		}
	}
	return have
}

// AsIfRead is row i as if every dial and gauge of those families had been read as 0 at 12, 3, 6 and 9, which tells what they should read cold: that follows from distances, sag and growth alone. What
// the readings themselves say is not to be taken from it.
func (e *Evaluator) AsIfRead(i int, have job.FamilySet) *RowResult {
	o := roundRow{Round: Round{Name: StateWaiting}}
	for f := range job.NumFamilies {
		for p := range job.Again12 {
			if have.Has(f) {
				o.cells = append(o.cells, roundCell{job.ReadingColumn(f, p), "0", units.MM, -1})
			}
		}
	}
	r := &RowResult{}
	e.sc.plan = nil
	e.evalRound(i, r, &o)
	return r
}

// NextRound is the round of row i that is to be read next: found before anything was read, then 1, 2, and so on. After left it is left, which is then read anew.
func (e *Evaluator) NextRound(i int) string {
	r := e.Row(i)
	switch r.RoundWord() {
	case StateWaiting:
		return foundRound
	case leftRound:
		return leftRound
	}
	last := 0
	for k := range r.Rounds {
		if n, err := strconv.Atoi(r.Rounds[k].Name); err == nil && r.Rounds[k].Struck == "" {
			last = max(last, n)
		}
	}
	return strconv.Itoa(last + 1)
}
