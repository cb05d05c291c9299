package sentences

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// highRow is the mirror image of lowRow in both planes.
var highRow = []string{"Speed=1480", "Method=line", "Given offset V=0.3", "Given slope V=0.2", "Given offset H=-0.1", "Given slope H=-0.05", "Coupling to front feet=300", "Front to rear feet=500"}

// What a row of the Feet sheet may hold, and what each lack and each contradiction is answered with. A row that cannot be used leaves the machine without packs and without a verdict: which shims lie there is not known.
func TestRowsOfFeet(t *testing.T) {
	bad := func(row int) string {
		return fmt.Sprintf("error Machines row 2: the Feet sheet has a row for this machine that cannot be used, row %d (hint: mend it there, or take it out)\nverdict=not judged feet.#=0 front_shim_mm=null packs.#=0 offset_v_mm=-0.3\n", row)
	}
	one := func(header, cells string) string { return "Feet: Machine,Foot," + header + "\npump,front 9," + cells }
	list := []jobCase{
		{"", one("Along", ""), "feet.#=1 feet.0.station_mm=300 feet.0.foot=front 9 feet.0.row=2 feet.0.across_mm=null feet.0.align_mm=0.36 feet.0.shim_mm=0.36 feet.0.soft_mm=0 verdict=outside"},
		{"", "Feet: Machine,Foot\npump,rear 3", "feet.0.station_mm=800 feet.0.align_mm=0.46"},
		{"", "Feet: Machine,Foot\npump,leg", bad(2) + "error Feet row 2, Along: missing (hint: write it, or name the foot front or rear; of feet with numbers alone say on the Job sheet, under Feet numbered, which is which)"},
		{"", "Feet: Machine,Foot,Along\npump,leg,550", "feet.0.station_mm=550 feet.0.align_mm=0.41"},
		{"", "Feet: Machine,Foot,Along\npump,,550", bad(2) + "error Feet row 2, Foot: missing (hint: write front 9, front 3, rear 9, rear 3, or another name with Along and Across)"},
		{"", "Feet: Machine,Foot\npump,front 9\npump,Front-9", bad(3) + "error Feet row 3, Foot: this machine has a foot Front-9 already (hint: each foot has a name of its own: front 9, front 3, rear 9, rear 3)"},
		{"", "Feet: Machine,Foot,Along\npump,front 9,x\npump,front 9,\npump,rear 9,y", bad(2) + "error Feet row 2, Along: \"x\" is not …\nerror Feet row 4, Along: \"y\" is not …"}, // the first of two is named; a bad row takes no name
		{"", "Feet: Machine,Foot,Along\npump,front 9,\n,front 3,300\npump,rear 9,", bad(3) + "error Feet row 3, Machine: missing…"},
		{"", "Feet: Machine,Foot,Along\n,front 3,300\npump,rear 9,", "error Feet row 2, Machine: missing…\nfeet.#=1"},
		{"", "Feet: Machine,Foot\nfan,front 3", "error Feet row 2, Machine: \"fan\" is not on the Machines sheet (hint: write the name as it is there)\nfeet.#=0 front_shim_mm=0.36"},
		// Across: the side in the name gives its sign.
		{"", one("Across", "200"), "feet.0.across_mm=-200"}, {"", one("Across", "-200"), "feet.0.across_mm=-200"},
		{"", "Feet: Machine,Foot,Across\npump,front 3,200", "feet.0.across_mm=200"},
		{"", "Feet: Machine,Foot,Across\npump,front 3,-200", bad(2) + "error Feet row 2, Across: the foot \"front 3\" stands at 3 o'clock, and Across \"-200\" is towards 9 (hint: towards 3 o'clock is positive; with the side in the name the sign may be left out)"},
		{"", "Feet: Machine,Foot,Across\npump,front,-200", "feet.0.across_mm=-200"}, {"", "Feet: Machine,Foot,Across\npump,front,200", "feet.0.across_mm=200"},
		{"Seen from=stationary", one("Across", "200"), "feet.0.across_mm=200 feet.0.foot=front 9"},
		// Numbers that cannot be.
		{"", one("Rise", "-0.1"), "error Feet row 2: the soft foot cannot be worked out: a machine has 3 to 12 feet (hint: list every foot of the machine, and no other)"}, // a rise may be downwards
		{"", one("Foot length", "0"), bad(2) + "error Feet row 2, Foot length: \"0\" cannot be (hint: write a number of more than 0)"},
		{"", one("Foot width", "0"), bad(2) + "error Feet row 2, Foot width: \"0\" cannot be (hint: write a number of more than 0)"},
		{"", one("Foot length,Foot width", "1,1"), "feet.#=1"},
		// A pack in place.
		{"", one("Pack in place", "0.5+0.2"), "feet.0.in_place_mm=[0.5,0.2]"}, {"", one("Pack in place", "0"), "feet.0.in_place_mm=[]"}, {"", one("Pack in place", ""), "feet.0.in_place_mm=null"}, {"", one("Pack in place", "bare"), "feet.0.in_place_mm=[]"},
		{"", one("Pack in place [mil]", "10+5"), "feet.0.in_place_mm=[0.254,0.127]"}, {"", one("Pack in place", "10 mil + 0.5 mm"), "feet.0.in_place_mm=[0.254,0.5]"},
		{"", one("Pack in place", "10 mil + 0.5"), bad(2) + "error Feet row 2, Pack in place: …"}, // may be meant as 0.5 mil
		{"", one("Pack in place", "much"), bad(2) + "error Feet row 2, Pack in place: …is no list of pieces…(hint: write 0.5+0.2+0.1, 2 x 0.5 + 0.1, or 0 for the bare base)"},
		{"", one("Pack in place", "0.5+-0.2"), bad(2) + "error Feet row 2, Pack in place: …(hint: write 0.5+0.2+0.1, 2 x 0.5 + 0.1, or 0 for the bare base)"},
		{"", one("Pack in place", "0.5 + 0"), bad(2) + "error Feet row 2, Pack in place: …(hint: write 0.5+0.2+0.1, 2 x 0.5 + 0.1, or 0 for the bare base)"},
		// What nobody measured is no soft foot; one that was measured on one foot alone is asked for.
		{"", "Feet: Machine,Foot,Foot length\npump,front 9,100\npump,front 3,100\npump,rear 9,100\npump,rear 3,100", "soft_foot=null"},
	}
	for _, col := range []string{"Gap", "Corner front 9", "Corner front 3", "Corner rear 9", "Corner rear 3", "Room up", "Room down", "Room left", "Room right"} {
		list = append(list, jobCase{"", one(col, "-0.1"), bad(2) + "error Feet row 2, " + col + ": \"-0.1\" cannot be (hint: write it without a sign; 0 is possible)"})
	}
	for _, col := range []string{"Foot length", "Foot width"} {
		list = append(list, jobCase{"", one(col, "-1"), bad(2) + "error Feet row 2, " + col + ": \"-1\" cannot be (hint: write a number of more than 0)"})
	}
	for k, col := range []string{"up", "down", "left", "right"} { // each room is its own
		want := [4]string{"null", "null", "null", "null"}
		want[k] = "9"
		list = append(list, jobCase{"", one("Room "+col, "9"), fmt.Sprintf("feet.0.room_up_mm=%s feet.0.room_down_mm=%s feet.0.room_left_mm=%s feet.0.room_right_mm=%s", want[0], want[1], want[2], want[3])})
		if k > 1 {
			want[2], want[3] = want[3], want[2]
			list = append(list, jobCase{"Seen from=stationary", one("Room "+col, "9"), fmt.Sprintf("feet.0.room_left_mm=%s feet.0.room_right_mm=%s", want[2], want[3])})
		}
	}
	// Corners: all four, or the first that lacks is asked for.
	corners := []string{"Corner front 9", "Corner front 3", "Corner rear 9", "Corner rear 3"}
	for lack := 1; lack < 15; lack++ {
		cells, first := "", ""
		for k, c := range corners {
			v := "0.1"
			if lack>>k&1 == 1 {
				v = ""
				if first == "" {
					first = c
				}
			}
			cells += v + ","
		}
		list = append(list, jobCase{"", one(strings.Join(corners, ","), cells), bad(2) + "error Feet row 2, " + first + ": missing (hint: give all four corners, or Gap alone)"})
	}
	// As many pieces as are taken, and one more.
	list = append(list, jobCase{"", one("Pack in place", "16 x 0.05"), "feet.#=1"}, jobCase{"", one("Pack in place", "17 x 0.05"), bad(2) + "error Feet row 2, Pack in place: 17 pieces are more than the 16 that are taken (hint: write 0.5+0.2+0.1, 2 x 0.5 + 0.1, or 0 for the bare base)"})
	cases(t, job.Error, lowRow, "", list)
}

// Feet that bear numbers are where the setting Feet numbered says; a number beyond it, and a name of more than one word, is asked about.
func TestFeetByNumber(t *testing.T) {
	numbered := "Job: Feet numbered=front 9, rear 3\nFeet: Machine,Foot\npump,"
	asked := "error Feet row 2, Along: missing …\nerror Machines row 2: …"
	cases(t, job.Error, lowRow, "", []jobCase{
		{"", numbered + "1", "feet.0.station_mm=300"}, {"", numbered + "2", "feet.0.station_mm=800"}, {"", numbered + "3", asked}, {"", numbered + "0", asked}, {"", numbered + "foot 2", "feet.0.station_mm=800"}, {"", numbered + "no. 1", "feet.0.station_mm=300"},
		{"", numbered + "nr 2", "feet.0.station_mm=800"}, {"", numbered + "F2", asked}, {"", numbered + "f 2", "feet.0.station_mm=800"}, {"", numbered + "#2", "feet.0.station_mm=800"}, {"", numbered + "leg 2", asked}, {"", numbered + "foot no 2", asked},
		{"", numbered + "front 2", "feet.0.station_mm=300"}, {"", "Feet: Machine,Foot\npump,1", asked},
		{"", "Job: Feet numbered=front 9; rear 3\nFeet: Machine,Foot\npump,2", "feet.0.station_mm=800"},
		{"", "Job: Feet numbered=front 9, front 9\nFeet: Machine,Foot\npump,1", asked + "\nerror Job row 1, Feet numbered: …"},
		{"", "Job: Feet numbered=front 9, rear\nFeet: Machine,Foot\npump,1", asked + "\nerror Job row 1, Feet numbered: …"},
		{"", "Job: Feet numbered=front 9, 3\nFeet: Machine,Foot\npump,1", asked + "\nerror Job row 1, Feet numbered: …"},
	})
}

const (
	thickStock = "Stock: Thickness\n0.01\n0.02\n0.05\n0.1\n0.2\n0.5\n1\n2"
	four       = "Feet: Machine,Foot,Along,Pack in place\n"
)

// What each foot is asked: the shims of one machine lie on a straight line, so that of a foot by itself is 0.3 + 0.2 · its place; within 1 mm of a pair it is one of the pair's.
func TestShimsOfFeet(t *testing.T) {
	at := func(x string) string { return "Feet: Machine,Foot,Along\npump,A," + x }
	pairs := "Feet: Machine,Foot,Pack in place\npump,front 9,%s\npump,front 3,%s\npump,rear 9,%s\npump,rear 3,%s"
	cases(t, job.Error, lowRow, thickStock, []jobCase{
		{"", at("300"), "feet.0.align_mm=0.36 feet.0.shim_mm=0.36 feet.0.u_align_mm=0.036517028"},
		{"", at("301"), "feet.0.align_mm=0.36 feet.0.u_align_mm=0.036517028"}, {"", at("299"), "feet.0.align_mm=0.36"}, {"", at("801"), "feet.0.align_mm=0.46 feet.0.u_align_mm=0.082665914"},
		{"", at("301.1"), "feet.0.align_mm=0.36022 feet.0.u_align_mm=0.082665914"}, {"", at("298.5"), "feet.0.align_mm=0.3597"}, {"", at("802"), "feet.0.align_mm=0.4604"}, {"", at("550"), "feet.0.align_mm=0.41"}, {"", at("0"), "feet.0.align_mm=0.3"}, {"", at("-500"), "feet.0.align_mm=0.2"},
		{"Further feet=550", at("550.5"), "feet.0.align_mm=0.41"}, // one of the further pair
		// Places that only the Feet sheet knows; all of them have to be known.
		{"Coupling to front feet; Front to rear feet", "Feet: Machine,Foot,Along\npump,A,300\npump,B,300.8\npump,C,550\npump,D,800", "front_shim_mm=0.36 rear_shim_mm=0.46 further_shims_mm=[0.41] feet.1.align_mm=0.36"},
		{"Coupling to front feet; Front to rear feet", "Feet: Machine,Foot,Along\npump,front 9,300\npump,rear 9,", "front_shim_mm=null rear_shim_mm=null\nerror Machines row 2, Coupling to front feet: Coupling to front feet and Front to rear feet are missing …"},
		{"Coupling to front feet; Front to rear feet", "Feet: Machine,Foot,Along\npump,A,300\npump,B,301", "front_shim_mm=null\nerror Machines row 2, Coupling to front feet: …"},
		{"Coupling to front feet; Front to rear feet", "Feet: Machine,Foot,Along\npump,A,300\npump,B,301.5", "front_shim_mm=0.36 rear_shim_mm=0.3603"},
		// What is done: the wanted change by the pieces that lie there and those of the box.
		{"", fmt.Sprintf(pairs, "0", "0.2", "0.05", "") + "\nJob: Pack tolerance=0.001", "feet.0.put_mm=[0.2,0.1,0.05,0.01] feet.0.net_mm=0.36 feet.0.pack_mm=[0.2,0.01,0.05,0.1] feet.1.take_mm=[0.2] feet.1.put_mm=[0.5,0.05,0.01] feet.1.net_mm=0.36 feet.3.pack_mm=null feet.3.in_place_mm=null after_offset_v_mm=0 after_verdict=inside"},
		{"", fmt.Sprintf(pairs, "0", "0", "0", "0") + "\nJob: Pack pieces at most=1", "feet.0.net_mm=0.5 feet.0.error_mm=0.14 feet.0.status=nearest feet.2.net_mm=0.5 after_offset_v_mm=0.2"},
	})
	cases(t, job.Error, highRow, thickStock, []jobCase{
		{"", fmt.Sprintf(pairs, "0.3+0.06+1", "1", "0.46", "") + "\nJob: Pack tolerance=0.001", "feet.0.align_mm=-0.36 feet.0.take_mm=[0.3,0.06] feet.0.put_mm=[] feet.0.pack_mm=[1] feet.0.net_mm=-0.36 feet.2.take_mm=[0.46] feet.2.pack_mm=[] feet.3.status=remove, pieces not listed feet.3.net_mm=-0.46"},
		{"", fmt.Sprintf(pairs, "0.2", "0", "5 x 1", ""), "feet.0.status=below the bare base feet.0.shortfall_mm=0.16 feet.1.shortfall_mm=0.36 feet.0.take_mm=[0.2] feet.2.shortfall_mm=0"},
	})
}

// The soft foot of a machine counts on top of its line. Gaps of 0.1 mm under one foot of four: half of it under that foot and half under the one across, or all under one.
func TestSoftFeetAndLine(t *testing.T) {
	feet := func(g ...string) string {
		return fmt.Sprintf("Feet: Machine,Foot,Gap\npump,front 9,%s\npump,front 3,%s\npump,rear 9,%s\npump,rear 3,%s", g[0], g[1], g[2], g[3])
	}
	cases(t, job.Error, lowRow, thickStock, []jobCase{
		{"", feet("0", "0", "0", "0"), "soft_foot.pattern=no soft foot soft_foot.from_gaps=true feet.0.soft_mm=0 feet.0.shim_mm=0.36\nsays Soft foot: none over the limit of 0.05 mm.\nsays Where the feet stand across was not typed; they were taken as evenly wide."},
		{"", feet("0.2", "0", "0", "0"), "soft_foot.pattern=rocking on a diagonal feet.0.soft_mm=0.1 feet.3.soft_mm=0.1 feet.1.soft_mm=0 feet.0.shim_mm=0.46 feet.3.shim_mm=0.56 soft_foot.total_mm=0.2"},
		{"", feet("0.2", "", "0", "0"), "error Feet row 3: the soft foot cannot be worked out: neither a gap … (front 3) (hint: measure a gap, or a rise, at every foot of the machine)"},
		{noLine, feet("0.2", "0", "0", "0.2"), "error Machines row 2, Given offset V: missing …\nerror Machines row 2, Given offset H: missing …\nerror Machines row 2, Given slope V: missing …\nerror Machines row 2, Given slope H: missing …"},
	})
}

const noLine = "Given offset V; Given slope V; Given offset H; Given slope H"

// What does not go is said: below the bare base, past the rooms of the Feet sheet or of the row's own columns, on either side of each bound. A hair's breadth less than what is asked for, 0.359 of 0.36 mm, is too little.
func TestRooms(t *testing.T) {
	hint := " (hint: move the other machine, or make room with leave of those who answer for it)"
	noRoom := func(col, by, room string) string {
		return "warning Feet row 2, Room " + col + ": front 9 has to go " + by + " mm, and has room for " + room + " mm" + hint
	}
	foot := func(col, room string) string { return "Feet: Machine,Foot,Room " + col + "\npump,front 9," + room }
	pair := func(col, what, by, room string) string {
		return "warning Machines row 2, " + col + ": both " + what + " feet have to go " + by + ", and have room for " + room + " mm" + hint
	}
	cases(t, job.Warning, lowRow, thickStock, []jobCase{
		{"", foot("up", "0.36"), ""}, {"", foot("up", "0.359"), noRoom("up", "0.36", "0.359")}, {"", foot("up", "0"), noRoom("up", "0.36", "0")}, {"", foot("down", "0"), ""},
		{"", foot("left", "0.115"), ""}, {"", foot("left", "0.114"), noRoom("left", "0.115", "0.114")}, {"", foot("right", "0"), ""},
		{"Seen from=stationary", foot("left", "0"), noRoom("left", "0.115", "0")},                                                                                          // what it has to do turns over as the room does
		{"", "Feet: Machine,Foot,Along,Room left,Room up\npump,middle 9,550,0,0", "warning Feet row 2, Room up: middle 9 has to go 0.41 mm, and has room for 0 mm" + hint}, // of no pair: how it moves sideways is not said
		{"Front room up=0.36", "", ""}, {"Front room up=0.359", "", pair("Front room up", "front", "0.36 mm up", "0.359")}, {"Front room down=0", "", ""},
		{"Front room left=0.115", "", ""}, {"Front room left=0.1", "", pair("Front room left", "front", "0.115 mm towards 9 o'clock", "0.1")}, {"Front room right=0", "", ""},
		{"Rear room up=0.46", "", ""}, {"Rear room up=0.4", "", pair("Rear room up", "rear", "0.46 mm up", "0.4")}, {"Rear room down=0", "", ""},
		{"Rear room left=0.14", "", ""}, {"Rear room left=0.13", "", pair("Rear room left", "rear", "0.14 mm towards 9 o'clock", "0.13")}, {"Rear room right=0", "", ""},
		{"Front room up=0; Rear room left=0", "Feet: Machine,Foot\npump,front 9", ""}, // those of the Feet sheet count
		{"Front room up=x", "", "warning Machines row 2, Front room up: \"x\" is not …"},
	})
	cases(t, job.Warning, highRow, thickStock, []jobCase{
		{"", foot("down", "0.36"), ""}, {"", foot("down", "0.359"), noRoom("down", "0.36", "0.359")}, {"", foot("up", "0"), ""},
		{"", foot("right", "0.115"), ""}, {"", foot("right", "0.114"), noRoom("right", "0.115", "0.114")}, {"", foot("left", "0"), ""},
		{"Front room down=0.36", "", ""}, {"Front room down=0.359", "", pair("Front room down", "front", "0.36 mm down", "0.359")}, {"Front room up=0", "", ""},
		{"Front room right=0.115", "", ""}, {"Front room right=0.1", "", pair("Front room right", "front", "0.115 mm towards 3 o'clock", "0.1")}, {"Front room left=0", "", ""},
		{"Rear room down=0.46", "", ""}, {"Rear room down=0.4", "", pair("Rear room down", "rear", "0.46 mm down", "0.4")}, {"Rear room up=0", "", ""},
		{"Rear room right=0.14", "", ""}, {"Rear room right=0.13", "", pair("Rear room right", "rear", "0.14 mm towards 3 o'clock", "0.13")}, {"Rear room left=0", "", ""},
		// What lies there is the room down of a foot that has its pack listed; past it is the base.
		{"", "Feet: Machine,Foot,Pack in place,Room down\npump,front 9,0.5,0.3", noRoom("down", "0.36", "0.3")},
		{"", "Feet: Machine,Foot,Pack in place,Room down\npump,front 9,0.36,0.3", noRoom("down", "0.36", "0.3")},
		{"", "Feet: Machine,Foot,Pack in place,Room down\npump,front 9,0.3,0.2", "warning Feet row 2, Pack in place: front 9 has to go down 0.36 mm, and 0.30 mm lie there: 0.06 mm are missing (hint: move the other machine up, or have base or foot machined; nothing is left to take out here)"},
		{"", "Feet: Machine,Foot,Pack in place\npump,front 9,0", "warning Feet row 2, Pack in place: front 9 has to go down 0.36 mm, and 0 mm lie there: 0.36 mm are missing …"},
	})
	// How far each pair can still go: of its feet the one with less room; down, where it is not typed, what lies there.
	for _, c := range []struct {
		cells, sheets string
		want          [2]evaluate.Room
	}{
		{"", "", [2]evaluate.Room{roomOf(nan, nan, nan, nan), roomOf(nan, nan, nan, nan)}},
		{"Front room up=1; Front room down=2; Front room left=3; Front room right=4; Rear room up=5; Rear room down=6; Rear room left=7; Rear room right=8", "", [2]evaluate.Room{roomOf(1, 2, 3, 4), roomOf(5, 6, 7, 8)}},
		{"Front room up=10 mil; Front room down=x; Front room left= ; Rear room right=8", "", [2]evaluate.Room{roomOf(0.254, nan, nan, nan), roomOf(nan, nan, nan, 8)}},
		// Seen: behind the stationary machine left and right of the row's own columns stood for the wrong sides, on the card of the machine.
		{"Seen from=stationary; Front room left=3; Rear room right=8; Rear room up=5", "", [2]evaluate.Room{roomOf(nan, nan, nan, 3), roomOf(5, nan, 8, nan)}},
		{"Seen from=stationary", "Feet: Machine,Foot,Room left,Room up\npump,front 9,3,1", [2]evaluate.Room{roomOf(1, nan, nan, 3), roomOf(nan, nan, nan, nan)}},
		{"Front room up=1; Rear room down=2", "Feet: Machine,Foot,Room left\npump,front 9,3", [2]evaluate.Room{roomOf(nan, nan, 3, nan), roomOf(nan, nan, nan, nan)}},
		{"", "Feet: Machine,Foot,Room up,Room down,Room left,Room right\npump,front 9,1,2,3,4\npump,front 3,2,1,4,3\npump,rear 9,5,,,8\npump,rear 3,,6,7,", [2]evaluate.Room{roomOf(1, 1, 3, 3), roomOf(5, 6, 7, 8)}},
		{"", "Feet: Machine,Foot,Pack in place,Room down\npump,front 9,0.5+0.2,\npump,front 3,1,0.8\npump,rear 9,0.5,2\npump,rear 3,0,", [2]evaluate.Room{roomOf(nan, 0.7, nan, nan), roomOf(nan, 0, nan, nan)}},
		{"", "Feet: Machine,Foot,Along,Room up\npump,A,550,1\npump,B,800.5,2", [2]evaluate.Room{roomOf(nan, nan, nan, nan), roomOf(2, nan, nan, nan)}},
	} {
		e, _ := caseJob(t, lowRow, thickStock, &jobCase{cells: c.cells, sheets: c.sheets})
		got := e.Rooms(0)
		if len(got) != 2 {
			t.Fatalf("%s: %v", c.cells, got)
		}
		for k := range got {
			g, w := [4]float64{got[k].Up, got[k].Down, got[k].Left, got[k].Right}, [4]float64{c.want[k].Up, c.want[k].Down, c.want[k].Left, c.want[k].Right}
			for d := range g {
				near(t, fmt.Sprint(c.cells, c.sheets, " pair ", k, " direction ", d), g[d], w[d], 1e-12)
			}
		}
	}
	e, _ := caseJob(t, lowRow, "", &jobCase{})
	if e.Rooms(-1) != nil || e.Rooms(1) != nil {
		t.Error("rooms of rows that there are not")
	}
}

// insideRow is inside its limits (0.1016 mm and 0.5 mm/m by the published set at 1480 rpm).
var insideRow = []string{"Speed=1480", "Method=line", "Given offset V=0.01", "Given slope V=0.02", "Given offset H=0.01", "Given slope H=0.01", "Coupling to front feet=300", "Front to rear feet=500"}

// What is said and done under every single foot, one sentence a foot: by what lies there, by the stock, by the soft foot, and for a machine that stays where it is.
func TestDoneUnderFeet(t *testing.T) {
	foot := func(pack string) string { return "Feet: Machine,Foot,Pack in place\npump,front 9," + pack }
	soft := func(packs string) string { // 0.2 mm off on a diagonal: 0.1 mm under front 9 and 0.1 mm under rear 3
		return "Feet: Machine,Foot,Gap,Pack in place\npump,front 9,0.2," + packs + "\npump,front 3,0,\npump,rear 9,0,\npump,rear 3,0,"
	}
	exact := "\nJob: Pack tolerance=0.001"
	cases(t, job.Error, lowRow, thickStock, []jobCase{
		{"", foot("") + exact, "says Add 0.20 + 0.01 + 0.05 + 0.10 mm under front 9. Worked out 0.36 mm ± 0.037 mm.\nsays Add 0.46 mm under both rear feet"},
		{"", foot("0") + exact, "says Under front 9: put in 0.20 + 0.01 + 0.05 + 0.10; then 0.20 + 0.01 + 0.05 + 0.10 mm lie there. Worked out 0.36 mm ± 0.037 mm."},
		{"", foot("0.02+0.02") + exact, "says Under front 9: take out 0.02 + 0.02, put in 0.20 + 0.20; then 0.20 + 0.20 mm lie there. Worked out 0.36 mm ± 0.037 mm."},
		{"", soft("") + exact, "says Add 0.20 + 0.01 + 0.05 + 0.20 mm under front 9. Worked out 0.46 mm ± 0.037 mm, of it 0.10 mm for the soft foot.\nsays under front 3. Worked out 0.36 mm ± 0.037 mm.\nsays under rear 3. Worked out 0.56 mm ± 0.083 mm, of it 0.10 mm for the soft foot."},
	})
	cases(t, job.Error, highRow, thickStock, []jobCase{
		{"", foot("") + exact, "says Take out 0.36 mm under front 9, by the pieces found there. Worked out -0.36 mm ± 0.037 mm."},
		{"", foot("0.36") + exact, "says Under front 9: take out 0.36; then nothing lies there. Worked out -0.36 mm ± 0.037 mm."},
		{"", foot("0.36+0.5") + exact, "says Under front 9: take out 0.36; then 0.50 mm lie there. Worked out -0.36 mm ± 0.037 mm."},
		{"", foot("0.3") + exact, "says Foot front 9 cannot go low enough: 0.30 mm lie there, and 0.06 mm more would have to go. Take all out; the rest must come from the other machine, from the base or from the foot."},
		{"", foot("0") + exact, "says Foot front 9 cannot go low enough: 0 mm lie there, and 0.36 mm more would have to go."},
		{"Given offset V=-0.061", foot("0.3") + exact, "says Leave the height of front 9; worked out 0.001 mm ± 0.037 mm."},
		{"Given offset V=-0.061", foot("") + exact, "says Leave the height of front 9; worked out 0.001 mm ± 0.037 mm."},
	})
	cases(t, job.Error, insideRow, thickStock, []jobCase{
		{"", foot("0.3"), "verdict=inside packs.#=0\nnot front 9\nfeet.0.shim_mm=0"},
		{"", soft(""), "verdict=inside packs.#=2 packs.0.foot=front 9 packs.1.foot=rear 3 packs.0.shim_mm=0.1\nsays Add 0.10 mm under front 9, for the soft foot.\nsays Add 0.10 mm under rear 3, for the soft foot.\nnot under front 3, for\nsays Mend the soft foot first, then measure the alignment again: it changes with it.\nafter_offset_v_mm=0.01 after_verdict=inside"},
		{"", soft("0.4"), "says Under front 9: take out 0.40, put in 0.50, for the soft foot."},
		{"", soft("0.02") + exact, "says Add 0.10 mm under front 9, for the soft foot.\nfeet.0.pack_mm=[0.1,0.02]"},
	})
}

// A foot that cannot go so low is told so whatever the stock: what lies there was typed. By hand: 0.36 mm at the front less the 0.1 mm that lie there. So are the rooms of the feet. Seen: with a stock that makes no pack (nothing on hand) a foot on
// its bare base was told "-0.36 mm", and one without room down the same.
func TestBelowTheBaseWithoutStock(t *testing.T) {
	empty := "Stock: Thickness,Pieces on hand\n0.1,0\n0.5,0\n"
	foot := func(col, cell string) string { return "Feet: Machine,Foot," + col + "\npump,front 9," + cell }
	none := "error Stock: no packs can be made: the stock is empty …\n"
	low := "warning Feet row 2, Pack in place: front 9 has to go down 0.36 mm, and %s lie there: %s are missing …\nsays Foot front 9 cannot go low enough: %[1]s lie there, and %[2]s more would have to go.\nnot Under front 9: -0.36"
	cases(t, job.Warning, highRow, empty, []jobCase{
		{"", foot("Pack in place", "0"), none + fmt.Sprintf(low, "0 mm", "0.36 mm")},
		{"", foot("Pack in place", "0.1"), none + fmt.Sprintf(low, "0.10 mm", "0.26 mm")},
		{"", foot("Pack in place", "0.5"), none + "says Under front 9: -0.36 mm ± 0.04 mm.\nnot cannot go low enough"},
		{"", foot("Pack in place", ""), none + "says Under front 9: -0.36 mm ± 0.04 mm.\nnot cannot go low enough"},
		{"", foot("Pack in place", "0.35") + "\nJob: Pack tolerance=0.02", none + "says Under front 9: -0.36 mm ± 0.04 mm.\nnot cannot go low enough"}, // within the tolerance, as with a stock
		{"", foot("Room down", "0"), none + "warning Feet row 2, Room down: front 9 has to go 0.36 mm, and has room for 0 mm …"},
	})
	cases(t, job.Warning, lowRow, empty, []jobCase{{"", foot("Pack in place", "0"), none + "says Under front 9: 0.36 mm ± 0.04 mm.\nnot cannot go low enough"}})
	for cell, want := range map[string]string{"0": "front 9: -0.36 mm, 0.36 mm missing", "0.1": "front 9: -0.36 mm, 0.26 mm missing", "0.5": "front 9: -0.36 mm", "": "front 9: -0.36 mm"} {
		e, r := caseJob(t, highRow, empty, &jobCase{sheets: foot("Pack in place", cell)})
		if got := string(e.AppendFeetPacks(nil, r)); got != want {
			t.Errorf("%q: %s, want %s", cell, got, want)
		}
		if got := "front 9: " + e.PickDo(&e.PacksOf(r)[0]); got != want {
			t.Errorf("%q on the pick list: %s, want %s", cell, got, want)
		}
	}
}

// Without a line, and without a soft foot, nobody knows what a foot is asked for: neither 0 nor "leave it".
func TestFeetOfNoLine(t *testing.T) {
	lacks := "error Machines row 2, Given offset V: missing …\nerror Machines row 2, Given offset H: missing …\nerror Machines row 2, Given slope V: missing …\nerror Machines row 2, Given slope H: missing …\n"
	cases(t, job.Error, lowRow, thickStock, []jobCase{
		{noLine, "Feet: Machine,Foot,Gap\npump,front 9,0\npump,front 3,0\npump,rear 9,0\npump,rear 3,0", lacks + "feet.0.shim_mm=null feet.0.align_mm=null feet.0.soft_mm=0 packs.#=0\nnot Under front 9\nnot Leave the height"},
		{noLine, "Feet: Machine,Foot,Gap\npump,front 9,0.2\npump,front 3,0\npump,rear 9,0\npump,rear 3,0", lacks + "feet.0.shim_mm=0.1 feet.1.shim_mm=null packs.#=2"},
	})
}

// Single feet whose own nearest packs leave the line outside are chosen together, as pairs are. By hand: 0.335 + 1.71 · 0.15 = 0.5915 mm at the front, 0.8651 mm at the rear, from sums of 0.10, 0.15 and 0.70 mm. The nearest are 0.60 and 0.85: the line turns by
// (−0.0151 − 0.0085) / 160 mm and stands 0.0306 mm off at the coupling, past 0.03. With 0.55 and 0.80 it turns as much and stands 0.0194 mm off. Where each one's own does, or nothing is judged, it stays.
func TestSingleFeetChosenTogether(t *testing.T) {
	row := []string{"Speed=3000", "Coupling to front feet=150", "Front to rear feet=160", "Offset limit=0.03", "Slope limit=0.3", "Graduation=0.0001", "Repeatability=0.0001", "Method=line", "Given offset V=-0.335", "Given offset H=0", "Given slope V=-1.71", "Given slope H=0"}
	coarse := "Stock: Thickness\n0.10\n0.15\n0.70\nJob: Pack tolerance=0.03"
	both := "Feet: Machine,Foot\npump,front 9\npump,rear 3"
	said := "The packs of front and rear were chosen together: each one's own nearest would leave the line outside."
	cases(t, job.Error, row, coarse, []jobCase{
		{"", "", "after_offset_v_mm=-0.019375 after_slope_v=-0.1475 after_verdict=inside\nsays " + said},
		{"", both, "feet.0.net_mm=0.55 feet.1.net_mm=0.8 after_offset_v_mm=-0.019375 after_slope_v=-0.1475 after_verdict=inside\nsays " + said},
		{"Offset limit=0.031", both, "feet.0.net_mm=0.6 feet.1.net_mm=0.85 after_verdict=inside\nnot " + said},
		{"Speed; Offset limit; Slope limit", both, "feet.0.net_mm=0.6 feet.1.net_mm=0.85 after_verdict=not judged\nerror Machines row 2, Speed: …\nnot " + said},
		{"", "Stock: Thickness\n0.70", "after_verdict=outside\nnot " + said}, // nothing does
		{"", both + "\nStock: Thickness\n0.70", "feet.0.net_mm=0.7 feet.1.net_mm=0.7 after_verdict=outside\nnot " + said},
	})
}

// How sure a soft foot is: said among the sentences where it is not sure, and only there. A foot that carries with something to spare stands off by nothing: the plane of three of these feet lies 0.0168 mm above the fourth's gap.
func TestSoftFootNotSure(t *testing.T) {
	gaps := func(g ...string) string {
		return fmt.Sprintf("Feet: Machine,Foot,Along,Across,Gap\npump,FA,-100,-250,%s\npump,FB,0,100,%s\npump,FC,300,-100,%s\npump,FD,700,-150,%s", g[0], g[1], g[2], g[3])
	}
	spare := gaps("0.05", "0.06", "0.07", "0.07")
	cases(t, job.Error, insideRow, thickStock, []jobCase{
		{"", spare, "soft_foot.pattern=no soft foot\nsays Soft foot not sure: FD stands off 0 mm ± 0.124 mm, against the limit of 0.05 mm;"},
		{"", "Feet: Machine,Foot,Gap\npump,front 9,0.6\npump,front 3,0\npump,rear 9,0\npump,rear 3,0", "soft_foot.pattern=rocking on a diagonal\nnot Sure:\nnot Soft foot not sure"},
		{"", "Feet: Machine,Foot,Gap\npump,front 9,0.06\npump,front 3,0\npump,rear 9,0\npump,rear 3,0", "says Soft foot not sure: front 9 stands off"},
	})
	e, _ := caseJob(t, insideRow, thickStock, &jobCase{sheets: spare})
	if _, why := e.SoftReasons(0); !strings.Contains(strings.Join(why, "\n"), "FD stands off 0 mm ±") {
		t.Error(why)
	}
}

// roomOf is how far a pair of feet can still go.
func roomOf(up, down, left, right float64) evaluate.Room {
	return evaluate.Room{Up: up, Down: down, Left: left, Right: right}
}
