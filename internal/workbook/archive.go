package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"path"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// tooLarge refuses a file by its size. A byte more than the limit must not be told as the limit itself.
func tooLarge(n int) error {
	mb := float64(n) / (1 << 20)
	text := words.FileMegabytes.Say(fmt.Sprintf("%.1f", mb))
	if mb < float64(MaxFile>>20)+0.05 {
		text = words.FileBytesMore.Say(n, n-MaxFile, MaxFile>>20)
	}
	return errors.New(words.FileTooLarge.Say(text, MaxFile>>20))
}

// kinds of file that are recognised by their first bytes and refused.
func refuseByContent(data []byte) error {
	head := data[:min(len(data), 4096)]
	switch {
	case len(data) == 0:
		return errors.New(words.FileEmpty.String())
	case len(data) > MaxFile:
		return tooLarge(len(data))
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		if utf16Contains(data[:min(len(data), 1<<20)], "EncryptedPackage") {
			return errors.New(words.FilePassword.String())
		}
		return errors.New(words.FileOld.String())
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return nil
	case bytes.HasPrefix(head, []byte("PK")):
		return errors.New(words.FileEmptyArchive.String())
	}
	text := strings.ToLower(strings.TrimLeft(strings.TrimPrefix(string(head), "\xef\xbb\xbf"), " \t\r\n"))
	switch {
	case strings.HasPrefix(text, "<!doctype html"), strings.HasPrefix(text, "<html"), strings.Contains(text, "<table"):
		return errors.New(words.FileWebPage.String())
	case strings.HasPrefix(text, "<?xml"):
		return errors.New(words.FileXmlText.String())
	case strings.HasPrefix(text, "%pdf"):
		return errors.New(words.FilePdf.String())
	}
	return errors.New(words.FileNoWorkbook.String())
}

func utf16Contains(data []byte, word string) bool {
	w := make([]byte, 0, 2*len(word))
	for i := 0; i < len(word); i++ {
		w = append(w, word[i], 0)
	}
	return bytes.Contains(data, w)
}

// An archive is a workbook file whose parts have all been inflated once and found whole.
type archive struct {
	files map[string]*zip.File // by part name, in lower case
	order []*zip.File
	kept  map[string][]byte // parts that will be wanted again, as far as there is room
	room  uint64            // for more of them
	data  []byte
	by    *Reader
}

// room for parts kept from the check, so that those of ordinary files are inflated once.
const keptBytes = 72 << 20

// openArchive checks the file's directory and every part but the worksheets: each is inflated against its size and its checksum. check does the rest.
func (by *Reader) openArchive(data []byte) (*archive, error) {
	if err := refuseByContent(data); err != nil {
		return nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errors.New(words.FileCutShort.String())
	}
	if len(z.File) > MaxParts {
		return nil, errors.New(words.FileManyParts.Say(len(z.File), MaxParts))
	}
	a := &archive{files: make(map[string]*zip.File, len(z.File)), order: z.File, data: data, by: by}
	var total uint64
	for _, f := range z.File {
		name := partName(f.Name)
		if strings.HasSuffix(name, "/") {
			continue
		}
		if strings.Contains(name, "..") || len(name) > 255 {
			return nil, errors.New(words.FileImproperName.Say(fmt.Sprintf("%.80q", f.Name)))
		}
		if a.files[name] != nil {
			return nil, errors.New(words.FilePartTwice.Say(f.Name))
		}
		if f.Flags&1 != 0 {
			return nil, errors.New(words.FilePartEncrypted.Say(f.Name))
		}
		if f.UncompressedSize64 > MaxPart {
			return nil, errors.New(words.FilePartLarge.Say(f.Name, int(f.UncompressedSize64>>20), MaxPart>>20))
		}
		if total += f.UncompressedSize64; total > MaxUnzipped {
			return nil, errors.New(words.FileUnpacksLarge.Say(MaxUnzipped >> 20))
		}
		if !localAgrees(data, f) {
			return nil, errors.New(words.FileDirectoryOther.Say(fmt.Sprintf("%.80q", f.Name)))
		}
		a.files[name] = f
	}
	if a.files["mimetype"] != nil && a.files["content.xml"] != nil {
		return nil, errors.New(words.FileOpenDocument.String())
	}
	if a.files["[content_types].xml"] == nil {
		return nil, errors.New(words.FileNoContentTypes.String())
	}
	by.total, by.done = float64(total)*(1+scanCost), 0
	a.kept, a.room = map[string][]byte{}, keptBytes
	return a, a.drainAll(func(name string) bool { return !strings.Contains(name, "/worksheets/") }, nil)
}

// localAgrees says whether the header before a part's bytes names the part and its packing as the directory at the file's end does. Programs go by the
// one or the other; where they differ a part would be missing in silence, as the formats are when a byte of the name of styles.xml is wrong.
func localAgrees(data []byte, f *zip.File) bool {
	off, err := f.DataOffset()
	if err != nil || off < 30 || off > int64(len(data)) {
		return false
	}
	// Where the header begins is known by its lengths alone, since what stands between name and bytes varies.
	for h := int(off) - 30 - len(f.Name); h >= 0 && int(off)-h < 30+2<<16; h-- {
		b := data[h:off]
		if !bytes.HasPrefix(b, []byte("PK\x03\x04")) {
			continue
		}
		name, extra := int(binary.LittleEndian.Uint16(b[26:])), int(binary.LittleEndian.Uint16(b[28:]))
		if 30+name+extra != len(b) {
			continue
		}
		flags := binary.LittleEndian.Uint16(b[6:])
		same := string(b[30:30+name]) == f.Name && binary.LittleEndian.Uint16(b[8:]) == f.Method && (flags^f.Flags)&1 == 0
		if flags&8 == 0 && same { // else sum and sizes stand behind the bytes
			same = binary.LittleEndian.Uint32(b[14:]) == f.CRC32
		}
		return same
	}
	return false
}

// check inflates the worksheets, too. Of those that are only checked, nothing is kept.
func (a *archive) check(only map[string]bool) error {
	return a.drainAll(func(name string) bool { return strings.Contains(name, "/worksheets/") }, only)
}

func (a *archive) drainAll(wanted func(name string) bool, only map[string]bool) error {
	buf := make([]byte, 64<<10)
	for _, f := range a.order {
		name := partName(f.Name)
		if a.files[name] == nil || !wanted(name) {
			continue
		}
		var dst []byte
		if (strings.HasSuffix(name, ".xml") || strings.HasSuffix(name, ".rels")) && !only[name] && f.UncompressedSize64 < a.room {
			a.room -= f.UncompressedSize64
			dst = make([]byte, 0, int(f.UncompressedSize64)+1)
		}
		dst, err := a.drain(f, buf, dst)
		if err != nil {
			return err
		}
		if dst != nil {
			a.kept[name] = dst
		}
		a.by.worked(float64(f.UncompressedSize64))
	}
	return nil
}

// drain inflates a part in full, to dst if it is not nil, and checks size and checksum.
func (a *archive) drain(f *zip.File, buf []byte, dst []byte) ([]byte, error) {
	damaged := func(what string) error {
		return errors.New(words.FilePartDamaged.Say(f.Name, what))
	}
	if a.by.Inflate != nil && f.Method == zip.Deflate && f.UncompressedSize64 >= 1<<16 && f.UncompressedSize64 <= MaxPart {
		// What it refuses is looked at again here, for the reason.
		if off, err := f.DataOffset(); err == nil && off >= 0 && f.CompressedSize64 <= uint64(len(a.data)) && uint64(off) <= uint64(len(a.data))-f.CompressedSize64 {
			out := dst
			if dst != nil {
				out = dst[:f.UncompressedSize64] // callers make room for all of it
			}
			if a.by.Inflate(a.data[off:off+int64(f.CompressedSize64)], int(f.UncompressedSize64), f.CRC32, out) == nil {
				return out, nil
			}
		}
	}
	r, err := f.Open()
	if err != nil {
		if errors.Is(err, zip.ErrAlgorithm) {
			return nil, errors.New(words.FilePartPacking.Say(f.Name))
		}
		return nil, damaged(words.FileDamagedBeginning.String())
	}
	defer r.Close()
	sum := crc32.NewIEEE()
	var n uint64
	for {
		k, err := r.Read(buf)
		if n += uint64(k); n > f.UncompressedSize64 || n > MaxPart {
			return nil, damaged(words.FileDamagedLonger.String())
		}
		sum.Write(buf[:k])
		if dst != nil {
			dst = append(dst, buf[:k]...)
		}
		if err == io.EOF {
			break
		}
		if errors.Is(err, zip.ErrChecksum) {
			return nil, damaged(words.FileDamagedChecksum.String())
		}
		if err != nil {
			return nil, damaged(words.FileDamagedUnpack.String())
		}
	}
	if n != f.UncompressedSize64 {
		return nil, damaged(words.FileDamagedShorter.String())
	}
	// archive/zip lets a checksum of zero pass.
	if sum.Sum32() != f.CRC32 {
		return nil, damaged(words.FileDamagedChecksum.String())
	}
	return dst, nil
}

// part returns a part's bytes; nil if there is none of that name.
func (a *archive) part(name string) ([]byte, error) {
	f := a.files[partName(name)]
	if f == nil {
		return nil, nil
	}
	if b, ok := a.kept[partName(name)]; ok {
		return b, nil
	}
	return a.drain(f, make([]byte, 64<<10), make([]byte, 0, int(f.UncompressedSize64)+1))
}

func partName(s string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(s, "\\", "/"), "/"))
}

// A workbookPart is what workbook.xml says.
type workbookPart struct {
	path   string // its own part
	sheets []sheetRef
	d1904  bool
	names  map[string]string // defined names of the whole workbook
	macros bool
}

type sheetRef struct {
	name   string
	part   string // "" not a worksheet
	hidden bool
}

type relationship struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
	Mode   string `xml:"TargetMode,attr"`
}

func decodeXML(part string, data []byte, v any) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(v); err != nil {
		return errors.New(words.FilePartNotUnderstood.Say(part, err))
	}
	return nil
}

func (a *archive) rels(of string) ([]relationship, error) {
	name := path.Join(path.Dir(of), "_rels", path.Base(of)+".rels")
	if of == "" {
		name = "_rels/.rels"
	}
	data, err := a.part(name)
	if err != nil || data == nil {
		return nil, err
	}
	var x struct {
		List []relationship `xml:"Relationship"`
	}
	if err := decodeXML(name, data, &x); err != nil {
		return nil, err
	}
	for i := range x.List {
		t := x.List[i].Target
		if strings.HasPrefix(t, "/") {
			t = strings.TrimPrefix(t, "/")
		} else {
			t = path.Join(path.Dir(of), t)
		}
		x.List[i].Target = t
	}
	return x.List, nil
}

// workbook reads workbook.xml and where its sheets are.
func (a *archive) workbook() (*workbookPart, error) {
	w := &workbookPart{path: "xl/workbook.xml", names: map[string]string{}}
	top, err := a.rels("")
	if err != nil {
		return nil, err
	}
	for _, r := range top {
		if strings.HasSuffix(r.Type, "/officeDocument") {
			w.path = r.Target
		}
	}
	data, err := a.part(w.path)
	if err != nil {
		return nil, err
	}
	if data == nil {
		return nil, errors.New(words.FileArchiveLacks.Say(w.path))
	}
	var x struct {
		XMLName xml.Name
		Pr      struct {
			D1904 string `xml:"date1904,attr"`
		} `xml:"workbookPr"`
		Sheets []struct {
			Name  string     `xml:"name,attr"`
			State string     `xml:"state,attr"`
			Attrs []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
		Names []struct {
			Name  string `xml:"name,attr"`
			Local string `xml:"localSheetId,attr"`
			Text  string `xml:",chardata"`
		} `xml:"definedNames>definedName"`
	}
	if err := decodeXML(w.path, data, &x); err != nil {
		return nil, err
	}
	if x.XMLName.Local != "workbook" {
		return nil, errors.New(words.FileArchiveHolds.Say(w.path, strconv.Quote(x.XMLName.Local)))
	}
	rels, err := a.rels(w.path)
	if err != nil {
		return nil, err
	}
	byID := map[string]relationship{}
	for _, r := range rels {
		byID[r.ID] = r
		w.macros = w.macros || strings.HasSuffix(r.Type, "/vbaProject")
	}
	if len(x.Sheets) == 0 {
		return nil, errors.New(words.FileNoSheets.String())
	}
	if len(x.Sheets) > MaxSheets {
		return nil, errors.New(words.FileManySheets.Say(len(x.Sheets), MaxSheets))
	}
	w.d1904 = x.Pr.D1904 == "1" || x.Pr.D1904 == "true"
	for _, s := range x.Sheets {
		ref := sheetRef{name: s.Name, hidden: s.State == "hidden" || s.State == "veryHidden"}
		for _, at := range s.Attrs {
			if r, ok := byID[at.Value]; ok && at.Name.Local == "id" {
				if strings.HasSuffix(r.Type, "/worksheet") {
					ref.part = r.Target
				} else if strings.HasSuffix(r.Type, "/chartsheet") || strings.HasSuffix(r.Type, "/dialogsheet") || strings.HasSuffix(r.Type, "/xlMacrosheet") {
					ref.part = "-"
				}
			}
		}
		switch {
		case ref.part == "-":
			ref.part = ""
		case ref.part == "" || a.files[partName(ref.part)] == nil:
			return nil, errors.New(words.FileSheetMissing.Say(strconv.Quote(s.Name)))
		}
		w.sheets = append(w.sheets, ref)
	}
	for _, n := range x.Names {
		if n.Local == "" {
			w.names[n.Name] = strings.TrimSpace(n.Text)
		}
	}
	return w, nil
}

// related is the target of the workbook's relationship of a type, "" none.
func (a *archive) related(w *workbookPart, kind string) (string, error) {
	rels, err := a.rels(w.path)
	for _, r := range rels {
		if strings.HasSuffix(r.Type, "/"+kind) {
			return r.Target, err
		}
	}
	return "", err
}

// identifier is dc:identifier of the document's properties, where our own exports keep what no sheet shows.
func (a *archive) identifier() string {
	data, err := a.part("docProps/core.xml")
	if err != nil || data == nil {
		return ""
	}
	var x struct {
		ID string `xml:"identifier"`
	}
	if decodeXML("docProps/core.xml", data, &x) != nil {
		return ""
	}
	return x.ID
}
