package desk

import (
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// Evaluator and the methods below make the desk the host of the screen of the trains.
func (d *Desk) Evaluator() *sentences.Teller { return d.ev }

// ChosenRow is the row of the Machines sheet that the panel speaks of.
func (d *Desk) ChosenRow() int { return d.machRow }

// ChoosePlan writes a plan under Plan on the sheet Trains, in the row of the train that has one, else in its first row, else in a new row; "" takes it out of all of them.
func (d *Desk) ChoosePlan(train, plan string) bool {
	const k = job.TrainsSheet
	g := d.grids[k]
	find := func(key string) int {
		for c, h := range g.Header() {
			if info := job.FindColumn(k, h); info != nil && info.Key == key {
				return c
			}
		}
		return -1
	}
	done := true
	if find("plan") < 0 {
		done = d.change(k, func(g *grid.Model) grid.Change { return g.AddColumn(len(g.Header()), "Plan") }).Any
	}
	t, c := find("train"), find("plan")
	if t < 0 || c < 0 || !done {
		return false
	}
	at, with := -1, -1
	var all []int
	for row := range g.Rows() {
		if !strings.EqualFold(strings.TrimSpace(g.Cell(row, t)), train) {
			continue
		}
		if all = append(all, row); at < 0 {
			at = row
		}
		if with < 0 && strings.TrimSpace(g.Cell(row, c)) != "" {
			with = row
		}
	}
	if with >= 0 {
		at = with
	}
	if at < 0 {
		line := make([]string, len(g.Header()))
		line[t], line[c] = train, plan
		return plan == "" || d.change(k, func(g *grid.Model) grid.Change {
			return g.AppendRows(words.Text("desk.choosingPlan"), [][]string{line})
		}).Any
	}
	done = d.change(k, func(g *grid.Model) grid.Change { return g.SetCell(at, c, plan) }).Any
	for _, row := range all {
		if row != at && strings.TrimSpace(g.Cell(row, c)) != "" { // one row says it
			done = d.change(k, func(g *grid.Model) grid.Change { return g.SetCell(row, c, "") }).Any || done
		}
	}
	return done
}
