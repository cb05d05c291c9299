package frame

import (
	"fmt"
	"strings"
	"testing"
)

// Headers that were matched are kept on this computer for the next job: of each sheet once, the last first, no more than there is use for; what cannot be read of them is left out.
func TestHeadersKept(t *testing.T) {
	f, b := newFake(t)
	for kept, want := range map[string]string{
		"":                              "",
		`[["a","b","c"],["d","e","f"]]`: "a b c; d e f",
		`[["a","b",1,"c"],"x",{"y":1},["d","e","f"]]`: "d e f",
		`[["a","b"],["a","b","c","d"]]`:               "",
		`[["a","b","c"],["d"`:                         "",
		`{"a":1}`:                                     "",
	} {
		b.kept[headersKey] = kept
		var got []string
		for _, h := range f.headers() {
			got = append(got, strings.Join(h, " "))
		}
		b.want(t, kept, strings.Join(got, "; "), want)
	}
	b.kept[headersKey] = `[["Machines","Tag","machine"],["Machines","rpm","speed"]]`
	f.remember("Stock\x1fTag\x1fthickness\x1f\x1eMachines\x1fRPM\x1fnone\x1f\x1e")
	b.want(t, "of each sheet", b.kept[headersKey], `[["Stock","Tag","thickness"],["Machines","RPM","none"],["Machines","Tag","machine"]]`)
	var many strings.Builder
	for i := range 450 {
		fmt.Fprintf(&many, "Machines\x1fh%d\x1fmachine\x1f\x1e", i)
	}
	f.remember(many.String())
	h := f.headers()
	if len(h) != 400 || h[0][1] != "h0" || h[399][1] != "h399" {
		t.Errorf("%d headers", len(h))
	}
}
