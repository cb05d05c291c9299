package evaluate

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Headers of the Machines sheet: a column that could be two, that stands twice, whose unit is none, whose name is nearly a known one; and a list that is turned on its side or has no header.
func TestHeadersOfMachines(t *testing.T) {
	const line = "Method,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Speed"
	const vals = "line,0,0,0,300,500,1480"
	for _, c := range []struct{ header, cells, want string }{
		{"Machine,Given offset V," + line, "P,0.3," + vals, "line 0.3"},
		{"Machine,Given offset V [mil]," + line, "P,10," + vals, "line 0.254"},
		{"Machine,Given offset V [kg]," + line, "P,0.3," + vals, "error Machines row 1, Given offset V: [kg] is no unit of a length; numbers here need a unit of their own …\nerror Machines row 2, Given offset V: …"},
		{"Machine,Given offset V [kg]," + line, "P,0.3 mm," + vals, "line 0.3\nerror Machines row 1, Given offset V: [kg] is no unit of …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,0.3," + vals, "line 0.3\nwarning Machines row 1, Given offset V: columns 2 and 3 bear the same name …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,300 um," + vals, "line 0.3\nwarning Machines row 1, Given offset V: columns 2 and 3 bear the same name …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,," + vals, "line 0.3\nwarning …"}, {"Machine,Given offset V,Given offset V," + line, "P,,0.3," + vals, "line 0.3\nwarning …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,0.4," + vals, "warning Machines row 1, Given offset V: columns 2 and 3 bear the same name …\nerror Machines row 2, Given offset V: columns 2 and 3 say \"0.3\" and \"0.4\"; the row is refused …"},
		{"Machine,Given offset V,Coupling,Coupling," + line, "P,0.3,short,flexible," + vals, "line 0.3\nwarning …"}, {"Machine,Given offset V,Coupling,Coupling," + line, "P,0.3,short,rigid," + vals, "warning …\nerror Machines row 2, Coupling: columns 3 and 4 say \"short\" and \"rigid\"; the row is refused …"},
		{"Machine,Given offset V,Note,Remarks," + line, "P,0.3,a,b," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 both mean Note; \"Note\" is read, \"Remarks\" is kept and not read …"},
		{"Machine,Given offset V,Remarks,Note," + line, "P,0.3,a,b," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 both mean Note; \"Note\" is read, \"Remarks\" is kept and not read …"},
		{"Machine,Given offset V,Note,Note," + line, "P,0.3,a,a," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 bear the same name …"},
		{"Machine,Given offset V,Given ofset H,Method,Given slope V,Given slope H,Speed", "P,0.3,0.1,line,0,0,1480", "error Machines row 1: \"Given ofset H\" is not a known column and is kept unread; it is nearly Given offset H …\nerror Machines row 2, Given offset H: missing …\nerror Machines row 2, Coupling to front feet: …"},
		{"Machine,Given offset V,Given ofset H,Front fet," + line, "P,0.3,,9," + vals, "line 0.3"}, // an empty column, and one that is nearly none
		{"Machine,Given offset V,Given ofset H," + line, "P,0.3,1," + vals, "line 0.3"},            // which the sheet has already
		{"Machine,Given offset V,Cold target," + line, "P,0.3,1," + vals, "held 0.3\nerror Machines row 2, Cold target: the column \"Cold target\" is not read, and its name sounds like where the shaft should stand or run; nothing is judged before that is settled …"},
		{"Machine,Given offset V,Cold target," + line, "P,0.3,," + vals, "line 0.3"}, {"Machine,Given offset V,Desired,Wanted thing,Running hot," + line, "P,0.3,,1,," + vals, "held 0.3\nerror Machines row 2, Wanted thing: …"},
		{"Machine,Given offset V,Wanted offset V," + line, "P,0.3,1," + vals, "held 0.3\nerror Machines row 2, Wanted offset V: …"}, {"Machine,Given offset V,Wanted offset V,Verdict," + line, "P,0.3,1,inside," + vals, "line 0.3"},
	} {
		j := list(t, c.header+"\n"+c.cells+"\n")
		e := work(t, j)
		r := e.Row(0)
		var told []string
		for _, p := range append(append([]job.Problem{}, e.Problems()...), r.Problems...) {
			if p.Severity > job.Note {
				told = append(told, fmt.Sprint(p.Severity, " ", p.String()))
			}
		}
		for _, w := range strings.Split(c.want, "\n") {
			kind, v, _ := strings.Cut(w, " ")
			switch kind {
			case "line", "held":
				if !sameValue(r.Offset.V, v) || (r.Verdict == calc.NotJudged) != (kind == "held") {
					t.Errorf("%s / %s: %v, %v", c.header, c.cells, r.Offset.V, r.Verdict)
				}
			default:
				found := false
				for k, s := range told {
					if wild(s, w) {
						told, found = append(told[:k], told[k+1:]...), true
						break
					}
				}
				if !found {
					t.Errorf("%s / %s: nobody says %q", c.header, c.cells, w)
				}
			}
		}
		if len(told) > 0 {
			t.Errorf("%s / %s: nobody expects\n%s", c.header, c.cells, strings.Join(told, "\n"))
		}
	}
	for csv, want := range map[string]string{
		"Machine,P\nSpeed,1480\nMethod,line\nGiven offset V,0.1\n": "the list is turned on its side",
		"a,b\n1,2\n": "of the names in its header none is known",
	} {
		j := job.NewJob()
		tab, _, err := job.ReadDelimited("Machines", []byte(csv), 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.Header, tab.Rows, tab.FirstRow = tab.Rows[0], tab.Rows[1:], 2
		j.Machines = tab
		e := work(t, j)
		if p := e.Problems(); len(p) != 1 || p[0].Severity != job.Error || !strings.Contains(p[0].Text.String(), want) {
			t.Errorf("%q: %v", csv, p)
		}
	}
}

// Spellings that are nearly a column: how many slips there may be, of which kinds, and what is as near to two.
func TestNearlyAColumn(t *testing.T) {
	job.LoadColumns()
	for _, c := range []struct {
		a, b string
		most int
		want int
	}{
		{"speed", "speed", 1, 0}, {"speed", "sped", 1, 1}, {"sped", "speed", 1, 1}, {"speed", "spede", 1, 1}, {"speed", "spoed", 1, 1}, {"speed", "sp", 1, 2}, {"speed", "spo", 2, 3}, {"speed", "spoid", 1, 2}, {"speed", "spoid", 2, 2}, {"psede", "speed", 2, 2}, {"abcdef", "badcfe", 2, 3}, {"abcdef", "badcfe", 3, 3},
		{"rim3", "rim6", 1, 2}, {"rim3", "rin3", 1, 1}, {"rim12", "rim1", 1, 2}, {"", "a", 1, 1}, {"", "", 1, 0}, {"größe", "grosse", 2, 3}, {"größe", "größe", 2, 0}, {"größe", "grösse", 2, 2},
	} {
		if got := slips(c.a, c.b, c.most); got != c.want {
			t.Errorf("%s and %s, %d at most: %d", c.a, c.b, c.most, got)
		}
	}
	for header, want := range map[string]string{
		"Sped": "", "Speeed": "Speed", "Spede": "Speed", "Moveable sag at 6": "Movable sag at 6", "Movable rim 33": "", "Movable rim 5": "", "Mvable rim 3": "Movable rim 3", "Movble rm 3 [mm]": "Movable rim 3", "Given ofset V": "Given offset V", "Given offset X": "",
		"Graduaton": "Graduation", "Repetability": "Repeatability", "Colour of paint": "", "": "", "Nota": "", "Front to raer feet": "Front to rear feet", "Copling": "Coupling", "Couplingxx": "Coupling", "Couplinx": "Coupling", "[mm]": "", strings.Repeat("x", job.MaxHeader+1): "",
	} {
		got := ""
		if c := nearColumn(job.MachinesSheet, header); c != job.NoColumn {
			got = c.Info().Name
		}
		if got != want {
			t.Errorf("%q is nearly %q, want %q", header, got, want)
		}
	}
}
