package grid

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
)

// Every byte of a name comes back, letters, digits and a few signs as they are and all others as %XX; so the text of a view is printable ASCII whatever the names are.
func TestViewTextOfEveryByte(t *testing.T) {
	const plain = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz .-_:"
	for c := range 256 {
		name := "x" + string([]byte{byte(c)}) + "y"
		b, _ := View{Hidden: []string{name}}.MarshalText()
		want := "view1;H" + name + ";"
		if !strings.Contains(plain, string([]byte{byte(c)})) {
			want = fmt.Sprintf("view1;Hx%%%02Xy;", c)
		}
		if string(b) != want {
			t.Errorf("byte %d: %q, want %q", c, b, want)
		}
		var v View
		if err := v.UnmarshalText(b); err != nil || len(v.Hidden) != 1 || v.Hidden[0] != name {
			t.Errorf("byte %d: %q, %v", c, v.Hidden, err)
		}
	}
}

// Each part of a view on both sides of what is read; what is not understood is left out and the rest is kept. An empty text is the view of a sheet as stored, whatever stood there.
func TestPartsOfViews(t *testing.T) {
	for part, want := range map[string]View{
		"F-1;": {Frozen: -1}, "F-2;": {}, "F0;": {}, "F1;": {Frozen: 1}, fmt.Sprintf("F%d;", MaxColumns): {Frozen: MaxColumns}, fmt.Sprintf("F%d;", MaxColumns+1): {}, "F;": {}, "Fx;": {}, "F2x;": {},
		"W0,a;": {}, "W1,a;": {Widths: []Width{{"a", 1}}}, "W-1,a;": {}, "W10000,a;": {Widths: []Width{{"a", 10000}}}, "W10001,a;": {}, "Wx,a;": {}, "W5;": {}, "W5,a,b;": {},
		"Sa,x;": {Sort: []SavedKey{{"x", false}}}, "Sd,x;": {Sort: []SavedKey{{"x", true}}}, "Sa;": {}, "Sd;": {}, "Sa,x,y;": {}, "Sb,x;": {}, "Xa,x;": {}, "Xd,x;": {},
		"Ha;": {Hidden: []string{"a"}}, "Ha,b;": {}, "H;": {Hidden: []string{""}}, "Xa;": {}, "X5,a;": {}, "X;": {},
		"Qc,a;": {Filter: []Condition{{"a", Contains, nil}}}, "Qc,a,b,;": {Filter: []Condition{{"a", Contains, []string{"b", ""}}}}, "Qx,a;": {}, "Qcn,a;": {}, "Q,a;": {}, "Qc;": {}, "Xc,a;": {},
		"Ha;;;Hb": {Hidden: []string{"a", "b"}}, "H%41;": {Hidden: []string{"A"}}, "H%4;": {Hidden: []string{"%4"}}, "H%;": {Hidden: []string{"%"}}, "H%4g;": {Hidden: []string{"%4g"}}, "H%25;": {Hidden: []string{"%"}}, "Ha%2cb;": {Hidden: []string{"a,b"}},
	} {
		v := View{Hidden: []string{"stood there"}, Frozen: 7}
		if err := v.UnmarshalText([]byte("view1;" + part)); err != nil || !reflect.DeepEqual(v, want) {
			t.Errorf("%s: %+v, %v; want %+v", part, v, err, want)
		}
	}
	for _, text := range []string{"", " \n"} {
		v := View{Hidden: []string{"stood there"}, Frozen: 7}
		if err := v.UnmarshalText([]byte(text)); err != nil || !reflect.DeepEqual(v, View{}) {
			t.Errorf("%q: %+v, %v", text, v, err)
		}
	}
	// junk stays small: so many parts and no more
	for _, n := range []int{mostParts - 1, mostParts, mostParts + 1} {
		var v View
		if err := v.UnmarshalText([]byte("view1;" + strings.Repeat("Ha;", n))); err != nil || len(v.Hidden) != min(n, mostParts) {
			t.Errorf("%d parts: %d, %v", n, len(v.Hidden), err)
		}
	}
}

// Conditions on both sides of what they ask for; numbers are plain decimal ones, and what asks for a size without one holds nowhere.
func TestConditionsAtTheirBounds(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		op     Op
		values []string
		num    float64
		text   string
		want   bool
	}{
		{Below, []string{"2"}, 2, "2", false}, {Below, []string{"2"}, 1.999, "", true}, {AtMost, []string{"2"}, 2, "2", true}, {AtMost, []string{"2"}, 2.001, "", false},
		{Above, []string{"2"}, 2, "2", false}, {Above, []string{"2"}, 2.001, "", true}, {AtLeast, []string{"2"}, 2, "2", true}, {AtLeast, []string{"2"}, 1.999, "", false},
		{Below, nil, -1, "-1", false}, {AtMost, nil, 0, "0", false}, {Above, nil, 1, "1", false}, {AtLeast, nil, 0, "0", false},
		{Below, []string{"2", "9"}, 5, "5", false}, {Above, []string{"2", "9"}, 5, "5", true}, // the first value counts
		{Empty, nil, nan, "x", false}, {Empty, nil, nan, "", true}, {Empty, nil, nan, " \t", true}, {Empty, nil, 0, "", false}, {Empty, nil, 0, "0", false},
		{Filled, nil, nan, "x", true}, {Filled, nil, nan, " ", false}, {Filled, nil, 0, "", true},
		{AtLeast, []string{"9"}, 9, "9", true}, {AtLeast, []string{"0"}, 0, "0", true}, {AtLeast, []string{"1.2.3"}, 5, "5", false}, {AtLeast, []string{"--1"}, 5, "5", false}, {Below, []string{"1e999"}, 5, "5", false}, {AtLeast, []string{"-1e999"}, 5, "5", false}, {AtLeast, []string{"1e1"}, 10, "10", true},
		{AtLeast, []string{"1_0"}, 50, "50", false}, {AtLeast, []string{"nan"}, 50, "50", false}, {Below, []string{"infinity"}, 50, "50", false}, {AtLeast, []string{"0x1p1"}, 50, "50", false}, {AtLeast, []string{"1:"}, 50, "50", false}, {AtLeast, []string{"1/"}, 50, "50", false}, {AtLeast, []string{"+1"}, 1, "1", true}, {AtLeast, []string{"−1,5"}, -1.5, "", true}, {AtLeast, []string{" 2 "}, 2, "", true},
		{Equals, nil, nan, "", false}, {NotEquals, nil, nan, "", true}, {Contains, nil, nan, "x", false}, {NotContains, nil, nan, "x", true},
		{Equals, []string{""}, nan, " ", true}, {Equals, []string{"x"}, nan, "xy", false}, {Contains, []string{" X "}, nan, "axb", true}, {Equals, []string{"2"}, 2, "2.0", true}, {NotEquals, []string{"2"}, 2, "2.0", false}, {Equals, []string{"x", "2"}, 2, "2.0", true},
	} {
		if got := (Condition{Op: c.op, Values: c.values}).Test()(c.num, c.text); got != c.want {
			t.Errorf("%c %q of %v %q: %v", c.op, c.values, c.num, c.text, got)
		}
	}
}

// A viewport that reaches out of the sheet is cut to it; separators in a cell are blanks, in results as well.
func TestViewportIsCut(t *testing.T) {
	m := sheet("A|B", "1|2", "3\x1e\x1f|4")
	m.SetOrder([]int{0, ^0, 1})
	whole := string(m.AppendViewport(nil, 0, 0, 3, m.Height(), marks{}))
	if got := string(m.AppendViewport(nil, -5, -5, 99, 999, marks{})); got != whole || strings.Count(got, string(RowEnd)) != 2+Spare {
		t.Errorf("%q, want %q", got, whole)
	}
	if got := string(m.AppendViewport([]byte("x"), 1, 1, 2, 3, marks{})); got != "xrr1.0\x1f\x1er\x1f\x1e" {
		t.Errorf("%q", got)
	}
	if got := string(m.AppendViewport(nil, 0, 1, 1, 2, marks{})); got != "-3  \x1f\x1e" {
		t.Errorf("%q", got)
	}
	if got := string(m.AppendViewport(nil, 2, 0, 2, 5, marks{})); got != strings.Repeat("\x1e", 5) {
		t.Errorf("%q", got)
	}
}
