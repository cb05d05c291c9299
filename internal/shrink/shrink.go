// Package shrink makes a photo small enough for a cell: it decodes a JPEG or PNG, turns it as its camera said, scales it down and writes it as a JPEG. Start with [Photo].
//
// A picture is looked at before it is decoded: one that would unpack to more than [MostPixels] is refused, whatever the size of its file. What is no JPEG and no PNG, an SVG
// among them, is refused. What the camera wrote into the file besides, such as the place, is left out.
package shrink

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"shimsheet/internal/pictures"
)

// Limits of what is decoded.
const (
	MostPixels = 50_000_000
	MostBytes  = 40 << 20
)

// Photo makes a photo small enough for a cell. side is the most pixels a side it keeps.
func Photo(data []byte, side int) (uri string, info pictures.Info, err error) {
	if len(data) > MostBytes {
		return "", info, fmt.Errorf("the photo has %d MB; up to %d are read", len(data)>>20, MostBytes>>20)
	}
	head, err := pictures.Head(data)
	if err != nil {
		return "", info, err
	}
	if head.Width*head.Height > MostPixels || head.Width > 1<<16 || head.Height > 1<<16 {
		return "", info, fmt.Errorf("the photo has %d × %d pixels; up to %d million are read", head.Width, head.Height, MostPixels/1_000_000)
	}
	var img image.Image
	turn := 1
	if head.Format == "png" {
		img, err = png.Decode(bytes.NewReader(data))
	} else {
		img, err = jpeg.Decode(bytes.NewReader(data))
		turn = orientation(data)
	}
	if err != nil {
		return "", info, errors.New("the photo is damaged: it cannot be decoded")
	}
	for side := min(side, pictures.MostSide); side >= 40; side = side * 4 / 5 {
		small := scale(img, side, turn)
		for _, quality := range [...]int{75, 60, 45} {
			var b bytes.Buffer
			if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: quality}); err != nil {
				return "", info, err
			}
			if uri := pictures.URI("jpeg", b.Bytes()); len(uri) <= pictures.MostText {
				info, err := pictures.Look(uri)
				return uri, info, err
			}
		}
	}
	return "", info, errors.New("the photo cannot be made small enough")
}

// scale takes means over the pixels that fall together; a picture smaller than side stays as large as it is. turn is how the camera was held.
func scale(img image.Image, side, turn int) *image.RGBA {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	k := 1.0
	if most := max(w, h); most > side {
		k = float64(most) / float64(side)
	}
	nw, nh := max(1, int(float64(w)/k)), max(1, int(float64(h)/k))
	ow, oh := nw, nh
	if turn >= 5 {
		ow, oh = nh, nw
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range nh {
		y0, y1 := b.Min.Y+y*h/nh, b.Min.Y+max((y+1)*h/nh, y*h/nh+1)
		for x := range nw {
			x0, x1 := b.Min.X+x*w/nw, b.Min.X+max((x+1)*w/nw, x*w/nw+1)
			stepX, stepY := max(1, (x1-x0)/4), max(1, (y1-y0)/4) // up to 16 of them are enough
			var r, g, bl, n uint64
			for yy := y0; yy < y1; yy += stepY {
				for xx := x0; xx < x1; xx += stepX {
					cr, cg, cb, ca := img.At(xx, yy).RGBA()
					white := uint64(0xffff - ca) // what is clear is white paper
					r, g, bl, n = r+uint64(cr)+white, g+uint64(cg)+white, bl+uint64(cb)+white, n+1
				}
			}
			tx, ty := x, y
			switch turn {
			case 2:
				tx = nw - 1 - x
			case 3:
				tx, ty = nw-1-x, nh-1-y
			case 4:
				ty = nh - 1 - y
			case 5:
				tx, ty = y, x
			case 6:
				tx, ty = nh-1-y, x
			case 7:
				tx, ty = nh-1-y, nw-1-x
			case 8:
				tx, ty = y, nw-1-x
			}
			at := out.PixOffset(tx, ty)
			out.Pix[at], out.Pix[at+1], out.Pix[at+2], out.Pix[at+3] = uint8(r/n>>8), uint8(g/n>>8), uint8(bl/n>>8), 255
		}
	}
	return out
}

// orientation reads how the camera was held, 1 to 8 (tag 0x0112 of Exif); 1 where it does not say.
func orientation(data []byte) int {
	at := bytes.Index(data[:min(len(data), 1<<16)], []byte("Exif\x00\x00"))
	if at < 0 {
		return 1
	}
	t := data[at+6:]
	if len(t) < 14 {
		return 1
	}
	little := t[0] == 'I'
	num := func(at, n int) int {
		v := 0
		if at < 0 || at+n > len(t) {
			return 0
		}
		for k := range n {
			if little {
				v |= int(t[at+k]) << (8 * k)
			} else {
				v = v<<8 | int(t[at+k])
			}
		}
		return v
	}
	dir := num(4, 4)
	for k := range min(num(dir, 2), 200) {
		if entry := dir + 2 + 12*k; num(entry, 2) == 0x0112 {
			if v := num(entry+8, 2); v >= 1 && v <= 8 {
				return v
			}
		}
	}
	return 1
}
