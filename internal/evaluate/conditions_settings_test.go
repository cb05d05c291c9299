package evaluate

import (
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
