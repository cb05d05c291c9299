package evaluate

import (
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// Each line of the Stock sheet is in the box as it was typed, or refused with what is wrong; the tolerance of a piece is its own, else that of its class (EN ISO 9445-1: strip of 0.2 to under 0.25 mm under 125 mm wide,
// ± 0.015, 0.012 and 0.008 mm, read out of the table), else of the job's class; a layer of a laminated shim of 0.0508 mm is held to SAE AMS 6387.
func TestLinesOfStock(t *testing.T) {
	normal, fine, precise := tables.StripTolerance(0.2, tables.StripNormal), tables.StripTolerance(0.2, tables.StripNormal+1), tables.StripTolerance(0.2, tables.StripNormal+2)
	if !(normal > fine && fine > precise && precise > 0) {
		t.Fatal(normal, fine, precise)
	}
	layer := tables.LaminationTolerance(0.0508)
	const none = 0
	for _, c := range []struct {
		line, sheets string
		mm           float64 // NaN: refused
		count        int
		layer, tol   float64
		class        tables.StripClass
		says         string
	}{
		{"0.2,,,,,,", "", 0.2, -1, 0, 0, none, ""}, {"0.2,5,,,,,", "", 0.2, 5, 0, 0, none, ""}, {"0.2,0,,,,,", "", 0.2, 0, 0, 0, none, "error Stock: no packs can be made: the stock is empty (hint: look at the Stock sheet, Pack pieces at most and Pack tolerance)"}, {"20 mil,7,,,,,", "", 0.508, 7, 0, 0, none, ""},
		{"0.2,2000000,,,,,", "", 0.2, 1_000_000, 0, 0, none, ""}, {"0.2,1000000,,,,,", "", 0.2, 1_000_000, 0, 0, none, ""},
		{"0.2,-1,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Pieces on hand: …"}, {"0.2,many,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Pieces on hand: …"}, {"0.2,1.5,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Pieces on hand: …"},
		{"0,1,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Thickness: \"0\" cannot be (hint: write a number of more than 0)"}, {"-0.2,1,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Thickness: \"-0.2\" cannot be …"}, {"x,1,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Thickness: \"x\" is not …"},
		{",7,,,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Thickness: missing"}, {",,75,,,,", "", nan, 0, 0, 0, none, ""}, // no line at all
		// Laminated or plain.
		{"2,,,laminated,0.0508,,", "", 2, -1, 0.0508, 0, none, ""}, {"2,,,,0.0508,,", "", 2, -1, 0.0508, 0, none, ""}, {"2,,,plain,,,", "", 2, -1, 0, 0, none, ""}, {"0.0508,,,,0.0508,,", "", 0.0508, -1, 0.0508, 0, none, ""},
		{"2,,,laminated,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Lamination: missing (hint: a laminated shim has the thickness of one layer in Lamination, and Thickness is that of the whole before anything is peeled off)"},
		{"2,,,plain,0.05,,", "", nan, 0, 0, 0, none, "error Stock row 2, Lamination: a plain shim has no layers (hint: a laminated …"},
		{"0.05,,,,0.0508,,", "", nan, 0, 0, 0, none, "error Stock row 2, Lamination: a layer of 0.051 mm is more than the shim, 0.05 mm (hint: a laminated …"},
		{"2,,,gold,,,", "", nan, 0, 0, 0, none, "error Stock row 2, Kind: \"gold\" is not …"}, {"2,,,,0,,", "", nan, 0, 0, 0, none, "error Stock row 2, Lamination: \"0\" cannot be …"},
		// How thick a piece really is.
		{"0.2,,,,,normal,", "", 0.2, -1, 0, normal, tables.StripNormal, ""}, {"0.2,,,,,fine,", "", 0.2, -1, 0, fine, tables.StripNormal + 1, ""}, {"0.2,,,,,precision,", "", 0.2, -1, 0, precise, tables.StripNormal + 2, ""},
		{"0.2,,,,,,", "Job: Strip class=fine", 0.2, -1, 0, fine, tables.StripNormal + 1, ""}, {"0.2,,,,,precision,", "Job: Strip class=fine", 0.2, -1, 0, precise, tables.StripNormal + 2, ""},
		{"0.2,,,,,,0.03", "Job: Strip class=fine", 0.2, -1, 0, 0.03, none, ""}, {"0.2,,,,,fine,0.03", "", 0.2, -1, 0, 0.03, none, ""}, {"0.2,,,,,fine,± 0.03", "", 0.2, -1, 0, 0.03, none, ""}, {"0.2,,,,,fine,+/-0.03", "", 0.2, -1, 0, 0.03, none, ""}, {"0.2,,,,,fine,0", "", 0.2, -1, 0, 0, none, ""},
		{"0.2,,,,,fine,0.2", "", 0.2, -1, 0, nan, none, "error Stock row 2, Tolerance: a tolerance of \"0.2\" is not less than the thickness itself (hint: write how far a shim (laminated: a layer) may be off either way)"},
		{"0.2,,,,,fine,0.199", "", 0.2, -1, 0, 0.199, none, ""}, {"0.2,,,,,fine,-0.1", "", 0.2, -1, 0, nan, none, "error Stock row 2, Tolerance: \"-0.1\" cannot be …"}, {"0.2,,,,,coarse,", "", 0.2, -1, 0, nan, none, "error Stock row 2, Strip class: \"coarse\" is not …"},
		{"0.2,,,,,coarse,0.03", "", 0.2, -1, 0, 0.03, none, "error Stock row 2, Strip class: \"coarse\" is not …"}, // what is typed of it counts
		{"2,,,,0.0508,normal,", "", 2, -1, 0.0508, layer, tables.StripNormal, ""}, {"2,,,,0.0508,,", "Job: Strip class=fine", 2, -1, 0.0508, layer, tables.StripNormal + 1, ""}, {"2,,,,0.0508,normal,0.01", "", 2, -1, 0.0508, 0.01, none, ""},
		{"2,,,,0.0508,normal,0.0508", "", 2, -1, 0.0508, nan, none, "error Stock row 2, Tolerance: …"}, // of a layer
		{"2,,,,0.06,normal,", "", 2, -1, 0.06, nan, tables.StripNormal, ""},                            // a layer the standard does not have
	} {
		e, r := caseJob(t, lowRow, "", &jobCase{sheets: c.sheets + "\nStock: Thickness,Pieces on hand,Size,Kind,Lamination,Strip class,Tolerance\n" + c.line})
		var told []string
		for _, p := range slices.Concat(e.Problems(), r.Problems) {
			if p.Severity == job.Error {
				told = append(told, "error "+p.String())
			}
		}
		if said := strings.Join(told, "\n"); !wild(said, c.says) {
			t.Errorf("%s: %s", c.line, said)
		}
		box, assumed := e.Stock()
		if math.IsNaN(c.mm) {
			if !assumed {
				t.Errorf("%s: it is in the box: %+v", c.line, box)
			}
			continue
		}
		if assumed || len(box) != 1 {
			t.Errorf("%s: %+v", c.line, box)
			continue
		}
		s := box[0]
		near(t, c.line+" thickness", s.MM, c.mm, 1e-12)
		near(t, c.line+" layer", s.Lamination, c.layer, 1e-12)
		near(t, c.line+" tolerance", s.Tolerance, c.tol, 1e-12)
		if s.Count != c.count || s.Class != c.class || s.Row != 2 {
			t.Errorf("%s: %+v", c.line, s)
		}
	}
}

// Without a Stock sheet the usual thicknesses of the table are assumed, in the job's unit and class.
func TestStockAssumed(t *testing.T) {
	for _, c := range []struct {
		sheets string
		inch   bool
		class  tables.StripClass
	}{{"", false, 0}, {"Job: Units=inch", true, 0}, {"Job: Strip class=normal", false, tables.StripNormal}} {
		e, _ := caseJob(t, lowRow, "", &jobCase{sheets: c.sheets})
		box, assumed := e.Stock()
		usual := tables.DefaultStock(c.inch)
		if !assumed || len(box) != len(usual) {
			t.Fatalf("%v %+v", assumed, box)
		}
		for k, s := range box {
			tol := 0.0
			if c.class != 0 {
				tol = tables.StripTolerance(usual[k].MM, c.class)
			}
			near(t, "tolerance", s.Tolerance, tol, 1e-12)
			if s.MM != usual[k].MM || s.Count != usual[k].Count || s.Row != 0 || s.Class != c.class {
				t.Errorf("%+v, usual is %+v", s, usual[k])
			}
		}
	}
}
