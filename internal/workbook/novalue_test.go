package workbook

import (
	"strings"
	"testing"

	"shimsheet/internal/units"
)

// A formula without a stored value is taken as its text, in a job with a decimal comma with commas for its points. The other cells of its row stay as they are.
// Seen: a machine named P.101 was P,101 where a formula stood in its row.
func TestFormulaLeavesItsRow(t *testing.T) {
	part := `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>P.101</t></is></c><c r="B1"><v>0.25</v></c><c r="C1"><f>310.250*2</f></c><c r="D1" t="inlineStr"><is><t>v. 2</t></is></c></row></sheetData></worksheet>`
	for mark, want := range map[units.Decimal]string{units.Comma: "P.101|0,25|=310,250*2|v. 2", units.Point: "P.101|0.25|=310.250*2|v. 2"} {
		g, err := (&sheetReader{mark: mark}).read("xl/worksheets/sheet1.xml", "List", []byte(part))
		if err != nil || len(g.rows) != 1 {
			t.Fatal(err)
		}
		if got := strings.Join(g.rows[0], "|"); got != want {
			t.Errorf("%v: %s, want %s", mark, got, want)
		}
		if len(g.noValue) != 1 || g.noValue[0] != (spot{0, 2}) {
			t.Error(g.noValue)
		}
	}
}
