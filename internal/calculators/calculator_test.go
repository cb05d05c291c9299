package calculators

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/vec"
)

// sameFloat takes two NaN for one another.
func sameFloat(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func sameResult(a, b *Result) string {
	if fmt.Sprint(a.Texts) != fmt.Sprint(b.Texts) || fmt.Sprint(a.Used) != fmt.Sprint(b.Used) || a.Blank != b.Blank {
		return fmt.Sprintf("%q of %q, not %q of %q", a.Texts, a.Used, b.Texts, b.Used)
	}
	for i := range a.Numbers {
		if !sameFloat(a.Numbers[i], b.Numbers[i]) {
			return fmt.Sprintf("number %d is %v, not %v", i, a.Numbers[i], b.Numbers[i])
		}
	}
	if len(a.Problems) != len(b.Problems) {
		return fmt.Sprintf("problems %v, not %v", a.Problems, b.Problems)
	}
	for i := range a.Problems {
		p, q := &a.Problems[i], &b.Problems[i]
		if !p.Text.Same(q.Text) || p.Column != q.Column || p.Severity != q.Severity || !p.Hint.Same(q.Hint) {
			return fmt.Sprintf("problem %v, not %v", p, q)
		}
	}
	return ""
}

// TestCalculatorVectors pastes each check as a block of a header and one row.
func TestCalculatorVectors(t *testing.T) {
	cases := vec.Read(t, "calculators.vec")
	if len(cases) < 80 {
		t.Fatalf("only %d checks", len(cases))
	}
	for i := range cases {
		c := &cases[i]
		key, _ := c.Input("calculator")
		calc := Find(key)
		if calc == nil {
			t.Fatalf("%v: no calculator %q", c, key)
		}
		var set Settings
		table := &job.Table{Rows: [][]string{{}, {}}, FirstRow: 1}
		for _, kv := range c.In {
			switch kv.Name {
			case "calculator":
			case "Inch":
				set.Inch = true
			default:
				table.Rows[0], table.Rows[1] = append(table.Rows[0], kv.Name), append(table.Rows[1], kv.Value)
			}
		}
		b := calc.Batch(table, set)
		for _, p := range b.Problems {
			t.Errorf("%v: %v", c, &p)
		}
		if len(b.Rows) != 1 || b.Rows[0].Row != 2 {
			t.Fatalf("%v: %d rows", c, len(b.Rows))
		}
		r := &b.Rows[0]
		said := ""
		for k := range r.Problems {
			if p := &r.Problems[k]; p.Severity == job.Error {
				said += p.String() + "\n"
			}
		}
		if c.WantErr != "" {
			if !strings.Contains(said, c.WantErr) {
				t.Errorf("%v: want an error with %q, got %q", c, c.WantErr, said)
			}
			continue
		}
		if said != "" {
			t.Errorf("%v: %s", c, said)
		}
		for _, kv := range c.Want {
			k := -1
			for j := range calc.Outputs {
				if calc.Outputs[j].Key == kv.Name {
					k = j
				}
			}
			if k < 0 {
				t.Errorf("%v: no output %q", c, kv.Name)
				continue
			}
			m := calc.Outputs[k].Measure
			if m.texts() {
				if want := strings.Trim(kv.Value, `"`); r.Texts[k] != want {
					t.Errorf("%v: %s is %q, want %q", c, kv.Name, r.Texts[k], want)
				}
				continue
			}
			want, cause, _ := m.parse(kv.Value, measureUnit{none: true}, units.Point)
			u, ok := m.parseUnit(c.TolUnit)
			if cause != "" || !ok {
				t.Errorf("%v: %s = %q within %q: %s", c, kv.Name, kv.Value, c.TolUnit, cause)
				continue
			}
			tol := math.Abs(c.Tol / u.fromBase(1))
			if got := r.Numbers[k]; !(math.Abs(got-want) <= tol) {
				t.Errorf("%v: %s is %.12g, want %.12g (%s) within %g", c, kv.Name, got, want, kv.Value, tol)
			}
		}
	}
}

// TestCalculatorTable looks the table over: spellings lead to one input, defaults and examples can be read, every text is there.
func TestCalculatorTable(t *testing.T) {
	keys := map[string]bool{}
	for _, c := range All() {
		if keys[c.Key] || c.Title.String() == "" || c.About.String() == "" || c.Formula.String() == "" || c.Check.String() == "" || c.Figure == "" || c.eval == nil || len(c.Example) != len(c.Inputs) || c.Source.String() == "" {
			t.Errorf("%s: twice, or something is missing", c.Key)
		}
		keys[c.Key] = true
		if Find(c.Key) != c {
			t.Errorf("%s is not found", c.Key)
		}
		seen := map[string]int{}
		for i := range c.Inputs {
			in := &c.Inputs[i]
			if in.Help.String() == "" || in.Key == "" || (in.Measure == MChoice) != (len(in.Choices) > 0) {
				t.Errorf("%s, %s: incomplete", c.Key, in.Title)
			}
			for _, s := range append([]string{in.Title, in.Key}, job.SplitWords(in.also)...) {
				if old, taken := seen[job.NormalForm(s)]; taken && old != i || job.NormalForm(s) == "" {
					t.Errorf("%s: the spelling %q leads to two inputs", c.Key, s)
				}
				seen[job.NormalForm(s)] = i
				if got, _, _ := c.matchHeader(s); got != i {
					t.Errorf("%s: the spelling %q leads to %d", c.Key, s, got)
				}
			}
		}
		out := map[string]bool{}
		for i := range c.Outputs {
			if o := &c.Outputs[i]; out[o.Key] || o.Title == "" {
				t.Errorf("%s: output %q", c.Key, o.Key)
			}
			out[c.Outputs[i].Key] = true
		}
		for _, inch := range []bool{false, true} {
			for _, mark := range []units.Decimal{units.Either, units.Point} {
				r := c.Row(c.Example, Settings{Inch: inch, Decimal: mark})
				if !r.OK() || r.Texts[0] == "" {
					t.Errorf("%s: its example gives %q, %v", c.Key, r.Texts, r.Problems)
				}
			}
			// A comma job: the program's own defaults are not mistaken.
			r := c.Row(make([]string, len(c.Inputs)), Settings{Inch: inch, Decimal: units.Comma})
			for k := range r.Problems {
				if p := &r.Problems[k]; p.Col >= 0 && c.Inputs[p.Col].Default != "" {
					t.Errorf("%s: its default: %v", c.Key, p)
				}
			}
		}
		if head := strings.Split(c.HeaderBlock(true), "\t"); c.findHeader([][]string{head}) != 0 || len(head) != len(c.Inputs) {
			t.Errorf("%s: its own header is not known: %q", c.Key, head)
		}
	}
	if Find("none such") != nil {
		t.Error("a calculator that there is not")
	}
}

// randomRows makes rows for a calculator of what people type, right and wrong.
func randomRows(rng *rand.Rand, c *Calculator, n int) [][]string {
	own := map[Measure][]string{
		MText: {"M16", "M12x1.25", "3/4-10", "1-8", "steel", "steel; iron", "mm", "in; mil", "mm/m", "°C", "M17", "", "nonsense"}, MValue: {"1 in", "12.5 mil", "3,5 mm", "20 °C", "x", "5", "0.5 mm/m", "300 GPa", "1 lb"},
		MMass: {"0.150 kg", "150 g", "0.3 lb", "-1"}, MStiffness: {"200 GPa", "29e6 psi", "200 mm"}, MDensity: {"7850", "7.85 g/cm³", "0.284 lb/in3"}, MExpansion: {"11.5", "6.5 1e-6/°F", "11; 12"},
		MRise: {"40", "70 °F", "1; 2; 3"}, MTemperature: {"20 °C", "68 °F", "25; 30"}, MForce: {"12 kN", "5000 lbf"}, MTorque: {"100", "80 lbf·ft", "5 lbf·in"}, MStress: {"580 MPa", "85 ksi"},
		MSlope: {"0.5", "1 mil/in", "0.2 °", "100 °"}, MSpeed: {"1480", "24 Hz", "3550 rpm"}, MFrequency: {"50", "60 Hz", "3600 rpm"}, MCount: {"4", "2", "3", "2.5"}, MShare: {"75 %", "30", "0.001"},
	}
	any := []string{"", "", "", "1", "2.5", "0,75", "-3", "0", "25.4", "1/8", "12 foo", "=1+1", "100", "1,234", "7 mm", "3 mil", "5 in", "at least", "rear"}
	rows := make([][]string, n)
	for i := range rows {
		for k := range c.Inputs {
			in := &c.Inputs[k]
			list := any
			switch {
			case in.Measure == MChoice && rng.IntN(3) > 0:
				list = in.ChoiceWords()
			case len(own[in.Measure]) > 0 && rng.IntN(2) > 0:
				list = own[in.Measure]
			}
			s := list[rng.IntN(len(list))]
			if rng.IntN(4) == 0 {
				s = c.Example[k]
			}
			rows[i] = append(rows[i], s)
		}
	}
	return rows
}

// 5,000 random rows a calculator in one batch, in an order of columns of its own, give what each gives alone.
//
// evidence: calc=calculator: batch grade=identity count=15 source=each of 5,000 random rows of 15 calculators worked out alone
func TestBatchIsRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	good, n := 0, 5000
	if runtime.GOARCH == "wasm" {
		n = 500 // some forty times slower there, and the code is the same
	}
	for _, c := range All() {
		rows := randomRows(rng, c, n)
		perm := rng.Perm(len(c.Inputs))
		inch := rng.IntN(2) == 0
		set := Settings{Inch: inch}
		table := &job.Table{Name: "pasted", Rows: [][]string{make([]string, len(perm))}}
		for k, p := range perm {
			table.Rows[0][p] = strings.ToUpper(c.Inputs[k].Heading(inch))
		}
		for _, row := range rows {
			out := make([]string, len(perm))
			for k, p := range perm {
				out[p] = row[k]
			}
			table.Rows = append(table.Rows, out)
		}
		b := c.Batch(table, set)
		if len(b.Rows) != len(rows) || len(b.Problems) > 0 {
			t.Fatalf("%s: %d rows, %v", c.Key, len(b.Rows), b.Problems)
		}
		for i := range rows {
			if filled(rows[i]) == 0 {
				continue
			}
			alone := c.Row(rows[i], set)
			if diff := sameResult(&b.Rows[i], &alone); diff != "" {
				t.Fatalf("%s, row %q: %s", c.Key, rows[i], diff)
			}
			for k := range b.Rows[i].Problems {
				if p := &b.Rows[i].Problems[k]; p.Row != i+2 || p.Sheet != "pasted" || p.Col >= 0 && p.Column != c.Inputs[b.Bound[p.Col]].Title {
					t.Fatalf("%s: %v at %d", c.Key, p, p.Col)
				}
			}
			if alone.OK() {
				good++
			}
		}
	}
	if good < n {
		t.Errorf("only %d rows without an error", good)
	}
}

// What people paste: mixed units, decimal commas, free order, unknown and repeated columns, a header or none, a wrong row among good ones.
func TestBatchAsPasted(t *testing.T) {
	paste := func(key, text string, set Settings) *Batch {
		t.Helper()
		table, _, err := job.ReadDelimited("block", []byte(text), '\t')
		if err != nil {
			t.Fatal(err)
		}
		return Find(key).Batch(table, set)
	}
	col := func(b *Batch, key string) int {
		for k, o := range b.Calculator.Outputs {
			if o.Key == key {
				return len(b.Bound) + k
			}
		}
		t.Fatal(key)
		return 0
	}
	b := paste("gap", "Shutdown list\n\nPump\tDiameter [in]\tGap\nP-1\t10\t0,25\nP-2\t254 mm\t10 mil\nP-3\tten\t1\nP-4\t5\t0,1 mm\n\nPump\tDiameter [in]\tGap\nP-5\t10\t0.254\n", Settings{})
	if len(b.Title) != 2 || len(b.Rows) != 7 || len(b.Problems) != 1 || b.Problems[0].Severity != job.Note || b.Problems[0].Col != 0 || b.Problems[0].Row != 3 {
		t.Fatalf("%v, %d rows, %v", b.Title, len(b.Rows), b.Problems)
	}
	for i, want := range []float64{0.25 / 0.254, 1, math.NaN(), 0.1 / 0.127, math.NaN(), math.NaN(), 1} {
		if got := b.Rows[i].Numbers[0]; !(math.Abs(got-want) < 1e-12) && !sameFloat(got, want) {
			t.Errorf("row %d: slope %v, want %v", i, got, want)
		}
		if b.Rows[i].Row != i+4 {
			t.Errorf("row %d stands in %d", i, b.Rows[i].Row)
		}
	}
	if p := b.Rows[2].Problems[0]; p.String() != `block row 6, Diameter: "ten" is not a length (hint: write 12.5 mm, 12,5 mm or 1/2 in)` || p.Col != 1 {
		t.Errorf("%v", &p)
	}
	if !b.Rows[4].Blank || !b.Rows[5].Blank || len(b.Rows[5].Problems) != 1 {
		t.Error("a blank row and a header again")
	}
	head, row := b.HeaderRow(), b.ResultRow(0)
	if head[0] != "Pump" || head[1] != "Diameter [in]" || head[3] != "Slope found [mm/m]" || row[0] != "P-1" || row[2] != "0,25" || row[3] != "0.98425" {
		t.Errorf("%q, %q", head, row)
	}
	if got := b.ResultRow(2); got[len(got)-1] != `Diameter: "ten" is not a length (hint: write 12.5 mm, 12,5 mm or 1/2 in)` {
		t.Errorf("%q", got)
	}
	back, _, err := job.ReadDelimited("", []byte(b.TSV()), '\t')
	if err != nil || len(back.Rows) != 2+1+7 || strings.Join(back.Rows[2], "|") != strings.Join(head, "|") || strings.Join(back.Rows[3], "|") != strings.Join(row, "|") {
		t.Errorf("%v %q", err, back.Rows)
	}

	// A comma job prints commas; a formula is not handed on.
	b = paste("gap", "Gap\tDiameter\tNote\n0,1\t100\t=1+1\n0.1\t100\t-0,5\n", Settings{Decimal: units.Comma})
	if row := b.ResultRow(0); row[col(b, "slope")] != "1,0000" {
		t.Errorf("%q", row)
	}
	if tsv := b.TSV(); !strings.Contains(tsv, "\t'=1+1\t") || !strings.Contains(tsv, "\t-0,5\t") {
		t.Errorf("%q", tsv)
	}
	if b.Rows[1].OK() {
		t.Error("a point in a comma job")
	}

	// No header: the order of the inputs. One column of it, the rest from the form.
	b = paste("gap", "0.1\t100\n0.2\t100\n", Settings{})
	if b.Header != nil || b.Rows[1].Numbers[0] != 2 || b.HeaderRow()[0] != "Gap difference [mm]" {
		t.Errorf("%q", b.HeaderRow())
	}
	b = paste("convert_column", "Reading\n12.5 mil\n0,30\n1/2 in\nabout 3\n", Settings{Common: []string{"", "mm", "mm", ""}})
	for i, want := range []string{"0.3175", "0.3", "12.7", ""} {
		if b.Rows[i].Texts[1] != want {
			t.Errorf("row %d: %q, want %q; %v", i, b.Rows[i].Texts, want, b.Rows[i].Problems)
		}
	}
	if b.Rows[3].OK() || b.Rows[3].Problems[0].Column != "Value" || b.Rows[3].Row != 5 {
		t.Errorf("%v", b.Rows[3].Problems)
	}

	// A header with a unit nobody knows: bare numbers are refused, others are not.
	b = paste("gap", "Gap [furlong]\tDiameter\n1\t100\n1 mm\t100\n", Settings{})
	if len(b.Problems) != 1 || b.Problems[0].Severity != job.Error || b.Rows[0].OK() || !b.Rows[1].OK() || b.Rows[1].Numbers[0] != 10 {
		t.Errorf("%v %v %v", b.Problems, b.Rows[0].Problems, b.Rows[1].Numbers)
	}
	// The same for density, which package units does not know.
	b = paste("droop", "OD\tLength\tDensity [stone]\n25\t300\t7850\n25\t300\t7850 kg/m3\n", Settings{})
	if b.Rows[0].OK() || !b.Rows[1].OK() {
		t.Errorf("%v %v", b.Rows[0].Problems, b.Rows[1].Problems)
	}
	// Twice the same column: they have to agree where both are filled.
	b = paste("gap", "Gap\tDiameter\tGap difference\n1\t100\t\n\t100\t2\n1\t100\t1\n1\t100\t2\n", Settings{})
	for i, want := range []float64{10, 20, 10, math.NaN()} {
		if !sameFloat(b.Rows[i].Numbers[0], want) {
			t.Errorf("row %d: %v, want %v", i, b.Rows[i].Numbers[0], want)
		}
	}
	// A header without a column that is needed says so once, and every row is an error.
	b = paste("droop", "OD\tTip mass\n25\t1\n", Settings{})
	if len(b.Problems) != 1 || b.Problems[0].Column != "Length" || b.Rows[0].OK() {
		t.Errorf("%v", b.Problems)
	}
	// A wrong header is a row like any other: kept, an error, and the rows below are worked out.
	b = paste("gap", "foo\tbar\n1\t100\n", Settings{})
	if len(b.Rows) != 2 || b.Rows[0].OK() || b.Rows[1].Numbers[0] != 10 {
		t.Errorf("%v", b.Rows)
	}
	if b = Find("gap").Batch(&job.Table{}, Settings{}); len(b.Rows) != 0 || b.TSV() == "" {
		t.Error("nothing pasted")
	}
}

// Materials come by name from the table handed in.
func TestGrowthMaterials(t *testing.T) {
	c := Find("growth")
	set := Settings{Material: func(name string) (Material, bool) {
		return Material{Expansion: map[string]float64{"steel": 11.5, "iron": 10.8}[name]}, name == "steel" || name == "iron"
	}}
	r := c.Row([]string{"100; 200", "", "steel; iron", "50"}, set)
	if want := (100*11.5 + 200*10.8) * 50e-6; !r.OK() || math.Abs(r.Numbers[0]-want) > 1e-12 || r.Texts[1] != "0.057500; 0.10800 mm" {
		t.Errorf("%q %v, want %v; %v", r.Texts, r.Numbers, want, r.Problems)
	}
	for _, bad := range [][]string{{"100; 200", "", "steel; oak", "50"}, {"100; 200", "", "steel; iron; steel", "50"}, {"100; 200", "", "", "50"}, {"100; 200", "1", "", ""}, {"100; 200", "1", "", "5", "5", "6"},
		{"100; ", "1", "", "5"}, {"100; 200", "1", "", "5; 6; 7"}, {"-1", "1", "", "5"}, {"100", "1", "", "", "20"}} {
		if r := c.Row(bad, set); r.OK() || r.Texts[0] != "" {
			t.Errorf("%q gives %q", bad, r.Texts)
		}
	}
	if r := c.Row([]string{"100", "", "steel", "50"}, Settings{}); FindMaterial == nil && r.OK() {
		t.Error("a material without a table")
	}
}

// The stress area of a thread is what its standard prints, however the thread is written.
//
// evidence: calc=calculator: bolt grade=published count=14 source=ISO 898-1, tensile stress areas M6 to M36 (quoted)
// evidence: calc=calculator: bolt grade=published count=7 source=SAE J429 and ASME B1.1, tensile stress areas of UNC threads 1/4 to 1 in (quoted)
func TestThreads(t *testing.T) {
	c := Find("bolt")
	area := func(thread string) float64 {
		r := c.Row([]string{thread, "", "", "", "100 N·m"}, Settings{})
		for k := range c.Outputs {
			if c.Outputs[k].Key == "area" {
				return r.Numbers[k]
			}
		}
		return math.NaN()
	}
	const in2 = 645.16
	for thread, want := range map[string]float64{"M6": 20.1, "M8": 36.6, "M10": 58.0, "M12": 84.3, "M14": 115, "m 16": 157, "M18": 192, "M20": 245, "M22": 303, "M24": 353, "M27": 459, "M30": 561, "M33": 694, "M36": 817,
		"1/4-20": .0318 * in2, "3/8 UNC": .0775 * in2, `1/2"`: .1419 * in2, "5/8-11": .226 * in2, "0.75 in": .334 * in2, "7/8": .462 * in2, "1-8 UNC": .606 * in2,
		"M16x2": 157, "M12 × 1,25": 92.1, "1-1/4": .969 * in2, "3/4-16": .373 * in2, "3/4 UNF": .373 * in2} {
		if got := area(thread); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s has %g mm², want %g", thread, got, want)
		}
	}
	for _, s := range []string{"", "M", "M0", "M17", "M16x", "M16x7", "M16x20", "16", "3/4-", "3/4-x", "3/4-11", "1-1", "-1/2", "M16x1.5x2", "1e300", "m1e9", "3/4 mm", "1 5/8"} {
		if got := area(s); !math.IsNaN(got) {
			t.Errorf("%q has %g mm²", s, got)
		}
	}
}

// What was seen: class 8 on a metric thread, --5, -10.9, 88 and a bolt past the end of its standard gave a torque. The calculator and the look-up say
// the same of a bolt, to the last digit.
//
// evidence: calc=calculator: bolt grade=identity count=1 source=torque of every thread in every class at 75 % of its proof load: the calculator's is the look-up's
func TestBoltClasses(t *testing.T) {
	c := Find("bolt")
	in := &c.Inputs[1]
	if fmt.Sprint(in.ChoiceWords()) != fmt.Sprint(tables.Classes()) {
		t.Errorf("the calculator has %q, the tables %q", in.ChoiceWords(), tables.Classes())
	}
	var finishes []string
	for _, f := range tables.Frictions() {
		finishes = append(finishes, f.Name)
	}
	if got := c.Inputs[len(c.Inputs)-1].ChoiceWords(); fmt.Sprint(got) != fmt.Sprint(finishes) {
		t.Errorf("the calculator has %q, the tables %q", got, finishes)
	}
	row := func(thread, class string) Result {
		return c.Row([]string{thread, class, "", "", "", "", "75 %"}, Settings{})
	}
	for _, w := range [][3]string{{"M16", "8", "grade 8 does not go with M16"}, {"M16", "grade 5", "does not go with M16"}, {"3/4-10", "8.8", "does not go with 3/4-10"}, {"3/4-10", "--5", "--5"}, {"M16", "-10.9", "-10.9"},
		{"M16", "88", "88"}, {"M16", "6.8", "6.8"}, {"M42", "8.8", "8.8 ends at 39 mm (ISO 898-1)"}, {"1 3/4-5", "grade 5", "such as ASTM A449"}, {"M30", "A4-80", "A4-80 ends at 24 mm"}} {
		r := row(w[0], w[1])
		if r.OK() || r.Texts[0] != "" || !strings.Contains(r.Problems[0].Text.String(), w[2]) {
			t.Errorf("%s %s: %q %v", w[0], w[1], r.Texts, r.Problems)
		}
	}
	n := 0
	for _, thread := range []string{"M6", "M16", "M16x1.5", "M24", "M30", "M39", "1/4-20", "3/4", "3/4 UNF", "1-8", "1 1/2-6"} {
		for _, class := range tables.Classes() {
			hit := tables.Search(thread + " " + class).Hits[0]
			r := row(thread, class)
			want := math.NaN()
			for _, f := range hit.Facts {
				if strings.HasPrefix(f.Label, "torque, ") && math.IsNaN(want) {
					want = f.Base
				}
			}
			if n++; math.IsNaN(want) != !r.OK() || r.OK() && math.Abs(r.Numbers[0]-want) > 1e-9*want {
				t.Errorf("%s %s: the calculator has %v, the look-up %v; %v", thread, class, r.Numbers[0], want, r.Problems)
			}
		}
	}
	// Usual practice is no reason to warn; more than that is.
	if r := row("M16", "8.8"); len(r.Problems) != 0 || r.Texts[len(r.Texts)-1] != "books print K from 0.200 to 0.300 for plain, dry: 50 to 75 % of the proof load" {
		t.Errorf("%q %v", r.Texts, r.Problems)
	}
	if r := c.Row([]string{"M16", "8.8", "", "", "", "", "80 %"}, Settings{}); len(r.Problems) != 1 || r.Problems[0].Severity != job.Warning {
		t.Errorf("%v", r.Problems)
	}
	for finish, k := range map[string]float64{"": 0.2, "plain, dry": 0.2, "zinc": 0.2, "oiled": 0.15} {
		if r := c.Row([]string{"M16", "8.8", "", "", "", "", "75 %", "", "", finish}, Settings{}); !r.OK() || math.Abs(r.Numbers[0]-k*16*0.75*91) > 1e-9 {
			t.Errorf("%q: %v %v", finish, r.Numbers, r.Problems)
		}
	}
}

// Nonsense in, a sentence out, in every calculator and in a batch: what was seen to give a number. The same rule for every input of a measure.
func TestNonsense(t *testing.T) {
	bad := map[Measure][]string{
		MDistance: {"-1 mm", "1e308 mm", "-0.001 in"}, MThickness: {"1e308 mm", "-2 m"}, MTemperature: {"-500 °C", "-460 °F", "1e308 °C"}, MRise: {"1e308 K"}, MExpansion: {"11.5e-6", "0.0000115", "1e308"},
		MSpeed: {"-1480 rpm", "1e308 rpm"}, MFrequency: {"-50 Hz", "1e308 Hz"}, MForce: {"1e308 N"}, MTorque: {"1e308 N·m"}, MStress: {"-1 MPa", "1e308 MPa"}, MStiffness: {"-200 GPa", "1e308 GPa"},
		MMass: {"-1 kg", "1e308 kg"}, MDensity: {"1e308 kg/m³"}, MSlope: {"1e308 mm/m"}, MShare: {"1e308 %"}, MNumber: {"1e308"}, MCount: {"1e308", "-2"}, MValue: {"1e308 mm", "-500 °C"}, MAngle: {"1e308 °"},
	}
	n := 0
	for _, c := range All() {
		for i := range c.Inputs {
			in := &c.Inputs[i]
			for _, s := range bad[in.Measure] {
				cells := slices.Clone(c.Example)
				cells[i] = s
				if c.Key == "convert" || c.Key == "convert_column" {
					cells[1], cells[2] = "", ""
					if c.Key == "convert_column" {
						cells[2] = map[bool]string{true: "in", false: "K"}[s == "1e308 mm"]
					}
				}
				table := &job.Table{Name: "pasted", Rows: [][]string{strings.Split(c.HeaderBlock(false), "\t"), cells}, FirstRow: 1}
				r := c.Row(cells, Settings{})
				b := c.Batch(table, Settings{})
				if r.OK() || !slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Severity == job.Error && p.Col == i }) {
					t.Errorf("%s, %s: %q is taken: %q %v", c.Key, in.Title, s, r.Texts, r.Problems)
				}
				if diff := sameResult(&b.Rows[0], &r); diff != "" {
					t.Errorf("%s, %s: %q in a batch: %s", c.Key, in.Title, s, diff)
				}
				n++
			}
		}
	}
	t.Log(n, "cells refused")
	// 1801 r/min at 60 Hz: 2 poles would slip by half.
	speed := Find("speed")
	r := speed.Row([]string{"60 Hz", "", "1801 rpm"}, Settings{})
	if r.OK() || r.Texts[0] != "" || !strings.Contains(r.Problems[0].Text.String(), "with 2 poles the slip would be 50 %") {
		t.Errorf("%q %v", r.Texts, r.Problems)
	}
	if r := speed.Row([]string{"60 Hz", "2", "1801 rpm"}, Settings{}); !r.OK() || len(r.Problems) != 1 || r.Problems[0].Severity != job.Warning {
		t.Errorf("%q %v", r.Texts, r.Problems)
	}
	if r := speed.Row([]string{"60 Hz", "", "1750 rpm"}, Settings{}); len(r.Problems) != 0 {
		t.Errorf("%v", r.Problems)
	}
}

func bigOf(n nat) *big.Int {
	z := new(big.Int)
	for i := len(n) - 1; i >= 0; i-- {
		z.Lsh(z, 32).Or(z, big.NewInt(int64(n[i])))
	}
	return z
}

func ratOf(a rational) *big.Rat {
	r := new(big.Rat).SetFrac(bigOf(a.p), bigOf(a.q))
	if a.neg {
		r.Neg(r)
	}
	return r
}

// The whole numbers and fractions written out here against the library's.
//
// evidence: calc=calculator: unit conversion grade=independent count=6 source=whole numbers and fractions against Go's math/big
func TestRationalAgainstBig(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	random := func(words int) nat {
		n := make(nat, rng.IntN(words+1))
		for i := range n {
			n[i] = rng.Uint32()
			if rng.IntN(4) == 0 {
				n[i] = []uint32{0, 1, math.MaxUint32, 1 << 31}[rng.IntN(4)]
			}
		}
		return n.trim()
	}
	for range 2000 {
		a, b := random(6), random(4)
		x, y := bigOf(a), bigOf(b)
		if got := bigOf(a.mul(b)); got.Cmp(new(big.Int).Mul(x, y)) != 0 {
			t.Fatal(a, b, "mul")
		}
		if got := bigOf(a.add(b)); got.Cmp(new(big.Int).Add(x, y)) != 0 {
			t.Fatal(a, b, "add")
		}
		if a.cmp(b) >= 0 && bigOf(a.sub(b)).Cmp(new(big.Int).Sub(x, y)) != 0 || (a.cmp(b) > 0) != (x.Cmp(y) > 0) {
			t.Fatal(a, b, "sub")
		}
		if a.String() != x.String() {
			t.Fatal(a, "String")
		}
		if len(b) > 0 {
			q, r := a.div(b)
			wq, wr := new(big.Int).QuoRem(x, y, new(big.Int))
			if bigOf(q).Cmp(wq) != 0 || bigOf(r).Cmp(wr) != 0 {
				t.Fatal(a, b, "div")
			}
			u := rational{rng.IntN(2) == 0, a, b}
			d := rng.IntN(40)
			want := ratOf(u)
			// big rounds a tie away from zero, here it goes to the even digit; a tie is told by the double.
			scaled := new(big.Rat).Mul(want, new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d)), nil)))
			if tie := new(big.Rat).Mul(scaled, big.NewRat(2, 1)); !tie.IsInt() {
				w := want.FloatString(d)
				if strings.Trim(w, "-0.") == "" {
					w = strings.TrimPrefix(w, "-")
				}
				if got := u.fixed(d, units.Point); got != w {
					t.Fatalf("%v with %d decimals is %s, want %s", want, d, got, w)
				}
			}
			if red := u.reduce(); ratOf(red).Cmp(want) != 0 || bigOf(red.q).Cmp(want.Denom()) != 0 {
				t.Fatal(u, "reduce")
			}
			if len(a) > 0 {
				e, first := u.magnitude()
				f, _ := new(big.Float).SetPrec(300).SetRat(want).MarshalText()
				sci := new(big.Float).SetPrec(300).SetRat(want).Text('e', 60)
				if sci = strings.TrimPrefix(sci, "-"); sci[0] != first || sci[strings.IndexByte(sci, 'e')+1:] != fmt.Sprintf("%+03d", e) {
					t.Fatalf("%s begins with %c, e%d", f, first, e)
				}
			}
		}
	}
}

// Every factor read from the printed reference is the one that package units computes with, and every pair of units of a kind goes there and back
// exactly.
//
// evidence: calc=calculator: unit conversion grade=identity count=1 source=every pair of units of a kind, 20 random numbers as typed, there and back in exact fractions (Go's math/big)
func TestConvertThereAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	pairs := 0
	for k, m := range convertible {
		list := m.unitsOf()
		for _, a := range list {
			f, ok := a.exactRatio()
			if angle := m == MSlope && a.x == nil && strings.Contains("° arcmin arcsec", a.String()); angle == ok {
				t.Fatalf("%v: exact %v", a, ok)
			} else if angle {
				continue
			}
			for _, x := range []float64{0, 1, -12.5, 1e6} {
				want := a.u.ToBase(x)
				if a.x != nil {
					want = x * float64(a.x.num) / float64(a.x.den)
				}
				got, _ := new(big.Rat).Mul(new(big.Rat).Add(new(big.Rat).SetFloat64(x), ratOf(f.add)), ratOf(f.by)).Float64()
				if math.Abs(got-want) > 1e-15*(math.Abs(want)+1000) {
					t.Errorf("%g %v is %v in the base unit, want %v", x, a, got, want)
				}
			}
			for _, b := range list {
				if _, ok := b.exactRatio(); !ok {
					continue
				}
				pairs++
				for range 20 {
					digits := fmt.Sprintf("%d.%0*d", rng.IntN(2000), 1+rng.IntN(6), rng.IntN(10))
					if rng.IntN(3) == 0 && m != MTemperature {
						digits = "-" + digits
					}
					v := typed(digits, func() float64 { r, _ := new(big.Rat).SetString(digits); x, _ := r.Float64(); return x }())
					want, _ := new(big.Rat).SetString(digits)
					if !v.exact || ratOf(v.value).Cmp(want) != 0 {
						t.Fatalf("%s is read as %v", digits, ratOf(v.value))
					}
					g, _ := b.exactRatio()
					there := v.value.add(f.add).mul(f.by).over(g.by).less(g.add)
					back := there.add(g.add).mul(g.by).over(f.by).less(f.add)
					if ratOf(back).Cmp(want) != 0 {
						t.Fatalf("%s %v to %v and back is %v", digits, a, b, ratOf(back))
					}
					// What is printed as exact is, to the last digit.
					c := convertTo(a, b, v, 0, m == MTemperature, units.Point)
					if !strings.Contains(c.exact, "…") {
						if got, ok := new(big.Rat).SetString(c.exact); !ok || got.Cmp(ratOf(there)) != 0 {
							t.Fatalf("%s %v is printed as %s %v, want %v", digits, a, c.exact, b, ratOf(there))
						}
					} else if _, frac, has := strings.Cut(c.exact, "("); has {
						if got, ok := new(big.Rat).SetString(strings.TrimSuffix(frac, ")")); !ok || got.Cmp(ratOf(there)) != 0 {
							t.Fatalf("%s %v is printed as %s %v, want %v", digits, a, c.exact, b, ratOf(there))
						}
					}
					// What is rounded is within half of its last digit.
					got, ok := new(big.Rat).SetString(c.rounded)
					_, behind, _ := strings.Cut(c.rounded, ".")
					half := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Mul(big.NewInt(2), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(behind))), nil)))
					if zeros := len(c.rounded) - len(strings.TrimRight(c.rounded, "0")); behind == "" {
						half.Mul(half, new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(zeros)), nil)))
					}
					if diff := new(big.Rat).Sub(got, ratOf(there)); !ok || diff.Abs(diff).Cmp(half) > 0 {
						t.Fatalf("%s %v is rounded to %s %v, exact %s", digits, a, c.rounded, b, c.exact)
					}
				}
			}
		}
		_ = k
	}
	if pairs < 200 {
		t.Errorf("only %d pairs", pairs)
	}
}

// Numbers as people type them are read exactly.
func TestTypedExactly(t *testing.T) {
	for text, want := range map[string]string{"1,234.5 mm": "1234.5", "1 234,5 mm": "1234.5", "1'234.50 mm": "1234.5", "−0.35 mm": "-0.35", "10½ in": "21/2", "10-1/8 in": "81/8", "5' 3 1/2\"": "127/2", "5 ft 3.25 in": "253/4",
		"1.2e-3 mm": "0.0012", "0.1 mm": "1/10", ".5 mm": "1/2", "123456789012345678901234 mm": "123456789012345678901234", "0.00000000000000000001 mm": "0.00000000000000000001", "5 mil": "5", "1,234,567 mm": "1234567", "0 mm": "0"} {
		v, err := units.Parse(text, units.Length, units.None, units.Either)
		if err != nil {
			t.Fatal(err.Msg)
		}
		w, _ := new(big.Rat).SetString(want)
		if got := typed(text, v.Unit.FromBase(v.Base)); !got.exact || ratOf(got.value).Cmp(w) != 0 {
			t.Errorf("%q is %v, want %v", text, ratOf(got.value), w)
		}
	}
}

// FuzzCalculators pastes anything: nothing panics, every row is kept, and a row alone gives what it gives among others.
func FuzzCalculators(f *testing.F) {
	for i := range All() {
		c := All()[i]
		f.Add(uint8(i), c.HeaderBlock(i%2 == 0)+"\n"+strings.Join(c.Example, "\t")+"\n\tx\t12,5,0 mm\n", i%2 == 0)
	}
	f.Add(uint8(0), "1/3 in\n5' 3 1/2\"\n1e308 mm\n1e-300 in\n99999999999999999999999 psi\n-459.67 °F\n", false)
	f.Add(uint8(4), "gap\tgap difference\tgap [x]\n1\t2\t3\n", true)
	f.Fuzz(func(t *testing.T, which uint8, text string, inch bool) {
		c := All()[int(which)%len(All())]
		table, _, err := job.ReadDelimited("block", []byte(text), '\t')
		if err != nil {
			t.Skip()
		}
		if len(table.Rows) > 40 {
			table.Rows = table.Rows[:40]
		}
		set := Settings{Inch: inch}
		b := c.Batch(table, set)
		above := 0
		if b.Header != nil {
			above = len(b.Title) + 1
		}
		if len(b.Rows)+above != len(table.Rows) {
			t.Fatalf("%d rows of %d, %d above", len(b.Rows), len(table.Rows), above)
		}
		if got := strings.Count(b.TSV(), "\n"); got != len(b.Rows)+len(b.Title)+1 {
			t.Fatalf("%d lines for %d rows", got, len(b.Rows))
		}
		for i := range b.Rows {
			one := &job.Table{Name: "block", Header: b.Header, Rows: table.Rows[above+i : above+i+1], FirstRow: above + i + 1}
			if b.Header == nil {
				if c.findHeader(one.Rows) >= 0 {
					continue // alone it would be taken for a header
				}
				one = &job.Table{Name: "block", Rows: append([][]string{make([]string, len(b.Bound))}, one.Rows...), FirstRow: above + i}
			}
			alone := c.Batch(one, set)
			if diff := sameResult(&b.Rows[i], &alone.Rows[len(alone.Rows)-1]); diff != "" {
				t.Fatalf("row %q: %s", table.Rows[above+i], diff)
			}
			for k, x := range b.Rows[i].Numbers {
				if math.IsInf(x, 0) || !math.IsNaN(x) && b.Rows[i].Texts[k] == "" {
					t.Fatalf("output %d is %v, %q", k, x, b.Rows[i].Texts[k])
				}
			}
		}
	})
}
