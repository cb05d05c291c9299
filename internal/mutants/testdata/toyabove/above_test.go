package toyabove

import "testing"

func TestOutside(t *testing.T) {
	if !Outside(2, 2) {
		t.Error("at the limit")
	}
}

func TestFourfold(t *testing.T) {
	if x := Fourfold(3); x != 12 {
		t.Error(x)
	}
}
