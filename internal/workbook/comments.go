package workbook

import "strings"

// A comment is what somebody wrote beside a cell.
type comment struct {
	cell string
	row  int // 1-based
	text string
}

// comments are the comments of a sheet's part; none where they cannot be read, for no number hangs on them.
func (a *archive) comments(part string) (list []comment) {
	rels, _ := a.rels(part)
	for _, r := range rels {
		if !strings.HasSuffix(r.Type, "/comments") {
			continue
		}
		data, err := a.part(r.Target)
		if err != nil || data == nil {
			continue
		}
		s := newScanner(r.Target, data)
		for s.next() {
			switch {
			case s.kind == '<' && string(s.name) == "comment":
				ref := s.attr("ref")
				_, row, _ := parseRef(ref)
				list = append(list, comment{cell: string(ref), row: row})
			case s.kind == '<' && string(s.name) == "text" && len(list) > 0:
				list[len(list)-1].text = strings.TrimSpace(unescape(string(s.richText(nil))))
			}
		}
	}
	return list
}
