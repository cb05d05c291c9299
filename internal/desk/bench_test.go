package desk

import (
	"fmt"
	"strings"
	"testing"
)

// wideList is 10,000 rows of 40 columns, 25 of them words that are no columns of ours, as a plant's own list has them.
func wideList() string {
	var b strings.Builder
	b.WriteString("Machine\tSpeed\tCoupling\tCoupling to stationary plane\tCoupling to movable plane\tCoupling to front feet\tFront to rear feet\t" +
		"Movable rim 12\tMovable rim 3\tMovable rim 6\tMovable rim 9\tStationary rim 12\tStationary rim 3\tStationary rim 6\tStationary rim 9")
	for k := range 25 {
		fmt.Fprintf(&b, "\tOwn %d", k)
	}
	for i := range 10_000 {
		fmt.Fprintf(&b, "\nP-%d\t1480\tshort\t120\t130\t410\t620\t0\t0.0%d\t0.12\t0.07\t0\t-0.15\t-0.02\t0.13", i, i%9)
		for k := range 25 {
			fmt.Fprintf(&b, "\ttext %d", k)
		}
	}
	return b.String()
}

// BenchmarkPasteWide is a paste of such a list into a new job, with its columns matched.
func BenchmarkPasteWide(b *testing.B) {
	list := wideList()
	for b.Loop() {
		begin(b).paste(list)
	}
}
