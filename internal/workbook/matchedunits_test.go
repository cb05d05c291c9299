package workbook

import (
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/headers"
)

// Seen: columns that a person names in the dialog of a file were read in the job's unit, whatever the title above the list, or the row below its header, says of their readings.
func TestUnitsOfChosenColumns(t *testing.T) {
	const row = "P 1,1480,0,5,12,7\n"
	for text, want := range map[string]string{
		"Machine,Speed,T,R,B,L\n" + row:                                "Machine,Speed,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9",
		"All readings in mil,,,,,\nMachine,Speed,T,R,B,L\n" + row:      "Machine,Speed,Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 9 [mil]",
		"Machine,Speed,T,R,B,L\n,rpm,mil,mil,mil,mil\n" + row:          "Machine,Speed [rpm],Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 9 [mil]",
		"Machine,Speed,T,R,B,L\n,rpm,µm,µm,µm,µm\n" + row + "\n" + row: "Machine,Speed [rpm],Movable rim 12 [µm],Movable rim 3 [µm],Movable rim 6 [µm],Movable rim 9 [µm]",
	} {
		r := Reader{}
		_, found, err := r.Read([]byte(text), "list.csv", nil)
		if err != nil {
			t.Fatal(err)
		}
		var choice SheetChoice
		choice.Sheet = found.Sheets[0].Name
		for _, c := range found.Sheets[0].Columns {
			if key := map[string]string{"T": "movable_rim_12", "R": "movable_rim_3", "B": "movable_rim_6", "L": "movable_rim_9"}[strings.Fields(c.Header)[0]]; key != "" {
				choice.Columns = append(choice.Columns, ColumnChoice{Col: c.Col, Key: key, Unit: c.GuessUnit})
			}
		}
		j, _, err := r.Read([]byte(text), "list.csv", &Choices{Sheets: []SheetChoice{choice}})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(j.Machines.Header, ","); got != want || j.Machines.Rows[0][5] != "7" {
			t.Errorf("%q:\n%s\n%s\n%q", text, got, want, j.Machines.Rows)
		}
		if _, ok := evaluate.ParseOwnHeader("Header of Machines: T", headers.Means(0, "movable_rim_12", "")); !ok {
			t.Fatal("no own header")
		}
	}
}

// The preview says of each unit where it is from, also once a person has named the columns. Seen: "as the header says", or "as chosen", of a unit that the title says; "mm, as the job says" of a header
// that bears its unit without brackets, or one that is no unit, though both count when the list is read.
func TestWhereUnitsAreFrom(t *testing.T) {
	const list = "All readings in 1/100 mm,,,,,,\nMachine,Front to rear feet in,Movable rim 12,Movable rim 3 [mil],Movable rim 6 [ell],T,B\nP 1,20,0,5,12,7,9\n"
	units := func(c *Choices) string {
		_, r, err := (&Reader{}).Read([]byte(list), "list.csv", c)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, c := range r.Sheets[0].Columns[1:] {
			got = append(got, c.Unit+" "+c.UnitFrom)
		}
		return strings.Join(got, ", ")
	}
	if got := units(nil); got != "in header, 0.01 mm title, mil header, ell header,  ,  " {
		t.Error(got)
	}
	_, r, err := (&Reader{}).Read([]byte(list), "list.csv", nil)
	if err != nil {
		t.Fatal(err)
	}
	chosen := SheetChoice{Sheet: r.Sheets[0].Name, Columns: []ColumnChoice{{5, "movable_rim_9", ""}, {6, "stationary_rim_12", "0.01 mm"}}}
	if got := units(&Choices{Sheets: []SheetChoice{chosen}}); got != "in header, 0.01 mm title, mil header, ell header, 0.01 mm title, 0.01 mm header" {
		t.Error(got)
	}
	chosen.Columns = append(chosen.Columns, ColumnChoice{2, "movable_rim_12", "mil"})
	if got := units(&Choices{Sheets: []SheetChoice{chosen}}); got != "in header, mil header, mil header, ell header, 0.01 mm title, 0.01 mm header" {
		t.Error(got)
	}
}
