package sentences

import (
	"testing"

	"shimsheet/internal/job"
)

const lim = "Limits: Set,Coupling,Up to,Offset,Slope,Source\n"

// What the Limits sheet may hold: each lack, each contradiction, and what a row of the list is then held to. A set with a row that cannot be used is none at all, for the row left out would put another in its place.
func TestLimitsSheet(t *testing.T) {
	named := "Limits=ours; "
	bad := func(row string) string {
		return "error Machines row 2, Limits: the Limits sheet has a row of the limit set ours that cannot be used, row " + row + " (hint: mend it there, or take it out)\nverdict=not judged limits.set= offset_v_mm=-0.3\n"
	}
	cases(t, job.Error, change(lowRow, "Coupling=flexible"), "", []jobCase{
		{named, lim + "ours,flexible,3000,0.05,0.3,\n", "limits.set=ours limits.offset_mm=0.05 limits.slope=0.3 limits.up_to_rpm=3000 limits.own_set=true limits.own_offset=false limits.own_slope=false limits.source=your sheet Limits, row 2 verdict=outside"},
		{named, lim + "ours,flexible,3000,0.05,0.3,our handbook\n", "limits.source=our handbook (your sheet Limits, row 2)"},
		{"Limits= OURS ; ", lim + "ours,flexible,,0.05,0.3,\n", "limits.set=ours limits.up_to_rpm=null"}, // whatever the speed
		{named, lim + "ours,flexible,1480,0.05,0.3,\n,flexible,3000,0.04,0.2,\n", "limits.offset_mm=0.05 limits.slope=0.3"}, {named, lim + "ours,flexible,1479,0.05,0.3,\n,flexible,3000,0.04,0.2,\n", "limits.offset_mm=0.04 limits.slope=0.2 limits.source=your sheet Limits, row 3"},
		{named, lim + "ours,flexible,3000,0.04,0.2,\nours,flexible,1480,0.05,0.3,\n", "limits.offset_mm=0.05"}, // in any order
		{named, lim + "ours,flexible,1479,0.05,0.3,\n", "verdict=not judged\nerror Machines row 2, Speed: Speed 1480 rpm is past the limit set ours, which ends at 1479 rpm for a flexible coupling (hint: write Offset limit and Slope limit of the row's own)"},
		{named, lim + "ours,spacer,3000,,0.3,\n", "verdict=not judged\nerror Machines row 2, Coupling: the limit set ours has no limits for a flexible coupling (hint: write Offset limit and Slope limit of the row's own)"},
		{named + "Coupling=spacer; Spacer length=400", lim + "ours,spacer,3000,,0.3,\n", "limits.slope=0.3 limits.offset_mm=null"}, {named + "Coupling=universal", lim + "ours,universal,3000,,0.3,\n", "limits.slope=0.3"},
		{"", lim + "published,flexible,3000,0.05,0.3,\n", "limits.own_set=true limits.offset_mm=0.05"}, // takes the built-in one's place
		{"", lim + "ours,flexible,3000,0.05,0.3,\n", "limits.set=published limits.own_set=false"},
		{"", lim + "ours,flexible,3000,0.05,0.3,\nJob: Default limits=ours", "limits.set=ours"}, {"Limits=published; ", lim + "ours,flexible,3000,0.05,0.3,\nJob: Default limits=ours", "limits.set=published"},
		// What is missing or wrong.
		{"", lim + ",flexible,3000,0.05,0.3,\n", "error Limits row 2, Set: missing (hint: write the name of the set; the rows below it may leave it out)"},
		{named, lim + "ours,,3000,0.05,0.3,\n", bad("2") + "error Limits row 2, Coupling: missing (hint: write …"}, {named, lim + "ours,rubber,3000,0.05,0.3,\n", bad("2") + "error Limits row 2, Coupling: \"rubber\" is not …"},
		{named, lim + "ours,flexible,3000,0.05,,\n", bad("2") + "error Limits row 2, Slope: missing (hint: every kind of coupling is judged by slope)"}, {named, lim + "ours,flexible,3000,,0.3,\n", bad("2") + "error Limits row 2, Offset: missing (hint: a flexible coupling is judged by its offset too)"},
		{named, lim + "ours,rigid,3000,,0.3,\n", bad("2") + "error Limits row 2, Offset: missing (hint: a rigid coupling is judged by its offset too)"}, {named, lim + "ours,vertical flange,3000,,0.3,\n", bad("2") + "error Limits row 2, Offset: missing …"},
		{named, lim + "ours,flexible,0,0.05,0.3,\n", bad("2") + "error Limits row 2, Up to speed: \"0\" cannot be …"}, {named, lim + "ours,flexible,3000,0,0.3,\n", bad("2") + "error Limits row 2, Offset: \"0\" cannot be …"}, {named, lim + "ours,flexible,3000,0.05,-1,\n", bad("2") + "error Limits row 2, Slope: \"-1\" cannot be …"},
		{named, lim + "ours,flexible,x,0.05,,\n", bad("2") + "error Limits row 2, Up to speed: \"x\" is not …"}, // one thing at a time
		{named, lim + "ours,flexible,1800,0.05,0.3,\nours,flexible,3000,x,0.3,\nours,flexible,3600,y,0.3,\n", bad("3") + "error Limits row 3, Offset: …\nerror Limits row 4, Offset: …"},
		{named, lim + "ours,flexible,1800,0.05,0.3,\n,flexible,1800,0.04,0.3,\n", bad("3") + "error Limits row 3, Up to speed: the set ours has a row that ends at this speed for a flexible coupling already (hint: each row ends at a speed of its own)"},
		{named, lim + "ours,flexible,1800,0.05,0.3,\n,rigid,1800,0.04,0.3,\n", "limits.offset_mm=0.05"},
		{named + "Offset limit=0.05; Slope limit=0.1; ", lim + "ours,flexible,3000,x,0.3,\n", "verdict=not judged\nerror Machines row 2, Limits: the Limits sheet has a row of the limit set ours …\nerror Limits row 2, Offset: …"}, // it was named, so its own limits do not stand in
		{"", lim + "ours,flexible,3000,x,0.3,\nJob: Default limits=ours", "verdict=not judged\nerror Machines row 2, Limits: the Limits sheet has a row of the limit set ours …\nerror Limits row 2, Offset: …"},
		// Names that are no set.
		{"Limits=theirs", "", "verdict=not judged\nerror Machines row 2, Limits: \"theirs\" is no limit set (hint: the limit sets are: …)"}, {"Limits=theirs", lim + "ours,flexible,3000,0.05,0.3,\n", "verdict=not judged\nerror Machines row 2, Limits: \"theirs\" is no limit set (hint: the limit sets are: ours, published…)"},
		{"", "Job: Default limits=theirs", "verdict=not judged\nerror Job row 1, Default limits: \"theirs\" is no limit set (hint: the limit sets are: …)\nerror Machines row 2, Limits: no limit set: Default limits of the Job sheet could not be understood (hint: the limit sets are: …)"},
	})
	asks := "warning Limits: the set ours holds only for rows that name it in Limits; the others are held to the built-in set published (hint: write ours in Default limits of the Job sheet to hold every row to it, or name the built-in set there)"
	cases(t, job.Warning, change(lowRow, "Coupling=flexible"), "", []jobCase{
		{"", lim + "ours,flexible,3000,0.05,0.3,\n", asks}, {"", lim + "ours,flexible,3000,0.05,0.3,\nJob: Default limits=ours", ""}, {"", lim + "ours,flexible,3000,0.05,0.3,\nJob: Default limits=published", ""},
		{"", lim + "published,flexible,3000,0.05,0.3,\n", ""}, {named, lim + "ours,flexible,3000,0.05,0.3,\ntheirs,flexible,3000,0.05,0.3,\n", asks}, {"", lim + "ours,flexible,3000,0.05,0.3,\npublished,flexible,3000,0.05,0.3,\n", ""},
	})
}

// What a row is held to: of its own limits and those of its set the stricter each, a looser one with its reason only; a limit equal to the set's is its own. Where the set does not reach, its own hold alone.
func TestLimitsOfARow(t *testing.T) {
	sheets := lim + "published,flexible,3000,0.05,0.3,\npublished,spacer,3000,,0.4,\npublished,rigid,2000,0.02,0.1,\npublished,vertical flange,1000,0.03,0.2,"
	looser := func(col, own, set string) string {
		return "warning Machines row 2, " + col + ": " + col + " " + own + " is looser than " + set + " of the limit set published; the stricter holds (hint: to use the looser one write in Limit reason which document of the machine's maker gives it; a coupling maker's maximum is for the coupling, not for the bearings)\nlimits.looser_refused=true "
	}
	alone := "limits.not_compared=Speed is missing, so there is no limit limits.set= "
	noSpeed := "verdict=not judged\nerror Machines row 2, Speed: Speed is missing, so there is no limit (hint: write the speed, or Offset limit and Slope limit of the row's own)"
	cases(t, job.Warning, change(lowRow, "Coupling=flexible"), sheets, []jobCase{
		{"", "", "limits.offset_mm=0.05 limits.slope=0.3 limits.own_offset=false limits.own_slope=false limits.looser_used=false limits.looser_refused=false limits.reason= limits.not_compared= verdict=outside"},
		{"Offset limit=0.04", "", "limits.offset_mm=0.04 limits.own_offset=true limits.own_slope=false limits.slope=0.3"}, {"Slope limit=0.2", "", "limits.slope=0.2 limits.own_slope=true limits.own_offset=false limits.offset_mm=0.05"},
		{"Offset limit=0.05; Slope limit=0.3", "", "limits.offset_mm=0.05 limits.own_offset=true limits.own_slope=true limits.looser_refused=false"},
		{"Offset limit=0.051", "", looser("Offset limit", "0.051 mm", "0.05 mm") + "limits.offset_mm=0.05 limits.own_offset=false"}, {"Slope limit=0.31", "", looser("Slope limit", "0.31 mm/m", "0.3 mm/m") + "limits.slope=0.3 limits.own_slope=false"},
		{"Offset limit=0.06; Slope limit=0.2", "", looser("Offset limit", "0.06 mm", "0.05 mm") + "limits.slope=0.2 limits.own_slope=true"},
		{"Offset limit=0.06; Limit reason= maker ", "", "limits.offset_mm=0.06 limits.own_offset=true limits.looser_used=true limits.looser_refused=false limits.reason=maker"}, {"Offset limit=0.04; Limit reason=maker", "", "limits.offset_mm=0.04 limits.looser_used=false"},
		{"Offset limit=x", "", "verdict=not judged\nerror Machines row 2, Offset limit: \"x\" is not …"}, {"Slope limit=x", "", "verdict=not judged\nerror Machines row 2, Slope limit: \"x\" is not …"},
		{"Coupling=spacer; Spacer length=400; Offset limit=0.002", "", "limits.slope=0.4"}, {"Coupling=rigid", "", "limits.offset_mm=0.02 limits.slope=0.1"},
		// Without a speed.
		{"Speed", "", noSpeed}, {"Speed; Offset limit=0.04", "", noSpeed}, {"Speed; Slope limit=0.2", "", noSpeed}, {"Speed; Slope limit=0.2; Offset limit=0.04", "", alone + "limits.slope=0.2 limits.offset_mm=0.04 limits.own_offset=true limits.own_slope=true verdict=outside"},
		{"Speed; Coupling=spacer; Spacer length=400; Slope limit=0.2", "", alone + "limits.slope=0.2 verdict=outside"}, {"Speed=3001; Slope limit=0.2; Offset limit=0.04", "", "limits.not_compared=Speed 3001 rpm is past the limit set published, which ends at 3000 rpm for a flexible coupling limits.slope=0.2 verdict=outside"},
		{"Speed=x", "", "verdict=not judged\nerror Machines row 2, Speed: \"x\" is not …"}, {"Speed=x; Slope limit=0.2; Offset limit=0.04", "", "limits.not_compared=Speed cannot be read limits.slope=0.2 verdict=outside\nerror Machines row 2, Speed: \"x\" is not …"},
		{"Speed=2000; Coupling=rigid", "", "limits.up_to_rpm=2000"}, {"Speed=2001; Coupling=rigid", "", "verdict=not judged\nerror Machines row 2, Speed: Speed 2001 rpm is past the limit set published, which ends at 2000 rpm for a rigid coupling (hint: …"},
		{"Coupling=universal; Slope limit=0.2", "", "limits.not_compared=the limit set published has no limits for a universal coupling limits.slope=0.2"},
		// A machine on a flange has rows of its own, where the set has them.
		{"Mounting=vertical flange; Bolt circle=400; Bolts=4; Coupling to flange=200; Speed=1000", "", "limits.offset_mm=0.03 limits.slope=0.2 limits.up_to_rpm=1000"}, {"Mounting=vertical flange; Bolt circle=400; Bolts=4; Coupling to flange=200; Speed=1000", lim + "published,flexible,3000,0.05,0.3,", "limits.offset_mm=0.05"},
	})
}

// Materials: what each lack and each contradiction is answered with; a material whose row cannot be used is none.
func TestMaterialsSheet(t *testing.T) {
	growth := "\nGrowth: Machine,Support,Height,Material,Cold,Running,Growth V\npump,movable front,300,ours,100,200,\npump,movable rear,,,,,0\n"
	mat := "Materials: Material,Coefficient,Uncertainty,From,At temperature,Source\n"
	bad := func(row string) string {
		return "error Growth row 2, Material: the Materials sheet has a row of ours that cannot be used, row " + row + " (hint: mend it there, or take it out)\nerror Machines row 2: the Growth sheet has a row …\ngrowth=null\n"
	}
	table := " (hint: rows of one material are a table: each gives the mean from the same temperature (From) to one of its own (At temperature))"
	cases(t, job.Error, grownRow, "", []jobCase{
		{"", mat + "ours,12,,,,\n" + growth, "growth.supports.0.growth_v_mm=0.36 growth.parts.0.source=your sheet Materials, row 2"}, {"", mat + "OURS,12,,,,our book\n" + growth, "growth.supports.0.growth_v_mm=0.36 growth.parts.0.material=OURS growth.parts.0.source=our book (your sheet Materials, row 2)"},
		{"", mat + "steel,20,,,,\n" + growth, "growth=null\nerror …no material known here (hint: write its Coefficient, or list it on the Materials sheet; the materials are: steel, …)\nerror …"},
		{"", mat + ",12,,,,\nours,12,,,,\n" + growth, "growth.supports.0.growth_v_mm=0.36\nerror Materials row 2, Material: missing (hint: write the name of the material and its coefficient, such as 11.9 1e-6/K)"},
		{"", mat + "ours,,,,,\n" + growth, bad("2") + "error Materials row 2, Coefficient: missing (hint: write the name of the material and its coefficient, such as 11.9 1e-6/K)"},
		{"", mat + "ours,x,,,,\nours,y,,,,\n" + growth, bad("2") + "error Materials row 2, Coefficient: \"x\" …\nerror Materials row 3, Coefficient: \"y\" …"}, {"", mat + "ours,12,-1,,,\n" + growth, bad("2") + "error Materials row 2, Uncertainty: \"-1\" cannot be …"},
		{"", mat + "ours,12,,x,,\n" + growth, bad("2") + "error Materials row 2, From: \"x\" …"}, {"", mat + "ours,12,,,x,\n" + growth, bad("2") + "error Materials row 2, At temperature: \"x\" …"},
		// Tables of means: 300 · (b·(200 − from) − a·(100 − from))e-6; the name may stand once, the rows in any order, and From is 20 °C where nobody says.
		{"", mat + "ours,10,,20,100,\n,11,,20,200,\n" + growth, "growth.supports.0.growth_v_mm=0.354"}, {"", mat + "ours,11,,20,200,\n,10,,20,100,\n" + growth, "growth.supports.0.growth_v_mm=0.354"}, {"", mat + "ours,10,,,100,\n,11,,,200,\n" + growth, "growth.supports.0.growth_v_mm=0.354"},
		{"", mat + "ours,10,,0,100,\n,11,,0,200,\n" + growth, "growth.supports.0.growth_v_mm=0.36"}, {"", mat + "ours,11,,20,200,\nours,10,,20,100,\nours,15,,20,400,\n" + growth, "growth.supports.0.growth_v_mm=0.354"},
		{"", mat + "ours,10,,20,100,\n,11,,20,,\n" + growth, bad("3") + "error Materials row 3, At temperature: missing" + table}, {"", mat + "ours,10,,20,,\n,11,,20,200,\n" + growth, bad("3") + "error Materials row 3, At temperature: missing" + table},
		{"", mat + "ours,10,,20,100,\n,11,,0,200,\n" + growth, bad("3") + "error Materials row 3, From: the means of ours begin at different temperatures" + table}, {"", mat + "ours,10,,20,100,\n,11,,,200,\n" + growth, bad("3") + "error Materials row 3, From: …"}, {"", mat + "ours,10,,,100,\n,11,,20,200,\n" + growth, bad("3") + "error Materials row 3, From: …"},
		{"", mat + "ours,10,,20,100,\n,11,,20,100,\n" + growth, bad("3") + "error Materials row 3, At temperature: ours has a mean to this temperature already" + table}, {"", mat + "ours,10,,20,100,\n,11,,20,200,\n,12,,20,100,\n" + growth, bad("4") + "error Materials row 4, At temperature: …"},
		{"", mat + "ours,10,,20,100,\n" + growth, "growth.supports.0.growth_v_mm=0.3"}, // one row is one coefficient
		// Of several uncertainties the largest: 0.36 · 20 %, beside 300 · 12e-6 · 2 · √2.
		{"", mat + "ours,12,5 %,0,100,\n,12,20 %,0,200,\n,12,10 %,0,300,\n" + growth, "growth.supports.0.growth_v_mm=0.36 growth.supports.0.u_growth_v_mm=0.145432871"},
	})
}
