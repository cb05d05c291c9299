package report

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// jobOf makes a job of delimited text; nil if it is none.
func jobOf(t testing.TB, machines string, inch bool) *sentences.Teller {
	table, _, err := job.ReadDelimited("machines.csv", []byte(machines), 0)
	if err != nil || !table.SplitHeader(job.MachinesSheet) {
		return nil
	}
	j := job.NewJob()
	j.SetTable(job.MachinesSheet, table)
	if inch {
		set, _, err := job.ReadDelimited("job.csv", []byte("Setting,Value\nUnits,inch\n"), 0)
		if err != nil {
			t.Fatal(err)
		}
		j.SetTable(job.SettingsSheet, set)
	}
	return sentences.New(j)
}

const fuzzHeader = "Machine,Stationary,Side at 3,Side at 9,Coupling,Speed,Method,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet," +
	"Further feet,Spacer length,Face diameter,Bolt circle,Bolts,Coupling to flange,Movable sweep,Stationary sweep,Given offset V,Given offset H,Given slope V,Given slope H,Offset limit,Slope limit,Growth movable front V,Growth movable rear V\n"

// quoted makes one cell of a text.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// drawAll draws everything of every row and holds it to being well formed.
func drawAll(t testing.TB, ev *sentences.Teller, opt Options) {
	for i := -1; i <= min(ev.Len(), 4); i++ {
		parse(t, Machine(nil, ev, i, opt))
		parse(t, Sweeps(nil, ev, i, opt))
		parse(t, FeetPlan(nil, ev, i, opt))
		parse(t, GrowthFigure(nil, ev, i, opt))
	}
	parse(t, Overview(nil, ev, nil, opt))
	parse(t, Histogram(nil, ev, nil, opt))
}

// FuzzDrawing draws rows of any names and numbers: always well-formed XML with coordinates that are numbers on the paper or near it, and
// nothing in it but the elements the package draws.
func FuzzDrawing(f *testing.F) {
	f.Add("a<b&\"'>]]>", "river\x00side\x1b[31m", "480", "710", "800 900", "0.1", "1e300", "reverse indicator", "short", uint16(420), "x")
	f.Add("\u202eabc", "\xff\xfe", "0", "0.000001", "", "-1e-9", "1", "line", "flange", uint16(0), "\" onload=")
	f.Add(strings.Repeat("W", 5000), "</svg><script>", "1e9", "1e9", "1;2;3;4;5;6;7;8;9;10;11", "38", "0.12", "line", "universal", uint16(9999), "-1")
	f.Add("日本語のポンプ", "", "1e-12", "1e12", "", "nan", "inf", "line", "spacer", uint16(300), "")
	f.Add("p", "s", "480", "710", "", "0", "0", "line", "spacer", uint16(300), "d")
	f.Fuzz(func(t *testing.T, name, side, front, rear, further, offset, slope, method, coupling string, w uint16, prefix string) {
		line := []string{name, name, side, side, coupling, "1500", method, front, rear, front, rear, further, rear, "200", rear, further, front,
			"0:0 90:" + offset + " 180:" + slope + " 270:0.1", "0:0;90:" + slope + ";180:" + offset + ";270:0.1", offset, slope, slope, offset, "0.05", "0.5", offset, ""}
		for i := range line {
			line[i] = quoted(line[i])
		}
		row := strings.Join(line, ",") + "\n"
		for _, inch := range []bool{false, true} {
			if ev := jobOf(t, fuzzHeader+row+row, inch); ev != nil {
				drawAll(t, ev, Options{Width: float64(w), Prefix: prefix, Standalone: inch})
			}
		}
		parse(t, ClockFigure(nil, name, side, Options{Width: float64(w), Prefix: prefix}))
	})
}

// TestMissing: what is not there is named, and the rest is drawn.
func TestMissing(t *testing.T) {
	row := func(cells map[string]string) string {
		names := strings.Split(strings.TrimSpace(fuzzHeader), ",")
		out := make([]string, len(names))
		for i, n := range names {
			out[i] = quoted(cells[n])
			delete(cells, n)
		}
		if len(cells) > 0 {
			t.Fatal("no column ", cells)
		}
		return fuzzHeader + strings.Join(out, ",") + "\n"
	}
	line := func(more ...string) map[string]string {
		m := map[string]string{"Machine": "P1", "Coupling": "short", "Speed": "1480", "Method": "line", "Given offset V": "0.3", "Given offset H": "-0.1", "Given slope V": "0.4", "Given slope H": "0.2"}
		for i := 0; i < len(more); i += 2 {
			m[more[i]] = more[i+1]
		}
		return m
	}
	for _, c := range []struct {
		cells   map[string]string
		has     []string
		hasNot  []string
		classes []string
	}{
		{map[string]string{"Machine": "P1", "Coupling": "short"}, []string{"Not drawn: the shaft", "Not drawn: the feet"}, []string{"add ", "push "}, []string{"d-datum"}},
		{line(), []string{"Not drawn: the feet", "Found: offset"}, []string{"add ", "push "}, []string{"d-found", "d-wanted", "d-hatch"}},
		{line("Coupling to front feet", "480", "Front to rear feet", "710"), []string{"front feet", "480 mm", "710", "towards 3 o'clock side", "Side view, seen from the 9 o'clock side; up is up"}, []string{"Not drawn"}, []string{"d-found", "d-after"}},
		{line("Coupling", "spacer", "Coupling to front feet", "480", "Front to rear feet", "710"), []string{"Not drawn: the spool"}, []string{"Not drawn: the feet"}, []string{"d-found"}},
		{line("Coupling", "spacer", "Spacer length", "300", "Coupling to front feet", "480", "Front to rear feet", "710"), []string{"limit of the angle"}, []string{"Not drawn"}, []string{"d-spool", "d-hatch"}},
		{line("Coupling", "flange", "Bolt circle", "400", "Bolts", "8"), []string{"Flange, seen", "1: ", "8: "}, []string{"Not drawn", "Side view"}, []string{"d-found"}},
		{line("Coupling", "universal", "Spacer length", "800", "Coupling to front feet", "900", "Front to rear feet", "710"), []string{"wanted: the offset stays, 0.316 mm in all"}, []string{"Not drawn", "limit of the offset"}, []string{"d-spool"}},
		{line("Coupling to front feet", "480", "Front to rear feet", "710", "Speed", ""), []string{"Not judged: "}, []string{"limit of"}, []string{"d-found"}},
		{line("Coupling to front feet", "480", "Front to rear feet", "1000", "Further feet", "600 700 800 900 1000 1100 1200"), []string{"1  front feet: ", "9  rear feet: "}, []string{"Not drawn"}, []string{"d-found"}},
	} {
		ev := jobOf(t, row(c.cells), false)
		list := parse(t, Machine(nil, ev, 0, Options{Width: 420}))
		checkApart(t, strings.Join(c.has, " "), list)
		all, classes := "", ""
		for i := range list {
			if list[i].name == "text" {
				all += list[i].text + "\n"
			}
			classes += list[i].attr["class"] + " "
		}
		for _, s := range c.has {
			if !strings.Contains(all, s) {
				t.Errorf("no %q in\n%s", s, all)
			}
		}
		for _, s := range c.hasNot {
			if strings.Contains(all, s) {
				t.Errorf("%q in\n%s", s, all)
			}
		}
		for _, s := range c.classes {
			if !strings.Contains(classes, s+" ") {
				t.Errorf("no %s for %v", s, c.has)
			}
		}
	}
}
