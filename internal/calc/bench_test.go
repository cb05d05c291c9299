package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

// reverseRows makes n rows of reverse indicator readings from random lines with a little noise, all with limits, feet and a stock.
func reverseRows(n int) []Input {
	rng := rand.New(rand.NewPCG(1, 2))
	packer, err := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	if err != nil {
		panic(err)
	}
	clock := []float64{0, 90, 180, 270}
	rows := make([]Input, n)
	for i := range rows {
		xs, xm := -(60 + 120*rng.Float64()), 60+120*rng.Float64()
		scale := math.Pow(10, -2*rng.Float64())
		l := Line{scale * rng.NormFloat64() * 0.3, scale * rng.NormFloat64(), scale * rng.NormFloat64() * 0.3, scale * rng.NormFloat64()}
		rim := func(x, sign float64) []float64 {
			out := make([]float64, 4)
			for k, a := range clock {
				c, s := cosSin(a)
				r := sign*(l.at(x, false)*c+l.at(x, true)*s) + 0.003*rng.NormFloat64()
				out[k] = math.Round(r*100) / 100
			}
			return out
		}
		u := math.Sqrt(0.01*0.01/12 + 0.003*0.003)
		front := xm + 200 + 400*rng.Float64()
		rows[i] = Input{
			Sweeps: []Sweep{
				{Model: RimOnMovable, Station: xm, Angle: clock, Reading: rim(xm, 1), SagAt6: -0.04, Graduation: 0.01, U: u},
				{Model: RimOnStationary, Station: xs, Angle: clock, Reading: rim(xs, -1), SagAt6: -0.04, Graduation: 0.01, U: u},
			},
			Limits: Limits{Offset: 3 * 0.0254, Slope: 0.5}, Length: math.NaN(),
			Feet: []float64{front, front + 400 + 600*rng.Float64()}, Packer: packer, MoveStep: 0.01,
		}
	}
	return rows
}

// BenchmarkSolve10k computes 10,000 rows of reverse indicator with covariance, chance, packs and the line after them.
func BenchmarkSolve10k(b *testing.B) {
	rows := reverseRows(10_000)
	var res Result
	b.ReportAllocs()
	for b.Loop() {
		for i := range rows {
			Solve(&rows[i], &res)
		}
	}
	b.ReportMetric(float64(b.N)*float64(len(rows))/b.Elapsed().Seconds(), "rows/s")
}

// BenchmarkClosedForm10k is the yardstick: the textbook half-differences, two feet and a greedy pack, nothing else.
func BenchmarkClosedForm10k(b *testing.B) {
	rows := reverseRows(10_000)
	stock := tables.DefaultStock(false)
	var sink float64
	for b.Loop() {
		for i := range rows {
			in := &rows[i]
			m, s := in.Sweeps[0].Reading, in.Sweeps[1].Reading
			vm, hm := (m[0]-m[2]-0.04)/2, (m[1]-m[3])/2
			vs, hs := -(s[0]-s[2]-0.04)/2, -(s[1]-s[3])/2
			xm, xs := in.Sweeps[0].Station, in.Sweeps[1].Station
			tv, th := (vm-vs)/(xm-xs), (hm-hs)/(xm-xs)
			for _, x := range in.Feet {
				left := math.Abs(vm + tv*(x-xm))
				sink += hm + th*(x-xm)
				for k := len(stock) - 1; k >= 0; k-- {
					for left >= stock[k].MM {
						left -= stock[k].MM
						sink++
					}
				}
			}
		}
	}
	if math.IsNaN(sink) {
		b.Fatal("the yardstick computed nothing")
	}
}

// BenchmarkPack looks up one pack.
func BenchmarkPack(b *testing.B) {
	p, _ := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	x := 0.0
	for b.Loop() {
		x += 0.0137
		if x > 3 {
			x = 0
		}
		if p.Pack(x).Pieces == nil {
			b.Fatal("no pack")
		}
	}
}

// BenchmarkNewPacker prepares the assumed stock.
func BenchmarkNewPacker(b *testing.B) {
	stock := tables.DefaultStock(false)
	for b.Loop() {
		if _, err := packs.NewPacker(stock, tables.MaxPieces, tables.PackToleranceMM); err != nil {
			b.Fatal(err)
		}
	}
}

// TestSolveAllocatesNothing holds the promise in Solve's comment.
func TestSolveAllocatesNothing(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector allocates")
	}
	rows := reverseRows(50)
	var res Result
	Solve(&rows[0], &res)
	if n := testing.AllocsPerRun(20, func() {
		for i := range rows {
			Solve(&rows[i], &res)
		}
	}); n > 1 { // the pool may be emptied by a collection
		t.Errorf("50 rows allocate %v times", n)
	}
}
