package screens

import (
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// Table is a table that leaves the page: as a block for a workbook, and as CSV with semicolons where decimals are commas. A cell that a workbook would
// take for a formula gets an apostrophe before it, in both.
func Table(head []string, rows [][]string, comma bool) (clip Clip, csv string) {
	sep := byte(',')
	if comma {
		sep = ';'
	}
	out := job.AppendCSVRow(nil, head, sep)
	plain := make([][]string, len(rows))
	for n, r := range rows {
		out = job.AppendCSVRow(out, r, sep)
		cells := append([]string(nil), r...)
		for i, s := range cells {
			if b := job.AppendCSVRow(nil, []string{s}, 0); s != "" && s[0] != '\'' && strings.HasPrefix(strings.TrimPrefix(string(b), `"`), "'") {
				cells[i] = "'" + s
			}
		}
		plain[n] = cells
	}
	clip.Text, clip.HTML = grid.FormatTable(head, plain)
	return clip, string(out)
}

// csvFile is a CSV file that is handed over, with the mark by which workbook programs know its encoding.
func csvFile(name, csv string) Update {
	return Update{File: &File{Name: name, Type: "text/csv", Text: "\ufeff" + csv}, Say: words.Text("common.handedOver", name)}
}

// chooser is a list at the side that one of is chosen, and the same as a drop-down list where there is no room for it. It sends the event with the key.
func chooser(event, prefix, label string, list [][2]string, chosen string) HTML {
	nav := Each(list, func(_ int, c [2]string) HTML {
		mark := Attr{}
		if c[0] == chosen {
			mark = A("aria-current", "true")
		}
		return El("button", Attrs(A("type", "button"), ID(prefix+c[0]), A("data-key", c[0]), mark, On(event, c[0])), Text(c[1]))
	})
	options := Each(list, func(_ int, c [2]string) HTML { return Choice(c[0], c[1], c[0] == chosen) })
	if chosen == "" {
		options = Join(El("option", Attrs(A("value", ""), Flag("hidden", true), Flag("selected", true))), options)
	}
	return Join(El("nav", Attrs(A("aria-label", label), A("data-arrows", "")), nav),
		El("label", Class("narrow"), Text(label+" "), El("select", On(event, ""), options)))
}

// SourceWords is a source as it stands beside a value: its text and how well it is known.
func SourceWords(s tables.Source) string {
	if s.Text == "" {
		return s.Grade.String()
	}
	return s.Text + " · " + s.Grade.String()
}

// cautionWords is a caution with where it comes from.
func cautionWords(c tables.Caution) string {
	if c.Source.Text == "" {
		return c.Text
	}
	return c.Text + " (" + c.Source.Text + ")"
}
