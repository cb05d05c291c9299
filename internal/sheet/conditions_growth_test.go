package sheet

import (
	"testing"

	"shimsheet/internal/job"
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
