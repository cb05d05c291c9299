package sheet

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// Every setting of the Job sheet that is a number: it is read into its own place and no other, has its unit, is held to its least value on either side, and is what the documents say where nobody says.
func TestEverySettingOfNumbers(t *testing.T) {
	read := func(text string) (settings, *Evaluator) {
		e, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: " + text})
		return e.set, e
	}
	plain, _ := read("Name=x")
	inch, _ := read("Units=inch")
	num := func(s *settings, path string) float64 {
		v := reflect.ValueOf(*s)
		for _, f := range strings.Split(path, ".") {
			v = v.FieldByName(f)
		}
		if v.Kind() == reflect.Int {
			return float64(v.Int())
		}
		return v.Float()
	}
	all := []string{"dial.Graduation", "dial.Repeatability", "feeler.Graduation", "feeler.Repeatability", "packTol", "moveStep", "checks.BalanceShare", "checks.BalanceGraduation", "checks.ClosureGraduation", "sagShare", "distanceU", "softLimit", "tempU", "coefU", "cooling", "spare", "pieces", "cold"}
	for _, c := range []struct {
		name, typed, field string
		want               float64
		least              float64
		zero               bool // may be 0
		metric, imperial   float64
	}{
		{"Graduation", "0.02", "dial.Graduation", 0.02, 0, false, tables.DialMetric.Graduation, tables.DialInch.Graduation},
		{"Repeatability", "0.3 mil", "dial.Repeatability", 0.00762, 0, true, tables.DialMetric.Repeatability, tables.DialInch.Repeatability},
		{"Feeler graduation", "0.03", "feeler.Graduation", 0.03, 0, false, tables.FeelerMetric.Graduation, tables.FeelerInch.Graduation},
		{"Feeler repeatability", "0.04", "feeler.Repeatability", 0.04, 0, true, tables.FeelerMetric.Repeatability, tables.FeelerInch.Repeatability},
		{"Pack tolerance", "0.05", "packTol", 0.05, 0, false, tables.PackToleranceMM, tables.PackToleranceInch},
		{"Move step", "0.06", "moveStep", 0.06, 0, true, 0, 0},
		{"Balance share", "7 %", "checks.BalanceShare", 0.07, 0, false, 0, 0}, {"Balance graduations", "3", "checks.BalanceGraduation", 3, 0, false, 0, 0}, {"Closure graduations", "4", "checks.ClosureGraduation", 4, 0, false, 0, 0},
		{"Sag share", "30", "sagShare", 0.3, 0, true, 0.2, 0.2}, {"Distance uncertainty", "2", "distanceU", 2, 0, true, 1, 1}, {"Soft foot limit", "0.08", "softLimit", 0.08, 0, false, 0.05, 0.0508},
		{"Temperature uncertainty", "3", "tempU", 3, 0, true, 2, 2}, {"Coefficient uncertainty", "8 %", "coefU", 0.08, 0, true, 0.05, 0.05}, {"Cooling per minute", "2 %", "cooling", 0.02, 0, true, 0.01, 0.01}, {"Spare allowance", "12 %", "spare", 0.12, 0, true, 0, 0},
		{"Pack pieces at most", "3", "pieces", 3, 0, false, 4, 4}, {"Cold temperature", "15", "cold", 15, -300, true, nan, nan},
	} {
		s, e := read(c.name + "=" + c.typed)
		near(t, c.name, num(&s, c.field), c.want, 1e-12)
		near(t, c.name+" unsaid", num(&plain, c.field), c.metric, 1e-12)
		if c.name != "Soft foot limit" {
			near(t, c.name+" unsaid, inch", num(&inch, c.field), c.imperial, 1e-12)
		}
		for _, f := range all {
			if f != c.field {
				near(t, c.name+" leaves "+f, num(&s, f), num(&plain, f), 0)
			}
		}
		if len(e.Problems()) > 0 {
			t.Errorf("%s: %v", c.name, e.Problems())
		}
		for typed, good := range map[string]bool{"x": false, "-1": c.least < 0, "0": c.zero} {
			s, e := read(c.name + "=" + typed)
			want := num(&plain, c.field)
			if good {
				want = 0
				if typed == "-1" {
					want = -1
				}
			}
			near(t, c.name+"="+typed, num(&s, c.field), want, 1e-12)
			if p := e.Problems(); good != (len(p) == 0) || !good && (len(p) != 1 || p[0].Severity != job.Error || p[0].Row != 1 || p[0].Column != c.name || p[0].Col != 1) {
				t.Errorf("%s=%s: %v", c.name, typed, p)
			}
		}
	}
	for typed, want := range map[string]float64{"1": 1, "8": 8, "9": 4} {
		s, e := read("Pack pieces at most=" + typed)
		near(t, typed+" pieces", float64(s.pieces), want, 0)
		if (len(e.Problems()) > 0) != (typed == "9") {
			t.Error(e.Problems())
		}
	}
	if s, e := read("Cold temperature=-301"); !math.IsNaN(s.cold) || len(e.Problems()) != 1 {
		t.Error(s.cold, e.Problems())
	}
}

// Every setting that is a word: each word sets its own thing, one that is none is told with the words there are.
func TestEverySettingOfWords(t *testing.T) {
	for _, c := range []struct {
		text string
		is   func(s *settings) bool
	}{
		{"Name=x", func(s *settings) bool {
			return !s.inch && s.mark == units.Either && s.coupling == tables.Flexible && !s.onFlange && s.seenFrom == 0 && s.positiveSag == 0 && !s.noSag && s.wantedFrom == 0 && !s.addShares && !s.fewest && !s.byFeet && !s.reuse && s.strip == tables.NoStripClass && s.size == "" && s.limits == tables.LimitSets()[0].Name
		}},
		{"Units=inch", func(s *settings) bool { return s.inch }}, {"Units=metric", func(s *settings) bool { return !s.inch }}, {"Decimal sign=comma", func(s *settings) bool { return s.mark == units.Comma }}, {"Decimal sign=point", func(s *settings) bool { return s.mark == units.Point }}, {"Decimal sign=either", func(s *settings) bool { return s.mark == units.Either }},
		{"Default coupling=rigid", func(s *settings) bool { return s.coupling == tables.Rigid && !s.onFlange }}, {"Default coupling=spacer", func(s *settings) bool { return s.coupling == tables.Spacer }}, {"Default coupling=universal", func(s *settings) bool { return s.coupling == tables.Universal }},
		{"Seen from=stationary", func(s *settings) bool { return s.seenFrom == 1 }}, {"Seen from=movable", func(s *settings) bool { return s.seenFrom == 0 }}, {"Positive sag=dial reading", func(s *settings) bool { return s.positiveSag == 1 }}, {"Positive sag=amount", func(s *settings) bool { return s.positiveSag == 2 }},
		{"Sag not given=no sag", func(s *settings) bool { return s.noSag }}, {"Wanted from=cold setting", func(s *settings) bool { return s.wantedFrom == 1 }}, {"Wanted from=growth", func(s *settings) bool { return s.wantedFrom == 2 }}, {"Add shares=yes", func(s *settings) bool { return s.addShares }}, {"Add shares=no", func(s *settings) bool { return !s.addShares }},
		{"Fewest thicknesses=yes", func(s *settings) bool { return s.fewest && !s.reuse && !s.byFeet }}, {"Share stock by=feet", func(s *settings) bool { return s.byFeet && !s.fewest }}, {"Share stock by=machines", func(s *settings) bool { return !s.byFeet }}, {"Reuse removed shims=yes", func(s *settings) bool { return s.reuse && !s.fewest }},
		{"Strip class=fine", func(s *settings) bool { return s.strip == tables.StripNormal+1 }}, {"Shim size= 75 x 75 ", func(s *settings) bool { return s.size == "75 x 75" }}, {"Default limits=published", func(s *settings) bool { return s.limits == "published" }},
	} {
		e, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: " + c.text})
		if !c.is(&e.set) || e.set.unitsBad || e.set.seenBad {
			t.Errorf("%s: %+v", c.text, e.set)
		}
		for _, p := range e.Problems() {
			if p.Severity > job.Note && p.Sheet == "Job" {
				t.Errorf("%s: %v", c.text, &p)
			}
		}
	}
	for _, name := range []string{"Units", "Decimal sign", "Default coupling", "Seen from", "Positive sag", "Sag not given", "Wanted from", "Add shares", "Fewest thicknesses", "Share stock by", "Reuse removed shims", "Strip class"} {
		e, r := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Name=x\n" + name + "=perhaps"})
		n := 0
		for _, p := range e.Problems() {
			if p.Column == name && p.Row == 2 && p.Severity == job.Error && strings.Contains(p.String(), "\"perhaps\" is not one of the words taken here (hint: write ") {
				n++
			}
		}
		if n != 1 || e.set.unitsBad != (name == "Units") || e.set.seenBad != (name == "Seen from") {
			t.Errorf("%s: %v", name, e.Problems())
		}
		if stopped := name == "Units" || name == "Seen from"; r.HasLine() == stopped {
			t.Errorf("%s: a line: %v", name, r.HasLine())
		}
	}
}

// What the Job sheet may hold besides: rows that are none, names twice and names that nobody knows, a unit beside a name.
func TestRowsOfSettings(t *testing.T) {
	cases(t, job.Warning, lowRow, "", []jobCase{
		{"", "Job: Soft foot limit [mil]=3", ""}, {"", "Job: Soft foot limit [kg]=3", "error Job row 1, Soft foot limit: [kg] is no unit of …"}, {"", "Job: Soft foot limit [mil]=3 mm", ""},
		{"", "Job: Soft foot limit=0.05\nSoft foot limit=0.05", ""}, {"", "Job: Soft foot limit=0.05\nName=x\nSoft foot limit=0.06", "error Job row 3, Soft foot limit: row 1 says \"0.05\", here it is \"0.06\"; the first is used (hint: keep one)"}, {"", "Job: Soft foot limit=n/a\nSoft foot limit=0.06", ""},
		{"", "Job: Colour=blue", "warning Job row 1: \"Colour\" is no setting known here; it is kept and not used …"}, {"", "Job: Colour=", ""}, {"", "Job: =blue", ""},
		{"", "Job: Moves aim=perhaps", "error Job row 1, Moves aim: \"perhaps\" is no aim for moves …"}, {"", "Job: Moves aim=60 %", ""}, {"", "Job: Feet numbered=front", "error Job row 1, Feet numbered: \"front\" does not say an end and a side for every foot, each once …"},
		// What is usual.
		{"Coupling to front feet=9", "", "warning Machines row 2, Coupling to front feet: is \"9\" right? It comes to 9 mm; usual here is 10 to 10000 mm (hint: look at decimal sign and unit; what is usual can be set as Plausible ranges on the Job sheet)"}, {"Coupling to front feet=10", "", ""}, {"Front to rear feet=15000", "", ""}, {"Front to rear feet=15001", "", "warning Machines row 2, Front to rear feet: is \"15001\" right? …"},
		// Seen: no column with a "to" in its name took a range.
		{"Coupling to front feet=9", "Job: Plausible ranges=no", ""}, {"Coupling to front feet=9", "Job: Plausible ranges=Coupling to front feet 5 mm to 15 m", ""}, {"Coupling to front feet=4.9", "Job: Plausible ranges=Coupling to front feet 5 mm to 15 m", "warning Machines row 2, Coupling to front feet: is \"4.9\" right? It comes to 4.9 mm; usual here is 5 to 15000 mm …"}, {"Coupling to front feet=300", "Job: Plausible ranges=Coupling to front feet 50 to 100; Speed 5 to 100", "warning Machines row 2, Coupling to front feet: …\nwarning Machines row 2, Speed: is \"1480\" right? …"},
		{"Coupling to front feet=9", "Job: Plausible ranges=yes", "warning Machines row 2, Coupling to front feet: …"}, {"", "Job: Plausible ranges=Speed", "error Job row 1, Plausible ranges: \"Speed\" is no column with what is usual for it (hint: write no, or Speed 5 to 90000 rpm; Spacer length 5 mm to 15 m)"}, {"", "Job: Plausible ranges=Colour 5 to 10", "error Job row 1, Plausible ranges: \"Colour 5 to 10\" is no column …"}, {"", "Job: Plausible ranges=Speed 10 to 5", "error Job row 1, Plausible ranges: …"},
		{"", "Job: Plausible ranges=Speed 10 to 10", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Method 1 to 2", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Machine 1 to 2", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed 5 to 90000 rpm;; ", ""}, {"", "Job: Plausible ranges=Speed 5 to 90000; Note", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed x to 10", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed 5 to x", "error Job row 1, Plausible ranges: …"},
		{"Given offset V=-13", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2: both rear feet need …"}, {"Given offset V=501", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2: both rear feet need …\nwarning Machines row 2, Given offset V: is \"501\" right? …"}, {"Growth movable front V=-31; Growth movable rear V=0", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2, Growth movable front V: …"}, {"Front room up=201", "", "warning Machines row 2, Front room up: is \"201\" right? It comes to 201 mm; usual here is 0 to 200 mm …"},
	})
	// Once a column, with how many more; a note of a dash too.
	j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,5,line,0,0,0,0,9,500\nB,1480,line,0,0,0,0,8,500\nC,-,line,0,0,0,0,7,500\nD,4,line,-,0,0,0,-,-\n")
	var told []string
	for _, p := range work(t, j).Problems() {
		told = append(told, fmt.Sprint(p.Severity, " ", p.Row, " ", p.Column, " ", p.Text))
	}
	want := []string{`warning 2 Speed is "5" right? It comes to 5 rpm; usual here is 10 to 60000 rpm (and 1 more of the column)`, `note 4 Speed "-" is taken as not given, here and wherever the column has such a sign`,
		`warning 2 Coupling to front feet is "9" right? It comes to 9 mm; usual here is 10 to 10000 mm (and 2 more of the column)`, `note 5 Coupling to front feet "-" is taken as not given, here and wherever the column has such a sign`, `note 5 Front to rear feet "-" is taken as not given, here and wherever the column has such a sign`,
		`note 5 Given offset V "-" is taken as not given, here and wherever the column has such a sign`}
	if strings.Join(told, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(told, "\n"))
	}
}
