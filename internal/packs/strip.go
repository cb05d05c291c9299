package packs

import (
	"math"

	"shimsheet/internal/tables"
)

// How far shims are from the thickness they are sold by, and what that does to the line after.
//
// A piece's thickness is within ± its tolerance, every value as likely as another: standard deviation tolerance/√3 (JCGM 100:2008, 4.3.7). The
// pieces of one thickness are cut from one strip and share one deviation, whichever foot they go under; the layers of laminated pieces
// of one layer thickness are of one roll likewise. Different strips are independent, and so are what comes out and what goes in: it was bought
// at another time. The pieces that stay count for nothing: the readings have seen how thick they are.
//
// A strip whose tolerance is not known adds nothing, and [Packer.Uncertainty] names it.

// A strip is what pieces are cut from: sheet of one thickness, or the roll the layers of laminated pieces come from.
type strip struct {
	nm    int64 // thickness, of a layer for laminated pieces
	layer bool
	tol   float64 // ± mm
}

func (p *Packer) addStrip(nm, layer int64, tol float64) {
	if layer > 0 {
		nm = layer
	}
	p.loose = p.loose || tol != 0
	if s := p.findStrip(nm, layer > 0); s != nil {
		s.tol = max(s.tol, tol)
		return
	}
	p.strips = append(p.strips, strip{nm, layer > 0, tol})
}

func (p *Packer) findStrip(nm int64, layer bool) *strip {
	for i := range p.strips {
		if s := &p.strips[i]; s.nm == nm && s.layer == layer {
			return s
		}
	}
	return nil
}

// OtherStrip sets the class of the pieces in place whose thickness the stock does not have. It is for the maker of the packer, before anyone uses it.
func (p *Packer) OtherStrip(class tables.StripClass) {
	p.other = class
	p.loose = p.loose || class != tables.NoStripClass
}

// strip finds what a piece is cut from; layers is 0 for a solid one.
func (p *Packer) strip(mm float64, layers uint8) strip {
	s := strip{nm: int64(math.Round(mm * 1e6))}
	if layers > 0 {
		s.nm, s.layer = int64(math.Round(mm*1e6/float64(layers))), true
	}
	if k := p.findStrip(s.nm, s.layer); k != nil {
		return *k
	}
	if !s.layer {
		s.tol = tables.StripTolerance(mm, p.other)
	}
	return s
}

// Loose says whether some thickness is not taken as exact. Where it is false nothing here adds anything.
func (p *Packer) Loose() bool { return p.loose }

// An Effect is what the deviation of one strip does: mm and mm/m for a deviation of its whole half-width.
type Effect struct {
	nm         int64
	layer, old bool
	e          [4]float64 // on DV, TV, DH, TH
}

// Effects of the strips of some pieces.
type Effects []Effect

// add counts a piece that moves something by gain times what it is thicker; old: it comes out.
func (s Effects) add(p *Packer, mm float64, layers uint8, old bool, gain *[4]float64) Effects {
	k := p.strip(mm, layers)
	if !(k.tol > 0) {
		return s
	}
	i := 0
	for i < len(s) && (s[i].nm != k.nm || s[i].layer != k.layer || s[i].old != old) {
		i++
	}
	if i == len(s) {
		s = append(s, Effect{nm: k.nm, layer: k.layer, old: old})
	}
	if layers > 0 {
		k.tol *= float64(layers)
	}
	for j := range gain {
		s[i].e[j] += k.tol * gain[j]
	}
	return s
}

func (k *Pack) layers(i int) uint8 {
	if k.Layers == nil {
		return 0
	}
	return k.Layers[i]
}

// Count counts what goes in and what comes out.
func (s Effects) Count(p *Packer, c *Change, gain *[4]float64) Effects {
	c.moved(func(mm float64, layers uint8, old bool) { s = s.add(p, mm, layers, old, gain) })
	return s
}

// moved goes through the pieces that go in and those that come out.
func (c *Change) moved(do func(mm float64, layers uint8, old bool)) {
	if c.Status == ChangeUnlisted {
		for i, mm := range c.Pieces {
			do(mm, c.layers(i), true)
		}
		return
	}
	var stays uint32 // pieces of Keep that were met
	for i, mm := range c.Pieces {
		n := c.layers(i)
		at := -1
		if n == 0 {
			for k, x := range c.Keep {
				if x == mm && stays>>k&1 == 0 {
					at = k
				}
			}
		}
		if at >= 0 {
			stays |= 1 << at
			continue
		}
		do(mm, n, false)
	}
	for _, mm := range c.Take {
		do(mm, 0, true)
	}
}

// AddTo adds the covariance of the effects.
func (s Effects) AddTo(c *[4][4]float64) {
	for k := range s {
		e := &s[k].e
		for i := range e {
			for j := range e {
				c[i][j] += e[i] * e[j] / 3
			}
		}
	}
}

// Uncertainty is the standard uncertainty (mm) of how far a change raises a foot, from the tolerance of what goes in and comes out. It is NaN where
// the tolerance of a piece is not known; the thickness of every such piece (of one layer for a laminated one) is appended to unknown.
func (p *Packer) Uncertainty(unknown []float64, c *Change) (u float64, all []float64) {
	var buf [2 * MaxPieces]Effect
	s, n := Effects(buf[:0]), len(unknown)
	c.moved(func(mm float64, layers uint8, old bool) {
		if k := p.strip(mm, layers); math.IsNaN(k.tol) {
			unknown = append(unknown, float64(k.nm)/1e6)
		}
		s = s.add(p, mm, layers, old, &[4]float64{1})
	})
	if len(unknown) > n {
		return math.NaN(), unknown
	}
	var v [4][4]float64
	s.AddTo(&v)
	return math.Sqrt(v[0][0]), unknown
}
