package sentences

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
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
func (e *Teller) Sentences(i int) []Sentence {
	r := e.Row(i)
	if r == nil || r.Kind != evaluate.MachineRow {
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
			say(SentenceLine, words.SentenceWantedReadings, job.QThickness.Unit(e.Inch()), s)
		}
	}
	e.sayFailedChecks(r, say)
	before, twoWays := len(list), r.TwoWays()
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
	if !r.Stopped() {
		e.sayMeasured(i, r, say)
	}
	return cautions(list)
}

// sayVerdict tells the verdict, or why there is none.
func (e *Teller) sayVerdict(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	share, chance := e.Percent(c.Found.Share), e.Percent(c.Found.Chance)
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
func (e *Teller) sayAfter(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	if c.HasAfter && !r.Stays() {
		a := &c.After
		tail := ""
		if !math.IsNaN(c.AfterJ.Share) {
			tail = words.SentenceAfterShare.Say(e.Percent(c.AfterJ.Share))
		}
		say(SentenceAfter, words.SentenceAfter, e.upDown(a.DV, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.Thickness), e.towards(r, a.DH, words.SentenceTowards, words.SentenceStraight.String(), e.Thickness),
			e.upDown(a.TV, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.Slope), e.towards(r, a.TH, words.SentenceLeads, words.SentenceLeadsNot.String(), e.Slope), r.AfterVerdict, tail)
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
func (e *Teller) sayUnderstood(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
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
func (e *Teller) sayMeasured(i int, r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	if r.Feet != nil && r.Feet.Assumed {
		say(SentenceHint, words.SentenceAcrossAssumed)
	}
	for k := range r.Sweeps {
		switch s := &r.Sweeps[k]; {
		case s.Dial && !s.SagGiven && s.Bracket > 0:
			say(SentenceHint, words.SentenceNoSagLong, s.Name, e.Distance(math.Round(s.Bracket)), e.Thickness(s.MaySag))
		case s.Dial && !s.SagGiven:
			say(SentenceHint, words.SentenceNoSag, s.Name)
		}
	}
	if r.ReadsFaces() {
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
func (e *Teller) LimitText(r *evaluate.RowResult) string {
	var parts []string
	if !math.IsNaN(r.Limits.Offset) {
		parts = append(parts, words.SentenceLimitOffset.Say(e.Thickness(r.Limits.Offset)))
	}
	if !math.IsNaN(r.Limits.Slope) {
		parts = append(parts, words.SentenceLimitSlope.Say(e.Slope(r.Limits.Slope)))
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
		set := form.Say(l.Set, r.LimitKind(), speed, l.Source)
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
	if e.AddsShares(r) {
		from += "; " + words.SentenceLimitAdded.String()
	}
	return strings.Join(parts, ", ") + " (" + from + ")"
}

func (e *Teller) sayLine(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	o, s := &r.Offset, &r.Slope
	known := func(v float64, show func(float64) string) string {
		if math.IsNaN(v) {
			return words.SentenceUnknown.String()
		}
		return show(v)
	}
	say(SentenceLine, words.SentenceOffset, e.upDown(o.V, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.Thickness), e.towards(r, o.H, words.SentenceTowards, words.SentenceStraight.String(), e.Thickness), known(o.UV, e.Thickness), known(o.UH, e.Thickness))
	say(SentenceLine, words.SentenceSlope, e.upDown(s.V, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.Slope), e.towards(r, s.H, words.SentenceLeads, words.SentenceLeadsNot.String(), e.Slope), known(s.UV, e.Slope), known(s.UH, e.Slope))
	// Rising away from the coupling opens it at the bottom; leading towards 3 opens it at 9.
	var open []string
	if !e.ShowsZero(s.V, e.Slope) {
		open = append(open, map[bool]string{true: words.SentenceBottom.String(), false: words.SentenceTop.String()}[s.V > 0])
	}
	if !e.ShowsZero(s.H, e.Slope) {
		open = append(open, r.TheSide(-s.H, true).String())
	}
	switch len(open) {
	case 1:
		say(SentenceLine, words.SentenceOpensOne, open[0])
	case 2:
		say(SentenceLine, words.SentenceOpens, open[0], open[1])
	}
}

// stands words a line by its sides.
func (e *Teller) stands(r *evaluate.RowResult, l *calc.Line) string {
	return words.SentenceStands.Say(e.upDown(l.DV, words.SentenceHigh, words.SentenceLow, words.SentenceLevel.String(), e.Thickness), e.towards(r, l.DH, words.SentenceTowards, words.SentenceStraight.String(), e.Thickness),
		e.upDown(l.TV, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.Slope), e.towards(r, l.TH, words.SentenceLeads, words.SentenceLeadsNot.String(), e.Slope))
}

// upDown words a number by its sign.
func (e *Teller) upDown(v float64, up, down words.Key, none string, show func(float64) string) string {
	switch {
	case math.IsNaN(v) && up == words.SentenceRises:
		return words.SentenceUnknownRises.String()
	case math.IsNaN(v):
		return words.SentenceUnknownUp.String()
	case e.ShowsZero(v, show):
		return none
	case v > 0:
		return up.Say(show(v))
	}
	return down.Say(show(-v))
}

// towards words a sideways number with the side named.
func (e *Teller) towards(r *evaluate.RowResult, v float64, some words.Key, none string, show func(float64) string) string {
	switch {
	case math.IsNaN(v) && some == words.SentenceLeads:
		return words.SentenceUnknownLeads.String()
	case math.IsNaN(v):
		return words.SentenceUnknownSide.String()
	case e.ShowsZero(v, show):
		return none
	}
	return some.Say(show(math.Abs(v)), r.TheSide(v, true))
}

// sayLeave says that a machine inside its limit stays where it is but for its soft foot.
func (e *Teller) sayLeave(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	if r.Mends() {
		e.sayFeet(r, say)
		say(SentenceDo, words.SentenceStays)
	} else {
		say(SentenceDo, words.SentenceStand)
	}
}

func (e *Teller) sayDo(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	if r.Feet != nil {
		e.sayFeet(r, say)
	}
	for k := range c.Feet {
		f := &c.Feet[k]
		if math.IsNaN(f.Shim) || r.Feet != nil && r.Feet.Covers(k) {
			continue
		}
		under := e.PairName(r, k)
		if len(r.Further) > 1 && k != r.Front && k != r.Rear {
			under = words.Plain("the " + e.PairWord(r, k).String())
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
func (e *Teller) sayPack(f *calc.Foot, p *evaluate.Picked, under string, say func(SentenceKind, words.Key, ...any)) {
	switch {
	case !p.Made:
		form := words.SentenceAddPlain
		if f.Shim < 0 {
			form = words.SentenceTakeOutPlain
		}
		say(SentenceDo, form, e.Shim(math.Abs(f.Shim)), e.Shim(f.UShim), under)
	case len(p.Pieces) == 0:
		say(SentenceDo, words.SentenceLeave, under, e.Thickness(f.Shim), e.Thickness(f.UShim))
	case p.Change.Status == packs.ChangeUnlisted:
		say(SentenceDo, words.SentenceTakeOut, e.Sum(p.Sum), under, e.Thickness(-f.Shim), e.Thickness(f.UShim))
	default:
		say(SentenceDo, words.SentenceAdd, e.Sum(p.Sum), under, e.piecesOf(p.Pieces), e.Thickness(f.Shim), e.Thickness(f.UShim))
	}
}

// piecesOf lists the pieces of a pack of more than one behind its thickness.
func (e *Teller) piecesOf(p []float64) string {
	if len(p) < 2 {
		return ""
	}
	return " (" + string(e.AppendPieces(nil, p)) + ")" // pieces are real things: they keep the job's unit
}

// sayMove says how far pair k is pushed.
func (e *Teller) sayMove(r *evaluate.RowResult, k int, say func(SentenceKind, words.Key, ...any)) {
	f := &r.Calc.Feet[k]
	if math.IsNaN(f.Move) {
		return
	}
	word, move := e.PairWord(r, k), f.Move
	if !math.IsNaN(f.MoveRounded) {
		move = f.MoveRounded
	}
	if e.ShowsZero(move, e.Shim) || !evaluate.Pushes(f) {
		say(SentenceDo, words.SentencePushNot, word, e.Thickness(math.Abs(f.Move)), e.Thickness(f.UMove))
	} else {
		say(SentenceDo, words.SentencePush, word, e.Shim(math.Abs(move)), r.TheSide(move, false), e.Thickness(math.Abs(f.Move)), e.Thickness(f.UMove))
	}
}

// slideWords says how far a machine on a flange is slid. A direction in which that would be shown as nothing is left out.
func (e *Teller) slideWords(r *evaluate.RowResult) string {
	c := &r.Calc
	dir := words.SentenceUp.String()
	if c.SlideV < 0 {
		dir = words.SentenceDown.String()
	}
	v, h, side := e.Shim(math.Abs(c.SlideV)), e.Shim(math.Abs(c.SlideH)), r.TheSide(c.SlideH, false)
	switch upright, sideways := !e.ShowsZero(c.SlideV, e.Shim), !e.ShowsZero(c.SlideH, e.Shim); {
	case upright && sideways:
		return words.SentenceSlide.Say(v, dir, h, side)
	case upright:
		return words.SentenceSlideUpright.Say(v, dir)
	case sideways:
		return words.SentenceSlideSideways.Say(h, side)
	}
	return words.SentenceSlideNot.String()
}

// sayBolts says what is done at a flange.
func (e *Teller) sayBolts(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	c := &r.Calc
	say(SentenceDo, words.SentenceAsItIs, e.slideWords(r))
	for k, s := range c.BoltShims {
		at := e.Number(360*float64(k)/float64(len(c.BoltShims)), units.Degree, 1)
		list, amount := "", e.Shim(s)
		if k < len(c.BoltPacks) {
			amount, list = e.Sum(c.BoltPacks[k].Sum), e.piecesOf(c.BoltPacks[k].Pieces)
		}
		say(SentenceDo, words.SentenceBolt, k+1, at, amount, list)
	}
}

// AppendWhy appends [evaluate.Evaluator.Why] as a sentence.
func (e *Teller) AppendWhy(b []byte, r *evaluate.RowResult) []byte {
	b = r.Why.Append(b)
	if form, values := e.Decided(r); values != nil {
		if !r.Why.Empty() {
			b = append(b, "; "...)
		}
		b = form.With(values...).Append(b)
	}
	return b
}

// SideName names the side of the row's machine that a sideways number points to: as typed, else "3 o'clock side" or "9 o'clock side".
func (e *Teller) SideName(r *evaluate.RowResult, v float64) string { return r.Side(v, true).String() }

// FootWord is the word for pair of feet k of the row's Calc.Feet: front, rear, further.
func (e *Teller) FootWord(r *evaluate.RowResult, k int) string { return e.PairWord(r, k).String() }
