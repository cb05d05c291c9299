package evaluate

import (
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// A row of the Job sheet about a header is no unknown setting; one that leads to no column is told of and not used.
func TestOwnHeaders(t *testing.T) {
	j := job.NewJob()
	j.Settings = &job.Table{Header: []string{"Name", "Value"}, FirstRow: 2, Rows: [][]string{
		{"Header of Machines: DE 12", "Movable rim 12 [mil]"}, {"header of stock: thk", "Thickness"}, {"Header of Machines: de  12", "Face 12"},
		{"Header of Machines: Bad", "No such column"}, {"Header of Machines: Res", "Verdict"}, {"Header of Nothing: x", "Machine"}, {"Header of Machines:", "Machine"}}}
	got := OwnHeaders(j.Settings)
	if len(got) != 2 || got[0] != (OwnHeader{job.MachinesSheet, "DE 12", "Movable rim 12 [mil]"}) || got[1] != (OwnHeader{job.StockSheet, "thk", "Thickness"}) {
		t.Errorf("%+v", got)
	}
	var told []string
	for _, p := range NewEvaluator(j).Problems() {
		told = append(told, p.Text.String())
	}
	if all := strings.Join(told, "\n"); len(told) != 4 || !strings.Contains(all, `"No such column" is no column of the sheet Machines`) || !strings.Contains(all, `"Verdict" is no column`) ||
		!strings.Contains(all, `"Header of Nothing: x" is no setting`) || !strings.Contains(all, `"Header of Machines:" is no setting`) {
		t.Errorf("told: %s", all)
	}
	if s := job.SweepsOf("Rim & Face"); strings.Join(s, " ") != "movable_rim stationary_rim face stationary_face" || job.SweepsOf("line") != nil || job.SweepsOf("?") != nil {
		t.Error(s)
	}
}
