package sentences

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What the Job sheet may hold besides: rows that are none, names twice and names that nobody knows, a unit beside a name.
func TestRowsOfSettings(t *testing.T) {
	cases(t, job.Warning, lowRow, "", []jobCase{
		{"", "Job: Soft foot limit [mil]=3", ""}, {"", "Job: Soft foot limit [kg]=3", "error Job row 1, Soft foot limit: [kg] is no unit of …"}, {"", "Job: Soft foot limit [mil]=0.3 mm", ""},
		{"", "Job: Soft foot limit=0.05\nSoft foot limit=0.05", ""}, {"", "Job: Soft foot limit=0.05\nName=x\nSoft foot limit=0.06", "error Job row 3, Soft foot limit: row 1 says \"0.05\", here it is \"0.06\"; the first is used (hint: keep one)"}, {"", "Job: Soft foot limit=n/a\nSoft foot limit=0.06", ""},
		{"", "Job: Colour=blue", "warning Job row 1: \"Colour\" is no setting known here; it is kept and not used …"}, {"", "Job: Colour=", ""}, {"", "Job: =blue", ""},
		{"", "Job: Moves aim=perhaps", "error Job row 1, Moves aim: \"perhaps\" is no aim for moves …"}, {"", "Job: Moves aim=60 %", ""}, {"", "Job: Feet numbered=front", "error Job row 1, Feet numbered: \"front\" does not say an end and a side for every foot, each once …"},
		// What is usual.
		{"Coupling to front feet=9", "", "warning Machines row 2, Coupling to front feet: is \"9\" right? It comes to 9 mm; usual here is 10 to 10000 mm (hint: look at decimal sign and unit; what is usual can be set as Plausible ranges on the Job sheet)"}, {"Coupling to front feet=10", "", ""}, {"Front to rear feet=15000", "", ""}, {"Front to rear feet=15001", "", "warning Machines row 2, Front to rear feet: is \"15001\" right? …"},
		// Seen: no column with a "to" in its name took a range.
		{"Coupling to front feet=9", "Job: Plausible ranges=no", ""}, {"Coupling to front feet=9", "Job: Plausible ranges=Coupling to front feet 5 mm to 15 m", ""}, {"Coupling to front feet=4.9", "Job: Plausible ranges=Coupling to front feet 5 mm to 15 m", "warning Machines row 2, Coupling to front feet: is \"4.9\" right? It comes to 4.9 mm; usual here is 5 to 15000 mm …"}, {"Coupling to front feet=300", "Job: Plausible ranges=Coupling to front feet 50 to 100; Speed 5 to 100", "warning Machines row 2, Coupling to front feet: …\nwarning Machines row 2, Speed: is \"1480\" right? …"},
		{"Coupling to front feet=9", "Job: Plausible ranges=yes", "warning Machines row 2, Coupling to front feet: …"}, {"", "Job: Plausible ranges=Speed", "error Job row 1, Plausible ranges: \"Speed\" is no column with what is usual for it (hint: write no, or Speed 5 to 90000 rpm; Spacer length 5 mm to 15 m)"}, {"", "Job: Plausible ranges=Colour 5 to 10", "error Job row 1, Plausible ranges: \"Colour 5 to 10\" is no column …"}, {"", "Job: Plausible ranges=Speed 10 to 5", "error Job row 1, Plausible ranges: …"},
		{"", "Job: Plausible ranges=Speed 10 to 10", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Method 1 to 2", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Machine 1 to 2", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed 5 to 90000 rpm;; ", ""}, {"", "Job: Plausible ranges=Speed 5 to 90000; Note", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed x to 10", "error Job row 1, Plausible ranges: …"}, {"", "Job: Plausible ranges=Speed 5 to x", "error Job row 1, Plausible ranges: …"},
		{"Given offset V=-13", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2: both rear feet need …"}, {"Given offset V=501", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2: both rear feet need …\nwarning Machines row 2, Given offset V: is \"501\" right? …"}, {"Growth movable front V=-31; Growth movable rear V=0", "", "warning Machines row 2: both front feet need …\nwarning Machines row 2, Growth movable front V: …"}, {"Front room up=201", "", "warning Machines row 2, Front room up: is \"201\" right? It comes to 201 mm; usual here is 0 to 200 mm …"},
	})
	// Once a column, with how many more; a note of a dash too.
	j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,5,line,0,0,0,0,9,500\nB,1480,line,0,0,0,0,8,500\nC,-,line,0,0,0,0,7,500\nD,4,line,-,0,0,0,-,-\n")
	var told []string
	for _, p := range work(t, j).Problems() {
		told = append(told, fmt.Sprint(p.Severity, " ", p.Row, " ", p.Column, " ", p.Text))
	}
	want := []string{`warning 2 Speed is "5" right? It comes to 5 rpm; usual here is 10 to 60000 rpm (and 1 more of the column)`, `note 4 Speed "-" is taken as not given, here and wherever the column has such a sign`,
		`warning 2 Coupling to front feet is "9" right? It comes to 9 mm; usual here is 10 to 10000 mm (and 2 more of the column)`, `note 5 Coupling to front feet "-" is taken as not given, here and wherever the column has such a sign`, `note 5 Front to rear feet "-" is taken as not given, here and wherever the column has such a sign`,
		`note 5 Given offset V "-" is taken as not given, here and wherever the column has such a sign`}
	if strings.Join(told, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(told, "\n"))
	}
}
