package sentences

import (
	"fmt"
	"math"
	"testing"

	"shimsheet/internal/job"
)

// sweepCells are the four readings of a family for V and H at its plane: R = V·cos φ + H·sin φ, zeroed at 12.
func sweepCells(family string, v, h float64) string {
	return fmt.Sprintf("%[1]s 12=0; %[1]s 3=%.6[2]f; %[1]s 6=%.6[3]f; %[1]s 9=%.6[4]f; ", family, h-v, -2*v, -h-v)
}

// The line of these readings: offset 0.1 and −0.04 mm, slope 0.5 and 0.2 mm/m. Each family as that line gives it (method book, 2): rims at +100, −100 and +250 mm, faces of 200 mm diameter, a gap and a step, and a
// spool of 400 mm between two faces.
var (
	movRim  = sweepCells("Movable rim", 0.15, -0.02)
	statRim = sweepCells("Stationary rim", -0.05, 0.06)
	second  = sweepCells("Second rim", 0.225, 0.01)
	face    = sweepCells("Face", 0.05, 0.02)
	statFac = sweepCells("Stationary face", 0.05, 0.02)
	gap     = sweepCells("Gap", -0.05, -0.02)
	step    = sweepCells("Step", 0.15, -0.02)
	theLine = "offset_v_mm=0.1 offset_h_mm=-0.04 slope_v=0.5 slope_h=0.2\n"
)

var bare = []string{"Speed=1480", "Coupling=short", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to second plane=250", "Face diameter=200", "Coupling to front feet=300", "Front to rear feet=500"}

// Which readings make which method, typed or not; what a method does not read is said, what it lacks is asked for, each by its name.
func TestMethodsByTheirReadings(t *testing.T) {
	unused := func(f, method string) string {
		return "warning Machines row 2: " + f + ": not used by the method " + method + " (hint: method sweeps uses every reading)\n"
	}
	lacks := func(f string) string {
		return "error Machines row 2, " + f + ": " + f + " readings are missing (hint: fill " + f + " 12, 3, 6 and 9; three of them are enough)\n"
	}
	noLine := "offset_v_mm=null verdict=not judged front_shim_mm=null\n"
	noReadings := noLine + "error Machines row 2: no readings (hint: fill readings, such as Movable rim 12, 3, 6, 9 and Stationary rim 12, 3, 6, 9, or a given line)"
	given := "; Given offset V=0.1; Given offset H=-0.04; Given slope V=0.5; Given slope H=0.2"
	cases(t, job.Warning, bare, "Job: Sag not given=no sag", []jobCase{
		{movRim + statRim, "", theLine + "method=reverse indicator method_inferred=true sweep_checks.#=2 sweep_checks.0.sweep=Movable rim sweep_checks.1.sweep=Stationary rim sweep_checks.0.readings=4"},
		{movRim + second, "", theLine + "method=two rims method_inferred=true"},
		{movRim + face, "", theLine + "method=rim and face"},
		{movRim + statFac, "", theLine + "method=rim and face"},
		{statRim + face, "", theLine + "method=rim and face"},
		{movRim + face + statFac, "", theLine + "method=rim and face sweep_checks.#=3"},
		{gap + step, "", theLine + "method=straightedge and gap"},
		{movRim + statRim + face, "", theLine + "method=sweeps"},
		{movRim + gap, "", theLine + "method=sweeps"}, {second + face, "", theLine + "method=sweeps"}, {statRim + second, "", theLine + "method=sweeps"}, {step + face, "", theLine + "method=sweeps"}, {movRim + second + face, "", theLine + "method=sweeps"},
		{movRim + "Stationary sweep=0:0 90:0.11 180:0.1 270:-0.01", "", theLine + "method=sweeps sweep_checks.1.sweep=Stationary sweep"},
		{given[2:], "", theLine + "method=line method_inferred=true sweep_checks.#=0"},
		{"", "", noReadings},
		// Typed: what it does not read is said and not used.
		{"Method=reverse indicator; " + movRim + statRim, "", theLine + "method=reverse indicator method_inferred=false"},
		{"Method=reverse indicator; " + movRim + statRim + sweepCells("Face", 1, 1), "", theLine + unused("Face", "reverse indicator")},
		{"Method=two rims; " + movRim + second + sweepCells("Stationary rim", 1, 1), "", theLine + unused("Stationary rim", "two rims")},
		{"Method=sweeps; " + movRim + statRim + face, "", theLine + "sweep_checks.#=3"},
		{"Method=line; " + sweepCells("Face", 1, 1) + sweepCells("Movable rim", 1, 1) + given[2:], "", theLine + "warning Machines row 2: Movable rim, Face: not used by the method line"},
		{movRim + statRim + given, "", theLine + "method=reverse indicator\nwarning Machines row 2: the given line is not used by the method reverse indicator (hint: write line in Method to use it)"},
		{"Method=reverse indicator; " + movRim + statRim + given, "", theLine + "method=reverse indicator"}, // Method says so already
		{"Method=line" + given, "", theLine + "method=line"},
		{"Method=x; " + movRim + statRim, "", noLine + "error Machines row 2, Method: \"x\" is not …"},
		// Lacking.
		{"Method=reverse indicator; " + movRim, "", noLine + lacks("Stationary rim")}, {"Method=reverse indicator; " + statRim, "", noLine + lacks("Movable rim")}, {"Method=reverse indicator", "", noLine + lacks("Movable rim") + lacks("Stationary rim")},
		{"Method=two rims; " + movRim, "", noLine + lacks("Second rim")}, {"Method=two rims; " + second, "", noLine + lacks("Movable rim")},
		{"Method=rim and face; " + movRim, "", noLine + lacks("Face")}, {"Method=rim and face; " + face, "", noLine + lacks("Movable rim")}, {"Method=rim and face; " + statRim + statFac, "", theLine},
		{"Method=straightedge and gap; " + gap, "", noLine + lacks("Step")}, {"Method=straightedge and gap; " + step, "", noLine + lacks("Gap")},
		{"Method=face and face; Spacer length=400; " + face, "", noLine + lacks("Stationary face")},
		{"Method=sweeps", "", noReadings}, {"Method=sweeps" + given, "", noReadings},
		{"Method=line", "", noLine + "error Machines row 2, Given offset V: missing (hint: write 0 if it was measured as none)\nerror Machines row 2, Given offset H: missing …\nerror Machines row 2, Given slope V: missing …\nerror Machines row 2, Given slope H: missing …"},
		{movRim, "", noLine + "error …"},
		// Three of the four positions are enough, wherever the fourth would be; with two the first empty one is asked for.
		{movRim + statRim + "Movable rim 12=", "", theLine}, {movRim + statRim + "Movable rim 3=", "", theLine}, {movRim + statRim + "Stationary rim 6=", "", theLine}, {movRim + statRim + "Stationary rim 9=", "", theLine},
		{movRim + statRim + "Movable rim 9=; Movable rim 3=", "", noLine + "error Machines row 2, Movable rim 3: missing (hint: Movable rim needs readings at three positions at least)"},
		{movRim + statRim + "Stationary rim 12=; Stationary rim 6=", "", noLine + "error Machines row 2, Stationary rim 12: missing (hint: Stationary rim needs readings at three positions at least)"},
		{movRim + statRim + "Movable rim 9=; Movable rim 3=; Movable rim 12 again=0", "", noLine + "error Machines row 2, Movable rim 3: missing …"}, // 12 and 12 again are one place
		{movRim + statRim + "Movable rim 12=; Movable rim 12 again=0", "", theLine}, {movRim + statRim + "Movable rim 12=; Movable rim 3=; Movable rim 12 again=0", "", theLine},
		{movRim + statRim + "Movable rim 12=; Movable rim 3=; Movable rim 6=; Movable rim 12 again=0", "", noLine + "error Machines row 2, Movable rim 12: missing …"},
		{movRim + statRim + "Movable rim 3=x", "", noLine + "error Machines row 2, Movable rim 3: \"x\" is not …"},
		{movRim + "Stationary sweep=0:0 x", "", noLine + "error Machines row 2, Stationary sweep: …"},
		{movRim + "Stationary sweep=0:0 90:0.11", "", noLine + "error Machines row 2, Stationary sweep: …"},
		// Distances that a method needs, each asked for by its name; those it does not need are not.
		{"Coupling to stationary plane; " + movRim + statRim, "", noLine + "error Machines row 2, Coupling to stationary plane: missing (hint: write 0 if the readings are taken at the coupling centre)"},
		{"Coupling to movable plane; " + movRim + statRim, "", noLine + "error Machines row 2, Coupling to movable plane: missing (hint: write 0 if the readings are taken at the coupling centre)"},
		{"Coupling to movable plane; " + gap + step, "", noLine + "error Machines row 2, Coupling to movable plane: missing …"},
		{"Coupling to second plane; " + movRim + second, "", noLine + "error Machines row 2, Coupling to second plane: missing …"},
		{"Face diameter; " + movRim + face, "", noLine + "error Machines row 2, Face diameter: missing (hint: write the diameter at which the dial or the gauge was held)"},
		{"Face diameter; " + gap + step, "", noLine + "error Machines row 2, Face diameter: missing …"}, {"Face diameter; " + movRim + statFac, "", noLine + "error Machines row 2, Face diameter: missing …"},
		{"Face diameter; Coupling to second plane; " + movRim + statRim, "", theLine}, {"Coupling to stationary plane; Face diameter; " + movRim + second, "", theLine}, {"Coupling to stationary plane; Coupling to second plane; " + gap + step, "", theLine},
		{"Face side=x; " + movRim + face, "", noLine + "error Machines row 2, Face side: \"x\" is not …"},
		{"Face side=back; " + movRim + sweepCells("Face", -0.05, -0.02), "", theLine}, {"Face side=front; " + movRim + face, "", theLine},
		{"Face side=back; " + movRim + sweepCells("Stationary face", -0.05, -0.02), "", theLine},
		{"Face side=back; " + gap + step, "", theLine}, // a gap has no back
		// By tape.
		{"Coupling to stationary plane; Stationary plane to movable plane=200; " + movRim + statRim, "", theLine}, {"Coupling to movable plane; Stationary plane to movable plane=200; " + movRim + statRim, "", theLine},
		{"Coupling to movable plane; Stationary plane to movable plane=99; " + movRim + statRim, "", noLine + "error Machines row 2, Stationary plane to movable plane: 99 mm is less than Coupling to stationary plane, 100 mm (hint: measure again, or leave one of them blank)"},
		{"Coupling to movable plane; Stationary plane to movable plane=100; " + sweepCells("Movable rim", 0.1, -0.04) + statRim, "", theLine}, // the plane is the coupling's
	})
	// A spool between two faces: the stationary hub's face sees its slope σ, the movable hub's θ − σ, and σ·L = dV + θ·L/2.
	sv, sh := (0.1+0.5*0.2)/0.4, (-0.04+0.2*0.2)/0.4
	spool := sweepCells("Stationary face", 0.1*sv, 0.1*sh) + sweepCells("Face", 0.1*(0.5-sv), 0.1*(0.2-sh))
	back := sweepCells("Stationary face", -0.1*sv, -0.1*sh) + sweepCells("Face", -0.1*(0.5-sv), -0.1*(0.2-sh))
	line := "offset_v_mm=0.1 slope_v=0.5 slope_h=0.2 "
	cases(t, job.Warning, change(bare, "Coupling"), "", []jobCase{
		{"Spacer length=400; " + spool, "", line + "method=face and face coupling=spacer"},
		{"Spacer length=400; Method=face and face; " + spool, "", line + "coupling=spacer"},
		{"Spacer length=400; Face side=back; " + back, "", line},
		{spool, "", "offset_v_mm=null\nerror Machines row 2, Spacer length: missing (hint: write the distance between the two flex planes)"},
		{"Coupling=short; Spacer length=400; " + spool, "", line + "coupling=flexible"},
		{"Spacer length=400; Movable sag at 6=-1; " + spool, "", line}, // of no dial here
	})
}

// What a bracket sags at 6 is taken off every dial, each its own; a positive number is asked about; a long bracket whose sag nobody typed is told and makes the ± wider. With a sag of −0.1 at 6 a rim reads
// −0.05 at 3 and 9 and −0.1 at 6 on shafts in line, so that 0.05 mm of offset are none.
func TestSagOfEachDial(t *testing.T) {
	sagged := func(family string, s float64) string { return sweepCells(family, -s/2, 0) }
	none := "offset_v_mm=0 offset_h_mm=0 slope_v=0 slope_h=0\n"
	positive := func(col string) string {
		return "error Machines row 2, " + col + ": a positive sag …(hint: write dial reading or amount in Positive sag, on the row or once on the Job sheet; until then it is taken as the dial's, and nothing is judged)\nverdict=not judged\n"
	}
	long := "warning Machines, Movable sag at 6: 1 couplings were read over brackets longer than 200 mm without a sag typed (the longest about %s mm, pump); nothing was taken off, and their ± is wider by what such a bracket may sag (hint: measure the sag on a stiff pipe and type it, 0 where there is none; or answer once for the job in Sag not given: no sag where the brackets do not sag or measuring heads were used)"
	cases(t, job.Warning, bare, "", []jobCase{
		{"Movable sag at 6=-0.1; Stationary sag at 6=-0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", -0.06), "", none + "sweep_checks.0.sag_at_6_mm=-0.1 sweep_checks.1.sag_at_6_mm=-0.06\nnot Sag of the bracket not given"},
		{"Movable sag at 6=-0.1; Second rim sag at 6=-0.06; " + sagged("Movable rim", -0.1) + sagged("Second rim", -0.06), "", none},
		{"Movable sag at 6=-0.1; Face sag at 6=-0.06; " + sagged("Movable rim", -0.1) + sagged("Face", -0.06), "", none},
		{"Movable sag at 6=-0.1; Face sag at 6=0.06; " + sagged("Movable rim", -0.1) + sagged("Face", 0.06), "", none}, // a face's may have either sign
		{"Movable sag at 6=-0.1; Stationary face sag at 6=0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary face", 0.06), "", none},
		{"Movable sag at 6=0; Stationary sag at 6=0; " + movRim + statRim, "", theLine + "not Sag of the bracket not given"},
		{"Movable sag at 6=0; " + movRim + statRim, "", theLine + "says Sag of the bracket not given for Stationary rim; none was taken off.\nnot not given for Movable rim"},
		{"Movable sag at 6=0.1; Stationary sag at 6=-0.06; " + sagged("Movable rim", 0.1) + sagged("Stationary rim", -0.06), "", positive("Movable sag at 6") + none},
		{"Movable sag at 6=-0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", 0.06), "", positive("Stationary sag at 6") + none},
		{"Movable sag at 6=0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", 0.1) + sagged("Stationary rim", 0.06), "", positive("Movable sag at 6") + positive("Stationary sag at 6") + none},
		{"Positive sag=dial reading; Movable sag at 6=0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", 0.1) + sagged("Stationary rim", 0.06), "", none + "verdict=inside"},
		{"Positive sag=amount; Movable sag at 6=0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", -0.06), "", none + "verdict=inside sweep_checks.0.sag_at_6_mm=-0.1"},
		{"Movable sag at 6=0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", -0.06), "Job: Positive sag=amount", none + "verdict=inside"},
		{"Positive sag=dial reading; Movable sag at 6=0.1; Stationary sag at 6=0.06; " + sagged("Movable rim", 0.1) + sagged("Stationary rim", 0.06), "Job: Positive sag=amount", none},
		{"Positive sag=x; Movable sag at 6=0.1; Stationary sag at 6=0; " + sagged("Movable rim", 0.1) + sagged("Stationary rim", 0), "Job: Positive sag=amount", none + positive("Movable sag at 6") + "\nerror Machines row 2, Positive sag: \"x\" is not …"},
		{"Positive sag=amount; Movable sag at 6=-0.1; Stationary sag at 6=-0.06; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", -0.06), "", none}, // a negative one is plain
		{"Movable sag at 6=x; " + movRim + statRim, "", "offset_v_mm=null\nerror Machines row 2, Movable sag at 6: \"x\" is not …"},
		{"Second rim sag at 6=x; " + movRim + statRim, "", theLine + "warning Machines row 2, Second rim sag at 6: \"x\" is not …"}, // of no dial here
		{"Sag ±=x; Movable sag at 6=-0.1; Stationary sag at 6=0; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", 0), "", none + "verdict=not judged\nerror Machines row 2, Sag ±: \"x\" is not …"},
		// A bracket from plane to plane of more than 200 mm.
		{movRim + statRim, "", theLine + "says Sag of the bracket not given for Movable rim"},
		{"Coupling to movable plane=100.1; " + movRim + statRim, "", fmt.Sprintf(long, "200.1")},
		{"Coupling to stationary plane=150; " + movRim + statRim, "", fmt.Sprintf(long, "250")},
		{"Coupling to stationary plane; Stationary plane to movable plane=250; " + movRim + statRim, "", fmt.Sprintf(long, "250")},
		{"Coupling to stationary plane=150; Movable sag at 6=-0.01; Stationary sag at 6=-0.01; " + movRim + statRim, "", "verdict=outside"},
		{"Coupling to stationary plane=150; " + movRim + statRim, "Job: Sag not given=no sag", "offset_h_mm=~"},
		{"Coupling to stationary plane=150; " + gap + step, "", theLine}, {"Coupling to stationary plane=150; Movable sag at 6=0; " + movRim + face, "", theLine}, // a face's bracket is not asked about
		{"Coupling to stationary plane=150; Mounting=vertical flange; " + movRim + statRim, "", "offset_h_mm=~"},
		{"Coupling to second plane=100; Coupling to movable plane=50; Second rim sag at 6=0; " + sweepCells("Movable rim", 0.125, -0.03) + movRimAs("Second rim"), "", theLine},
		{"Coupling to second plane=101; Coupling to movable plane=50; Movable sag at 6=0; " + sweepCells("Movable rim", 0.125, -0.03) + movRimAs("Second rim"), "", fmt.Sprintf(long, "201")},
		// How well a reading is known.
		{"Graduation=0; Repeatability=0; " + movRim + statRim, "", "offset_v_mm=null\nerror Machines row 2, Repeatability: Graduation and Repeatability are both 0: no reading is known so well (hint: write how much a reading scatters when it is taken again)"},
		{"Graduation=x; " + movRim + statRim, "", theLine + "verdict=not judged\nerror Machines row 2, Graduation: \"x\" is not …"}, {"Repeatability=x; " + movRim + statRim, "", theLine + "verdict=not judged\nerror Machines row 2, Repeatability: \"x\" is not …"},
	})
	// The ± of a sag: the typed one, else a fifth of the sag; by JCGM 100, 5.1.2 an error u of the sag of one dial at 6 is one of u/2 of V at its plane. One sweep alone shows the difference to an exact sag.
	for _, c := range []struct {
		cells, sheets string
		u             float64 // of the sag, standard
	}{{"", "", 0.01}, {"Sag ±=0.05", "", 0.025}, {"Sag ±=0", "", 0}, {"", "Job: Sag uncertainty=50 %", 0.025}} {
		_, r := caseJob(t, bare, "", &jobCase{cells: "Movable sag at 6=-0.1; Stationary sag at 6=0; Coupling to movable plane=0; Coupling to stationary plane=200; " + c.cells + "; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", 0), sheets: c.sheets})
		_, exact := caseJob(t, bare, "", &jobCase{cells: "Sag ±=0; Movable sag at 6=-0.1; Stationary sag at 6=0; Coupling to movable plane=0; Coupling to stationary plane=200; " + sagged("Movable rim", -0.1) + sagged("Stationary rim", 0)})
		near(t, c.cells+c.sheets, math.Sqrt(max(r.Calc.Cov[0][0]-exact.Calc.Cov[0][0], 0)), c.u/2, 1e-9)
		near(t, c.cells+c.sheets+" sideways", r.Calc.Cov[2][2], exact.Calc.Cov[2][2], 1e-12)
	}
}

// movRimAs are the readings of the rim at +100 mm under another name.
func movRimAs(family string) string { return sweepCells(family, 0.15, -0.02) }

// A line reduced elsewhere: each of its numbers, slopes by a gap difference at a diameter, and its own ±.
func TestGivenLines(t *testing.T) {
	none := "offset_v_mm=null verdict=not judged\n"
	cases(t, job.Warning, []string{"Speed=1480", "Coupling=short", "Given offset V=0.1", "Given offset H=-0.04"}, "", []jobCase{
		{"Given slope V=0.5; Given slope H=0.2", "", theLine + "error …"}, // no feet
	})
	cases(t, job.Warning, []string{"Speed=1480", "Coupling=short", "Given offset V=0.1", "Given offset H=-0.04", "Coupling to front feet=300", "Front to rear feet=500"}, "", []jobCase{
		{"Given slope V=0.5; Given slope H=0.2", "", theLine + "u_offset_v_mm=0.02081665999 u_slope_v=0.1"},
		{"Face diameter=200; Given gap 12 minus 6=-0.1; Given gap 3 minus 9=-0.04", "", theLine},
		{"Face diameter=200; Given gap 12 minus 6=-0.1; Given slope H=0.2", "", theLine}, {"Face diameter=200; Given slope V=0.5; Given gap 3 minus 9=-0.04", "", theLine},
		{"Given gap 12 minus 6=-0.1; Given gap 3 minus 9=-0.04", "", "verdict=not judged\nerror Machines row 2, Face diameter: missing (hint: write the diameter at which the gaps were taken)"},
		{"Face diameter=x; Given gap 12 minus 6=-0.1; Given slope H=0.2", "", none + "error Machines row 2, Face diameter: \"x\" is not …"},
		{"Face diameter=200; Given gap 12 minus 6=-0.1; Given slope V=0.5; Given slope H=0.2", "", none + "error Machines row 2, Given gap 12 minus 6: Given slope V and Given gap 12 minus 6 are both filled (hint: keep one)"},
		{"Face diameter=200; Given gap 3 minus 9=-0.1; Given slope V=0.5; Given slope H=0.2", "", none + "error Machines row 2, Given gap 3 minus 9: Given slope H and Given gap 3 minus 9 are both filled (hint: keep one)"},
		{"Face diameter=200; Given gap 12 minus 6=x; Given slope H=0.2", "", none + "error Machines row 2, Given gap 12 minus 6: \"x\" is not …"},
		{"Given slope V=x; Given slope H=0.2", "", none + "error Machines row 2, Given slope V: \"x\" is not …"},
		{"Given slope V=0.5", "", "verdict=not judged\nerror Machines row 2, Given slope H: missing (hint: write 0 if it was measured as none)"}, {"Given slope H=0.5", "", "verdict=not judged\nerror Machines row 2, Given slope V: missing (hint: …"},
		{"Given slope V=0.5; Given slope H=0.2; Given offset V", "", "verdict=not judged\nerror Machines row 2, Given offset V: missing (hint: …"}, {"Given slope V=0.5; Given slope H=0.2; Given offset H", "", "verdict=not judged\nerror Machines row 2, Given offset H: missing (hint: …"},
		{"Given slope V=0.5; Given slope H=0.2; Given offset ±=0.06", "", theLine + "u_offset_v_mm=0.06 u_offset_h_mm=0.06 u_slope_v=0.1"}, {"Given slope V=0.5; Given slope H=0.2; Given slope ±=0.06", "", theLine + "u_slope_v=0.06 u_slope_h=0.06"},
		{"Given slope V=0.5; Given slope H=0.2; Given offset ±=x", "", none + "error Machines row 2, Given offset ±: \"x\" is not …"}, {"Given slope V=0.5; Given slope H=0.2; Given slope ±=x", "", none + "error Machines row 2, Given slope ±: \"x\" is not …"},
		{"Given slope V=0.5; Given slope H=0.2; Given slope ±=0", "", none + "error Machines row 2, Given slope ±: \"0\" cannot be (hint: write a number of more than 0)"},
		{"Given slope V=0.5; Given slope H=0.2; Repeatability=0.05", "", theLine + "u_offset_v_mm=~"},
	})
}
