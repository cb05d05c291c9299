package job

import "strings"

// Rows go between programs as one text: U+001F ends a cell, U+001E a row. A cell that holds one of them, or U+001B, has U+001B and a letter
// instead. web/rows.js unpacks the same.
var (
	packCell   = strings.NewReplacer("\x1b", "\x1be", "\x1e", "\x1br", "\x1f", "\x1bc")
	unpackCell = strings.NewReplacer("\x1be", "\x1b", "\x1br", "\x1e", "\x1bc", "\x1f")
)

// AppendPacked appends rows as one text.
func AppendPacked(b []byte, rows [][]string) []byte {
	for _, r := range rows {
		for _, c := range r {
			if strings.ContainsAny(c, "\x1b\x1e\x1f") {
				c = packCell.Replace(c)
			}
			b = append(append(b, c...), '\x1f')
		}
		b = append(b, '\x1e')
	}
	return b
}

// AppendUnpacked appends the rows of such a text; what stands behind the last end of a row is left out. The cells share the text's memory.
func AppendUnpacked(rows [][]string, text string) [][]string {
	special := strings.IndexByte(text, '\x1b') >= 0
	all := make([]string, 0, strings.Count(text, "\x1f"))
	at := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '\x1f':
			c := text[at:i]
			if special {
				c = unpackCell.Replace(c)
			}
			all = append(all, c)
			at = i + 1
		case '\x1e':
			n := len(all)
			rows = append(rows, all[:n:n])
			all = all[n:]
			at = i + 1
		}
	}
	return rows
}
