package workbook

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/pictures"
)

// A photo that fills a cell to its last character goes round through a workbook and through JSON without losing one; a text that no cell of a workbook holds is refused and not cut.
func TestPhotoRoundTrip(t *testing.T) {
	photo := "data:image/jpeg;base64," + strings.Repeat("/9j/4AAQ", (pictures.MostText-23)/8)
	photo += strings.Repeat("A", pictures.MostText-len(photo))
	j := job.NewJob()
	j.Machines = &job.Table{Name: "Machines", Header: []string{"Machine", "Speed"}, Rows: [][]string{{"P 1", "1480"}}, FirstRow: 2}
	j.SetTable(job.RecordSheet, &job.Table{Name: "Record", Header: []string{"Machine", "Photo", "Note"}, Rows: [][]string{{"P 1", photo, "the coupling"}}, FirstRow: 2})
	same := func(what string, got *job.Job) {
		t.Helper()
		if g := got.Record; g == nil || len(g.Rows) != 1 || g.Rows[0][1] != photo || g.Rows[0][2] != "the coupling" {
			t.Errorf("%s: the photo is not what it was", what)
		}
	}
	data := write(t, j, Options{})
	back, _ := mustRead(t, data, "job.xlsx", nil)
	same("workbook", back)
	text, err := back.Seal()
	if err != nil {
		t.Fatal(err)
	}
	again := new(job.Job)
	if sealed, err := again.OpenChecked(string(text)); err != nil || !sealed {
		t.Fatal(sealed, err)
	}
	same("JSON", again)
	added, err := AddTo(data, again, work(t, again), Options{})
	if err != nil || len(added) == 0 {
		t.Error("the results cannot be added to the workbook:", err)
	}
	j.Record.Rows[0][1] += "A"
	if _, err := Write(j, work(t, j), Options{}); err == nil || !strings.Contains(err.Error(), "a cell of a workbook holds 32767") {
		t.Errorf("a text of %d characters: %v", len(j.Record.Rows[0][1]), err)
	}
}
