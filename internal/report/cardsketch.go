package report

import (
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// CardSketch appends the sketch of a coupling that a card has: both machines from the side with their feet, the planes of the readings and every distance that is known. Distances that are needed
// and not known stand below with a line to write them on.
func CardSketch(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	d.stations()
	d.scales(false)
	d.half, d.right = 40, d.w-10
	room := (d.right - 14) / (d.xmax - d.xmin)
	d.den = denominator(perMM / room)
	d.along = perMM / d.den
	d.x0 = 12 - d.xmin*d.along
	d.right = min(d.right, d.x(d.xmax)+10)
	stat := d.m.Stationary
	if stat == "" {
		stat = words.DrawingStationaryMachine.String()
	}
	y := 12.0
	d.text(fontSoft, start, 8, y, 0, words.DrawingStays.Say(within(stat, d.w*0.42-16)))
	d.text(fontSoft, end, d.w-8, y, 0, words.DrawingMovable.Say(within(d.r.Name, d.w*0.58-16)))
	top := y + 6
	y0, bottom := top+d.half, top+2*d.half
	d.bodies(y0, top, bottom, false, false)
	d.line(inkDatum, d.x(d.xmin), y0, d.right, y0)
	y = d.dims(bottom + 2)
	var blank []string
	for _, b := range [...]struct {
		word string
		v    float64
	}{{"Coupling to front feet", d.first}, {"Front to rear feet", d.last}} {
		if !known(b.v) && len(d.r.Calc.BoltShims) == 0 {
			blank = append(blank, b.word)
		}
	}
	for _, s := range blank {
		y += 20
		d.text(fontSoft, start, 8, y, 0, s)
		d.line(inkLead, 8+width(s, fontSoft)+6, y+2, d.w-8, y+2)
	}
	title := words.DrawingSketch.Say(d.r.Name)
	return d.finish(dst, y+6, title, title+".")
}
