package sentences

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
)

// cardTold is all that a card says but for the checks that are usual.
func cardTold(c *Card) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s on %s, row %d, round %s, state %s, area %s, crew %s, code %s\n", c.Machine, c.Stationary, c.Row, c.Round, c.State, c.Area, c.Crew, c.Code)
	fmt.Fprintf(&b, "job %q numbers %q\nstand %s\nverdict %s\n", c.Job, c.Numbers, c.Stand, c.Verdict)
	for _, f := range c.SoftFeet {
		fmt.Fprintf(&b, "foot %s: %s\n", f.Name, f.InPlace)
	}
	fmt.Fprintf(&b, "gap %s\n", c.Gap)
	for _, s := range c.Sweeps {
		fmt.Fprintf(&b, "%s at %s, wanted %s, sag %q %v\n", s.Name, strings.Join(s.At, " "), strings.Join(s.Wanted, " "), s.Sag, s.HasSag)
	}
	fmt.Fprintf(&b, "unit %s, lines %s, wanted %v\ntake %q of %s\nfrom %q\nrooms %q\n", c.Unit, strings.Join(c.Lines, ", "), c.Wanted, c.Take, c.TakeIn, c.From, c.Rooms)
	if c.Usual {
		names := ""
		for _, x := range c.Checks {
			names += x.Name + ": " + x.Limit + x.Value + "; "
		}
		if want := "isolation: ; hub runout movable: 0.025 mm at most; hub runout stationary: 0.025 mm at most; bearing lift: ; flange parallelism: 0.25 mm at most; flange offset: ; piping movement: 0.051 mm at most; final torque: ; coupling bolts: ; " +
			"jackscrews backed off: ; guard: ; hot check: ; dowels: ; "; names != want && c.Unit == "mm" {
			fmt.Fprintln(&b, names)
		}
	} else {
		for _, x := range c.Checks {
			fmt.Fprintf(&b, "check %s; %s; %s; %s\n", x.Name, x.Limit, x.Value, x.Source)
		}
	}
	fmt.Fprintf(&b, "usual %v; torque %s; order %s\n", c.Usual, c.Torque, c.Order)
	return b.String()
}

// Cards of several machines, with everything on them.
func TestCardsTold(t *testing.T) {
	const feet = "foot front 9: \nfoot front 3: \nfoot rear 9: \nfoot rear 3: \n"
	const five = " at 12 3 6 9 12 again, wanted "
	const end = "usual true; torque the torque that the machine's maker or the site asks for; order front 9, rear 3, front 3, rear 9\n"
	const plain = "job [] numbers [[\"Work order\" \"\"] [\"Isolation\" \"\"] [\"Area\" \"\"] [\"Crew\" \"\"] [\"Date\" \"\"]]\n"
	const stand = "stand Stand behind the movable machine and look at the coupling: on your right is 3 o'clock; on your left is 9 o'clock.\n"
	const given = "Given offset V, Given offset H, Given slope V, Given slope H, Given gap 12 minus 6, Given gap 3 minus 9"
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{"Machines: Machine=P-1"}, "P-1 on , row 0, round found, state waiting, area , crew , code shimsheet-card:/P-1/found\n" + plain + stand + "verdict \n" + feet + "gap \nunit mm, lines , wanted false\ntake [] of mm\nfrom []\nrooms []\n" + end},
		{plus(roundsText[:1], "2: Work order=4711 | Isolation=V-12 | Area= Intake | Crew=B | Date=2026-04-12 | Stationary=motor", "Job: Name=Spring / 1", "Job: Site=weir", "Job: Date=2026-04-01", "Job: People=A, B", "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.5, DH: 0.2})),
			"pump on motor, row 0, round 1, state found, area Intake, crew B, code shimsheet-card:Spring %2F 1/pump/1\n" +
				"job [[\"Job\" \"Spring / 1\"] [\"Site\" \"weir\"] [\"Date\" \"2026-04-01\"] [\"People\" \"A, B\"]] numbers [[\"Work order\" \"4711\"] [\"Isolation\" \"V-12\"] [\"Area\" \"Intake\"] [\"Crew\" \"B\"] [\"Date\" \"2026-04-12\"]]\n" +
				"stand Stand behind the movable machine and look at the coupling: on your right is 3 o'clock, river; on your left is 9 o'clock, wall.\nverdict Outside the limit: 539 % of it, 0 % chance that the true value is inside.\n" + feet + "gap \n" +
				"Movable rim" + five + ", sag \"0\" true\nStationary rim" + five + ", sag \"0\" true\nunit mm, lines , wanted false\ntake [] of mm\nfrom [\"The packs are from a stock whose pieces are not counted.\"]\nrooms []\n" + end},
		{plus(panelText, "2: Seen from=stationary | Front room up=0.5 | Front room left=0.2 | Rear room down=1 | Rear room right=0.3", "Checks: Machine=pump | Check=final torque | Limit=120 N m | Value=110 N m", "Checks: Machine=pump | Check=own | Value=2 mm | Limit=3 mm | Source=sheet 4"),
			"pump on , row 0, round 1, state found, area , crew , code shimsheet-card:/pump/1\n" + plain + "stand Stand behind the stationary machine and look at the coupling: on your right is 3 o'clock, river; on your left is 9 o'clock, the wall.\n" +
				"verdict Outside the limit: 316 % of it, 0 % chance that the true value is inside.\n" + feet + "gap \nunit mm, lines " + given + ", wanted false\ntake [] of mm\nfrom [\"The packs are from a stock whose pieces are not counted.\"]\n" +
				"rooms [\"front feet: up 0.5 mm, towards the wall 0.2 mm\" \"rear feet: down 1 mm, towards the river 0.3 mm\"]\ncheck final torque; 120 N·m at least; 110 N m; your sheet Checks, row 2\ncheck own; 3 mm at most; 2 mm; sheet 4\n" +
				"usual false; torque 120 N·m (your sheet Checks, row 2); order front 9, rear 3, front 3, rear 9\n"},
		{plus(panelText, "2: Shaft gap=5 | Gap wanted=4 | Gap tolerance=0.5 | End float=1.2 | Side at 3 | Side at 9", "Feet: Machine=pump | Foot=a | Along=300 | Across=-200 | Pack in place=0.5+0.1", "Feet: Machine=pump | Foot=b | Along=300 | Across=200 | Pack in place=0", "Feet: Machine=pump | Foot=c | Along=800 | Across=-200",
			"Feet: Machine=pump | Foot=d | Along=800 | Across=200"),
			"pump on , row 0, round 1, state found, area , crew , code shimsheet-card:/pump/1\n" + plain + stand + "verdict Outside the limit: 316 % of it, 0 % chance that the true value is inside.\nfoot a: 0.50 + 0.10 mm\nfoot b: nothing\nfoot c: \nfoot d: \n" +
				"gap wanted 4 mm, ± 0.5 mm, end float 1.2 mm\nunit mm, lines " + given + ", wanted false\ntake [\"1 × 0.15\"] of mm\nfrom [\"The packs are from a stock whose pieces are not counted.\"]\nrooms [\"front feet: down 0 mm\"]\n" +
				strings.Replace(end, "front 9, rear 3, front 3, rear 9", "a, d, b, c", 1)},
		{plus(panelText, "2: Gap wanted=4 | Gap tolerance=0.5", "Job: Units=inch"), ""},
		{[]string{"Machines: Machine=P-1 | Method=rim and face | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=500 | Face diameter=200 | Movable sag at 6=-0.1 | Face sag at 6=0.02"},
			"P-1 on , row 0, round found, state waiting, area , crew , code shimsheet-card:/P-1/found\n" + plain + stand + "verdict \n" + feet + "gap \nMovable rim" + five + ", sag \"-0.1\" true\nStationary rim" + five + ", sag \"\" true\nFace" + five + ", sag \"0.02\" true\nStationary face" + five + ", sag \"\" true\n" +
				"unit mm, lines , wanted false\ntake [] of mm\nfrom []\nrooms []\n" + end},
		{[]string{"Machines: Machine=P-1 | Method=straightedge and gap | Coupling to front feet=300 | Front to rear feet=500 | Mounting=vertical flange | Bolt circle=300 | Bolts=4"},
			"P-1 on , row 0, round found, state waiting, area , crew , code shimsheet-card:/P-1/found\n" + plain + stand + "verdict \ngap \nGap at 12 3 6 9, wanted , sag \"\" false\nStep at 12 3 6 9, wanted , sag \"\" false\nunit mm, lines , wanted false\ntake [] of mm\nfrom []\nrooms []\n" +
				strings.Replace(end, "front 9, rear 3, front 3, rear 9", "the bolts of the flange across the circle", 1)},
	} {
		e := workText(t, c.lines...)
		card, ok := e.Card(0)
		got := cardTold(&card)
		if c.want == "" { // in inch
			if card.Unit != "mil" || card.TakeIn != "mil" || card.Gap != "wanted 4000 mil, ± 500 mil" && card.Gap != "wanted 4 mil, ± 0.5 mil" {
				t.Errorf("%s", got)
			}
			continue
		}
		if !ok || got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.lines, got, c.want)
		}
	}
	e := workText(t, "Machines: Machine=P-1", "Machines: Note")
	for _, i := range []int{-1, 1, 2} {
		if _, ok := e.Card(i); ok {
			t.Errorf("a card of row %d", i)
		}
	}
	// A job that was saved says so.
	j := jobText(t, "Machines: Machine=P-1")
	j.Revision, j.SavedAt = 12, "2026-04-12T16:40:00Z"
	if c, _ := work(t, j).Card(0); len(c.Job) != 1 || c.Job[0][0] != "Revision" || !strings.HasPrefix(c.Job[0][1], "revision 12") {
		t.Errorf("%q", c.Job)
	}
	// The gap between hubs is worded by what is known of it.
	for cells, want := range map[string]string{"Gap wanted=4": "wanted 4 mm", "Gap wanted=4 | End float=1": "wanted 4 mm, end float 1 mm", "Shaft gap=3": ""} {
		c, _ := workText(t, plus(panelText, "2: "+cells)...).Card(0)
		if c.Gap != want {
			t.Errorf("%s: %q", cells, c.Gap)
		}
	}
}

// The text of a code: letters, digits and a few signs stand as they are; all else by its bytes.
func TestCardCodeText(t *testing.T) {
	for c, want := range map[CardCode]string{
		{"azAZ09-_.,", "a b", "1"}: "azAZ09-_.,/a b/1", {" a", "b ", " "}: "%20a/b%20/%20", {"`{@[/:", "ä", ""}: "%60%7B%40%5B%2F%3A/%C3%A4/", {"a\tb", "%", "+"}: "a%09b/%25/%2B",
	} {
		if got := c.String(); got != "shimsheet-card:"+want {
			t.Errorf("%q: %s", c, got)
		}
	}
	for text, want := range map[string]CardCode{"shimsheet-card:a/b/c": {"a", "b", "c"}, "shimsheet-card://": {}, "Shimsheet-Card:%41%62/%c3%A4/": {"Ab", "ä", ""}} {
		if got, ok := ParseCardCode(text); !ok || got != want {
			t.Errorf("%s: %q %v", text, got, ok)
		}
	}
	for _, text := range []string{"shimsheet-card:", "shimsheet-card", "shimsheet-cards:a/b/c", "shimsheet-card:a/b/%", "shimsheet-card:a/b/%4", "shimsheet-card:a/b/%4g", "shimsheet-card:a/b", "shimsheet-card:a/b/c/"} {
		if got, ok := ParseCardCode(text); ok || got != (CardCode{}) {
			t.Errorf("%s: %q %v", text, got, ok)
		}
	}
	e := workText(t, "Machines: Machine=P-1", "Machines: Machine", "Machines: Machine=p-1", "Machines: Machine=Q")
	for name, want := range map[string]int{"P-1": 0, " p-1": 0, "q": 3, "": -1, "R": -1} {
		if got := e.FindCard(CardCode{Machine: name}); got != want {
			t.Errorf("%q: row %d", name, got)
		}
	}
}

// Cards parted by area or crew, by name whatever its case, those that say nothing last, rows in their order.
func TestCardsParted(t *testing.T) {
	e := workText(t, "Machines: Machine=1 | Area=west | Crew=2", "Machines: Machine=2 | Area | Crew=1", "Machines: Machine=3 | Area=East | Crew=2", "Machines: Machine=4 | Area=west | Crew=n/a", "Machines: Machine=5 | Area=-", "Machines: Machine=6 | Area= East ")
	for by, want := range map[string]string{"area": "East [2 5] west [0 3]  [1 4]", "crew": "1 [1] 2 [0 2]  [3 4 5]", "": " [0 1 2 3 4 5]"} {
		names, groups := e.CardGroups([]int{0, 1, 2, 3, 4, 5}, by)
		got := ""
		for k := range names {
			got += fmt.Sprintf("%s %v ", names[k], groups[k])
		}
		if strings.TrimSuffix(got, " ") != want {
			t.Errorf("%s: %q", by, got)
		}
	}
	if names, groups := e.CardGroups(nil, "area"); len(names)+len(groups) > 0 {
		t.Error(names)
	}
}

// A board parted by each of its columns: which groups, in which order, what they count; and what a machine waits for, in words.
func TestBoardsParted(t *testing.T) {
	list := []BoardRow{{Machine: "a", Area: "west", Crew: "2", Date: "2026-04-02", Priority: 10, Stage: evaluate.StageInside}, {Machine: "b", Area: "East", Priority: 0, Stage: evaluate.StageWaiting, Date: "2026-04-01"}, {Machine: "c", Area: "", Crew: "1", Priority: 2, Stage: evaluate.StageInside}, {Machine: "d", Area: "west", Crew: "2", Priority: 2, Stage: evaluate.StageMoving}}
	for by, want := range map[string]string{"stage": "waiting: b (1 waiting)|moving: d (1 moving)|inside: ac (2 inside)", "area": "East: b (1 waiting)|west: ad (1 moving, 1 inside)|: c (1 inside)", "crew": "1: c (1 inside)|2: ad (1 moving, 1 inside)|: b (1 waiting)",
		"date": "2026-04-01: b (1 waiting)|2026-04-02: a (1 inside)|: cd (1 moving, 1 inside)", "priority": "2: cd (1 moving, 1 inside)|10: a (1 inside)|: b (1 waiting)"} {
		got := ""
		for _, g := range GroupBoard(list, by) {
			got += "|" + g.Name + ": "
			for _, b := range g.Rows {
				got += b.Machine
			}
			got += " (" + g.Words() + ")"
		}
		if got != "|"+want {
			t.Errorf("%s: %s", by, got)
		}
	}
	if len(BoardBy) != 5 || GroupBoard(nil, "area") != nil {
		t.Error(BoardBy)
	}
	for _, c := range []struct {
		b    BoardRow
		want string
	}{{BoardRow{}, ""}, {BoardRow{Holds: []string{"a", "b"}}, "hold point: a, b"}, {BoardRow{Short: []string{"x", "y"}}, "short of shims: x, y"}, {BoardRow{Settle: "s"}, "s"}, {BoardRow{Why: "w"}, "w"}, {BoardRow{Holds: []string{"a"}, Short: []string{"x"}, Settle: "s", Why: "w"}, "hold point: a; short of shims: x; s; w"}} {
		if got := c.b.Waits(); got != c.want {
			t.Errorf("%+v: %s", c.b, got)
		}
	}
	// What stands there of each machine, and nothing of rows that are none.
	e := workText(t, plus(panelText, "2: Area= west | Crew=2 | Date=2026-04-02 | Work order=4711 | Priority=3", "Machines: Machine", "Machines: Machine=Total | Speed=3", "Machines: Machine=x | Area=n | Method=line | Given offset V=x")...)
	board := e.Board()
	if len(board) != 2 || board[0].At != 0 || board[1].At != 3 {
		t.Fatalf("%+v", board)
	}
	if got := strings.Replace(fmt.Sprintf("%+v", board[0]), fmt.Sprintf("Stage:%d", evaluate.StageMeasured), "Stage:measured", 1); got != "{At:0 Machine:pump Area:west Crew:2 Date:2026-04-02 WorkOrder:4711 Priority:3 Stage:measured Round:found Holds:[] Short:[] Settle: Why:}" {
		t.Error(got)
	}
	if board[1].Why != string(e.AppendWhy(nil, e.Row(3))) || board[1].Stage != evaluate.StageWaiting && board[1].Stage != evaluate.StageNotJudged {
		if board[1].Stage == evaluate.StageNotJudged || board[1].Why != "" {
			t.Errorf("%+v", board[1])
		}
	}
	for key, want := range map[string]string{"area": "west", "crew": "2", "work_order": "4711", "no such": "", "base": ""} {
		if got := e.Typed(0, key); got != want {
			t.Errorf("%s: %q", key, got)
		}
	}
	// Only a verdict that is too close to call is to be settled.
	e = workText(t, plus(roundsText, "2: Offset limit=0.1 | Slope limit=5", "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.1}))...)
	if b := e.Board()[0]; e.Row(0).Verdict != calc.TooClose || b.Settle == "" || !strings.Contains(sentencesOf(e, 0, SentenceHint, SentenceLine, SentenceVerdict, SentenceDo), strings.Split(b.Settle, ". ")[0]) {
		t.Errorf("%v %+v", e.Row(0).Verdict, b)
	}
	e = workText(t, plus(roundsText, "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.3}))...)
	if b := e.Board()[0]; b.Settle != "" {
		t.Errorf("%+v", b)
	}
}
