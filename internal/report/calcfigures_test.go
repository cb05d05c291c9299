package report

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calculators"
)

// TestCalculatorFigures asks that every calculator has its drawing and no drawing is without one; that each is well-formed, titled and
// described, has no ids, loads nothing, and keeps within its view box.
func TestCalculatorFigures(t *testing.T) {
	used := map[string]bool{}
	for _, c := range calculators.All() {
		if used[c.Figure] = true; CalculatorFigure(c.Figure) == nil {
			t.Errorf("calculator %s: no drawing %q", c.Key, c.Figure)
		}
	}
	if CalculatorFigure("none such") != nil {
		t.Error("a drawing for a key that has none")
	}
	for _, key := range CalculatorFigureKeys() {
		svg := CalculatorFigure(key)
		if !used[key] {
			t.Errorf("no calculator uses %s", key)
		}
		d := xml.NewDecoder(strings.NewReader(string(svg)))
		words := map[string]bool{}
		shapes := 0
		inside := ""
		for {
			tok, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", key, err)
			}
			switch e := tok.(type) {
			case xml.StartElement:
				shapes++
				inside = e.Name.Local
				for _, a := range e.Attr {
					switch a.Name.Local {
					case "id", "href", "style":
						t.Errorf("%s: %s on %s", key, a.Name.Local, e.Name.Local)
					case "x", "x1", "x2", "cx", "y", "y1", "y2", "cy":
						most := 360.0
						if strings.Contains(a.Name.Local, "y") {
							most = 200
						}
						if v, err := strconv.ParseFloat(a.Value, 64); err != nil || v < 0 || v > most {
							t.Errorf("%s: %s=%s is outside", key, a.Name.Local, a.Value)
						}
					case "fill", "stroke":
						if a.Value != "none" && a.Value != "currentColor" {
							t.Errorf("%s: colour %s", key, a.Value)
						}
					}
				}
			case xml.CharData:
				if strings.TrimSpace(string(e)) != "" {
					words[inside] = true
				}
			}
		}
		if shapes < 12 || !words["title"] || !words["desc"] || !words["text"] {
			t.Errorf("%s: %d elements, texts in %v", key, shapes, words)
		}
	}
}

// figure reads a calculator's drawing: its elements with a class, in order.
func figure(t *testing.T, svg []byte) (list []element) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(string(svg)))
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attr: map[string]string{}}
			for _, a := range tok.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			if e.name == "text" {
				e.attr["font-size"] = "12"
			}
			list = append(list, e)
		case xml.CharData:
			if len(list) > 0 {
				list[len(list)-1].text += strings.TrimSpace(string(tok))
			}
		}
	}
}

// TestCalculatorFigureLines: every arrow has its head at its end, every dimension one at either end and both outwards, every head stands on its line and is as long as all others; no line runs through a
// word, no word lies on another, and each drawing names what the calculator asks for by a letter or a word.
func TestCalculatorFigureLines(t *testing.T) {
	heads := 0
	for _, key := range CalculatorFigureKeys() {
		list := figure(t, CalculatorFigure(key))
		type head struct{ x, y, bx, by float64 }
		var tips []head
		for i := range list {
			if e := &list[i]; e.name == "path" && e.attr["fill"] == "currentColor" && strings.HasSuffix(e.attr["d"], "Z") {
				if xy := coords(t, e.attr["d"]); len(xy) == 6 {
					h := head{xy[0], xy[1], (xy[2] + xy[4]) / 2, (xy[3] + xy[5]) / 2}
					if long := math.Hypot(h.x-h.bx, h.y-h.by); math.Abs(long-7) > 0.2 || math.Abs(math.Hypot(xy[2]-xy[4], xy[3]-xy[5])-4.4) > 0.2 {
						t.Errorf("%s: a head %v of other size", key, xy)
					}
					tips = append(tips, h)
				}
			}
		}
		used := map[head]bool{}
		at := func(x, y, fx, fy float64) bool { // a head at x, y that points away from fx, fy
			for _, h := range tips {
				if math.Abs(h.x-x)+math.Abs(h.y-y) > 0.01 {
					continue
				}
				l := math.Hypot(x-fx, y-fy)
				if math.Abs((h.x-h.bx)/7-(x-fx)/l)+math.Abs((h.y-h.by)/7-(y-fy)/l) < 0.01 {
					used[h] = true
					return true
				}
			}
			return false
		}
		for i := range list {
			e := &list[i]
			if e.name != "line" {
				continue
			}
			x1, y1, x2, y2 := e.num(t, "x1"), e.num(t, "y1"), e.num(t, "x2"), e.num(t, "y2")
			a, b := at(x1, y1, x2, y2), at(x2, y2, x1, y1)
			switch class := e.attr["class"]; {
			case class == "d-do" && (a || !b):
				t.Errorf("%s: the arrow from %g, %g to %g, %g has heads %v, %v", key, x1, y1, x2, y2, a, b)
			case class == "d-dim" && a != b:
				t.Errorf("%s: the dimension from %g, %g to %g, %g has heads %v, %v", key, x1, y1, x2, y2, a, b)
			}
		}
		for _, h := range tips {
			arc := false // a turning arrow, whose head goes on from the end of an arc
			for i := range list {
				if e := &list[i]; e.name == "path" && e.attr["class"] == "d-do" {
					xy := coordinate.FindAllString(e.attr["d"], -1)
					x, _ := strconv.ParseFloat(xy[len(xy)-2], 64)
					y, _ := strconv.ParseFloat(xy[len(xy)-1], 64)
					arc = arc || math.Hypot(h.x-x, h.y-y) < 1.5
				}
			}
			if !used[h] && !arc {
				t.Errorf("%s: the head at %g, %g stands on no line's end", key, h.x, h.y)
			}
			heads++
		}
		all := boxes(t, list)
		for i, a := range all {
			for _, b := range all[:i] {
				if min(a.x1, b.x1)-max(a.x0, b.x0) > 3 && min(a.y1, b.y1)-max(a.y0, b.y0) > 1 {
					t.Errorf("%s: %q lies on %q", key, a.text, b.text)
				}
			}
		}
	}
	if heads < 50 {
		t.Errorf("%d heads", heads)
	}
}
