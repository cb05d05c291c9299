package sentences

import (
	"cmp"
	"fmt"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// A BoardRow is a machine on the board.
type BoardRow struct {
	At                                   int // index in the Machines sheet
	Machine, Area, Crew, Date, WorkOrder string
	Priority                             int // 1 first; 0 none
	Stage                                evaluate.Stage
	Round                                string   // which round of readings counts
	Holds                                []string // hold points that are not passed
	Short                                []string // feet that the stock is short of
	Settle                               string   // what would settle a verdict that is too close to call; "" it is not
	Why                                  string   // what keeps it from being judged, or what changed since somebody signed
}

// Board is every machine with how far it is, in the order of the sheet. What is short is known once the stock was shared out.
func (e *Teller) Board() (list []BoardRow) {
	for i := range e.Len() {
		r := e.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		b := BoardRow{At: i, Machine: r.Name, Area: e.TypedIn(i, job.ColArea), Crew: e.TypedIn(i, job.ColCrew), Date: e.TypedIn(i, job.ColDate), WorkOrder: e.TypedIn(i, job.ColWorkOrder), Priority: r.Priority,
			Stage: evaluate.StageOf(r), Round: r.RoundWord()}
		for k := range r.Checks {
			if c := &r.Checks[k]; c.Holds() {
				b.Holds = append(b.Holds, c.Name)
			}
		}
		for _, p := range e.PacksOf(r) {
			if p.Status.Short() {
				b.Short = append(b.Short, p.Foot)
			}
		}
		if r.Verdict == calc.TooClose {
			b.Settle = e.settles(i, r)
		}
		switch b.Stage {
		case evaluate.StageNotJudged:
			b.Why = string(e.AppendWhy(nil, r))
		case evaluate.StageChanged:
			for k := range r.Record {
				if s := &r.Record[k]; s.State == evaluate.SignFailed {
					b.Why = s.Why.String()
				}
			}
		}
		list = append(list, b)
	}
	return list
}

// settles is the sentence that says which reading would settle a verdict.
func (e *Teller) settles(i int, r *evaluate.RowResult) (said string) {
	e.saySure(i, r, func(_ SentenceKind, form words.Key, args ...any) {
		switch form {
		case words.SentenceSettle, words.SentenceSettleAll, words.SentenceSettleOdd, words.SentenceSettleNot:
			said = strings.TrimSpace(said + " " + form.Say(args...))
		}
	})
	return said
}

// BoardBy are the columns that a board can be parted by.
var BoardBy = []string{"stage", "area", "crew", "date", "priority"}

// By is what a row of the board has under one of [BoardBy].
func (b *BoardRow) By(by string) string {
	switch by {
	case "area":
		return b.Area
	case "crew":
		return b.Crew
	case "date":
		return b.Date
	case "priority":
		if b.Priority == 0 {
			return ""
		}
		return fmt.Sprint(b.Priority)
	}
	return b.Stage.Word().String()
}

// A BoardGroup is the machines that have the same under one of [BoardBy].
type BoardGroup struct {
	Name  string // "" those that say nothing
	Rows  []BoardRow
	Count [evaluate.NumStages]int
}

// Words says how many machines are how far: 3 measured, 2 inside.
func (g *BoardGroup) Words() string {
	var parts []string
	for s, n := range g.Count {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, evaluate.Stage(s).Word()))
		}
	}
	return strings.Join(parts, ", ")
}

// GroupBoard parts a board, the groups in the order of the stages, of the priorities, or of their names; those that say nothing come last.
func GroupBoard(list []BoardRow, by string) (groups []BoardGroup) {
	at := map[string]int{}
	for _, b := range list {
		key := b.By(by)
		k, ok := at[key]
		if !ok {
			k = len(groups)
			at[key] = k
			groups = append(groups, BoardGroup{Name: key})
		}
		groups[k].Rows = append(groups[k].Rows, b)
		groups[k].Count[b.Stage]++
	}
	sorting.Stable(groups, func(a, b BoardGroup) int {
		if (a.Name == "") != (b.Name == "") {
			if a.Name == "" {
				return 1
			}
			return -1
		}
		switch by {
		case "stage":
			return cmp.Compare(a.Rows[0].Stage, b.Rows[0].Stage)
		case "priority":
			return cmp.Compare(a.Rows[0].Priority, b.Rows[0].Priority)
		}
		return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	return groups
}

// Waits says what a machine waits for: hold points, what is short, what would settle its verdict, why it is not judged. "" nothing that the job knows of.
func (b *BoardRow) Waits() string {
	var parts []string
	if len(b.Holds) > 0 {
		parts = append(parts, words.ListHoldPoints.Say(strings.Join(b.Holds, ", ")))
	}
	if len(b.Short) > 0 {
		parts = append(parts, words.ListShortFeet.Say(strings.Join(b.Short, ", ")))
	}
	for _, s := range [...]string{b.Settle, b.Why} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "; ")
}
