package tables

import (
	"math"
	"strings"
)

// A Frame is what a motor's frame size says of its feet and shaft. Lengths in mm; NaN: not known here.
type Frame struct {
	Name     string  // "160M", "213T"
	Standard string  // "IEC 60072-1", "NEMA MG 1"
	H        float64 // shaft centre above the feet
	A        float64 // between the holes across the shaft
	B        float64 // between front and rear holes along the shaft
	C        float64 // from the shaft's shoulder to the front holes
	E        float64 // shaft from its shoulder to its end; from four poles up where it differs with the number of poles
	Source   Source
}

// ShaftEnd is the distance from the end of the shaft to the front holes, C + E, in mm; NaN where E is not known.
func (f Frame) ShaftEnd() float64 { return f.C + f.E }

// FrameByName finds a frame by its name, case, blanks and the standard's name aside: "213T", "160 m", "IEC 160M", "frame 90L".
func FrameByName(name string) (Frame, bool) {
	f, _, _ := findFrame(name)
	return f, f.Name != ""
}

var frameTables = [...]struct{ key, word, standard string }{{"frames_iec", "IEC", "IEC 60072-1"}, {"frames_nema", "NEMA", "NEMA MG 1"}}

func findFrame(name string) (Frame, *Table, *Row) {
	key := ""
	only := ""
	for _, w := range strings.Fields(name) {
		switch w = strings.ToUpper(w); w {
		case "FRAME":
		case "IEC", "NEMA":
			only = w
		default:
			key += w
		}
	}
	for _, s := range frameTables {
		if only != "" && only != s.word {
			continue
		}
		t := Find(s.key)
		for i := range t.Rows {
			if r := &t.Rows[i]; r.Name == key {
				return Frame{Name: r.Name, Standard: s.standard, H: t.base(r, "h"), A: t.base(r, "a"), B: t.base(r, "b"), C: t.base(r, "c"), E: t.base(r, "e"), Source: r.Source}, t, r
			}
		}
	}
	return Frame{}, nil, nil
}

// synchronous finds the slowest synchronous speed, at f Hz, that is not below n r/min. ok is false past the fastest.
func synchronous(n float64, f string) (row *Row, speed float64, ok bool) {
	t := Find("synchronous")
	speed = math.Inf(1)
	for i := range t.Rows {
		r := &t.Rows[i]
		if v := t.base(r, "at_"+f); v >= n*(1-1e-9) && v < speed {
			row, speed = r, v
		}
	}
	return row, speed, row != nil
}
