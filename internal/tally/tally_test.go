package tally

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// work reads a job from its lists and works it out.
func work(t *testing.T, lists map[job.SheetKind]string) *sentences.Teller {
	t.Helper()
	j := job.NewJob()
	for k, csv := range lists {
		tab, _, err := job.ReadDelimited(k.String(), []byte(csv), 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.SplitHeader(k)
		j.SetTable(k, tab)
	}
	e := sentences.New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return e
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func TestSpreadAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 1))
	for n := 1; n < 300; n++ {
		x := make([]float64, n)
		at := rng.NormFloat64() * 100
		for k := range x {
			x[k] = at + rng.NormFloat64()*math.Pow(10, float64(n%7-4))
		}
		got := SpreadOf(append(slices.Clone(x), math.NaN()))
		mean, sd := stat.MeanStdDev(x, nil)
		slices.Sort(x)
		low := stat.Quantile(0.5, stat.Empirical, x, nil)
		up := make([]float64, n)
		for k := range x {
			up[n-1-k] = -x[k]
		}
		median := (low - stat.Quantile(0.5, stat.Empirical, up, nil)) / 2
		if n == 1 {
			sd = math.NaN()
		}
		//evidence: calc=numbers of a shutdown grade=independent count=299 source=gonum/stat MeanStdDev and Quantile, samples of 1 to 299 values
		if near(t, "mean", got.Mean, mean, 1e-12*math.Abs(at)+1e-15); got.N != n || got.Least != x[0] || got.Most != x[n-1] {
			t.Errorf("%d values: %+v", n, got)
		}
		near(t, "standard deviation", got.SD, sd, 1e-9*sd)
		near(t, "median", got.Median, median, 1e-12*math.Abs(at)+1e-15)
	}
	// Data sets made to break careless formulas.
	//evidence: calc=numbers of a shutdown grade=published count=3 source=NIST Statistical Reference Datasets, univariate NumAcc1, NumAcc3, NumAcc4: mean and standard deviation (from memory)
	for _, c := range []struct{ base, step, sd float64 }{{10000002, 1, 1}, {1000000.2, 0.1, 0.1}, {10000000.2, 0.1, 0.1}} {
		x := []float64{c.base}
		n := 500
		if c.step == 1 {
			n = 1
		}
		for range n {
			x = append(x, c.base-c.step, c.base+c.step)
		}
		s := SpreadOf(x)
		near(t, "NIST mean", s.Mean, c.base, 1e-8)
		near(t, "NIST standard deviation", s.SD, c.sd, 1e-8)
	}
}

func TestShare(t *testing.T) {
	//evidence: calc=numbers of a shutdown grade=published count=4 source=R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, score method (from memory)
	for _, c := range []struct {
		n, of     int
		low, high float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}} {
		_, low, high := Share{c.n, c.of}.Part()
		near(t, fmt.Sprint(c, " low"), low, c.low, 0.00005)
		near(t, fmt.Sprint(c, " high"), high, c.high, 0.00005)
	}
	near(t, "z", z, distuv.UnitNormal.Quantile(0.975), 1e-12)
	for of := range 40 {
		for n := range of + 1 {
			s := Share{n, of}
			p, low, high := s.Part()
			if of < Few {
				if !math.IsNaN(p) || strings.Contains(s.String(), "%") {
					t.Errorf("%v: a percentage of a few", s)
				}
				continue
			}
			for _, end := range []float64{low, high} { // both ends solve the equation they are defined by, or are 0 or 1
				if end > 1e-12 && end < 1-1e-12 {
					near(t, fmt.Sprint(n, " of ", of), math.Abs(p-end), z*math.Sqrt(end*(1-end)/float64(of)), 1e-12)
				}
			}
			if !(low <= p && p <= high) || low < 0 || high > 1 {
				t.Errorf("%d of %d: %v, %v to %v", n, of, p, low, high)
			}
		}
	}
}

const machineHead = "Machine,Crew,Area,Base,Speed [rpm],Method,Graduation,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet," +
	"Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Movable rim 12 again,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Movable sag at 6,Stationary sag at 6\n"

// The repeatability of a crew is what gonum's variances of the pairs and of the balances come to, from the readings as typed.
func TestRepeats(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 2))
	round := func(x float64) float64 { return math.Round(x*1e4) / 1e4 }
	var b strings.Builder
	b.WriteString(machineHead)
	var pairs, balances = map[string][]float64{}, map[string][]float64{}
	for k := range 60 {
		crew := []string{"Crew A", "crew B", "crew  b"}[k%3]
		key := strings.ToLower(strings.Join(strings.Fields(crew), " "))
		r := make([]float64, 9)
		v, h := 0.05+0.02*rng.NormFloat64(), 0.05*rng.NormFloat64()
		for i, truth := range []float64{0, h - v, -2 * v, -h - v, 0, 0, v - h, 2 * v, v + h} {
			r[i] = round(truth + 0.004*rng.NormFloat64())
		}
		if k == 7 {
			r[2] += 1 // a slip: no spread
		} else {
			pairs[key] = append(pairs[key], stat.Variance([]float64{r[0], r[4]}, nil))
		}
		for i, at := range [][]float64{r[:4], r[5:]} {
			if k != 7 || i == 1 {
				balances[key] = append(balances[key], at[0]+at[2]-at[1]-at[3])
			}
		}
		fmt.Fprintf(&b, "M%d,%s,,,1480,reverse indicator,0.01,100,100,300,500", k, crew)
		for _, x := range r {
			fmt.Fprintf(&b, ",%.4f", x)
		}
		b.WriteString(",0,0\n")
	}
	j := Of(work(t, map[job.SheetKind]string{job.MachinesSheet: b.String()}), "x")
	if len(j.Repeats) != 3 || j.Repeats[2].By != "all" {
		t.Fatalf("%+v", j.Repeats)
	}
	slips := 0
	for _, r := range j.Repeats[:2] {
		key := strings.ToLower(r.Name)
		//evidence: calc=numbers of a shutdown grade=independent count=4 source=gonum/stat Variance over repeated readings, and the second moment of the balances, of 60 simulated machines
		near(t, key+" from repeats", r.FromRepeats, math.Sqrt(stat.Mean(pairs[key], nil)), 1e-12)
		near(t, key+" from balances", r.FromBalance, math.Sqrt(stat.MomentAbout(2, balances[key], 0, nil)/4), 1e-12)
		near(t, key+" against what was simulated", r.FromRepeats, 0.004, 0.0012)
		near(t, key+" against what was simulated", r.FromBalance, 0.004, 0.0012)
		if r.Repeats != len(pairs[key]) || r.Balances != len(balances[key]) {
			t.Errorf("%s: %+v, want %d and %d", key, r, len(pairs[key]), len(balances[key]))
		}
		slips += r.Slips
	}
	if slips != 1 || j.Repeats[2].Slips != 1 || j.Repeats[2].Failed < 2 || j.Repeats[2].Sweeps != 120 {
		t.Errorf("%+v", j.Repeats)
	}
}

// course is a job whose machines went several ways; the readings of a line are given as such.
func course(t *testing.T) *sentences.Teller {
	machines := "Machine,Crew,Area,Base,Speed [rpm],Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H,Graduation,Repeatability\n"
	rounds := "Machine,Round,By,Struck,Front shim done,Rear shim done,Front move done,Rear move done,Given offset V,Given offset H,Given slope V,Given slope H\n"
	add := func(name, crew, base, found string) {
		machines += name + "," + crew + ",hall," + base + ",1480,line,300,500," + found + ",0.001,0.001\n"
	}
	const out, in, odd = "0.9,0,0,0", "0.01,0,0,0", "0.9,,,"
	add("A", "day", "frame", out)
	rounds += "A,1,,,-0.9,-0.9,0,0," + in + "\n"
	add("B", "day", "Frame", out)
	rounds += "B,1,,it slipped,-0.9,-0.9,0,0,0.3,0,0,0\n" // struck: the next one is the first attempt
	rounds += "B,1,night,,-0.9,-0.9,0,0,-0.2,0,0,0\n"     // 0.2 too low
	rounds += "B,2,day,,0.2,0.2,0,0," + in + "\n"
	add("C", "day", "plate", in) // inside as found; moved for fun
	rounds += "C,1,,,0,0,0,0,0.02,0,0,0\n"
	add("D", "", "", out) // not moved yet
	add("E", "day", "plate", out)
	rounds += "E,1,,,-0.9,-0.9,0,0," + odd + "\n" // cannot be judged
	rounds += "E,left,,,-0.9,-0.9,0,0," + in + "\n"
	add("F", "night", "", odd)
	add("G", "day", "plate", out) // read hot, and not moved: no attempt, and no feet missed
	rounds += "G,hot,,,,,,,0.7,0,0,0\n"
	return work(t, map[job.SheetKind]string{job.MachinesSheet: machines, job.RoundsSheet: rounds, job.SettingsSheet: "Setting,Value\nName,Spring\nDate,2026\n"})
}

func TestFirstAttempt(t *testing.T) {
	e := course(t)
	j := Of(e, "x")
	if want := (Share{1, 2}); j.First != want { // A yes, B no
		t.Errorf("first attempt %+v, want %+v", j.First, want)
	}
	if want := (Share{1, 6}); j.Found != want {
		t.Errorf("as found %+v, want %+v", j.Found, want)
	}
	if want := (Share{4, 6}); j.Now != want {
		t.Errorf("now %+v, want %+v", j.Now, want)
	}
	if j.Name != "Spring, 2026" || j.Machines != 7 {
		t.Errorf("%+v", j)
	}
	var got []string
	for _, a := range j.Attempts {
		got = append(got, a.By+" "+a.Name+" "+a.First.String())
	}
	if want := []string{"crew day 1 of 1", "crew night 0 of 1", "area hall 1 of 2"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// How far feet missed, by base and machine, is what gonum says of the single misses, and those are the rounds' own.
func TestMisses(t *testing.T) {
	e := course(t)
	j := Of(e, "x")
	var v, frame []float64
	for i := range e.Len() {
		for _, o := range e.Row(i).Rounds {
			for _, f := range o.Missed {
				if o.Name == "hot" {
					continue
				}
				v = append(v, f.V)
				if n := e.Row(i).Name; n == "A" || n == "B" {
					frame = append(frame, f.V)
				}
			}
		}
	}
	found := 0
	for _, m := range j.Misses {
		list := v
		switch {
		case m.By == "base" && m.Name == "frame":
			list = frame
		case m.By != "all":
			continue
		}
		found++
		mean, sd := stat.MeanStdDev(list, nil)
		near(t, m.By+" mean", m.V.Mean, mean, 1e-12)
		near(t, m.By+" deviation", m.V.SD, sd, 1e-12)
		if m.V.N != len(list) || m.V.N == 0 {
			t.Errorf("%+v of %d", m, len(list))
		}
	}
	if found != 2 {
		t.Errorf("%+v", j.Misses)
	}
	for _, m := range j.Misses {
		if m.By == "machine" && m.Name == "B" {
			//evidence: calc=numbers of a shutdown grade=identity count=2 source=feet lowered by 0.9 mm from 0.9 above that are read 0.2 below missed by 0.2
			near(t, "B's largest", m.V.Largest(), 0.2, 1e-9)
			near(t, "B's lowest", m.V.Least, -0.2, 1e-9)
			if m.V.N != 4 || m.Sprang != 2 {
				t.Errorf("%+v", m)
			}
		}
	}
}

// The order of rows changes no number, and what goes out says the same: a table beside an earlier job, no percentage of a few.
func TestOut(t *testing.T) {
	e := course(t)
	j := Of(e, "x")
	table := e.Job().Table(job.MachinesSheet)
	slices.Reverse(table.Rows)
	again := sentences.New(e.Job())
	if err := again.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	last := Of(again, "x")
	if a, b := fmt.Sprint(j.First, j.Found, j.Now, j.Attempts, j.Repeats), fmt.Sprint(last.First, last.Found, last.Now, last.Attempts, last.Repeats); a != b {
		t.Errorf("turned over: %s, want %s", b, a)
	}
	last.Name = "Spring, 2025"
	tables := Tables(e, []*Job{j, last})
	text := string(AppendText(nil, tables))
	for _, want := range []string{"Spring, 2026", "Spring, 2025", "1 of 2", "few", "sprang", "frame"} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(want)) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	csv := string(AppendCSV(nil, tables, ','))
	for _, tab := range tables {
		if !strings.Contains(csv, tab.Title+"\r\n") && !strings.Contains(csv, tab.Title+"\n") {
			t.Errorf("%q is not in\n%s", tab.Title, csv)
		}
		for _, row := range tab.Rows {
			if len(row) != len(tab.Header) {
				t.Errorf("%s: %q", tab.Title, row)
			}
		}
	}
	if got := string(AppendText(nil, Tables(e, []*Job{{Name: "nothing"}}))); !strings.Contains(got, "nothing") {
		t.Error(got)
	}
}
