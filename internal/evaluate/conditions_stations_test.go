package evaluate

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// Where feet and flanges stand, by what is typed: the stations in their order, which of them is front, rear and further (in the order typed), bolts, and what is told, whole. One mm is what a tape shows: a chain may differ by that.
func TestWhereFeetStand(t *testing.T) {
	base := "Machine=pump | Method=line | Given offset V=0.3 | Given offset H=0.1 | Given slope V=0.2 | Given slope H=-0.1 | Offset limit=0.1 | Slope limit=0.5"
	const needs = " (shims and moves need it; offset, slope and verdict stand without it)\n"
	const flange = "error Machines 2 %s: %s is missing (shims at the bolts need it; offset, slope and verdict stand without it)\n"
	for _, c := range []struct{ cells, want, told string }{
		{"Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Coupling to front feet=300 | Front to rear feet=500 | Further feet=1000", "300 800 1000; front 0 rear 1 further [2]", ""},
		{"Coupling to front feet=300 | Front to rear feet=500 | Further feet=1000 200 500", "200 300 500 800 1000; front 1 rear 3 further [4 0 2]", ""},
		{"Coupling to front feet=300 | Front to rear feet=500 | Further feet=500 800", "", "error Machines 2 Further feet: two pairs of feet at 800 mm from the coupling (further feet are those besides front and rear)\n"},
		{"Coupling to front feet=300 | Front to rear feet=500 | Further feet=x", "", "error Machines 2 Further feet: \"x\" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)\n"},
		{"Coupling to front feet=300", "", "error Machines 2 Front to rear feet: Front to rear feet is missing" + needs},
		{"Front to rear feet=500", "", "error Machines 2 Coupling to front feet: Coupling to front feet is missing" + needs},
		{"", "", "error Machines 2 Coupling to front feet: Coupling to front feet and Front to rear feet are missing" + needs},
		{"Coupling to front feet=x | Front to rear feet=500", "", "error Machines 2 Coupling to front feet: \"x\" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)\n"},
		{"Coupling to front feet=300 | Front to rear feet=x", "", "error Machines 2 Front to rear feet: \"x\" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)\n"},
		// A chain by tape.
		{"Coupling to movable plane=100 | Movable plane to front feet=200 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Movable plane to front feet=200 | Front to rear feet=500", "", "error Machines 2 Coupling to front feet: Coupling to front feet is missing" + needs},
		{"Coupling to movable plane=100 | Movable plane to front feet=201 | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Coupling to movable plane=100 | Movable plane to front feet=199 | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Coupling to movable plane=100 | Movable plane to front feet=201.1 | Coupling to front feet=300 | Front to rear feet=500", "", "error Machines 2 Movable plane to front feet: by tape the front feet are elsewhere: 300 mm from the coupling, not 301.1 mm (measure again, or leave one of them blank)\n"},
		{"Coupling to movable plane=100 | Movable plane to front feet=198.9 | Coupling to front feet=300 | Front to rear feet=500", "", "error Machines 2 Movable plane to front feet: by tape the front feet are elsewhere: 300 mm from the coupling, not 298.9 mm (measure again, or leave one of them blank)\n"},
		{"Coupling to stationary plane=100 | Coupling to movable plane=150 | Stationary plane to movable plane=251 | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Coupling to stationary plane=100 | Coupling to movable plane=150 | Stationary plane to movable plane=249 | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Coupling to stationary plane=100 | Coupling to movable plane=150 | Stationary plane to movable plane=251.1 | Coupling to front feet=300 | Front to rear feet=500", "", "error Machines 2 Stationary plane to movable plane: "},
		{"Coupling to stationary plane=100 | Coupling to movable plane=150 | Stationary plane to movable plane=248.9 | Coupling to front feet=300 | Front to rear feet=500", "", "error Machines 2 Stationary plane to movable plane: "},
		// A flange. Seen: of a missing bolt circle it was said that 8 bolts are not possible.
		{"Mounting=vertical flange | Bolt circle=600 | Bolts=8 | Coupling to flange=400", "; bolts 8 on 300 at 400", ""},
		{"Mounting=vertical flange | Bolt circle=600 | Bolts=3", "; bolts 3 on 300 at NaN", ""}, {"Mounting=vertical flange | Bolt circle=600 | Bolts=200", "; bolts 200 on 300 at NaN", ""},
		{"Mounting=vertical flange | Bolt circle=600 | Bolts=2.5", "", "error Machines 2 Bolts: "}, {"Mounting=vertical flange | Bolt circle=600 | Bolts=4.5", "", "error Machines 2 Bolts: "},
		{"Mounting=vertical flange | Bolt circle=600 | Bolts=2", "", "error Machines 2 Bolts: 2 bolts are not possible"}, {"Mounting=vertical flange | Bolt circle=600 | Bolts=201", "", "error Machines 2 Bolts: 201 bolts are not possible"},
		{"Mounting=vertical flange | Bolts=8", "", fmt.Sprintf(flange, "Bolt circle", "Bolt circle")}, {"Mounting=vertical flange | Bolt circle=600", "", fmt.Sprintf(flange, "Bolts", "Bolts")},
		{"Mounting=vertical flange", "", fmt.Sprintf(flange, "Bolt circle", "Bolt circle") + fmt.Sprintf(flange, "Bolts", "Bolts")},
		{"Mounting=vertical flange | Bolt circle=x | Bolts=8", "", "error Machines 2 Bolt circle: \"x\" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)\n"},
		{"Mounting=vertical flange | Bolt circle=600 | Bolts=8 | Coupling to flange=x", "", "error Machines 2 Coupling to flange: \"x\" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)\n"},
		{"Mounting=vertical flange | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
		{"Mounting=vertical flange | Coupling to front feet=300", "", "error Machines 2 Front to rear feet: Front to rear feet is missing" + needs},
		{"Mounting=vertical flange | Coupling to front feet=300 | Front to rear feet=500 | Bolts=8", "", fmt.Sprintf(flange, "Bolt circle", "Bolt circle")},
		{"Mounting=horizontal | Bolt circle=600 | Bolts=8 | Coupling to front feet=300 | Front to rear feet=500", "300 800; front 0 rear 1 further []", ""},
	} {
		line := "Machines: " + base
		if c.cells != "" {
			line += " | " + c.cells
		}
		e := workText(t, line)
		r := e.Row(0)
		var told []job.Problem
		for _, p := range r.Problems {
			if p.Severity == job.Error {
				told = append(told, p)
			}
		}
		got := ""
		if len(r.Calc.Feet) > 0 {
			var at []string
			for k := range r.Calc.Feet {
				at = append(at, fmt.Sprint(r.Calc.Feet[k].Station))
			}
			got = fmt.Sprintf("%s; front %d rear %d further %v", strings.Join(at, " "), r.Front, r.Rear, r.Further)
		} else if r.Front != -1 || r.Rear != -1 || len(r.Further) > 0 {
			t.Errorf("%s: no feet, front %d rear %d further %v", c.cells, r.Front, r.Rear, r.Further)
		}
		if n := len(r.Calc.BoltShims); n > 0 {
			var m Measured
			e.Measured(0, &m)
			got = fmt.Sprintf("; bolts %d on %g at %g", n, m.Input.BoltCircleRadius, m.Input.FlangeStation)
		}
		if all := toldBy(told); got != c.want || all != c.told && (strings.HasSuffix(c.told, "\n") || c.told == "" || !strings.HasPrefix(all, c.told) || strings.Count(all, "\n") != 1) {
			t.Errorf("%s: %s\n%s", c.cells, got, all)
		}
	}
	// Two feet of the Feet sheet tell where they stand, in the place of the distances; those between are further.
	feet := []string{"Feet: Machine=pump | Foot=front 9 | Along=310", "Feet: Machine=pump | Foot=front 3 | Along=310", "Feet: Machine=pump | Foot=rear 9 | Along=820", "Feet: Machine=pump | Foot=rear 3 | Along=820"}
	for _, c := range []struct {
		cells string
		more  []string
		want  string
	}{
		{"", nil, "310 820; 0 1 []"}, {"", []string{"Feet: Machine=pump | Foot=middle 9 | Along=500", "Feet: Machine=pump | Foot=middle 3 | Along=500.5"}, "310 500 820; 0 2 [1]"}, {" | Coupling to front feet=310", nil, "; -1 -1 []"},
		{" | Coupling to front feet=310 | Front to rear feet=510", nil, "310 820; 0 1 []"},
	} {
		r := workText(t, plus(plus([]string{"Machines: " + base + c.cells}, feet...), c.more...)...).Row(0)
		var at []string
		for k := range r.Calc.Feet {
			at = append(at, fmt.Sprint(r.Calc.Feet[k].Station))
		}
		if got := fmt.Sprintf("%s; %d %d %v", strings.Join(at, " "), r.Front, r.Rear, r.Further); got != c.want {
			t.Errorf("%s %v: %s %s", c.cells, c.more, got, toldBy(r.Problems))
		}
	}
}
