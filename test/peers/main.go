// Command peers works the rows of a file out twice, by this project's solver and by closed formulas in a plain loop, and says what each column of results sums to and how long it took:
// one of the programs that bench.mjs sets beside one another.
//
//	go run ./test/peers rows.csv
//
// A row of the file is twelve numbers: how far the movable and the stationary plane, the front and the rear feet lie from the coupling, and the readings at 12, 3, 6 and 9 o'clock of the rim
// on the movable hub, then of that on the stationary one.
package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"shimsheet/internal/calc"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "peers:", err)
		os.Exit(1)
	}
}

// row is what a line of the file holds.
type row struct{ movable, stationary, front, rear, m12, m3, m6, m9, s12, s3, s6, s9 float64 }

// measured is what is told of a way of working the rows out. Sums are those of shims and moves: front shim, rear shim, front move, rear move.
type measured struct {
	Name   string     `json:"name"`
	Sums   [4]float64 `json:"sums"`
	Millis []float64  `json:"millis"`
}

func run() error {
	if len(os.Args) != 2 {
		return fmt.Errorf("one file of rows is wanted")
	}
	text, err := os.ReadFile(os.Args[1])
	if err != nil {
		return err
	}
	var rows []row
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		var v [12]float64
		cells := strings.Split(line, ",")
		if len(cells) != len(v) {
			return fmt.Errorf("%q has %d numbers, not %d", line, len(cells), len(v))
		}
		for i := range v {
			if v[i], err = strconv.ParseFloat(cells[i], 64); err != nil {
				return err
			}
		}
		rows = append(rows, row{v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11]})
	}
	packer, err := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	if err != nil {
		return err
	}
	clock := []float64{0, 90, 180, 270}
	in := make([]calc.Input, len(rows))
	for i, r := range rows {
		in[i] = calc.Input{
			Sweeps: []calc.Sweep{
				{Model: calc.RimOnMovable, Station: r.movable, Angle: clock, Reading: []float64{r.m12, r.m3, r.m6, r.m9}, Graduation: 0.01, U: 0.004},
				{Model: calc.RimOnStationary, Station: -r.stationary, Angle: clock, Reading: []float64{r.s12, r.s3, r.s6, r.s9}, Graduation: 0.01, U: 0.004}},
			Given:  calc.Line{DV: math.NaN(), TV: math.NaN(), DH: math.NaN(), TH: math.NaN()},
			Length: math.NaN(), Limits: calc.Limits{Offset: 0.0762, Slope: 0.5}, Feet: []float64{r.front, r.rear}, FlangeStation: math.NaN(), Packer: packer}
	}
	out := []measured{
		timed("closed formulas in a plain Go loop", 25, func() (sums [4]float64) {
			for i := range rows {
				for k, v := range rows[i].closed() {
					sums[k] += v
				}
			}
			return sums
		}),
		timed("this project's solver, with ±, chance, packs and the line after them", 9, func() (sums [4]float64) {
			var res calc.Result
			for i := range in {
				calc.Solve(&in[i], &res)
				if len(res.Feet) != 2 {
					continue // the sums will tell
				}
				for k, v := range [4]float64{res.Feet[0].Shim, res.Feet[1].Shim, res.Feet[0].Move, res.Feet[1].Move} {
					sums[k] += v
				}
			}
			return sums
		}),
	}
	return json.NewEncoder(os.Stdout).Encode(out)
}

// closed is the textbook's way: half of the differences at the two planes, a straight line through them, minus its height at the feet.
func (r *row) closed() [4]float64 {
	mv, mh, sv, sh := (r.m12-r.m6)/2, (r.m3-r.m9)/2, (r.s6-r.s12)/2, (r.s9-r.s3)/2
	tv, th := (mv-sv)/(r.movable+r.stationary), (mh-sh)/(r.movable+r.stationary)
	return [4]float64{-(mv + tv*(r.front-r.movable)), -(mv + tv*(r.rear-r.movable)), -(mh + th*(r.front-r.movable)), -(mh + th*(r.rear-r.movable))}
}

// timed runs f several times; the first is not counted.
func timed(name string, times int, f func() [4]float64) measured {
	m := measured{Name: name}
	for i := range times {
		t := time.Now()
		m.Sums = f()
		if d := time.Since(t); i > 0 {
			m.Millis = append(m.Millis, float64(d.Microseconds())/1000)
		}
	}
	slices.Sort(m.Millis)
	return m
}
