package report

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// An element is one element of a drawing, read back.
type element struct {
	name   string
	attr   map[string]string
	text   string            // its own words, without those of a title in it
	inside map[string]string // data attributes of the groups around it
}

func (e *element) num(t testing.TB, name string) float64 {
	v, err := strconv.ParseFloat(e.attr[name], 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		t.Fatalf("%s of %s %v: %v", name, e.name, e.attr, err)
	}
	return v
}

// parse reads a drawing back with the library's XML reader and holds it to what every drawing must be.
func parse(t testing.TB, svg []byte) []element {
	t.Helper()
	if !utf8.Valid(svg) {
		t.Fatal("not UTF-8")
	}
	dec := xml.NewDecoder(strings.NewReader(string(svg)))
	var list []element
	var stack []int
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, svg)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attr: map[string]string{}, inside: map[string]string{}}
			if len(stack) > 0 {
				p := &list[stack[len(stack)-1]]
				for k, v := range p.inside {
					e.inside[k] = v
				}
				for k, v := range p.attr {
					if strings.HasPrefix(k, "data-") {
						e.inside[k] = v
					}
				}
			}
			for _, a := range tok.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			list = append(list, e)
			stack = append(stack, len(list)-1)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 {
				list[stack[len(stack)-1]].text += string(tok)
			} else if strings.TrimSpace(string(tok)) != "" {
				t.Fatalf("text outside: %q", tok)
			}
		}
	}
	if len(list) < 3 || list[0].name != "svg" || list[0].attr["role"] != "img" || list[1].name != "title" || list[1].text == "" || list[2].name != "desc" || list[2].text == "" {
		t.Fatalf("no svg with title and desc: %.300s", svg)
	}
	if list[0].attr["aria-labelledby"] != list[1].attr["id"] || list[0].attr["aria-describedby"] != list[2].attr["id"] {
		t.Fatal("title and desc are not tied to the svg")
	}
	w, h := list[0].num(t, "width"), list[0].num(t, "height")
	if want := "0 0 " + list[0].attr["width"] + " " + list[0].attr["height"]; list[0].attr["viewBox"] != want { // else it is cut off or drawn at another scale than it states
		t.Fatalf("viewBox %q, want %q", list[0].attr["viewBox"], want)
	}
	ids, uses := map[string]bool{}, map[string]bool{}
	for i := range list {
		e := &list[i]
		if id := e.attr["id"]; id != "" {
			if ids[id] {
				t.Fatalf("the id %s stands twice", id)
			}
			ids[id] = true
		}
		if _, id, ok := strings.Cut(e.attr["fill"], "url(#"); ok {
			uses[strings.TrimSuffix(id, ")")] = true
		}
	}
	for id := range uses {
		if !ids[id] {
			t.Fatalf("a pattern %s that is not there", id)
		}
	}
	for id := range ids {
		if !uses[id] && id != list[1].attr["id"] && id != list[2].attr["id"] {
			t.Fatalf("a pattern %s that nobody uses", id)
		}
	}
	for i := range list {
		e := &list[i]
		switch e.name {
		case "svg", "g", "title", "desc", "defs", "pattern", "line", "rect", "circle", "path", "text", "style":
		default:
			t.Fatalf("an element nobody draws: %s", e.name)
		}
		for k, v := range e.attr {
			switch k {
			case "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "width", "height":
				n := e.num(t, k)
				if e.inside["id"] == "" && (n < -1500 || n > max(w, h)+1500) {
					t.Fatalf("%s=%q of %s lies far outside", k, v, e.name)
				}
			case "d":
				coords(t, v)
			}
			if strings.HasPrefix(k, "on") || k == "href" {
				t.Fatalf("attribute %s", k)
			}
		}
	}
	return list
}

var coordinate = regexp.MustCompile(`-?[0-9.]+`)

// coords returns the numbers of a path.
func coords(t testing.TB, d string) (xy []float64) {
	if strings.Trim(d, "MLZ -.0123456789") != "" {
		t.Fatalf("path %q", d)
	}
	for _, s := range coordinate.FindAllString(d, -1) {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || math.Abs(v) > 1e6 {
			t.Fatalf("path %q: %v", d, err)
		}
		xy = append(xy, v)
	}
	if len(xy)%2 != 0 {
		t.Fatalf("path %q", d)
	}
	return xy
}

var docClass = regexp.MustCompile(`d-[a-z]+`)

// checkClasses holds every class in a drawing to the list in the package comment.
func checkClasses(t *testing.T, list []element) {
	t.Helper()
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, c := range docClass.FindAllString(string(doc), -1) {
		known[c] = true
	}
	for i := range list {
		for _, c := range strings.Fields(list[i].attr["class"]) {
			if !known[c] {
				t.Errorf("class %s is not in the package comment", c)
			}
		}
	}
}

type textBox struct {
	x0, y0, x1, y1 float64
	text           string
	size           float64
}

// down is how far letters go below the line, a fifth of their size; figures do not.
func (b textBox) down() float64 {
	if strings.Trim(b.text, "0123456789") == "" {
		return 0
	}
	return 0.22 * b.size
}

// boxes estimates where the words of a drawing stand: as wide as the package takes them to be, from the top of a capital to the base line.
func boxes(t testing.TB, list []element) (all []textBox) {
	for i := range list {
		e := &list[i]
		if e.name != "text" {
			continue
		}
		f := font{size: e.num(t, "font-size"), bold: e.attr["font-weight"] != ""}
		x, y, w := e.num(t, "x"), e.num(t, "y"), width(e.text, f)
		switch e.attr["text-anchor"] {
		case "middle":
			x -= w / 2
		case "end":
			x -= w
		}
		all = append(all, textBox{x, y - 0.72*f.size, x + w, y, e.text, f.size})
	}
	return all
}

// checkApart fails where two texts lie on each other or stand so near over each other that they read as one, or where one leaves the paper or touches its edge.
func checkApart(t *testing.T, where string, list []element) {
	t.Helper()
	w, h := list[0].num(t, "width"), list[0].num(t, "height")
	all := boxes(t, list)
	for i, a := range all {
		if a.x0 < 1.5 || a.x1 > w-5 || a.y0 < 3 || a.y1+a.down() > h-2 {
			t.Errorf("%s: %q leaves the paper: %.1f … %.1f of %.0f, %.1f … %.1f of %.0f", where, a.text, a.x0, a.x1, w, a.y0, a.y1+a.down(), h)
		}
		// What is broken over lines keeps as much off the right edge as off the left, and breaks only where the next word has no room.
		if a.x0 == 10 && a.x1 > w-9.5 {
			t.Errorf("%s: %q begins 10 px from the left edge and ends %.1f from the right", where, a.text, w-a.x1)
		}
		if i > 0 {
			if b, r := all[i-1], []rune(a.text); b.x0 == 10 && a.x0 == 10 && b.size == a.size && math.Abs(a.y1-b.y1-a.size-4) < 0.01 && len(r) > 0 && unicode.IsLower(r[0]) {
				if next, _, _ := strings.Cut(a.text, " "); b.text != "Not judged" && !slices.Contains([]string{"step", "bolt", "mm"}, next) /* these begin lines, or stand in columns */ && b.x1+(b.x1-10)/float64(len(b.text)+1)+width(next, font{size: a.size}) < w-28 {
					t.Errorf("%s: %q breaks before %q, which had room", where, b.text, next)
				}
			}
		}
		for _, b := range all[:i] {
			if min(a.x1, b.x1)-max(a.x0, b.x0) > 0.5 && min(a.y1+a.down(), b.y1+b.down())-max(a.y0, b.y0) > -2.5 {
				t.Errorf("%s: %q lies on %q", where, a.text, b.text)
			}
		}
	}
}
