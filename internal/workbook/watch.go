package workbook

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// What the column State watches. The verdict, its chance and the packs are values; they belong to the inputs they were computed from. So a State holds
// every input of its row against what it was, and besides one cell that does so for what all rows share: the header with its units and the
// other sheets. Names and notes are left out, since nothing hangs on them.

// A condition holds while an input is what it was.
type condition = string

// quoted is a text in a formula. Line ends have no place there.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// isText holds a cell against a text, in pieces of at most 250 signs, which a formula can hold.
func isText(ref, s string) []condition {
	runes := []rune(s)
	plain := strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r == 0xfffe || r == 0xffff || r > 0xffff }) < 0
	switch {
	case !plain || len(runes) > 1000: // programs do not agree on such signs; some text is still there
		return []condition{"LEN(" + ref + ")>0"}
	case len(runes) <= 250:
		return []condition{"EXACT(" + ref + "," + quoted(s) + ")"}
	}
	out := []condition{"LEN(" + ref + ")=" + strconv.Itoa(len(runes))}
	for i := 0; i < len(runes); i += 250 {
		piece := string(runes[i:min(i+250, len(runes))])
		out = append(out, "EXACT(MID("+ref+","+strconv.Itoa(i+1)+",250),"+quoted(piece)+")")
	}
	return out
}

// isNumber holds a cell against a number; an empty one would be equal to zero.
func isNumber(ref string, x float64) condition {
	if x == 0 {
		return ref + `&""="0"`
	}
	return ref + "=" + constant(x).s
}

// watchCell holds a cell of a table, where it stands in the workbook, against its text in the job; nil if that cannot be told.
func (in *inputSheet) watchCell(w *writer, row, col int, number bool) []condition {
	s := in.t.Cell(row, col)
	at := spot{in.first + row - 1, col}
	ref := quoteRef(in.p.name) + "!" + cellName(col, in.first+row)
	mark := w.ev.Decimal()
	if in.units[at] { // a number whose format shows the unit
		s, _, _ = strings.Cut(s, " ")
		if x, _, ok := asNumber(s, mark); ok {
			return []condition{isNumber(ref, x)}
		}
		return nil
	}
	if in.odd[at] {
		return nil
	}
	if x, _, ok := asNumber(s, mark); ok && number && !in.texts[at] {
		return []condition{isNumber(ref, x)}
	}
	return isText(ref, s)
}

// watchRow holds the inputs of a row of the Machines sheet against what they were.
func (l *live) watchRow(row int) []condition {
	var out []condition
	n := strconv.Itoa(l.in.first + row)
	from := -1
	empty := func(to int) { // the columns from … to-1 are to stay empty
		if from >= 0 {
			out = append(out, "SUMPRODUCT(LEN("+quoteRef(l.in.p.name)+"!"+columnName(from)+n+":"+columnName(to-1)+n+"))=0")
		}
		from = -1
	}
	for c := range l.in.cols {
		info := l.in.cols[c].info
		switch {
		case info == nil || info.Result || idle[info.Key]:
			empty(c)
		case strings.TrimSpace(l.in.t.Cell(row, c)) == "":
			if from < 0 {
				from = c
			}
		default:
			empty(c)
			out = append(out, l.in.watchCell(l.w, row, c, l.in.cols[c].number)...)
		}
	}
	empty(len(l.in.cols))
	return out
}

// idle are the columns of the Machines sheet that no number hangs on.
var idle = map[string]bool{"machine": true, "train": true, "stationary": true, "side_3": true, "side_9": true, "note": true}

// shared are the conditions on what all rows hang on: the names and units in the header of the Machines sheet, and the other sheets of the job where
// they stand in this workbook.
func (l *live) shared() []condition {
	var out []condition
	for c, h := range l.in.t.Header {
		if info := l.in.cols[c].info; info != nil && !info.Result && !idle[info.Key] {
			out = append(out, isText(quoteRef(l.in.p.name)+"!"+cellName(c, l.in.first-1), h)...)
		}
	}
	if l.w.prefix != "" { // somebody's own workbook: where the other sheets stand is not known here
		return out
	}
	for _, kind := range job.SheetKinds() {
		t := l.w.job.Table(kind)
		if t == nil || kind == job.MachinesSheet {
			continue
		}
		in := &inputSheet{p: &page{name: kind.String()}, t: t, cols: l.w.columns(t, kind), first: len(t.Title) + 1}
		if t.Header != nil {
			in.first++
		}
		out = append(out, l.watchTable(in, kind)...)
	}
	return out
}

// watchTable holds a whole sheet against what it was: cell by cell if it is small, else by counts and sums.
func (l *live) watchTable(in *inputSheet, kind job.SheetKind) []condition {
	var out []condition
	if len(in.t.Rows)*len(in.cols) > 2500 {
		r := quoteRef(in.p.name) + "!" + cellName(0, in.first) + ":" + cellName(max(len(in.cols)-1, 0), in.first+len(in.t.Rows)+20)
		filled, sum, all := 0, 0.0, 0.0
		for row := range in.t.Rows {
			for c := range in.cols {
				s := in.t.Cell(row, c)
				if s != "" {
					filled++
				}
				if x, _, ok := asNumber(s, l.w.ev.Decimal()); ok && in.cols[c].number {
					sum, all = sum+x, all+math.Abs(x)
				}
			}
		}
		return []condition{"SUMPRODUCT(--(LEN(" + r + ")>0))=" + strconv.Itoa(filled), "ABS(SUM(" + r + ")-" + constant(sum).s + ")<=" + constant(1e-9*all+1e-12).s}
	}
	for row := range in.t.Rows {
		for c := range in.cols {
			if in.t.Cell(row, c) == "" {
				continue
			}
			number := in.cols[c].number
			if kind == job.SettingsSheet && number {
				info := job.FindColumn(kind, in.t.Cell(row, 0))
				number = info != nil && numeric(info.Quantity)
			}
			out = append(out, in.watchCell(l.w, row, c, number)...)
		}
	}
	return append(out, "SUMPRODUCT(LEN("+quoteRef(in.p.name)+"!"+cellName(0, in.first+len(in.t.Rows))+":"+cellName(max(len(in.cols)-1, 1), in.first+len(in.t.Rows)+20)+"))=0") // nothing added below
}

// all joins conditions into one formula; many are more than a formula may be, and are parted into several.
func all(conds []condition) (formulas []string) {
	for len(conds) > 0 {
		n, size := 0, 0
		for n < len(conds) && n < 200 && size+len(conds[n]) < 6000 {
			size += len(conds[n]) + 1
			n++
		}
		formulas = append(formulas, "AND("+strings.Join(conds[:n], ",")+")")
		conds = conds[n:]
	}
	return formulas
}

// putShared writes the cell that watches what all rows share: its parts stand to the right of it, in row n. It returns the cell.
func (l *live) putShared(p *page, n, col, textStyle int) string {
	parts := all(l.shared())
	if len(parts) == 0 {
		return ""
	}
	as := words.FormulasOtherAs.String()
	var refs []string
	for i := range parts {
		refs = append(refs, "$"+columnName(col+1+i)+"$"+strconv.Itoa(n)+`="same"`)
	}
	p.formulaText(col, textStyle, `IF(AND(`+strings.Join(refs, ",")+`),`+quoted(as)+`,`+quoted(words.FormulasOtherChanged.String())+`)`, as)
	for i, f := range parts {
		p.formulaText(col+1+i, textStyle, `IF(`+f+`,"same","changed")`, "same")
	}
	return "AND(" + strings.Join(refs, ",") + ")"
}

// state is the formula of a row's State and the text it gives now: what the row is, as long as its inputs are what they were.
func (l *live) state(row int, text string, guards []condition) expr {
	conds := append(l.watchRow(row), guards...)
	if l.sharedRef != "" {
		conds = append(conds, l.sharedRef)
	}
	text = clip(text, 250) // a text in a formula holds 255 signs
	f := "IF(AND(" + strings.Join(all(conds), ",") + ")," + quoted(text) + "," + quoted(words.FormulasChanged.String()) + ")"
	if len(conds) == 0 || len(f) > 8000 {
		return expr{text: words.FormulasNotWatched.Say(clip(text, 200))}
	}
	return expr{s: f, text: text}
}
