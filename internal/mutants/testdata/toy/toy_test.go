package toy

import "testing"

func TestHeight(t *testing.T) {
	if height(point{V: 1, H: 2}) != 1 {
		t.Error("height")
	}
}

func TestInside(t *testing.T) {
	if !inside(1, 2) || inside(3, 2) {
		t.Error("inside")
	}
}

func TestBoth(*testing.T) { _ = both(true, false) }

func TestCount(t *testing.T) {
	if n := count([]int{3, 4, 5}, func(x int) bool { return x == 4 }); n != 18 {
		t.Error(n)
	}
	if n := count([]int{3}, nil); n != 7 {
		t.Error(n)
	}
}

var _ = unseen
