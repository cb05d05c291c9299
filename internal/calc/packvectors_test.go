package calc

import (
	"math"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/vec"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestPackVectors runs packs.vec.
func TestPackVectors(t *testing.T) {
	for _, c := range vec.Read(t, "packs.vec") {
		in := func(name, def string) string {
			if v, ok := c.Input(name); ok {
				return v
			}
			return def
		}
		class := tables.StripNormal + tables.StripClass(slices.Index(tables.StripClassWords[:], in("class", "normal")))
		got := map[string]float64{}
		switch c.Calc {
		case "strip tolerance":
			got["tolerance"] = tables.StripTolerance(length(t, in("thickness", "")), class)
		case "lamination tolerance":
			got["tolerance"] = tables.LaminationTolerance(length(t, in("thickness", "")))
		case "pack uncertainty":
			c := vectorChange(t, in)
			got["u"], _ = stripPacker(t, class).Uncertainty(nil, &c)
		case "line after":
			given := strings.Split(in("feet", ""), ",")
			a, b := length(t, strings.TrimSpace(given[0])), length(t, strings.TrimSpace(given[1]))
			p := stripPacker(t, class)
			front, rear := packs.Pack{Pieces: lengths(t, in("front", ""))}, packs.Pack{Pieces: lengths(t, in("rear", ""))}
			res := Result{Feet: []Foot{{Station: a, Shim: 1, Pack: front}, {Station: b, Shim: 1, Pack: rear}}}
			if in("rear goes", "in") == "out" {
				res.Feet[1].Shim = -1
			}
			var cov Cov
			addPacks(&Input{Packer: p}, &res, nil, &cov)
			got["u offset"], got["u slope"] = math.Sqrt(cov[0][0]), math.Sqrt(cov[1][1])
			got["correlation"] = cov[0][1] / (got["u offset"] * got["u slope"])
		case "packs":
			n, err := strconv.Atoi(in("at most", "4"))
			if err != nil {
				t.Fatal(err)
			}
			p, err := packs.NewPacker(tables.DefaultStock(true), n, tables.PackToleranceInch)
			if err != nil {
				t.Fatal(err)
			}
			var place []float64
			if v, ok := c.Input("in place"); ok {
				place = lengths(t, v)
			}
			ch, err := p.Change(length(t, in("change", "")), place)
			if err != nil {
				t.Fatal(err)
			}
			got["pack"], got["pieces"], got["new"] = ch.Sum, float64(len(ch.Pieces)), float64(len(ch.Put))
		default:
			t.Fatalf("%s: no such calculation", &c)
		}
		tol := c.Tol
		if c.TolUnit == "mil" {
			tol *= 0.0254
		}
		for _, w := range c.Want {
			g, ok := got[w.Name]
			if !ok {
				t.Fatalf("%s: %q is not computed", &c, w.Name)
			}
			if w.Value == "none" {
				if !math.IsNaN(g) {
					t.Errorf("%s: %s = %g, want none", &c, w.Name, g)
				}
				continue
			}
			v, err := strconv.ParseFloat(w.Value, 64)
			if err != nil {
				v = length(t, w.Value)
			}
			if !(math.Abs(g-v) <= tol+1e-12) {
				t.Errorf("%s: %s = %.9g, want %.9g ± %g", &c, w.Name, g, v, tol)
			}
		}
	}
}

// length reads "0.1 mm", "3 mil" or "0.125 in" in millimetres.
func length(t *testing.T, s string) float64 {
	t.Helper()
	w := strings.Fields(s)
	if len(w) != 2 {
		t.Fatalf("length %q", s)
	}
	v, err := strconv.ParseFloat(w[0], 64)
	f, ok := map[string]float64{"mm": 1, "mil": 0.0254, "in": 25.4}[w[1]]
	if err != nil || !ok {
		t.Fatalf("length %q", s)
	}
	return v * f
}

func lengths(t *testing.T, s string) (out []float64) {
	for _, w := range strings.Split(s, ",") {
		out = append(out, length(t, strings.TrimSpace(w)))
	}
	return out
}

// stripPacker is a packer whose pieces, but for 1 mm, are all of one class.
func stripPacker(t *testing.T, class tables.StripClass) *packs.Packer {
	t.Helper()
	p, err := packs.NewStockPacker([]packs.StockItem{{MM: 1, Count: -1}}, "", 1, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	p.OtherStrip(class)
	return p
}

// vectorChange reads what goes in, what comes out and what stays.
func vectorChange(t *testing.T, in func(string, string) string) packs.Change {
	c := packs.Change{Pack: packs.Pack{Pieces: lengths(t, in("pieces", ""))}}
	if v := in("stays", ""); v != "" {
		c.Keep = lengths(t, v)
	}
	if v := in("comes out", ""); v != "" {
		c.Take = lengths(t, v)
	}
	return c
}
