package sentences

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// TestFeet: alignment and soft foot go into one pack for each foot.
//
// evidence: calc=soft foot and alignment in one pack grade=identity count=4 source=shim of each foot = shim of its pair + shim of the soft foot; the line after through the mean rise of each pair
func TestFeet(t *testing.T) {
	e, r := grown(t, reverse, "Feet", feetOf("0", "0.5+0.2", "0.4", "0.5+0.2", "0", "1+0.5+0.1", "0", "1+0.5+0.1"))
	if r.Feet == nil || r.Worst() > job.Note {
		t.Fatal(r.Problems)
	}
	f := r.Feet.Feet
	if r.Feet.Soft.Pattern != calc.SoftRocking && r.Feet.Soft.Pattern != calc.SoftOneFoot {
		t.Error(r.Feet.Soft.Pattern)
	}
	total, rise := 0.0, [2]float64{}
	for k := range f {
		pair := &r.Calc.Feet[k/2]
		near(t, f[k].Name+" align", f[k].Align, pair.Shim, 1e-15)
		near(t, f[k].Name+" wanted", f[k].Wanted, pair.Shim+f[k].Soft, 1e-15)
		total += f[k].Soft
		c := &f[k].Change
		near(t, f[k].Name+" net", c.Net, evaluate.SumOf(c.Pieces)-evaluate.SumOf(f[k].InPlace), 1e-12)
		if !f[k].HasStock || math.Abs(c.Net-f[k].Target) > tables.PackToleranceMM+1e-9 {
			t.Errorf("%s: %+v", f[k].Name, c)
		}
		left := append(slices.Clone(c.Keep), c.Take...)
		slices.Sort(left)
		was := slices.Clone(f[k].InPlace)
		slices.Sort(was)
		if !slices.Equal(left, was) {
			t.Errorf("%s: kept %v and taken %v are not what lies there, %v", f[k].Name, c.Keep, c.Take, was)
		}
		rise[k/2] += (c.Net - f[k].Soft) / 2
	}
	near(t, "what the soft foot takes in all", total, 0.4, 1e-12)
	l, a := &r.Calc.Line, &r.Calc.After
	for k := range rise {
		x := r.Calc.Feet[k].Station
		near(t, "height after", a.DV+a.TV*x/1000, l.DV+l.TV*x/1000+rise[k], 1e-12)
	}
	if r.AfterVerdict != calc.Inside {
		t.Error(r.AfterVerdict, r.Calc.AfterJ.Share)
	}
	text := fmt.Sprint(e.Sentences(0))
	for _, w := range []string{"Before aligning:", "measure the alignment again", "Under front 9: ", "of it 0."} {
		if !strings.Contains(text, w) {
			t.Errorf("%q is not in %s", w, text)
		}
	}
	if strings.Contains(text, "both front feet") {
		t.Error("pairs and single feet are both told:", text)
	}
}

// TestLimitsOfTheJob: a set of the job's own wins over a built-in one of the same name, and the result says which was used.
func TestLimitsOfTheJob(t *testing.T) {
	ours := tables.LimitSets()[0].Name
	rows := "Set,Coupling,Up to speed,Offset,Slope,Source\nsite rules,short,3000,0.04,0.3,sheet 7\n,short,1500,0.2,2,sheet 7\n,short,,0.01,0.1,\n"
	e, r := grown(t, change(reverse, "Limits=Site Rules"), "Limits", rows)
	if r.Limits.Offset != 0.2 || r.Limits.Slope != 2 || !r.Limits.Own || r.Limits.UpTo != 1500 || !strings.Contains(r.Limits.Source.String(), "sheet 7") || !strings.Contains(r.Limits.Source.String(), "row 3") {
		t.Errorf("%+v", r.Limits)
	}
	if s := fmt.Sprint(e.Sentences(0)); !strings.Contains(s, "your limit set site rules") {
		t.Error(s)
	}
	if _, r := grown(t, change(reverse, "Limits=site rules", "Speed=1501"), "Limits", rows); r.Limits.Offset != 0.04 {
		t.Errorf("%+v", r.Limits)
	}
	if _, r := grown(t, reverse, "Limits", strings.Replace(rows, "site rules", strings.ToUpper(ours), 1)); r.Limits.Offset != 0.2 || !r.Limits.Own {
		t.Errorf("%+v", r.Limits)
	}
	// Sets of one's own that nothing names are told of, once.
	if e, r := grown(t, reverse, "Limits", rows); r.Limits.Own || r.Limits.Set != ours || len(e.Problems()) != 1 || !strings.Contains(e.Problems()[0].Text.String(), "holds only for rows that name it") {
		t.Errorf("%+v %v", r.Limits, e.Problems())
	}
	// A set of the built-in one's name takes its place whole: what it does not list has no limit.
	if _, r := grown(t, change(reverse, "Coupling=spacer", "Spacer length=400"), "Limits", strings.Replace(rows, "site rules", ours, 1)); r.Verdict != calc.NotJudged || !strings.Contains(r.Why.String(), "has no limits for a spacer coupling") {
		t.Error(r.Verdict, r.Why)
	}
	// Rows for vertical flanges hold for machines mounted so.
	if _, r := grown(t, change(reverse, "Limits=site rules", "Mounting=vertical flange"), "Limits", rows+"site rules,flange,1500,0.03,0.2,sheet 8\n"); r.Limits.Offset != 0.03 {
		t.Errorf("%+v", r.Limits)
	}
	if e, r := grown(t, reverse, "Limits", rows, "Job", "Name,Value\nDefault limits,site rules\n"); r.Limits.Set != "site rules" || len(e.Problems()) > 0 {
		t.Errorf("%+v %v", r.Limits, e.Problems())
	}
	for _, bad := range []string{"site rules,short,1500,,2,\n", "site rules,shrt,1500,0.1,2,\n", "site rules,short,1500,0.1,x,\n", "site rules,short,1500,0.1,2,\nsite rules,short,1500,0.2,2,\n"} {
		e, r := grown(t, change(reverse, "Limits=site rules"), "Limits", "Set,Coupling,Up to speed,Offset,Slope,Source\n"+bad)
		says(t, r, job.Error, "Limits sheet has a row of the limit set site rules that cannot be used")
		if r.Verdict != calc.NotJudged || len(e.Problems()) != 1+len(e.LimitSets())-len(tables.LimitSets()) {
			t.Errorf("%q: %v %v", bad, r.Verdict, e.Problems())
		}
	}
	e, r = grown(t, change(reverse, "Limits=nobody's"), "Limits", rows)
	says(t, r, job.Error, "nobody's")
	if !strings.Contains(r.Problems[0].Hint.String(), "site rules") || len(e.LimitSets()) != len(tables.LimitSets())+1 {
		t.Error(r.Problems, e.LimitSets())
	}
}

// TestAnythingTyped: whatever is typed on the small sheets, an answer or a problem with its place, never a panic.
//
// evidence: calc=bad numbers grade=practice count=600 source=common practice, no source: whatever is typed, an answer or a named problem, never a panic
func TestAnythingTyped(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	words := []string{"", "pump", "front", "front 9", "rear 3", "0", "-1", "1e300", "0.5+0.2", "laminated", "short", "12,5", "1.234,5", "carbon steel", "NaN", "∞", "999999", "x", "0.1", "20 °F", "5 %", "2 x 0.5", "spacer", "\u00a0", "=1"}
	kinds := []job.SheetKind{job.GrowthSheet, job.FeetSheet, job.StockSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.RoundsSheet, job.TrainsSheet, job.RecordSheet}
	n := 600
	if runtime.GOARCH == "wasm" {
		n = 60
	}
	for range n {
		j := list(t, "Machine,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Speed\npump,line,0.1,0.2,0.3,0.4,300,500,1480\n")
		for _, k := range kinds {
			head := strings.Split(job.HeaderBlock(k, job.MethodBlank, rng.IntN(2) == 0), "\t")
			var rows [][]string
			for range 1 + rng.IntN(5) {
				row := make([]string, rng.IntN(len(head)+2))
				for c := range row {
					row[c] = words[rng.IntN(len(words))]
				}
				if len(row) > 1 && rng.IntN(3) > 0 {
					row[0] = "pump"
				}
				rows = append(rows, row)
			}
			j.SetTable(k, &job.Table{Header: head, Rows: rows, FirstRow: 2})
		}
		e := work(t, j)
		for _, p := range e.Problems() {
			if p.Sheet == "" || p.Text.Empty() {
				t.Fatalf("%+v", p)
			}
		}
		e.Sentences(0)
		machines(t, e)
		if a, err := e.Allocate(nil); err == nil {
			_ = e.Proof(a)
			machines(t, e)
		}
	}
}

// TestInsideIsLeft: a machine inside its limit stays where it is, and gets its soft foot's shims alone, by its sentences as by the pick list.
func TestInsideIsLeft(t *testing.T) {
	line := []string{"Speed=1480", "Coupling=short", "Coupling to front feet=300", "Front to rear feet=600", "Method=line", "Given offset V=0.02", "Given offset H=0.01", "Given slope V=0.02", "Given slope H=0.01"}
	e, r := grown(t, line, "Feet", feetOf("0", "0.5", "0", "0.5", "0.35", "0.5", "0", "0.5"))
	if r.Verdict != calc.Inside || r.Worst() > job.Note {
		t.Fatal(r.Verdict, r.Problems)
	}
	for k, want := range []float64{0, 0.175, 0.175, 0} {
		if f := r.Feet.Feet[k]; math.Abs(f.Wanted-want) > 1e-9 || math.Abs(f.Align) < 0.02 || math.Abs(f.Change.Net-want) > 1e-9 {
			t.Errorf("%s: %g of %g for the line, pack %v", f.Name, f.Wanted, f.Align, f.Change)
		}
	}
	a, err := e.Allocate(nil)
	if err != nil || len(a.Picks) != 2 || a.Picks[0].Foot != "front 3" || math.Abs(a.Picks[0].Wanted-0.175) > 1e-9 {
		t.Errorf("%v %v", a.Picks, err)
	}
	said := func(e *Teller, kind SentenceKind) string {
		var list []string
		for _, s := range e.Sentences(0) {
			if s.Kind == kind {
				list = append(list, s.Text)
			}
		}
		return strings.Join(list, "\n")
	}
	if do := said(e, SentenceDo); !strings.Contains(do, "Add 0.15 + 0.025 mm under front 3, for the soft foot.") || !strings.Contains(do, "Otherwise leave it as it stands") || strings.Contains(do, "Push") || said(e, SentenceAfter) != "" {
		t.Error(do)
	}
	// What would bring it to zero stands in the columns, and is not told: it was once printed beside "leave it as it stands".
	if hint := said(e, SentenceHint); strings.Contains(hint, "to zero") {
		t.Error(hint)
	}
	if head, why := e.SoftReasons(0); head != "rocking on a diagonal: front 3, rear 9" || !slices.Contains(why, "Sure: front 3 stands off 0.35 mm ± 0.099 mm, against the limit of 0.05 mm.") {
		t.Error(head, why)
	}
	e, _ = grown(t, line, "Feet", feetOf("0", "0.5", "0", "0.5", "0", "0.5", "0", "0.5"))
	if do := said(e, SentenceDo); do != "Soft foot: none over the limit of 0.05 mm.\nLeave it as it stands: it is inside its limit." {
		t.Error(do)
	}
	if _, why := e.SoftReasons(0); !slices.ContainsFunc(why, func(s string) bool {
		return strings.Contains(s, "stands off 0 mm ± 0.099 mm") && strings.Contains(s, "it may be past the limit") && strings.Contains(s, "finer gauge")
	}) {
		t.Error(why)
	}
}

// TestPipingPull: a rise that goes with the flanges opened is the piping's, and no shim is asked for it.
func TestPipingPull(t *testing.T) {
	e, r := grown(t, reverse, "Feet", "Machine,Foot,Rise,Rise after\npump,front 9,0.02,0.02\npump,front 3,0.15,0.02\npump,rear 9,0.01,0.01\npump,rear 3,0.02,0.01\n")
	s := &r.Feet.Soft
	if !s.Pull || s.Pattern != calc.SoftNone || r.Feet.Feet[1].Soft != 0 {
		t.Errorf("%v, pull %v, %g", s.Pattern, s.Pull, r.Feet.Feet[1].Soft)
	}
	if do := e.SaySoft(0); len(do) != 2 || do[0] != "The piping pulls: freeing the flanges changed the rise of front 3 by 0.13 mm. Mend that before anything else; no shim does." {
		t.Error(do)
	}
}

// TestProofNamesWhatNoStockHelps: a foot on its bare base that is to go down, and one for which the box has nothing thin enough, are told apart from
// what an order would mend.
func TestProofNamesWhatNoStockHelps(t *testing.T) {
	// The front is to go down by 0.25 mm, the rear by 0.50 mm (reverse: offset 0.10 mm, slope 0.5 mm/m, feet at 300 and 800 mm).
	e, r := grown(t, reverse, "Feet", "Machine,Foot,Pack in place\npump,front 9,0\npump,front 3,1.0\npump,rear 9,1.0\npump,rear 3,1.0\n", "Stock", "Thickness,Pieces on hand\n0.7,9\n")
	a, err := e.Allocate(nil)
	if err != nil || r.Feet == nil {
		t.Fatal(err, r.Problems)
	}
	for _, want := range []string{"go below the bare base: 1;", "within the tolerance: 3;"} {
		if !strings.Contains(e.Proof(a), want) {
			t.Errorf("%q is not in %q", want, e.Proof(a))
		}
	}
	says(t, r, job.Note, "front 9 has to go down 0.25 mm, and 0 mm lie there")
	// By less than half the thinnest shim no pack of the box does better, and it is only noted.
	for _, c := range []struct {
		thinnest string
		sev      job.Severity
	}{{"0.1", job.Warning}, {"0.7", job.Note}} {
		_, r = grown(t, reverse, "Feet", "Machine,Foot,Pack in place\npump,front 9,0.1\npump,front 3,0.1\npump,rear 9,1.0\npump,rear 3,1.0\n", "Stock", "Thickness\n"+c.thinnest+"\n")
		says(t, r, c.sev, "front 9 has to go down 0.25 mm, and 0.10 mm lie there")
	}
}

// TestProofOfOddFeet: the list does not say that the stock does for every foot where it does for some only, or is not asked.
func TestProofOfOddFeet(t *testing.T) {
	const feet = "Machine,Foot,Across,Pack in place\npump,front 9,-200,1\npump,front 3,200,1\npump,rear 9,-200,%s\npump,rear 3,200,%s\n"
	at := change(reverse, "Running offset V=0.3", "Running slope V=0.5") // every foot rises by 0.20
	for _, c := range []struct{ stock, rear, want string }{
		{"Thickness\n1\n0.2\n", "1", "The stock does for every foot: 4 feet have their packs."},
		{"Thickness\n1\n0.2\n", "1+1+1+1", "Feet that have their packs from the stock: 2. Feet for which no pack of these thicknesses is within the tolerance: 2; the nearest stands beside each, and its pieces are not counted."},
	} {
		e, r := grown(t, at, "Stock", c.stock, "Feet", fmt.Sprintf(feet, c.rear, c.rear))
		a, err := e.Allocate(nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := e.Proof(a); got != c.want {
			t.Errorf("%s: %s", c.rear, got)
		}
		if c.rear != "1" {
			says(t, r, job.Warning, "the nearest pack of the stock is off by 0.2 mm")
		}
	}
	e, _ := grown(t, reverse, "Stock", "Thickness\n1\n0.2\n") // everything comes out
	a, err := e.Allocate(nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := e.Proof(a); got != "No pieces are needed from the stock." {
		t.Error(got)
	}
}

// TestWordsOfFeet: every amount has one unit, whichever unit is shown, and what is added is called so.
func TestWordsOfFeet(t *testing.T) {
	do := func(e *Teller) (text string) {
		for _, s := range e.Sentences(0) {
			if s.Kind == SentenceDo {
				text += s.Text + "\n"
			}
		}
		return text
	}
	has := func(what, text string, want ...string) {
		t.Helper()
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%s: %q is not in\n%s", what, w, text)
			}
		}
		for _, bad := range []string{"mm mm", "mil mil", "nothing mm", ": 0."} {
			if strings.Contains(text, bad) {
				t.Errorf("%s: %q is in\n%s", what, bad, text)
			}
		}
	}
	const head = "Machine,Foot,Across,Gap,Rise,Pack in place\n"
	feet := head + "pump,front 9,-200,,,0.2+0.05\npump,front 3,200,,,1\npump,rear 9,-200,,,0.5+0.2\npump,rear 3,200,,,1\n"
	e, _ := grown(t, reverse, "Feet", feet)
	has("mm", do(e), "Under front 9: take out 0.20 + 0.05; then nothing lies there.", "then 0.20 mm lie there")
	e.ShowAs("inch")
	has("shown in mil", do(e), "then 0.20 mm lie there") // pieces keep the unit they are sold by
	stays := change(reverse, "Running offset V=0.1", "Running offset H=-0.04", "Running slope V=0.5", "Running slope H=0.2")
	e, _ = grown(t, stays, "Feet", head+"pump,front 9,-200,0.8,,\npump,front 3,200,0,,0\npump,rear 9,-200,0,,0\npump,rear 3,200,0,,0\n")
	has("stays", do(e), "Add 0.20 + 0.20 mm under front 9, for the soft foot.", "Add 0.20 + 0.20 mm under rear 3, for the soft foot.")
}

// TestGapsAndRisesThatDiffer: where one shows a soft foot and the other none, it is said.
func TestGapsAndRisesThatDiffer(t *testing.T) {
	for _, c := range []struct{ gap, rise, want string }{
		{"0.3", "0.25", ""},
		{"0.3", "0.02", "Gaps and rises do not agree: by the gaps front 9 stands off by 0.3 mm. Measure both again."},
		{"0.03", "0.25", "Gaps and rises do not agree: by the gaps no foot is over the limit. Measure both again."},
		{"0.03", "0.02", ""},
		{"0.3", "", ""},
	} {
		feet := "Machine,Foot,Across,Gap,Rise\n"
		for k, name := range []string{"front 9,-200", "front 3,200", "rear 9,-200", "rear 3,200"} {
			gap, rise := "0", "0"
			if k == 0 {
				gap, rise = c.gap, c.rise
			} else if c.rise == "" {
				rise = ""
			}
			feet += "pump," + name + "," + gap + "," + rise + "\n"
		}
		e, _ := grown(t, reverse, "Feet", feet)
		var said []string
		for _, s := range e.Sentences(0) {
			if strings.Contains(s.Text, "do not agree") {
				said = append(said, s.Text)
			}
		}
		if _, why := e.SoftReasons(0); strings.Join(said, "|") != c.want || slices.Contains(why, c.want) != (c.want != "") {
			t.Errorf("gap %s, rise %s: %q, %q", c.gap, c.rise, said, why)
		}
	}
}
