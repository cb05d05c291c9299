package evaluate

import (
	"shimsheet/internal/job"
	"slices"
	"strings"
)

// An OwnHeader says that a header of somebody's own words means a column of a sheet. It stands in the Job sheet as a row
// `Header of Machines: DE 12` | `Movable rim 12 [mm]`, so that it goes wherever the job goes, and can be read and mended there.
type OwnHeader struct {
	Kind   job.SheetKind
	Header string // in their words; the second and later columns of one text have #2, #3 … behind it
	Means  string // a name of the column, with the unit of a bare number in brackets
}

// ownHeaderMark is how the setting's name begins, before the name of the sheet.
const ownHeaderMark = "header of "

// ParseOwnHeader reads a row of the Job sheet; ok is false for one that is another setting.
func ParseOwnHeader(name, value string) (o OwnHeader, ok bool) {
	name = strings.TrimSpace(name)
	if len(name) < len(ownHeaderMark) || !strings.EqualFold(name[:len(ownHeaderMark)], ownHeaderMark) {
		return o, false
	}
	of, header, found := strings.Cut(name[len(ownHeaderMark):], ":")
	if header = strings.TrimSpace(header); !found || header == "" {
		return o, false
	}
	for _, k := range job.SheetOrder {
		if strings.EqualFold(strings.TrimSpace(of), k.String()) && k != job.SettingsSheet {
			return OwnHeader{k, header, strings.TrimSpace(value)}, true
		}
	}
	return o, false
}

// Row is the row of the Job sheet.
func (o OwnHeader) Row() []string {
	return []string{"Header of " + o.Kind.String() + ": " + strings.Join(strings.Fields(o.Header), " "), o.Means}
}

// OwnHeaders returns what the rows of a Job sheet say of headers, in their order; of rows with one header the first counts. A row that leads to no
// column is left out: the evaluator tells of it.
func OwnHeaders(t *job.Table) []OwnHeader {
	if t == nil {
		return nil
	}
	var out []OwnHeader
	take := func(row []string) {
		if len(row) < 2 || job.Blank(row[1]) {
			return
		}
		o, ok := ParseOwnHeader(row[0], row[1])
		if c := job.FindColumn(o.Kind, o.Means); !ok || c == nil || c.Result {
			return
		}
		if !slices.ContainsFunc(out, func(x OwnHeader) bool { return x.Kind == o.Kind && sameHeader(x.Header, o.Header) }) {
			out = append(out, o)
		}
	}
	for _, r := range t.Title {
		take(r)
	}
	take(t.Header)
	for _, r := range t.Rows {
		take(r)
	}
	return out
}

// sameHeader compares two headers of somebody's own: case and spaces do not matter; signs do, as nobody knows what they mean there.
func sameHeader(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
