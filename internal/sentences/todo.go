package sentences

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// A Todo is what is done at the feet of one machine: the pieces that come out and go in under each, and how far each end is pushed to which side. It is made from
// [evaluate.Evaluator.Packs] and from the moves as the sentences tell them, so that a picture, a card and a list say the same pieces and the same digits.
type Todo struct {
	Feet    []FootTodo // in the order of the sheet; none on a flange
	Bolts   []FootTodo // on a flange
	Slide   string     // how far a machine on a flange is slid, in words
	Pushes  []Push     // one for each pair of feet, from the coupling on; none where the machine stays
	Others  []string   // what the chosen plan of its train does at the other machine, in sentences
	Stays   bool       // it is inside its limit: what is told is for soft feet alone
	OneLift bool       // soft feet are mended in the same lift, which the sentences call way B
	Missing string     // why there is nothing to tell; "" there is something
}

// A FootTodo is what is done under one foot.
type FootTodo struct {
	Name    string
	Pair    int      // index in Calc.Feet, −1 none
	Station float64  // mm from the coupling; NaN not known
	Side    int      // 1 towards 3 o'clock, −1 towards 9, as seen from behind the movable machine; 0 not known
	Out, In []string // thicknesses of the pieces that come out and go in, in the job's unit; of pieces nobody listed the sum that comes out
	Exact   bool     // In or Out is the exact amount, for there is no stock to make it from
	Notes   []string // what else has to be known here: short of stock, below the bare base, a sole that is not parallel
}

// Nothing says that the foot is left as it is.
func (f *FootTodo) Nothing() bool { return len(f.Out)+len(f.In) == 0 }

// A Push is the sideways move of one pair of feet.
type Push struct {
	Pair    int
	Word    string // front, rear
	Station float64
	Towards int    // 1 towards 3 o'clock, −1 towards 9; 0: leave it sideways
	Amount  string // "0.25 mm"
	Number  string // "0.25"
	Side    string // "the river side"
}

// Todo tells what is done at the feet of row i.
func (e *Teller) Todo(i int) *Todo {
	t := &Todo{}
	r := e.Row(i)
	if r == nil || r.Kind != evaluate.MachineRow {
		t.Missing = words.TodoNoCoupling.String()
		return t
	}
	t.Stays, t.OneLift = r.Stays(), r.TwoWays()
	t.Others = e.stationaryWords(r)
	for _, p := range e.PacksOf(r) {
		if p.Pair < 0 && p.Single < 0 && p.Bolt < 0 {
			continue // of the other machine
		}
		f := e.footTodo(r, &p)
		if p.Bolt >= 0 {
			t.Bolts = append(t.Bolts, f)
		} else {
			t.Feet = append(t.Feet, f)
		}
	}
	if !t.Stays {
		for k := range r.Calc.Feet {
			if f := &r.Calc.Feet[k]; evaluate.Known(f.Move) {
				t.Pushes = append(t.Pushes, e.push(r, k))
			}
		}
	}
	if c := &r.Calc; len(t.Bolts) > 0 && evaluate.Known(c.SlideV) && evaluate.Known(c.SlideH) {
		t.Slide = strings.TrimSuffix(e.slideWords(r), ".")
	}
	if len(t.Feet)+len(t.Bolts)+len(t.Pushes)+len(t.Others) > 0 {
		return t
	}
	switch {
	case t.Stays:
		t.Missing = words.SentenceStand.String()
	case !r.HasLine():
		t.Missing = words.TodoNoLine.String()
	default:
		t.Missing = words.TodoNoFeet.String()
	}
	if why := string(e.AppendWhy(nil, r)); why != "" && !t.Stays {
		t.Missing += " " + strings.ToUpper(why[:1]) + why[1:] + "."
	}
	return t
}

// push is the move of pair k as the sentences tell it: to the step, and none where it is smaller than its own uncertainty.
func (e *Teller) push(r *evaluate.RowResult, k int) Push {
	f := &r.Calc.Feet[k]
	move := f.Move
	if evaluate.Known(f.MoveRounded) {
		move = f.MoveRounded
	}
	p := Push{Pair: k, Word: e.PairWord(r, k).String(), Station: f.Station}
	if e.ShowsZero(move, e.Shim) || !evaluate.Pushes(f) {
		return p
	}
	p.Amount, p.Number, p.Side, p.Towards = e.Shim(math.Abs(move)), string(e.AppendShim(nil, math.Abs(move))), r.TheSide(move, true).String(), 1
	if move < 0 {
		p.Towards = -1
	}
	return p
}

// footTodo is a pack as pieces.
func (e *Teller) footTodo(r *evaluate.RowResult, p *evaluate.Picked) FootTodo {
	f := FootTodo{Name: p.Foot, Pair: p.Pair, Station: nan}
	if p.Pair >= 0 && p.Pair < len(r.Calc.Feet) {
		f.Station = r.Calc.Feet[p.Pair].Station
	}
	if o := p.Single; o >= 0 && r.Feet != nil && o < len(r.Feet.Feet) {
		foot := &r.Feet.Feet[o]
		f.Station = foot.Station
		if _, f.Side = e.FootPlace(r, o); f.Side == 0 && foot.Across != 0 && evaluate.Known(foot.Across) {
			f.Side = int(math.Copysign(1, foot.Across))
		}
		if s := &r.Feet.Soft; o < len(s.Feet) && s.Feet[o].Angled {
			f.Notes = append(f.Notes, words.TodoSole.String())
		}
	} else if p.Bolt < 0 {
		_, f.Side = evaluate.FootWords(p.Foot)
		if r.FromStationary {
			f.Side = -f.Side
		}
	}
	c := &p.Change
	word := func(list []float64) (out []string) {
		for _, v := range list {
			out = append(out, string(e.AppendPack(nil, v)))
		}
		return out
	}
	switch {
	case math.IsNaN(p.Wanted):
	case !p.Made:
		f.Exact = true
		f.Notes = append(f.Notes, words.TodoNoStock.String())
		short := e.BelowBase(p.Wanted, p.InPlace, p.Listed)
		if short > 0 {
			f.Notes = append(f.Notes, e.Thickness(short)+words.WordShort.String())
		}
		goes := math.Abs(p.Wanted) - short
		if e.ShowsZero(goes, e.Shim) {
			break
		}
		if amount := []string{e.Shim(goes)}; p.Wanted < 0 {
			f.Out = amount
		} else {
			f.In = amount
		}
	case c.Status == packs.ChangeUnlisted:
		if len(c.Pieces) > 0 {
			f.Out = word([]float64{c.Sum})
		}
	default:
		f.Out = word(c.Take)
		if len(c.Put) > 0 {
			f.In = word(evaluate.NewPieces(c))
		}
		switch c.Status {
		case packs.ChangeBelow:
			f.Notes = append(f.Notes, e.Thickness(c.Shortfall)+words.WordShort.String())
		case packs.ChangeNearest:
			f.Notes = append(f.Notes, words.TodoNearest.String())
		}
	}
	if p.Status.Short() {
		f.Notes = append(f.Notes, p.Status.String())
	}
	return f
}

// StandsShort says how a row's machine stands at the coupling in a few words a part, the side before the number and no units: the offset, then the slope.
func (e *Teller) StandsShort(r *evaluate.RowResult) (offset, slope []string) {
	part := func(v float64, up, down, none string, show func(float64) string) string {
		switch {
		case math.IsNaN(v):
			return words.SentenceUnknown.String()
		case e.ShowsZero(v, show):
			return none
		case v < 0:
			up = down
		}
		amount, _, _ := strings.Cut(show(math.Abs(v)), " ")
		return up + " " + amount
	}
	three, nine := r.Side(1, true), r.Side(-1, true)
	offset = []string{part(r.Offset.V, "high", "low", "level", e.Thickness), part(r.Offset.H, three.String(), nine.String(), "straight", e.Thickness)}
	slope = []string{part(r.Slope.V, "rises", "falls", "level", e.Slope), part(r.Slope.H, three.String(), nine.String(), "straight", e.Slope)}
	return offset, slope
}

// Take lists the pieces that a machine needs from the stock, the thickest first, with how many of each: "2 × 0.50".
func (t *Todo) Take() (list []string) {
	var names []string
	count := map[string]int{}
	for _, feet := range [2][]FootTodo{t.Feet, t.Bolts} {
		for k := range feet {
			if feet[k].Exact {
				continue
			}
			for _, s := range feet[k].In {
				if count[s]++; count[s] == 1 {
					names = append(names, s)
				}
			}
		}
	}
	sorting.Stable(names, func(a, b string) int { // the same decimals are not given, the same decimal sign is
		if d := wholeDigits(b) - wholeDigits(a); d != 0 {
			return d
		}
		return strings.Compare(b, a)
	})
	for _, s := range names {
		list = append(list, strconv.Itoa(count[s])+" × "+s)
	}
	return list
}

// wholeDigits counts the digits before the decimal sign.
func wholeDigits(s string) int {
	if k := strings.IndexAny(s, ".,"); k >= 0 {
		return k
	}
	return len(s)
}
