package sentences

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What keeps a row from a verdict, and what a cell that cannot be read spoils: only what has a use for it.
func TestWhatACellSpoils(t *testing.T) {
	judged, held := "verdict=outside offset_v_mm=0.1\n", "verdict=not judged offset_v_mm=0.1\n"
	cases(t, job.Warning, change(reverse, "Coupling=short", "Movable sag at 6=0", "Stationary sag at 6=0"), "", []jobCase{
		{"", "", judged},
		{"Second rim 3=x", "", "verdict=not judged offset_v_mm=null\nerror Machines row 2, Second rim 3: \"x\" is not …"}, {"Method=reverse indicator; Second rim 3=x", "", judged + "warning Machines row 2, Second rim 3: \"x\" is not …\nwarning Machines row 2: Second rim: not used by …"}, {"Second rim sag at 6=x", "", judged + "warning …"}, {"Face diameter=x", "", judged + "warning Machines row 2, Face diameter: …"}, {"Face side=x", "", judged + "warning …"}, {"Coupling to second plane=x", "", judged + "warning …"}, {"Given offset V=x", "", judged + "warning Machines row 2, Given offset V: …\nwarning Machines row 2: the given line is not used …"}, {"Given slope ±=x", "", judged + "warning …"},
		{"Bolt circle=x", "", judged + "warning …"}, {"Bolts=x", "", judged + "warning …"}, {"Coupling to flange=x", "", judged + "warning …"}, {"Shaft gap=x", "", judged + "warning …"}, {"End float=x", "", judged + "warning …"}, {"Spacer length=x", "", judged + "warning …"},
		{"Movable sweep=x", "", "verdict=not judged offset_v_mm=null\nerror Machines row 2, Movable sweep: …"}, {"Method=reverse indicator; Stationary sweep=x", "", "verdict=not judged\nerror Machines row 2, Stationary sweep: …"}, {"Method=rim and face; Stationary sweep=x", "", "verdict=not judged\nerror Machines row 2, Stationary sweep: …\nerror Machines row 2, Face: Face readings are missing …"},
		{"Coupling to front feet=x", "", "verdict=outside front_shim_mm=null\nerror Machines row 2, Coupling to front feet: …"}, {"Priority=x", "", judged + "error Machines row 2, Priority: …"}, {"Note=x", "", judged}, {"Movable rim 3=x", "", "verdict=not judged offset_v_mm=null\nerror Machines row 2, Movable rim 3: …"},
		{"Mounting=x", "", held + "error Machines row 2, Mounting: …"}, {"Coupling=x", "", held + "error Machines row 2, Coupling: …"}, {"Seen from=x", "", "verdict=not judged offset_v_mm=null\nerror Machines row 2, Seen from: …"}, {"Coupling=spacer; Spacer length=x", "", held + "error Machines row 2, Spacer length: \"x\" is not …"},
		{"Coupling=spacer", "", held + "error Machines row 2, Spacer length: missing (hint: write the distance between the two flex planes)"}, {"Coupling=universal; Slope limit=0.1; Spacer length=x", "", "verdict=outside\nerror Machines row 2, Spacer length: …"}, {"Coupling; Spacer length=400", "", "coupling=spacer"}, {"Coupling; Spacer length=400", "Job: Default coupling=rigid", "coupling=rigid"},
		{"Coupling=vertical flange; Bolt circle=400; Bolts=4; Coupling to flange=200", "", "mounting=vertical flange"}, {"Coupling=flange; Mounting=horizontal; Bolt circle=400; Bolts=4; Coupling to flange=200", "", held + "error Machines row 2, Mounting: Coupling says \"flange\", which is a mounting, and Mounting says horizontal (hint: write the kind of coupling in Coupling and how the machine is mounted in Mounting)"}, {"Mounting=horizontal", "Job: Default coupling=vertical flange", "mounting=horizontal"}, {"Coupling; Bolt circle=400; Bolts=4; Coupling to flange=200", "Job: Default coupling=vertical flange", "mounting=vertical flange"},
		// Names of sides are words; a number there is a reading that slipped.
		{"Side at 3=river; Side at 9=wall 2", "", "side_3=river side_9=wall 2"}, {"Side at 3=0.12", "", "side_3=\nwarning Machines row 2, Side at 3: …"}, {"Side at 9=5 mm", "", "side_9=\nwarning Machines row 2, Side at 9: …"}, {"Seen from=stationary; Side at 3=river; Side at 9=wall", "", "side_3=wall side_9=river offset_h_mm=0.04"},
		{"", "Job: Seen from=stationary", "offset_h_mm=0.04 slope_h=-0.2 seen_from=stationary"}, {"Seen from=movable", "Job: Seen from=stationary", "offset_h_mm=-0.04"}, {"Seen from=movable", "Job: Seen from=x", "offset_h_mm=-0.04\nerror Job row 1, Seen from: …"},
	})
	for k, c := range []struct {
		name string
		turn [2]string // as typed seen from one side and from the other: the same machine
	}{
		{"given", [2]string{"Method=line; Given offset V=0.1; Given offset H=0.05; Given slope V=0.2; Given slope H=0.3", "Method=line; Given offset V=0.1; Given offset H=-0.05; Given slope V=0.2; Given slope H=-0.3"}},
		{"running", [2]string{"Running offset V=0.1; Running offset H=0.05; Running slope V=0.2; Running slope H=0.3", "Running offset V=0.1; Running offset H=-0.05; Running slope V=0.2; Running slope H=-0.3"}},
		{"change", [2]string{"Change offset V=0.1; Change offset H=0.05; Change slope V=0.2; Change slope H=0.3", "Change offset V=0.1; Change offset H=-0.05; Change slope V=0.2; Change slope H=-0.3"}},
		{"cold", [2]string{"Cold offset V=0.1; Cold offset H=0.05; Cold slope V=0.2; Cold slope H=0.3", "Cold offset V=0.1; Cold offset H=-0.05; Cold slope V=0.2; Cold slope H=-0.3"}},
		{"growth", [2]string{fourColumns, strings.NewReplacer("H=0.01", "H=-0.01", "H=-0.02", "H=0.02", "H=-0.01", "H=0.01", "H=0.03", "H=-0.03").Replace(fourColumns)}},
		{"gap", [2]string{"Method=line; Face diameter=200; Given offset V=0.1; Given offset H=0.05; Given gap 12 minus 6=0.2; Given gap 3 minus 9=0.3", "Method=line; Face diameter=200; Given offset V=0.1; Given offset H=-0.05; Given gap 12 minus 6=0.2; Given gap 3 minus 9=-0.3"}},
	} {
		turned := change(grownRow, "Movable rim 3=-0.13", "Movable rim 9=-0.17", "Stationary rim 3=-0.01", "Stationary rim 9=0.11")
		_, a := caseJob(t, grownRow, "", &jobCase{cells: c.turn[0]})
		_, b := caseJob(t, turned, "", &jobCase{cells: "Seen from=stationary; " + c.turn[1]})
		if math.Abs(a.Wanted.DH-b.Wanted.DH)+math.Abs(a.Wanted.TH-b.Wanted.TH)+math.Abs(a.Wanted.DV-b.Wanted.DV)+math.Abs(a.Wanted.TV-b.Wanted.TV)+math.Abs(a.Offset.H-b.Offset.H)+math.Abs(a.Slope.H-b.Slope.H)+math.Abs(a.Slope.V-b.Slope.V) > 1e-12 || math.IsNaN(a.Wanted.DH+a.Slope.H) {
			t.Errorf("%d %s: %+v %+v, seen from the other side %+v %+v", k, c.name, a.Wanted, a.Slope, b.Wanted, b.Slope)
		}
	}
}

// A check of the readings that fails says what it found, the limit, where, and what would explain it.
func TestFailedReadingsSay(t *testing.T) {
	sound := change(reverse, "Coupling=short", "Movable sag at 6=0", "Stationary sag at 6=0")
	cases(t, job.Error, sound, "", []jobCase{
		{"Movable rim 3=-0.47", "", "verdict=not judged offset_v_mm=~\nerror Machines row 2, Movable rim: top + bottom differs from left + right by 0.3 mm, limit 0.047 mm (hint: …turn both shafts together, look for a loose bracket or a plunger at its end, and read again)"},
		{"Stationary rim 3=0.41", "", "error Machines row 2, Stationary rim: top + bottom differs from left + right by 0.3 mm, limit 0.041 mm (hint: …turn both …"},
		{"Movable rim 12 again=0.1", "", "verdict=not judged\nerror Machines row 2, Movable rim: the repeated position differs from the first by 0.1 mm, limit 0.02 mm (hint: …something moved while turning; read again)"},
		{"Movable rim 12 again=0.02", "", "verdict=too close to call"}, {"Movable rim 12 again=0.021", "", "error Machines row 2, Movable rim: the repeated position differs …"}, {"Movable rim 12 again=0.03", "Job: Closure graduations=3", "verdict=too close to call"},
		{"Movable rim 3=-0.20", "", "verdict=too close to call"}, {"Movable rim 3=-0.203", "", "error Machines row 2, Movable rim: top + bottom …"}, {"Movable rim 3=-0.26", "Job: Balance share=30 %", "verdict=too close to call"}, // 10 % of 0.3
		{"Coupling to movable plane=0; Coupling to stationary plane=0", "", "verdict=not judged\nerror Machines row 2: the readings see the line at one plane only, so the slope is not settled (hint: add a rim at another plane, or a face)"},
		{"Offset V=0.1; " + noReadings, "", "verdict=not judged\nerror Machines row 2: no readings (hint: Offset V is worked out from readings, and what stands in its column is not read; a line that was worked out elsewhere goes into Given offset V, Given slope V and so on)"},
		{"Slope total=0.1; " + noReadings, "", "error Machines row 2: no readings (hint: …"}, {"Verdict=inside; " + noReadings, "", "error Machines row 2: no readings (hint: fill readings, such as …"},
	})
}

// What the ± of a verdict is made of, and what would settle one that is too close.
func TestWhatWouldSettle(t *testing.T) {
	base := change(reverse, "Coupling=short", "Movable sag at 6=0", "Stationary sag at 6=0", "Slope limit=5", "Limit reason=maker")
	list := []jobCase{
		{"Offset limit=0.0001", "", "verdict=outside\nsays The ± of what decides comes from the readings of Stationary rim (49 %), the readings of Movable rim (49 %).\nnot would settle it\nnot settles it"},
		{"Offset limit=0.106", "", "verdict=too close to call\nsays No repeat of these readings settles it: the number stands too near its limit, or the ± comes from the distances by tape."},
		// Seen: "the row's own limits, stricter than published" of a looser one.
		{"Offset limit=0.106", "", "says Held to offset 0.106 mm, slope 5 mm/m (the row's own limits; published, flexible coupling, up to 1800 rpm: \nsays the row's own limit is looser than the set's and holds for this reason: maker\nnot stricter than"},
		{"Offset limit=0.05; Slope limit=0.2", "", "says (the row's own limits, stricter than published, flexible coupling"},
		{"Method=line; Given offset V=0.1; Given offset H=-0.04; Given slope V=0.5; Given slope H=0.2; Offset limit=0.106", "", "verdict=too close to call\nnot The ± of what decides\nnot would settle it"},
		{"Offset limit=0.1077; Growth movable front V=0; Growth movable rear V=0", "", "verdict=too close to call\nsays No repeat of these readings settles it: the number stands too near its limit, or the ± comes from the distances by tape."},
		{"Coupling to movable plane=20; Coupling to stationary plane=20; Offset limit=0.2; Distance uncertainty=5", "", "offset_v_mm=~"},
	}
	cases(t, job.Error, base, "", list)
}

// What a person sees of a text from a file: every sign that a terminal would obey or hide is written out; others stay.
func TestEveryHiddenSign(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"plain ~ text", "plain ~ text"}, {"a\nb", `a\nb`}, {"a\tb\r", `a\tb\r`}, {"\x1b[31m", `\x1b[31m`}, {"\x00", `\x00`}, {"\x1f \x20", `\x1f  `}, {"\x7e\x7f", `~\x7f`}, {"\u0080", `\u0080`}, {"\u009f\u00a0", "\\u009f\u00a0"}, {"é", "é"}, {"\u202e", `\u202e`}, {"\ufeff", `\ufeff`},
		{"\u034e\u034f\u0350", "\u034e\\u034f\u0350"}, {"\u115e\u115f\u1160\u1161", "\u115e\\u115f\\u1160\u1161"}, {"\u3163\u3164", "\u3163\\u3164"}, {"\uff9f\uffa0", "\uff9f\\uffa0"}, {"\u17b3\u17b4\u17b5\u17b6", "\u17b3\\u17b4\\u17b5\u17b6"}, {"\u180a\u180b\u180f\u1810", "\u180a\\u180b\\u180f\u1810"}, {"\ufe00\ufe0f", `\ufe00\ufe0f`},
		{"\U000e0100\U000e01ef", `\U000e0100\U000e01ef`}, {"\U0001f600", "\U0001f600"}, {"\ue000", `\ue000`}, {"\xff", `\xff`}, {"a\xc3", `a\xc3`}, {"\ufffd", "\ufffd"}, {"\u2028", `\u2028`}, {"\u200b", `\u200b`}, {"", ""},
	} {
		if got := Visible(c.in); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
		var b bytes.Buffer
		if n, err := (VisibleWriter{&b}).Write([]byte(c.in)); err != nil || n != len(c.in) || b.String() != strings.ReplaceAll(c.want, `\n`, "\n") {
			t.Errorf("%q: %q, %d", c.in, b.String(), n)
		}
	}
}

// Which magnitude decides: the one that takes most of its limit, of those that the kind of coupling is judged by, as the reason names it.
func TestWhichMagnitudeDecides(t *testing.T) {
	line := []string{"Speed=1480", "Method=line", "Given offset V=0.3", "Given offset H=0.4", "Given slope V=3", "Given slope H=4", "Coupling to front feet=300", "Front to rear feet=500"} // 0.5 mm, 5 mm/m
	why := func(s string) string { return "why=" + s + "\n" }
	cases(t, job.Error, line, "Job: Plausible ranges=no", []jobCase{
		{"Coupling=short; Offset limit=0.1; Slope limit=0.4", "", why("slope 5 mm/m is over its limit of 0.4 mm/m")}, {"Coupling=short; Offset limit=0.03; Slope limit=0.4", "", why("offset 0.5 mm is over its limit of 0.03 mm")},
		{"Coupling=universal; Slope limit=0.4", "", why("slope 5 mm/m is over its limit of 0.4 mm/m")},
		// A spool of 400 mm: at the stationary plane V(+200)/400, (0.3 + 0.6)/0.4 and (0.4 + 0.8)/0.4; at the movable one −V(−200)/400, 0.75 and 1 of it.
		{"Coupling=spacer; Spacer length=400; Slope limit=0.4", "", why("angle at the stationary flex plane 3.75 mm/m is over its limit of 0.4 mm/m") + "flex_stationary_v=2.25 flex_stationary_h=3 flex_stationary=3.75 flex_movable_v=0.75 flex_movable_h=1 flex_movable=1.25"},
		{"Coupling=spacer; Spacer length=400; Slope limit=0.4; Given slope V=-3; Given slope H=-4", "", why("angle at the movable flex plane 3.75 mm/m is over its limit of 0.4 mm/m") + "flex_movable=3.75 flex_stationary=1.25"},
		{"Coupling=short; Offset limit=0.5; Slope limit=50; Limit reason=maker", "", why("offset 0.5 mm ± 0.021 mm against a limit of 0.5 mm: 50 % chance inside; measure again, or finer")}, {"Coupling=short; Offset limit=5; Slope limit=50; Limit reason=maker", "", why("") + "verdict=inside"},
		{"Coupling=short; Running slope V=0.1; Offset limit=0.1; Slope limit=0.1", "", "why=slope from the wanted line … is over its limit of 0.1 mm/m"},
	})
}
