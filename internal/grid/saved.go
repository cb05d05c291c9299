package grid

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// A View is how one sheet is shown, for storing beside the job. Columns are named by whatever the owner chooses that outlasts a
// session (a key or a header). The zero View shows everything as stored.
type View struct {
	Hidden []string
	Widths []Width
	Sort   []SavedKey
	Filter []Condition // all must hold
	Frozen int         // number of first columns that stay in sight, as the owner reads it
}

// A Width is the width of a column in CSS pixels.
type Width struct {
	Col string
	Px  int
}

// A SavedKey is a [SortKey] by name.
type SavedKey struct {
	Col  string
	Desc bool
}

// An Op is what a Condition asks.
type Op byte

// The conditions. With several values the first four ask for any of them (Not…: for none of them), without regard to capitals and
// blanks at the ends; the next four read the first value. Texts are compared as shown; Equals takes equal numbers for equal too.
const (
	Contains    Op = 'c'
	NotContains Op = 'n'
	Equals      Op = 'e'
	NotEquals   Op = 'd'
	Below       Op = 'l'
	AtMost      Op = 'm'
	Above       Op = 'g'
	AtLeast     Op = 'h'
	Empty       Op = 'z'
	Filled      Op = 'f'
)

const knownOps = "cnedlmghzf"

// A Condition is one line of a filter.
type Condition struct {
	Col    string
	Op     Op
	Values []string
}

// Test returns the condition as a function of a cell's number (NaN: none) and text. Values are numbers with a decimal point or comma;
// comparing by size with something that is no number holds for no cell. An unknown Op holds for every cell.
func (c Condition) Test() func(num float64, text string) bool {
	texts := make([]string, len(c.Values))
	nums := make([]float64, max(len(c.Values), 1))
	nums[0] = math.NaN()
	for i, s := range c.Values {
		texts[i] = strings.ToLower(strings.TrimSpace(s))
		nums[i] = number(texts[i])
	}
	anyOf := func(yes func(i int, num float64, text string) bool, want bool) func(float64, string) bool {
		return func(num float64, text string) bool {
			text = strings.ToLower(strings.TrimSpace(text))
			for i := range texts {
				if yes(i, num, text) {
					return want
				}
			}
			return !want
		}
	}
	holds := func(i int, _ float64, text string) bool { return strings.Contains(text, texts[i]) }
	equal := func(i int, num float64, text string) bool { return text == texts[i] || num == nums[i] }
	v := nums[0]
	switch c.Op {
	case Contains:
		return anyOf(holds, true)
	case NotContains:
		return anyOf(holds, false)
	case Equals:
		return anyOf(equal, true)
	case NotEquals:
		return anyOf(equal, false)
	case Below:
		return func(num float64, _ string) bool { return num < v }
	case AtMost:
		return func(num float64, _ string) bool { return num <= v }
	case Above:
		return func(num float64, _ string) bool { return num > v }
	case AtLeast:
		return func(num float64, _ string) bool { return num >= v }
	case Empty:
		return func(num float64, text string) bool { return math.IsNaN(num) && strings.TrimSpace(text) == "" }
	case Filled:
		return func(num float64, text string) bool { return !math.IsNaN(num) || strings.TrimSpace(text) != "" }
	}
	return func(float64, string) bool { return true }
}

// number reads a plain decimal number, NaN for anything else.
func number(s string) float64 {
	s = strings.Replace(strings.Replace(s, ",", ".", 1), "−", "-", 1)
	for i := range len(s) {
		if c := s[i]; (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c != 'e' {
			return math.NaN() // no hexadecimal numbers, underscores or names
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// The text of a view is "view1" and then parts, each with a letter in front and a semicolon behind: F frozen, H a hidden column, W a
// width, S a sort key, Q a condition. Fields within a part are parted by commas; all but letters, digits and a few signs stand as %XX.

const (
	viewMark = "view1;"
	// bounds on what is read, so that junk stays small
	mostParts = 10_000
	mostWidth = 10_000
)

// MarshalText writes a view in one line of printable ASCII. It does not fail.
func (v View) MarshalText() ([]byte, error) {
	b := []byte(viewMark)
	part := func(letter byte, fields ...string) {
		b = append(b, letter)
		for i, f := range fields {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendField(b, f)
		}
		b = append(b, ';')
	}
	if v.Frozen != 0 {
		part('F', strconv.Itoa(v.Frozen))
	}
	for _, h := range v.Hidden {
		part('H', h)
	}
	for _, w := range v.Widths {
		part('W', strconv.Itoa(w.Px), w.Col)
	}
	for _, s := range v.Sort {
		dir := "a"
		if s.Desc {
			dir = "d"
		}
		part('S', dir, s.Col)
	}
	for _, c := range v.Filter {
		part('Q', append([]string{string(rune(c.Op)), c.Col}, c.Values...)...)
	}
	return b, nil
}

func plain(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == ' ' || c == '.' || c == '-' || c == '_' || c == ':'
}

func appendField(b []byte, s string) []byte {
	const hex = "0123456789ABCDEF"
	for i := range len(s) {
		if c := s[i]; plain(c) {
			b = append(b, c)
		} else {
			b = append(b, '%', hex[c>>4], hex[c&15])
		}
	}
	return b
}

// field reads what appendField wrote; signs that it would not have written are taken as they are.
func field(s string) string {
	var b []byte
	for i := 0; i < len(s); i++ {
		if s[i] == '%' && i+2 < len(s) {
			if v, err := strconv.ParseUint(s[i+1:i+3], 16, 8); err == nil {
				b = append(b, byte(v))
				i += 2
				continue
			}
		}
		b = append(b, s[i])
	}
	return string(b)
}

// UnmarshalText reads what MarshalText wrote. Parts that are not understood are left out; it fails, and changes nothing, only when the
// text does not begin as a view does. An empty text is the zero View.
func (v *View) UnmarshalText(text []byte) error {
	s := strings.TrimSpace(string(text))
	if s == "" {
		*v = View{}
		return nil
	}
	rest, ok := strings.CutPrefix(s, viewMark)
	if !ok {
		return errors.New(words.GridNoView.Say(viewMark))
	}
	var out View
	n := 0
	for p := range strings.SplitSeq(rest, ";") {
		if p == "" {
			continue
		}
		if n++; n > mostParts {
			break
		}
		f := strings.Split(p[1:], ",")
		for i := range f {
			f[i] = field(f[i])
		}
		switch {
		case p[0] == 'F':
			if k, err := strconv.Atoi(f[0]); err == nil && k >= -1 && k <= MaxColumns {
				out.Frozen = k
			}
		case p[0] == 'H' && len(f) == 1:
			out.Hidden = append(out.Hidden, f[0])
		case p[0] == 'W' && len(f) == 2:
			if k, err := strconv.Atoi(f[0]); err == nil && k > 0 && k <= mostWidth {
				out.Widths = append(out.Widths, Width{f[1], k})
			}
		case p[0] == 'S' && len(f) == 2 && (f[0] == "a" || f[0] == "d"):
			out.Sort = append(out.Sort, SavedKey{f[1], f[0] == "d"})
		case p[0] == 'Q' && len(f) >= 2 && len(f[0]) == 1 && strings.Contains(knownOps, f[0]):
			c := Condition{Col: f[1], Op: Op(f[0][0])}
			if len(f) > 2 {
				c.Values = f[2:]
			}
			out.Filter = append(out.Filter, c)
		}
	}
	*v = out
	return nil
}
