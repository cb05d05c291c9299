package desk

import (
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// pastes puts a clipboard text in, before anything was matched on this computer.
func (s *person) pastes(text string) {
	s.Helper()
	s.sends(screens.Event{Name: "pasted", Kind: "pasted", Value: text})
}

// asked is a list with columns that are known, guessed, asked about and unknown.
const asked = "Machine\tSpeed\tCplg-FF\tMoveable rm 12\tT\tR\tB\tL\tBlah\t\n" +
	"P-1\t1480\t400\t0\t0\t0.1\t0.2\t0.1\tzig\t\nP-2\t1480\t410\t0.1\t0\t0.1\t0.2\t0.1\tzag\t\n"

// Each column of a list says what it is read as, in which unit and why; what is open is counted below, and the button says what it takes. One answer settles a series; what was chosen otherwise
// stays; what is read twice says so at both.
func TestMatchAsSeen(t *testing.T) {
	p := begin(t)
	s := p.looksAt("match")
	s.pastes(asked)
	p.want(s.dialog, "dlg-match")
	p.want(s.last.Focus, "match-answer-4")
	lines := func(want ...string) {
		t.Helper()
		rows := s.rows("Columns of the list")
		p.want(rows[0], "[In your list First texts Read as Unit of a bare number Why]")
		for _, w := range want {
			n, w, _ := strings.Cut(w, "|")
			k, _ := strconv.Atoi(n)
			p.want(strings.Join(rows[k+1], "|"), w)
		}
	}
	foot := func(said, take string, guesses bool) {
		t.Helper()
		p.want(s.reads("match-said"), said)
		p.want(s.reads("match-take"), take)
		p.want(visible(s.find("match-less")), guesses)
	}
	lines("0|Machine|P-1 · P-2|Machine||by its name", "1|Speed|1480 · 1480|Speed|rpm, the job's|by its name", "2|Cplg-FF|400 · 410|Coupling to front feet|mm, the job's|guess its words fit this name best",
		"3|Moveable rm 12|0 · 0.1|Movable rim 12|mm, the job's|guess its words fit this name best",
		"4|T|0 · 0|kept, not read||which? a series top, right, bottom, left; which dial is not said Movable rim 12 Stationary rim 12 Face 12 Stationary face 12",
		"5|R|0.1 · 0.1|kept, not read||which? with the first of its series", "8|Blah|zig · zag|kept, not read||kept as it is")
	s.says("2 rows for the sheet Machines.", "2 columns are guesses", "1 question has more than one good answer")
	foot("2 known by name, 2 guessed, 1 kept, not read. 1 question is open: what it asks for stays unread.", "Take the 2 guesses and read the list", true)
	classes := func() (out []string) {
		for k := range 9 {
			out = append(out, attr(s.find("match-row-"+strconv.Itoa(k)), "class"))
		}
		return out
	}
	p.want(classes(), "[known known guess guess question question question question none]")
	s.presses("Movable rim 12")
	p.want(s.last.Focus, "match-take")
	lines("3|Moveable rm 12|0 · 0.1|Movable rim 12|mm, the job's|guess its words fit this name best “T” is read as the same",
		"4|T|0 · 0|Movable rim 12|mm, the job's|as you chose “Moveable rm 12” is read as the same", "5|R|0.1 · 0.1|Movable rim 3|mm, the job's|as you chose",
		"6|B|0.2 · 0.2|Movable rim 6|mm, the job's|as you chose", "7|L|0.1 · 0.1|Movable rim 9|mm, the job's|as you chose")
	foot("2 known by name, 2 guessed, 4 chosen, 1 kept, not read.", "Take the 2 guesses and read the list", true)
	p.want(classes(), "[known known guess guess chosen chosen chosen chosen none]")
	// another meaning of the first takes the series with it, but for what was chosen otherwise
	s.chooses("What L is read as", "Shaft gap")
	s.chooses("What T is read as", "Stationary rim 12")
	lines("4|T|0 · 0|Stationary rim 12|mm, the job's|as you chose", "5|R|0.1 · 0.1|Stationary rim 3|mm, the job's|as you chose", "6|B|0.2 · 0.2|Stationary rim 6|mm, the job's|as you chose",
		"3|Moveable rm 12|0 · 0.1|Movable rim 12|mm, the job's|guess its words fit this name best")
	if got := s.chosen("What L is read as"); got != "Shaft gap" {
		t.Errorf("%q", got)
	}
	s.chooses("Unit of T", "mil")
	p.want(s.chosen("Unit of T"), "mil")
	s.chooses("What T is read as", "Coupling to movable plane")
	p.want(s.chosen("Unit of T"), "mil") // a length as well
	s.chooses("What T is read as", "Speed (as “Speed” is)")
	p.want(s.chosen("Unit of T"), "rpm, the job's")
	lines("1|Speed|1480 · 1480|Speed|rpm, the job's|by its name “T” is read as the same")
	s.chooses("What T is read as", "Stationary rim 12")
	s.chooses("What T is read as", "kept, not read")
	lines("4|T|0 · 0|kept, not read||kept as it is", "5|R|0.1 · 0.1|kept, not read||kept as it is", "1|Speed|1480 · 1480|Speed|rpm, the job's|by its name")
	s.chooses("What Moveable rm 12 is read as", "kept, not read")
	s.chooses("What Cplg-FF is read as", "Coupling to front feet")
	if visible(s.find("match-less")) || s.reads("match-take") != "Read the list so" {
		t.Error(s.reads("match-take"))
	}
	s.presses("Read the list so")
	p.want(s.dialog, "")
	p.want(s.said, "2 columns are matched. The job keeps it, and the next list with these headers is read the same.")
	p.want(s.last.Offer, "&{Change the match… again}")
	p.want(p.shown("Machine"), "[P-1 P-2]")
	p.want(p.shown("Coupling to front feet"), "[400 410]")
}

// Without the guesses their columns stay unread, and open questions too; the columns of a sheet are matched in the same dialog, whose button says so. A column without a header is none.
func TestMatchWithoutGuesses(t *testing.T) {
	p := begin(t)
	s := p.looksAt("match")
	s.pastes(asked)
	s.presses("Without the guesses")
	p.want(s.dialog, "")
	p.want(s.said, "0 columns are matched. The job keeps it, and the next list with these headers is read the same.")
	s.show()
	p.want(s.dialog, "dlg-match")
	s.says("The columns of the sheet Machines.")
	if s.find("match-head") != nil {
		t.Error("the sheet's header stands where it stands")
	}
	p.want(strings.HasPrefix(s.reads("match-take"), "Take the 2 guesses"), true)
	p.want(s.reads("match-take"), "Take the 2 guesses")
	s.presses("Take the 2 guesses")
	p.want(p.shown("Coupling to front feet"), "[400 410]")
	p.want(p.shown("Movable rim 12"), "[0 0.1]")
	s.show()
	if n := s.reads("match-take"); n != "Name the columns so" {
		t.Error(n)
	}
	// the Job sheet has no columns
	p.ask("sheet", 1)
	s.show()
	p.want(s.said, "The rows of this sheet are settings; it has no columns to match.")
}

// A unit in the list's own header goes along to the name that a person gives the column, and the dialog says it. Seen: dials in (1/100 mm) were read in mm once they had been matched, those of 1/100 without a
// unit too, and of dials known by name the dialog said the job's mm; of a row of units under the names as well, which was counted as a machine.
func TestMatchKeepsTheListsUnit(t *testing.T) {
	unit := func(name string, want ...string) {
		t.Helper()
		p := begin(t)
		s := p.looksAt("match")
		s.pastes("Pumpe\tDrehzahl (U/min)\t" + name + "\tFace 3 (1/100 mm)\nP-1\t1480\t-5\t3\nP-2\t1480\t4\t2\n")
		p.want(s.rows("Columns of the list")[4][3], "1/100 mm")
		s.chooses("What "+name+" is read as", "Movable rim 3")
		p.want(s.chosen("Unit of "+name), want[0])
		s.presses(s.reads("match-take"))
		p.want(p.d.job.Machines.Header[2], want[1])
	}
	for _, u := range []string{"1/100 mm", "0,01 mm", "µm", "mil"} {
		unit("Jante 3h ("+u+")", u, "Movable rim 3 ["+u+"]")
		unit("Jante 3h "+u, u, "Movable rim 3 ["+u+"]")
	}
	for _, u := range []string{"1/100", "× 0,01", "mm/100", "Hundertstel", "0.01 mm/div", "mm, kalt"} { // of what is not said: named so it is refused, with the reason
		unit("Jante 3h ["+u+"]", u, "Movable rim 3 ["+u+"]")
	}
	unit("Jante 3h mm/100", "mm/100", "Movable rim 3 [mm/100]")
	unit("Jante (1/100 mm) 3h", "1/100 mm", "Movable rim 3 [1/100 mm]")
	unit("Jante 3h (in mm)", "mm", "Movable rim 3 [mm]")
	unit("Jante 3h (links)", "mm, the job's", "Movable rim 3")

	p := begin(t)
	s := p.looksAt("match")
	s.pastes("Tag\tDriver\tCplg CL to front ft\tM dial T\tM dial R\tM dial B\tM dial L\n\t\tin\tmils\tmils\tmils\tmils\nP-1\tM-1\t16 1/4\t0\t3\t8\t5\nP-2\tM-2\t16 1/4\t0\t4\t8\t4\n")
	s.says("2 rows for the sheet Machines.")
	rows := s.rows("Columns of the list")
	p.want(rows[3], "[Cplg CL to front ft 16 1/4 · 16 1/4 Coupling to front feet in, as the row below the names says guess its words fit this name best]")
	s.chooses("What M dial T is read as", "Movable rim 12")
	p.want(s.chosen("Unit of M dial R"), "mils, as the row below the names says")
	s.presses("Take the 2 guesses and read the list")
	p.want(p.d.job.Machines.Header, "[Tag Stationary Coupling to front feet [in] Movable rim 12 [mils] Movable rim 3 [mils] Movable rim 6 [mils] Movable rim 9 [mils]]")
	p.want(p.shown("Tag"), "[P-1 P-2]")
}

// The row of the header is a person's to say.
func TestMatchHeaderRow(t *testing.T) {
	p := begin(t)
	s := p.looksAt("match")
	s.pastes("Xyz\tUvw\nAnlage\tDrehung\nP-1\t1480\nP-2\t1480\n")
	p.want(s.dialog, "dlg-match")
	p.want(s.last.Say, "")
	for _, head := range []struct {
		typed, row, first, sample string
		rows                      int
	}{{"1", "1", "Xyz", "Anlage · P-1 · P-2", 3}, {"2", "2", "Anlage", "P-1 · P-2", 2}, {"0", "0", "(no name)", "Xyz · Anlage · P-1", 4}, {"-3", "0", "(no name)", "Xyz · Anlage · P-1", 4}} {
		s.types("Header row", head.typed)
		p.want(s.last.Focus, "match-head")
		p.want(attr(s.find("match-head"), "value"), head.row)
		rows := s.rows("Columns of the list")
		p.want(rows[1][0], head.first)
		if !strings.HasPrefix(rows[1][1], head.sample[:4]) {
			t.Errorf("%s: %q", head.typed, rows[1][1])
		}
		s.says(strconv.Itoa(head.rows) + " rows for the sheet Machines.")
	}
	s.types("Header row", "2")
	s.chooses("What Anlage is read as", "Machine")
	s.chooses("What Drehung is read as", "Speed")
	s.presses("Read the list so")
	p.want(p.shown("Machine"), "[P-1 P-2]")
	p.want(p.shown("Speed"), "[1480 1480]")
}

// What a paste would do is shown before it is done: rows added and written over, cells that change with both texts, columns with where they go and what is left out; it is not done before it is taken.
func TestPasteAsSeen(t *testing.T) {
	p := small(t)
	before := p.job()
	s := p.looksAt("match")
	s.pastes("Notes of the shutdown\nMachine\tSpeed\tForeman\t\t\nPump 5\t2980\tKim\t\tx\nPump 4\t1480\tLee\t\ty\n")
	p.want(s.dialog, "dlg-paste")
	p.want(s.last.Focus, "paste-take")
	p.want(p.job() == before, true)
	s.says("2 rows are put in below those that are there.", "1 line above the header left out.")
	if n := strings.Count(s.reads(), "above the header"); n != 1 { // Seen: twice, in other words
		t.Errorf("told %d times", n)
	}
	p.want(s.rows("Pasted column"), "[[Pasted column Goes to Understood as] [Machine Machine Machine] [Speed Speed [rpm] Speed] [Foreman Foreman (a new column) kept, not read] [(no header) left out ] "+
		"[(no header) Column 11 (a new column) kept, not read]]")
	for _, r := range all(s.find("paste-body"), "tr") {
		if left := strings.Contains(text(r), "left out"); (attr(r, "class") == "unread") != left {
			t.Errorf("%q is marked %q", text(r), attr(r, "class"))
		}
	}
	s.presses("Paste")
	p.want(s.dialog, "")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3 Pump 5 Pump 4]")
	p.want(p.shown("Speed"), "[1480 1480 1480 2980 1480]")
	p.want(p.shown("Foreman"), "[   Kim Lee]")
	// a large block over others: the first of the texts that change, in their rows
	p.ask("go", 1, p.column("Speed"), false)
	s.pastes(strings.Repeat("3000\n", 60))
	p.want(s.dialog, "") // 4 rows are there, the others are new
	p.ask("undo")
	big := begin(t)
	big.paste("Machine\tSpeed\n" + strings.Repeat("P\t1480\n", 60))
	s = big.looksAt("match")
	big.ask("go", 1, big.column("Speed"), false)
	s.pastes(strings.Repeat("3000\n", 59))
	big.want(s.dialog, "dlg-paste")
	s.says("59 rows go over those that are there; 59 cells get other texts.")
	texts := s.rows("Row")
	big.want(texts[0], "[Row Column Now Then]")
	big.want(texts[1], "[3 Speed 1480 3000]")
	big.want(big.shown("Speed")[1], "1480")
	s.presses("Paste")
	big.want(big.shown("Speed")[:3], "[1480 3000 3000]")

	// into an empty sheet at once; what is kept and not read is named, six of them in few words
	q := begin(t)
	s = q.looksAt("match")
	s.pastes("Machine\tSpeed\nP-1\t1480\n")
	q.want(s.dialog, "")
	q.want(s.last.Offer == nil, true)
	q.want(s.said, "Done: "+q.ask("state")["undo"].(string)+". Ctrl+Z takes it back.")
	// a few cells over others: done at once, and said
	q.ask("go", 0, 0, false)
	s.pastes("P-9\n")
	q.want(q.shown("Machine"), "[P-9]")
	if !strings.Contains(s.said, "1 cell") {
		t.Error(s.said)
	}
	s.pastes("")
	if s.said == "" {
		t.Error("an empty clipboard says nothing")
	}
}
