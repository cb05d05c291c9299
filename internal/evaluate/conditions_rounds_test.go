package evaluate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Which round a text is: as it is shown, and in which order it comes; whatever else is no round, and is told.
func TestRoundNames(t *testing.T) {
	for text, want := range map[string]string{"found": "found", "Found": "found", " as found ": "found", "round found": "found", "1": "1", "01": "1", "round 1": "1", "Round 12": "12", "left": "left", "As left": "left", "hot": "hot", "running": "hot", "as running": "hot",
		"2147483645": "2147483645", "2147483646": "", "0": "", "-1": "", "1.5": "", "third": "", "found 1": "", "1 found": "", "round": "", "as": "", "round as found": "", "left hot": "", "x": ""} {
		e := workText(t, plus(roundsText, "Rounds: Machine=pump | Round="+text+rims(calc.Line{DV: 0.3}))...)
		r := e.Row(0)
		if want == "" {
			if w := fmt.Sprintf("error Rounds 2 Round: %q is no round (write found, 1, 2 and so on, left, or hot)\n", text); len(r.Rounds) > 0 || toldBy(e.Problems()) != w {
				t.Errorf("%q: %+v, %s", text, r.Rounds, toldBy(e.Problems()))
			}
		} else if len(r.Rounds) != 1 || r.Rounds[0].Name != want || r.Rounds[0].Hot() != (want == "hot") || len(e.Problems()) > 0 {
			t.Errorf("%q: %+v, %s", text, r.Rounds, toldBy(e.Problems()))
		}
	}
	e := workText(t, plus(roundsText, "Rounds: Machine=pump | Round"+rims(calc.Line{}), "Rounds: Round=1"+rims(calc.Line{}))...)
	if got := toldBy(e.Problems()); got != "error Rounds 2 Round: Round is missing (write found, 1, 2 and so on, left, or hot)\nerror Rounds 3 Machine: Machine is missing (write the name of the machine in every row)\n" {
		t.Error(got)
	}
	// Their order is that of the work, wherever the rows stand; rows of one round stay as they stand.
	e = workText(t, plus(roundsText, "Rounds: Machine=pump | Round=hot"+rims(calc.Line{}), "Rounds: Machine=pump | Round=10"+rims(calc.Line{}), "Rounds: Machine=PUMP | Round=left"+rims(calc.Line{}), "Rounds: Machine=pump | Round=9 | Struck=b", "Rounds: Machine=pump | Round=found"+rims(calc.Line{}),
		"Rounds: Machine=pump | Round=9"+rims(calc.Line{}))...)
	order := ""
	for _, o := range e.Row(0).Rounds {
		order += fmt.Sprint(o.Name, o.Row, " ")
	}
	if order != "found6 95 97 103 left4 hot2 " {
		t.Error(order)
	}
}

// Two rounds of one number, and a row that cannot be used, take the verdict back, whole sentences; struck ones may share a number, in any order.
func TestRoundsWithheld(t *testing.T) {
	rd := func(name string, more ...string) string {
		return strings.Join(append([]string{"Rounds: Machine=pump | Round=" + name + rims(calc.Line{DV: 0.01})}, more...), " | ")
	}
	for _, c := range []struct {
		lines []string
		why   string
	}{
		{[]string{rd("found"), rd("1")}, ""},
		{[]string{rd("found"), rd("1"), rd("1")}, "round 1 stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("found"), rd("found")}, "round found stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("found"), rd("as found"), rd("1")}, "round found stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("1"), rd("01")}, "round 1 stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("left"), rd("left"), rd("hot")}, "round left stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("1", "Struck=x"), rd("1")}, ""}, {[]string{rd("1"), rd("1", "Struck=x")}, ""}, {[]string{rd("1", "Struck=x"), rd("1", "Struck=y"), rd("2")}, ""},
		{[]string{rd("1"), rd("1", "Struck=x"), rd("1")}, "round 1 stands on the Rounds sheet twice, and neither is struck"},
		{[]string{rd("1", "Front shim done=x")}, "the Rounds sheet has a row for this machine that cannot be used, row 2"},
		{[]string{rd("1", "Rear move done=x"), rd("2", "Front move done=x")}, "the Rounds sheet has a row for this machine that cannot be used, row 2"},
		{[]string{rd("1"), rd("2", "Rear shim done=1 kg")}, "the Rounds sheet has a row for this machine that cannot be used, row 3"},
		{[]string{rd("1"), rd("1", "Rear shim done=x")}, "round 1 stands on the Rounds sheet twice, and neither is struck; the Rounds sheet has a row for this machine that cannot be used, row 3"},
	} {
		e := workText(t, plus(roundsText, c.lines...)...)
		r := e.Row(0)
		if (r.Verdict == calc.NotJudged) != (c.why != "") || r.Why.String() != c.why || r.AfterVerdict == calc.NotJudged && c.why == "" && r.Calc.HasAfter {
			t.Errorf("%v: %v, %s", c.lines, r.Verdict, r.Why)
		}
		for _, w := range strings.Split(c.why, "; ") {
			if w != "" {
				says(t, r, job.Error, w)
			}
		}
	}
}

// What lies under the feet now, as a round says it: which feet get which pieces, and what is refused. Each case: the text, then the packs of front 9, front 3, rear 9, rear 3; the Feet sheet says 0.5 of all.
func TestPacksOfRounds(t *testing.T) {
	feet := []string{"Feet: Machine=pump | Foot=front 9 | Pack in place=0.5", "Feet: Machine=pump | Foot=front 3 | Pack in place=0.5", "Feet: Machine=pump | Foot=rear 9 | Pack in place=0.5", "Feet: Machine=pump | Foot=rear 3 | Pack in place=0.5"}
	for _, c := range []struct{ text, want, why string }{
		{"front 9: 0.7+0.2", "[0.7 0.2] [0.5] [0.5] [0.5]", ""},
		{"front: 0.7", "[0.7] [0.7] [0.5] [0.5]", ""},
		{"rear 3: 0", "[0.5] [0.5] [0.5] []", ""},
		{"FRONT 3: 2 x 0.1; rear: 1", "[0.5] [0.1 0.1] [1] [1]", ""},
		{" rear 9 : none ", "[0.5] [0.5] [] [0.5]", ""},
		{"front 9: 10 mil", "[0.25] [0.5] [0.5] [0.5]", ""}, // 0.254
		{"-", "[0.5] [0.5] [0.5] [0.5]", "?"},
		{"", "[0.5] [0.5] [0.5] [0.5]", "?"},
		{"middle: 0.5", "", `Packs in place: the packs of the last round name "middle", which is no foot of this machine on the Feet sheet`},
		{"front 9: 0.5; middle: 0.5", "", `Packs in place: the packs of the last round name "middle", which is no foot of this machine on the Feet sheet`},
		{"0.5+0.2", "", "the Rounds sheet has a row for this machine that cannot be used, row 3"},
		{"front 9:", "", "the Rounds sheet has a row for this machine that cannot be used, row 3"},
		{": 0.5", "", "the Rounds sheet has a row for this machine that cannot be used, row 3"},
		{"front 9: x", "", "the Rounds sheet has a row for this machine that cannot be used, row 3"},
		{"front 9: 16 x 0.05", "[" + strings.TrimSuffix(strings.Repeat("0.05 ", 16), " ") + "] [0.5] [0.5] [0.5]", ""},
		{"front 9: 17 x 0.05", "", "the Rounds sheet has a row for this machine that cannot be used, row 3"},
	} {
		e := workText(t, plus(plus(roundsText, feet...), "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.5}), "Rounds: Machine=pump | Round=1"+rims(calc.Line{DV: 0.3})+" | Packs in place="+c.text)...)
		r := e.Row(0)
		if c.want == "" {
			if r.Verdict != calc.NotJudged || r.Why.String() != c.why {
				t.Errorf("%q: %v, %s", c.text, r.Verdict, r.Why)
			}
			continue
		}
		got := ""
		for _, f := range r.Feet.Feet {
			parts := []string{}
			for _, p := range f.InPlace {
				parts = append(parts, strings.TrimRight(fmt.Sprintf("%.2f", p), "0"))
			}
			got += " [" + strings.ReplaceAll(strings.Join(parts, " "), "1. ", "1 ") + "]"
		}
		got = strings.NewReplacer("[1.]", "[1]").Replace(strings.TrimSpace(got))
		asked := strings.Contains(toldBy(r.Problems), "warning Machines 2 : Pack in place of the Feet sheet is taken as what lies under the feet after round 1 (if it is what was found, write what lies there now under Packs in place of that round)")
		if got != c.want || asked != (c.why == "?") || r.Verdict == calc.NotJudged {
			t.Errorf("%q: %s, asked %v, %v %s", c.text, got, asked, r.Verdict, r.Why)
		}
	}
}

// Feet that are numbered as the Job sheet says are known by their numbers in a round too; a number past the last is no foot, nor is one where nothing is said of numbers.
func TestPacksOfNumberedFeet(t *testing.T) {
	feet := []string{"Feet: Machine=pump | Foot=front 9 | Pack in place=0.5", "Feet: Machine=pump | Foot=front 3 | Pack in place=0.5", "Feet: Machine=pump | Foot=rear 9 | Pack in place=0.5", "Feet: Machine=pump | Foot=rear 3 | Pack in place=0.5"}
	for _, c := range []struct{ setting, packs, cells, want string }{
		{"front 9, front 3, rear 3, rear 9", "3: 0.7", "", "0.5 0.5 0.5 0.7"}, {"front 9, front 3, rear 3, rear 9", "4: 0.7; foot 1: 0.2", "", "0.2 0.5 0.7 0.5"}, {"front 9, front 3, rear 3, rear 9", "5: 0.7", "", ""}, {"", "3: 0.7", "", ""},
		{"front 9, front 3, rear 3, rear 9", "3: 0.7", "Seen from=stationary", "0.5 0.5 0.5 0.7"}, // who looks the other way counts the same feet
		{"", "front 9: 0.7", "Seen from=stationary", "0.7 0.5 0.5 0.5"}, {"", "rear: 0.7", "Seen from=stationary", "0.5 0.5 0.7 0.7"},
	} {
		lines := plus(plus(roundsText, feet...), "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.5}), "Rounds: Machine=pump | Round=1"+rims(calc.Line{DV: 0.3})+" | Packs in place="+c.packs)
		if c.setting != "" {
			lines = append(lines, "Job: Feet numbered="+c.setting)
		}
		if c.cells != "" {
			lines = append(lines, "2: "+c.cells)
		}
		r := workText(t, lines...).Row(0)
		var got []string
		for _, f := range r.Feet.Feet {
			got = append(got, fmt.Sprint(SumOf(f.InPlace)))
		}
		if s := strings.Join(got, " "); c.want == "" && r.Verdict != calc.NotJudged || c.want != "" && s != c.want {
			t.Errorf("%+v: %s, %v", c, s, r.Verdict)
		}
	}
}

// What the checks found on each sweep of a round goes with it, struck ones too; a round that speaks of the readings of the Machines row says so however often the row is worked out; of a round hot those problems are the machine's that lie
// in its own cells, or ask for the minutes.
func TestSweepsAndProblemsOfRounds(t *testing.T) {
	e := workText(t, plus(roundsText, "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.3}), "Rounds: Machine=pump | Round=1 | Struck=x | Movable rim 12=0 | Movable rim 3=0 | Movable rim 6=0.5 | Movable rim 9=0")...)
	for k, want := range []string{"Movable rim false, Stationary rim false", "Movable rim false"} {
		var got []string
		for _, s := range e.Row(0).Rounds[k].Sweeps {
			got = append(got, fmt.Sprint(s.Name, " ", s.Gauge))
		}
		if k == 0 && strings.Join(got, ", ") != want || k == 1 && len(got) > 0 && got[0] != want {
			t.Errorf("round %d: %v", k, got)
		}
	}
	if s := e.Row(0).SweepsRead(); len(s) != 2 || fmt.Sprint(s[0].Check, s[1].Check) != fmt.Sprint(e.Row(0).Calc.Checks[0], e.Row(0).Calc.Checks[1]) {
		t.Errorf("%+v", s)
	}
	e = workText(t, "Machines: Machine=P | Method=straightedge and gap | Face diameter=200 | Coupling to movable plane=0 | Coupling to front feet=300 | Front to rear feet=500 | Gap 12=1 | Gap 3=1 | Gap 6=1 | Gap 9=1 | Step 12=0 | Step 3=0 | Step 6=0 | Step 9=0")
	for _, s := range e.Row(0).SweepsRead() {
		if !s.Gauge {
			t.Errorf("%+v", s)
		}
	}
	if len(e.Row(0).SweepsRead()) == 0 {
		t.Error(toldBy(e.Row(0).Problems))
	}
	e = workText(t, plus(roundsText, "2: "+strings.TrimPrefix(rims(calc.Line{DV: 0.5}), " | "), "Rounds: Machine=fan", "Rounds: Machine=pump | Round=found | By=Kim")...)
	for range 3 {
		if r := e.Row(0); len(r.Rounds) != 1 || r.Rounds[0].Row != 3 || r.Rounds[0].By != "Kim" || r.FromRounds() {
			t.Errorf("%+v", r.Rounds)
		}
		e.RowsChanged(0, 1)
	}
	const grow = "2: Growth movable front V=0.1 | Growth movable rear V=0.2 | Speed=90000"
	for _, c := range []struct{ hot, want string }{
		{"Rounds: Machine=pump | Round=hot" + rims(calc.Line{DV: 0.3}), "Machines Minutes since stop"}, {"Rounds: Machine=pump | Round=hot | Movable rim 3=x", "Machines Minutes since stop, Rounds Movable rim 3"},
	} {
		count := func(lines ...string) map[string]int {
			n := map[string]int{}
			for _, p := range workText(t, plus(roundsText, lines...)...).Row(0).Problems {
				n[p.Sheet+" "+p.Column]++
			}
			return n
		}
		cold := count(grow, "Rounds: Machine=pump | Round=left"+rims(calc.Line{DV: 0.3}))
		both := count(grow, "Rounds: Machine=pump | Round=left"+rims(calc.Line{DV: 0.3}), c.hot)
		var more []string
		for k, n := range both {
			if n != cold[k] {
				more = append(more, k)
			}
		}
		slices.Sort(more)
		if strings.Join(more, ", ") != c.want {
			t.Errorf("%s: %v", c.hot, more)
		}
	}
}
