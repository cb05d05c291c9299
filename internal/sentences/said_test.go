package sentences

import (
	"strings"
	"testing"
)

// What is asked about or said in rare cases is said there, with the numbers of that case, and not of a row without anything amiss. One case a line: the row's cells, other sheets, and what has to be said.
func TestRareCasesAreSaid(t *testing.T) {
	text := func(e *Teller) string {
		s := ""
		for _, p := range e.Problems() {
			s += p.String() + "\n"
		}
		for i := range e.Len() {
			for _, p := range e.Row(i).Problems {
				s += p.String() + "\n"
			}
			for _, x := range e.Sentences(i) {
				s += x.Text + "\n"
			}
			s += string(e.AppendWhy(nil, e.Row(i))) + "\n"
		}
		return s
	}
	e, _ := one(t, reverse...)
	plain := text(e)
	feet := func(head string, cells ...string) string {
		s := "Machine,Foot,Along,Across," + head + "\n"
		for k, f := range []string{"front 9,300,-200", "front 3,300,200", "rear 9,800,-200", "rear 3,800,200"} {
			s += "pump," + f + "," + cells[min(k, len(cells)-1)] + "\n"
		}
		return s
	}
	noFeet := change(reverse, "Coupling to front feet", "Front to rear feet")
	for _, c := range []struct {
		what   string
		cells  []string
		sheets []string
		want   []string
	}{
		{"two bolts", change(noFeet, "Mounting=vertical flange", "Bolts=2", "Bolt circle=500", "Coupling to flange=200"), nil, []string{"2 bolts are not possible"}},
		{"a foot twice", noFeet, []string{"Feet", feet("Gap", "0") + "pump,front 9,300,-200,0\n"}, []string{"this machine has a foot front 9 already"}},
		{"kinds of a check", reverse, []string{"Checks", "Machine,Check,Value,Limit\npump,play of the key,0.05 mm,145 N m\n"}, []string{"are not of one kind"}},
		{"a column twice", append([]string{}, append(reverse, "rpm=1500")...), nil, []string{"column", "1500"}},
		{"layers of a plain shim", reverse, []string{"Stock", "Thickness,Kind,Lamination\n1,plain,0.05\n"}, []string{"a plain shim has no layers"}},
		{"a setting twice", reverse, []string{"Job", "Name,Value\nMove step,0.05\nMove step,0.1\n"}, []string{`row 2 says "0.05", here it is "0.1"; the first is used`}},
		{"a material twice", reverse, []string{"Materials", "Material,Coefficient [1e-6/K],From [°C],At temperature [°C]\nirons,10,20,100\nirons,11,20,100\n"}, []string{"has a mean to this temperature already"}},
		{"means from elsewhere", reverse, []string{"Materials", "Material,Coefficient [1e-6/K],From [°C],At temperature [°C]\nirons,10,20,100\nirons,11,0,200\n"}, []string{"the means of irons begin at different temperatures"}},
		{"a cold setting", change(reverse, "Cold offset V=0.1", "Cold offset H=0", "Cold slope V=0.2", "Cold slope H=0"), nil, []string{"Wanted cold by the maker's setting."}},
		{"a long bracket", change(reverse, "Coupling to stationary plane=600", "Coupling to movable plane=500", "Coupling to front feet=900"), nil, []string{"Sag of the bracket not given for Movable rim, and it is about 1100 mm long", "for Stationary rim, and it is about 1100 mm long"}},
		{"own offset", change(reverse, "Offset limit=0.02"), nil, []string{"offset: the row's own; slope: "}},
		{"own slope", change(reverse, "Slope limit=0.2"), nil, []string{"slope: the row's own; offset: "}},
		{"a reading in inches", change(reverse, "Movable rim 3=-0.0067"), nil, []string{"Movable rim at 3 looks like", "times 25.4 it would fit"}},
		{"rises all alike", noFeet, []string{"Feet", feet("Rise", "0.2")}, []string{"All feet rise by about 0.2 mm: feet or base bend under the bolts"}},
		{"a round struck", reverse, []string{"Rounds", "Machine,Round,Struck,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\npump,1,bracket slipped,0,-0.1,-0.2,-0.1,0,0.1,0.1,0\n"}, []string{"Round 1 is struck: bracket slipped."}},
		{"too close", change(reverse, "Offset limit=0.109", "Slope limit=5", "Limit reason=maker's sheet 4"), nil, []string{"against a limit of 0.109 mm", "chance inside; measure again, or finer"}},
		{"a spacer", change(reverse, "Spacer length=400"), nil, []string{"Taken as a spacer coupling because a spacer length is given."}},
		{"no method", reverse, nil, []string{"Method not given; reverse indicator, from the columns that are filled."}},
		{"something odd", change(reverse, "Movable rim 3=-170", "Movable rim 6=-300", "Movable rim 9=-130"), nil, []string{"right? It comes to"}},
		{"corners", noFeet, []string{"Feet", "Machine,Foot,Along,Across,Gap,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width\npump,front 9,300,-200,0,0,0,0,0,80,80\npump,front 3,300,200,0,0,0,0.3,0.3,80,80\npump,rear 9,800,-200,0,0,0,0,0,80,80\npump,rear 3,800,200,0,0,0,0,0,80,80\n"}, []string{"Under front 3 the gap opens towards the", "by 0.3 mm over the foot"}},
		{"no digest", reverse, []string{"Record", "Machine,Signed by,Signed at,Digest\npump,crew A,2026-04-12,abc\n"}, []string{`"abc" is no SHA-256: 64 signs 0 to 9 and a to f`}},
		{"nobody signed", reverse, []string{"Record", "Machine,Signed by,Signed at,Digest\npump,,," + strings.Repeat("a", 64) + "\n"}, []string{"a digest stands here and nobody's name"}},
		{"a pair without room", change(reverse, "Front room down=0.1"), nil, []string{"both front feet have to go 0.25 mm down, and have room for 0.1 mm"}},
		{"growth said twice", change(reverse, "Growth movable front V=0.05", "Growth movable rear V=0.3", "Growth stationary near H=0.02", "Growth stationary far V=0.4", "Stationary near support=200", "Stationary far support=700"), []string{"Growth", "Machine,Support,Growth V,Growth H\npump,movable front,0.1,0\npump,movable rear,0.2,0\npump,stationary near,0.3,0.07\npump,stationary far,0.35,0\n"},
			[]string{"Growth movable front V 0.1 mm there, 0.05 mm here", "Growth movable rear V 0.2 mm there, 0.3 mm here", "Growth stationary near H 0.07 mm there, 0.02 mm here", "Growth stationary far V 0.35 mm there, 0.4 mm here"}},
		{"a foot that cannot go low enough", change(noFeet, "Given offset V=0", "Method=reverse indicator"), []string{"Feet", feet("Gap,Pack in place", "0.01,0.10")}, []string{"cannot go low enough: 0.1"}},
		{"the movable flex plane", nil, []string{"Machines", "Machine,Speed,Coupling,Spacer length,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,1480,spacer,400,line,0.2,0,1.5,0,400,500\nB,1480,spacer,400,line,-0.2,0,1.5,0,400,500\n"}, []string{"angle at the movable flex plane 1.25 mm/m is over its limit of 0.5 mm/m", "angle at the stationary flex plane 1.25 mm/m is over its limit of 0.5 mm/m"}},
		{"an aim", reverse, []string{"Job", "Name,Value\nMoves aim,half of it\n"}, []string{"is no aim for moves"}},
		{"two angles", []string{"Speed=1480", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500", "Movable sweep=0:0 90:-0.1", "Stationary sweep=0:0 90:0.1 180:0.2"}, nil, []string{"fewer than three different angles"}},
		{"a check of one's own", reverse, []string{"Checks", "Machine,Check,Value,Limit,Source\npump,play of the key,0.2 mm,0.1 mm,works' sheet\n"}, []string{"First: play of the key was found as 0.2 mm, over 0.1 mm (works' sheet). Mend that first."}},
		{"many odd", nil, []string{"Machines", "Machine,Speed,Front to rear feet\nA,1480,5\nB,1480,4\nC,1480,3\n"}, []string{"more of the column)"}},
		{"no name", nil, []string{"Machines", "Machine,Stationary,Train,Method,Given offset V,Given offset H,Given slope V,Given slope H\nA,B,T,line,0.1,0,0,0\n,A,T,line,0.1,0,0,0\n"}, []string{"row 3 has no Machine"}},
		{"apart", nil, []string{"Machines", "Machine,Stationary,Train,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,B,T,line,0.1,0,0,0,300,500\nC,D,T,line,0.1,0,0,0,300,500\n"}, []string{"hangs on none of the others"}},
		{"no plan of it", nil, []string{"Machines", "Machine,Stationary,Train,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,B,T,line,0.1,0,0,0,300,500\n", "Trains", "Train,Plan\nT,the best one\n"}, []string{`"the best one" is no plan of this train; its plans are as set, only B, least work`}},
	} {
		e, _ := grown(t, c.cells, c.sheets...)
		said := text(e)
		for _, w := range c.want {
			if !strings.Contains(said, w) {
				t.Errorf("%s: %q is not in\n%s", c.what, w, said)
			}
			if c.what != "no method" && strings.Contains(plain, w) && len(w) > 10 {
				t.Errorf("%s: %q is said of a row with nothing amiss", c.what, w)
			}
		}
	}
	if e := work(t, list(t, "one,two\n1,2\n")); !strings.Contains(text(e), "no row with column names was found") {
		t.Error(text(e))
	}
}
