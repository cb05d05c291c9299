//go:build !js

package calc

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"shimsheet/internal/glpk"
	"strings"
	"testing"
)

// TestSoftGLPK gives the machines to the simplex method of another house, in exact rational arithmetic, many to a problem: the objective is
// the sum over all of them and nothing binds them together, so each one's total must be the least of its own.
func TestSoftGLPK(t *testing.T) {
	//evidence: calc=soft foot shims grade=independent count=300 source=GNU Linear Programming Kit, glpsol --exact (exact simplex method)
	glpsol := glpk.Find(t)
	rng := rand.New(rand.NewPCG(7, 6))
	dir := t.TempDir()
	const each = 10
	for b := range longCount(120) {
		var objective, rows, free strings.Builder
		var machines [][]SoftFoot
		var owner []int // of the columns s, in order
		var weight []float64
		for m := range each {
			f := randomGaps(rng)
			machines = append(machines, f)
			pts, _ := places(f)
			fmt.Fprintf(&free, " a%d free\n b%d free\n c%d free\n", m, m, m)
			for i, p := range pts {
				fmt.Fprintf(&objective, " + %g s%d_%d\n", p.w, m, i)
				fmt.Fprintf(&rows, " s%d_%d - a%d %+.17g b%d %+.17g c%d = %.17g\n", m, i, m, -p.x/1000, m, -p.y/1000, m, p.g)
				owner, weight = append(owner, m), append(weight, p.w)
			}
		}
		in, out := filepath.Join(dir, fmt.Sprintf("%d.lp", b)), filepath.Join(dir, fmt.Sprintf("%d.sol", b))
		text := "Minimize\n total:\n" + objective.String() + "Subject To\n" + rows.String() + "Bounds\n" + free.String() + "End\n"
		if err := os.WriteFile(in, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		log, err := exec.Command(glpsol, "--exact", "--lp", in, "-w", out).CombinedOutput()
		if err != nil || !bytes.Contains(log, []byte("OPTIMAL")) {
			t.Fatalf("glpsol: %v\n%s", err, log)
		}
		sol, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		// The columns come in the order of their first mention: the s in the objective, then the planes.
		totals := make([]float64, each)
		seen := 0
		for sc := bufio.NewScanner(bytes.NewReader(sol)); sc.Scan(); {
			var col int
			var status string
			var value float64
			if n, _ := fmt.Sscanf(sc.Text(), "j %d %s %g", &col, &status, &value); n == 3 && col <= len(owner) {
				totals[owner[col-1]] += weight[col-1] * value
				seen++
			}
		}
		if seen != len(owner) {
			t.Fatalf("%d of %d columns in the solution", seen, len(owner))
		}
		for m, f := range machines {
			var res SoftResult
			Soft(&SoftInput{Feet: f}, &res)
			if !(math.Abs(res.Total-totals[m]) <= 1e-8) { // mm; the solution file has 15 digits, ties are 1e-9
				t.Errorf("%v: total %.12g, the other's %.12g", f, res.Total, totals[m])
			}
		}
	}
}
