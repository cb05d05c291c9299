package results

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// demoTimes is the demo job with every machine in it many times, under names of its own on every sheet.
func demoTimes(t *testing.T, times int) *job.Job {
	j := job.NewJob()
	for _, k := range job.SheetKinds() {
		name := k.Key()
		if k == job.SettingsSheet {
			name = "job"
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		list, _, err := job.ReadDelimited(k.String(), data, 0)
		if err != nil || !list.SplitHeader(k) {
			t.Fatal(k, err)
		}
		named := map[int]bool{}
		for c, h := range list.Header {
			if info := job.FindColumn(k, h); info != nil && slices.Contains([]string{"machine", "stationary", "train"}, info.Key) {
				named[c] = true
			}
		}
		if len(named) > 0 {
			rows := list.Rows
			list.Rows = nil
			for n := range times {
				for _, row := range rows {
					row = slices.Clone(row)
					for c := range row {
						if named[c] && row[c] != "" {
							row[c] += fmt.Sprint(" no ", n)
						}
					}
					list.Rows = append(list.Rows, row)
				}
			}
		}
		j.SetTable(k, list)
	}
	return j
}

// A job is worked out and written to the same bytes on one core and on many, with every sheet in it; the race detector is run over this test by hand.
func TestCoresAgree(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	text := func(cores int) []byte {
		runtime.GOMAXPROCS(cores)
		e := sentences.New(demoTimes(t, 12))
		e.Job().ID = ""
		if err := e.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := WriteJSON(&b, e); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	one, four := text(1), text(4)
	if !bytes.Equal(one, four) {
		i := 0
		for one[i] == four[i] {
			i++
		}
		t.Errorf("%d and %d bytes, which part at %d:\n%s\n%s", len(one), len(four), i, one[max(i-300, 0):min(i+100, len(one))], four[max(i-300, 0):min(i+100, len(four))])
	}
	if n := bytes.Count(one, []byte(`{"machine":`)); n < 250 {
		t.Errorf("only %d machines", n)
	}
}

// Rows with and without a coupling stand in one list with commas between them, whichever piece they are in, and nothing else.
func TestPiecesJoin(t *testing.T) {
	for _, n := range []int{0, 1, 63, 64, 65, 128, 1024, 1025} {
		for _, blank := range []func(i int) bool{func(int) bool { return false }, func(int) bool { return true }, func(i int) bool { return i < 64 }, func(i int) bool { return i >= 64 && i < 128 }, func(i int) bool { return i%3 > 0 }} {
			j := manyRows(n)
			want := 0
			for i := range j.Machines.Rows {
				if blank(i) {
					clear(j.Machines.Rows[i])
				} else {
					want++
				}
			}
			var b bytes.Buffer
			if err := WriteJSON(&b, sentences.New(j)); err != nil {
				t.Fatal(err)
			}
			_, list, _ := bytes.Cut(b.Bytes(), []byte(`"machines":[`))
			list, _, _ = bytes.Cut(list, []byte(`],"trains":`))
			if got := bytes.Count(list, []byte("\n")) + min(want, 1); got != want || bytes.HasPrefix(list, []byte(",")) || bytes.HasSuffix(list, []byte(",\n")) || bytes.Count(list, []byte(`{"machine":`)) != want || bytes.Count(list, []byte("},\n{")) != max(want-1, 0) {
				t.Errorf("%d rows, %d with a coupling: %d lines of %.200s", n, want, got, list)
			}
		}
	}
}
