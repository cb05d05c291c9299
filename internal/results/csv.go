package results

import (
	"io"
	"math"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
)

// WriteCSV writes the Machines sheet with its results behind it, as UTF-8: the title lines, the header, every row as typed in its
// place, and numbers with every digit in the job's unit, each ± in a column of its own. Columns of results that were typed are left out, as the new ones take their place. With the
// decimal comma cells are parted by semicolons. See [job.AppendCSVRow] for cells that begin like a formula.
func WriteCSV(w io.Writer, e *sentences.Teller) error {
	defer e.AsJob()()
	t := e.Job().Machines
	sep := byte(',')
	if e.Decimal() == units.Comma {
		sep = ';'
	}
	var b []byte
	for _, row := range t.Title {
		b = job.AppendCSVRow(b, row, sep)
	}
	keep := make([]int, 0, t.Width())
	for col := range t.Width() {
		if c := e.ColumnOf(col); c == nil || !c.Result {
			keep = append(keep, col)
		}
	}
	cells := make([]string, 0, len(keep)+64)
	for _, col := range keep {
		h := ""
		if col < len(t.Header) {
			h = t.Header[col]
		}
		cells = append(cells, h)
	}
	for c := job.ResultVerdict; c < job.EndResults; c++ {
		name := c.Info().Name
		if u := c.Info().Unit(e.Inch()); u != units.None {
			name += " [" + u.String() + "]"
		}
		cells = append(cells, name)
		if job.PlusMinus(c) {
			cells = append(cells, "± "+name)
		}
	}
	b = job.AppendCSVRow(b, cells, sep)
	var line []byte
	var ends []int
	for i, row := range t.Rows {
		cells = cells[:0]
		for _, col := range keep {
			if col < len(row) {
				cells = append(cells, row[col])
			} else {
				cells = append(cells, "")
			}
		}
		if r := e.Row(i); r.Kind == evaluate.MachineRow {
			line, ends = line[:0], ends[:0]
			for c := job.ResultVerdict; c < job.EndResults; c++ {
				line = appendResult(line, e, r, c, true)
				ends = append(ends, len(line))
				if job.PlusMinus(c) {
					if _, u, _ := Number(r, c); !math.IsNaN(u) {
						line = evaluate.AppendNumber(line, u, c.Info().Unit(e.Inch()), -1, e.Decimal())
					}
					ends = append(ends, len(line))
				}
			}
			all, from := string(line), 0
			for _, to := range ends {
				cells = append(cells, all[from:to])
				from = to
			}
		} else {
			for range len(ends) {
				cells = append(cells, "")
			}
		}
		b = job.AppendCSVRow(b, cells, sep)
		if len(b) > 1<<16 {
			if _, err := w.Write(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	_, err := w.Write(b)
	return err
}
