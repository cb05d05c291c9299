package evaluate

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"shimsheet/internal/dates"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// canonicalByDocs writes the canonical text of a signature as docs/record.md says, from the tables alone: of row sign (index) of the Record sheet. All headers stand in the test.
func canonicalByDocs(j *job.Job, sign int) string {
	esc := strings.NewReplacer(`\`, `\\`, "\t", `\t`, "\n", `\n`)
	cell := func(s string) string {
		return esc.Replace(strings.Trim(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n"), " \t\n"))
	}
	find := func(t *job.Table, h string) int {
		return slices.IndexFunc(t.Header, func(x string) bool { return strings.EqualFold(strings.TrimSpace(x), h) })
	}
	at := func(t *job.Table, row []string, h string) string {
		if c := find(t, h); c >= 0 && c < len(row) {
			return strings.ToLower(strings.Join(strings.Fields(row[c]), " "))
		}
		return ""
	}
	line := func(t *job.Table, name string, row []string, digest bool) string {
		var pairs []string
		for c, s := range row {
			h := ""
			if c < len(t.Header) {
				h = t.Header[c]
			}
			if x := cell(s); x != "" && (digest || h != "Digest") && !(name == "Machines" && (h == "Verdict" || h == "Front shim")) {
				pairs = append(pairs, cell(h)+"\t"+x)
			}
		}
		slices.Sort(pairs)
		return strings.Join(append([]string{name}, pairs...), "\t")
	}
	rec := j.Record
	who := at(rec, rec.Rows[sign], "Machine")
	var lines []string
	for name, t := range map[string]*job.Table{"Machines": j.Machines, "Readings": j.Readings, "Rounds": j.Rounds, "Growth": j.Growth, "Feet": j.Feet, "Trains": j.Trains, "Checks": j.Checks, "Job": j.Settings, "Limits": j.Limits, "Materials": j.Materials} {
		if t == nil {
			continue
		}
		for _, row := range t.Rows {
			if strings.Join(row, "") == "" {
				continue
			}
			if who == "whole job" {
				lines = append(lines, line(t, name, row, true))
			} else if name != "Job" && name != "Limits" && name != "Materials" && at(t, row, "Machine") == who {
				lines = append(lines, line(t, name, row, true))
				if name == "Machines" {
					break
				}
			}
		}
	}
	for k, row := range rec.Rows {
		signs := at(rec, row, "Signed by") != "" || at(rec, row, "Digest") != ""
		switch {
		case k == sign:
			lines = append(lines, line(rec, "Record", row, false))
		case who == "whole job" && (!signs || at(rec, row, "Machine") != "whole job"):
			lines = append(lines, line(rec, "Record", row, true))
		case who != "whole job" && !signs && at(rec, row, "Machine") == who:
			lines = append(lines, line(rec, "Record", row, false))
		}
	}
	slices.Sort(lines)
	return "shimsheet record 1\n" + strings.Join(lines, "\n") + "\n"
}

// The canonical text as docs/record.md has it, for signatures of machines and of the whole job, with cells that ask for every one of its rules.
func TestCanonicalTextByItsDocument(t *testing.T) {
	//evidence: calc=canonical text of a signed record grade=independent count=4 source=docs/record.md, written again from the tables alone
	j := jobText(t, "Job: Site=the weir", "Job: Units=mm", "Limits: Set=own | Coupling=short | Speed up to=1500 | Offset=0.1 | Slope=0.5",
		"Machines: Machine=P-1 | Speed=1480 | Method=line | Given offset V=0.01 | Given offset H= 0.02  | Given slope V=0 | Given slope H=0 | Verdict=inside | Colour=blue\t\\ and\r\ngreen\r | Front shim=9 | Coupling to front feet=300 | Front to rear feet=500",
		"Machines: Machine=P  2 | Speed=990 | Method=line | Given offset V=0.5 | Given offset H=0 | Given slope V=0 | Given slope H=0", "Machines: Machine=p-1 | Speed=500 | Note=again",
		"Readings: Machine=P-9 | Sweep=movable rim | Angle=0 | Reading=0", "Growth: Machine=P-1 | Support=front | Part=foot | Growth V=0.1", "Growth: Machine=p 2 | Support=front | Part=foot | Growth V=0.1",
		"Feet: Machine=P-1 | Foot=front 9 | Pack in place=0.5", "Feet: Machine=p-1 | Foot=front 3 | Pack in place=0.5", "Feet: Machine=P 2 | Foot=front 3", "Trains: Train=T | Machine=P-1 | Effort=2", "Checks: Machine=P-1 | Check=isolation | Done=yes",
		"Stock: Thickness=0.5 | Pieces on hand=3", "Record: Machine=P-1 | Instrument=dial 4 | Certificate=C-1", "Record: Machine=whole job | Instrument=laser", "Record: Machine=p-1 | Deviation=a bolt | Allowed by=planner",
		"Record: Machine=P-1 | Role=aligner | Signed by=crew 2 | Signed at=2026-04-12 16:40 | Note=by hand | Digest="+strings.Repeat("ab", 32), "Record: Machine=P 2 | Role=witness | Signed by=crew 3 | Signed at=2026-04-12 | Digest="+strings.Repeat("cd", 32),
		"Record: Machine=whole job | Role=accepter | Signed by=planner | Signed at=2026-04-13 | Digest="+strings.Repeat("ef", 32), "Record: Machine=Whole  Job | Role=witness | Signed by=owner | Signed at=2026-04-14 | Digest="+strings.Repeat("01", 32))
	j.Machines.Rows[0] = append(j.Machines.Rows[0], "beyond the header")
	e := work(t, j)
	signs := 0
	for k := range j.Record.Rows {
		row := j.Record.SourceRow(k)
		got, ok := e.CanonicalText(row)
		if ok != (k >= 3) {
			t.Errorf("row %d signs: %v", row, ok)
		}
		if !ok {
			continue
		}
		signs++
		if want := canonicalByDocs(j, k); got != want {
			t.Errorf("row %d:\n%s\nwant\n%s", row, got, want)
		}
		sum := sha256.Sum256([]byte(got))
		if Digest(got) != hex.EncodeToString(sum[:]) {
			t.Error(Digest(got))
		}
	}
	if signs != 4 {
		t.Error(signs)
	}
	if _, ok := e.CanonicalText(1); ok {
		t.Error("the header signs")
	}
	if _, ok := workText(t, "Machines: Machine=P-1").CanonicalText(2); ok {
		t.Error("there is no Record sheet")
	}
	if _, ok := workText(t, "Machines: Machine=P-1", "Record: Machine=P-7 | Signed by=a").CanonicalText(2); ok {
		t.Error("a machine that is not there")
	}
}

// Each cell of a row of the Record sheet is known by its own name, as typed.
func TestRecordCells(t *testing.T) {
	e := workText(t, "Machines: Machine=P-1 | Speed=1480", "Record: Machine= P-1 | Role=as witness | Signed by= a | Signed at=b | Result=c | Deviation=d | Allowed by=e | Instrument=f | Certificate=g | Due=2026-11 | Signature=h | Note=i | Digest="+strings.Repeat("a", 64), "Record: Machine=P-1 | Role=witness | Photo=x",
		"Record: Machine=P-1 | Role=owner | Instrument=k")
	r := e.Row(0).Record
	if len(r) != 3 {
		t.Fatal(r)
	}
	want := RecordRow{Row: 2, Machine: "P-1", Role: "witness", By: "a", At: "b", Result: "c", Deviation: "d", AllowedBy: "e", Instrument: "f", Certificate: "g", Due: "2026-11", Signature: "h", Note: "i", Digest: strings.Repeat("a", 64)}
	got := r[0]
	got.State, got.Why, got.key, got.cell, got.bad = 0, words.Phrase{}, "", nil, false
	if fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", want) && r[0].Role != "" {
		t.Errorf("%+v", got)
	}
	if r[1].Photo != "" || r[1].Row != 3 || r[2].Role != "" || r[2].Row != 4 || r[2].Instrument != "k" || r[1].Signs() || !r[0].Signs() {
		t.Errorf("%+v", r)
	}
}

// Of the signatures of a role the last one counts: by their times where both can be read, else as they stand. Those before it are kept.
func TestLastSignatureOfARole(t *testing.T) {
	for _, c := range []struct {
		rows []string // role, by, at
		last []bool   // of each: it counts
	}{
		{[]string{"aligner,a,2026-04-12"}, []bool{true}},
		{[]string{"aligner,a,2026-04-12", "aligner,b,2026-04-13"}, []bool{false, true}},
		{[]string{"aligner,a,2026-04-13", "aligner,b,2026-04-12"}, []bool{true, false}},
		{[]string{"aligner,a,2026-04-12", "aligner,b,2026-04-12"}, []bool{false, true}},
		{[]string{"aligner,a,2026-04-12 16:40", "aligner,b,2026-04-12 16:39"}, []bool{true, false}},
		{[]string{"aligner,a,2026-04-12T16:40", "aligner,b,2026-04-12 16:40:01"}, []bool{false, true}},
		{[]string{"aligner,a,2026-04-12T16:40:00Z", "aligner,b,2026-04-12T16:40:00+02:00"}, []bool{true, false}},
		{[]string{"aligner,a,2026-04-13", "aligner,b,later"}, []bool{false, true}},
		{[]string{"aligner,a,later", "aligner,b,2026-04-12"}, []bool{false, true}},
		{[]string{"aligner,a,2026-04-12", "witness,b,2026-04-13"}, []bool{true, true}},
		{[]string{"aligner,a,2026-04-12", ",b,2026-04-13"}, []bool{true, true}},
		{[]string{",a,2026-04-12", ",b,2026-04-13"}, []bool{false, true}},
		{[]string{"aligner,a,2026-04-14", "aligner,b,2026-04-12", "aligner,c,2026-04-13"}, []bool{true, false, false}},
		{[]string{"aligner,a,2026-04-12", "aligner,,", "aligner,c,2026-04-13"}, []bool{false, true, true}}, // an entry supersedes nothing
	} {
		lines := []string{"Machines: Machine=P-1 | Speed=1480"}
		for _, r := range c.rows {
			p := strings.Split(r, ",")
			lines = append(lines, fmt.Sprintf("Record: Machine=P-1 | Role=%s | Signed by=%s | Signed at=%s | Note=x", p[0], p[1], p[2]))
		}
		r := workText(t, lines...).Row(0).Record
		for k := range c.last {
			if (r[k].State != SignLater) != c.last[k] {
				t.Errorf("%v: %d is %v", c.rows, k, r[k].State)
			}
		}
	}
}

// What a certificate's day may be written as; what can be read two ways is none.
func TestDueDays(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse(time.DateOnly, s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for text, want := range map[string]string{"2026-11-30": "2026-11-30", " 2026-11-30 ": "2026-11-30", "2026/11/30": "2026-11-30", "30 Nov 2026": "2026-11-30", "30 November 2026": "2026-11-30", "Nov 30, 2026": "2026-11-30", "November 30 2026": "2026-11-30",
		"30-Nov-2026": "2026-11-30", "2026-02": "2026-02-28", "2028-02": "2028-02-29", "Feb 2026": "2026-02-28", "December 2026": "2026-12-31", "30.11.2026": "", "11/30/2026": "", "03/04/2026": "", "2026": "", "2026-11-31": "", "soon": "", "2026-11-30 12:00": ""} {
		got, ok := dates.ParseLast(text)
		if ok != (want != "") || ok && int64(got) != day(want).Unix() {
			t.Errorf("%q: %v %v, want %s", text, got, ok, want)
		}
	}
	for text, want := range map[string]string{"2026-04-12": "2026-04-12T00:00:00Z", "2026-04-12 16:40": "2026-04-12T16:40:00Z", "2026-04-12T16:40": "2026-04-12T16:40:00Z", "2026-04-12 16:40:05": "2026-04-12T16:40:05Z", "2026-04-12T16:40:05+02:00": "2026-04-12T16:40:05+02:00", "12 Apr 2026": "", "": "", "2026-04": ""} {
		got, ok := dates.ParseTime(text)
		if at, err := time.Parse(time.RFC3339, want); ok != (want != "") || ok && (err != nil || int64(got) != at.Unix()) {
			t.Errorf("%q: %v %v, want %s", text, got, ok, want)
		}
	}
}

// An instrument whose certificate had run out when somebody signed for what it read: by the day, for the machine it is of or any machine where it is of the whole job; where nobody signed, by today. Told once, whole.
func TestCertificatesRunOut(t *testing.T) {
	const past = "warning Record %d Due: the certificate of dial 4 held until 2026-04-12, and on %s somebody signed for %s (have it calibrated, or read again with another instrument; whether what it read still counts is for the one who accepts to say)\n"
	const today = "warning Record 2 Due: the certificate of dial 4 held until 2026-04-12 (have it calibrated, or read again with another instrument; whether what it read still counts is for the one who accepts to say)\n"
	for _, c := range []struct {
		dial  string // machine and due
		rows  []string
		today string
		want  string
	}{
		{"P-1 | Due=2026-04-12", nil, "", ""},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=2026-04-12"}, "2026-05-01", ""},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=2026-04-12 23:59"}, "2026-05-01", ""},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=2026-04-13 00:00"}, "2026-05-01", ""},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=2026-04-13 00:01"}, "2026-05-01", fmt.Sprintf(past, 2, "2026-04-13 00:01", "P-1")},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=2026-04-14", "P-1 | Role=witness | Signed by=a | Signed at=2026-04-15"}, "", fmt.Sprintf(past, 2, "2026-04-14", "P-1")},
		{"P-1 | Due=2026-04-12", []string{"P-2 | Signed by=a | Signed at=2026-04-14"}, "", ""},
		{"P-1 | Due=2026-04-12", []string{"P-2 | Signed by=a | Signed at=2026-04-14"}, "2026-04-13", today},
		{"P-1 | Due=2026-04-12", nil, "2026-04-12", ""}, {"P-1 | Due=2026-04-12", nil, "2026-04-13", today}, {"P-1 | Due=2026-04-12", nil, "some day", ""},
		{"whole job | Due=2026-04-12", []string{"P-2 | Signed by=a | Signed at=2026-04-14"}, "", fmt.Sprintf(past, 2, "2026-04-14", "P-2")},
		{"whole job | Due=2026-04-12", []string{"P-2 | Signed by=a | Signed at=2026-04-11"}, "2026-05-01", ""},
		{"P-1 | Due=2026-04-12", []string{"whole job | Signed by=a | Signed at=2026-04-14"}, "", ""},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Role=aligner | Signed by=a | Signed at=2026-04-14", "P-1 | Role=aligner | Signed by=a | Signed at=2026-04-15"}, "", fmt.Sprintf(past, 2, "2026-04-15", "P-1")},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Signed by=a | Signed at=soon"}, "2026-04-13", today},
		{"P-1 | Due=2026-04-12", []string{"P-1 | Note=b | Signed at=2026-04-14"}, "2026-04-13", today},
		{"P-1 | Due=04/12/2026", nil, "2026-05-13", "warning Record 2 Due: \"04/12/2026\" names no day that can be read in one way only (write 2026-11-30, 30 Nov 2026, or a month, 2026-11)\n"},
		{"P-1 | Due", nil, "2026-05-13", ""},
	} {
		lines := []string{"Machines: Machine=P-1 | Speed=1480", "Machines: Machine=P-2 | Speed=1480", "Record: Instrument=dial 4 | Machine=" + c.dial}
		for _, r := range c.rows {
			lines = append(lines, "Record: Machine="+r)
		}
		e := NewEvaluator(jobText(t, lines...))
		e.SetToday(c.today)
		got := ""
		for _, p := range e.Problems() {
			if p.Column == "Due" {
				got += toldBy([]job.Problem{p})
				if p.Col != slices.Index(e.Job().Record.Header, "Due") {
					t.Errorf("%+v", p)
				}
			}
		}
		if got != c.want {
			t.Errorf("%s, %v, today %s:\n%swant\n%s", c.dial, c.rows, c.today, got, c.want)
		}
	}
}

// What a row of the Record sheet is told of by itself, whole.
func TestRecordRowsTold(t *testing.T) {
	digest := strings.Repeat("0", 64)
	for cells, want := range map[string]string{
		"Instrument=dial": "", "Signed by=a | Signed at=b | Digest=" + digest: "", "Signed by=a | Digest=" + strings.ToUpper(strings.Repeat("ab", 32)): "",
		"Signed by=a":                                  "warning Record 2 Digest: somebody's name stands here without a digest: whether the record is the one that was signed, nobody can tell (sign on the page or with shimsheet sign, which write the digest)\n",
		"Digest=" + digest:                             "error Record 2 Signed by: a digest stands here and nobody's name (write who signed under Signed by, or take the digest out)\n",
		"Digest=abc":                                   "error Record 2 Signed by: a digest stands here and nobody's name (write who signed under Signed by, or take the digest out)\n",
		"Signed by=a | Digest=abc":                     "error Record 2 Digest: \"abc\" is no SHA-256: 64 signs 0 to 9 and a to f (sign again; a digest is not typed)\n",
		"Signed by=a | Digest=" + digest + "00":        "error Record 2 Digest: \"" + digest[:40] + "…\" is no SHA-256: 64 signs 0 to 9 and a to f (sign again; a digest is not typed)\n",
		"Deviation=x":                                  "warning Record 2 Allowed by: a deviation stands here and nobody who allowed it (write who allowed it under Allowed by)\n",
		"Deviation=x | Allowed by=y":                   "",
		"Allowed by=y | Note=z":                        "",
		"Signature=Kim":                                "",
		"Signature=pen:1,1 2,2;3,3 4,4":                "",
		"Role=boss | Instrument=x":                     "error Record 2 Role: \"boss\" is not one of the words taken here (write aligner, witness, accepter)\n",
		"Machine=P-7 | Signed by=a | Digest=" + digest: "error Record 2 Machine: \"P-7\" is not on the Machines sheet (write the name as it is there)\n",
		"Machine=P-7 | Instrument=dial":                "error Record 2 Machine: \"P-7\" is not on the Machines sheet (write the name as it is there)\n",
		"Machine=WHOLE JOB | Instrument=dial":          "",
		"Machine | Instrument=dial":                    "warning Record 2 Machine: \"dial\" stands across the list and is no machine; the row is left out (if it is a machine give it another name)\n",
	} {
		if !strings.HasPrefix(cells, "Machine") {
			cells = "Machine=P-1 | " + cells
		}
		e := workText(t, "Machines: Machine=P-1 | Speed=1480", "Record: "+cells)
		if got := toldBy(e.Problems()); got != want {
			t.Errorf("%s:\n%swant\n%s", cells, got, want)
		}
	}
}

// What somebody signs for, in a line: each number by its name, four decimals in mm and mm/m whatever the job's units; what is not there is a dash or left out.
func TestSignedResultByHand(t *testing.T) {
	line := []string{"Method=line", "Given offset V=0.0123", "Given offset H=-0.4", "Given slope V=1.5", "Given slope H=-0.00001"}
	for _, c := range []struct {
		cells []string
		want  string
	}{
		{nil, "not judged; waiting"},
		{[]string{"Offset limit=0.1"}, "not judged; waiting; limits 0.1000 mm, - mm/m"},
		{[]string{"Offset limit=0.1", "Slope limit=2"}, "not judged; waiting; limits 0.1000 mm, 2.0000 mm/m"},
		{line, "not judged; found; offset V 0.0123 H -0.4000 ± 0.0000 mm; slope V 1.5000 H 0.0000 ± 0.0000 mm/m; wanted offset V 0.0000 H 0.0000 mm, slope V 0.0000 H 0.0000 mm/m"},
		{append(slices.Clone(line), "Running offset V=x"), "not judged; found; offset V 0.0123 H -0.4000 ± 0.0000 mm; slope V 1.5000 H 0.0000 ± 0.0000 mm/m"},
		{append(slices.Clone(line), "Running offset V=0.1", "Running offset H=-0.2", "Running slope V=0.3", "Running slope H=-0.4", "Offset limit=0.05", "Slope limit=0.6"),
			"outside; found; offset V 0.0123 H -0.4000 ± 0.0000 mm; slope V 1.5000 H 0.0000 ± 0.0000 mm/m; wanted offset V 0.1000 H -0.2000 mm, slope V 0.3000 H -0.4000 mm/m; limits 0.0500 mm, 0.6000 mm/m"},
		{append(slices.Clone(line), "Coupling=spacer", "Spacer length=400", "Slope limit=0.4", "Limit reason=agreed"),
			"outside; found; offset V 0.0123 H -0.4000 ± 0.0000 mm; slope V 1.5000 H 0.0000 ± 0.0000 mm/m; wanted offset V 0.0000 H 0.0000 mm, slope V 0.0000 H 0.0000 mm/m; limits - mm, 0.4000 mm/m, published, API RP 686, 2nd ed. 2009, 5.4.6.2: 0.5 mm/m at both flex planes; C. Jackson, Alignment by Proximity Probes, symposium paper, p. 50, has the same, half a thousandth of an inch per inch (author's name from memory) (quoted), agreed"},
	} {
		e, r := one(t, c.cells...)
		got := e.SignedResult(r)
		u := fmt.Sprintf("± %.4f", r.Offset.UTotal)
		if math.IsNaN(r.Offset.UTotal) {
			u = ""
		}
		if want := strings.Replace(strings.Replace(c.want, "± 0.0000 mm;", u+" mm;", 1), "± 0.0000 mm/m", fmt.Sprintf("± %.4f mm/m", r.Slope.UTotal), 1); got != want {
			t.Errorf("%v:\n%s\nwant\n%s", c.cells, got, want)
		}
	}
}

// Who may not sign, and why; what signing writes, and that the job stays as it is. The whole job's line counts the verdicts.
func TestSigning(t *testing.T) {
	lines := []string{"Machines: Machine=P-1 | Speed=1480 | Method=line | Given offset V=0.01 | Given offset H=0 | Given slope V=0 | Given slope H=0", "3 of 2: Machine=P-2 | Given offset V=9", "4 of 2: Machine=P-3 | Given offset V", "5 of 2: Machine=p-1", "Machines: Machine=P-6"}
	e := workText(t, lines...)
	for _, c := range []struct {
		s   Signing
		why string
	}{
		{Signing{Machine: "P-1", At: "b"}, "a signature needs a name and a time"}, {Signing{Machine: "P-1", By: " ", At: "b"}, "a signature needs a name and a time"}, {Signing{Machine: "P-1", By: "a"}, "a signature needs a name and a time"},
		{Signing{Machine: "P-9", By: "a", At: "b"}, "\"P-9\" is not on the Machines sheet"}, {Signing{By: "a", At: "b"}, "\"\" is not on the Machines sheet"},
		{Signing{Machine: "P-6", By: "a", At: "b"}, "nothing was read at this machine that counts; there is nothing to sign for"},
		{Signing{Machine: "P-1", By: "a", At: "b", Role: "boss"}, "P-1 cannot be signed for: a row of its record cannot be read"},
		{Signing{Machine: "P-1", By: "a", At: "b", Signature: "pen: 1,1 9999,3"}, "P-1 cannot be signed for: a row of its record cannot be read"},
	} {
		if tab, err := e.Sign(c.s); err == nil || err.Error() != c.why || tab != nil {
			t.Errorf("%+v: %v", c.s, err)
		}
	}
	tab, err := e.Sign(Signing{Machine: " p-2 ", Role: "witness", By: " Kim ", At: " 2026-04-12 ", Signature: "Kim", Note: "n"})
	if err != nil || e.Job().Record != nil && e.Job().Record.Header != nil {
		t.Fatal(err, e.Job().Record)
	}
	want := []string{"Machine", "Role", "Signed by", "Signed at", "Result", "Deviation", "Allowed by", "Instrument", "Certificate", "Due", "Photo", "Signature", "Note", "Digest"}
	if !slices.Equal(tab.Header, want) || tab.Name != "Record" || tab.FirstRow != 2 || len(tab.Rows) != 1 {
		t.Errorf("%+v", tab)
	}
	row := tab.Rows[0]
	if got := strings.Join(row[:13], "|"); got != "p-2|witness|Kim|2026-04-12|"+e.SignedResult(e.Row(1))+"|||||||Kim|n" || len(row[13]) != 64 {
		t.Error(got, row[13])
	}
	// One more beside it: the first stays, columns of somebody's own stay, those that are missing come behind.
	j := jobText(t, plus(lines, "Record: Colour=blue | Machine=P-1 | Instrument=dial 4")...)
	e = work(t, j)
	tab, err = e.Sign(Signing{Machine: "whole job", By: "Kim", At: "2026-04-13"})
	if err != nil || len(j.Record.Rows) != 1 || len(j.Record.Header) != 3 {
		t.Fatal(err, j.Record)
	}
	if !slices.Equal(tab.Header[:3], []string{"Colour", "Machine", "Instrument"}) || len(tab.Header) != 15 || len(tab.Rows) != 2 || tab.Rows[1][1] != "whole job" || tab.Rows[0][0] != "blue" {
		t.Errorf("%+v", tab)
	}
	result := slices.Index(tab.Header, "Result")
	if tab.Rows[1][result] != e.WholeResult() || e.WholeResult() != "5 machines; 3 not judged; 1 inside; 1 outside" {
		t.Error(tab.Rows[1], e.WholeResult())
	}
	j.SetTable(job.RecordSheet, tab)
	e = work(t, j)
	list := e.WholeRecord()
	if len(list) != 1 || list[0].State != SignHolds || !list[0].Why.Empty() || e.Row(0).Signed != NotSigned {
		t.Fatalf("%+v", list)
	}
	tab.Rows[0][2] = "dial 5"
	e.Refresh()
	if list = e.WholeRecord(); list[0].State != SignFailed || list[0].Why.String() != "the rows of the record are not those that were signed" {
		t.Errorf("%+v", list)
	}
	tab.Rows[0][2] = "dial 4"
	tab.Rows[1][len(tab.Header)-1] = ""
	e.Refresh()
	if list = e.WholeRecord(); list[0].State != SignBare {
		t.Errorf("%+v", list)
	}
	// A result that is another now is told with both.
	tab.Rows[1][result] = "5 machines; 5 inside"
	text, _ := e.CanonicalText(3)
	tab.Rows[1][len(tab.Header)-1] = Digest(text)
	e.Refresh()
	if list = e.WholeRecord(); list[0].State != SignFailed || list[0].Why.String() != "signed was: 5 machines; 5 inside. It is now: 5 machines; 3 not judged; 1 inside; 1 outside" {
		t.Errorf("%+v", list)
	}
	if e := workText(t, lines...); e.WholeRecord() != nil || e.Strangers() != nil {
		t.Error("records without a sheet")
	}
	// Signatures for machines that are gone hold against nothing.
	e = workText(t, plus(lines, "Record: Machine=P-9 | Signed by=a", "Record: Machine=P-8 | Instrument=dial", "Record: Machine=whole job | Signed by=b", "Record: Machine=P-1 | Signed by=c")...)
	if s := e.Strangers(); len(s) != 1 || s[0].Machine != "P-9" || s[0].State != SignFailed || s[0].Why.String() != `"P-9" is not on the Machines sheet` {
		t.Errorf("%+v", s)
	}
	if r := e.Row(3); r.Record != nil { // the second of a name
		t.Errorf("%+v", r.Record)
	}
	for _, r := range Roles() {
		if _, err := e.Sign(Signing{Machine: "P-1", By: "a", At: "b", Role: r}); err != nil {
			t.Error(r, err)
		}
	}
	if len(Roles()) != 3 {
		t.Error(Roles())
	}
}

// The readings that count, as they were typed: of the row itself, or of the round that counts.
func TestReadingsTypedOfTheRoundThatCounts(t *testing.T) {
	row := "Machines: Machine=pump | Coupling to front feet=300 | Movable rim 12 [mm]= 0 | Movable rim 3=0.1 | Movable rim 6 | Movable sag at 6=0.02 | Face diameter=200 | Colour=0.3 | Movable sweep=0:0 90:1"
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{row}, "[[Movable rim 12 [mm] 0] [Movable rim 3 0.1] [Movable sweep 0:0 90:1]]"},
		{[]string{row, "Rounds: Machine=pump | Round=1 | Movable rim 3=0.7 | Done=much | Face 12=1"}, "[[Movable rim 3 0.7] [Face 12 1]]"},
		{[]string{row, "Rounds: Machine=fan | Round=1 | Movable rim 3=0.6", "Rounds: Machine=pump | Round=1 | Struck=x | Movable rim 3=0.7", "Rounds: Machine=pump | Round=hot | Movable rim 3=0.8"}, "[[Movable rim 12 [mm] 0] [Movable rim 3 0.1] [Movable sweep 0:0 90:1]]"},
		{[]string{row, "Rounds: Machine=pump | Round=found | By=Kim"}, "[[Movable rim 12 [mm] 0] [Movable rim 3 0.1] [Movable sweep 0:0 90:1]]"},
		{[]string{"Machines: Machine=pump | Speed=1480"}, "[]"},
	} {
		got := workText(t, c.lines...).ReadingsTyped(0)
		var all [][]string
		for _, x := range got {
			if x[0] != "Movable sag at 6" { // a sag is asked of the bracket once
				all = append(all, x)
			}
		}
		if s := fmt.Sprint(all); s != c.want {
			t.Errorf("%v: %s", c.lines, s)
		}
	}
}
