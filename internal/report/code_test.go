package report

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"shimsheet/internal/sentences"
)

// codePicture paints the dark modules of a drawn code, read back from its SVG, on grey paper: scale pixels a module of the drawing's own units.
func codePicture(t testing.TB, svg []byte, scale float64) *image.Gray {
	t.Helper()
	list := parse(t, svg)
	side := int(math.Round(list[0].num(t, "width") * scale))
	img := image.NewGray(image.Rect(0, 0, side, side))
	for k := range img.Pix {
		img.Pix[k] = 255
	}
	for i := range list {
		if list[i].attr["class"] != "d-code" {
			continue
		}
		for _, part := range strings.Split(strings.TrimSuffix(list[i].attr["d"], "Z"), "Z") {
			xy := coords(t, part)
			at := func(v float64) int { return int(math.Round(v * scale)) }
			for y := at(xy[1]); y < at(xy[5]); y++ {
				for x := at(xy[0]); x < at(xy[2]); x++ {
					img.SetGray(x, y, color.Gray{})
				}
			}
		}
	}
	return img
}

func readCode(img image.Image) (string, error) {
	bmp, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	r, err := qrcode.NewQRCodeReader().Decode(bmp, map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", err
	}
	return r.GetText(), nil
}

// TestCodeIsReadByAnotherLibrary has every code of the demo's cards, and texts of many lengths, read back from the drawing by a library that did not make it; also with a spot of dirt
// on it, as level Q is to bear.
//
// evidence: calc=code of a card grade=independent count=70 source=github.com/makiuchi-d/gozxing v0.1.1 (a port of ZXing) reads the drawing back; ISO/IEC 18004
func TestCodeIsReadByAnotherLibrary(t *testing.T) {
	ev := demo(t)
	var texts []string
	for i := range ev.Len() {
		if c, ok := ev.Card(i); ok {
			texts = append(texts, c.Code)
		}
	}
	for n := 1; n < 90; n += 7 {
		texts = append(texts, sentences.CardCode{Job: strings.Repeat("j", n/2), Machine: strings.Repeat("Pumpe Ö/7 ", n/10), Round: "12"}.String())
	}
	if len(texts) < 30 {
		t.Fatalf("only %d texts", len(texts))
	}
	for _, text := range texts {
		svg, err := Code(nil, text, "code", Options{Width: 280})
		if err != nil {
			t.Fatal(err)
		}
		size, _, err := codeModules(text)
		if err != nil {
			t.Fatal(err)
		}
		img := codePicture(t, svg, 6*float64(size+8)/280) // six pixels a module
		got, err := readCode(img)
		if err != nil || got != text {
			t.Errorf("read %q, %v instead of %q", got, err, text)
		}
		// A spot over a twentieth of the middle.
		w := img.Rect.Dx()
		for y := w * 45 / 100; y < w*60/100; y++ {
			for x := w * 45 / 100; x < w*60/100; x++ {
				img.SetGray(x, y, color.Gray{})
			}
		}
		if got, err = readCode(img); err != nil || got != text {
			t.Errorf("with a spot: read %q, %v instead of %q", got, err, text)
		}
	}
	if _, err := Code(nil, strings.Repeat("x", 3000), "code", Options{}); err == nil {
		t.Error("a text that is too long has a code")
	}
}
