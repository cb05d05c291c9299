package job

import (
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// A Severity says what a problem does to its row.
type Severity uint8

// The severities.
const (
	Note    Severity = iota // how something was understood; nothing to do
	Warning                 // worth a look; the numbers stand
	Error                   // something the row asks for could not be given
)

// String is the severity as a word.
func (s Severity) String() string { return [...]string{"note", "warning", "error"}[s] }

// A Problem says where, what is wrong, and what would be right.
type Problem struct {
	Severity    Severity
	File, Sheet string
	Row         int          // 1-based in the source; 0: the whole sheet
	Column      string       // name of the column, "" none
	Text        words.Phrase // the cause
	Hint        words.Phrase // what would be right; nothing is said where there is nothing to say
	Col         int          // index of the cell's column in the table, -1 none
}

// String is the problem on one line: position, cause, hint.
//
//	list.csv: Machines row 12, Coupling to front feet: "12,5,0" is not a length (hint: write 12.5 mm, 12,5 mm or 1/2 in)
func (p *Problem) String() string {
	b := make([]byte, 0, 128)
	if p.File != "" {
		b = append(append(b, p.File...), ": "...)
	}
	b = append(b, p.Sheet...)
	if p.Row > 0 {
		b = append(b, words.ProblemRow.String()...)
		b = strconv.AppendInt(b, int64(p.Row), 10)
	}
	if p.Column != "" {
		b = append(append(b, ", "...), p.Column...)
	}
	if len(b) > 0 {
		b = append(b, ": "...)
	}
	if text := p.Text.String(); p.Column != "" && text == words.ProblemMissing.Say(p.Column) {
		b = append(b, words.ProblemMissingShort.String()...) // the column is named already
	} else {
		b = append(b, text...)
	}
	if !p.Hint.Empty() {
		b = append(append(append(b, words.ProblemHintOpen.String()...), p.Hint.String()...), ')')
	}
	for i, c := range b {
		if c == '\n' || c == '\r' || c == '\t' {
			b[i] = ' '
		}
	}
	return string(b)
}

// Reason is the cause with its column before it, unless it names that itself.
func (p *Problem) Reason() words.Phrase {
	if p.Column == "" {
		return p.Text
	}
	return words.SentenceAsItIs.With(named{p.Column, p.Text})
}

// named is what is said of a column.
type named struct {
	column string
	text   words.Phrase
}

// String names the column where the text does not.
func (n named) String() string {
	text := n.text.String()
	if strings.Contains(text, n.column) {
		return text
	}
	return n.column + ": " + text
}

// Error makes a Problem an error.
func (p *Problem) Error() string { return p.String() }
