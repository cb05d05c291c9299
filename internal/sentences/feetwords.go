package sentences

import (
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// PackWords lists pieces: "0.50 + 0.20", with their unit while the units shown are not the job's.
func (e *Teller) PackWords(p []float64) string {
	return string(e.AppendPieces(nil, p)) + e.PackUnit()
}

// piecesWords lists pieces with their unit.
func (e *Teller) piecesWords(p []float64) string {
	return string(e.AppendPieces(nil, p)) + " " + e.ThickUnit().String()
}

// LiesThere lists the pieces that lie under a foot, or says that none do.
func (e *Teller) LiesThere(p []float64) string {
	if len(p) == 0 {
		return words.SentenceBareBase.String()
	}
	return e.PackWords(p)
}

// LaminatedWords says behind a thickness that it is made of layers.
func (e *Teller) LaminatedWords(layer float64) string {
	return words.ListLaminated.Say(e.PackNumber(layer))
}

// FootDo says in a few words what is done under a foot: "take out 0.50; put in 0.20 + 0.10". Thicknesses are in the job's unit.
func (e *Teller) FootDo(f *evaluate.Foot) string {
	return e.shortOf(e.ChangeDo(&f.Change, f.Wanted, f.HasStock)+e.belowWords(f.Wanted, f.InPlace, f.Listed && !f.HasStock), f.Status)
}

// belowWords are said behind a change that no stock makes, of a foot that cannot go so low: ", 0.16 mm missing".
func (e *Teller) belowWords(wanted float64, inPlace []float64, listed bool) string {
	if short := e.BelowBase(wanted, inPlace, listed); short > 0 {
		return ", " + e.Thickness(short) + words.WordShort.String()
	}
	return ""
}

// ChangeDo is FootDo of any change: wanted is what was asked for, mm.
func (e *Teller) ChangeDo(c *packs.Change, wanted float64, hasStock bool) string {
	switch {
	case math.IsNaN(wanted):
		return ""
	case !hasStock:
		return e.Shim(wanted)
	case c.Status == packs.ChangeUnlisted:
		if len(c.Pieces) == 0 {
			return words.WordNothing.String()
		}
		return words.WordTakeOut.String() + e.PackNumber(c.Sum)
	}
	var parts []string
	if len(c.Take) > 0 {
		parts = append(parts, words.WordTakeOut.String()+e.PackWords(c.Take))
	}
	if len(c.Put) > 0 {
		put := e.PackWords(evaluate.NewPieces(c))
		if len(c.Take) > 0 || len(c.Keep) > 0 {
			put = words.WordPutIn.String() + put
		}
		parts = append(parts, put)
	}
	if c.Status == packs.ChangeBelow {
		parts = append(parts, e.Thickness(c.Shortfall)+words.WordShort.String())
	}
	if len(parts) == 0 {
		return words.WordNothing.String()
	}
	return strings.Join(parts, ", ")
}

// PackNumber is a thickness in full, with its unit while the units shown are not the job's.
func (e *Teller) PackNumber(v float64) string {
	return string(e.AppendPack(nil, v)) + e.PackUnit()
}

// AppendFeetPacks words the packs of single feet: "front 9: 0.50 + 0.10; rear 3: take out 0.20".
func (e *Teller) AppendFeetPacks(b []byte, r *evaluate.RowResult) []byte {
	if r.Feet == nil {
		return b
	}
	n := 0
	for k := range r.Feet.Feet {
		f := &r.Feet.Feet[k]
		do := e.FootDo(f)
		if do == "" {
			continue
		}
		if n++; n > 1 {
			b = append(b, "; "...)
		}
		b = append(append(append(b, f.Name...), ": "...), do...)
	}
	return b
}

// softNames lists the feet that stand off.
func softNames(r *evaluate.RowResult) string {
	var names []string
	for _, k := range r.Feet.Soft.Off {
		if k >= 0 && k < len(r.Feet.Feet) {
			names = append(names, r.Feet.Feet[k].Name)
		}
	}
	return strings.Join(names, ", ")
}

// AppendSoft words the soft foot for a cell.
func (e *Teller) AppendSoft(b []byte, r *evaluate.RowResult) []byte {
	s := &r.Feet.Soft
	if s.Status != calc.SoftOK {
		return append(b, s.Status.String()...)
	}
	b = append(b, s.Pattern.String()...)
	if n := softNames(r); n != "" {
		b = append(append(b, ": "...), n...)
	}
	if s.Pull {
		b = append(b, words.WordPull.String()...)
	}
	return b
}

func (e *Teller) saySoft(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	f, s := r.Feet, &r.Feet.Soft
	if s.Status != calc.SoftOK {
		return // a problem says so
	}
	theFoot := func(k int) string { return f.Feet[k].Name }
	if s.Pull {
		say(SentenceDo, words.SentenceSoftPull, theFoot(s.PullFoot), e.Thickness(math.Abs(s.PullLargest)))
	}
	if s.Pattern == calc.SoftNone {
		say(SentenceDo, words.SentenceSoftNone, e.Thickness(f.Limit))
	} else {
		what := softNames(r)
		if what == "" {
			what = words.WordAllFeet.String()
		}
		say(SentenceDo, words.SentenceSoft, s.Pattern, what, e.Thickness(f.Limit))
	}
	if text := e.softSure(r); text != "" && !s.Sure {
		say(SentenceHint, words.SentenceAsItIs, text)
	}
	if text := e.softDiffers(r); text != "" {
		say(SentenceHint, words.SentenceAsItIs, text)
	}
	if s.Pattern == calc.SoftNone {
		return
	}
	if s.Pattern == calc.SoftSpringing || s.Common > f.Limit {
		say(SentenceDo, words.SentenceSoftSpring, e.Thickness(s.Common))
	}
	for k := range s.Feet {
		x := &s.Feet[k]
		if f.Feet[k].Soft > 0 {
			if s.FromGaps {
				say(SentenceDo, words.SentenceSoftShim, e.Amount(f.Feet[k].Soft), theFoot(k))
			} else {
				say(SentenceDo, words.SentenceSoftEstimate, e.Shim(f.Feet[k].Soft), theFoot(k))
			}
		}
		if x.Machine {
			say(SentenceDo, words.SentenceSoftTaper, theFoot(k), r.Opens(x.Open), e.Thickness(math.Hypot(x.TaperAlong, x.TaperAcross)))
			continue
		}
		if len(x.Steps) > 0 {
			say(SentenceDo, words.SentenceSoftStep, theFoot(k), r.Opens(x.Open), e.StepWords(x))
		}
	}
	if r.TwoWays() {
		say(SentenceDo, words.SentenceSoftThen)
	} else {
		say(SentenceDo, words.SentenceSoftFirst)
	}
}

// softDiffers says that the rises show a soft foot and the gaps none, or the other way about; "" where they agree or one of them was not measured.
func (e *Teller) softDiffers(r *evaluate.RowResult) string {
	f, s := r.Feet, &r.Feet.Soft
	if !s.FromGaps || !evaluate.Known(s.Common) || len(f.Feet) == 3 || s.Pattern == calc.SoftSpringing || s.Pattern == calc.SoftAngled {
		return ""
	}
	worst := 0
	for k := range s.Feet {
		if s.Feet[k].StandOff > s.Feet[worst].StandOff {
			worst = k
		}
	}
	switch off := s.Feet[worst].StandOff; {
	case s.Pattern == calc.SoftNone && off > f.Limit*(1+1e-9):
		return words.SentenceSoftDiffer.Say(f.Feet[worst].Name, e.Thickness(off))
	case s.Pattern != calc.SoftNone && off <= f.Limit*(1+1e-9):
		return words.SentenceSoftDifferNone.String()
	}
	return ""
}

// StepWords lists step shims: "0.05 mm over 75 % of the way, …".
func (e *Teller) StepWords(x *calc.SoftFootResult) string {
	var steps []string
	for _, st := range x.Steps {
		steps = append(steps, words.SentenceSoftStepPart.Say(e.Sum(st.Thickness), e.Percent(st.Share)))
	}
	return strings.Join(steps, ", ")
}

// sayFeet says what is done under every single foot.
func (e *Teller) sayFeet(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	for k := range r.Feet.Feet {
		f := &r.Feet.Feet[k]
		if math.IsNaN(f.Wanted) || r.Feet.Leave && f.Wanted == 0 {
			continue
		}
		soft := ""
		if f.Soft > 0 {
			soft = words.SentenceFootSoft.Say(e.Amount(f.Soft))
		}
		u := evaluate.KnownOr(f.UAlign, 0)
		c := &f.Change
		if r.Feet.Leave {
			switch {
			case !f.HasStock:
				say(SentenceDo, words.SentenceFootSoftAdd, e.Shim(f.Wanted), f.Name)
			case len(c.Take) > 0:
				say(SentenceDo, words.SentenceFootSoftOnly, f.Name, e.FootDo(f))
			case len(c.Put) > 0:
				say(SentenceDo, words.SentenceFootSoftAdd, e.piecesWords(evaluate.NewPieces(c)), f.Name)
			}
			continue
		}
		switch short := e.BelowBase(f.Wanted, f.InPlace, f.Listed); {
		case !f.HasStock && short > 0:
			say(SentenceDo, words.SentenceFootBelow, f.Name, e.Sum(evaluate.SumOf(f.InPlace)), e.Thickness(short))
		case !f.HasStock:
			say(SentenceDo, words.SentenceFootPlain, f.Name, e.Shim(f.Wanted), e.Shim(u), soft)
		case c.Status == packs.ChangeBelow:
			say(SentenceDo, words.SentenceFootBelow, f.Name, e.Sum(evaluate.SumOf(f.InPlace)), e.Thickness(c.Shortfall))
		case c.Status == packs.ChangeUnlisted && len(c.Pieces) > 0:
			say(SentenceDo, words.SentenceFootUnlisted, e.Sum(c.Sum), f.Name, e.Thickness(f.Wanted), e.Thickness(u), soft)
		case !f.Listed && len(c.Put) > 0:
			say(SentenceDo, words.SentenceFootAdd, e.piecesWords(evaluate.NewPieces(c)), f.Name, e.Thickness(f.Wanted), e.Thickness(u), soft)
		case len(c.Take) == 0 && len(c.Put) == 0:
			say(SentenceDo, words.SentenceLeave, f.Name, e.Thickness(f.Wanted), e.Thickness(u))
		default:
			var parts []string
			if len(c.Take) > 0 {
				parts = append(parts, words.SentenceFootTake.Say(e.PackWords(c.Take)))
			}
			if len(c.Put) > 0 {
				parts = append(parts, words.SentenceFootPut.Say(e.PackWords(evaluate.NewPieces(c))))
			}
			then := words.SentenceBareBase.String()
			if len(c.Pieces) > 0 {
				then = words.SentenceLieThere.Say(e.piecesWords(c.Pieces))
			}
			say(SentenceDo, words.SentenceFoot, f.Name, strings.Join(parts, ", "), then, e.Thickness(f.Wanted), e.Thickness(u), soft)
		}
	}
}

// sayGrowth says what the wanted line rests on.
func (e *Teller) sayGrowth(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	g := r.Growth
	if g.Measured {
		c, u := &g.Change, &g.UChange
		switch {
		case g.FromFound:
			say(SentenceLine, words.SentenceChangeFound, e.stands(r, &g.Hot))
		case g.BySets:
			say(SentenceLine, words.SentenceChangeSets, e.stands(r, &g.Hot), e.stands(r, &g.Cold))
		}
		turns := words.SentenceTurnsNot.String()
		if !e.ShowsZero(c.TV, e.Slope) || !e.ShowsZero(c.TH, e.Slope) {
			turns = words.SentenceTurns.Say(e.upDown(c.TV, words.SentenceRises, words.SentenceFalls, words.SentenceKeepsLevel.String(), e.Slope), e.towards(r, c.TH, words.SentenceLeads, words.SentenceLeadsNot.String(), e.Slope))
		}
		wanted := words.SentenceChangeWanted.String()
		if r.Coupling == tables.Universal {
			wanted = "" // its offset is wanted as it was found
		}
		say(SentenceLine, words.SentenceChange, e.upDown(c.DV, words.SentenceMovesUp, words.SentenceMovesDown, words.SentenceMovesNot.String(), e.Thickness), e.towards(r, c.DH, words.SentenceTowards, words.SentenceMovesStraight.String(), e.Thickness), e.Thickness(u.DV), e.Thickness(u.DH),
			turns, e.Slope(u.TV), e.Slope(u.TH), wanted)
		return
	}
	for i := range g.Supports {
		s := &g.Supports[i]
		tail := ""
		if s.H != 0 {
			tail = words.SentenceGrowthSide.Say(e.Thickness(math.Abs(s.H)), r.TheSide(s.H, true))
		}
		if s.Sheet {
			tail += words.SentenceGrowthFrom.String()
		}
		say(SentenceLine, words.SentenceGrowth, s.Name, e.Thickness(s.V), e.Thickness(s.UV), tail)
	}
	for i := range g.Parts {
		p := &g.Parts[i]
		if p.Material == "" {
			continue
		}
		own := ""
		if p.OwnMaterial {
			own = words.SentenceMaterialOwn.String()
		}
		first := true
		for k := range i {
			first = first && g.Parts[k].Material != p.Material
		}
		if first {
			say(SentenceHint, words.SentenceMaterial, p.Material, own, p.Source, p.Row)
		}
	}
}
