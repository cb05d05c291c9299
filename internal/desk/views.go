package desk

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/report"
)

// info of a column of the sheet shown; on the Job sheet that of the setting in the row.
func (d *Desk) columnAt(row, c int) *job.ColumnInfo {
	g := d.grid()
	if c < 0 || c >= len(g.Header()) {
		return nil
	}
	if d.kind == job.SettingsSheet {
		if c == 0 {
			return nil
		}
		return job.FindColumn(d.kind, g.Cell(row, 0))
	}
	return job.FindColumn(d.kind, g.Header()[c])
}

// choices are the words offered for a cell of a stored row: those of its column, names of limit sets, and of machines where a sheet speaks of
// them. closed says that the column takes no others.
func (d *Desk) choices(row, c int) (list []string, closed bool) {
	info := d.columnAt(row, c)
	if info == nil {
		return nil, false
	}
	switch {
	case len(info.Choices) > 0:
		return info.Choices, true
	case info.Key == "limits":
		var out []string
		for _, s := range d.ev.LimitSets() {
			out = append(out, s.Name)
		}
		return out, false
	case info.Key == "foot" && d.kind == job.FeetSheet:
		return footNames, false
	case info.Key == "material" && d.kind == job.GrowthSheet:
		return d.ev.MaterialNames(), false
	case info.Key == "machine" || strings.HasSuffix(info.Key, "_machine"):
		if d.kind != job.MachinesSheet {
			return d.machineNames(500), false
		}
	case info.Key == "side_3" || info.Key == "side_9":
		return d.sides(), false
	}
	return nil, false
}

// sides are the names of sides that the job's machines have already.
func (d *Desk) sides() []string {
	var out []string
	for c, h := range d.job.Machines.Header {
		info := job.FindColumn(job.MachinesSheet, h)
		if info == nil || info.Key != "side_3" && info.Key != "side_9" {
			continue
		}
		for i := range min(len(d.job.Machines.Rows), 2000) {
			if s := strings.TrimSpace(d.job.Machines.Cell(i, c)); s != "" && !slices.Contains(out, s) {
				if out = append(out, s); len(out) == 40 {
					return out
				}
			}
		}
	}
	return out
}

// machineNames are the names of the couplings in the order of their rows, at most n.
func (d *Desk) machineNames(n int) []string {
	var out []string
	if d.machine < 0 || d.job.Machines == nil {
		return out
	}
	for i := range d.job.Machines.Rows {
		if s := strings.TrimSpace(d.job.Machines.Cell(i, d.machine)); s != "" && !slices.Contains(out, s) {
			if out = append(out, s); len(out) == n {
				break
			}
		}
	}
	return out
}

// opTry tells what a text would mean in a cell, and what its row would come to, without putting it there.
func opTry(d *Desk, in *arguments) raw {
	row, x, text := d.grid().Stored(in.int()), in.int(), in.text()
	out := new(object)
	c := d.grid().Column(x)
	info := d.columnAt(row, c)
	switch {
	case c < 0, info != nil && len(info.Choices) > 0: // the list of words shows it
	case d.kind == job.MachinesSheet:
		out.text("meaning", d.ev.MeaningOf(c, text))
	case d.kind == job.SettingsSheet:
		out.text("meaning", d.ev.MeaningIn(d.kind, d.grid().Cell(row, 0), text))
	default:
		out.text("meaning", d.ev.MeaningIn(d.kind, d.grid().Header()[c], text))
	}
	if width := in.int(); width > 0 && d.kind == job.MachinesSheet && c >= 0 && c != d.machine {
		d.as(row, c, text, func(row int) {
			r := d.ev.Row(row)
			out.text("verdict", string(verdictMark(r.Verdict))).text("svg", string(report.Machine(nil, d.ev, row, report.Options{Width: float64(width), Prefix: "machine"})))
		})
	}
	return out.end()
}

// as does something with a row as it would be with another text in one cell. Nothing is left of that afterwards.
func (d *Desk) as(row, c int, text string, do func(row int)) {
	rows := d.job.Machines.Rows
	if row < 0 || row >= len(rows) {
		return
	}
	old := rows[row]
	tried := make([]string, max(len(old), c+1))
	copy(tried, old)
	tried[c] = text
	d.ev.Try(row, tried, func() { do(row) })
}
