package workbook

import (
	"bytes"
	"errors"
	"path"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"

	"github.com/xuri/excelize/v2"
)

// AddTo puts the results into the workbook the job was read from, as new sheets behind its own: Results, Pick list, Order list, Limits used, Method,
// each with "(Shimsheet)" behind its name. Those of an earlier AddTo are replaced. With Options.Live the formulas point to the sheet the machines
// stand on, which must hold the job's rows as they are; otherwise a Machines sheet is added for them.
//
// The sheets that were there, their texts, charts, pictures and macros are the same bytes as before. What is written anew is what lists the sheets and
// their looks: the workbook part, its relations, the content types and the styles. What is not kept, then:
//
//   - what excelize does not know in the styles and in the workbook part (extensions of later versions, such as styles of slicers),
//   - a digital signature: a signed workbook is refused, since what is added would break it,
//   - a password: protected files are not read.
func AddTo(original []byte, j *job.Job, ev *sentences.Teller, opts Options) (out []byte, err error) {
	defer guard(&err)
	a, err := opts.reader().openArchive(original)
	if err != nil {
		return nil, err
	}
	wb, err := a.workbook()
	if err != nil {
		return nil, err
	}
	if err := a.check(nil); err != nil {
		return nil, err
	}
	for name := range a.files {
		if strings.HasPrefix(name, "_xmlsignatures/") {
			return nil, errors.New(words.FileSigned.String())
		}
	}
	switch styles, err := a.related(wb, "styles"); {
	case err != nil || a.files[partName(styles)] == nil:
		return nil, errors.New(words.FileNoStyles.String())
	case a.files[partName(styles)].Name != "xl/styles.xml":
		return nil, errors.New(words.FileOtherStyles.Say(styles))
	case wb.path != "xl/workbook.xml":
		return nil, errors.New(words.FileOtherSheets.Say(wb.path))
	}
	f, err := excelize.OpenReader(bytes.NewReader(original), excelize.Options{UnzipSizeLimit: MaxUnzipped, UnzipXMLSizeLimit: MaxUnzipped})
	if err != nil {
		return nil, errors.New(words.FileNotOpened.Say(err))
	}
	defer f.Close()

	// What an earlier AddTo left.
	for n, to := range wb.names {
		if !strings.HasPrefix(n, nameOut) {
			continue
		}
		if s, _, ok := splitRange(to); ok && strings.HasSuffix(s, suffix) {
			if err := f.DeleteSheet(s); err != nil {
				return nil, err
			}
			_ = f.DeleteDefinedName(&excelize.DefinedName{Name: n}) // gone with the sheet already, if excelize saw to it
		}
	}
	for _, d := range f.GetDefinedName() {
		if strings.HasPrefix(d.Name, addedPrefix) || strings.HasPrefix(d.Name, nameOut+addedPrefix) {
			if s, _, ok := splitRange(d.RefersTo); !ok || strings.HasSuffix(s, suffix) || s == "" || strings.HasPrefix(s, "#REF") {
				_ = f.DeleteDefinedName(&excelize.DefinedName{Name: d.Name})
			}
		}
	}
	for _, name := range []string{"Results", "Pick list", "Order list", "Moves", "Limits used", "Method"} {
		if err := clash(f, name+suffix); err != nil {
			return nil, err
		}
	}
	restore, err := freshParts(f, a)
	if err != nil {
		return nil, err
	}
	w := &writer{book: newBook(f), job: j, ev: ev, opts: &opts, prefix: addedPrefix}
	w.progress, w.deflate = opts.progress, opts.Deflate
	if opts.Live {
		if w.machines = w.theirMachines(original, j.Machines.File); w.machines == nil {
			if err := clash(f, "Machines"+suffix); err != nil {
				return nil, err
			}
			w.table(job.MachinesSheet, "Machines"+suffix)
		}
	}
	w.results("Results" + suffix)
	restore()
	opts.progress(0.6)
	w.outputs(suffix)
	own := map[string]bool{}
	for _, s := range wb.sheets {
		if s.part != "" && !strings.HasSuffix(s.name, suffix) {
			own[partName(s.part)] = true
		}
	}
	out, err = w.bytes(func(part string) []byte {
		name := partName(part)
		if a.files[name] == nil || rewritten(name, wb.path) || strings.HasPrefix(name, "xl/worksheets/sheet") && !own[name] {
			return nil
		}
		old, err := a.part(part)
		if err != nil {
			return nil
		}
		return old
	})
	opts.progress(1)
	return out, err
}

// clash refuses to add a sheet under a name that is taken, in whatever case.
func clash(f *excelize.File, name string) error {
	for _, have := range f.GetSheetList() {
		if strings.EqualFold(have, name) {
			return errors.New(words.FileNotOurs.Say(strconv.Quote(have)))
		}
	}
	return nil
}

// What sheets and names of ours are called in somebody else's workbook.
const (
	suffix      = " (Shimsheet)"
	addedPrefix = "Shimsheet_add_"
)

// rewritten says which parts of somebody's workbook must change for new sheets.
func rewritten(name, workbook string) bool {
	dir := path.Dir(partName(workbook))
	return name == "[content_types].xml" || name == partName(workbook) || name == dir+"/_rels/"+path.Base(partName(workbook))+".rels" ||
		name == dir+"/styles.xml"
}

// freshParts sees to it that new sheets get parts of their own. Excelize names a part by the next sheet id, which may be the part of another sheet
// in files of other programs; the last sheet's id is raised until the first new one is there. The ids after that go on from it.
func freshParts(f *excelize.File, a *archive) (restore func(), err error) {
	top := 0
	for name := range a.files {
		if n, ok := strings.CutPrefix(name, "xl/worksheets/sheet"); ok {
			if k, err := strconv.Atoi(strings.TrimSuffix(n, ".xml")); err == nil {
				top = max(top, k)
			}
		}
	}
	last := len(f.WorkBook.Sheets.Sheet) - 1
	if last < 0 || top >= 60000 {
		return nil, errors.New(words.FileNoNumberLeft.String())
	}
	old := f.WorkBook.Sheets.Sheet[last].SheetID
	f.WorkBook.Sheets.Sheet[last].SheetID = max(top, old)
	return func() { f.WorkBook.Sheets.Sheet[last].SheetID = old }, nil
}

// theirMachines finds the sheet of the original that holds the job's machines as they are; nil if none does.
func (w *writer) theirMachines(original []byte, name string) *inputSheet {
	l, err := w.opts.reader().open(original, name, nil)
	if err != nil {
		return nil
	}
	for i := range l.sheets {
		s := &l.sheets[i]
		if s.t == nil || job.SheetKind(s.kind) != job.MachinesSheet {
			continue
		}
		mine := w.job.Machines
		if l.mark != w.ev.Decimal() || !sameRow(s.t.Header, mine.Header) || len(s.t.Rows) != len(mine.Rows) {
			return nil
		}
		raw := func(row int) []string { // as it stands in their sheet, before the list was brought into its plain form
			if row < 0 || row >= len(s.g.rows) {
				return nil
			}
			return s.g.rows[row]
		}
		for r := range mine.Rows {
			if !sameRow(s.t.Rows[r], mine.Rows[r]) || !sameRow(raw(s.t.SourceRow(r)-1), mine.Rows[r]) {
				return nil
			}
		}
		if !sameRow(raw(s.t.SourceRow(0)-2), mine.Header) {
			return nil
		}
		in := &inputSheet{p: &page{b: w.book, name: s.ref.name}, t: mine, first: s.t.SourceRow(0), texts: map[spot]bool{}, units: map[spot]bool{}, odd: map[spot]bool{}}
		in.cols = w.columns(mine, job.MachinesSheet)
		for _, x := range []struct {
			to   map[spot]bool
			list []spot
		}{{in.texts, s.g.asText}, {in.texts, s.g.percents}, {in.texts, s.g.scaled}, {in.odd, s.g.scaled}, {in.texts, s.g.dates}, {in.odd, s.g.percents}, {in.odd, s.g.dates}, {in.odd, s.g.noValue}, {in.odd, s.g.errors}, {in.units, s.units}} {
			for _, at := range x.list {
				x.to[at] = true
			}
		}
		return in
	}
	return nil
}

func sameRow(a, b []string) bool {
	for i := range max(len(a), len(b)) {
		x, y := "", ""
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			return false
		}
	}
	return true
}
