package desk

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
)

// What is said leads to the cell it is said of, on every sheet, and means what stands there.

// Every problem in the list leads to a cell, or a row, that says the same.
func TestProblemsLeadToTheirCells(t *testing.T) {
	spoiled := small(t)
	spoiled.typed(1, "Speed", "fast")
	spoiled.typed(2, "Given offset V", "0.1 kg")
	for sheet, list := range map[int]string{
		2: "Machine\tReading\nPump 1\tx\n", 3: "Thickness\tPieces\n0.05 kg\t12\n0.1\tmany\n", 4: "Machine\tFoot\tRise\nPump 1\tfront\thigh\n", 5: "Machine\tFoot\tGap\nPump 2\tfront left\twide\n", 6: "Name\tSpeed to\nx\tfast\n",
	} {
		spoiled.ask("sheet", sheet)
		spoiled.paste(list)
	}
	spoiled.ask("sheet", 0)
	spoiled.ask("work", 60_000)
	for _, p := range []page{spoiled, demo(t)} {
		list, total := p.d.problems()
		led := map[int]int{}
		for _, x := range list {
			if x.Row < 0 || x.Col < 0 {
				continue
			}
			p.ask("sheet", x.Sheet)
			p.ask("goStored", x.Row, x.Col)
			info := p.ask("info", 0)
			cell, _ := info["problem"].(string)
			if cell == "" {
				t.Errorf("%s: %s: nothing is said of the cell on sheet %d, row %d, column %d", x.Where, x.Text, x.Sheet, x.Row, x.Col)
				continue
			}
			of := slices.ContainsFunc(list, func(y screens.Problem) bool {
				return y.Sheet == x.Sheet && y.Row == x.Row && y.Col == x.Col && y.Text == cell
			})
			if !of {
				t.Errorf("%s: %s; of its cell is said: %s", x.Where, x.Text, cell)
			}
			led[x.Sheet]++
		}
		if total == 0 || led[0] == 0 {
			t.Errorf("%d problems, led to %v", total, led)
		}
	}
}

// The Job sheet names every setting once, and nothing else, in a job that has none and in one that has some.
func TestJobSheetNamesEverySetting(t *testing.T) {
	for _, p := range []page{begin(t), small(t), demo(t)} {
		g := p.d.grids[job.SettingsSheet]
		seen := map[string]int{}
		for row := range g.Rows() {
			name := g.Cell(row, 0)
			c := job.FindColumn(job.SettingsSheet, name)
			if c == nil {
				if !strings.Contains(name, ":") { // what a header means
					t.Errorf("%q is no setting", name)
				}
				continue
			}
			seen[c.Key]++
		}
		n := 0
		for _, c := range job.Columns() {
			if c.Sheet == job.SettingsSheet {
				if n++; seen[c.Key] != 1 {
					t.Errorf("%s stands there %d times", c.Name, seen[c.Key])
				}
			}
		}
		if len(seen) != n {
			t.Error(seen)
		}
	}
}

// A text means the same in the panel as it is read, on sheets other than Machines too.
func TestMeaningOnOtherSheets(t *testing.T) {
	p := small(t)
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.05 in\t12\n")
	p.ask("go", 0, 0, false)
	if m, _ := p.ask("info", 0)["meaning"].(string); !strings.Contains(m, "1.27") {
		t.Errorf("0.05 in means %q", m)
	}
}

// A plan that is chosen for a train stands in one row of it: where one stood, else in the first; taken back it stands in none.
func TestPlanStandsOnce(t *testing.T) {
	for _, c := range []struct{ what, before, chosen, want string }{
		{"none yet", "A||;A||;B||", "least", "least,,"},
		{"in the second", "A||;a|share|;B||", "least", ",least,"},
		{"in two", "A|share|;A|least|;B|x|", "none moves", "none moves,,x"},
		{"taken back", "A||;A|share|;B|x|", "", ",,x"},
	} {
		p := small(t)
		p.ask("sheet", 10)
		list := "Train\tPlan\tMachine\n"
		for i, row := range strings.Split(c.before, ";") {
			f := strings.Split(row, "|")
			list += fmt.Sprintf("%s\t%s\tPump %d\n", f[0], f[1], i+1)
		}
		p.paste(list)
		p.did(func(d *Desk) { d.ChoosePlan("A", c.chosen) })
		g := p.d.grids[job.TrainsSheet]
		at := slices.Index(g.Header(), "Plan")
		var got []string
		for row := range g.Rows() {
			got = append(got, g.Cell(row, at))
		}
		p.want(strings.Join(got, ","), c.want)
	}
}
