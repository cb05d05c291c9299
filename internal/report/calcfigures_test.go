package report

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/sheet"
)

// TestCalculatorFigures asks that every calculator has its drawing and no drawing is without one; that each is well-formed, titled and
// described, has no ids, loads nothing, and keeps within its view box.
func TestCalculatorFigures(t *testing.T) {
	used := map[string]bool{}
	for _, c := range sheet.Calculators() {
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
