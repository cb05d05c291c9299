package sentences

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// grownRow is a sound row whose supports all have their places: front and rear feet at 300 and 800 mm, the stationary machine's supports at 200 and 700 mm.
var grownRow = append(append([]string{}, reverse...), "Stationary near support=200", "Stationary far support=700")

const growthHeader = "Growth: Machine,Support,Part,Height,Direction,Material,Coefficient,Cold,Running,Growth V,Growth H,Temperature uncertainty,Coefficient uncertainty\n"

// What a row of the Growth sheet may hold, and what each lack and each contradiction is answered with. Growth is height · coefficient · (running − cold): 300 mm · 12e-6/K · 50 K = 0.18 mm; its ± twice
// √((0.05 · 0.18)² + 2 · (300 · 12e-6 · 2)²) with the job's 5 % and 2 K, by JCGM 100, 5.1.2.
func TestPartsOfGrowth(t *testing.T) {
	rear := "\npump,movable rear,foot,,,,,,,0,,,"
	bad := "error Machines row 2: the Growth sheet has a row for this machine that cannot be used, row 2 (hint: mend it there, or take it out)\nverdict=not judged growth=null front_shim_mm=null wanted_offset_v_mm=null wanted_from=null\n"
	part := func(cells string) string { return growthHeader + "pump,movable front,foot," + cells + rear }
	cases(t, job.Warning, grownRow, "", []jobCase{
		{"", part("300,,,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0.027179404 growth.supports.0.growth_h_mm=0 growth.supports.1.growth_v_mm=0 growth.supports.1.u_growth_v_mm=0 growth.parts.0.height_mm=300 " +
			"growth.parts.0.direction=up growth.parts.0.coefficient_1e6_per_k=12 growth.parts.0.cold_c=10 growth.parts.0.running_c=60 growth.parts.0.row=2 growth.parts.1.row=3 growth.parts.0.source=your sheet Growth, row 2 growth.parts.1.source=\n" +
			"wanted_offset_v_mm=-0.288 wanted_slope_v=0.36 wanted_offset_h_mm=0 wanted_slope_h=0 wanted_from=growth sheet"},
		{"", part("300,up,,12,10,60,,,4,"), "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0.044529541"},             // 2·√(0.009² + 2·(0.0036·4)²)
		{"", part("300,,,12,10,60,,,,10 %"), "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0.041360851"},            // 2·√(0.018² + 2·0.0072²)
		{"", part("300,,,12,10,60,,,0,0"), "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0 u_wanted_offset_v_mm=0"}, // known exactly
		{"", part("300,towards 3,,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0 growth.supports.0.growth_h_mm=0.18 growth.supports.0.u_growth_h_mm=0.027179404 growth.supports.0.u_growth_v_mm=0 growth.parts.0.direction=towards 3\nwanted_offset_h_mm=-0.288 wanted_slope_h=0.36 wanted_offset_v_mm=0"},
		{"", part("300,towards 9,,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0 growth.supports.0.growth_h_mm=-0.18 growth.parts.0.direction=towards 9\nwanted_offset_h_mm=0.288 wanted_slope_h=-0.36 wanted_offset_v_mm=0"},
		{"Seen from=stationary", part("300,towards 9,,12,10,60,,,,"), "growth.supports.0.growth_h_mm=0.18"}, // kept as the movable side sees it
		{"Seen from=stationary", part("300,towards 3,,12,10,60,,,,"), "growth.supports.0.growth_h_mm=-0.18"},
		{"Seen from=stationary", part(",,,,,,0.1,0.03,,"), "growth.supports.0.growth_h_mm=-0.03 growth.supports.0.growth_v_mm=0.1"},
		{"", part(",,,,,,0.1,0.03,,"), "growth.supports.0.growth_v_mm=0.1 growth.supports.0.growth_h_mm=0.03 growth.supports.0.u_growth_v_mm=0 wanted_offset_v_mm=-0.16 wanted_offset_h_mm=-0.048 wanted_slope_v=0.2 wanted_slope_h=0.06"},
		{"", part(",,,,,,,0.03,,"), "growth.supports.0.growth_v_mm=0 growth.supports.0.growth_h_mm=0.03"},
		{"", part(",,,,,,0.1,,,"), "growth.supports.0.growth_v_mm=0.1 growth.supports.0.growth_h_mm=0"},
		// What is worked out one way and given the other is both; what is worked out and given one way is a contradiction.
		{"", part("300,,,12,10,60,,0.03,,"), "growth.supports.0.growth_v_mm=0.18 growth.supports.0.growth_h_mm=0.03 growth.supports.0.u_growth_h_mm=0"},
		{"", part("300,towards 3,,12,10,60,0.03,,,"), "growth.supports.0.growth_v_mm=0.03 growth.supports.0.growth_h_mm=0.18 growth.supports.0.u_growth_v_mm=0"},
		{"", part("300,,,12,10,60,0.03,,,"), bad + "error Growth row 2, Growth V: Growth V and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"},
		{"", part("300,towards 3,,12,10,60,,0.03,,"), bad + "error Growth row 2, Growth H: Growth H and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"},
		{"", part("300,towards 9,,12,10,60,,0.03,,"), bad + "error Growth row 2, Growth H: Growth H and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"},
		{"", part(",,steel,,,,0.03,,,"), bad + "error Growth row 2, Growth V: Growth V and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"}, // half of it is there
		{"", part(",,,12,,,0.03,,,"), bad + "error Growth row 2, Growth V: Growth V and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"},
		{"", part(",,,,,60,0.03,,,"), bad + "error Growth row 2, Growth V: Growth V and Height are both filled (hint: keep one: a growth known from elsewhere, or height, material and temperatures)"},
		{"", part(",,,,10,,0.03,,,"), "growth.supports.0.growth_v_mm=0.03"}, // a cold temperature alone works nothing out
		{"", part(",towards 3,,,,,0.03,,,"), "growth.supports.0.growth_v_mm=0.03 growth.supports.0.growth_h_mm=0"},
		{"", part(",towards 9,,,,,,0.03,,"), bad + "error Growth row 2, Direction: Direction is for a part with a Height; Growth H says its side by its sign (hint: leave Direction blank: a growth towards 3 o'clock is positive, one towards 9 o'clock negative)"},
		{"", part(",towards 3,,,,,0.1,0.03,,"), bad + "error Growth row 2, Direction: Direction is for a part with a Height; Growth H says its side by its sign (hint: leave Direction blank: a growth towards 3 o'clock is positive, one towards 9 o'clock negative)"},
		{"", part(",up,,,,,0.1,0.03,,"), "growth.supports.0.growth_v_mm=0.1 growth.supports.0.growth_h_mm=0.03"},
		// What is missing.
		{"", part(",,,,,,,,,"), bad + "error Growth row 2, Height: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part(",,,,10,,,,,"), bad + "error Growth row 2, Height: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part(",,steel,,10,60,,,,"), bad + "error Growth row 2, Height: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part(",,,12,10,60,,,,"), bad + "error Growth row 2, Height: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part(",,,,10,60,,,,"), bad + "error Growth row 2, Height: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part("300,,,12,,60,,,,"), bad + "error Growth row 2, Cold: missing (hint: write it here, or once as Cold temperature on the Job sheet)"},
		{"", "Job: Cold temperature=20\n" + part("300,,,12,,60,,,,"), "growth.supports.0.growth_v_mm=0.144 growth.parts.0.cold_c=20"},
		{"", "Job: Cold temperature=20\n" + part("300,,,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0.18 growth.parts.0.cold_c=10"},
		{"", part("300,,,12,10,,,,,"), bad + "error Growth row 2, Running: missing (hint: write Height, Material (or Coefficient) and Running, or Growth V)"},
		{"", part("300,,,,10,60,,,,"), bad + "error Growth row 2, Material: missing (hint: write the material, or the Coefficient)"},
		{"", part("300,,unobtainium,,10,60,,,,"), bad + "error Growth row 2, Material: \"unobtainium\" is no material known here (hint: write its Coefficient, or list it on the Materials sheet; the materials are: …, …)"},
		{"", part("300,,unobtainium,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0.18 growth.parts.0.material= growth.parts.0.source=your sheet Growth, row 2"}, // its own coefficient wins
		{"", part("300,,unobtainium,,10,60,,,,") + "\nMaterials: Material,Coefficient\nunobtainium,9", "growth.supports.0.growth_v_mm=0.135 growth.parts.0.material=unobtainium growth.parts.0.own_material=true growth.parts.0.source=your sheet Materials, row 2 growth.supports.0.u_growth_v_mm=0.020384553"},
		{"", part("300,,unobtainium,,10,60,,,,") + "\nMaterials: Material,Coefficient,Uncertainty\nunobtainium,9,10 %", "growth.supports.0.growth_v_mm=0.135 growth.supports.0.u_growth_v_mm=0.031020638"},
		{"", part("300,,unobtainium,,10,60,,,,0") + "\nMaterials: Material,Coefficient,Uncertainty\nunobtainium,9,10 %", "growth.supports.0.growth_v_mm=0.135 growth.supports.0.u_growth_v_mm=0.015273506"},
		{"", part("300,,unobtainium,,10,60,,,,") + "\nMaterials: Material,Coefficient,Uncertainty\nunobtainium,9,0", "growth.supports.0.growth_v_mm=0.135 growth.supports.0.u_growth_v_mm=0.020384553"}, // 0 says nothing
		{"", part("300,,unobtainium,,10,60,,,,") + "\nMaterials: Material,Coefficient\nunobtainium,", bad + "error Growth row 2, Material: …unobtainium that cannot be used, row 2 (hint: mend it there, or take it out)\nerror Materials row 2, Coefficient: missing…"},
		// What cannot be.
		{"", growthHeader + "pump,,foot,300,,,12,10,60,,,," + rear, bad + "error Growth row 2, Support: missing (hint: write movable front, movable rear, stationary near, stationary far)"},
		{"", growthHeader + "pump,middle,foot,300,,,12,10,60,,,," + rear, bad + "error Growth row 2, Support: \"middle\" is not one of the words taken here (hint: write movable front, movable rear, stationary near, stationary far)"},
		{"", part("300,sideways,,12,10,60,,,,"), bad + "error Growth row 2, Direction: \"sideways\" is not one of the words taken here (hint: write up, towards 3, towards 9)"},
		{"", part("-300,,,12,10,60,,,,"), bad + "error Growth row 2, Height: \"-300\" cannot be (hint: write it without a sign; 0 is possible)"},
		{"", part("0,,,12,10,60,,,,"), "growth.supports.0.growth_v_mm=0"},
		{"", part("300,,,-12,10,60,,,,"), "growth.supports.0.growth_v_mm=-0.18\nwarning Growth row 2, Coefficient: is \"-12\" right? It comes to -12 1e-6/K; usual here is 0.2 to 300 1e-6/K …"},
		{"", part("300,,,12,10,60,,,-1,"), bad + "error Growth row 2, Temperature uncertainty: \"-1\" cannot be (hint: write it without a sign; 0 is possible)"},
		{"", part("300,,,12,10,60,,,,-1"), bad + "error Growth row 2, Coefficient uncertainty: \"-1\" cannot be (hint: write it without a sign; 0 is possible)"},
		{"", part("300,,,x,10,60,,,,"), bad + "error Growth row 2, Coefficient: \"x\" is not …"},
		{"", part("300,,,12,x,60,,,,"), bad + "error Growth row 2, Cold: \"x\" is not …"},
		{"", part("300,,,12,10,x,,,,"), bad + "error Growth row 2, Running: \"x\" is not …"},
		{"", part("x,,,12,10,60,,,,"), bad + "error Growth row 2, Height: \"x\" is not …"},
		{"", part(",,,,,,x,,,"), bad + "error Growth row 2, Growth V: \"x\" is not …"},
		{"", part(",,,,,,,x,,"), bad + "error Growth row 2, Growth H: \"x\" is not …"},
		// Of two rows that cannot be used the row names the first; a row without a machine may have been meant for the one before.
		{"", growthHeader + "pump,movable front,foot,,,,,,,,,,\npump,movable rear,foot,,,,,,,,,,", bad + "error Growth row 2, Height: missing…\nerror Growth row 3, Height: missing…"},
		{"", growthHeader + "pump,movable front,foot,,,,,,,0.1,,,\n,movable rear,foot,,,,,,,0.1,,,", "error Growth row 3, Machine: missing…\nerror Machines row 2: the Growth sheet has a row for this machine that cannot be used, row 3 (hint: mend it there, or take it out)\nverdict=not judged"},
		{"", growthHeader + ",movable front,foot,,,,,,,0.1,,,\npump,movable front,foot,,,,,,,0.1,,," + rear, "error Growth row 2, Machine: missing…\nverdict=outside"},
		{"", growthHeader + "fan,movable front,foot,,,,,,,0.1,,,", "error Growth row 2, Machine: \"fan\" is not on the Machines sheet (hint: write the name as it is there)\nwanted_offset_v_mm=0 growth=null"},
	})
}

const (
	// Growth of all four supports, different in each number. By hand: movable V 0.04 + 0.2·x, H 0.028 − 0.06·x; stationary V 0.01 − 0.1·x, H −0.026 − 0.08·x (mm at the coupling, mm/m).
	fourSupports = "Growth: Machine,Support,Growth V,Growth H\npump,movable front,0.1,0.01\npump,movable rear,0.2,-0.02\npump,stationary near,0.03,-0.01\npump,stationary far,0.08,0.03\n"
	fourColumns  = "Growth movable front V=0.1; Growth movable front H=0.01; Growth movable rear V=0.2; Growth movable rear H=-0.02; Growth stationary near V=0.03; Growth stationary near H=-0.01; Growth stationary far V=0.08; Growth stationary far H=0.03"
	fourWanted   = "wanted_offset_v_mm=-0.03 wanted_slope_v=-0.3 wanted_offset_h_mm=-0.054 wanted_slope_h=-0.02 front_shim_mm=-0.37 rear_shim_mm=-0.77 front_move_mm=-0.08 rear_move_mm=-0.19"
)

// Each support's growth counts at its own place and in its own plane, from the Growth sheet, from columns and from both; T = −(movable − stationary).
func TestSupportsOfGrowth(t *testing.T) {
	movable := "Growth: Machine,Support,Growth V,Growth H\npump,movable front,0.1,0.01\npump,movable rear,0.2,-0.02\n"
	cases(t, job.Warning, grownRow, "", []jobCase{
		{"", fourSupports, fourWanted + " growth.supports.#=4 growth.supports.0.station_mm=300 growth.supports.1.station_mm=800 growth.supports.2.station_mm=-200 growth.supports.3.station_mm=-700 growth.supports.3.growth_sheet=true growth.supports.3.support=stationary far"},
		{fourColumns, "", fourWanted + " growth=null wanted_from=columns"},
		{"Growth stationary near V=0.03; Growth stationary near H=-0.01; Growth stationary far V=0.08; Growth stationary far H=0.03", movable, fourWanted + " growth.supports.2.growth_sheet=false growth.supports.2.columns_growth_v_mm=0.03 growth.supports.3.columns_growth_h_mm=0.03 growth.supports.0.columns_growth_v_mm=null growth.supports.2.growth_v_mm=0.03 growth.supports.2.u_growth_v_mm=0"},
		{"Growth stationary near V=0.03; Growth stationary far V=0.08", movable, "wanted_offset_v_mm=-0.03 wanted_slope_v=-0.3 wanted_offset_h_mm=-0.028 wanted_slope_h=0.06 growth.supports.2.columns_growth_h_mm=null growth.supports.2.growth_h_mm=0"},
		{"Growth stationary near H=-0.01; Growth stationary far H=0.03", movable, "wanted_offset_v_mm=-0.04 wanted_slope_v=-0.2 wanted_offset_h_mm=-0.054 wanted_slope_h=-0.02 growth.supports.2.columns_growth_v_mm=null growth.supports.2.growth_v_mm=0"},
		{"Growth stationary near V=x; Growth stationary far V=0.08", movable, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Growth stationary near V: \"x\" is not …"},
		{"Growth stationary near V=0.03; Growth stationary near H=x; Growth stationary far V=0.08", movable, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Growth stationary near H: \"x\" is not …"},
		{"Growth movable front V=x", movable, "wanted_offset_v_mm=-0.04 growth.supports.0.columns_growth_v_mm=null growth.supports.0.growth_sheet=true\nerror Machines row 2, Growth movable front V: \"x\" is not …"},
		// The sheet counts where both say something, and the row tells where they differ as shown.
		{"Growth movable front V=0.15", movable, "wanted_offset_v_mm=-0.04 growth.supports.0.columns_growth_v_mm=0.15\nwarning Machines row 2: the Growth sheet has this machine; its growth columns are not used: Growth movable front V 0.1 mm there, 0.15 mm here (hint: keep one of them)"},
		{"Growth movable rear H=0.15; Growth movable front V=0.1; Growth movable rear V=-0.2", movable, "growth.supports.1.columns_growth_h_mm=0.15\nwarning Machines row 2: the Growth sheet has this machine; its growth columns are not used: Growth movable rear V 0.2 mm there, -0.2 mm here; Growth movable rear H -0.02 mm there, 0.15 mm here (hint: keep one of them)"},
		{"Growth movable front V=0.1; Growth movable front H=0.01; Growth movable rear V=0.2; Growth movable rear H=-0.02", movable, "growth.supports.1.columns_growth_h_mm=-0.02"},
		{"Growth movable front V=0.1004; Growth movable front H=0.0096", movable, "growth.supports.0.columns_growth_v_mm=0.1004"}, // the same in thousandths of a millimetre
		{"Growth movable front V=0.1006", movable, "warning Machines row 2: the Growth sheet has this machine; its growth columns are not used: Growth movable front V 0.1 mm there, 0.101 mm here (hint: keep one of them)"},
		{"Growth stationary near V=0.5; Growth stationary far H=0.5", fourSupports, fourWanted + "\nwarning Machines row 2: the Growth sheet has this machine; its growth columns are not used: Growth stationary near V 0.03 mm there, 0.5 mm here; Growth stationary far H 0.03 mm there, 0.5 mm here (hint: keep one of them)"},
		// One support of a machine is half of it.
		{"", "Growth: Machine,Support,Growth V\npump,movable front,0.1", "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2: the Growth sheet has movable front and not movable rear (hint: give both supports of a machine; Growth V of 0 where nothing grows)"},
		{"", "Growth: Machine,Support,Growth V\npump,movable rear,0.1", "verdict=not judged\nerror Machines row 2: the Growth sheet has movable rear and not movable front (hint: give both supports of a machine; Growth V of 0 where nothing grows)"},
		{"", "Growth: Machine,Support,Growth V\npump,stationary near,0.1", "verdict=not judged\nerror Machines row 2: the Growth sheet has stationary near and not stationary far (hint: give both supports of a machine; Growth V of 0 where nothing grows)"},
		{"", "Growth: Machine,Support,Growth V\npump,stationary far,0.1\npump,movable front,0.1\npump,movable rear,0.1", "verdict=not judged\nerror Machines row 2: the Growth sheet has stationary far and not stationary near (hint: give both supports of a machine; Growth V of 0 where nothing grows)"},
		{"Growth movable rear V=0.2", "Growth: Machine,Support,Growth V\npump,movable front,0.1", "wanted_offset_v_mm=-0.04 wanted_slope_v=-0.2"},
		{"", "Growth: Machine,Support,Growth V\npump,stationary near,0.03\npump,stationary far,0.08", "wanted_offset_v_mm=0.01 wanted_slope_v=-0.1"},
		// Places that are missing. Seen: the hint said that the verdict stands without a distance, and there was none for the lack of it.
		{"Coupling to front feet", movable, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Coupling to front feet: missing (hint: the growth at the supports needs the places they stand at)"},
		{"Front to rear feet", movable, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Front to rear feet: missing (hint: the growth at the supports needs the places they stand at)"},
		{"Stationary near support", fourSupports, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Stationary near support: missing (hint: the growth at the supports needs the places they stand at)"},
		{"Stationary far support", fourSupports, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Stationary far support: missing (hint: the growth at the supports needs the places they stand at)"},
		{"Stationary near support; Stationary far support", movable, "wanted_offset_v_mm=-0.04"},
		{"Coupling to front feet=; Movable plane to front feet=200", movable, "wanted_offset_v_mm=-0.04"}, // 100 + 200
		// Of the feet on the Feet sheet the first and the last are front and rear, where the row names neither distance.
		{"Coupling to front feet; Front to rear feet", movable + "Feet: Machine,Foot,Along\npump,front 9,300\npump,front 3,300\npump,mid 9,500\npump,rear 9,800\npump,rear 3,800", "wanted_offset_v_mm=-0.04 wanted_slope_v=-0.2 growth.supports.0.station_mm=300 growth.supports.1.station_mm=800"},
		{"Front to rear feet", movable + "Feet: Machine,Foot,Along\npump,front 9,310\npump,rear 9,800", "verdict=not judged\nerror Machines row 2, Front to rear feet: missing …"},
		{"Coupling to front feet", movable + "Feet: Machine,Foot,Along\npump,front 9,300\npump,front 3,300", "verdict=not judged\nerror Machines row 2, Coupling to front feet: missing …"},
		{"Coupling to front feet; Movable plane to front feet=205", movable + "Feet: Machine,Foot,Along\npump,front 9,320\npump,rear 9,820", "growth.supports.0.station_mm=305 growth.supports.1.station_mm=805"},
		{"", movable + "Feet: Machine,Foot,Along\npump,front 9,310\npump,rear 9,810", "growth.supports.0.station_mm=300 growth.supports.1.station_mm=800"},
		// Where the maker wants the shaft hot comes on top.
		{"Running offset V=0.05; Running slope V=0.1; Running offset H=0.03; Running slope H=-0.2", fourSupports, "wanted_offset_v_mm=0.02 wanted_slope_v=-0.2 wanted_offset_h_mm=-0.024 wanted_slope_h=-0.22"},
		{"Running offset V=0.05; Running slope V=0.1; Running offset H=0.03; Running slope H=-0.2; " + fourColumns, "", "wanted_offset_v_mm=0.02 wanted_slope_v=-0.2 wanted_offset_h_mm=-0.024 wanted_slope_h=-0.22"},
		{"Running offset V=0.05; Running slope V=0.1; Running offset H=0.03; Running slope H=-0.2", "", "wanted_offset_v_mm=0.05 wanted_slope_v=0.1 wanted_offset_h_mm=0.03 wanted_slope_h=-0.2 wanted_from=columns"},
		{"Running offset V=x", fourSupports, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Running offset V: \"x\" is not …"},
		{"Running slope H=x", fourSupports, "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Running slope H: \"x\" is not …"},
		{"Running offset H=x", "", "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Running offset H: \"x\" is not …"},
		{"Running slope V=x", "", "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Running slope V: \"x\" is not …"},
		// A cross-and-yoke shaft's offset is wanted as it is, unless the maker says which; its slope is like any other's.
		{"Coupling=universal; Slope limit=0.5", fourSupports, "wanted_offset_v_mm=0.1 wanted_slope_v=-0.3 wanted_offset_h_mm=-0.04 wanted_slope_h=-0.02 u_wanted_slope_v=0 front_shim_mm=-0.24 rear_shim_mm=-0.64"},
		{"Coupling=universal; Slope limit=0.5; " + fourColumns, "", "wanted_offset_v_mm=0.1 wanted_slope_v=-0.3 wanted_offset_h_mm=-0.04 wanted_slope_h=-0.02 front_shim_mm=-0.24"},
		{"Coupling=universal; Slope limit=0.5; Running offset V=5; Running offset H=1", fourSupports, "wanted_offset_v_mm=4.97 wanted_slope_v=-0.3 wanted_offset_h_mm=0.946 wanted_slope_h=-0.02"},
		{"Coupling=universal; Slope limit=0.5; Running offset V=5; " + fourColumns, "", "wanted_offset_v_mm=4.97 wanted_slope_v=-0.3 wanted_offset_h_mm=-0.04 wanted_slope_h=-0.02"},
		// Columns in pairs: an empty cell is not zero.
		{"Growth movable front V=0.1", "", "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Growth movable rear V: missing (hint: Growth movable front V is given; write 0 if there is no growth here, an empty cell is not zero)"},
		{"Growth movable rear H=0.1", "", "wanted_offset_v_mm=null verdict=not judged\nerror Machines row 2, Growth movable front H: missing (hint: Growth movable rear H is given; write 0 if there is no growth here, an empty cell is not zero)"},
		{"Growth stationary near V=0.1", "", "verdict=not judged\nerror Machines row 2, Growth stationary far V: missing (hint: Growth stationary near V is given; write 0 if there is no growth here, an empty cell is not zero)"},
		{"Growth stationary far H=0.1", "", "verdict=not judged\nerror Machines row 2, Growth stationary near H: missing (hint: Growth stationary far H is given; write 0 if there is no growth here, an empty cell is not zero)"},
		{"Growth movable front V=0.1; Growth movable rear V=x", "", "verdict=not judged\nerror Machines row 2, Growth movable rear V: \"x\" is not …"},
		{"Growth movable front V=x; Growth movable rear V=1", "", "verdict=not judged\nerror Machines row 2, Growth movable front V: \"x\" is not …"},
		{"Growth movable front V=0.1; Growth movable rear V=0.1; Coupling to front feet; Front to rear feet", "", "wanted_offset_v_mm=-0.1 wanted_slope_v=0\nerror Machines row 2, Coupling to front feet: Coupling to front feet and Front to rear feet are missing (hint: shims and moves need it; offset, slope and verdict stand without it)"}, // the same at both ends: no place is needed
		{"Growth movable front V=0.1; Growth movable rear V=0.2; Front to rear feet", "", "verdict=not judged\nerror Machines row 2, Front to rear feet: missing (hint: Growth movable front V and Growth movable rear V differ, so the growth between needs it)"},
		{"Growth movable front V=0.1; Growth movable rear V=0.2; Coupling to front feet", "", "verdict=not judged\nerror Machines row 2, Coupling to front feet: missing (hint: Growth movable front V and Growth movable rear V differ, so the growth between needs it)"},
		{"Growth stationary near H=0.1; Growth stationary far H=0.2; Stationary near support", "", "verdict=not judged\nerror Machines row 2, Stationary near support: missing (hint: Growth stationary near H and Growth stationary far H differ, so the growth between needs it)"},
		{"Growth stationary near H=0.1; Growth stationary far H=0.2; Stationary far support", "", "verdict=not judged\nerror Machines row 2, Stationary far support: missing (hint: Growth stationary near H and Growth stationary far H differ, so the growth between needs it)"},
		{"Growth stationary near H=0.1; Growth stationary far H=0.2; Stationary far support=200", "", "verdict=not judged\nerror Machines row 2, Stationary far support: the far support, 200 mm from the coupling, is not farther than the near one, 200 mm (hint: both are distances from the coupling centre, without a sign)"},
		{"Growth stationary near V=0.1; Growth stationary far V=0.2; Growth stationary near H=0.1; Growth stationary far H=0.2; Stationary far support=150", "", "verdict=not judged\nerror Machines row 2, Stationary far support: the far support, 150 mm from the coupling, is not farther than the near one, 200 mm (hint: both are distances from the coupling centre, without a sign)"},
		{"Growth stationary near H=0.1; Growth stationary far H=0.2; Stationary far support=201", "", "wanted_offset_h_mm=-19.9 wanted_slope_h=-100"},
	})
}

// readSet is a set of readings on the Readings sheet, as the dials at ±100 mm show it for a line: R = V·cos φ + H·sin φ on the movable hub, the same with both signs turned on the stationary one.
func readSet(set string, dv, tv, dh, th float64) string {
	s := ""
	for _, hub := range []struct {
		name string
		x, k float64
	}{{"Movable rim", 0.1, 1}, {"Stationary rim", -0.1, -1}} {
		v, h := hub.k*(dv+tv*hub.x), hub.k*(dh+th*hub.x)
		for q, r := range [4]float64{0, h - v, -2 * v, -h - v} {
			s += fmt.Sprintf("pump,%s,%s,%d,%.6f\n", set, hub.name, 90*q, r)
		}
	}
	return s
}

const readingsHeader = "Readings: Machine,Set,Sweep,Angle,Reading\n"

// The maker's cold setting is what is wanted, with no ± of its own; beside anything else that says where the shaft should stand somebody has to choose. Each of the others is named for what it is.
func TestColdSettings(t *testing.T) {
	cold := "Cold offset V=-0.05; Cold slope V=0.3; Cold offset H=0.02; Cold slope H=-0.1"
	wanted := "wanted_offset_v_mm=-0.05 wanted_slope_v=0.3 wanted_offset_h_mm=0.02 wanted_slope_h=-0.1 wanted_from=cold setting front_shim_mm=-0.21 rear_shim_mm=-0.31 front_move_mm=-0.03 rear_move_mm=-0.18\n"
	none := "wanted_offset_v_mm=null wanted_from=null verdict=not judged front_shim_mm=null\n"
	conflict := func(other string) string {
		return none + "error Machines row 2, Wanted from: the maker's cold setting is given, and so is " + other + "; which of them holds is not said (hint: write cold setting or growth in Wanted from, on the row or once on the Job sheet)"
	}
	unused := func(other string) string {
		return wanted + "warning Machines row 2, Wanted from: " + other + " is not used: Wanted from says cold setting"
	}
	unusedCold := "\nwarning Machines row 2, Wanted from: the cold setting is not used: Wanted from says growth"
	set := readingsHeader + readSet("wanted", -0.05, 0.3, 0.02, -0.1)
	hot := readingsHeader + readSet("hot", 0.13, 0.6, 0, 0.3)
	list := []jobCase{
		{cold, "", wanted + "u_wanted_offset_v_mm=0 growth=null"},
		{"Wanted from=cold setting; " + cold, "", wanted},
		{"", set, strings.ReplaceAll(wanted, "rear_move_mm=-0.18", "u_wanted_offset_v_mm=0 u_wanted_slope_v=0 growth=null")},
		{"Wanted from=cold setting", set, wanted},
		{cold, set, none + "error Machines row 2, Cold offset V: a cold setting is given in columns and as a wanted set of readings (hint: keep one)"},
		{"Cold slope H=-0.1", set, none + "error Machines row 2, Cold offset V: a cold setting is given in columns and as a wanted set of readings (hint: keep one)"},
		// Four numbers, each asked for. Seen: for the lack of a slope it also said that the readings hold a number that cannot be.
		{"Cold offset V=-0.05; Cold slope V=0.3; Cold offset H=0.02", "", none + "error Machines row 2, Cold slope H: missing (hint: a cold setting has four numbers; write 0 where the maker wants none)"},
		{"Cold offset V=-0.05; Cold slope V=0.3; Cold slope H=0.02", "", none + "error Machines row 2, Cold offset H: missing (hint: a cold setting has four numbers; write 0 where the maker wants none)"},
		{"Cold offset V=-0.05; Cold slope H=0.3; Cold offset H=0.02", "", none + "error Machines row 2, Cold slope V: missing (hint: a cold setting has four numbers; write 0 where the maker wants none)"},
		{"Cold slope H=-0.05; Cold slope V=0.3; Cold offset H=0.02", "", none + "error Machines row 2, Cold offset V: missing (hint: a cold setting has four numbers; write 0 where the maker wants none)"},
		{"Cold slope H=x; " + strings.ReplaceAll(cold, "Cold slope H", "Note"), "", none + "error Machines row 2, Cold slope H: \"x\" is not …"},
		{"Cold offset V=x; " + strings.ReplaceAll(cold, "Cold offset V", "Note"), "", none + "error Machines row 2, Cold offset V: \"x\" is not …"},
		{"Coupling=universal; Slope limit=0.5; Cold slope V=0.3; Cold slope H=-0.1", "", "wanted_offset_v_mm=0.1 wanted_slope_v=0.3 wanted_offset_h_mm=-0.04 wanted_slope_h=-0.1 wanted_from=cold setting"}, // left where it is
		{"Coupling=universal; Slope limit=0.5; " + cold, "", "wanted_offset_v_mm=-0.05 wanted_slope_v=0.3 wanted_offset_h_mm=0.02 wanted_slope_h=-0.1"},
		{"Coupling=universal; Slope limit=0.5; Cold offset V=1; Cold slope H=-0.1", "", none + "error Machines row 2, Cold slope V: missing …"},
		// Wanted from, where there is nothing to choose between.
		{"Wanted from=growth; " + cold, "", none + "error Machines row 2, Wanted from: the cold setting is not used: Wanted from says growth (hint: write cold setting or growth in Wanted from, on the row or once on the Job sheet)"},
		{cold, "Job: Wanted from=growth", none + "error Machines row 2, Wanted from: the cold setting is not used: Wanted from says growth (hint: write cold setting or growth in Wanted from, on the row or once on the Job sheet)"},
		{"Wanted from=cold setting; " + cold, "Job: Wanted from=growth", wanted},
		{"Wanted from=growth", "", "wanted_offset_v_mm=0 wanted_from=columns"},
		{"Wanted from=x; " + cold, "", wanted + "error Machines row 2, Wanted from: \"x\" is not …"},
		{"Wanted from=x; Running offset V=0.1; " + cold, "Job: Wanted from=growth", none + "error Machines row 2, Wanted from: \"x\" is not …\nerror Machines row 2, Wanted from: the maker's cold setting is given, and so is a running offset or slope; …"},
		{"Running offset V=0.1; " + cold, "Job: Wanted from=cold setting", unused("a running offset or slope")},
		{"Wanted from=growth; Running offset V=0.1; " + cold, "Job: Wanted from=cold setting", "wanted_offset_v_mm=0.1 wanted_slope_v=0 wanted_from=columns" + unusedCold},
	}
	for _, other := range []struct{ cells, sheets, name, wants string }{
		{"", fourSupports, "growth on the Growth sheet", "wanted_offset_v_mm=-0.03 wanted_from=growth sheet"},
		{"Minutes after stop=5", hot, "a hot set of readings", "wanted_from=two sets of readings wanted_offset_v_mm=-0.03 wanted_slope_v=-0.1"},
		{"Change offset V=0.03; Change slope V=0.1; Change offset H=0; Change slope H=0", "", "a measured change", "wanted_offset_v_mm=-0.03 wanted_from=measured change"},
		{fourColumns, "", "growth in columns", "wanted_offset_v_mm=-0.03 wanted_from=columns"},
		{"Running offset V=0.1", "", "a running offset or slope", "wanted_offset_v_mm=0.1 wanted_from=columns"},
		{"Running slope V=0.1", "", "a running offset or slope", "wanted_slope_v=0.1 wanted_from=columns"},
		{"Running offset H=0.1", "", "a running offset or slope", "wanted_offset_h_mm=0.1 wanted_from=columns"},
		{"Running slope H=0.1", "", "a running offset or slope", "wanted_slope_h=0.1 wanted_from=columns"},
		{"Growth stationary far H=0.1; Growth stationary near H=0.1", "", "growth in columns", "wanted_offset_h_mm=0.1 wanted_slope_h=0"},
	} {
		cells := other.cells + "; " + cold
		list = append(list, jobCase{cells, other.sheets, conflict(other.name)}, jobCase{cells + "; Wanted from=cold setting", other.sheets, unused(other.name)}, jobCase{cells + "; Wanted from=growth", other.sheets, other.wants + unusedCold})
	}
	cases(t, job.Warning, grownRow, "", list)
}

// A measured change is taken from where the shaft should run: T = running − (hot − cold), with the ± of the change; numbers of it that are missing are asked for, and beside growth it wins and says so. Where it
// comes from readings its ± grows by 1 % of the change a minute after the stop (common practice, no source).
func TestMeasuredChanges(t *testing.T) {
	change := "Change offset V=0.03; Change slope V=0.1; Change offset H=-0.02; Change slope H=-0.2"
	wanted := "wanted_offset_v_mm=-0.03 wanted_slope_v=-0.1 wanted_offset_h_mm=0.02 wanted_slope_h=0.2 "
	none := "wanted_offset_v_mm=null wanted_from=null verdict=not judged front_shim_mm=null growth=null\n"
	hot := readSet("hot", 0.13, 0.6, -0.06, 0) // found 0.1, 0.5, −0.04, 0.2
	cold := readSet("cold", 0.2, 0.1, 0.1, -0.1)
	cases(t, job.Warning, grownRow, "", []jobCase{
		{change, "", wanted + "wanted_from=measured change growth.change_offset_v_mm=0.03 growth.change_slope_v=0.1 growth.change_offset_h_mm=-0.02 growth.change_slope_h=-0.2"},
		{change + "; Running offset V=0.05; Running slope V=0.3; Running offset H=0.01; Running slope H=0.02", "", "wanted_offset_v_mm=0.02 wanted_slope_v=0.2 wanted_offset_h_mm=0.03 wanted_slope_h=0.22"},
		{change + "; Running offset V=x", "", none + "error Machines row 2, Running offset V: \"x\" is not …"},
		{"Change offset V=0.03; Change slope V=0.1; Change offset H=-0.02", "", none + "error Machines row 2, Change slope H: missing (hint: a measured change has four numbers; write 0 if it was measured as none)"},
		{"Change slope H=0.03", "", none + "error Machines row 2, Change offset V: missing…\nerror Machines row 2, Change offset H: missing…\nerror Machines row 2, Change slope V: missing…"},
		{change + "; Change offset H=x", "", none + "error Machines row 2, Change offset H: \"x\" is not …"},
		{change, fourSupports, wanted + "wanted_from=measured change\nwarning Machines row 2: a measured change is given; growth is not used"},
		{change + "; " + fourColumns, "", wanted + "\nwarning Machines row 2: a measured change is given; growth is not used"},
		{change + "; Growth stationary far H=0.1", "", wanted + "\nwarning Machines row 2: a measured change is given; growth is not used"},
		{"Coupling=universal; Slope limit=0.5; " + change, "", "wanted_offset_v_mm=0.1 wanted_slope_v=-0.1 wanted_offset_h_mm=-0.04 wanted_slope_h=0.2 u_wanted_offset_v_mm=0"},
		// By sets: hot against what was found, or against a cold set of its own.
		{"Minutes after stop=0", readingsHeader + hot, wanted + "wanted_from=two sets of readings growth.cold_offset_v_mm=0.1 growth.cold_slope_h=0.2 growth.hot_offset_v_mm=0.13 growth.hot_slope_v=0.6 growth.hot_offset_h_mm=-0.06 growth.hot_slope_h=0 growth.cold_set_is_found=true growth.change_offset_h_mm=-0.02 growth.change_slope_h=-0.2"},
		{"Minutes after stop=0", readingsHeader + cold + hot, "wanted_offset_v_mm=0.07 wanted_slope_v=-0.5 wanted_offset_h_mm=0.16 wanted_slope_h=-0.1 growth.cold_offset_v_mm=0.2 growth.cold_slope_v=0.1 growth.cold_offset_h_mm=0.1 growth.cold_slope_h=-0.1 growth.cold_set_is_found=false growth.change_slope_h=0.1"},
		{"", readingsHeader + hot, wanted + "\nwarning Machines row 2, Minutes since stop: how many minutes after the stop the hot readings were taken is not said (hint: growth is lost with every minute after the stop; without the minutes 10 are assumed for the uncertainty)"},
		{"Minutes after stop=0; Running offset V=0.05; Running slope H=0.02", readingsHeader + hot, "wanted_offset_v_mm=0.02 wanted_slope_h=0.22"},
		{"Minutes after stop=0; Running slope V=x", readingsHeader + hot, none + "error Machines row 2, Running slope V: \"x\" is not …"},
		{"", readingsHeader + cold, "wanted_offset_v_mm=0\nwarning Machines row 2: the Readings sheet has a cold set of this machine and no hot one; it is not used (hint: add the hot set, or write found in Set if these are the readings to be corrected)"},
		{"Minutes after stop=0; " + change, readingsHeader + hot, wanted + "\nwarning Machines row 2: the Readings sheet has a hot set of this machine; the change in the columns is not used"},
		{"Minutes after stop=0; Change slope H=1", readingsHeader + hot, wanted + "\nwarning Machines row 2: the Readings sheet has a hot set of this machine; the change in the columns is not used"},
		{"Minutes after stop=0", fourSupports + readingsHeader + hot, wanted + "\nwarning Machines row 2: a measured change is given; growth is not used"},
		{"Minutes after stop=0", readingsHeader + hot + "pump,hot,Movable rim,45,x\n", none + "error Machines row 2: the hot set of the Readings sheet has a reading that cannot be used, in row 10 (hint: mend it there, or take it out)\nerror Readings row 10, Reading: \"x\" is not …"},
		{"Minutes after stop=0", readingsHeader + cold + "pump,cold,Movable rim,45,x\n" + hot, none + "error Machines row 2: the cold set of the Readings sheet has a reading that cannot be used, in row 10 …\nerror Readings row 10, Reading: \"x\" is not …"},
		{"Minutes after stop=0", readingsHeader + "pump,hot,Movable rim,0,0\npump,hot,Movable rim,90,0.1\npump,hot,Movable rim,180,0.2\n", none + "error Machines row 2: the hot set of the Readings sheet: the readings see the line at one plane only, so the slope is not settled (hint: add a rim at another plane, or a face)"},
		{"Minutes after stop=0", readingsHeader + strings.Replace(hot, "pump,hot,Movable rim,270", "pump,hot,Movable rim,271", 1) + "pump,hot,Movable rim,360,0.2\n", none + "error Machines row 2: the hot set of the Readings sheet: Movable rim: the repeated position differs from the first by 0.2 mm, limit …"},
		// A hot or a cold set with nothing read as found.
		{"Minutes after stop=0; " + noReadings, readingsHeader + hot, "status=…\nerror Machines row 2: the Readings sheet has a hot set of this machine, and there are no readings as found (hint: fill in the readings found, in this row or on the Readings sheet with Set left blank)"},
		{noReadings, readingsHeader + cold, "offset_v_mm=0.2 slope_v=0.1 offset_h_mm=0.1 slope_h=-0.1 wanted_offset_v_mm=0"},
		{"Minutes after stop=0; " + noReadings, readingsHeader + cold + hot, "offset_v_mm=0.2 wanted_offset_v_mm=0.07 growth.cold_set_is_found=true"},
	})
	// The ± of what is wanted, as twice its standard uncertainty: of a change given as numbers √2 · that of a given line, and 0.01 · 20 · the change where it was read 20 minutes after the stop (JCGM 100, 5.1.2).
	for _, c := range []struct {
		cells, sheets string
		share         float64
		warned        bool
	}{{change, "", 0, false}, {change + "; Minutes after stop=20", "", 0.2, false}, {change + "; Minutes after stop=20", "Job: Cooling per minute=3 %", 0.6, false}} {
		_, r := caseJob(t, grownRow, "", &jobCase{cells: c.cells, sheets: c.sheets})
		g := r.Growth
		if g == nil {
			t.Fatal(c.cells, r.Problems)
		}
		u := tables.GivenLine.U()
		near(t, c.cells+" offset V", g.UChange.DV, 2*math.Sqrt(2*u*u+c.share*c.share*0.03*0.03), 1e-9)
		near(t, c.cells+" slope V", g.UChange.TV, 2*math.Sqrt(2*tables.GivenSlope*tables.GivenSlope+c.share*c.share*0.1*0.1), 1e-9)
		near(t, c.cells+" offset H", g.UChange.DH, 2*math.Sqrt(2*u*u+c.share*c.share*0.02*0.02), 1e-9)
		near(t, c.cells+" slope H", g.UChange.TH, 2*math.Sqrt(2*tables.GivenSlope*tables.GivenSlope+c.share*c.share*0.2*0.2), 1e-9)
	}
}

// noReadings takes the readings of the row out.
const noReadings = "Movable rim 12; Movable rim 3; Movable rim 6; Movable rim 9; Stationary rim 12; Stationary rim 3; Stationary rim 6; Stationary rim 9"

// How sure growth is, by JCGM 100, 5.1.2 and 5.2.2: parts of one material share the error of its coefficient, so theirs add up; parts of different materials do not, and the errors of their temperatures neither,
// save those of one cold morning. Between front and rear, at 300 and 800 mm, the growth at the coupling is 1.6 · front − 0.6 · rear.
func TestSharedErrorsOfGrowth(t *testing.T) {
	materials := "Job: Plausible ranges=no\nMaterials: Material,Coefficient,Uncertainty,From,At temperature\nA,12,10 %,,\nB,12,10 %,,\nT,10,0,20,100\nT,11,0,20,200\n"
	head := materials + "Growth: Machine,Support,Part,Height,Material,Cold,Running,Growth V,Growth H,Direction,Temperature uncertainty,Coefficient uncertainty\n"
	still := "\npump,movable rear,,,,,,0,,,,"
	cases(t, job.Warning, grownRow, "", []jobCase{
		{"", head + "pump,movable front,,100,A,10,60,,,,0,\npump,movable front,,200,a,10,60,,,,0," + still, "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0.036"},
		{"", head + "pump,movable front,,100,A,10,60,,,,0,\npump,movable front,,200,B,10,60,,,,0," + still, "growth.supports.0.growth_v_mm=0.18 growth.supports.0.u_growth_v_mm=0.0268328157"},
		{"", head + "pump,movable front,,300,A,10,60,,,,0,\npump,movable rear,,300,A,10,60,,,,0,", "wanted_offset_v_mm=-0.18 u_wanted_offset_v_mm=0.036 u_wanted_slope_v=0"},
		{"", head + "pump,movable front,,300,A,10,60,,,,0,\npump,movable rear,,300,B,10,60,,,,0,", "wanted_offset_v_mm=-0.18 u_wanted_offset_v_mm=0.0615168270 u_wanted_slope_v=0.101823376"},
		{"", head + "pump,movable front,,300,B,10,60,,,,0,\npump,movable rear,,300,A,10,60,,,,0,\npump,stationary near,,300,B,10,60,,,,0,\npump,stationary far,,300,A,10,60,,,,0,", "wanted_offset_v_mm=0 u_wanted_offset_v_mm=0.0101823376"}, // (1.6 − 1.4)·B + (−0.6 + 0.4)·A
		{"", head + "pump,movable front,,300,A,10,60,,,,,0\npump,movable rear,,300,B,10,60,,,,,0", "u_wanted_offset_v_mm=0.028510559"},                                                                                                        // one morning: 2·0.0072·√(1 + 2.92)
		{"", head + "pump,movable front,,300,A,10,60,,,,,0\npump,movable rear,,300,B,11,60,,,,,0", "u_wanted_offset_v_mm=0.0347991724"},                                                                                                       // two: 2·0.0072·√(2.92 + 2.92)
		{"", head + "pump,movable front,,300,A,10,60,,,,,0\npump,movable front,,300,B,10,60,,,,,0" + still, "growth.supports.0.u_growth_v_mm=0.0352726523"},                                                                                   // 2·0.0072·√(4 + 2)
		// A support of parts that are worked out and parts that are given.
		{"", head + "pump,movable front,,300,A,10,60,,,,0,\npump,movable front,,,,,,0.05,0.02,,," + still, "growth.supports.0.growth_v_mm=0.23 growth.supports.0.u_growth_v_mm=0.036 growth.supports.0.growth_h_mm=0.02 growth.parts.#=3"},
		{"", head + "pump,movable front,,300,A,10,60,,,towards 9,0,\npump,movable front,,,,,,0.05,0.02,,," + still, "growth.supports.0.growth_v_mm=0.05 growth.supports.0.growth_h_mm=-0.16 growth.supports.0.u_growth_h_mm=0.036 growth.supports.0.u_growth_v_mm=0"},
		{"", head + "pump,movable front,,300,A,10,60,,,towards 9,0,\npump,movable front,,100,A,10,60,,,,0," + still, "growth.supports.0.growth_v_mm=0.06 growth.supports.0.growth_h_mm=-0.18 growth.supports.0.u_growth_h_mm=0.036 growth.supports.0.u_growth_v_mm=0.012"},
		{"", head + "pump,movable front,,,,,,0.05,0.02,,,\npump,movable front,,,,,,0.07,-0.05,,," + still, "growth.supports.0.growth_v_mm=0.12 growth.supports.0.growth_h_mm=-0.03"},
		// A table of means: h · (mean(b)·(b − 20) − mean(a)·(a − 20)) = 300 · (11·180 − 10·80)e-6. Past its end the row is named.
		{"", head + "pump,movable front,,300,T,100,200,,,,," + still, "growth.supports.0.growth_v_mm=0.354 growth.parts.0.coefficient_1e6_per_k=null growth.parts.0.material=T growth.parts.0.own_material=true"},
		{"", head + "pump,movable front,,300,T,100,201,,,,," + still, "verdict=not judged growth=null\nerror Machines row 2: the growth cannot be worked out: … (Growth row 2, T) (hint: means hold for the temperatures of their table only; write the Coefficient, or list the material on the Materials sheet)"},
		{"", head + "pump,movable front,,300,T,99,200,,,,," + still, "verdict=not judged\nerror Machines row 2: the growth cannot be worked out: … (Growth row 2, T) (hint: means …"},
		{"", head + "pump,movable rear,,300,T,100,200,,,,,\npump,movable front,,,,,,0.1,,,,\npump,movable front,,300,T,100,200,,,,,\npump,movable front,,300,A,100,200,,,,,\npump,movable front,,300,T,100,300,,,,,", "verdict=not judged\nerror Machines row 2: the growth cannot be worked out: … (Growth row 6, T) (hint: …"},
		{"", head + "pump,movable front,,300,T,100,200,,,,,\npump,movable rear,,,,,,0.1,,,,\npump,movable rear,,300,A,100,400,,,,,\npump,movable rear,,300,T,100,300,,,,,\npump,movable rear,,300,T,100,310,,,,,", "verdict=not judged\nerror Machines row 2: the growth cannot be worked out: … (Growth row 5, T) (hint: …"},
	})
}

// What is said of the wanted line and of growth: only where there is something, and of each number.
func TestGrowthIsSaid(t *testing.T) {
	cases(t, job.Error, grownRow, "", []jobCase{
		{"", "", "not Wanted cold\nnot From cold\nwanted_readings.#=2 wanted_readings.0.at_6_mm=0"},
		{"Running offset V=0.01", "", "says Wanted cold: 0.01 mm high and in line sideways at the coupling; away from it the shaft keeps level and leads to neither side."},
		{"Running offset H=0.01", "", "says Wanted cold: level and 0.01 mm towards the 3 o'clock side at the coupling"},
		{"Running slope V=-0.1", "", "says Wanted cold: level and in line sideways at the coupling; away from it the shaft falls 0.1 mm/m and leads to neither side."},
		{"Running slope H=-0.1", "", "says Wanted cold: level and in line sideways at the coupling; away from it the shaft keeps level and leads 0.1 mm/m towards the 9 o'clock side."},
		{"Coupling=universal; Slope limit=0.5", "", "not Zeroed at 12"},
		{"Coupling=universal; Slope limit=0.5; Running offset V=1", "", "not Zeroed at 12"},
		{"Coupling=universal; Slope limit=0.5; Running slope H=0.1", "", "says Wanted cold\nsays Zeroed at 12"},
		{"Coupling=universal; Slope limit=0.5; Running slope V=0.1", "", "says Wanted cold\nsays Zeroed at 12"},
		{"", fourSupports, "says From cold to running movable front rises 0.1 mm ± 0 mm and goes 0.01 mm towards the 3 o'clock side (Growth sheet).\nsays From cold to running movable rear rises 0.2 mm ± 0 mm and goes 0.02 mm towards the 9 o'clock side (Growth sheet).\n" +
			"says From cold to running stationary far rises 0.08 mm ± 0 mm and goes 0.03 mm towards the 3 o'clock side (Growth sheet).\n" +
			"wanted_readings.0.sweep=Movable rim wanted_readings.0.at_12_mm=0 wanted_readings.0.at_3_mm=0.004 wanted_readings.0.at_6_mm=0.12 wanted_readings.0.at_9_mm=0.116 wanted_readings.1.sweep=Stationary rim wanted_readings.1.at_3_mm=0.052 wanted_readings.1.at_6_mm=0 wanted_readings.1.at_9_mm=-0.052\n" +
			"says Movable rim 0.00, 0.00, 0.12, 0.12; Stationary rim 0.00, 0.05, 0.00, -0.05."},
		{"Growth movable front V=0.1; Growth movable rear V=0.2", "Growth: Machine,Support,Growth V\npump,stationary near,0.1\npump,stationary far,0.1", "says From cold to running movable front rises 0.1 mm ± 0 mm.\nsays From cold to running stationary near rises 0.1 mm ± 0 mm (Growth sheet)."},
		{fourColumns, "", "not From cold to running"},
		{"", "Materials: Material,Coefficient\nours,12\n" + growthHeader + "pump,movable front,foot,300,,steel,,10,60,,,,\npump,movable front,leg,300,,ours,,10,60,,,,\npump,movable rear,foot,300,,steel,,10,60,,,,\npump,movable rear,leg,300,,,12,10,60,,,,",
			"says Coefficient of ours from your Materials sheet: your sheet Materials, row 2 (row 3).\nsays (row 2).\nnot (row 4)\nnot (row 5)"},
		{"Method=line; Given offset V=0.1; Given offset H=0; Given slope V=0; Given slope H=0; Running offset V=0.1", "", "wanted_readings.#=0\nnot Zeroed at 12"},
		{"Growth movable front V=x; Growth movable rear V=1", "", "error …\nwanted_readings.#=0"},
		// A measured change, in numbers and by sets.
		{"Change offset V=0.03; Change slope V=0.1; Change offset H=-0.02; Change slope H=-0.2", "", "says Measured from cold to hot, at the coupling the shaft moves 0.03 mm up and 0.02 mm towards the 9 o'clock side, ± 0.029 mm and ± 0.029 mm; its slope turns\nsays turns so that it rises 0.1 mm/m and leads 0.2 mm/m towards the 9 o'clock side\nsays The wanted cold line lies as much the other way from where the shaft is to run.\nnot By the hot set"},
		{"Change offset V=-0.03; Change slope V=0; Change offset H=0; Change slope H=0", "", "says the shaft moves 0.03 mm down and to neither side, ±\nsays its slope stays, ±"},
		{"Change offset V=0; Change slope V=0; Change offset H=0; Change slope H=0.1", "", "says the shaft moves neither up nor down and to neither side, ±\nsays turns so that it keeps level and leads 0.1 mm/m towards the 3 o'clock side"},
		{"Change offset V=0; Change slope V=-0.1; Change offset H=0; Change slope H=0", "", "says turns so that it falls 0.1 mm/m and leads to neither side"},
		{"Coupling=universal; Slope limit=0.5; Change offset V=0; Change slope V=-0.1; Change offset H=0; Change slope H=0", "", "says turns so that it falls 0.1 mm/m\nnot The wanted cold line lies as much"},
		{"Minutes since stop=0", readingsHeader + readSet("hot", 0.13, 0.6, -0.06, 0), "says By the hot set of the Readings sheet the shaft stands 0.13 mm high and 0.06 mm towards the 9 o'clock side at the coupling; away from it the shaft rises 0.6 mm/m and leads to neither side. The readings as found are its cold set.\nnot By its cold set"},
		{"Minutes since stop=0", readingsHeader + readSet("hot", 0.13, 0.6, -0.06, 0) + readSet("cold", 0.2, 0.1, 0.1, -0.1), "says By the hot set of the Readings sheet the shaft stands 0.13 mm high\nsays By its cold set it stands 0.2 mm high and 0.1 mm towards the 3 o'clock side\nnot The readings as found"},
	})
}

// What the dials should read is not said while the wanted line is not known, or there is no line.
func TestNoWantedReadingsWithoutWantedLine(t *testing.T) {
	row := append([]string{roundsText[0] + " | Growth movable front V=0.1 | Growth movable rear V=0.1" + rims(calc.Line{DV: 0.1})}, roundsText[1:]...)
	for change, want := range map[string]int{"2: Note=n": 2, "2: Running offset V=x": 0, "2: Coupling to stationary plane=0 | Coupling to movable plane=0": 0, "2: Coupling to movable plane": 0} {
		e := workText(t, plus(row, change)...)
		w := e.WantedReadings(e.Row(0))
		if len(w) != want || want == 0 && (w != nil || len(e.AppendWantedReadings(nil, e.Row(0))) > 0) || strings.Contains(caseSays(e), "NaN") {
			t.Errorf("%s: %v", change, w)
		}
	}
}
