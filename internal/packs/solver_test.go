//go:build !js

package packs

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"shimsheet/internal/glpk"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// integerProgramme writes the job in CPLEX LP format, straight from what is asked and with no list of packs: how many pieces of each item go
// under each foot and which of those in place stay, whole numbers all, in micrometres. The objective is the feet met, then less the error,
// then less the pieces; perMet and perUM are the worth of a foot and of a micrometre in pieces.
func integerProgramme(s *stockJob) (lp string, perMet, perUM int) {
	um := func(v float64) int { return int(math.Round(v * 1000)) }
	var obj, rows, ints, bins, bounds bytes.Buffer
	draws := make([]map[string]int, len(s.stock))
	for k := range draws {
		draws[k] = map[string]int{}
	}
	perUM, perMet = 1, 1
	for i := range s.feet {
		tol, most := s.settings(&s.feet[i])
		perUM += most
		perMet += um(tol)
	}
	perMet = perMet*perUM + perUM
	for i := range s.feet {
		f := &s.feet[i]
		if f.InPlace == nil && f.Change < 0 {
			continue
		}
		tol, most := s.settings(f)
		want := um(f.Change)
		for _, v := range f.InPlace {
			want += um(v)
		}
		var sum, count bytes.Buffer
		add := func(b *bytes.Buffer, coef int, name string) { fmt.Fprintf(b, " %+d %s", coef, name) }
		met := fmt.Sprintf("m%d", i)
		fmt.Fprintf(&obj, " %+d %s %+d e%d", perMet, met, -perUM, i)
		fmt.Fprintf(&bins, " %s\n", met)
		for k := range s.stock {
			it := &s.stock[k]
			if it.Size != "" && it.Size != f.Size {
				continue
			}
			n := fmt.Sprintf("n%d_%d", i, k)
			add(&count, 1, n)
			draws[k][n]++
			fmt.Fprintf(&ints, " %s\n", n)
			fmt.Fprintf(&bounds, " 0 <= %s <= %d\n", n, most)
			if it.Lamination == 0 {
				add(&sum, um(it.MM), n)
				continue
			}
			l, layers := fmt.Sprintf("l%d_%d", i, k), um(it.MM)/um(it.Lamination)
			add(&sum, um(it.Lamination), l)
			fmt.Fprintf(&ints, " %s\n", l)
			fmt.Fprintf(&bounds, " 0 <= %s <= %d\n", l, layers*most)
			fmt.Fprintf(&rows, " %s - %s >= 0\n %s - %d %s <= 0\n", l, n, l, layers, n)
		}
		for q, v := range f.InPlace {
			k := fmt.Sprintf("k%d_%d", i, q)
			add(&sum, um(v), k)
			add(&count, 1, k)
			fmt.Fprintf(&bins, " %s\n", k)
			fmt.Fprintf(&rows, " %s - %s <= 0\n", k, met)
			if s.opt.ReturnRemoved { // with distinct sizes left out a piece goes back to the one item of its thickness
				for x := range s.stock {
					if it := &s.stock[x]; um(it.MM) == um(v) && it.Lamination == 0 {
						draws[x][k]++
						draws[x][met]--
					}
				}
			}
		}
		obj.WriteString(strings.ReplaceAll(count.String(), "+", "-"))
		if count.Len() > 0 {
			fmt.Fprintf(&rows, "%s - %d %s <= 0\n", &count, most, met)
		}
		fmt.Fprintf(&rows, "%s %+d %s - e%d <= 0\n", &sum, -want, met, i)
		fmt.Fprintf(&rows, "%s %+d %s + e%d >= 0\n", &sum, -want, met, i)
		fmt.Fprintf(&rows, " e%d - %d %s <= 0\n", i, um(tol), met)
	}
	for k := range s.stock {
		if s.stock[k].Count >= 0 && len(draws[k]) > 0 {
			for _, name := range slices.Sorted(maps.Keys(draws[k])) {
				fmt.Fprintf(&rows, " %+d %s", draws[k][name], name)
			}
			fmt.Fprintf(&rows, " <= %d\n", s.stock[k].Count)
		}
	}
	if obj.Len() == 0 {
		return "", perMet, perUM
	}
	return fmt.Sprintf("Maximize\n obj:%s\nSubject To\n%sBounds\n%sGenerals\n%sBinaries\n%sEnd\n", &obj, &rows, &bounds, &ints, &bins), perMet, perUM
}

// solveLP runs glpsol for at most limit seconds and returns the value of the best plan found; optimal says that it is the best of all.
func solveLP(bin, dir, lp string, limit int) (value int, optimal bool, err error) {
	in, out := filepath.Join(dir, "in.lp"), filepath.Join(dir, "out.txt")
	if err := os.WriteFile(in, []byte(lp), 0o600); err != nil {
		return 0, false, err
	}
	text, err := exec.Command(bin, "--lp", in, "--tmlim", strconv.Itoa(limit), "-w", out).CombinedOutput()
	if err != nil {
		return 0, false, fmt.Errorf("glpsol: %w\n%s", err, text)
	}
	sol, err := os.ReadFile(out)
	if err != nil {
		return 0, false, err
	}
	for line := range strings.Lines(string(sol)) {
		if w := strings.Fields(line); len(w) == 6 && w[0] == "s" && w[1] == "mip" {
			v, err := strconv.ParseFloat(w[5], 64)
			if w[4] == "u" { // out of time: the empty plan is one
				return 0, false, nil
			}
			if err != nil || w[4] == "n" {
				return 0, false, fmt.Errorf("glpsol: %s", line)
			}
			if math.Abs(v-math.Round(v)) > 1e-3 {
				return 0, false, fmt.Errorf("glpsol: objective %v is not whole", v)
			}
			return int(math.Round(v)), w[4] == "o", nil
		}
	}
	return 0, false, fmt.Errorf("glpsol wrote no result:\n%s", text)
}

// solveAll runs glpsol on every job, a few at a time.
func solveAll(t *testing.T, jobs []stockJob, limit int, each func(s *stockJob, met, um, pieces int, optimal bool)) {
	bin := glpk.Find(t)
	type answer struct {
		value   int
		optimal bool
		err     error
	}
	answers := make([]answer, len(jobs))
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(4, runtime.NumCPU()) {
		dir := t.TempDir()
		wg.Go(func() {
			for i := range next {
				if lp, _, _ := integerProgramme(&jobs[i]); lp == "" {
					answers[i].optimal = true
				} else {
					a := &answers[i]
					a.value, a.optimal, a.err = solveLP(bin, dir, lp, limit)
				}
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	wg.Wait()
	for i := range jobs {
		if answers[i].err != nil {
			t.Fatalf("job %+v: %v", jobs[i], answers[i].err)
		}
		_, perMet, perUM := integerProgramme(&jobs[i])
		v := answers[i].value
		met := (v + perMet - 1) / perMet
		rest := met*perMet - v
		each(&jobs[i], met, rest/perUM, rest%perUM, answers[i].optimal)
	}
}

// plainSizes makes the job one whose returned pieces have one place to go, which the integer programme counts on.
func plainSizes(s *stockJob) {
	if s.opt.ReturnRemoved {
		for i := range s.stock {
			s.stock[i].Size = ""
		}
		for i := range s.feet { // and none that is not in the list
			f := &s.feet[i]
			f.Size = ""
			for k := range f.InPlace {
				f.InPlace[k] = s.stock[k%len(s.stock)].MM
			}
			for k := range f.InPlace {
				if s.stock[k%len(s.stock)].Lamination > 0 {
					f.InPlace = f.InPlace[:k]
					break
				}
			}
		}
	}
}

// TestStockAgainstGLPK compares proved plans with the optimum of an integer programme.
func TestStockAgainstGLPK(t *testing.T) {
	//evidence: calc=stock of a job grade=independent count=250 source=GLPK (glpsol), the job as an integer programme without a list of packs: feet met, total error and pieces of proved plans
	rng := rand.New(rand.NewPCG(14, 14))
	var jobs []stockJob
	for len(jobs) < longCases(1040) {
		s := drawJob(rng, 7, 5, 0.8)
		plainSizes(&s)
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		if p.Contended && p.Proved {
			jobs = append(jobs, s)
		}
	}
	compared, gave, short := 0, 0, 0
	solveAll(t, jobs, 5, func(s *stockJob, met, um, pieces int, optimal bool) {
		p, _ := Allocate(s.stock, s.feet, &s.opt)
		if !optimal { // a time limit: only a bound
			if p.Met < met {
				t.Fatalf("job %+v: %d feet met, GLPK has a plan with %d", *s, p.Met, met)
			}
			return
		}
		if compared++; p.Met != met || math.Abs(p.Error-float64(um)/1000) > 1e-9 || p.Pieces != pieces {
			t.Fatalf("job %+v\nplan %+v\nmet %d, error %g, %d pieces; GLPK %d, %g, %d", *s, *p, p.Met, p.Error, p.Pieces, met, float64(um)/1000, pieces)
		}
		if s.opt.ReturnRemoved {
			gave++
		}
		if p.Met < p.Asked {
			short++
		}
	})
	t.Logf("%d of %d jobs compared, %d with pieces going back, %d short", compared, len(jobs), gave, short)
	if compared < longCases(1000) || gave < longCases(400)/4 || short < longCases(400) {
		t.Error("too few jobs compared")
	}
}

// TestStockBoundsAgainstGLPK: without the exact search plans keep to the box, and no plan of the solver beats the bounds that are stated.
func TestStockBoundsAgainstGLPK(t *testing.T) {
	//evidence: calc=stock of a job, bounds grade=independent count=40 source=GLPK (glpsol), the job as an integer programme: no plan beats the bounds stated where nothing is proved
	rng := rand.New(rand.NewPCG(15, 15))
	var jobs []stockJob
	for len(jobs) < longCases(160) {
		most := 10
		if len(jobs)%20 == 0 {
			most = 40
		}
		s := drawJob(rng, most, 6, 0.7)
		plainSizes(&s)
		s.opt.Nodes = 1
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		if p.Contended && !p.Proved {
			jobs = append(jobs, s)
		}
	}
	optima, best, gap := 0, 0, 0
	solveAll(t, jobs, 2, func(s *stockJob, met, um, pieces int, optimal bool) {
		p, _ := Allocate(s.stock, s.feet, &s.opt)
		if met > p.BoundFeet || met >= p.Met && float64(um)/1000 < p.ErrorBound-1e-9 {
			t.Fatalf("job %+v\nplan %+v\nbound %d feet, error %g; GLPK %d, %g", *s, *p, p.BoundFeet, p.ErrorBound, met, float64(um)/1000)
		}
		if optimal {
			if optima++; met < p.Met || met == p.Met && float64(um)/1000 > p.Error+1e-9 {
				t.Fatalf("job %+v\nplan %+v is better than GLPK's optimum %d, %g", *s, *p, met, float64(um)/1000)
			}
			if met == p.Met {
				best++
			}
			gap += p.BoundFeet - met
		}
	})
	t.Logf("%d jobs, %d solved to the optimum, of these %d with as many feet met; bounds %d feet high in all", len(jobs), optima, best, gap)
	if optima < longCases(120) || best < optima*9/10 {
		t.Error("the solver or the heuristic has become too weak")
	}
}
