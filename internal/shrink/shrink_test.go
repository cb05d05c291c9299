package shrink

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"

	"shimsheet/internal/pictures"
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

// Any photo fits into a cell and is still a picture that the standard library reads.
func TestPhoto(t *testing.T) {
	for _, c := range []struct {
		w, h   int
		format string
	}{{1600, 1200, "jpeg"}, {1200, 1600, "png"}, {300, 200, "jpeg"}, {1, 1, "png"}, {3000, 10, "jpeg"}} {
		uri, info, err := Photo(encode(t, picture(c.w, c.h), c.format), 800)
		if err != nil {
			t.Fatal(c, err)
		}
		data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(uri, "data:image/jpeg;base64,"))
		if err != nil {
			t.Fatal(err)
		}
		cfg, err := jpeg.DecodeConfig(bytes.NewReader(data))
		//evidence: calc=photos in cells grade=independent count=1 source=Go's image/jpeg and image/png read what was written, and say the same size as our look at the first bytes
		if err != nil || cfg.Width != info.Width || cfg.Height != info.Height || len(uri) > pictures.MostText || info.Width > 800 || info.Height > 800 {
			t.Errorf("%v: %+v, %v, %d characters, %v", c, info, cfg, len(uri), err)
		}
		t.Logf("%v: %s, %d characters", c, info, len(uri))
	}
}

// A photo taken with the camera on its side comes out upright: Exif, tag 0x0112 (JEITA CP-3451, from memory).
func TestOrientation(t *testing.T) {
	plain := encode(t, picture(400, 200), "jpeg")
	for turn := 1; turn <= 8; turn++ {
		exif := []byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00")
		exif = append(exif, byte(turn), 0, 0, 0, 0, 0, 0)
		app := append([]byte{0xff, 0xe1, 0, byte(len(exif) + 2)}, exif...)
		data := append(append(bytes.Clone(plain[:2]), app...), plain[2:]...)
		uri, info, err := Photo(data, 200)
		if err != nil {
			t.Fatal(err)
		}
		raw, _ := base64.StdEncoding.DecodeString(strings.TrimPrefix(uri, "data:image/jpeg;base64,"))
		img, err := jpeg.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		if upright := turn < 5; (info.Width > info.Height) != upright {
			t.Errorf("turn %d: %d × %d", turn, info.Width, info.Height)
		}
		// Where the black corner at the top left comes to lie.
		corner := [9][2]bool{1: {false, false}, 2: {true, false}, 3: {true, true}, 4: {false, true}, 5: {false, false}, 6: {true, false}, 7: {true, true}, 8: {false, true}}[turn]
		x, y := 4, 4
		if corner[0] {
			x = info.Width - 5
		}
		if corner[1] {
			y = info.Height - 5
		}
		if r, g, b, _ := img.At(x, y).RGBA(); r+g+b > 3*0x3000 {
			t.Errorf("turn %d: at %d, %d it is not black: %x %x %x", turn, x, y, r, g, b)
		}
	}
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
		if uri, _, err := Photo(data, 800); err == nil {
			t.Errorf("%s is taken: %d characters", name, len(uri))
		}
		for _, format := range []string{"jpeg", "png", "svg+xml"} {
			if _, err := pictures.Look(pictures.URI(format, data)); err == nil && name != "cut" && name != "png without a picture" {
				t.Errorf("%s as %s is let into a cell", name, format)
			}
		}
	}
	if _, err := pictures.Look("data:image/jpeg;base64," + strings.Repeat("A", pictures.MostText)); err == nil {
		t.Error("a text that no cell holds is let in")
	}
}

// Our look at the first bytes says what the standard library says, of any size.
func TestHeadAgainstLibrary(t *testing.T) {
	for _, s := range [][2]int{{1, 1}, {17, 3}, {640, 480}, {1000, 1}} {
		for _, format := range []string{"jpeg", "png"} {
			data := encode(t, picture(s[0], s[1]), format)
			head, err := pictures.Head(data)
			cfg, kind, err2 := image.DecodeConfig(bytes.NewReader(data))
			if err != nil || err2 != nil || head.Width != cfg.Width || head.Height != cfg.Height || head.Format != kind {
				t.Errorf("%v %s: %+v, library %+v %s (%v, %v)", s, format, head, cfg, kind, err, err2)
			}
		}
	}
}
