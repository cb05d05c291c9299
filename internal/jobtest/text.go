package jobtest

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// Text makes a job of lines, so that a case of a table is two or three of them:
//
//	Machines: Machine=Motor | Speed=1480      a row of a sheet, by its columns; columns come as they are first named
//	2: Speed=990 | Side at 3                  a change of a row of the Machines sheet, as a spreadsheet counts: without = the cell is blank
//	3 of 2: Machine=Fan                       one more row of the Machines sheet, number 3, like another but for this
//	Job: Move step=0.05                       a setting
func Text(t testing.TB, lines ...string) *job.Job {
	t.Helper()
	job.LoadColumns()
	j := job.NewJob()
	kinds := map[string]job.SheetKind{}
	for _, k := range job.SheetOrder {
		kinds[k.String()] = k
	}
	set := func(tab *job.Table, row int, cells string) {
		for _, c := range strings.Split(cells, " | ") {
			h, v, _ := strings.Cut(c, "=")
			if h = strings.TrimSpace(h); h == "" {
				continue
			}
			at := slices.Index(tab.Header, h)
			if at < 0 {
				at = len(tab.Header)
				tab.Header = append(tab.Header, h)
			}
			for len(tab.Rows[row]) <= at {
				tab.Rows[row] = append(tab.Rows[row], "")
			}
			tab.Rows[row][at] = v
		}
	}
	table := func(k job.SheetKind) *job.Table {
		tab := j.Table(k)
		if tab == nil || tab.Header == nil {
			tab = &job.Table{Name: k.String(), FirstRow: 2}
			j.SetTable(k, tab)
		}
		return tab
	}
	for _, line := range lines {
		head, cells, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("no line of a job: %q", line)
		}
		cells = strings.TrimSpace(cells)
		switch k, sheet := kinds[head]; {
		case head == "Job":
			tab := table(job.SettingsSheet)
			tab.Header = []string{"Name", "Value"}
			h, v, _ := strings.Cut(cells, "=")
			tab.Rows = append(tab.Rows, []string{h, v})
		case sheet:
			tab := table(k)
			tab.Rows = append(tab.Rows, nil)
			set(tab, len(tab.Rows)-1, cells)
		default:
			tab := table(job.MachinesSheet)
			to, from, like := strings.Cut(head, " of ")
			n, err := strconv.Atoi(to)
			if err != nil {
				t.Fatalf("no line of a job: %q", line)
			}
			if like {
				m, err := strconv.Atoi(from)
				if err != nil || n != len(tab.Rows)+2 {
					t.Fatalf("no line of a job: %q", line)
				}
				tab.Rows = append(tab.Rows, slices.Clone(tab.Rows[m-2]))
			}
			set(tab, n-2, cells)
		}
	}
	for _, k := range job.SheetOrder { // rows as long as their header
		if tab := j.Table(k); tab != nil {
			for i := range tab.Rows {
				for len(tab.Rows[i]) < len(tab.Header) {
					tab.Rows[i] = append(tab.Rows[i], "")
				}
			}
		}
	}
	return j
}

// Plus is some lines and more.
func Plus(base []string, more ...string) []string { return append(slices.Clone(base), more...) }
