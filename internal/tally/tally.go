// Package tally counts over a whole shutdown, and over earlier ones beside it: how well each crew's sweeps repeat, how many machines were inside at the first attempt, and how far feet missed
// where they should have come to, by what they stand on and by machine. Start with [Of]; [Tables] words it, [JSON] hands it on.
//
// What it leaves out on purpose: marks for people. A spread of few values, and a share of few machines, say little; then the number of values stands there and no percentage.
package tally

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/sentences"
	"shimsheet/internal/sorting"
)

// A Job is what one shutdown came to.
type Job struct {
	Name     string // of the job, with its date; the file's where it says neither
	Machines int
	Found    Share // inside as found, of those that could be judged then
	First    Share // inside at the first reading after a move, of those that were moved and could be judged then
	Now      Share // inside by the readings that count, of those that can be judged
	Attempts []Attempts
	Repeats  []Repeat
	Moves    []Move
	Misses   []Misses
}

// Attempts are the first attempts of a crew or an area.
type Attempts struct {
	By, Name string // By: crew, area
	First    Share
}

// A Repeat says how well sweeps repeat that a crew read with dials, or with gauges. Sweeps that failed a check by a little are part of the spread: without them every crew would look as good
// as the check is strict. One that is beyond it [slip] times is a mistake, such as a sign turned or a wrong unit, and is counted without its readings.
//
// FromRepeats is the standard deviation of a single reading, from positions that were read twice: √(Σd² / 2n), d the second reading less the first. FromBalance is the same from top and
// bottom against left and right, √(Σb² / 4n), b = (R12 + R6) − (R3 + R9): that has in it also what hub and bracket do, such as a bracket that slips.
//
// Reference: duplicate readings, G. Dahlberg, Statistical Methods for Medical and Biological Students (1940), from memory; the second is the same of a sum of four readings, whose
// variances add.
type Repeat struct {
	By, Name    string // By: crew, or all
	Gauge       bool
	Sweeps      int
	Failed      int // of them
	Slips       int // of these
	Repeats     int
	FromRepeats float64 // mm; NaN without repeats
	Balances    int
	FromBalance float64 // mm; NaN without sweeps that have all four
}

// A Move is a pair of feet after something was done: how far it came to stand from where it should, mm. V positive stands higher, H positive farther towards 3 o'clock.
type Move struct {
	Row                        int // of the Machines sheet, its index
	Machine, Base, Crew, Round string
	Foot                       string // front or rear
	V, H                       float64
	Sprang                     bool // it stands lower than it should by more than the readings explain
}

// Misses are the moves of a base, or of a machine, together.
type Misses struct {
	By, Name string // By: all, base, machine
	V, H     Spread
	Sprang   int
}

// repeats gathers sums for a [Repeat].
type repeats struct {
	Repeat
	squares, balance float64
}

func (r *repeats) add(s *evaluate.SweepRead) {
	r.Sweeps++
	c := &s.Check
	if beyond(c.Closure, c.ClosureLimit) || beyond(c.Balance, c.BalanceLimit) {
		r.Failed++
	}
	if beyond(c.Closure, slip*c.ClosureLimit) || beyond(c.Balance, slip*c.BalanceLimit) {
		r.Slips++
		return
	}
	r.Repeats += c.Repeats
	r.squares += c.RepeatSquares
	if !math.IsNaN(c.Balance) {
		r.Balances++
		r.balance += c.Balance * c.Balance
	}
}

func (r *repeats) done() Repeat {
	r.FromRepeats = math.Sqrt(r.squares / float64(2*r.Repeats))
	r.FromBalance = math.Sqrt(r.balance / float64(4*r.Balances))
	return r.Repeat
}

// slip is how many times a check is beyond its limit where a mistake was made (common practice, no source).
const slip = 5

// beyond says whether a check failed, as the checks themselves hold it.
func beyond(x, limit float64) bool { return math.Abs(x) > limit*(1+1e-9) }

// groups keeps what belongs together under a name, whatever its case and blanks, in the spelling that came first.
type groups[T any] struct {
	names []string
	at    map[string]int
	list  []T
}

func (g *groups[T]) of(name string) *T {
	key := strings.ToLower(strings.Join(strings.Fields(name), " "))
	k, ok := g.at[key]
	if !ok {
		if g.at == nil {
			g.at = map[string]int{}
		}
		k = len(g.list)
		g.at[key] = k
		g.names = append(g.names, strings.TrimSpace(name))
		g.list = append(g.list, *new(T))
	}
	return &g.list[k]
}

// sorted goes through the groups by their names, those that nobody named last.
func (g *groups[T]) sorted(each func(name string, v *T)) {
	order := make([]int, len(g.names))
	for k := range order {
		order[k] = k
	}
	sorting.Stable(order, func(a, b int) int {
		if x, y := g.names[a], g.names[b]; (x == "") != (y == "") {
			return cmp.Compare(len(y), len(x))
		}
		return cmp.Or(cmp.Compare(strings.ToLower(g.names[a]), strings.ToLower(g.names[b])), cmp.Compare(a, b))
	})
	for _, k := range order {
		each(g.names[k], &g.list[k])
	}
}

// counter gathers what [Of] gives.
type counter struct {
	e           *sentences.Teller
	job         *Job
	crew, area  groups[Share]
	base, owner groups[[]Move]
	dial, gauge groups[repeats]
}

// Of counts over the job of e, every row of which is worked out. file names it where it does not name itself.
func Of(e *sentences.Teller, file string) *Job {
	c := &counter{e: e, job: &Job{Name: file}}
	if name := strings.TrimSpace(e.Setting("name")); name != "" {
		c.job.Name = name
	}
	if date := strings.TrimSpace(e.Setting("date")); date != "" {
		c.job.Name += ", " + date
	}
	for i := range e.Len() {
		if r := e.Row(i); r.Kind == evaluate.MachineRow && e.RowOf(r.Name) == i {
			c.job.Machines++
			c.machine(i, r)
		}
	}
	j := c.job
	add := func(by string) func(string, *Share) {
		return func(name string, s *Share) { j.Attempts = append(j.Attempts, Attempts{by, name, *s}) }
	}
	c.crew.sorted(add("crew"))
	c.area.sorted(add("area"))
	for _, gauge := range []bool{false, true} {
		list := &c.dial
		if gauge {
			list = &c.gauge
		}
		all := repeats{Repeat: Repeat{By: "all", Gauge: gauge}}
		list.sorted(func(name string, r *repeats) {
			r.By, r.Name, r.Gauge = "crew", name, gauge
			all.Sweeps, all.Failed, all.Slips = all.Sweeps+r.Sweeps, all.Failed+r.Failed, all.Slips+r.Slips
			all.Repeats, all.Balances = all.Repeats+r.Repeats, all.Balances+r.Balances
			all.squares, all.balance = all.squares+r.squares, all.balance+r.balance
			j.Repeats = append(j.Repeats, r.done())
		})
		if len(list.list) > 1 {
			j.Repeats = append(j.Repeats, all.done())
		}
	}
	if len(j.Moves) > 0 {
		j.Misses = append(j.Misses, missesOf("all", "", j.Moves))
	}
	c.base.sorted(func(name string, m *[]Move) { j.Misses = append(j.Misses, missesOf("base", name, *m)) })
	c.owner.sorted(func(name string, m *[]Move) { j.Misses = append(j.Misses, missesOf("machine", name, *m)) })
	return j
}

// machine counts one machine in.
func (c *counter) machine(i int, r *evaluate.RowResult) {
	j, crew := c.job, c.e.Typed(i, "crew")
	if r.Verdict != calc.NotJudged {
		j.Now.add(r.Verdict == calc.Inside)
	}
	var read []*evaluate.Round // those that count, in their order
	for k := range r.Rounds {
		if o := &r.Rounds[k]; o.Struck == "" {
			read = append(read, o)
		}
	}
	if len(r.Rounds) == 0 {
		read = []*evaluate.Round{{Verdict: r.Verdict, Sweeps: r.SweepsRead()}}
	}
	base := c.e.Typed(i, "base")
	for _, o := range read {
		who := cmp.Or(o.By, crew)
		for k := range o.Sweeps {
			s := &o.Sweeps[k]
			if s.Gauge {
				c.gauge.of(who).add(s)
			} else {
				c.dial.of(who).add(s)
			}
		}
		if o.Hot() {
			continue
		}
		for _, f := range o.Missed {
			m := Move{i, r.Name, base, who, o.Name, f.Foot, f.V, f.H, f.Sprang}
			j.Moves = append(j.Moves, m)
			b, w := c.base.of(base), c.owner.of(r.Name)
			*b, *w = append(*b, m), append(*w, m)
		}
	}
	if read = slices.DeleteFunc(read, (*evaluate.Round).Hot); len(read) == 0 {
		return
	}
	if found := read[0].Verdict; found != calc.NotJudged {
		j.Found.add(found == calc.Inside)
	}
	if len(read) < 2 || read[0].Verdict == calc.Inside || read[1].Verdict == calc.NotJudged {
		return // not moved, or what came of it cannot be judged
	}
	inside := read[1].Verdict == calc.Inside
	j.First.add(inside)
	c.crew.of(cmp.Or(read[1].By, crew)).add(inside)
	c.area.of(c.e.Typed(i, "area")).add(inside)
}

// missesOf is what a set of moves comes to.
func missesOf(by, name string, list []Move) Misses {
	m := Misses{By: by, Name: name}
	v, h := make([]float64, len(list)), make([]float64, len(list))
	for k := range list {
		v[k], h[k] = list[k].V, list[k].H
		if list[k].Sprang {
			m.Sprang++
		}
	}
	m.V, m.H = SpreadOf(v), SpreadOf(h)
	return m
}
