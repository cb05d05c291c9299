package headers

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// Lists with headers as planners word them, made up for this test: below each header what it means. A ? in front: more than one meaning is as
// likely, so that it is to be asked, the true one among the choices. Common practice, no source.
var lists = []struct {
	about string
	kind  job.SheetKind
	above string
	text  string // header; meanings; rows
}{
	{"short forms, angles, fourteen columns", job.MachinesSheet, "", `Equip no;Driver RPM;Cplg;Cplg-FF;FF-RF;S plane;M plane;M 0;M 90;M 180;M 270;S 0;S 90;S 180;S 270
machine;speed;coupling;coupling_to_front_feet;front_to_rear_feet;coupling_to_stationary_plane;coupling_to_movable_plane;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;stationary_rim_12;stationary_rim_3;stationary_rim_6;stationary_rim_9
P-101;1480;short;410;620;120;130;0;0.05;0.12;0.07;0;-0.15;-0.02;0.13
P-102;2970;spacer;400;600;120;130;0;0.05;0.12;0.07;0;-0.15;-0.02;0.13`},
	{"rim and face by R and F", job.MachinesSheet, "", `Asset;n;Type;Dim cplg to front ft;Dim F-R ft;Face Ø;R12;R3;R6;R9;F12;F3;F6;F9;Technique
machine;speed;coupling;coupling_to_front_feet;front_to_rear_feet;face_diameter;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;face_12;face_3;face_6;face_9;method
P-101;1480;short;410;620;120;0;0.05;0.12;0.07;0;-0.15;-0.02;0.13;rim and face
P-102;2970;spacer;400;600;120;0;0.05;0.12;0.07;0;-0.15;-0.02;0.13;rim & face`},
	{"two series of sides without a word whose they are; two machines", job.MachinesSheet, "", `Pump;Motor;Revs;T;R;B;L;T;R;B;L
?stationary;?machine;speed;?movable_rim_12;?movable_rim_3;?movable_rim_6;?movable_rim_9;?stationary_rim_12;?stationary_rim_3;?stationary_rim_6;?stationary_rim_9
P1;M1;1480;0;.1;.2;.1;0;.1;.2;.1
P2;M2;1480;0;.1;.2;.1;0;.1;.2;.1`},
	{"the same under words for each group", job.MachinesSheet, ";;;Mov hub rim;;;;Stat hub rim", `Equip tag;Revs;Cplg to mov plane;T;R;B;L;T;R;B;L
machine;speed;coupling_to_movable_plane;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;stationary_rim_12;stationary_rim_3;stationary_rim_6;stationary_rim_9
M1;1480;120;0;.1;.2;.1;0;.1;.2;.1
M2;1480;120;0;.1;.2;.1;0;.1;.2;.1`},
	{"drive end and non-drive end are asked", job.MachinesSheet, "", `Tag;Speed min-1;DE feet;DE 12;DE 3;DE 6;DE 9;Inboard 12;Inboard 3;Inboard 6;Inboard 9
machine;speed;?coupling_to_front_feet;?movable_rim_12;?movable_rim_3;?movable_rim_6;?movable_rim_9;?stationary_rim_12;?stationary_rim_3;?stationary_rim_6;?stationary_rim_9
P1;1480;400;0;.1;.2;.3;0;.1;.2;.3`},
	{"slips of the pen", job.MachinesSheet, "", `Machine;Movabel rim 12;Mov. rim 3;MovRim 6;mov rm 9;Bar sag;Speeed
machine;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;?movable_sag_6;speed
P1;0;.1;.2;.1;-.1;1480`},
	{"gaps at sides, a rim that may be several", job.MachinesSheet, "", `Machine;Speed;Rim top;Rim right;Rim bottom;Rim left;Gap top;Gap right;Gap bottom;Gap left;gap dia mm
machine;speed;?movable_rim_12;?movable_rim_3;?movable_rim_6;?movable_rim_9;gap_12;gap_3;gap_6;gap_9;face_diameter
P1;1480;0;.1;.2;.1;0;.1;.2;.1;200`},
	{"radial beside axial", job.MachinesSheet, "", `Machine;radial top;radial right;radial bottom;radial left;axial top;axial right;axial bottom;axial left;dial swing dia mm
machine;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;face_12;face_3;face_6;face_9;face_diameter
P1;0;.1;.2;.1;0;.1;.2;.1;200`},
	{"reverse dials named by the method column", job.MachinesSheet, "", `No;How;M-12 (mil);M-3 (mil);M-6 (mil);M-9 (mil);S-12 (mil);S-3 (mil);S-6 (mil);S-9 (mil);sweep dia (in)
machine;method;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;stationary_rim_12;stationary_rim_3;stationary_rim_6;stationary_rim_9;face_diameter
A1;reverse dial;0;1;2;3;0;2;4;2;8
A2;reverse dial;0;1;2;3;0;2;4;2;8`},
	{"the top of a clock called 0", job.MachinesSheet, "", `Machine;mv r 0;mv r 3;mv r 6;mv r 9;st r 0;st r 3;st r 6;st r 9
machine;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;stationary_rim_12;stationary_rim_3;stationary_rim_6;stationary_rim_9
P1;0;.1;.2;.1;0;.1;.2;.1`},
	{"feet of a machine in brackets are no unit", job.MachinesSheet, "", `Machine;Speed;L1 (cplg - front feet);L2 (front foot - rear foot)
machine;speed;coupling_to_front_feet;front_to_rear_feet
P1;1480;410;620`},
	{"a last 12 closes the turn", job.MachinesSheet, "", `Machine;mv r 12;mv r 3;mv r 6;mv r 9;mv r 12
machine;movable_rim_12;movable_rim_3;movable_rim_6;movable_rim_9;movable_rim_12_again
P1;0;.1;.2;.1;.01`},
	{"letters for distances are no guess", job.MachinesSheet, "", `Machine;A;B;C;Ref;Foreman
machine;;;;;
P1;100;200;300;x;Miller`},
	{"the first column of texts is a machine in a list of machines only", job.MachinesSheet, "", `Foreman;Speed
;speed
A;1480
B;2970`},
	{"shims on a shelf", job.StockSheet, "", `thk mm;qty;Bin
thickness;pieces;
0.5;20;A
0.2;10;B`},
}

func columnsOf(text string) (header, truth []string, rows [][]string) {
	for i, line := range strings.Split(text, "\n") {
		switch cells := strings.Split(line, ";"); i {
		case 0:
			header = cells
		case 1:
			truth = cells
		default:
			rows = append(rows, cells)
		}
	}
	return
}

// evidence: calc=matching of headers grade=practice count=13 source=lists made up in the wording of planners, with what each column means; common practice, no source
func TestLook(t *testing.T) {
	for _, l := range lists {
		header, truth, rows := columnsOf(l.text)
		var above []string
		if l.above != "" {
			above = strings.Split(l.above, ";")
		}
		got := Look(List{Kind: l.kind, Header: header, Above: above, Rows: rows})
		if len(got) != len(header) {
			t.Errorf("%s: %d columns of %d", l.about, len(got), len(header))
			continue
		}
		for i, c := range got {
			want, ask := strings.CutPrefix(truth[i], "?")
			bad := ""
			switch {
			case ask && c.State != Asked:
				bad = "is not asked"
			case ask && !slices.Contains(c.Keys, want):
				bad = "the truth is no choice"
			case !ask && want == "" && c.State != Unread:
				bad = "is no column of ours"
			case !ask && want != "" && (c.Key != want || c.State != Known && c.State != Guessed):
				bad = "means " + want
			case (c.State == Guessed || c.State == Asked) && c.Why == "":
				bad = "no reason is given"
			}
			if strings.ContainsAny(c.Unit, "()[]") { // seen: "foot)" of "front foot - rear foot)", so that 620 was offered in feet
				bad = "bears the unit " + c.Unit
			}
			if bad != "" {
				t.Errorf("%s: %q %s: %s %s %v (%s)", l.about, c.Header, bad, c.State, c.Key, c.Keys, c.Why)
			}
		}
	}
}

// A guess that the texts of the column speak against is none.
func TestLookAtTexts(t *testing.T) {
	for _, c := range []struct{ header, cells, key string }{
		{"Cplg-FF", "410 400", "coupling_to_front_feet"},
		{"Cplg-FF", "-410 400", ""},       // a distance has no sign
		{"Cplg-FF", "pump motor", ""},     // nor is it a word
		{"Cplg-FF [mil]", "0 0", ""},      // nor nothing
		{"Moveable rm 12", "450 470", ""}, // no dial reads half a metre
		{"Moveable rm 12", "0.1 -0.2", "movable_rim_12"},
		{"Moveable rm 12 rpm", "0.1 -0.2", ""},                           // a unit of something else
		{"Vertical offset (mils)", "-5_(motor_low) 3", "given_offset_v"}, // seen: no guess at all, for the remark in half of the cells
		{"Vertical offset (mils)", "low -5_(motor_low) 3", ""},
		{"What", "short spacer", "coupling"},
		{"What", "short none-such", ""},
	} {
		var rows [][]string
		for _, s := range strings.Fields(c.cells) {
			rows = append(rows, []string{"P " + s, strings.ReplaceAll(s, "_", " ")})
		}
		got := Look(List{Kind: job.MachinesSheet, Header: []string{"Machine", c.header}, Rows: rows})[1]
		key := got.Key
		if got.State == Asked && slices.Contains(got.Keys, "coupling") {
			key = "coupling"
		}
		if key != c.key {
			t.Errorf("%q of %s: %s %s %v, want %q", c.header, c.cells, got.State, got.Key, got.Keys, c.key)
		}
	}
}

func TestFindHeader(t *testing.T) {
	for _, l := range lists {
		header, _, rows := columnsOf(l.text)
		all := append([][]string{{"Spring list"}, {"as of", "Monday"}, header}, rows...)
		if got := FindHeader(l.kind, all, nil); got != 2 && l.kind == job.MachinesSheet && !strings.HasPrefix(l.about, "letters") {
			t.Errorf("%s: header in row %d", l.about, got)
		}
	}
	for _, rows := range [][][]string{{{"0.1", "0.2", "0.3"}, {"1", "2", "3"}}, {{"P-101", "0.2", "short"}, {"P-102", "0.3", "spacer"}}, nil, {{""}}} {
		if got := FindHeader(job.MachinesSheet, rows, nil); got != -1 {
			t.Errorf("%q: header in row %d", rows, got)
		}
	}
}

// What was settled once is known the next time, also where one text names several columns.
func TestRemember(t *testing.T) {
	header := []string{"Pump", "T", "R", "B", "L", "T", "R", "B", "L", "Speed"}
	choices := []Choice{{0, "machine", ""}, {1, "movable_rim_12", "mil"}, {2, "movable_rim_3", "mil"}, {5, "stationary_rim_12", ""}, {6, "", ""}, {9, "", ""}}
	anew, learnt := Apply(job.MachinesSheet, header, choices)
	want := []string{"Machine", "Movable rim 12 [mil]", "Movable rim 3 [mil]", "B", "L", "Stationary rim 12", "R", "B", "L", "Kept unread: Speed"}
	if !slices.Equal(anew, want) {
		t.Errorf("%q", anew)
	}
	if s := fmt.Sprint(learnt); s != "[{Machines Pump Machine} {Machines T Movable rim 12 [mil]} {Machines R Movable rim 3 [mil]} {Machines T #2 Stationary rim 12}]" {
		t.Error(s)
	}
	j := &job.Table{Header: []string{"Name", "Value"}}
	for _, o := range learnt {
		j.Rows = append(j.Rows, o.Row())
	}
	back := evaluate.OwnHeaders(j)
	if !slices.Equal(back, learnt) {
		t.Errorf("%v comes back as %v", learnt, back)
	}
	table := &job.Table{Header: slices.Clone(header)}
	if cols := ApplyBefore(job.MachinesSheet, table, back); !slices.Equal(cols, []int{0, 1, 2, 5}) || table.Header[5] != "Stationary rim 12" || table.Header[9] != "Speed" {
		t.Errorf("%v %q", cols, table.Header)
	}
	if h := FindHeader(job.MachinesSheet, [][]string{{"Title"}, header, {"P1", "0"}}, back); h != 1 {
		t.Errorf("header in row %d", h)
	}
	got := Look(List{Kind: job.MachinesSheet, Header: header, Rows: [][]string{{"P1", "0", "1", "2", "3", "0", "1", "2", "3", "1480"}}, Before: back})
	if got[1].State != Before || got[1].Key != "movable_rim_12" || got[1].Unit != "mil" || got[3].State == Before {
		t.Errorf("%+v", got[:4])
	}
}

// Seen: a column of dial readings at the top, all of them 0, was taken for Gap read at, one of whose words is 0.
func TestNumbersAreNoWords(t *testing.T) {
	header := []string{"Tag", "Dial on pump hub: top", "right", "bottom", "left", "Dial on motor hub: top"}
	got := Look(List{Kind: job.MachinesSheet, Header: header, Rows: [][]string{{"P-201A", "0", "3", "-6", "-9", "0"}, {"P-201B", "0", "1", "4", "3", "0"}}})
	for _, c := range got {
		if c.Key == "gap_read_at" || slices.Contains(c.Keys, "gap_read_at") {
			t.Errorf("%+v", c)
		}
	}
}

// Whatever is written in a header, a look does not fail, never guesses one meaning twice, and none that is known already.
func FuzzLook(f *testing.F) {
	for _, l := range lists {
		f.Add(l.text)
	}
	f.Add("12;3;6;9;12;3;6;9;12\n;;;\n1;2;3;4;5")
	f.Add("[mm];(;m [;°;12°;R R;T T T")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 3000 {
			return
		}
		header, above, rows := columnsOf(text)
		for _, kind := range job.SheetKinds() {
			seen := map[string]bool{}
			cols := Look(List{Kind: kind, Header: header, Above: above, Rows: rows})
			for _, c := range cols {
				if c.State == Guessed || c.State == Before {
					if seen[c.Key] || info(kind, c.Key) == nil {
						t.Fatalf("%q: %s is guessed twice, or is nothing", header, c.Key)
					}
				}
				if c.State != Known && c.State != Unread || c.Key != "" {
					seen[c.Key] = c.Key != ""
				}
				if c.State == Asked && (len(c.Keys) == 0 || c.Key != "") {
					t.Fatalf("%q: a question without choices", header)
				}
			}
			FindHeader(kind, append([][]string{above, header}, rows...), nil)
		}
	})
}

// Which of two machines is moved a word such as motor or pump does not say: a series under it is asked about, for both. Seen: "Rim dial on motor hub" was guessed to ride on the stationary one.
func TestKindOfMachineIsAsked(t *testing.T) {
	header := []string{"Machine", "Speed", "Rim dial on motor hub 12", "Rim dial on motor hub 3", "Rim dial on motor hub 6", "Rim dial on motor hub 9", "Rim dial on pump hub 12", "Rim dial on pump hub 3", "Rim dial on pump hub 6", "Rim dial on pump hub 9"}
	for _, c := range Look(List{Kind: job.MachinesSheet, Header: header, Rows: [][]string{{"P 1", "1480", "0", "1", "2", "1", "0", "1", "2", "1"}}}) {
		if place, ok := strings.CutPrefix(c.Header, "Rim dial on motor hub "); ok {
			if c.State != Asked || !slices.Contains(c.Keys, "movable_rim_"+place) || !slices.Contains(c.Keys, "stationary_rim_"+place) || !strings.Contains(c.Why, "motor") {
				t.Errorf("%+v", c)
			}
		}
	}
}

// Seen: a list whose headers were matched before lost the unit that its title says of the readings, and the row of units under its own names: readings in hundredths of a millimetre, and
// in mil, were read in millimetres.
func TestUnitsOfMatchedLists(t *testing.T) {
	before := []evaluate.OwnHeader{}
	for header, means := range map[string]string{"T": "Movable rim 12", "R": "Movable rim 3", "B": "Movable rim 6", "L": "Movable rim 9", "T #2": "Stationary rim 12", "R #2": "Stationary rim 3", "B #2": "Stationary rim 6", "L #2": "Stationary rim 9",
		"Tag": "Machine", "Gap": "Coupling to front feet [in]"} {
		o, ok := evaluate.ParseOwnHeader("Header of Machines: "+header, means)
		if !ok {
			t.Fatal(header)
		}
		before = append(before, o)
	}
	const names = "Tag;Speed;Gap;T;R;B;L;T;R;B;L;Weight"
	const row = "P 1;1480;16;0;5;12;7;0;-15;-2;13;900"
	for _, c := range []struct{ about, list, header string }{
		{"neither", names + "\n" + row, "Tag;Speed;Coupling to front feet [in];Movable rim 12;Movable rim 3;Movable rim 6;Movable rim 9;Stationary rim 12;Stationary rim 3;Stationary rim 6;Stationary rim 9;Weight"},
		{"a title", "All readings in 1/100 mm\n" + names + "\n" + row, "Tag;Speed;Coupling to front feet [in];Movable rim 12 [0.01 mm];Movable rim 3 [0.01 mm];Movable rim 6 [0.01 mm];Movable rim 9 [0.01 mm];" +
			"Stationary rim 12 [0.01 mm];Stationary rim 3 [0.01 mm];Stationary rim 6 [0.01 mm];Stationary rim 9 [0.01 mm];Weight"},
		{"a row of units", names + "\n;rpm;in;mil;mil;mil;mil;mil;mil;mil;mil;kg\n" + row, "Tag;Speed [rpm];Coupling to front feet [in];Movable rim 12 [mil];Movable rim 3 [mil];Movable rim 6 [mil];Movable rim 9 [mil];" +
			"Stationary rim 12 [mil];Stationary rim 3 [mil];Stationary rim 6 [mil];Stationary rim 9 [mil];Weight [kg]"},
		{"a row of units that says other than what was matched", names + "\n;rpm;mm;mil;mil;mil;mil;mil;mil;mil;mil;\n" + row, "Tag;Speed [rpm];Coupling to front feet [in or mm];Movable rim 12 [mil];Movable rim 3 [mil];Movable rim 6 [mil];Movable rim 9 [mil];" +
			"Stationary rim 12 [mil];Stationary rim 3 [mil];Stationary rim 6 [mil];Stationary rim 9 [mil];Weight"},
	} {
		var rows [][]string
		for _, l := range strings.Split(c.list, "\n") {
			rows = append(rows, strings.Split(l, ";"))
		}
		tab := &job.Table{Rows: rows, FirstRow: 1}
		if !tab.SplitHeader(job.MachinesSheet) {
			at := FindHeader(job.MachinesSheet, rows, before)
			tab.Title, tab.Header, tab.Rows, tab.FirstRow = rows[:at:at], rows[at], rows[at+1:], at+2
		}
		ApplyBefore(job.MachinesSheet, tab, before)
		if got := strings.Join(tab.Header, ";"); got != c.header || len(tab.Rows) != 1 || strings.Join(tab.Rows[0], ";") != row || tab.SourceRow(0) != len(rows) {
			t.Errorf("%s:\n%s\n%s\nrow %d: %q", c.about, got, c.header, tab.SourceRow(0), tab.Rows)
		}
	}
}
