package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

const checkHead = "Checks: Machine,Check,Value,Limit,Source,By,When,Done,Hold\n"

// How a check stands: a value within its limit, over it, at it; the least that is asked for instead of the most; done and not done without a number; and every sentence that comes of it.
func TestChecksStand(t *testing.T) {
	row := func(cells string) string { return checkHead + "pump," + cells }
	failed := func(s string) string { return "checks.0.state=failed checks.0.failed=true\nsays First: " + s }
	cases(t, job.Warning, lowRow, "", []jobCase{
		// Known ones with a usual limit: 0.0254 mm of runout, 0.25 mm of flanges, 0.0508 mm by the piping.
		{"", row("hub runout movable,0.02,,,,,,"), "checks.0.state=done checks.0.value=0.02 checks.0.limit=0.0254 checks.0.failed=false checks.0.hold=false checks.0.row=2\nnot First: "},
		{"", row("hub runout movable,0.0254,,,,,,"), "checks.0.state=done"}, {"", row("hub runout movable,0.026,,,,,,"), failed("hub runout movable was found as 0.026 mm, over 0.025 mm (common practice, no source). True the hub or the shaft first.")},
		{"", row("Runout stationary hub,1 mil,,,,,,"), "checks.0.check=hub runout stationary checks.0.state=done checks.0.value_text=1 mil"}, {"", row("hub runout movable,0.03,0.05,,,,,"), "checks.0.state=done checks.0.limit=0.05 checks.0.source=your sheet Checks, row 2"}, {"", row("hub runout movable,0.03,0.05,the maker,,,,"), "checks.0.source=the maker"},
		{"", row("hub runout movable,0.06,0.05,the maker,,,,"), failed("hub runout movable was found as 0.06 mm, over 0.05 mm (the maker). True the hub or the shaft first.")},
		{"", row("flange parallelism,0.25,,,,,,"), "checks.0.state=done"}, {"", row("flange parallelism,0.26,,,,,,"), failed("flange parallelism was found as 0.26 mm, over 0.25 mm (")}, {"", row("piping movement,0.0508,,,,,,"), "checks.0.state=done"}, {"", row("pipe strain,0.06,,,,,,"), failed("piping movement was found as 0.06 mm, over 0.051 mm (")},
		{"", row("bearing lift,0.06,,,,,,"), "checks.0.state=no limit checks.0.source="}, {"", row("bearing lift,0.06,,the maker,,,,"), "checks.0.state=no limit checks.0.source="}, {"", row("bearing lift,0.06,,,,,yes,"), "checks.0.state=done"},
		{"", row("bearing lift,0.06,0.05,,,,,"), failed("bearing lift was found as 0.06 mm, over 0.05 mm (your sheet Checks, row 2). Mend the bearing first; no alignment holds on it.")},
		// The least that is asked for.
		{"", row("final torque,300,300,,,,,"), "checks.0.state=done\nsays to 300 N·m (your sheet Checks, row 2)"}, {"", row("final torque,299,300,the maker,,,,"), failed("final torque was found as 299 N·m, under 300 N·m (the maker). Tighten in steps, in the usual order, to what the maker or the site asks.")},
		{"", row("final torque,,300,the maker,,,,"), "checks.0.state=open\nsays to 300 N·m (the maker); then measure again"}, {"", row("coupling bolts,,300,the maker,,,,"), "says to the torque that the machine's maker or the site asks for; then"}, {"", row("final torque,300,,,,,,"), "checks.0.state=no limit\nsays to the torque that the machine's maker or the site asks for; then"},
		{"", row("final torque,200 lbf·ft,300 N·m,the maker,,,,"), "checks.0.state=failed checks.0.value=271.163590"},
		// Without a number.
		{"", row("guard,,,,,,yes,"), "checks.0.state=done"}, {"", row("guard,,,,,,no,"), failed("guard is marked as failed. The guard goes back before the machine runs.")}, {"", row("guard,,,,,,,"), "checks.0.state=open\nsays Still to be checked afterwards: guard."}, {"", row("isolation,,,,,,,"), "says Before it is moved, still to be checked: isolation."},
		{"", row("isolation,,,,,at noon,,"), "says Before it is moved, still to be checked: isolation (at noon).\nnot afterwards"}, {"", row("isolation,,,,,,no,"), failed("isolation is marked as failed. Nobody goes near the coupling before the machine is isolated, locked, tagged and tried.")}, {"", row("dowels,,,,,,no,"), failed("dowels is marked as failed. Dowel it once it has been read hot and found right.")},
		{"", row("jackscrews,,,,,,no,"), failed("jackscrews backed off is marked as failed. Back the jackscrews off: they push the machine out of line as it warms.")}, {"", row("hot check,,,,,,no,"), failed("hot check is marked as failed. Read it hot after some hours near full load.")}, {"", row("flange offset,,,,,,no,"), failed("flange offset is marked as failed. Mend the piping first; it pulls the machine out of line again.")},
		{"", row("hub runout movable,0.02,,,,,no,"), "checks.0.state=failed\nsays First: hub runout movable was found as 0.02 mm, over 0.025 mm"}, {"", row("bearing lift,0.06,,,,,no,"), failed("bearing lift is marked as failed. Mend the bearing first")},
		// One of their own.
		{"", row("paint,3,5,,,,,"), "checks.0.state=done checks.0.check=paint"}, {"", row("paint,5.1,5,,,,,"), failed("paint was found as 5.1, over 5 (your sheet Checks, row 2). Mend that first.")}, {"", row("paint,5 mil,5 mm,,,,,"), "checks.0.state=done checks.0.value=0.127 checks.0.limit=5"}, {"", row("paint,,,,,,no,"), failed("paint is marked as failed. Mend that first.")},
		{"", row("paint,5 mil,5,,,,,"), "checks.0.state=open\nerror Checks row 2, Limit: the value, \"5 mil\", and the limit, \"5\", are not of one kind (hint: give both the same kind of unit)"}, {"", row("paint,5 N·m,5 mm,,,,,"), "error Checks row 2, Limit: the value, \"5 N·m\", and the limit, \"5 mm\", are not of one kind …"},
		{"", row("paint,thick,,,,,,"), "checks.0.state=open\nerror Checks row 2, Value: \"thick\" is not …"}, {"", row("paint,,thick,,,,,"), "checks.0.state=open\nerror Checks row 2, Limit: \"thick\" is not …"}, {"", row("hub runout movable,5 N·m,,,,,,"), "checks.0.state=open\nerror Checks row 2, Value: …"}, {"", row("guard,,,,,,perhaps,"), "checks.0.state=open\nerror Checks row 2, Done: \"perhaps\" is not …"},
		{"", row(",0.02,,,,,,"), "checks.#=0\nerror Checks row 2, Check: missing (hint: name what was checked, such as hub runout movable)"}, {"", checkHead + ",guard,0.02,,,,,,", "checks.#=0\nerror Checks row 2, Machine: missing…"}, {"", checkHead + "fan,guard,0.02,,,,,,", "checks.#=0\nerror Checks row 2, Machine: \"fan\" is not on …"},
		// Hold points, until they are done.
		{"", row("guard,,,,,,,yes"), "checks.0.hold=true\nsays Hold point: guard. Nothing further is done here before it is passed."}, {"", row("guard,,,,,,yes,yes"), "checks.0.hold=true\nnot Hold point"}, {"", row("guard,,,,,,,no"), "checks.0.hold=false\nnot Hold point"}, {"", row("guard,,,,,,no,yes"), "says Hold point: guard."}, {"", row("bearing lift,0.1,,,,,,yes"), "says Hold point: bearing lift."},
		{"", row("guard,,,,A. Fitter,Monday,,"), "checks.0.by=A. Fitter checks.0.when=Monday"},
		// The runout of a rigid coupling's two hubs.
		{"Coupling=rigid", "", "says check the runout of both hubs before the readings are used"}, {"Coupling=rigid", row("hub runout movable,0.01,,,,,,") + "\npump,hub runout stationary,0.03,,,,,,", "not check the runout of both hubs"}, {"Coupling=rigid", row("hub runout movable,0.01,,,,,,"), "says check the runout of both hubs"},
		{"Coupling=rigid", row("hub runout movable,0.01,,,,,,") + "\npump,hub runout stationary,,,,,,,", "says check the runout of both hubs"}, {"Coupling=flexible", "", "not check the runout of both hubs"}, {"Coupling=rigid", row("hub runout stationary,0.01,,,,,,") + "\npump,guard,,,,,,yes,", "says check the runout of both hubs"},
	})
	// In one cell.
	e, r := caseJob(t, lowRow, "", &jobCase{sheets: checkHead + "pump,hub runout movable,0.08,,,,,,\npump,guard,,,,,,no,\npump,isolation,,,,,,yes,\npump,bearing lift,0.1,,,,,,\npump,dowels,,,,,,,\npump,hot check,,,,,,,\npump,final torque,299,300,,,,,\n"})
	if s := string(e.AppendChecks(nil, r)); s != "failed: hub runout movable 0.08 mm, guard, final torque 299 N·m; 1 done; 1 no limit; 2 open" {
		t.Error(s)
	}
	e, r = caseJob(t, lowRow, "", &jobCase{sheets: checkHead + "pump,isolation,,,,,,yes,"})
	if s := string(e.AppendChecks(nil, r)); s != "1 done" {
		t.Error(s)
	}
	inch, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Units=inch\n" + checkHead + "pump,final torque,200,,,,,,\npump,hub runout movable,1.1,,,,,,"})
	if s := string(inch.AppendChecks(nil, inch.Row(0))); s != "failed: hub runout movable 1.1 mil; 1 no limit" || inch.CheckNumber(inch.Row(0).Checks[0].Value, inch.Row(0).Checks[0].Kind) != "200 lbf·ft" {
		t.Error(s, inch.CheckNumber(inch.Row(0).Checks[0].Value, inch.Row(0).Checks[0].Kind))
	}
	for k, name := range evaluate.CheckNames() { // each by its name and by every other spelling
		c := &evaluate.CheckKinds[k]
		for _, s := range append(strings.Split(c.Also, "|"), c.Name) {
			if f := evaluate.FindCheck(strings.ToUpper(s)); f != c || f.Name != name {
				t.Errorf("%s is not %s", s, name)
			}
		}
	}
	if evaluate.FindCheck("paint") != nil || evaluate.FindCheck("") != nil {
		t.Error("a check of their own is one that is known")
	}
}

// In which order feet are tightened: crosswise where they are four, as they stand along and across where they are not.
func TestFeetTightenedInTurn(t *testing.T) {
	cases(t, job.Error, lowRow, "", []jobCase{
		{"", "", "says the same order every time (front 9, rear 3, front 3, rear 9), to"},
		{"", "Feet: Machine,Foot,Across\npump,rear 3,200\npump,front 3,200\npump,rear 9,200\npump,front 9,200", "says the same order every time (front 9, rear 3, front 3, rear 9), to"},
		{"", "Feet: Machine,Foot,Along,Across\npump,D,800,200\npump,B,300,200\npump,C,800,-200\npump,A,300,-200", "says (A, D, B, C), to"},
		{"", "Feet: Machine,Foot,Along,Across\npump,D,800,0\npump,B,300,200\npump,A,300,-200", "says (A, B, D), to"},
		{"", "Feet: Machine,Foot,Along,Across\npump,F,800,200\npump,E,800,-200\npump,D,550,200\npump,C,550,-200\npump,B,300,200\npump,A,300,-200", "says (A, B, C, D, E, F), to"},
		{"Mounting=vertical flange; Bolt circle=400; Bolts=4; Coupling to flange=200", "", "says (the bolts of the flange across the circle), to"},
	})
}

// The gap between the shaft ends. Moving the line tilts the movable shaft and so opens or closes the gap at a place on the hubs by slope · radius: of a slope of −0.2 mm/m that is taken out, 0.02 mm at 100 mm, closing at the
// bottom, where the hubs stood apart the less.
func TestGapBetweenEnds(t *testing.T) {
	gap := "Shaft gap=3; Gap wanted=3; Gap tolerance=0.5"
	cases(t, job.Warning, lowRow, thickStock+"\nJob: Pack tolerance=0.001", []jobCase{
		{gap, "", "gap_mm=3 gap_wanted_mm=3 gap_tolerance_mm=0.5 gap_after_mm=3 gap_verdict=inside gap_push_mm=0\nsays After that the gap between the shaft ends is predicted as 3 mm, which is within 3 mm ± 0.5 mm; read it again at the end, as the machine may slide on its base.\nnot Round the hubs"},
		{"Shaft gap=3.5; Gap wanted=3; Gap tolerance=0.5", "", "gap_verdict=inside"}, {"Shaft gap=2.5; Gap wanted=3; Gap tolerance=0.5", "", "gap_verdict=inside"},
		{"Shaft gap=3.6; Gap wanted=3; Gap tolerance=0.5", "", "gap_verdict=outside gap_push_mm=-0.6\nsays is predicted as 3.6 mm; wanted is 3 mm ± 0.5 mm: push the machine lengthwise by 0.6 mm, towards the coupling, at the end, and read the gap again."},
		{"Shaft gap=2.4; Gap wanted=3; Gap tolerance=0.5", "", "gap_verdict=outside gap_push_mm=0.6\nsays by 0.6 mm, away from the coupling, at the end"},
		{"Shaft gap=3.6; Gap wanted=3", "", "gap_verdict=null gap_push_mm=-0.6\nsays is predicted as 3.6 mm; wanted is 3 mm, without a tolerance to hold it to."}, {"Shaft gap=3.6", "", "gap_after_mm=3.6 gap_wanted_mm=null\nsays is predicted as 3.6 mm. It is not judged: no gap wanted was given."},
		{"Gap wanted=3; Gap tolerance=0.5", "", "gap_mm=null gap_after_mm=null\nsays Set the gap between the shaft ends to 3 mm at the end; it was not read."}, {"Gap tolerance=0.5", "", "gap_tolerance_mm=0.5\nnot gap between the shaft ends"},
		// Round the hubs.
		{gap + "; Face diameter=200", "", "gap_after_mm=3 gap_after_least_mm=~ gap_after_most_mm=~\nnot Round the hubs"}, // in line afterwards
		{gap + "; Face diameter=200; Gap read at=12", "", "gap_after_mm=2.98"}, {gap + "; Face diameter=200; Gap read at=6", "", "gap_after_mm=3.02"}, {gap + "; Face diameter=200; Gap read at=3", "", "gap_after_mm=3.005"}, {gap + "; Face diameter=200; Gap read at=9", "", "gap_after_mm=2.995"}, {gap + "; Face diameter=200; Gap read at=mean", "", "gap_after_mm=3"},
		{gap + "; Gap read at=6", "", "gap_after_mm=null gap_mm=null\nwarning Machines row 2, Face diameter: the gap was read at a place on the hubs, and Face diameter does not say on which circle …"}, {"Gap wanted=3; Gap read at=6", "", "gap_wanted_mm=3"}, {gap + "; Gap read at=mean", "", "gap_after_mm=3"},
		{"Shaft gap=x; Gap wanted=3", "", "gap_mm=null gap_wanted_mm=null\nwarning Machines row 2, Shaft gap: \"x\" is not …"},
		// A rotor that floats.
		{"End float=4; Running mark=1", "", "end_float_mm=4 running_mark_mm=1\nsays The rotor floats 4 mm lengthwise: hold it at its running mark, 1 mm from the end nearest the coupling"}, {"End float=4", "", "says The rotor floats 4 mm lengthwise and its running mark was not given: find it"}, {"End float=0", "", "not The rotor floats"},
		{"End float=4; Running mark=4", "", "running_mark_mm=4"}, {"End float=4; Running mark=4.1", "", "running_mark_mm=null\nwarning Machines row 2, Running mark: the mark, 4.1 mm, lies beyond the float, 4 mm …\nsays its running mark was not given"},
		{gap + "; End float=6; Running mark=3", "", "says At the end of its float the hubs would touch: the gap is 0 mm short."}, {gap + "; End float=6; Running mark=3.2", "", "says At the end of its float the hubs would touch: the gap is 0.2 mm short. Do not couple up like this."}, {gap + "; End float=6; Running mark=2.9", "", "not the hubs would touch"},
	})
	cases(t, job.Warning, insideRow, thickStock, []jobCase{ // it stays: what was found. At 12 the gap is 0.002 mm less than at the centre, and round the hubs 0.00224 mm more and less than there.
		{gap + "; Face diameter=200; Gap read at=12", "", "gap_after_mm=3\nsays The gap between the shaft ends is 3 mm, which is within\nsays Round the hubs the gap is then from 3 mm to 3.004 mm, on a circle of 200 mm."},
	})
}
