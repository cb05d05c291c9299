package desk

import (
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// opInfo is what the bar above the cells and the panel beside them say about the cursor. It takes the width of the panel's drawings, 0 where nobody sees it.
func opInfo(d *Desk, in *arguments) raw {
	width := in.int()
	g := d.grid()
	p := g.Cursor()
	row := g.Stored(p.Row)
	out := new(object)
	if g.Columns() > 0 {
		c := g.Column(p.Col)
		name, text := "Meaning", ""
		if c >= 0 {
			name, text = strings.TrimSpace(g.Header()[c]), g.At(p)
			info := job.FindColumn(d.kind, g.Header()[c])
			if d.kind == job.SettingsSheet && c == 1 {
				info = job.FindColumn(d.kind, g.Cell(row, 0))
			}
			if info != nil {
				out.text("help", info.Help()).texts("choices", info.Choices)
			}
			if pr := d.cellProblem(row, c); pr != nil {
				out.text("severity", pr.Severity.String()).text("problem", pr.Text.String()).text("hint", pr.Hint.String())
			}
			if d.kind == job.MachinesSheet {
				out.text("meaning", d.ev.Meaning(row, c))
			} else if d.kind != job.SettingsSheet {
				out.text("meaning", d.ev.MeaningIn(d.kind, g.Header()[c], text))
			} else if c == 1 {
				out.text("meaning", d.ev.MeaningIn(d.kind, g.Cell(row, 0), text))
			}
		} else {
			text = d.result(row, ^c)
			if d.kind == job.MachinesSheet {
				name = d.results[^c].Name
				out.text("help", d.results[^c].Help.String())
			}
		}
		out.text("where", words.Text("desk.rowAndColumn", strconv.Itoa(d.firstRow()+row), name)).text("text", text)
	}
	d.lookAt(row)
	html, about := d.Panel().Row(width)
	return out.text("panel", html.String()).text("about", about).end()
}

// lookAt lets the panel speak of the machine of a stored row of the sheet shown.
func (d *Desk) lookAt(row int) {
	if d.nobody = ""; d.kind == job.MachinesSheet {
		d.machRow = row
	} else {
		d.nobody = d.follow(row)
	}
}

// Panel is the panel at the side, which is a screen.
func (d *Desk) Panel() *screens.Panel { return d.screen("panel").(*screens.Panel) }

// Numbers are the results of the machine that the panel speaks of, but verdict and why: name with unit, text.
func (d *Desk) Numbers() [][2]string {
	var out [][2]string
	for k := first; k < len(d.results); k++ {
		text := string(results.AppendText(nil, d.ev, d.machRow, k))
		if text == "" {
			continue
		}
		name := d.results[k].Name
		if u := d.resultUnit(^k); u != "" {
			name += " [" + u + "]"
		}
		out = append(out, [2]string{name, text})
	}
	return out
}

// PanelSheet is the sheet shown, for the panel.
func (d *Desk) PanelSheet() screens.PanelSheet {
	g := d.grid()
	p := screens.PanelSheet{Kind: d.kind, Rows: g.ShownRows(), Blank: g.Columns() == 0, Nobody: d.nobody}
	if d.ownSheet() {
		p.Problems = d.ownProblems()
		p.Chosen, p.Lacking = d.without(d.chosen()), len(d.without(d.machineNames(5000)))
	}
	return p
}

// opTold is what is said aloud after the cell at a row and shown column was typed: its problem, else the verdict of its row.
func opTold(d *Desk, in *arguments) raw {
	row, col := d.grid().Stored(in.int()), in.int()
	text := ""
	if p := d.cellProblem(row, d.grid().Column(col)); p != nil && p.Severity == job.Error {
		text = p.String()
	} else if r := d.ev.Row(row); d.kind == job.MachinesSheet && r != nil && r.Kind == evaluate.MachineRow {
		for _, s := range d.ev.Sentences(row) {
			if s.Kind == sentences.SentenceVerdict {
				text = r.Name + ": " + s.Text
				break
			}
		}
	}
	return new(object).text("text", text).end()
}

// opCount counts the couplings, the verdicts and the problems of all sheets.
func opCount(d *Desk, _ *arguments) raw {
	n, v := d.ev.Count()
	problems := len(d.noticed()) + len(d.ev.Problems())
	for i := range d.ev.Len() {
		problems += len(d.ev.Row(i).Problems)
	}
	return new(object).int("problems", problems).int("couplings", n).int("notJudged", v[calc.NotJudged]).int("inside", v[calc.Inside]).int("outside", v[calc.Outside]).int("tooClose", v[calc.TooClose]).end()
}
