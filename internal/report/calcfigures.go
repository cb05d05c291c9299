package report

import (
	"strconv"

	"shimsheet/internal/words"
)

// CalculatorFigure returns the drawing of a calculator by its figure key: a dimensioned line drawing with the symbols of the formula, one complete
// svg element; nil for a key that has none. It has no ids, so several can stand in one document, and takes the colour of the text around it.
// Classes are those of the other drawings.
func CalculatorFigure(key string) []byte {
	for i := range calcFigures {
		if c := &calcFigures[i]; c.key == key {
			f := calcFig{b: make([]byte, 0, 4096)}
			f.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="d-draw" role="img" viewBox="0 0 360 200" width="360" height="200" ` +
				`fill="none" stroke="currentColor" stroke-width="1.4" stroke-linecap="round" stroke-linejoin="round" font-family="sans-serif" font-size="13"><title>` +
				c.title.String() + `</title><desc>` + c.about.String() + `</desc>`)
			c.draw(&f)
			f.raw("</svg>\n")
			return f.b
		}
	}
	return nil
}

// CalculatorFigureKeys lists the keys that have a drawing.
func CalculatorFigureKeys() []string {
	out := make([]string, len(calcFigures))
	for i := range calcFigures {
		out[i] = calcFigures[i].key
	}
	return out
}

// calcFigures holds key, title, what the drawing says in words, and the drawing.
var calcFigures = [...]struct {
	key          string
	title, about words.Key
	draw         func(*calcFig)
}{
	{"convert", words.DrawingCalcConvert, words.DrawingCalcConvertAbout, drawConvert},
	{"droop", words.DrawingCalcDroop, words.DrawingCalcDroopAbout, drawDroop},
	{"tir", words.DrawingCalcTir, words.DrawingCalcTirAbout, drawTIR},
	{"gap", words.DrawingCalcGap, words.DrawingCalcGapAbout, drawGap},
	{"growth", words.DrawingCalcGrowth, words.DrawingCalcGrowthAbout, drawGrowth},
	{"bolt", words.DrawingCalcBolt, words.DrawingCalcBoltAbout, drawBolt},
	{"flex", words.DrawingCalcFlex, words.DrawingCalcFlexAbout, drawFlex},
	{"wanted", words.DrawingCalcWanted, words.DrawingCalcWantedAbout, drawWanted},
	{"uncertainty", words.DrawingCalcUncertainty, words.DrawingCalcUncertaintyAbout, drawUncertainty},
	{"tilt", words.DrawingCalcTilt, words.DrawingCalcTiltAbout, drawTilt},
	{"repeats", words.DrawingCalcRepeats, words.DrawingCalcRepeatsAbout, drawRepeats},
	{"feet", words.DrawingCalcFeet, words.DrawingCalcFeetAbout, drawFeet},
	{"speed", words.DrawingCalcSpeed, words.DrawingCalcSpeedAbout, drawSpeed},
}

// A calcFig is a drawing being made. Lengths are those of its view box, 360 × 200.
type calcFig struct{ b []byte }

func (f *calcFig) raw(s string) { f.b = append(f.b, s...) }

func (f *calcFig) num(name string, x float64) {
	f.raw(" " + name + `="`)
	f.b = strconv.AppendFloat(f.b, x, 'f', -1, 64)
	f.raw(`"`)
}

func (f *calcFig) open(tag, class string) { f.raw("<" + tag + ` class="` + class + `"`) }

// attributes of the classes, for drawings without a style sheet.
const (
	calcThin   = ` stroke-width="0.8"`
	calcDashed = ` stroke-width="0.9" stroke-dasharray="5 3"`
	calcCentre = ` stroke-width="0.9" stroke-dasharray="12 3 2 3"`
	calcFilled = ` fill="currentColor" stroke="none"`
)

func (f *calcFig) line(class, attr string, x1, y1, x2, y2 float64) {
	f.open("line", class)
	f.num("x1", x1)
	f.num("y1", y1)
	f.num("x2", x2)
	f.num("y2", y2)
	f.raw(attr + "/>")
}

func (f *calcFig) rect(class string, x, y, w, h float64) {
	f.open("rect", class)
	f.num("x", x)
	f.num("y", y)
	f.num("width", w)
	f.num("height", h)
	f.raw("/>")
}

func (f *calcFig) circle(class, attr string, x, y, r float64) {
	f.open("circle", class)
	f.num("cx", x)
	f.num("cy", y)
	f.num("r", r)
	f.raw(attr + "/>")
}

func (f *calcFig) path(class, attr, d string) {
	f.open("path", class)
	f.raw(` d="` + d + `"` + attr + "/>")
}

// text puts words; anchor is start, middle or end.
func (f *calcFig) text(x, y float64, anchor, s string) {
	if s == "" {
		return
	}
	f.open("text", "d-text")
	f.num("x", x)
	f.num("y", y)
	f.raw(` text-anchor="` + anchor + `"` + calcFilled + ">" + s + "</text>")
}

// head draws an arrowhead at a point; dx, dy is the unit vector it points along.
func (f *calcFig) head(x, y, dx, dy float64) {
	const long, half = 7, 2.2
	f.open("path", "d-dim")
	f.raw(` d="M`)
	for i, p := range [3][2]float64{{x, y}, {x - long*dx - half*dy, y - long*dy + half*dx}, {x - long*dx + half*dy, y - long*dy - half*dx}} {
		if i > 0 {
			f.raw("L")
		}
		f.b = strconv.AppendFloat(f.b, p[0], 'f', -1, 64)
		f.raw(" ")
		f.b = strconv.AppendFloat(f.b, p[1], 'f', -1, 64)
	}
	f.raw(`Z"` + calcFilled + "/>")
}

// across is a dimension along x at height y, its name above it.
func (f *calcFig) across(x1, x2, y float64, name string) {
	f.line("d-dim", calcThin, x1, y, x2, y)
	f.head(x1, y, -1, 0)
	f.head(x2, y, 1, 0)
	f.text((x1+x2)/2, y-4, "middle", name)
}

// down is a dimension along y at x, its name on the right.
func (f *calcFig) down(x, y1, y2 float64, name string) {
	f.line("d-dim", calcThin, x, y1, x, y2)
	f.head(x, y1, 0, -1)
	f.head(x, y2, 0, 1)
	f.text(x+6, (y1+y2)/2+4, "start", name)
}

// arrow is a force, up or down to y2.
func (f *calcFig) arrow(x, y1, y2 float64, name string) {
	f.line("d-do", "", x, y1, x, y2)
	if y2 > y1 {
		f.head(x, y2, 0, 1)
		f.text(x+6, y2, "start", name)
		return
	}
	f.head(x, y2, 0, -1)
	f.text(x+6, y2+6, "start", name)
}

// ext is an extension line from a part to a dimension.
func (f *calcFig) ext(x1, y1, x2, y2 float64) { f.line("d-dim", calcThin, x1, y1, x2, y2) }

// ground is the line something stands on, hatched below.
func (f *calcFig) ground(x1, x2, y float64) {
	f.line("d-ground", "", x1, y, x2, y)
	for x := x1 + 8; x <= x2; x += 12 {
		f.line("d-ground", calcThin, x, y, x-7, y+7)
	}
}

func drawConvert(f *calcFig) {
	f.line("d-axis", "", 40, 80, 320, 80)
	f.line("d-axis", "", 40, 130, 320, 130)
	for i := 0; i <= 16; i++ {
		h := 6.0
		if i%16 == 0 {
			h = 16
		} else if i%4 == 0 {
			h = 10
		}
		f.line("d-axis", calcThin, 40+float64(i)*15.875, 80, 40+float64(i)*15.875, 80-h)
	}
	for i := 0; i <= 27; i++ {
		h := 6.0
		if i%5 == 0 {
			h = 10
		}
		f.line("d-axis", calcThin, 40+float64(i)*10, 130, 40+float64(i)*10, 130+h)
	}
	f.line("d-datum", calcDashed, 294, 56, 294, 156)
	f.text(294, 50, "middle", "1 in")
	f.text(294, 172, "middle", "25.4 mm")
	f.text(40, 58, "middle", "0")
	f.text(40, 158, "middle", "0")
}

func drawDroop(f *calcFig) {
	f.rect("d-body", 26, 40, 20, 60)
	for y := 46.0; y < 95; y += 10 {
		f.line("d-hatch", calcThin, 26, y+6, 46, y-6)
	}
	f.line("d-datum", calcCentre, 46, 70, 300, 70)
	f.path("d-body", ` stroke-width="1"`, "M46 64Q170 66 252 92")
	f.path("d-body", ` stroke-width="1"`, "M46 76Q170 78 248 104")
	f.rect("d-body", 244, 86, 26, 22)
	f.text(257, 102, "middle", "m")
	for _, x := range []float64{80, 110, 140, 170} {
		f.line("d-do", calcThin, x, 44, x, 60)
		f.head(x, 60, 0, 1)
	}
	f.text(125, 38, "middle", "w")
	f.arrow(257, 108, 132, "P")
	f.ext(270, 97, 300, 97)
	f.down(294, 70, 97, "δ")
	f.ext(46, 100, 46, 164)
	f.ext(257, 140, 257, 164)
	f.across(46, 257, 158, "L")
	f.circle("d-body", "", 316, 160, 22)
	f.circle("d-body", "", 316, 160, 14)
	f.text(316, 196, "middle", "D, d")
}

func drawTIR(f *calcFig) {
	f.circle("d-body", "", 150, 100, 62)
	f.line("d-datum", calcCentre, 74, 100, 262, 100)
	f.line("d-datum", calcCentre, 150, 24, 150, 176)
	f.text(158, 30, "start", "R12")
	f.text(230, 116, "start", "R3")
	f.text(158, 184, "start", "R6")
	f.text(70, 104, "end", "R9")
	f.circle("d-mark", calcFilled, 150, 100, 2.5)
	f.circle("d-offset", calcFilled, 178, 72, 3)
	f.line("d-offset", "", 150, 100, 178, 72)
	f.ext(178, 72, 178, 126)
	f.ext(178, 72, 262, 72)
	f.across(150, 178, 120, "H")
	f.ext(150, 100, 150, 124)
	f.down(256, 72, 100, "V")
}

func drawGap(f *calcFig) {
	f.rect("d-body", 96, 44, 60, 112)
	f.line("d-datum", calcCentre, 60, 100, 300, 100)
	f.path("d-body", "", "M172 40L236 31L252 143L188 152Z")
	f.line("d-found", calcDashed, 180, 96, 316, 77)
	f.line("d-dim", calcThin, 156, 30, 156, 44)
	f.line("d-dim", calcThin, 172, 30, 172, 40)
	f.line("d-dim", calcThin, 156, 152, 156, 186)
	f.line("d-dim", calcThin, 188, 152, 188, 186)
	f.text(164, 24, "middle", words.DrawingGapAt12.String())
	f.text(196, 185, "start", words.DrawingGapAt6.String())
	f.line("d-dim", calcThin, 156, 180, 188, 180)
	f.head(156, 180, -1, 0)
	f.head(188, 180, 1, 0)
	f.line("d-dim", calcThin, 156, 33, 172, 33)
	f.ext(64, 44, 96, 44)
	f.ext(64, 156, 96, 156)
	f.line("d-dim", calcThin, 70, 44, 70, 156)
	f.head(70, 44, 0, -1)
	f.head(70, 156, 0, 1)
	f.text(62, 90, "end", "D")
	f.path("d-slope", calcThin, "M290 100A110 110 0 0 0 288 81")
	f.text(298, 95, "start", "θ")
}

func drawGrowth(f *calcFig) {
	f.ground(70, 250, 180)
	f.rect("d-body", 100, 120, 120, 60)
	f.rect("d-body", 115, 76, 90, 44)
	f.text(160, 154, "middle", "α1, ΔT1")
	f.text(160, 102, "middle", "α2, ΔT2")
	f.circle("d-body", "", 160, 60, 16)
	f.circle("d-after", calcDashed, 160, 42, 16)
	f.line("d-datum", calcCentre, 120, 60, 300, 60)
	f.line("d-after", calcDashed, 120, 42, 300, 42)
	f.down(280, 42, 60, "g")
	f.ext(205, 76, 262, 76)
	f.ext(220, 120, 262, 120)
	f.down(252, 76, 120, "h2")
	f.down(252, 120, 180, "h1")
}

func drawBolt(f *calcFig) {
	f.rect("d-body", 90, 40, 60, 24)
	f.rect("d-body", 106, 64, 28, 108)
	f.rect("d-body", 92, 128, 56, 22)
	f.rect("d-ground", 60, 64, 120, 32)
	f.rect("d-ground", 60, 96, 120, 32)
	for y := 152.0; y < 172; y += 5 {
		f.line("d-body", calcThin, 106, y, 134, y-3)
	}
	f.line("d-datum", calcCentre, 120, 24, 120, 190)
	f.arrow(220, 110, 70, "F")
	f.arrow(220, 120, 160, "F")
	f.path("d-do", "", "M84 30A40 12 0 0 1 156 30")
	f.head(156, 31, 0.55, 0.83)
	f.text(166, 30, "start", "T")
	f.ext(106, 172, 106, 192)
	f.ext(134, 172, 134, 192)
	f.line("d-dim", calcThin, 106, 188, 134, 188)
	f.head(106, 188, -1, 0)
	f.head(134, 188, 1, 0)
	f.text(142, 193, "start", "d")
	f.ext(134, 160, 160, 160)
	f.ext(134, 165, 160, 165)
	f.text(164, 168, "start", "P")
}

func drawFlex(f *calcFig) {
	f.line("d-datum", calcCentre, 20, 130, 340, 130)
	f.line("d-body", ` stroke-width="3"`, 30, 130, 100, 130)
	f.line("d-spool", ` stroke-width="2"`, 100, 130, 250, 82)
	f.line("d-found", ` stroke-width="3"`, 250, 82, 335, 62)
	f.line("d-found", calcDashed, 160, 103, 250, 82)
	f.circle("d-mark", ` fill="currentColor"`, 100, 130, 3)
	f.circle("d-mark", ` fill="currentColor"`, 250, 82, 3)
	f.path("d-slope", calcThin, "M148 130A48 48 0 0 0 145 115")
	f.text(152, 125, "start", "αS")
	f.path("d-slope", calcThin, "M200 98A52 52 0 0 1 199 94")
	f.line("d-lead", calcThin, 202, 96, 206, 70)
	f.text(206, 64, "middle", "αM")
	f.line("d-dim", calcThin, 175, 130, 175, 99.5)
	f.head(175, 130, 0, 1)
	f.head(175, 99.5, 0, -1)
	f.text(181, 122, "start", "d")
	f.path("d-slope", calcThin, "M335 82A85 85 0 0 0 332.5 62.6")
	f.line("d-dim", calcThin, 250, 82, 338, 82)
	f.text(318, 78, "middle", "θ")
	f.ext(100, 134, 100, 172)
	f.ext(250, 86, 250, 172)
	f.across(100, 250, 166, "L")
}

func drawWanted(f *calcFig) {
	f.line("d-datum", calcCentre, 14, 130, 346, 130)
	f.rect("d-body", 30, 112, 70, 36)
	f.rect("d-body", 100, 96, 18, 68)
	f.path("d-body", "", "M162 86L180 82L194 148L176 152Z")
	f.path("d-body", "", "M183 99L318 70L325 103L190 132Z")
	f.line("d-wanted", calcDashed, 140, 124, 345, 80)
	f.line("d-body", "", 109, 96, 109, 52)
	f.line("d-body", "", 109, 52, 171, 52)
	f.line("d-body", "", 171, 52, 171, 62)
	f.circle("d-body", "", 171, 70, 8)
	f.line("d-body", "", 171, 78, 171, 84)
	f.text(186, 66, "start", "R(φ)")
	f.ext(140, 124, 140, 186)
	f.ext(171, 150, 171, 186)
	f.line("d-dim", calcThin, 140, 180, 171, 180)
	f.head(140, 180, -1, 0)
	f.head(171, 180, 1, 0)
	f.text(156, 176, "middle", "x")
	f.ext(146, 117.3, 171, 117.3)
	f.line("d-dim", calcThin, 152, 117.3, 152, 130)
	f.head(152, 117.3, 0, -1)
	f.head(152, 130, 0, 1)
	f.text(148, 114, "end", "V(x)")
}

func drawUncertainty(f *calcFig) {
	f.line("d-axis", "", 30, 110, 330, 110)
	for i := 0; i <= 10; i++ {
		f.line("d-axis", "", 40+float64(i)*28, 110, 40+float64(i)*28, 98)
	}
	f.line("d-mark", ` stroke-width="2"`, 188, 150, 188, 114)
	f.head(188, 114, 0, -1)
	f.ext(96, 98, 96, 84)
	f.ext(124, 98, 124, 84)
	f.across(96, 124, 88, "g")
	f.path("d-curve", "", "M140 78C165 78 172 30 188 30S211 78 236 78")
	f.line("d-axis", calcThin, 130, 78, 246, 78)
	f.line("d-dim", calcThin, 188, 54, 206, 54)
	f.head(188, 54, -1, 0)
	f.head(206, 54, 1, 0)
	f.text(214, 52, "start", "s")
	f.text(188, 172, "middle", words.DrawingReading.String())
}

func drawTilt(f *calcFig) {
	f.ground(110, 350, 160)
	f.path("d-body", "", "M134 72L318 62L322 132L138 142Z")
	f.path("d-body", "", "M146 142L148 160L168 160L166 140.5Z")
	f.path("d-body", "", "M288 134L290 150L310 150L308 133Z")
	f.rect("d-do", 288, 150, 24, 10)
	f.line("d-after", "", 34, 116.7, 345, 94.8)
	f.line("d-datum", calcDashed, 22, 108, 345, 108)
	f.down(344, 150, 160, "t")
	f.ext(312, 150, 346, 150)
	f.line("d-body", "", 46, 96, 46, 128)
	f.ext(46, 128, 46, 190)
	f.ext(158, 168, 158, 190)
	f.ext(300, 168, 300, 190)
	f.across(46, 158, 186, "a")
	f.across(158, 300, 186, "b")
	f.ext(22, 117.5, 34, 116.7)
	f.line("d-dim", calcThin, 28, 108, 28, 117.1)
	f.text(28, 100, "middle", "rise")
}

func drawRepeats(f *calcFig) {
	f.line("d-axis", "", 30, 160, 340, 160)
	f.line("d-limit", "", 240, 24, 240, 168)
	for y := 28.0; y < 160; y += 12 {
		f.line("d-hatch", calcThin, 240, y+8, 250, y)
	}
	f.text(240, 184, "middle", "limit")
	f.text(170, 184, "middle", "value")
	f.line("d-datum", calcDashed, 170, 40, 170, 168)
	bar := func(y, half float64, name string) {
		f.line("d-pm", ` stroke-width="2"`, 170-half, y, 170+half, y)
		f.line("d-pm", "", 170-half, y-6, 170-half, y+6)
		f.line("d-pm", "", 170+half, y-6, 170+half, y+6)
		f.circle("d-mark", calcFilled, 170, y, 3)
		f.text(170-half-8, y+4, "end", name)
	}
	bar(66, 98, "n = 1")
	bar(116, 58, "n")
	f.text(206, 106, "middle", "k·u/√n")
	f.text(206, 56, "middle", "k·u")
}

func drawFeet(f *calcFig) {
	f.line("d-datum", calcCentre, 14, 110, 346, 110)
	f.line("d-found", ` stroke-width="2.5"`, 60, 84, 340, 44)
	f.line("d-body", "", 60, 60, 60, 134)
	f.arrow(160, 69.7, 104, "")
	f.arrow(290, 51.1, 104, "")
	f.text(166, 96, "start", "shim")
	f.text(296, 90, "start", "shim")
	f.line("d-dim", calcThin, 44, 84, 44, 110)
	f.head(44, 84, 0, -1)
	f.head(44, 110, 0, 1)
	f.ext(40, 84, 60, 84)
	f.text(32, 100, "middle", "d")
	f.line("d-dim", calcThin, 60, 84, 130, 84)
	f.text(134, 86, "start", "θ")
	f.ext(60, 134, 60, 172)
	f.ext(160, 112, 160, 172)
	f.ext(290, 112, 290, 172)
	f.across(60, 160, 166, "a")
	f.across(160, 290, 166, "b")
}

func drawSpeed(f *calcFig) {
	f.circle("d-body", "", 130, 100, 74)
	f.circle("d-body", "", 130, 100, 48)
	f.circle("d-body", "", 130, 100, 40)
	f.line("d-body", calcThin, 130, 26, 130, 52)
	f.line("d-body", calcThin, 130, 148, 130, 174)
	f.line("d-body", calcThin, 56, 100, 82, 100)
	f.line("d-body", calcThin, 178, 100, 204, 100)
	f.text(165, 54, "middle", "N")
	f.text(165, 156, "middle", "S")
	f.text(95, 156, "middle", "N")
	f.text(95, 54, "middle", "S")
	f.line("d-found", ` stroke-width="2"`, 130, 100, 158, 72)
	f.path("d-do", "", "M204 62A84 84 0 0 1 212 84")
	f.head(212, 85, 0.25, 0.97)
	f.text(222, 72, "start", "field: n = 120·f/p")
	f.line("d-lead", calcThin, 156, 78, 224, 112)
	f.text(228, 118, "start", "shaft")
	f.text(228, 150, "start", "slip = (n − shaft)/n")
}
