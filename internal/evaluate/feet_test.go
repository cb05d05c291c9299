package evaluate

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/units"
)

func TestParsePieces(t *testing.T) {
	for _, c := range []struct {
		text string
		want []float64
	}{
		{"0.5+0.2+0.1", []float64{0.5, 0.2, 0.1}}, {" 0.5 0.2  0.1 ", []float64{0.5, 0.2, 0.1}}, {"0.5; 0.2", []float64{0.5, 0.2}}, {"0,5 + 0,2", []float64{0.5, 0.2}},
		{"2 x 0.5 + 0.1", []float64{0.5, 0.5, 0.1}}, {"2x0.5 3×0.1", []float64{0.5, 0.5, 0.1, 0.1, 0.1}}, {"10 mil + 0.5 mm", []float64{0.254, 0.5}}, {"10 mil 5 mil", []float64{0.254, 0.127}},
		{"0", []float64{}}, {"none", []float64{}}, {"Bare base", []float64{}}, {"1", []float64{1}},
	} {
		got, text, _ := parsePieces(c.text, units.MM, units.Either)
		if !text.Empty() || !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }) {
			t.Errorf("%q: %v %s, want %v", c.text, got, text, c.want)
		}
	}
	for _, bad := range []string{"0.5 + x", "some", "-0.5", "0.5 + 0", "0.5 rpm"} {
		if got, text, hint := parsePieces(bad, units.MM, units.Either); text.Empty() || hint.Empty() {
			t.Errorf("%q is taken for %v", bad, got)
		}
	}
}

func TestFootWords(t *testing.T) {
	for name, want := range map[string][2]int{"front 9": {0, -1}, "Front left": {0, -1}, "rear-3": {1, 1}, "REAR RIGHT": {1, 1}, "inboard 3 o'clock": {0, 1}, "NDE left": {1, -1}, "9": {-1, 0}, "foot 3": {-1, 0}, "A": {-1, 0}, "front": {0, 0}} {
		if end, side := FootWords(name); end != want[0] || side != want[1] {
			t.Errorf("%q: end %d side %d, want %v", name, end, side, want)
		}
	}
}

// TestSoftFootWithoutWidths: the gaps of four feet ask for the same shims however wide the machine is.
//
// evidence: calc=soft foot shims grade=identity count=3 source=affine invariance: stretched along or across, a rigid set of feet keeps its gaps and its shims
func TestSoftFootWithoutWidths(t *testing.T) {
	with := feetOf("0.1", "", "0.3", "", "0", "", "0.05", "")
	_, a := grown(t, reverse, "Feet", with)
	for _, cells := range [][]string{reverse, change(reverse, "Front to rear feet=1300"), change(reverse, "Front to rear feet", "Coupling to front feet")} {
		_, b := grown(t, cells, "Feet", strings.NewReplacer(",-200,", ",,", ",200,", ",,").Replace(with))
		if !b.Feet.Assumed || a.Feet.Assumed || b.Feet.Soft.Status != calc.SoftOK {
			t.Fatal(b.Feet.Soft.Status, b.Problems)
		}
		for k := range a.Feet.Feet {
			near(t, b.Feet.Feet[k].Name, b.Feet.Feet[k].Soft, a.Feet.Feet[k].Soft, 1e-9)
		}
	}
}

// TestBelowTheBase: what cannot be taken out is said with how much is missing, and the line after knows it.
func TestBelowTheBase(t *testing.T) {
	low := []string{"Speed=1480", "Coupling to front feet=300", "Front to rear feet=500", "Method=line", "Given offset V=0.6", "Given offset H=-0.2", "Given slope V=0.5", "Given slope H=0"}
	e, r := grown(t, low, "Feet", "Machine,Foot,Pack in place,Room right\npump,front 9,0.2,0.001\npump,front 3,0,\npump,rear 9,5 x 1,\npump,rear 3,,\n")
	f := r.Feet.Feet
	for k, have := range []float64{0.2, 0} {
		if f[k].Change.Status != packs.ChangeBelow {
			t.Fatalf("%+v", f[k])
		}
		near(t, "shortfall of "+f[k].Name, f[k].Change.Shortfall, -f[k].Wanted-have, 1e-12)
		says(t, r, job.Warning, "Feet row "+[]string{"2", "3"}[k], "Pack in place", f[k].Name, "are missing")
	}
	if f[3].Change.Status != packs.ChangeUnlisted || f[2].Change.Status > packs.ChangeNearest {
		t.Error(f[2].Change.Status, f[3].Change.Status)
	}
	if r.AfterVerdict == calc.Inside {
		t.Error("a foot that does not get down leaves the line where it is:", r.Calc.AfterJ.Share)
	}
	if room := e.Rooms(0); room[0].Down != 0 || room[1].Down != 5 || !(room[0].Right == 0.001) || !math.IsNaN(room[1].Up) {
		t.Error(room)
	}
	says(t, r, job.Warning, "Room right", "front 9 has to go 0.2 mm") // the shaft stands 0.2 towards 9
}

func TestFeetProblems(t *testing.T) {
	for _, c := range []struct{ rows, says string }{
		{"pump,front 9,,,\npump,Front-9,,,\n", "row 3"},
		{"pump,front 3,-200,,\n", "row 2"},
		{"pump,foot 1,,,\n", "row 2"},
		{"pump,front 9,-200,0.1,\npump,front 3,,0.1,\npump,rear 9,-200,0,\npump,rear 3,200,0,\n", "front 3 stands across is missing"},
		{"pump,front 9,-200,0.1,\npump,front 3,200,,\npump,rear 9,-200,0,\npump,rear 3,200,0,\n", "the soft foot cannot be worked out: neither a gap"},
		{"pump,front 9,,,much\n", "row 2"},
	} {
		_, r := grown(t, reverse, "Feet", "Machine,Foot,Across,Gap,Pack in place\n"+c.rows)
		says(t, r, job.Error, c.says)
		if !r.HasLine() {
			t.Errorf("%q spoils the line", c.rows)
		}
	}
}

// TestChosenTogether: where each pair's own nearest pack leaves the line outside and another pair of packs does not, that is taken.
func TestChosenTogether(t *testing.T) {
	found := 0
	rng := rand.New(rand.NewPCG(11, 12))
	for range 400 {
		cells := []string{"Speed=3000", "Coupling to front feet=150", "Front to rear feet=160", "Offset limit=0.03", "Slope limit=0.3", "Graduation=0.0001", "Repeatability=0.0001",
			fmt.Sprintf("Given offset V=%.3f", -rng.Float64()), "Given offset H=0", fmt.Sprintf("Given slope V=%.3f", -3*rng.Float64()), "Given slope H=0", "Method=line"}
		_, r := grown(t, cells, "Stock", "Thickness\n0.10\n0.15\n0.70\n", "Job", "Name,Value\nPack tolerance,0.03\n")
		if !r.Together {
			continue
		}
		found++
		if r.AfterVerdict != calc.Inside {
			t.Errorf("%v: together and %v", cells, r.AfterVerdict)
		}
	}
	if found == 0 {
		t.Error("never chosen together")
	}
}

// TestAllocate: the stock over the job.
func TestAllocate(t *testing.T) {
	e, _ := grown(t, reverse, "Stock", "Thickness,Pieces on hand,Size\n0.1,400,\n0.05,400,\n0.02,400,\n0.5,400,\n1,400,\n", "Job", "Name,Value\nSpare allowance,10 %\n")
	if e.Allocation() != nil {
		t.Error("an allocation nobody asked for")
	}
	a, err := e.Allocate(nil)
	if err != nil || len(a.Picks) != 4 || e.Allocation() != a || a.Plan.Contended {
		t.Fatal(err, a)
	}
	for k, p := range a.Picks {
		f := &e.Row(0).Calc.Feet[k/2]
		if p.Foot != []string{"front 9", "front 3", "rear 9", "rear 3"}[k] || p.Wanted != f.Shim || p.Pair != k/2 {
			t.Errorf("%+v", p)
		}
	}
	used := 0
	for _, o := range a.Orders {
		used += o.Used
	}
	puts := 0
	for _, p := range a.Picks {
		puts += len(p.Put)
	}
	if used != puts {
		t.Errorf("%d pieces used, %d put in", used, puts)
	}
	var b bytes.Buffer
	for _, l := range Lists {
		if err := e.ListText(&b, l); err != nil {
			t.Error(err)
		}
	}
	if err := e.ListText(&b, "shopping"); err == nil || !strings.Contains(b.String(), "front 9") {
		t.Error(err, b.String())
	}
	e.RowsChanged(0, 1)
	if e.Allocation() != nil {
		t.Error("an old allocation is kept")
	}
	// Sizes: a foot that names one gets shims of it only.
	e, r := grown(t, reverse, "Stock", "Thickness,Pieces on hand,Size\n0.1,9,75\n0.2,9,75\n0.3,9,75\n0.1,9,100\n0.25,9,100\n", "Feet", strings.ReplaceAll(feetOf("", "", "", "", "", "", "", ""), "rear 9,-200,,,", "rear 9,-200,,,100"))
	for k := range r.Feet.Feet {
		f := &r.Feet.Feet[k]
		for _, p := range append(slices.Clone(f.Change.Put), f.Change.Pieces...) {
			if big := f.Size == "100"; f.Wanted > 0 && (p == 0.25) != big && p != 0.1 {
				t.Errorf("%s of size %q gets %v", f.Name, f.Size, f.Change.Put)
			}
		}
	}
	if _, err := e.Allocate(nil); err != nil {
		t.Error(err)
	}
}

// TestAllocateInParts: more feet than are shared out in one go give the same packs where the stock does, and add up.
func TestAllocateInParts(t *testing.T) {
	items := []packs.StockItem{{MM: 0.1, Count: -1}, {MM: 0.2, Count: 30_000}, {MM: 0.5, Count: -1}}
	feet := make([]packs.StockFoot, feetAtOnce+500)
	for i := range feet {
		feet[i].Change = []float64{0.1, 0.2, 0.7}[i%3]
	}
	p, err := allocateParts(items, feet, &packs.StockOptions{Tolerance: 0.01, MaxPieces: 3, SparePercent: 10})
	if err != nil || len(p.Picks) != len(feet) || p.Met != len(feet) || p.Contended || !p.Proved {
		t.Fatal(err, len(p.Picks), p.Met, p.Contended)
	}
	third := func(k int) int { return (len(feet) - k + 2) / 3 }
	if o := p.Order; o[0].Used != third(0) || o[1].Used != third(1)+third(2) || o[2].Used != third(2) || o[1].Order != 0 || o[0].Order != third(0)+(third(0)+9)/10 {
		t.Errorf("%+v", o)
	}
	items[1].Count = 10_000
	if p, err = allocateParts(items, feet, &packs.StockOptions{Tolerance: 0.01, MaxPieces: 3, Nodes: 1000}); err != nil || p.Proved || !p.Contended || p.Order[1].Used > 10_000 {
		t.Errorf("%v %+v", err, p.Order)
	}
}

// TestLaminated: a laminated shim is peeled to what is wanted.
func TestLaminated(t *testing.T) {
	e, r := grown(t, change(reverse, "Movable rim 3=0", "Movable rim 9=0.0"), "Stock", "Thickness,Kind,Lamination\n2,laminated,0.05\n1,,\n")
	if len(e.Problems()) > 0 {
		t.Fatal(e.Problems())
	}
	lines, assumed := e.Stock()
	if assumed || lines[0].Lamination != 0.05 || lines[1].Lamination != 0 {
		t.Error(lines)
	}
	for _, f := range r.Calc.Feet {
		if f.Shim > 0 && (math.Abs(f.Pack.Error) > 0.025+1e-9 || len(f.Pack.Pieces) > 4) {
			t.Errorf("%+v", f)
		}
	}
	for _, bad := range []string{"2,laminated,", "2,plain,0.05", "0.02,,0.05", "2,gold,"} {
		e, _ := grown(t, reverse, "Stock", "Thickness,Kind,Lamination\n"+bad+"\n")
		if p := e.Problems(); len(p) != 1 || p[0].Row != 2 || p[0].Severity != job.Error {
			t.Errorf("%q: %v", bad, p)
		}
	}
}

// TestJobWithEverySheet: a job of the new sheets comes back, and one without them is written in an older form, which older programs open.
func TestJobWithEverySheet(t *testing.T) {
	j := demoJob(t, false)
	with(t, j, job.TrainsSheet, "Train,Machine,May move,Effort\nT1,pump,no,2\n")
	with(t, j, job.RecordSheet, "Machine,Instrument,Due\npump,dial 7,2027-01-31\n")
	data, err := j.MarshalJSON()
	if err != nil || !bytes.Contains(data, []byte(`"version":6`)) {
		t.Fatal(err, string(data[:80]))
	}
	back := new(job.Job)
	if err := back.UnmarshalJSON(data); err != nil {
		t.Fatal(err)
	}
	for _, k := range job.SheetKinds() {
		a, b := j.Table(k), back.Table(k)
		if a == nil || b == nil || !slices.EqualFunc(a.Rows, b.Rows, slices.Equal) || !slices.Equal(a.Header, b.Header) {
			t.Errorf("%v differs", k)
		}
	}
	j.Record = nil
	if data, err := j.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"version":5`)) {
		t.Error(err, string(data[:80]))
	}
	j.Trains = nil
	if data, err := j.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"version":4`)) {
		t.Error(err, string(data[:80]))
	}
	j.Rounds = nil
	if data, err := j.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"version":3`)) {
		t.Error(err, string(data[:80]))
	}
	j.Checks = nil
	if data, err := j.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"version":2`)) {
		t.Error(err, string(data[:80]))
	}
	for k := job.GrowthSheet; k < job.NumSheets; k++ {
		j.SetTable(k, nil)
	}
	if data, err := j.MarshalJSON(); err != nil || !bytes.Contains(data, []byte(`"version":1`)) {
		t.Error(err, string(data[:80]))
	}
}

// Feet named in letters, and by numbers where the job says which is which; a number alone says nothing of where a foot stands, and is asked about.
func TestFootNames(t *testing.T) {
	for name, want := range map[string][2]int{"IBL": {0, -1}, "obr": {1, 1}, "FL": {0, -1}, "RR": {1, 1}, "inboard left": {0, -1}, "outboard right": {1, 1}, "DE 9": {0, -1}, "NDE 3": {1, 1}, "front 3": {0, 1}} {
		if end, side := FootWords(name); end != want[0] || side != want[1] {
			t.Errorf("%s: %d %d, want %v", name, end, side, want)
		}
	}
	const rows = "Machine,Foot,Gap\npump,1,0.3\npump,foot 2,0\npump,#3,0.3\npump,4,0\n"
	j := list(t, "Machine,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Speed\npump,line,0.1,0.2,0.3,0.4,300,500,1480\n")
	with(t, j, job.FeetSheet, rows)
	e := work(t, j)
	if p := e.Problems(); len(p) == 0 || !strings.Contains(p[0].Hint.String(), "Feet numbered") {
		t.Errorf("a number alone was taken: %v", p)
	}
	with(t, j, job.SettingsSheet, "Name,Value\nFeet numbered,\"front 9, front 3, rear 3, rear 9\"\n")
	e = work(t, j)
	f := e.Row(0).Feet
	if f == nil || len(f.Feet) != 4 || len(e.Problems()) > 0 {
		t.Fatalf("%+v %v", f, e.Problems())
	}
	for k, want := range [4][2]int{{300, -1}, {300, 1}, {800, 1}, {800, -1}} {
		if x, side := f.Feet[k], e.footings["pump"].feet[k].side; x.Station != float64(want[0]) || side != want[1] {
			t.Errorf("foot %s stands at %v, on side %d", x.Name, x.Station, side)
		}
	}
	with(t, j, job.SettingsSheet, "Name,Value\nFeet numbered,\"front 9, front, rear 3, rear 9\"\n")
	if p := work(t, j).Problems(); len(p) == 0 || p[0].Column != "Feet numbered" {
		t.Error(p)
	}
}
