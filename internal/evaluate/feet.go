package evaluate

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Room is how far a foot, or a pair of feet, can still go, mm; NaN: not known.
type Room struct{ Up, Down, Left, Right float64 }

// A Foot is what the Feet sheet and the row make of one single foot.
type Foot struct {
	Name     string
	Row      int     // of the source
	Station  float64 // mm from the coupling centre; NaN: not known
	Across   float64 // mm, towards 3 o'clock is positive; NaN: not known
	Align    float64 // mm: what the alignment asks for here, positive to add; NaN: no line, or no station
	UAlign   float64 // expanded
	Soft     float64 // mm ≥ 0: what the soft foot asks for; 0 without a soft foot
	Wanted   float64 // mm: both together; Soft alone where Feet.Leave says so
	InPlace  []float64
	Listed   bool // InPlace was typed; an empty list is the bare base
	Size     string
	HasStock bool             // Change was made from the stock
	Status   packs.PickStatus // how the foot fares in the sharing-out, once the stock is shared out
	Change   packs.Change     // what is taken out, what goes in, what lies there then
	Room     Room

	pair   int     // index in Calc.Feet of the pair it stands in, −1 none
	Target float64 // what Change was made for: Wanted, or what the pairs choose together
}

// Feet is what the Feet sheet gives for one machine.
type Feet struct {
	Feet    []Foot
	HasSoft bool            // gaps or rises were measured
	Soft    calc.SoftResult // of the feet in the same order
	Assumed bool            // where the feet stand across was not typed; they were taken as evenly wide
	Limit   float64         // mm, of a soft foot
	Leave   bool            // the machine is inside its limit and stays where it stands: its feet get their soft foot's shims alone
}

// footRow is a row of the Feet sheet as it was understood.
type footRow struct {
	Foot
	end, side int // end 0 front, 1 rear, −1 by Along; side −1 at 9 o'clock, 1 at 3, 0 not said
	soft      calc.SoftFoot
	measured  bool

	along     string     // what stands under Along
	alongUnit units.Unit // of a bare number there; None: it bears its own
}

// feetRows is what the Feet sheet holds for one machine.
type feetRows struct {
	claim
	feet  []footRow
	along []float64 // stations typed, each once, rising
}

// readFeet reads the Feet sheet.
func (e *Evaluator) readFeet() {
	e.footings = nil
	l := e.lines(job.FeetSheet, job.FeetMachine, job.FeetUnit, job.FeetMachine, job.FeetFoot)
	if l == nil {
		return
	}
	e.footings = map[string]*feetRows{}
	last := ""
	for l.next() {
		key, cl := l.owner(job.FeetMachine)
		if key == "" {
			if last != "" {
				e.footings[last].bad = l.src()
			}
			continue
		}
		g := e.footings[key]
		if g == nil {
			g = &feetRows{claim: cl}
			e.footings[key] = g
			e.claims = append(e.claims, &g.claim)
		}
		last = key
		f := e.footRow(l)
		if !l.bad && slices.ContainsFunc(g.feet, func(o footRow) bool { return job.SameSpelling(o.Name, f.Name) }) {
			l.fail(job.FeetFoot, words.ProblemFootTwice.With(f.Name), words.HintFootTwice.With())
		}
		if l.bad {
			if g.bad == 0 {
				g.bad = l.src()
			}
			continue
		}
		if f.Size != "" {
			e.sized = true
		}
		g.feet = append(g.feet, f)
	}
	for _, g := range e.footings {
		for i := range g.feet {
			if x := g.feet[i].Station; Known(x) {
				g.along = append(g.along, x)
			}
		}
		slices.Sort(g.along)
		g.along = slices.CompactFunc(g.along, func(a, b float64) bool { return math.Abs(a-b) <= tape })
	}
}

// Words for the ends and the sides of a machine.
var (
	frontWords = []string{"front", "near", "inboard", "in", "coupling", "de", "drive"}
	rearWords  = []string{"rear", "far", "outboard", "out", "back", "nde", "free"}
	leftWords  = []string{"9", "left", "l"}
	rightWords = []string{"3", "right", "r"}
)

// shortFeet are the names of feet in letters: inboard and outboard, front and rear, left and right.
var shortFeet = map[string][2]int{"lf": {0, -1}, "rf": {0, 1}, "lr": {1, -1}, "ibl": {0, -1}, "ibr": {0, 1}, "obl": {1, -1}, "obr": {1, 1}, "fl": {0, -1}, "fr": {0, 1}, "rl": {1, -1}, "rr": {1, 1}}

// FootWords reads which end and which side a foot's name says.
func FootWords(name string) (end, side int) {
	end = -1
	if f, ok := shortFeet[strings.ToLower(strings.TrimSpace(name))]; ok {
		return f[0], f[1]
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_,.;:/()'", r) }) {
		switch {
		case slices.Contains(frontWords, w):
			end = 0
		case slices.Contains(rearWords, w):
			end = 1
		case slices.Contains(leftWords, w):
			side = -1
		case slices.Contains(rightWords, w):
			side = 1
		}
	}
	if end < 0 && !strings.ContainsAny(name, "lLrR") {
		side = 0 // a number alone is a number
	}
	return end, side
}

// footNumber is the number of a foot that is named by one alone: 3, foot 3, no. 3, #3.
func footNumber(name string) (int, bool) {
	said := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_.:#", r) })
	if n := len(said); n == 0 || n > 2 || n == 2 && !slices.Contains([]string{"foot", "no", "nr", "f"}, said[0]) {
		return 0, false
	}
	k, err := strconv.Atoi(said[len(said)-1])
	return k, err == nil && k > 0
}

// numberedFeet reads the setting Feet numbered: which foot is 1, which 2, and so on. ok is false where a name does not say both an end and a side, or one stands twice.
func numberedFeet(text string) (list [][2]int, ok bool) {
	for _, name := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		end, side := FootWords(name)
		if end < 0 || side == 0 || slices.Contains(list, [2]int{end, side}) {
			return nil, false
		}
		list = append(list, [2]int{end, side})
	}
	return list, true
}

// footRow reads the row at hand.
func (e *Evaluator) footRow(l *lines) footRow {
	f := footRow{Foot: Foot{Name: l.text(job.FeetFoot), Row: l.src(), Station: l.number(job.FeetAlong, anything), Across: l.number(job.FeetAcross, anything), Size: l.text(job.FeetSize),
		Align: nan, UAlign: nan, Wanted: nan, pair: -1,
		Room: Room{l.number(job.FeetRoomUp, notNegative), l.number(job.FeetRoomDown, notNegative), l.number(job.FeetRoomLeft, notNegative), l.number(job.FeetRoomRight, notNegative)}}}
	f.soft = calc.SoftFoot{Gap: l.number(job.FeetGapUnder, notNegative), Rise: l.number(job.FeetRise, anything), RiseFreed: l.number(job.FeetRiseFree, anything),
		Length: l.number(job.FeetFootLength, positive), Width: l.number(job.FeetFootWidth, positive),
		Corner: [4]float64{calc.CouplingSide9: l.number(job.FeetCornerFront9, notNegative), calc.CouplingSide3: l.number(job.FeetCornerFront3, notNegative),
			calc.FreeSide3: l.number(job.FeetCornerRear3, notNegative), calc.FreeSide9: l.number(job.FeetCornerRear9, notNegative)}}
	if f.along = l.text(job.FeetAlong); job.IsBareNumber(f.along) {
		f.alongUnit = l.unit(job.FeetAlong)
	}
	f.end, f.side = FootWords(f.Name)
	if k, ok := footNumber(f.Name); ok && k <= len(e.set.numbered) {
		f.end, f.side = e.set.numbered[k-1][0], e.set.numbered[k-1][1]
	}
	if f.Name == "" {
		l.missing(job.FeetFoot, words.HintFootName.With())
		return f
	}
	if l.blank(job.FeetAlong) && f.end < 0 {
		l.missing(job.FeetAlong, words.HintFootAlong.With())
	}
	if Known(f.Across) && f.side != 0 {
		if f.side > 0 && f.Across < 0 {
			l.fail(job.FeetAcross, words.ProblemFootSide.With(job.Quote(f.Name), job.Quote(l.cell(job.FeetAcross))), words.HintFootSide.With())
		}
		f.Across = math.Copysign(f.Across, float64(f.side))
	}
	corners := 0
	for _, c := range f.soft.Corner {
		if Known(c) {
			corners++
		}
	}
	if corners > 0 && corners < 4 && !l.bad {
		c := job.FeetCornerFront9
		for ; Known(f.soft.Corner[[4]int{calc.CouplingSide9, calc.CouplingSide3, calc.FreeSide9, calc.FreeSide3}[c-job.FeetCornerFront9]]); c++ {
		}
		l.missing(c, words.HintFourCorners.With())
	}
	f.measured = corners == 4 || Known(f.soft.Gap) || Known(f.soft.Rise) || Known(f.soft.RiseFreed)
	if !l.blank(job.FeetPack) {
		pieces, text, hint := parsePieces(l.cell(job.FeetPack), l.unit(job.FeetPack), e.set.mark)
		switch {
		case !text.Empty():
			l.fail(job.FeetPack, text, hint)
		case len(pieces) > packs.MaxInPlace:
			l.fail(job.FeetPack, words.ProblemPackMany.With(len(pieces), packs.MaxInPlace), words.HintPieces.With())
		default:
			l.askPieces(job.FeetPack, pieces, l.cell(job.FeetPack))
			f.InPlace, f.Listed = pieces, true
		}
	}
	return f
}

// parsePieces reads the pieces of a pack in mm, as they lie: "0.5+0.2+0.1", "0.5 0.2 0.1", "2 x 0.5 + 0.1", "20 mil + 5 mil". "0", "none" and "bare" are an empty
// list. Blanks part pieces only where there is no plus, semicolon or slash-free number sign to do it.
func parsePieces(s string, unit units.Unit, mark units.Decimal) (list []float64, text, hint words.Phrase) {
	list = []float64{}
	switch job.NormalForm(s) {
	case "0", "none", "bare", "barebase", "nothing", "no":
		return list, words.Phrase{}, words.Phrase{}
	}
	bare, typed := false, units.None
	defer func() {
		if text.Empty() && job.MixedUnits(typed, unit, bare) {
			list, text, hint = nil, words.ProblemMixedUnits.With(job.Quote(s), typed, unit), words.HintMixedUnits.With()
		}
	}()
	one := func(w string) bool {
		n := 1.0
		if i := strings.IndexAny(w, "x×*"); i > 0 {
			if c, err := units.Parse(w[:i], units.Number, units.None, mark); err == nil && c.Base >= 1 && c.Base == math.Trunc(c.Base) && c.Base <= 99 {
				n = c.Base
				w = strings.TrimLeft(w[i:], "x×*")
			}
		}
		if v, err := units.Parse(w, units.Length, unit, mark); err == nil && v.Own {
			typed = v.Unit
		} else {
			bare = true
		}
		x, wrong, _ := job.ParseQuantity(w, job.QThickness, unit, mark)
		if wrong != "" {
			text = words.ProblemPieces.With(job.Quote(s), wrong)
			hint = words.HintPieces.With()
			return false
		}
		if !(x > 0) {
			text, hint = words.ProblemTooSmall.With(job.Quote(w)), words.HintPieces.With()
			return false
		}
		for range int(n) {
			list = append(list, x)
		}
		return true
	}
	if strings.ContainsAny(s, "+;") {
		for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == '+' || r == ';' }) {
			if !job.Blank(w) && !one(w) {
				return nil, text, hint
			}
		}
		return list, words.Phrase{}, words.Phrase{}
	}
	said := strings.Fields(s)
	for i := 0; i < len(said); {
		w := said[i]
		for i++; i < len(said); i++ {
			c := said[i][0]
			if last := w[len(w)-1]; (c >= '0' && c <= '9' || c == '.' || c == ',') && last != 'x' && last != '*' && !strings.HasSuffix(w, "×") {
				break
			}
			w += " " + said[i]
		}
		if !one(w) {
			return nil, text, hint
		}
	}
	return list, words.Phrase{}, words.Phrase{}
}

// footings of the row being read, nil if the Feet sheet does not have its machine. What cannot be used is a problem of the row.
func (e *Evaluator) takeFeet(i int, r *RowResult, w *want) {
	e.sc.footing = nil
	if e.keys[i] == "" {
		return
	}
	g := e.footings[e.keys[i]]
	if g == nil {
		for k := range e.sc.packs {
			e.packsProblem(r, job.Warning, &e.sc.packs[k], words.ProblemRoundNoFeet.With(job.Quote(e.sc.packs[k].foot), e.SheetName(job.FeetSheet)), words.HintRoundNoFeet.With())
		}
		return
	}
	if g.bad > 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemSheetBad.With(e.SheetName(job.FeetSheet), g.bad), words.HintLongBad.With())
		w.noVerdict, w.noFeet = true, true
		return
	}
	if r.FromStationary {
		g = g.mirrored()
	}
	e.sc.footing = g
	out := &Feet{Feet: make([]Foot, len(g.feet)), Limit: e.set.softLimit}
	for k := range g.feet {
		out.Feet[k] = g.feet[k].Foot
	}
	e.placed(r, out, g, w)
	r.Feet = out
}

// mirrored is the same machine where 3 and 9 o'clock, left and right were named by somebody behind the stationary machine.
func (g *feetRows) mirrored() *feetRows {
	m := *g
	m.feet = slices.Clone(g.feet)
	for k := range m.feet {
		f := &m.feet[k]
		f.Across, f.side = 0-f.Across, -f.side
		f.Room.Left, f.Room.Right = f.Room.Right, f.Room.Left
		f.soft = f.soft.Mirrored()
	}
	return &m
}

// stationsFromFeet gives the foot pairs of the row from the Feet sheet where the row does not say where they stand; nil if that cannot be.
func (e *Evaluator) stationsFromFeet() []float64 {
	g := e.sc.footing
	if g == nil || len(g.along) < 2 {
		return nil
	}
	for k := range g.feet {
		if math.IsNaN(g.feet[k].Station) {
			return nil
		}
	}
	return g.along
}

// softFoot works the soft feet of the row's machine out, whether there is a line or not.
func (e *Evaluator) softFoot(r *RowResult) {
	g, out := e.sc.footing, r.Feet
	if g == nil {
		return
	}
	front, rear := 0.0, 1000.0 // where only front and rear are told apart, any two places do: the gaps of four feet ask for the same shims
	if len(e.sc.in.Feet) >= 2 {
		front, rear = e.sc.in.Feet[r.Front], e.sc.in.Feet[r.Rear]
	}
	measured, typed := false, 0
	for k := range g.feet {
		f, o := &g.feet[k], &out.Feet[k]
		measured = measured || f.measured
		if math.IsNaN(o.Station) && len(e.sc.in.Feet) >= 2 {
			o.Station = [2]float64{front, rear}[max(f.end, 0)]
		}
		if Known(f.Across) {
			typed++
		}
	}
	if !measured {
		return
	}
	out.HasSoft = true
	in := calc.SoftInput{Limit: e.set.softLimit, Feet: make([]calc.SoftFoot, len(g.feet))}
	for k := range g.feet {
		f := &g.feet[k]
		s := f.soft
		if s.Along = out.Feet[k].Station; math.IsNaN(s.Along) {
			s.Along = [2]float64{front, rear}[max(f.end, 0)]
		}
		switch {
		case typed == len(g.feet):
			s.Across = f.Across
		case typed == 0 && f.side != 0:
			s.Across = 500 * float64(f.side)
			out.Assumed = true
		default:
			if math.IsNaN(f.Across) {
				e.feetProblem(r, job.Error, job.FeetAcross, f.Row, words.ProblemFootAcross.With(f.Name), words.HintFootAcross.With())
				out.Soft.Status = calc.SoftBadNumber
				return
			}
			s.Across = f.Across
		}
		in.Feet[k] = s
	}
	in.U, in.URise = e.set.feeler.U(), e.set.dial.U()
	calc.Soft(&in, &out.Soft)
	if out.Soft.Status != calc.SoftOK {
		row, name := g.row, ""
		if k := out.Soft.Foot; k >= 0 && k < len(g.feet) {
			row, name = g.feet[k].Row, " ("+g.feet[k].Name+")"
		}
		hint := words.HintSoft
		switch out.Soft.Status {
		case calc.SoftFeetCount:
			hint = words.HintSoftCount
		case calc.SoftSamePlace, calc.SoftInLine:
			hint = words.HintSoftPlace
		}
		e.feetProblem(r, job.Error, job.NoColumn, row, words.Joined(words.ProblemSoftFailed.With(out.Soft.Status), words.Plain(name)), hint.With())
		return
	}
	for k := range out.Feet {
		if s := out.Soft.Feet[k].Shim; Known(s) && out.Soft.Pattern != calc.SoftNone {
			out.Feet[k].Soft = s
		}
	}
}

// feetProblem records a problem of the row that lies on the Feet sheet.
func (e *Evaluator) feetProblem(r *RowResult, sev job.Severity, id job.ColumnID, row int, text, hint words.Phrase) {
	p := job.Problem{Severity: sev, File: e.job.Feet.File, Sheet: e.SheetName(job.FeetSheet), Row: row, Text: text, Hint: hint, Col: -1}
	if id != job.NoColumn {
		p.Column = id.Info().Name
	}
	r.Problems = append(r.Problems, p)
}

// footPacks makes the pack of every single foot: alignment and soft foot together, from what lies there and what is in the box. The line
// after is then predicted from what the feet really rise.
func (e *Evaluator) footPacks(r *RowResult) {
	out := r.Feet
	if out == nil {
		return
	}
	c := &r.Calc
	for k := range out.Feet {
		f := &out.Feet[k]
		f.Wanted = f.Soft
		if len(c.Feet) < 2 || math.IsNaN(f.Station) || math.IsNaN(c.Feet[0].Shim) {
			if f.Soft == 0 {
				f.Wanted = nan
			}
			continue
		}
		// The shims of one machine lie on a straight line; a foot within a tape's reading of a pair is of the pair.
		for i := range c.Feet {
			if math.Abs(c.Feet[i].Station-f.Station) <= tape {
				f.pair, f.Align, f.UAlign = i, c.Feet[i].Shim, c.Feet[i].UShim
			}
		}
		if f.pair < 0 {
			a, b := &c.Feet[0], &c.Feet[len(c.Feet)-1]
			t := (f.Station - a.Station) / (b.Station - a.Station)
			f.Align, f.UAlign = a.Shim+t*(b.Shim-a.Shim), math.Max(a.UShim, b.UShim)
		}
		if !out.Leave {
			f.Wanted = f.Align + f.Soft
		}
	}
	if e.packer == nil {
		return
	}
	own := slices.Clone(c.Feet)
	e.makePacks(r, nil)
	if out.Leave { // it stays, and so does the line
		if c.HasAfter {
			c.After, c.AfterJ = c.Line, c.Found
		}
		return
	}
	rise := e.pairRise(r)
	if rise == nil || !calc.AfterFeet(&e.sc.in, c, rise, e.moved(r)) || r.Plan != nil {
		return
	}
	// Where each foot's own best pack leaves the line outside, what the pairs choose together may do better.
	best, after, judged := slices.Clone(out.Feet), c.After, c.AfterJ
	solved := slices.Clone(c.Feet)
	copy(c.Feet, own)
	if calc.ChooseTogether(&e.sc.in, c, 0, 0) {
		target := []float64{c.Feet[0].Rounded, c.Feet[1].Rounded}
		e.makePacks(r, target)
		if rise = e.pairRise(r); rise != nil && calc.AfterFeet(&e.sc.in, c, rise, e.moved(r)) && c.AfterJ.Verdict == calc.Inside {
			r.Together = true
			return
		}
	}
	copy(out.Feet, best)
	copy(c.Feet, solved)
	c.After, c.AfterJ = after, judged
}

// makePacks makes the packs of the feet; target, if not nil, is the rise of each pair instead of what its line asks for.
func (e *Evaluator) makePacks(r *RowResult, target []float64) {
	for k := range r.Feet.Feet {
		f := &r.Feet.Feet[k]
		p := e.packerFor(f.Size)
		if p == nil || math.IsNaN(f.Wanted) {
			continue
		}
		want := f.Wanted
		if target != nil && f.pair >= 0 {
			want = target[f.pair] + f.Soft
		}
		var in []float64
		if f.Listed {
			in = f.InPlace
		}
		ch, err := p.Change(want, in)
		if err != nil {
			continue // kept out when the sheet was read
		}
		offWanted(&ch, want, f.Wanted)
		f.Change, f.HasStock, f.Target = ch, true, want
	}
}

// rise is what a foot really rises, NaN: not known.
func (f *Foot) rise() float64 {
	if !f.HasStock || f.Change.Status == packs.ChangeNone {
		return nan
	}
	return f.Change.Net
}

// pairRise is how much each pair of the row rises: the mean of its feet, less what the soft foot takes up. nil: a pair has no foot on the sheet.
func (e *Evaluator) pairRise(r *RowResult) []float64 {
	if !r.Calc.HasAfter {
		return nil
	}
	sum, n := make([]float64, len(r.Calc.Feet)), make([]float64, len(r.Calc.Feet))
	rises := func(pair int, x float64) {
		if pair >= 0 && Known(x) {
			sum[pair] += x
			n[pair]++
		}
	}
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			rises(f.pair, f.rise()-f.Soft)
		}
	}
	for k := range r.picks {
		if p := &r.picks[k]; p.Single < 0 {
			rises(p.Pair, p.Net)
		}
	}
	for i := range sum {
		if n[i] == 0 {
			sum[i] = r.Calc.Feet[i].Rounded
			continue
		}
		sum[i] /= n[i]
	}
	return sum
}

// moved is what is done under the feet that pairRise takes the mean of, nil where every thickness is taken as exact.
func (e *Evaluator) moved(r *RowResult) []calc.Moved {
	if !e.loose {
		return nil
	}
	var list []calc.Moved
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			if f := &r.Feet.Feet[k]; f.pair >= 0 && Known(f.rise()) {
				list = append(list, calc.Moved{Pair: f.pair, Packer: e.packerFor(f.Size), Change: &f.Change})
			}
		}
	}
	for k := range r.picks {
		if p := &r.picks[k]; p.Single < 0 && p.Pair >= 0 {
			list = append(list, calc.Moved{Pair: p.Pair, Packer: e.packer, Change: &p.Change})
		}
	}
	return list
}

// roomProblems tells what does not go: below the bare base, or past the room of a foot.
func (e *Evaluator) roomProblems(r *RowResult) {
	if r.Feet == nil {
		return
	}
	for k := range r.Feet.Feet {
		f := &r.Feet.Feet[k]
		ch := &f.Change
		severity := func(off float64) job.Severity {
			if off > e.set.packTol+e.thinnest/2 {
				return job.Warning
			}
			return job.Note // as near as any pack; the line after tells whether it is good enough
		}
		below := func(sev job.Severity, short float64) {
			e.feetProblem(r, sev, job.FeetPack, f.Row, words.ProblemBelowBase.With(f.Name, e.Thickness(-f.Wanted), e.Sum(SumOf(f.InPlace)), e.Thickness(short)), words.HintBelowBase.With())
		}
		switch short := e.BelowBase(f.Wanted, f.InPlace, f.Listed); {
		case f.HasStock && ch.Status == packs.ChangeBelow:
			below(severity(ch.Shortfall), ch.Shortfall)
		case !f.HasStock && short > 0:
			below(job.Warning, short)
		case f.HasStock && ch.Status == packs.ChangeNearest && !r.Together:
			e.feetProblem(r, severity(math.Abs(ch.Error)), job.NoColumn, f.Row, words.ProblemFootPackOff.With(f.Name, e.Thickness(math.Abs(ch.Error))), words.HintPackOff.With())
		}
		over := func(id job.ColumnID, go_, room float64) {
			if Known(room) && go_ > room*(1+1e-9) {
				e.feetProblem(r, job.Warning, id, f.Row, words.ProblemNoRoom.With(f.Name, e.Thickness(go_), e.Thickness(room)), words.HintNoRoom.With())
			}
		}
		over(job.FeetRoomUp, f.Wanted, f.Room.Up)
		if !f.Listed || -f.Wanted <= SumOf(f.InPlace) {
			over(job.FeetRoomDown, -f.Wanted, f.Room.Down)
		}
		if f.pair >= 0 && !r.Feet.Leave {
			m := r.Calc.Feet[f.pair].Move
			over(job.FeetRoomUp+job.ColumnID(r.typedAs(2)), -m, f.Room.Left)
			over(job.FeetRoomUp+job.ColumnID(r.typedAs(3)), m, f.Room.Right)
		}
	}
}

// BelowBase is how far a foot would have to go below its bare base, mm, by the pieces typed to lie there. That needs no stock. 0: it need not, or nobody typed them.
func (e *Evaluator) BelowBase(wanted float64, inPlace []float64, listed bool) float64 {
	if short := -wanted - SumOf(inPlace); listed && short > e.set.packTol+1e-9 {
		return short
	}
	return 0
}

// SumOf is the thickness of a pack.
func SumOf(list []float64) float64 {
	s := 0.0
	for _, x := range list {
		s += x
	}
	return s
}

// pairRooms holds what the front and the rear feet have to do against the rooms of the row's own columns. Where the Feet sheet has the machine, its rooms count
// and were looked at with the packs.
func (e *Evaluator) pairRooms(r *RowResult) {
	if r.Feet != nil {
		return
	}
	for p, k := range [2]int{r.Front, r.Rear} {
		f := r.Foot(k)
		if f == nil {
			continue
		}
		for d, need := range [4]float64{f.Shim, -f.Shim, -f.Move, f.Move} {
			id := job.ColRoom + job.ColumnID(4*p+d)
			if room, st := e.num(id); st == fine && need > room*(1+1e-9) {
				as := r.typedAs(d)
				e.problem(r, job.Warning, job.ColRoom+job.ColumnID(4*p+as), words.ProblemNoRoomPair.With(e.PairName(r, k), e.Thickness(need), roomWords[as], e.Thickness(room)), words.HintNoRoom.With())
			}
		}
	}
}

// roomWords are the directions of the room columns.
var roomWords = [4]string{"up", "down", "towards 9 o'clock", "towards 3 o'clock"}

// typedAs is the direction (up, down, left, right) as whoever typed the row's rooms names it: behind the stationary machine left and right change places.
func (r *RowResult) typedAs(direction int) int {
	if r.FromStationary && direction > 1 {
		return 5 - direction
	}
	return direction
}

// Rooms is how far each pair of feet of row i can still go, one a pair of Calc.Feet: from the Feet sheet when it has the machine (the least of the
// feet of the pair; down, where it is not typed, what lies under them), else from the row's own columns for front and rear.
func (e *Evaluator) Rooms(i int) []Room {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return nil
	}
	list := make([]Room, len(r.Calc.Feet))
	for k := range list {
		list[k] = Room{nan, nan, nan, nan}
	}
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			if f.pair < 0 {
				continue
			}
			least := func(dst *float64, x float64) {
				if Known(x) && !(*dst <= x) {
					*dst = x
				}
			}
			p := &list[f.pair]
			least(&p.Up, f.Room.Up)
			down := f.Room.Down
			if math.IsNaN(down) && f.Listed {
				down = SumOf(f.InPlace)
			}
			least(&p.Down, down)
			least(&p.Left, f.Room.Left)
			least(&p.Right, f.Room.Right)
		}
		return list
	}
	for p, k := range [2]int{r.Front, r.Rear} {
		if k < 0 || k >= len(list) {
			continue
		}
		for d, dst := range [4]*float64{&list[k].Up, &list[k].Down, &list[k].Left, &list[k].Right} {
			if col := e.Column(job.ColRoom + job.ColumnID(4*p+r.typedAs(d))); col >= 0 {
				if s := e.job.Machines.Cell(i, col); !job.Blank(s) {
					if x, text, _ := job.ParseQuantity(s, job.QThickness, e.bind[col].unit, e.set.mark); text == "" {
						*dst = x
					}
				}
			}
		}
	}
	return list
}

// Covers says whether the feet of a pair stand on the Feet sheet with a pack or a number.
func (f *Feet) Covers(pair int) bool {
	for k := range f.Feet {
		if f.Feet[k].pair == pair && Known(f.Feet[k].Wanted) {
			return true
		}
	}
	return false
}
