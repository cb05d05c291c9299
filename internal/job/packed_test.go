package job

import (
	"reflect"
	"testing"
)

func TestPacked(t *testing.T) {
	rows := [][]string{{"a", "", "b"}, {}, {""}, {"\x1b", "\x1e\x1f", "e\x1be", "Ω µm"}, {"", ""}}
	text := string(AppendPacked(nil, rows))
	if got := AppendUnpacked(nil, text); !reflect.DeepEqual(got, rows) {
		t.Errorf("%q", got)
	}
	got := AppendUnpacked([][]string{{"first"}}, text+"cut\x1foff")
	if !reflect.DeepEqual(got[1:], rows) || got[0][0] != "first" {
		t.Errorf("%q", got)
	}
	one := AppendUnpacked(nil, "a\x1f\x1eb\x1f\x1e")
	_ = append(one[0], "x") // a row that grows must not write into the next
	if one[1][0] != "b" {
		t.Error("rows share room")
	}
}
