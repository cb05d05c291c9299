package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A SentenceKind says what a sentence is about.
type SentenceKind uint8

// The kinds of sentence, in the order they are given.
const (
	SentenceVerdict SentenceKind = iota
	SentenceLine                 // where the shaft stands
	SentenceDo                   // what to do at the feet
	SentencePacks                // where the packs come from, and what the stock is short of
	SentenceAfter                // what that is predicted to leave
	SentenceHint                 // what may be wrong, how something was understood
	SentenceCaution
	SentenceWay // the head of a list of its own among what to do: one way of doing it
)

// String is the kind as a word.
func (k SentenceKind) String() string {
	return [...]string{"verdict", "line", "do", "packs", "after", "hint", "caution", "way"}[k]
}

// A Sentence is one line for the side panel.
type Sentence struct {
	Kind  SentenceKind
	Text  string
	Wrong bool // it tells of an error in what was typed
}

// Sentences words the result of row i in plain English, in the job's units and with the names people gave the two sides. None for a row
// without a coupling.
func (e *Evaluator) Sentences(i int) []Sentence {
	r := e.Row(i)
	if r == nil || r.Kind != MachineRow {
		return nil
	}
	var list []Sentence
	say := func(k SentenceKind, form words.Key, a ...any) {
		list = append(list, Sentence{Kind: k, Text: form.Say(a...)})
	}
	e.sayVerdict(r, say)
	e.sayRecord(r, say)
	e.sayRounds(r, say)
	for _, s := range e.HistoryWords(i) {
		say(SentenceLine, words.SentenceAsItIs, s)
	}
	if r.HasLine() {
		e.sayLine(r, say)
		if w := &r.Wanted; w.DV != 0 || w.DH != 0 || w.TV != 0 || w.TH != 0 {
			if !math.IsNaN(w.DV) {
				say(SentenceLine, words.SentenceWanted, e.stands(r, w))
			}
		}
	}
	if m := r.Growth; m != nil && !math.IsNaN(r.Wanted.DV) {
		e.sayGrowth(r, say)
	}
	if r.MovedWanted() {
		if s := e.AppendWantedReadings(nil, r); len(s) > 0 {
			say(SentenceLine, words.SentenceWantedReadings, job.QThickness.Unit(e.set.inch), s)
		}
	}
	e.sayFailedChecks(r, say)
	before, twoWays := len(list), r.twoWays()
	if twoWays {
		say(SentenceWay, words.SentenceWayA)
	}
	if r.Feet != nil && r.Feet.HasSoft {
		e.saySoft(r, say)
	}
	if twoWays {
		say(SentenceWay, words.SentenceWayB)
	}
	e.sayTrain(r, say)
	if r.Stays() {
		e.sayLeave(r, say)
	} else {
		e.sayDo(r, say)
	}
	if len(list) > before && (!r.Stays() || r.Mends()) {
		say(SentenceDo, words.SentenceMeasureAgain, e.tightenOrder(r), e.footTorque(r))
	}
	e.sayPacksFrom(r, say)
	e.sayAfter(r, say)
	ways := len(list)
	e.sayAxial(r, say)
	e.sayOpenChecks(r, say, false)
	if twoWays && slices.ContainsFunc(list[ways:], func(s Sentence) bool { return s.Kind == SentenceDo }) {
		list = slices.Insert(list, ways, Sentence{Kind: SentenceWay, Text: words.SentenceWayAfter.String()})
	}
	e.sayPacks(r, say)
	for k := range r.Problems {
		if text := problemSentence(&r.Problems[k]); text != "" {
			say(SentenceHint, words.SentenceAsItIs, text)
			list[len(list)-1].Wrong = r.Problems[k].Severity == job.Error
		}
	}
	for _, h := range r.Hints {
		say(SentenceHint, words.SentenceAsItIs, h)
	}
	e.sayUnderstood(r, say)
	if !r.stopped {
		e.sayMeasured(i, r, say)
	}
	return cautions(list)
}

// sayVerdict tells the verdict, or why there is none.
func (e *Evaluator) sayVerdict(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	share, chance := e.percent(c.Found.Share), e.percent(c.Found.Chance)
	switch why := string(e.AppendWhy(nil, r)); {
	case r.Verdict == calc.Inside:
		say(SentenceVerdict, words.SentenceInside, share, chance)
	case r.Verdict == calc.Outside:
		say(SentenceVerdict, words.SentenceOutside, share, chance)
	case r.Verdict == calc.TooClose:
		say(SentenceVerdict, words.SentenceTooClose, share, chance)
	case why != "":
		say(SentenceVerdict, words.SentenceNotJudged, why)
	default:
		say(SentenceVerdict, words.SentenceNotJudgedBare)
	}
}

// sayAfter tells what the packs and moves are predicted to leave.
func (e *Evaluator) sayAfter(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	if c.HasAfter && !r.Stays() {
		a := &c.After
		tail := ""
		if !math.IsNaN(c.AfterJ.Share) {
			tail = words.SentenceAfterShare.Say(e.percent(c.AfterJ.Share))
		}
		say(SentenceAfter, words.SentenceAfter, e.upDown(a.DV, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.thick), e.towards(r, a.DH, words.SentenceTowards, words.SentenceStraight.String(), e.thick),
			e.upDown(a.TV, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.slope), e.towards(r, a.TH, words.SentenceLeads, words.SentenceLeadsNot.String(), e.slope), r.AfterVerdict, tail)
	}
}

// problemSentence words a problem with its column and its hint; "" for one that the verdict's reason has said.
func problemSentence(p *job.Problem) string {
	if p.Severity == job.Error && p.Hint.Empty() {
		return ""
	}
	text := p.Reason().String()
	if !p.Hint.Empty() {
		text += words.ProblemHintOpen.String() + p.Hint.String() + ")"
	}
	return text
}

// sayUnderstood tells what of the row was taken in one of several ways.
func (e *Evaluator) sayUnderstood(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	if r.MethodInferred && r.Method != job.MethodBlank {
		say(SentenceHint, words.SentenceInferred, r.Method)
	}
	if r.FromStationary {
		say(SentenceHint, words.SentenceFromStationary)
	}
	if r.ColdSetting && !math.IsNaN(r.Wanted.TV) {
		say(SentenceHint, words.SentenceColdSetting)
	}
	if r.SpacerInferred {
		say(SentenceHint, words.SentenceSpacer)
	}
}

// sayMeasured tells how sure the line is: what was assumed of feet, brackets and faces, what the ± is made of, and the limits.
func (e *Evaluator) sayMeasured(i int, r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	if r.Feet != nil && r.Feet.Assumed {
		say(SentenceHint, words.SentenceAcrossAssumed)
	}
	for k := range r.Sweeps {
		switch s := &r.Sweeps[k]; {
		case s.Dial && !s.SagGiven && s.Bracket > 0:
			say(SentenceHint, words.SentenceNoSagLong, s.Name, e.dist(math.Round(s.Bracket)), e.thick(s.MaySag))
		case s.Dial && !s.SagGiven:
			say(SentenceHint, words.SentenceNoSag, s.Name)
		}
	}
	if r.readsFaces() {
		say(SentenceHint, words.SentenceFaceHeld)
	}
	e.saySure(i, r, say)
	if t := e.LimitText(r); t != "" {
		say(SentenceHint, words.SentenceLimits, t)
	}
}

// cautions adds the warnings that go with every result.
func cautions(list []Sentence) []Sentence {
	for _, t := range tables.Cautions() {
		list = append(list, Sentence{Kind: SentenceCaution, Text: t.Text})
	}
	return list
}

// LimitText names the limits the row was held to and where they come from.
func (e *Evaluator) LimitText(r *RowResult) string {
	var parts []string
	if !math.IsNaN(r.Limits.Offset) {
		parts = append(parts, words.SentenceLimitOffset.Say(e.thick(r.Limits.Offset)))
	}
	if !math.IsNaN(r.Limits.Slope) {
		parts = append(parts, words.SentenceLimitSlope.Say(e.slope(r.Limits.Slope)))
	}
	if len(parts) == 0 {
		return ""
	}
	l := &r.Limits
	from := words.SentenceOwn.String()
	if l.Set != "" {
		speed := words.SentenceAnySpeed.String()
		if !math.IsInf(l.UpTo, 1) {
			speed = words.SentenceUpTo.Say(strconv.FormatFloat(l.UpTo, 'g', -1, 64))
		}
		form := words.SentenceSource
		if l.Own {
			form = words.SentenceSourceOwn
		}
		set := form.Say(l.Set, r.limitKind(), speed, l.Source)
		switch {
		case l.OwnSlope && (l.OwnOffset || !r.Coupling.ByOffset()):
			from = words.SentenceOwnBoth.String() + set
			if l.LooserUsed {
				from = words.SentenceOwn.String() + "; " + set
			}
		case l.OwnOffset:
			from = words.SentenceOwnOffset.String() + set
		case l.OwnSlope:
			from = words.SentenceOwnSlope.String() + set
		default:
			from = set
		}
	}
	if l.Reason != "" && (l.OwnOffset || l.OwnSlope) && !l.LooserUsed {
		from += "; " + l.Reason
	}
	switch {
	case l.LooserUsed:
		from += "; " + words.SentenceLimitReason.Say(l.Reason)
	case l.Alone != nil:
		from += "; " + words.SentenceLimitAlone.Say(*l.Alone)
	}
	if l.LooserRefused {
		from += "; " + words.SentenceLimitRefused.String()
	}
	if e.set.addShares && r.Coupling.ByOffset() {
		from += "; " + words.SentenceLimitAdded.String()
	}
	return strings.Join(parts, ", ") + " (" + from + ")"
}

// limitKind is the kind of coupling whose rows of the set hold.
func (r *RowResult) limitKind() string {
	if r.OnFlange {
		return r.Coupling.String() + ", " + tables.Flange.String()
	}
	return r.Coupling.String()
}

func (e *Evaluator) sayLine(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	o, s := &r.Offset, &r.Slope
	known := func(v float64, show func(float64) string) string {
		if math.IsNaN(v) {
			return words.SentenceUnknown.String()
		}
		return show(v)
	}
	say(SentenceLine, words.SentenceOffset, e.upDown(o.V, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.thick), e.towards(r, o.H, words.SentenceTowards, words.SentenceStraight.String(), e.thick), known(o.UV, e.thick), known(o.UH, e.thick))
	say(SentenceLine, words.SentenceSlope, e.upDown(s.V, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.slope), e.towards(r, s.H, words.SentenceLeads, words.SentenceLeadsNot.String(), e.slope), known(s.UV, e.slope), known(s.UH, e.slope))
	// Rising away from the coupling opens it at the bottom; leading towards 3 opens it at 9.
	var open []string
	if !e.zero(s.V, e.slope) {
		open = append(open, map[bool]string{true: words.SentenceBottom.String(), false: words.SentenceTop.String()}[s.V > 0])
	}
	if !e.zero(s.H, e.slope) {
		open = append(open, r.theSide(-s.H, true).String())
	}
	switch len(open) {
	case 1:
		say(SentenceLine, words.SentenceOpensOne, open[0])
	case 2:
		say(SentenceLine, words.SentenceOpens, open[0], open[1])
	}
}

// stands words a line by its sides.
func (e *Evaluator) stands(r *RowResult, l *calc.Line) string {
	return words.SentenceStands.Say(e.upDown(l.DV, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.thick), e.towards(r, l.DH, words.SentenceTowards, words.SentenceStraight.String(), e.thick),
		e.upDown(l.TV, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.slope), e.towards(r, l.TH, words.SentenceLeads, words.SentenceLeadsNot.String(), e.slope))
}

// upDown words a number by its sign.
func (e *Evaluator) upDown(v float64, up, down words.Key, none string, show func(float64) string) string {
	switch {
	case math.IsNaN(v) && up == words.SentenceRises:
		return words.SentenceUnknownRises.String()
	case math.IsNaN(v):
		return words.SentenceUnknownUp.String()
	case e.zero(v, show):
		return none
	case v > 0:
		return up.Say(show(v))
	}
	return down.Say(show(-v))
}

// towards words a sideways number with the side named.
func (e *Evaluator) towards(r *RowResult, v float64, some words.Key, none string, show func(float64) string) string {
	switch {
	case math.IsNaN(v) && some == words.SentenceLeads:
		return words.SentenceUnknownLeads.String()
	case math.IsNaN(v):
		return words.SentenceUnknownSide.String()
	case e.zero(v, show):
		return none
	}
	return some.Say(show(math.Abs(v)), r.theSide(v, true))
}

// zero says whether a number would be shown as zero.
func (e *Evaluator) zero(v float64, show func(float64) string) bool {
	s := show(math.Abs(v))
	return !strings.ContainsAny(s[:strings.IndexByte(s, ' ')], "123456789")
}

// sayLeave says that a machine inside its limit stays where it is but for its soft foot.
func (e *Evaluator) sayLeave(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	if r.Mends() {
		e.sayFeet(r, say)
		say(SentenceDo, words.SentenceStays)
	} else {
		say(SentenceDo, words.SentenceStand)
	}
}

// Mends says whether there is something to be mended before the machine is aligned: a soft foot, or a pull of the piping.
func (r *RowResult) Mends() bool {
	if r.Feet == nil || !r.Feet.HasSoft || r.Feet.Soft.Status != calc.SoftOK {
		return false
	}
	return r.Feet.Soft.Pattern != calc.SoftNone || r.Feet.Soft.Pull
}

// Pushes says whether a move of a pair of feet is told: one smaller than its own ± is left.
func Pushes(f *calc.Foot) bool { return Known(f.Move) && !(math.Abs(f.Move) < f.UMove) }

func (e *Evaluator) sayDo(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	if r.Feet != nil {
		e.sayFeet(r, say)
	}
	for k := range c.Feet {
		f := &c.Feet[k]
		if math.IsNaN(f.Shim) || r.Feet != nil && r.Feet.covers(k) {
			continue
		}
		under := e.footName(r, k)
		if len(r.Further) > 1 && k != r.Front && k != r.Rear {
			under = words.Plain("the " + e.footWord(r, k).String())
		}
		packs, alike := e.PairPacks(r, k)
		if alike {
			e.sayPack(f, packs[0], under.String(), say)
			continue
		}
		for _, p := range packs {
			e.sayPack(f, p, p.Foot, say)
		}
	}
	for k := range c.Feet {
		e.sayMove(r, k, say)
	}
	if len(c.BoltShims) > 0 {
		e.sayBolts(r, say)
	}
	e.sayStationary(r, say)
}

// sayPack says what is done under feet nobody has listed on the Feet sheet.
func (e *Evaluator) sayPack(f *calc.Foot, p *Picked, under string, say func(SentenceKind, words.Key, ...any)) {
	switch {
	case !p.Made:
		form := words.SentenceAddPlain
		if f.Shim < 0 {
			form = words.SentenceTakeOutPlain
		}
		say(SentenceDo, form, e.shim(math.Abs(f.Shim)), e.shim(f.UShim), under)
	case len(p.Pieces) == 0:
		say(SentenceDo, words.SentenceLeave, under, e.thick(f.Shim), e.thick(f.UShim))
	case p.Change.Status == packs.ChangeUnlisted:
		say(SentenceDo, words.SentenceTakeOut, e.sumWords(p.Sum), under, e.thick(-f.Shim), e.thick(f.UShim))
	default:
		say(SentenceDo, words.SentenceAdd, e.sumWords(p.Sum), under, e.piecesOf(p.Pieces), e.thick(f.Shim), e.thick(f.UShim))
	}
}

// piecesOf lists the pieces of a pack of more than one behind its thickness.
func (e *Evaluator) piecesOf(p []float64) string {
	if len(p) < 2 {
		return ""
	}
	return " (" + string(appendPieces(nil, p, e.ThickUnit(), e.set.mark)) + ")" // pieces are real things: they keep the job's unit
}

// sayMove says how far pair k is pushed.
func (e *Evaluator) sayMove(r *RowResult, k int, say func(SentenceKind, words.Key, ...any)) {
	f := &r.Calc.Feet[k]
	if math.IsNaN(f.Move) {
		return
	}
	word, move := e.footWord(r, k), f.Move
	if !math.IsNaN(f.MoveRounded) {
		move = f.MoveRounded
	}
	if e.zero(move, e.shim) || !Pushes(f) {
		say(SentenceDo, words.SentencePushNot, word, e.thick(math.Abs(f.Move)), e.thick(f.UMove))
	} else {
		say(SentenceDo, words.SentencePush, word, e.shim(math.Abs(move)), r.theSide(move, false), e.thick(math.Abs(f.Move)), e.thick(f.UMove))
	}
}

// slideWords says how far a machine on a flange is slid.
func (e *Evaluator) slideWords(r *RowResult) string {
	c := &r.Calc
	dir := words.SentenceUp.String()
	if c.SlideV < 0 {
		dir = words.SentenceDown.String()
	}
	return words.SentenceSlide.Say(e.shim(math.Abs(c.SlideV)), dir, e.shim(math.Abs(c.SlideH)), r.theSide(c.SlideH, false))
}

// sayBolts says what is done at a flange.
func (e *Evaluator) sayBolts(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	say(SentenceDo, words.SentenceAsItIs, e.slideWords(r))
	for k, s := range c.BoltShims {
		at := e.number(360*float64(k)/float64(len(c.BoltShims)), units.Degree, 1)
		list, amount := "", e.shim(s)
		if k < len(c.BoltPacks) {
			amount, list = e.sumWords(c.BoltPacks[k].Sum), e.piecesOf(c.BoltPacks[k].Pieces)
		}
		say(SentenceDo, words.SentenceBolt, k+1, at, amount, list)
	}
}

// findingText words a finding. It is called while the row's sweeps are in the scratch.
func (e *Evaluator) findingText(f *calc.Finding, sweeps []calc.Sweep, infos []SweepInfo, textual []bool) words.Phrase {
	name, at, other := "", "", ""
	if f.Sweep >= 0 && f.Sweep < len(infos) {
		name = infos[f.Sweep].Name
		place := func(k int) string {
			if k < 0 || k >= len(sweeps[f.Sweep].Angle) {
				return ""
			}
			a := sweeps[f.Sweep].Angle[k]
			if !textual[f.Sweep] {
				for p := range job.NumPositions {
					if job.PositionAngle[p] == a {
						return job.PositionName(p)
					}
				}
			}
			return e.number(a, units.Degree, 1)
		}
		at, other = place(f.Reading), place(f.Other)
	}
	factor := func() string { return strconv.FormatFloat(f.By, 'g', 4, 64) }
	switch f.Kind {
	case calc.OddReading:
		return words.ProblemOddReading.With(name, at, e.thick(math.Abs(f.By)))
	case calc.AnyOfFour:
		return words.ProblemAnyOfFour.With(name, e.thick(math.Abs(f.By)))
	case calc.SignTurned:
		return words.ProblemSignTurned.With(name, at)
	case calc.Swapped:
		return words.ProblemSwapped.With(name, at, other)
	case calc.WrongUnit:
		what := words.ProblemUnitOther
		switch {
		case math.Abs(f.By-0.0254) < 1e-6:
			what = words.ProblemUnitMil
		case math.Abs(f.By*0.0254-1) < 1e-6:
			what = words.ProblemUnitMM
		}
		return words.ProblemWrongUnit.With(name, at, what, factor())
	case calc.DecimalPoint:
		return words.ProblemDecimalPoint.With(name, at, factor())
	case calc.AllTooLarge:
		return words.ProblemAllTooLarge.With()
	case calc.AllTooSmall:
		return words.ProblemAllTooSmall.With()
	}
	return words.Phrase{}
}

// exact shows a value in a unit with up to six digits behind the decimal sign.
func (e *Evaluator) exact(v float64, u units.Unit) string { return e.number(v, u, 6) }
