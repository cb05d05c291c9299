//go:build js && wasm

package main

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/report"
)

// info of a column of the sheet shown; on the Job sheet that of the setting in the row.
func (a *app) columnAt(row, c int) *job.ColumnInfo {
	g := a.grid()
	if c < 0 || c >= len(g.Header()) {
		return nil
	}
	if a.kind == job.SettingsSheet {
		if c == 0 {
			return nil
		}
		return job.FindColumn(a.kind, g.Cell(row, 0))
	}
	return job.FindColumn(a.kind, g.Header()[c])
}

// choices are the words offered for a cell of a stored row: those of its column, names of limit sets, and of machines where a sheet speaks of
// them. closed says that the column takes no others.
func (a *app) choices(row, c int) (list []string, closed bool) {
	info := a.columnAt(row, c)
	if info == nil {
		return nil, false
	}
	switch {
	case len(info.Choices) > 0:
		return info.Choices, true
	case info.Key == "limits":
		var out []string
		for _, s := range a.ev.LimitSets() {
			out = append(out, s.Name)
		}
		return out, false
	case info.Key == "foot" && a.kind == job.FeetSheet:
		return footNames, false
	case info.Key == "material" && a.kind == job.GrowthSheet:
		return a.ev.MaterialNames(), false
	case info.Key == "machine" || strings.HasSuffix(info.Key, "_machine"):
		if a.kind != job.MachinesSheet {
			return a.machineNames(500), false
		}
	case info.Key == "side_3" || info.Key == "side_9":
		return a.sides(), false
	}
	return nil, false
}

// sides are the names of sides that the job's machines have already.
func (a *app) sides() []string {
	var out []string
	for c, h := range a.job.Machines.Header {
		info := job.FindColumn(job.MachinesSheet, h)
		if info == nil || info.Key != "side_3" && info.Key != "side_9" {
			continue
		}
		for i := range min(len(a.job.Machines.Rows), 2000) {
			if s := strings.TrimSpace(a.job.Machines.Cell(i, c)); s != "" && !slices.Contains(out, s) {
				if out = append(out, s); len(out) == 40 {
					return out
				}
			}
		}
	}
	return out
}

// machineNames are the names of the couplings in the order of their rows, at most n.
func (a *app) machineNames(n int) []string {
	var out []string
	if a.machine < 0 || a.job.Machines == nil {
		return out
	}
	for i := range a.job.Machines.Rows {
		if s := strings.TrimSpace(a.job.Machines.Cell(i, a.machine)); s != "" && !slices.Contains(out, s) {
			if out = append(out, s); len(out) == n {
				break
			}
		}
	}
	return out
}

// opTry tells what a text would mean in a cell, and what its row would come to, without putting it there.
func opTry(a *app, in *arguments) raw {
	row, x, text := a.grid().Stored(in.int()), in.int(), in.text()
	out := new(object)
	c := a.grid().Column(x)
	info := a.columnAt(row, c)
	switch {
	case c < 0, info != nil && len(info.Choices) > 0: // the list of words shows it
	case a.kind == job.MachinesSheet:
		out.text("meaning", a.ev.MeaningOf(c, text))
	case a.kind == job.SettingsSheet:
		out.text("meaning", a.ev.MeaningIn(a.kind, a.grid().Cell(row, 0), text))
	default:
		out.text("meaning", a.ev.MeaningIn(a.kind, a.grid().Header()[c], text))
	}
	if width := in.int(); width > 0 && a.kind == job.MachinesSheet && c >= 0 && c != a.machine {
		a.as(row, c, text, func(row int) {
			r := a.ev.Row(row)
			out.text("verdict", string(verdictMark(r.Verdict))).text("svg", string(report.Machine(nil, a.ev, row, report.Options{Width: float64(width), Prefix: "machine"})))
		})
	}
	return out.end()
}

// as does something with a row as it would be with another text in one cell. Nothing is left of that afterwards.
func (a *app) as(row, c int, text string, do func(row int)) {
	rows := a.job.Machines.Rows
	if row < 0 || row >= len(rows) {
		return
	}
	old := rows[row]
	tried := make([]string, max(len(old), c+1))
	copy(tried, old)
	tried[c] = text
	a.ev.Try(row, tried, func() { do(row) })
}

// briefly is a problem beside the field it stands in: a long hint is among the notes.
func briefly(p *job.Problem) string {
	if p.Hint == "" || len(p.Hint) > 100 {
		return p.Text
	}
	return p.Text + "; " + p.Hint
}
