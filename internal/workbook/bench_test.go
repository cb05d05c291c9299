package workbook

import (
	"fmt"
	"testing"

	"shimsheet/internal/job"
)

// tenThousand is a job of 10,000 couplings in 40 columns.
func tenThousand(t testing.TB) *job.Job {
	t.Helper()
	m := newMaker(9, false, heads(sweepHeads("Movable rim", ""), sweepHeads("Stationary rim", ""), []string{"Coupling to stationary plane", "Coupling to movable plane", "Movable sag at 6", "Stationary sag at 6", "Side at 3", "Side at 9", "Train", "Note", "Stationary", "Front room up", "Rear room up"})...)
	if len(m.head) != 40 {
		t.Fatalf("%d columns", len(m.head))
	}
	for i := range 10_000 {
		m.start(fmt.Sprintf("Area %d, pump %d motor", i/100, i))
		m.text("method", "reverse indicator")
		m.common(i)
		m.text("note", "as found")
		m.text("train", fmt.Sprintf("T-%d", i/2))
		m.text("stationary", fmt.Sprintf("pump %d", i))
		m.text("side_3", "north")
		m.text("side_9", "south")
		m.dist("coupling_to_movable_plane", 100)
		m.dist("coupling_to_stationary_plane", 90)
		m.small("movable_sag_6", -0.04)
		m.small("stationary_sag_6", -0.04)
		v, h := 0.2*m.r.NormFloat64(), 0.2*m.r.NormFloat64()
		m.sweep("movable_rim", v, h, -0.04)
		m.sweep("stationary_rim", -v, -h, -0.04)
		for c, s := range m.rows[i] {
			if s == "" && c > 0 && i%2 == 0 { // half the rows full
				m.rows[i][c] = "0.10"
			}
		}
	}
	j := job.NewJob()
	j.Machines = &job.Table{Name: "Machines", Header: m.head, Rows: m.rows, FirstRow: 2}
	return j
}

func BenchmarkRead10k40(b *testing.B) {
	// What a person's workbook holds: the list, without results.
	j := tenThousand(b)
	bk := inputsOnly(b, j)
	b.SetBytes(int64(len(bk)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Read(bk, "x.xlsx", nil); err != nil {
			b.Fatal(err)
		}
	}
}

// inputsOnly writes the Machines sheet alone, as the workbook of a person has it.
func inputsOnly(t testing.TB, j *job.Job) []byte {
	t.Helper()
	j.Machines.File = ""
	out, err := WriteInputs(j, work(t, j))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// A workbook with the results too, which are checked but not read.
func BenchmarkReadOwn10k40(b *testing.B) {
	data := write(b, tenThousand(b), Options{})
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := Read(data, "x.xlsx", nil); err != nil {
			b.Fatal(err)
		}
	}
}

func benchWrite(b *testing.B, live bool) {
	j := tenThousand(b)
	e := work(b, j)
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		out, err := Write(j, e, Options{Live: live})
		if err != nil {
			b.Fatal(err)
		}
		n = len(out)
	}
	b.ReportMetric(float64(n), "file-bytes")
}

// The whole export: inputs, results with 55 columns, pick list, order list.
func BenchmarkWrite10k40(b *testing.B)     { benchWrite(b, false) }
func BenchmarkWriteLive10k40(b *testing.B) { benchWrite(b, true) }

// The inputs alone, 10,000 rows of 40 columns.
func BenchmarkWriteInputs10k40(b *testing.B) {
	j := tenThousand(b)
	e := work(b, j)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := WriteInputs(j, e); err != nil {
			b.Fatal(err)
		}
	}
}
