package sentences

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
	"slices"
	"strings"
)

// sayPacks says how well the packs are known.
func (e *Teller) sayPacks(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	least, most, unknown := e.PacksKnown(r, false)
	if most > 0 {
		worst, after := "", ""
		if least < most*(1-1e-9) || len(unknown) > 0 {
			worst = words.SentencePacksWorst.String()
		}
		if r.Calc.HasAfter && r.Verdict != calc.Inside {
			after = words.SentencePacksAfter.String()
		}
		say(SentenceAfter, words.SentencePacks, e.Thickness(most), worst, e.stripSource(), after)
	}
	if len(unknown) > 0 {
		var said []byte
		for k, mm := range unknown {
			if k > 0 {
				said = append(said, ", "...)
			}
			said = e.AppendPack(said, mm)
		}
		say(SentenceAfter, words.SentencePacksUnknown, said, e.ThickUnit())
	}
}

// stripSource names what the tolerances of the stock rest on, of all its lines.
func (e *Teller) stripSource() string {
	var list []string
	stock, _ := e.Stock()
	for i := range stock {
		s := &stock[i]
		w := ""
		switch {
		case !(s.Tolerance > 0):
			continue
		case s.Class == tables.NoStripClass:
			w = words.SentenceStripOwn.Say(e.SheetName(job.StockSheet))
		case s.Lamination > 0:
			w = tables.LaminationSource
		default:
			w = words.SentenceStripClass.Say(s.Class)
		}
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return strings.Join(list, "; ")
}

// AppendPairPack words the packs of a pair for a cell: once where the same is done under each of its feet, else foot by foot: "9: 0.50; 3: 0.25 + 0.25".
func (e *Teller) AppendPairPack(b []byte, r *evaluate.RowResult, k int) []byte {
	f := r.Foot(k)
	if f == nil || !e.HasPacks() || math.IsNaN(f.Rounded) {
		return b
	}
	if r.Feet == nil && r.Stays() { // what would bring it to zero, for whoever wants to know
		c := evaluate.PackChange(&f.Pack, f.Shim < 0, false)
		return append(b, e.ChangeDo(&c, f.Shim, true)...)
	}
	list, alike := e.PairPacks(r, k)
	switch {
	case len(list) == 0:
		return append(b, words.WordNothing.String()...)
	case alike && (r.Feet == nil || len(list) > 1 && !r.Stays()):
		return append(b, e.PickDo(list[0])...)
	}
	for n, p := range list {
		if n > 0 {
			b = append(b, "; "...)
		}
		b = append(append(b, strings.TrimPrefix(p.Foot, r.PairNamed(k)+" ")...), ": "...)
		b = append(b, e.PickDo(p)...)
	}
	return b
}

// PackNotes are what a paper of many machines says of its packs: where they come from and when, of how many feet the stock is short, and where front
// and rear were chosen together. None for a job without packs.
func (e *Teller) PackNotes() (list []string) {
	made, short := false, 0
	var together []string
	for i := range e.Len() {
		r := e.Row(i)
		for _, p := range e.PacksOf(r) {
			made = made || p.Made
			if p.Status.Short() {
				short++
			}
		}
		if r.Together {
			together = append(together, r.Name)
		}
	}
	if !made {
		return nil
	}
	_, said := e.PacksFrom()
	list = append(list, said)
	if short > 0 {
		list = append(list, words.ListShort.Say(short))
	}
	if len(together) > 0 {
		list = append(list, words.ListTogether.Say(strings.Join(together, ", ")))
	}
	return list
}

// UnjudgedNotes are what a list of pieces says of machines that are not judged: which stand in it all the same, because what keeps them from a verdict changes no move, which for
// their soft feet only, and which do not, though they were read. None where every machine that was read has its verdict.
func (e *Teller) UnjudgedNotes() (list []string) {
	var listed, soft, left []string
	times := map[string]int{}
	for i := range e.Len() {
		times[e.Row(i).Name]++
	}
	for i := range e.Len() {
		r := e.Row(i)
		if r.Kind != evaluate.MachineRow || r.Verdict != calc.NotJudged || r.RoundWord() == evaluate.StateWaiting && !r.Refused() {
			continue
		}
		name := r.Name
		if times[name] > 1 {
			name = words.ListOfRow.Say(name, r.Row)
		}
		switch {
		case len(e.PacksOf(r)) == 0:
			left = append(left, name)
		case len(r.Calc.Feet)+len(r.Calc.BoltShims) == 0 && r.Plan == nil: // its shafts are not moved by them
			soft = append(soft, name)
		default:
			listed = append(listed, name)
		}
	}
	if len(listed) > 0 {
		list = append(list, words.ListUnjudged.Say(strings.Join(listed, ", ")))
	}
	if len(soft) > 0 {
		list = append(list, words.ListUnjudgedSoft.Say(strings.Join(soft, ", ")))
	}
	if len(left) > 0 {
		list = append(list, words.ListUnjudgedLeft.Say(strings.Join(left, ", ")))
	}
	return list
}

// PacksFrom says where the packs shown come from, and in words for papers and lists when they were shared out, or why they were not.
func (e *Teller) PacksFrom() (s evaluate.PackSource, said string) {
	s, when, failed := e.PackSource()
	switch {
	case e.StockUnread():
		return s, e.stockAssumed()
	case s == evaluate.NotCounted:
		return s, words.SentenceFromNotCounted.String()
	case s == evaluate.SharedOut && when != "":
		return s, words.SentenceFromShared.Say(", " + when)
	case s == evaluate.SharedOut:
		return s, words.SentenceFromShared.Say(e.revision())
	case failed != "":
		return s, words.SentenceFromFailed.Say(failed)
	}
	return s, words.SentenceFromFullBox.String()
}

// stockAssumed says that the box is assumed, since the Stock sheet could not be read.
func (e *Teller) stockAssumed() string {
	return words.SentenceStockUnread.Say(e.SheetName(job.StockSheet))
}

// OrderNotes are what an order list says of a box that is assumed; none where the stock is the job's.
func (e *Teller) OrderNotes() []string {
	_, assumed := e.Stock()
	switch {
	case e.StockUnread():
		return []string{e.stockAssumed()}
	case assumed:
		return []string{words.ListAssumed.String()}
	}
	return nil
}

// PacksFromWord is the source of the packs of a row, for a cell; "" for a row without packs.
func (e *Teller) PacksFromWord(r *evaluate.RowResult) string {
	f, stays := r.Foot(r.Front), r.Stays() && !slices.ContainsFunc(e.PacksOf(r), func(p evaluate.Picked) bool { return p.Made })
	if !e.HasPacks() || (f == nil || math.IsNaN(f.Rounded)) && !slices.ContainsFunc(e.PacksOf(r), func(p evaluate.Picked) bool { return p.Made }) {
		return ""
	}
	s, _ := e.PacksFrom()
	if stays { // no piece is shared out to it
		if s == evaluate.SharedOut {
			s = evaluate.FullBox
		}
		return s.Word().String() + words.PackStays.String()
	}
	if r.Together {
		return s.Word().String() + words.PackTogether.String()
	}
	return s.Word().String()
}

// PickDo says in a few words what is done under a foot: "take out 0.50, put in 0.20 + 0.10"; also that the stock is short of it.
func (e *Teller) PickDo(p *evaluate.Picked) string {
	return e.shortOf(e.ChangeDo(&p.Change, p.Wanted, p.Made)+e.belowWords(p.Wanted, p.InPlace, p.Listed && !p.Made), p.Status)
}

// revision names the state of the job, "" for one that was never saved.
func (e *Teller) revision() string {
	j := e.Job()
	if j.Revision == 0 {
		return ""
	}
	s := words.SentenceRevision.Say(j.Revision)
	if j.SavedAt != "" {
		s += words.SentenceSavedAt.Say(minute(j.SavedAt))
	}
	return s
}

// minute is a time as people write it, to the minute: 2026-12-01T01:56:39.639Z is 2026-12-01 01:56 UTC. A text of another form stays.
func minute(at string) string {
	if len(at) < len("2026-12-01T01:56Z") || at[10] != 'T' || !strings.HasSuffix(at, "Z") {
		return at
	}
	return at[:10] + " " + at[11:16] + " UTC"
}

// sayPacksFrom says where the packs of the row come from, which feet the stock is short of, and what was chosen together.
func (e *Teller) sayPacksFrom(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	var short []string
	made := false
	for _, p := range e.PacksOf(r) {
		made = made || p.Made
		if p.Status.Short() {
			short = append(short, p.Foot)
		}
	}
	if !made {
		return
	}
	_, said := e.PacksFrom()
	say(SentencePacks, words.SentenceAsItIs, said)
	if len(short) > 0 {
		say(SentencePacks, words.SentenceShort, strings.Join(short, ", "))
	}
	if r.Together {
		say(SentencePacks, words.SentenceTogether)
	}
}

func (e *Teller) shortOf(do string, s packs.PickStatus) string {
	if s.Short() {
		do += ", " + s.String()
	}
	return do
}
