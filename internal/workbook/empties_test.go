package workbook

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// A cell with a text of no signs counts as filled wherever cells are counted (COUNTA, ISBLANK: ECMA-376 Part 1, 18.17.7), so no sheet of results has one; on a
// sheet of inputs only the last cell of a row may be one, which keeps the row as wide as it was. Seen: Take out, Towards and Size of the pick list were filled everywhere.
func TestNoEmptyTexts(t *testing.T) {
	files := map[string][]byte{}
	for _, live := range []bool{false, true} {
		m := demoBook(t, "")
		out, err := Write(m.j, m.ev, Options{Live: live})
		if err != nil {
			t.Fatal(err)
		}
		files[map[bool]string{false: "demo", true: "demo with formulas"}[live]] = out
	}
	j := job.NewJob() // nothing is known of the one, nothing is to be done at the other
	j.Machines.Header = strings.Split("Machine,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H,Note", ",")
	j.Machines.Rows = [][]string{{"P 1", ""}, {"P 2", "line", "1480", "300", "500", "0", "0", "0", "0", ""}}
	ev := sentences.New(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	out, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	files["bare"] = out
	for what, data := range files {
		a, err := new(Reader).openArchive(data)
		if err != nil {
			t.Fatal(err)
		}
		w, err := a.workbook()
		if err != nil {
			t.Fatal(err)
		}
		kept := 0
		for _, s := range w.sheets {
			_, input := sheetKindByName(s.name)
			part, err := a.part(s.part)
			if err != nil {
				t.Fatal(err)
			}
			for i := 0; ; {
				k := bytes.Index(part[i:], []byte("<t></t>"))
				if k < 0 {
					break
				}
				i += k + len("<t></t>")
				last := bytes.HasPrefix(part[i:], []byte("</is></c></row>"))
				if kept++; !input || !last {
					from := bytes.LastIndex(part[:i], []byte("<c "))
					t.Errorf("%s, %s: %s is an empty text", what, s.name, part[from:i])
				}
			}
		}
		if what == "bare" && kept != 2 {
			t.Errorf("%d rows of the inputs keep their width, want 2", kept)
		}
		back, _, err := Read(data, "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		if what == "bare" && (len(back.Machines.Rows[0]) != 2 || len(back.Machines.Rows[1]) != 10 || strings.Join(back.Machines.Rows[1], "|") != strings.Join(j.Machines.Rows[1], "|")) {
			t.Errorf("%q comes back", back.Machines.Rows)
		}
	}
}
