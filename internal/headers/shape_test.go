package headers

import (
	"reflect"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// cells are rows of a list, cells parted by commas.
func cells(text string) (rows [][]string) {
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		rows = append(rows, strings.Split(line, ","))
	}
	return rows
}

// Lists as planners keep them that are not one machine a row. Seen: of the first four the command said "no readings" or "no row with column names was found", up to five lines a row, and
// never what the matter is. The straight list is written down by hand.
func TestShapes(t *testing.T) {
	for _, c := range []struct {
		name, list string
		shape      Shape
		straight   string // "": there is none
	}{
		{"turned, in its own words", `
,P-201,P-202
rpm,1480,2960
Rim T,0,0
Rim R,0.05,0.02
Rim B,0.12,0.03
Cpl to front feet,410,411`, ByColumns, `
Machine,rpm,Rim T,Rim R,Rim B,Cpl to front feet
P-201,1480,0,0.05,0.12,410
P-202,2960,0,0.02,0.03,411`},
		{"turned, three rows", `
Machine,P-201,P-202
Speed,1480,2960
Given offset V,0.1,0.2`, ByColumns, `
Machine,Speed,Given offset V
P-201,1480,0.1
P-202,2960,0.2`},
		{"turned, its rows numbered", `
1,Machine,P-201,P-202
2,Speed,1480,2960
3,Given offset V,0.1,0.2`, ByColumns, `
1,2,3
Machine,Speed,Given offset V
P-201,1480,0.1
P-202,2960,0.2`},
		{"a value a row", `
Machine,Point,Value,Unit
P-1,Speed,1480,rpm
P-1,Given offset V,0.12,mm
P-1,Coupling to front feet,16,in
P-2,Speed,2960,
P-2,Given offset V,2 mil,mm
P-2,Given offset H,-0.05,mm`, ByValues, `
Machine,Speed,Given offset V,Coupling to front feet,Given offset H
P-1,1480 rpm,0.12 mm,16 in,
P-2,2960,2 mil,,-0.05 mm`},
		{"a value a row, one of them twice", `
Machine,Point,Value
P-1,Speed,1480
P-1,Speed,1490
P-1,Given offset V,0.12
P-1,Given offset H,0.12`, ByValues, ""},
		{"a dial a row, the machine named once, a distance in the second row", `
Tag,Speed,Dial,12,3,6,9,Dist
P-101,1480,MTR->PMP rim,0,0.05,0.12,0.07,
,,PMP->MTR rim,0,-0.15,-0.02,0.13,250
P-102,2960,MTR->PMP rim,0,0.03,0.02,-0.01,
,,PMP->MTR rim,0,0.01,0.04,0.03,260`, ByDials, `
Tag,Speed,MTR->PMP rim 12,MTR->PMP rim 3,MTR->PMP rim 6,MTR->PMP rim 9,PMP->MTR rim 12,PMP->MTR rim 3,PMP->MTR rim 6,PMP->MTR rim 9,Dist
P-101,1480,0,0.05,0.12,0.07,0,-0.15,-0.02,0.13,250
P-102,2960,0,0.03,0.02,-0.01,0,0.01,0.04,0.03,260`},
		{"a dial a row, and two speeds of one machine", `
Tag,Speed,Dial,12,3,6,9
P-1,1480,Rim,0,5,12,7
P-1,1490,Face,0,1,2,1
P-2,1480,Rim,0,5,12,7
P-2,1480,Face,0,1,2,1`, ByDials, ""},
		{"a card a machine, one under another", `
P-1,,,,
Speed,1480,,,
,12,3,6,9
Rim,0,5,12,7
Face,0,-2,-4,-2
,,,,
P-2,,,,
Speed,2960,,,
,12,3,6,9
Rim,0,5,12,7
Face,0,-2,-4,-2`, ByBlocks, ""},

		// One machine a row, whatever else may look odd in it.
		{"an ordinary list", `
Machine,Speed,Given offset V,Given offset H
Motor,1480,0.1,0.2
Pump,1480,0.1,0.2
Fan,1480,0.1,0.2`, ByRows, ""},
		{"machines and nothing over them", `
Pump 1,1480,0.1
Fan 2,1480,0.1
Compressor 3,1480,0.1
Gear 4,1480,0.1`, ByRows, ""},
		{"words of its own", `
Tag,Kind,Drehzahl,Wert
P-1,Pump,1480,0.1
P-2,Fan,1480,0.1
P-3,Pump,1480,0.1
P-4,Fan,1480,0.1`, ByRows, ""},
		{"readings, which have a sheet of their own", `
Machine,Sweep,Angle,Reading
P-1,Movable rim,0,0
P-1,Movable rim,90,5
P-1,Movable rim,180,12
P-1,Stationary rim,0,0
P-1,Stationary rim,90,5
P-1,Face,180,12`, ByRows, ""},
		{"found and left", `
Machine,Speed,Set,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9
P-1,1480,as found,0,5,12,7
P-1,1480,as left,0,1,2,1`, ByRows, ""},
	} {
		shape, straight := ShapeOf(cells(c.list), nil)
		if shape != c.shape {
			t.Errorf("%s: %d %q, want %d", c.name, shape, shape.Sentence(), c.shape)
			continue
		}
		if c.straight == "" && straight != nil || c.straight != "" && !reflect.DeepEqual(straight, cells(c.straight)) {
			t.Errorf("%s: laid out as %q", c.name, straight)
		}
	}
}

// Nothing of a list that is laid out anew is lost: each of its texts that is no name of the tall form stands in it as often as before.
func TestStraightKeepsEveryText(t *testing.T) {
	list := cells("Tag,Area,Dial,12,3,6,9,Remarks\nP-1,hall,Rim,0,5,12,7,\nP-1,hall,Face,0,-2,-4,-2,worn hub\nP-2,yard,Rim,0.5,5,12,7,late\nP-2,,Face,0,-2,-4,-2,")
	shape, straight := ShapeOf(list, nil)
	if shape != ByDials || straight == nil {
		t.Fatal(shape, straight)
	}
	count := func(rows [][]string, s string) (n int) {
		for _, r := range rows {
			for _, c := range r {
				if c == s {
					n++
				}
			}
		}
		return n
	}
	for _, s := range []string{"5", "12", "7", "-2", "-4", "0.5", "worn hub", "late", "0"} {
		if a, b := count(list[1:], s), count(straight[1:], s); a != b {
			t.Errorf("%q stood in %d cells and stands in %d of %q", s, a, b, straight)
		}
	}
	j := job.NewJob()
	j.Machines = &job.Table{Header: list[0], Rows: list[1:], FirstRow: 2}
	told := OfJob(j)
	if len(told) != 1 || told[0].Severity != job.Error || !strings.Contains(told[0].Text.String(), "one dial a row") || len(j.Machines.Title) != 5 || len(j.Machines.Rows) != 0 {
		t.Errorf("%+v, of which stays %+v", told, j.Machines)
	}
}
