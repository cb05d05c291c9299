package calc

import (
	"bufio"
	"flag"
	"fmt"
	"math"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

var writeChances = flag.Bool("write-chances", false, "write testdata/builds/chances.txt anew, natively on amd64")

const (
	chancesFile = "../../testdata/builds/chances.txt"
	chanceSlack = 1e-13
)

// The command, compiled natively, and the page, compiled to WebAssembly, give the same chance but for its last bits: e to a power is the processor's own
// routine in one and Go's in the other, and they round differently now and then. Seen: 76 of 10,000 rows, 3e-14 at the most. No more than 1e-13 is let
// pass, ten million times finer than what is shown; the lines themselves are the same to the last bit. Both builds run this test against what
// the native one wrote.
//
// evidence: calc=chance of being inside grade=regression count=500 source=the native build's chances and lines, held by the native and the WebAssembly build
func TestBuildsAgree(t *testing.T) {
	rows := reverseRows(2000)
	var out strings.Builder
	var res Result
	var want []string
	if !*writeChances {
		f, err := os.Open(chancesFile)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		for s := bufio.NewScanner(f); s.Scan(); {
			want = append(want, s.Text())
		}
		if len(want) != len(rows) {
			t.Fatalf("%d rows for %d", len(want), len(rows))
		}
	}
	differ, worst := 0, 0.0
	step := 4 // of the rows; each of them in a long run, and when they are written
	if *writeChances || os.Getenv("SHIMSHEET_LONG") != "" {
		step = 1
	}
	for i := 0; i < len(rows); i += step {
		// Limits as large as what was found, more or less: there the chance is neither 0 nor 1.
		Solve(&rows[i], &res)
		near := func(v float64) float64 { return math.Round(1000*v*(0.8+0.04*float64(i%11)))/1000 + 0.001 }
		rows[i].Limits = Limits{Offset: near(res.Found.Offset.Total), Slope: near(res.Found.Slope.Total)}
		Solve(&rows[i], &res)
		line := math.Float64bits(res.Line.DV) ^ math.Float64bits(res.Line.TV)*3 ^ math.Float64bits(res.Line.DH)*5 ^ math.Float64bits(res.Line.TH)*7
		fmt.Fprintf(&out, "%016x %s\n", line, strconv.FormatFloat(res.Found.Chance, 'g', -1, 64))
		if *writeChances {
			continue
		}
		bits, chance, _ := strings.Cut(want[i], " ")
		p, err := strconv.ParseFloat(chance, 64)
		if err != nil {
			t.Fatal(err)
		}
		if runtime.GOARCH == "amd64" || runtime.GOARCH == "wasm" { // others may join a product and a sum into one rounding
			if got := fmt.Sprintf("%016x", line); got != bits {
				t.Errorf("row %d: another line", i)
			}
		}
		d := math.Abs(res.Found.Chance - p)
		if !(d <= chanceSlack) && !(math.IsNaN(p) && math.IsNaN(res.Found.Chance)) {
			t.Errorf("row %d: chance %v, the native build has %v", i, res.Found.Chance, p)
		}
		if d > 0 {
			differ++
			worst = max(worst, d)
		}
	}
	t.Logf("%s: %d of %d chances differ, by %.2g at the most", runtime.GOARCH, differ, len(rows)/step, worst)
	if *writeChances {
		if err := os.WriteFile(chancesFile, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
