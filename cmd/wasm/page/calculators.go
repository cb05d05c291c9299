//go:build js && wasm

package main

import (
	"math"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/report"
	"shimsheet/internal/sheet"
	"shimsheet/internal/tables"
)

// The screen Calculators. Cells of a form come as one text with U+001F between them.

func cellsOf(s string) []string { return strings.Split(s, "\x1f") }

func (a *app) calcSettings() sheet.CalcSettings {
	return sheet.CalcSettings{Inch: a.ev.Inch(), Decimal: a.ev.Decimal(), Material: a.calcMaterial}
}

// calcMaterial finds a material: the job's own first.
func (a *app) calcMaterial(name string) (sheet.Material, bool) {
	m := tables.FindMaterial(name)
	own := a.ev.Materials()
	for i := range own {
		if strings.EqualFold(strings.TrimSpace(own[i].Name), strings.TrimSpace(name)) {
			m = &own[i]
		}
	}
	if m == nil {
		return sheet.Material{}, false
	}
	return sheet.Material{Expansion: m.Alpha, Mean: m.MeanBetween, Modulus: math.NaN(), Density: math.NaN(), Source: m.Source}, true
}

func opCalcs(*app, *arguments) raw {
	var list []*object
	for _, c := range sheet.Calculators() {
		list = append(list, new(object).text("key", c.Key).text("title", c.Title))
	}
	return new(object).objects("list", list).end()
}

// opCalc describes a calculator: what its form and its page of words are made of.
func opCalc(a *app, in *arguments) raw {
	c := sheet.FindCalculator(in.text())
	if c == nil {
		return failure("There is no such calculator.")
	}
	inch := a.ev.Inch()
	columns := func(list []sheet.CalcColumn) (out []*object) {
		for i := range list {
			k := &list[i]
			normally := k.Default
			if k.Measure != sheet.MChoice {
				normally = a.sign(normally)
			}
			out = append(out, new(object).text("title", k.Title).text("help", k.Help).text("unit", k.Unit(inch)).text("default", normally).
				texts("choices", k.ChoiceWords()).yes("required", k.Required).yes("list", k.List))
		}
		return out
	}
	var warned []string
	for _, w := range c.Cautions {
		s := w.Text
		if w.Source.Text != "" {
			s += " (" + w.Source.Text + ")"
		}
		warned = append(warned, s)
	}
	return new(object).text("key", c.Key).text("title", c.Title).text("about", c.About).text("formula", c.Formula).text("check", c.Check).
		text("source", sourceWords(c.Source, false)).texts("cautions", warned).text("svg", string(report.CalculatorFigure(c.Figure))).
		objects("inputs", columns(c.Inputs)).objects("outputs", columns(c.Outputs)).texts("example", c.ExampleCells(a.ev.Decimal())).
		text("header", c.HeaderBlock(inch)).end()
}

func calcProblem(p *sheet.Problem) *object {
	return new(object).int("row", p.Row).int("col", p.Col).text("column", p.Column).text("severity", p.Severity.String()).text("text", p.Text).text("hint", p.Hint)
}

// opCalcRow works the form out: key and cells.
func opCalcRow(a *app, in *arguments) raw {
	c, cells := sheet.FindCalculator(in.text()), cellsOf(in.text())
	if c == nil {
		return failure("There is no such calculator.")
	}
	set := a.calcSettings()
	r := c.Row(cells, set)
	meanings := make([]string, len(c.Inputs))
	for i := range meanings {
		if i < len(cells) {
			meanings[i] = c.Inputs[i].Meaning(cells[i], set.Inch, set.Decimal)
		}
	}
	var list []*object
	for i := range r.Problems {
		list = append(list, calcProblem(&r.Problems[i]))
	}
	return new(object).yes("blank", r.Blank).texts("outputs", r.Texts).texts("meanings", meanings).objects("problems", list).end()
}

// calcBatch works a pasted text out. What the form holds stands for blank cells.
func (a *app) calcBatch(in *arguments) *sheet.CalcBatch {
	c, common, text := sheet.FindCalculator(in.text()), cellsOf(in.text()), in.text()
	if c == nil || strings.TrimSpace(text) == "" {
		return nil
	}
	set := a.calcSettings()
	set.Common = common
	return c.Batch(&sheet.Table{Name: "Pasted", Rows: grid.ParseBlock(text), FirstRow: 1}, set)
}

// calcShown is how many rows of a batch the screen shows; all of them are copied and saved.
const calcShown = 300

func opCalcBatch(a *app, in *arguments) raw {
	b := a.calcBatch(in)
	if b == nil {
		return new(object).int("total", 0).end()
	}
	var rows, problems []*object
	done, bad := 0, 0
	note := func(list []sheet.Problem) {
		for i := range list {
			if len(problems) < calcShown {
				problems = append(problems, calcProblem(&list[i]))
			}
		}
	}
	note(b.Problems)
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Blank && len(r.Problems) == 0 {
			continue
		}
		if r.OK() {
			done++
		} else {
			bad++
		}
		note(r.Problems)
		if len(rows) < calcShown {
			cells := b.ResultRow(i)
			rows = append(rows, new(object).int("row", r.Row).yes("ok", r.OK()).texts("cells", cells))
		}
	}
	return new(object).int("total", done+bad).int("done", done).int("bad", bad).int("typed", len(b.Bound)).texts("header", b.HeaderRow()).
		objects("rows", rows).objects("problems", problems).end()
}

// opCalcText is the whole batch for the clipboard and as a CSV file.
func opCalcText(a *app, in *arguments) raw {
	b := a.calcBatch(in)
	if b == nil {
		return failure("There is nothing to copy yet: paste rows first.")
	}
	var rows [][]string
	for i := range b.Rows {
		rows = append(rows, b.ResultRow(i))
	}
	return a.given(b.HeaderRow(), rows)
}
