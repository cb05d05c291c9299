package journal

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
)

func jsonOf(t *testing.T, j *job.Job) string {
	t.Helper()
	b, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// A replica is a job from the first whole copy of another, and the records after it.
func replica(t *testing.T, base string, records []string) *job.Job {
	t.Helper()
	j := new(job.Job)
	if err := j.Open(base); err != nil {
		t.Fatal(err)
	}
	for i, r := range records {
		if err := Apply(j, r); err != nil {
			t.Fatalf("record %d: %v", i, err)
		}
	}
	return j
}

func machines(rows int) *job.Table {
	t := &job.Table{Name: "Machines", FirstRow: 2, Header: []string{"Machine", "Speed", "Movable rim 3", "Note"}}
	for i := range rows {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("Pump %d", i+1), "1480", fmt.Sprint(i % 7), "row"}[:2+i%3])
	}
	return t
}

var texts = []string{"", "1480", "0,35", "a\x1fb", "a\x1e", "\x1b", "line\nline", "</script>", "ä€😀", " ", "\ufffd", "\""}

// edit does one of the things that change a sheet, by the same model as the page.
func edit(r *rand.Rand, g *grid.Model) {
	g.Go(grid.Pos{Row: r.IntN(g.Height()), Col: r.IntN(g.Columns())}, false)
	if r.IntN(3) == 0 {
		g.Go(grid.Pos{Row: g.Cursor().Row + r.IntN(4), Col: g.Cursor().Col + r.IntN(2)}, true)
	}
	word := func() string { return texts[r.IntN(len(texts))] }
	switch r.IntN(13) {
	case 0, 1, 2, 3:
		g.Begin()
		g.Commit(word(), 1, 0)
	case 4:
		g.Delete()
	case 5:
		g.InsertRows()
	case 6:
		g.DeleteRows()
	case 7:
		g.FillDown()
	case 8:
		g.MoveRows(1 - 2*r.IntN(2))
	case 9:
		g.Undo()
	case 10:
		g.Redo()
	case 11:
		g.DuplicateRows()
	case 12:
		if r.IntN(3) == 0 {
			g.AddColumn(r.IntN(len(g.Header())+1)-1, "Own "+word())
		} else {
			g.PasteText("Machine\tSpeed\nPump 3\t"+word()+"\nPump new\t7\n", grid.Meaning{Arrange: func(rows [][]string) ([][]string, []string, [][]string, bool) { return nil, rows[0], rows[1:], true }, Match: func(h []string, n string) int {
				for c := range h {
					if h[c] == n {
						return c
					}
				}
				return -1
			}})
		}
	}
}

// Whatever is done, the last whole copy and the records after it give the same job, byte for byte.
func TestReplayIsExact(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 12))
		j := job.NewJob()
		j.Machines = machines(1 + r.IntN(30))
		base := jsonOf(t, j)
		o := New(j)
		g := grid.New(j.Machines.Title, j.Machines.Header, j.Machines.Rows)
		var records []string
		for step := range 60 {
			switch r.IntN(12) {
			case 0:
				j.Views = map[string]string{"machines": fmt.Sprint("view1;W", r.IntN(9), ",x;")}
			case 1:
				j.Views = nil
			case 2:
				j.Saved(fmt.Sprint("2026-11-29T10:00:", step))
			case 3:
				j.Stock = &job.Table{Name: "Stock", Header: []string{"Thickness"}, Title: [][]string{{"of", "us"}, {}}, Rows: [][]string{{}, {texts[r.IntN(len(texts))]}}}
			case 4:
				j.Stock = nil
			default:
				edit(r, g)
				j.Machines.Title, j.Machines.Header, j.Machines.Rows = g.Title(), g.Header(), g.Rows()
			}
			if rec := o.Next(j); rec != "" {
				records = append(records, rec)
			}
			if again := o.Next(j); again != "" {
				t.Fatalf("seed %d step %d: a second look found more: %q", seed, step, again)
			}
			if r.IntN(15) == 0 { // a whole copy now and then
				base, records = jsonOf(t, j), nil
				o = New(j)
			}
		}
		if got, want := jsonOf(t, replica(t, base, records)), jsonOf(t, j); got != want {
			t.Fatalf("seed %d: replayed\n%s\nwanted\n%s", seed, got, want)
		}
	}
}

// A cell among ten thousand rows is a record of its row and no more.
func TestRecordIsSmall(t *testing.T) {
	j := job.NewJob()
	j.Machines = machines(10_000)
	o := New(j)
	g := grid.New(nil, j.Machines.Header, j.Machines.Rows)
	g.Go(grid.Pos{Row: 7000, Col: 1}, false)
	g.Begin()
	g.Commit("990", 1, 0)
	j.Machines.Rows = g.Rows()
	if rec := o.Next(j); len(rec) == 0 || len(rec) > 120 {
		t.Fatalf("the record has %d bytes: %q", len(rec), rec)
	}
}

func TestApplyRefuses(t *testing.T) {
	j := job.NewJob()
	j.Machines = machines(3)
	o := New(j)
	base := jsonOf(t, j)
	j.Machines.Rows[1] = []string{"Fan"}
	rec := o.Next(j)
	if err := Apply(replica(t, base, nil), rec); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"", rec[:len(rec)-1], rec[:len(rec)/2], strings.Replace(rec, "1", "2", 1), strings.Replace(rec, "cut", "cat", 1), strings.Replace(rec, "machines\x1f1", "machines\x1f9", 1), rec + rec,
		string(job.AppendPacked(nil, [][]string{{"change", "1"}, {"cut", "machines", "0", "1", "-4"}, {"end", "2"}}))} {
		if err := Apply(replica(t, base, nil), bad); err == nil {
			t.Errorf("taken: %q", bad)
		}
	}
}

func TestCompare(t *testing.T) {
	whole := func(change func(m *job.Table)) *job.Job {
		j := job.NewJob()
		j.Machines = machines(40)
		change(j.Machines)
		return j
	}
	same := func(*job.Table) {}
	for _, c := range []struct {
		name                         string
		b                            func(m *job.Table)
		changed, cells, onlyA, onlyB int
	}{
		{"the same", same, 0, 0, 0, 0},
		{"a cell", func(m *job.Table) { m.Rows[7] = []string{"Pump 8", "990", "0"} }, 1, 1, 0, 0},
		{"a row above all", func(m *job.Table) { m.Rows = append([][]string{{"New", "1"}}, m.Rows...) }, 0, 0, 0, 1},
		{"a row put in and a cell below it", func(m *job.Table) {
			m.Rows[30] = []string{"Pump 31", "1"}
			m.Rows = append(m.Rows[:5:5], append([][]string{{"New", "1"}}, m.Rows[5:]...)...)
		}, 1, 1, 0, 1},
		{"a row taken out", func(m *job.Table) { m.Rows = append(m.Rows[:5:5], m.Rows[6:]...) }, 0, 0, 1, 0},
		{"columns in another order", func(m *job.Table) {
			m.Header = []string{"Speed", "Machine", "Movable rim 3", "Note"}
			for i, r := range m.Rows {
				r = append([]string{}, r...)
				r[0], r[1] = r[1], r[0]
				m.Rows[i] = r
			}
		}, 0, 0, 0, 0},
		{"a column more", func(m *job.Table) {
			m.Header = append(m.Header, "Crew")
			m.Rows[3] = []string{"Pump 4", "1480", "", "", "night"}
		}, 1, 1, 0, 0},
		{"blank rows", func(m *job.Table) { m.Rows = append(m.Rows, []string{"", ""}, nil) }, 0, 0, 0, 0},
		{"everything else", func(m *job.Table) { m.Rows = [][]string{{"Fan", "3000"}} }, 0, 0, 40, 1},
	} {
		d := Compare(whole(same), whole(c.b), 100)
		if d.Changed != c.changed || d.Cells != c.cells || d.OnlyA != c.onlyA || d.OnlyB != c.onlyB || d.Any() != (c.changed+c.onlyA+c.onlyB > 0) {
			t.Errorf("%s: %d rows changed, %d cells, %d only before, %d only after: %+v", c.name, d.Changed, d.Cells, d.OnlyA, d.OnlyB, d.List)
		}
		if c.name == "a cell" && (len(d.List) != 1 || d.List[0] != Difference{Sheet: job.MachinesSheet, RowA: 9, RowB: 9, Name: "Pump 8", Column: "Speed", A: "1480", B: "990"}) {
			t.Errorf("%+v", d.List)
		}
	}
}
