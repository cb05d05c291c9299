// Package pictures reads what a cell may hold of pictures: a photo or a logo as a data URI of a JPEG or PNG, and a signature as strokes of a pen. It looks at how a picture is
// put together, from its first byte to its last, and decodes none, so that every program can hold a cell against its limits. Start with [Look].
//
// What it leaves out on purpose: SVG, which may hold scripts, and every other format. What is no plain JPEG or PNG of a modest size is refused with a sentence.
package pictures

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"strconv"
	"strings"
)

// Limits of a picture in a cell. The text is the longest that a cell of a workbook takes.
const (
	MostText = 32767 // bytes of the data URI
	MostSide = 2048  // pixels
)

// An Info is what the first bytes of a picture say.
type Info struct {
	Format        string // jpeg, png
	Width, Height int
	Bytes         int
}

// String is the picture in a few words: JPEG, 640 × 480, 21.4 kB.
func (i Info) String() string {
	return fmt.Sprintf("%s, %d × %d, %.1f kB", strings.ToUpper(i.Format), i.Width, i.Height, float64(i.Bytes)/1000)
}

// URI is a picture as the text of a cell.
func URI(format string, data []byte) string {
	return "data:image/" + format + ";base64," + base64.StdEncoding.EncodeToString(data)
}

// Look reads the text of a cell that holds a picture. The error is a sentence for the person whose cell it is.
func Look(text string) (Info, error) {
	text = strings.TrimSpace(text)
	if len(text) > MostText {
		return Info{}, fmt.Errorf("the picture has %d characters; a cell takes %d", len(text), MostText)
	}
	format := ""
	for _, f := range [...]string{"jpeg", "png"} {
		if rest, ok := strings.CutPrefix(text, "data:image/"+f+";base64,"); ok {
			format, text = f, rest
		}
	}
	if format == "" {
		return Info{}, errors.New("it is no picture as this column holds it: a JPEG or a PNG as data:image/jpeg;base64,…")
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return Info{}, errors.New("the picture is damaged: its base64 cannot be read")
	}
	info, err := whole(data)
	if err != nil {
		return Info{}, err
	}
	if info.Format != format {
		return Info{}, fmt.Errorf("the picture says it is a %s and is a %s", strings.ToUpper(format), strings.ToUpper(info.Format))
	}
	if info.Width > MostSide || info.Height > MostSide {
		return Info{}, fmt.Errorf("the picture has %d × %d pixels; up to %d a side are shown", info.Width, info.Height, MostSide)
	}
	return info, nil
}

// Limits of a photo before it is scaled down.
const (
	MostPixels = 50_000_000
	MostBytes  = 40 << 20
)

// Photo looks at a photo, given as a data URI, before anything decodes it: a whole JPEG or PNG, whatever its URI or the name of its file says, that does not unpack to more than
// memory takes.
func Photo(uri string) (Info, error) {
	_, text, _ := strings.Cut(uri, ";base64,")
	if len(text) > MostBytes/3*4 {
		return Info{}, fmt.Errorf("the photo has over %d MB", MostBytes>>20)
	}
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return Info{}, errNoPicture
	}
	info, err := whole(data)
	if err != nil {
		return Info{}, err
	}
	if info.Width > 1<<16 || info.Height > 1<<16 || info.Width*info.Height > MostPixels {
		return Info{}, fmt.Errorf("the photo has %d × %d pixels; up to %d million are read", info.Width, info.Height, MostPixels/1_000_000)
	}
	return info, nil
}

var errNoPicture = errors.New("it is no JPEG and no PNG")
var errCut = errors.New("the picture is cut short")
var errDamaged = errors.New("the picture is damaged")

// whole is the head of a picture that is there to its end: of a PNG every chunk agrees with its checksum and the last is the one that ends a file; of a JPEG every segment has its
// length and the marker of the end is there. Browsers differ in what they make of a picture that is cut short: some show the part that is there.
func whole(data []byte) (Info, error) {
	info, err := Head(data)
	if err != nil {
		return Info{}, err
	}
	if info.Format == "png" {
		return info, wholePNG(data)
	}
	return info, wholeJPEG(data)
}

// wholePNG goes from chunk to chunk: length, kind, content, CRC-32 of kind and content.
func wholePNG(data []byte) error {
	pixels := false
	for at := len(pngBegin); ; {
		if len(data)-at < 12 {
			return errCut
		}
		n := uint64(binary.BigEndian.Uint32(data[at:]))
		if n > uint64(len(data)-at-12) {
			return errCut
		}
		end := at + 8 + int(n)
		if crc32.ChecksumIEEE(data[at+4:end]) != binary.BigEndian.Uint32(data[end:]) {
			return errDamaged
		}
		switch string(data[at+4 : at+8]) {
		case "IDAT":
			pixels = true
		case "IEND":
			if !pixels {
				return errDamaged
			}
			return nil
		}
		at = end + 4
	}
}

// wholeJPEG goes from marker to marker to the end of the picture, over what stands coded between a scan's head and the next marker.
func wholeJPEG(data []byte) error {
	scan := false
	for at := 2; ; {
		for at < len(data) && data[at] != 0xff {
			at++
		}
		for at < len(data) && data[at] == 0xff {
			at++
		}
		if at >= len(data) {
			return errCut
		}
		marker := data[at]
		at++
		switch {
		case marker == 0 || marker == 0x01 || marker >= 0xd0 && marker <= 0xd7:
			continue // a coded 0xff, or a marker without a length
		case marker == 0xd9 && !scan:
			return errDamaged
		case marker == 0xd9:
			return nil
		}
		if len(data)-at < 2 {
			return errCut
		}
		n := int(binary.BigEndian.Uint16(data[at:]))
		if n < 2 {
			return errDamaged
		}
		at += n
		scan = scan || marker == 0xda
	}
}

// pngBegin are the first bytes of every PNG.
const pngBegin = "\x89PNG\r\n\x1a\n"

// Head says what the first bytes of a JPEG or PNG file say of it. It holds against no limit of size.
func Head(data []byte) (Info, error) {
	switch {
	case strings.HasPrefix(string(data[:min(len(data), 8)]), pngBegin):
		if len(data) < 33 || string(data[12:16]) != "IHDR" {
			return Info{}, errCut
		}
		w, h := binary.BigEndian.Uint32(data[16:]), binary.BigEndian.Uint32(data[20:])
		if w == 0 || h == 0 || w > 1<<31-1 || h > 1<<31-1 {
			return Info{}, errNoPicture
		}
		return Info{"png", int(w), int(h), len(data)}, nil
	case len(data) >= 3 && data[0] == 0xff && data[1] == 0xd8 && data[2] == 0xff:
		return jpegHead(data)
	}
	return Info{}, errNoPicture
}

// jpegHead goes from marker to marker up to the frame header.
func jpegHead(data []byte) (Info, error) {
	for at := 2; ; {
		for at < len(data) && data[at] != 0xff {
			at++ // what some cameras leave between segments
		}
		for at < len(data) && data[at] == 0xff {
			at++
		}
		if at+9 > len(data) {
			return Info{}, errCut
		}
		marker := data[at]
		at++
		switch {
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd7:
			continue // no length follows
		case marker == 0xd9 || marker == 0xda:
			return Info{}, errCut
		}
		n := int(binary.BigEndian.Uint16(data[at:]))
		if n < 2 {
			return Info{}, errNoPicture
		}
		if marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc {
			h, w := int(binary.BigEndian.Uint16(data[at+3:])), int(binary.BigEndian.Uint16(data[at+5:]))
			if w == 0 || h == 0 {
				return Info{}, errNoPicture
			}
			return Info{"jpeg", w, h, len(data)}, nil
		}
		at += n
	}
}

// The size of the field a signature is drawn in.
const (
	StrokesWide = 400
	StrokesHigh = 120
)

// penned begins a signature that was drawn; what follows are strokes: points x,y with blanks between, strokes with semicolons between.
const penned = "pen:"

// Strokes reads a drawn signature; nil for one that was typed.
func Strokes(text string) ([][][2]int, error) {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), penned)
	if !ok {
		if strings.HasPrefix(strings.TrimSpace(text), "data:") {
			return nil, errors.New("a signature is a name, or strokes as this program draws them, and no picture")
		}
		return nil, nil
	}
	var list [][][2]int
	for _, s := range strings.Split(rest, ";") {
		var stroke [][2]int
		for _, p := range strings.Fields(s) {
			a, b, ok := strings.Cut(p, ",")
			x, err := strconv.Atoi(a)
			y, err2 := strconv.Atoi(b)
			if !ok || err != nil || err2 != nil || x < 0 || y < 0 || x > StrokesWide || y > StrokesHigh {
				return nil, fmt.Errorf("the signature holds %q, which is no point of its field", p)
			}
			stroke = append(stroke, [2]int{x, y})
		}
		if len(stroke) > 0 {
			list = append(list, stroke)
		}
	}
	return list, nil
}

// PenText is a drawn signature as the text of a cell, thinned until it fits into one.
func PenText(strokes [][][2]int) string {
	for step := 1; ; step *= 2 {
		var b strings.Builder
		b.WriteString(penned)
		for k, s := range strokes {
			if k > 0 {
				b.WriteByte(';')
			}
			for n, p := range s {
				if n%step == 0 || n == len(s)-1 {
					fmt.Fprintf(&b, " %d,%d", min(max(p[0], 0), StrokesWide), min(max(p[1], 0), StrokesHigh))
				}
			}
		}
		if b.Len() <= MostText || step > 1<<20 {
			return b.String()
		}
	}
}
