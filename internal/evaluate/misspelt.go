package evaluate

import (
	"shimsheet/internal/job"
	"shimsheet/internal/words"
	"slices"
	"strings"
)

// findMisspelt tells columns that stay unread although their header is nearly a known one, as Moveable sag at 6 is: what stands in them was meant to
// count. A known column that the sheet has already is not what was meant.
func (e *Evaluator) findMisspelt() {
	for k := range job.NumSheets {
		t := e.job.Table(k)
		for _, m := range Misspelt(k, t) {
			e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(k), Row: max(t.SourceRow(0)-1, 0),
				Text: words.ProblemMisspelt.With(job.Quote(t.Header[m.Col]), m.Near.Info().Name), Hint: words.HintMisspelt.With(), Col: m.Col})
		}
	}
}

// A Slip is a column that is not read and whose header is nearly the name of one that would be.
type Slip struct {
	Col  int
	Near job.ColumnID
}

// Misspelt finds the columns of a sheet that hold something and whose header is a slip or two away from the name of a column that the sheet lacks. The Job sheet has none: it names
// what it does not know.
func Misspelt(kind job.SheetKind, t *job.Table) (list []Slip) {
	if t == nil || kind == job.SettingsSheet || t.Header == nil {
		return nil
	}
	var have [job.NumColumns]bool
	var strange []int
	for col, h := range t.Header {
		if job.Blank(h) {
			continue
		}
		if c, _, _ := job.MatchHeader(kind, h); c != job.NoColumn {
			have[c] = true
		} else {
			strange = append(strange, col)
		}
	}
	for _, col := range strange {
		c := nearColumn(kind, t.Header[col])
		if c != job.NoColumn && !have[c] && !c.Info().Result && slices.ContainsFunc(t.Rows, func(r []string) bool { return col < len(r) && !job.Blank(r[col]) }) {
			list = append(list, Slip{col, c})
		}
	}
	return list
}

// nearColumn is the one column of a sheet whose spelling is a slip or two away from a header's: a letter wrong, missing, too many or exchanged with its
// neighbour, and one slip more in a long name. Digits must be the same: rim 3 is not rim 6. none: there is none, or more than one is as near.
func nearColumn(kind job.SheetKind, header string) job.ColumnID {
	if len(header) > job.MaxHeader {
		return job.NoColumn
	}
	if i := strings.LastIndexAny(header, "[("); i > 0 {
		header = header[:i]
	}
	said := strings.FieldsFunc(header, func(r rune) bool { return r == ' ' || r == '_' || r == '-' })
	said = slices.DeleteFunc(said, func(w string) bool {
		w = job.NormalForm(w)
		return w == "at" || w == "the" || w == "of" || w == "oclock"
	})
	best, found := 3, job.NoColumn
	for _, name := range []string{job.NormalForm(header), job.NormalForm(strings.Join(said, " "))} {
		most := 1
		switch {
		case len(name) < 5:
			continue
		case len(name) >= 9:
			most = 2
		}
		for s, c := range job.SpellingsOf(kind) {
			if n := len(said); n > 1 && len(said[n-1]) == 1 && !strings.HasSuffix(s, job.NormalForm(said[n-1])) {
				continue // Front feet V is not Front feet with a letter too many: a word that stands alone was meant
			}
			if d := slips(name, s, most); d <= most && (d < best || d == best && c != found) {
				if d == best {
					c = job.NoColumn
				}
				best, found = d, c
			}
		}
	}
	return found
}

// slips counts the slips between two spellings, most+1 if there are more than most or their digits differ.
func slips(a, b string, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most || digitsOf(a) != digitsOf(b) {
		return most + 1
	}
	x, y := []rune(a), []rune(b)
	row := make([][]int, len(x)+1)
	for i := range row {
		row[i] = make([]int, len(y)+1)
		row[i][0] = i
	}
	for j := range y {
		row[0][j+1] = j + 1
	}
	for i := range x {
		for j := range y {
			d := row[i][j]
			if x[i] != y[j] {
				d++
			}
			d = min(d, row[i][j+1]+1, row[i+1][j]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				d = min(d, row[i-1][j-1]+1)
			}
			row[i+1][j+1] = d
		}
	}
	return min(row[len(x)][len(y)], most+1)
}

func digitsOf(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}
