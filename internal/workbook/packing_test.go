package workbook

import (
	"bytes"
	"compress/flate"
	"errors"
	"hash/crc32"
	"io"
	"slices"
	"testing"
)

// A caller's own packing is used for large parts, and what it packed comes back the same; where it fails the parts are packed here. So it is with unpacking: what a caller's unpacking refuses is looked at here and read, or refused for
// the reason. A fresh workbook and results added to one alike; the progress of packing is told in between.
func TestPackedByTheCaller(t *testing.T) {
	m := demoBook(t, "")
	plain, err := Write(m.j, m.ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := partsOf(t, plain)
	for _, fails := range []bool{false, true} {
		packed, small := 0, 0
		deflate := func(pieces ...[]byte) ([]byte, uint32, error) {
			all := slices.Concat(pieces...)
			if packed++; len(all) < 1<<16 {
				small++
			}
			if fails {
				return nil, 0, errors.New("not now")
			}
			var b bytes.Buffer
			w, _ := flate.NewWriter(&b, flate.HuffmanOnly)
			w.Write(all)
			w.Close()
			return b.Bytes(), crc32.ChecksumIEEE(all), nil
		}
		for _, add := range []bool{false, true} {
			if add && fails {
				continue // as in a fresh one
			}
			packed = 0
			between := 0
			opts := Options{Deflate: deflate, Progress: func(done float64) {
				if done > 0.76 && done < 1 {
					between++
				}
			}}
			var out []byte
			if !add {
				out, err = Write(m.j, m.ev, opts)
			} else {
				back, _ := mustRead(t, plain, "x.xlsx", nil)
				out, err = AddTo(plain, back, m.ev, opts)
			}
			if err != nil {
				t.Fatal(err)
			}
			got := partsOf(t, out)
			for name := range want {
				if !add && got[name] != want[name] {
					t.Errorf("part %s is another, packed by the caller: fails %v", name, fails)
				}
			}
			if packed < 1 || small > 0 || between < 3 {
				t.Errorf("add %v: %d parts were packed by the caller, %d of them small; progress was told %d times", add, packed, small, between)
			}
			if same, _ := mustRead(t, out, "x.xlsx", nil); len(same.Machines.Rows) != len(m.j.Machines.Rows) {
				t.Errorf("%d rows come back", len(same.Machines.Rows))
			}
		}
		asked, refused := 0, 0
		inflate := func(data []byte, size int, sum uint32, dst []byte) error {
			if asked++; size < 1<<16 {
				refused++
			}
			if fails {
				return errors.New("not now")
			}
			all, err := io.ReadAll(flate.NewReader(bytes.NewReader(data)))
			if err != nil || len(all) != size || crc32.ChecksumIEEE(all) != sum || dst != nil && len(dst) != size {
				t.Errorf("%d bytes of %d, %v", len(all), size, err)
			}
			copy(dst, all)
			return nil
		}
		by := &Reader{Inflate: inflate}
		back, r, err := by.Read(plain, "x.xlsx", nil)
		if err != nil || !r.Own || asked == 0 || refused > 0 {
			t.Fatalf("%v; asked %d times, %d of them for little", err, asked, refused)
		}
		sameJob(t, back, m.j)
		if asked = 0; fails {
			continue
		}
		if _, err := AddTo(plain, back, m.ev, Options{Inflate: inflate}); err != nil || asked == 0 {
			t.Errorf("added: %v; asked %d times", err, asked)
		}
	}
}
