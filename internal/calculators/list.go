package calculators

import (
	"shimsheet/internal/tables"
)

// FindMaterial is the table of materials that calculators look names up in when CalcSettings has none; nil: there is no table, and only
// numbers are taken.
var FindMaterial func(name string) (Material, bool)

var (
	practice     = tables.Source{Grade: tables.Practice}
	ownRules     = tables.Caution{Text: "Local rules and the site's licensed people come before anything shown here; of the limits of the machine's maker, the coupling's maker and those here the stricter holds.", Source: practice}
	isolateFirst = tables.Caution{Text: "Isolate, lock and tag out, release stored energy, and try the start before any hand goes near the coupling.",
		Source: tables.Source{Grade: tables.Published, Text: "29 CFR 1910.147(d); ISO 14118:2017"}}
	loadFirst = tables.Caution{Text: "Support the load before a bolt is loosened. Never put a hand between a shim and a foot.", Source: practice}
)

// Words for the side of a shim, the hub under the dial, the bound of a value.
const (
	ridesStationary = 1
	footRear        = 0
	footFront       = 1
)

// quantityChoices are the words of the converters' Quantity, in the order of convertible.
var quantityChoices = []string{"length", "slope", "angle", "temperature", "temperature difference|difference", "speed|frequency", "force", "torque", "pressure|stress|stiffness",
	"mass|weight", "expansion|expansion coefficient", "density", "area"}

var calculatorList = []*Calculator{
	{
		Key: "convert", Title: "Units", Figure: "convert",
		About: "One value in several units at once, worked out without rounding.",
		Inputs: []Column{
			{Key: "value", Title: "Value", Help: "A number with its unit: 12.5 mil, 10 1/8 in, 150 °F.", Measure: MValue, Required: true, also: "number|amount"},
			{Key: "from", Title: "From", Help: "Unit of a bare number.", Measure: MText, also: "unit|from unit"},
			{Key: "to", Title: "To", Help: "Units wanted, a semicolon between. Blank: every unit of the quantity.", Measure: MText, also: "to unit|to units|wanted"},
			{Key: "quantity", Title: "Quantity", Help: "Needed where a sign stands for two: lb is a mass or a force, °C a temperature or a difference.", Measure: MChoice, Choices: quantityChoices, also: "kind"},
		},
		Outputs: []Column{
			{Key: "rounded", Title: "Rounded", Help: "With as many significant digits as were typed, one more where the first digit fell, three at least; a temperature with as many decimals.", Measure: MText},
			{Key: "exact", Title: "Exact", Help: "The whole value; where its digits do not end, the first of them, … and the fraction.", Measure: MText},
			{Key: "as", Title: "Taken as", Help: "The quantity.", Measure: MText},
		},
		Formula: "to = from · (factor of from) / (factor of to); temperatures first move to the same zero. Factors are exact: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, " +
			"1 lbf = 0.45359237 × 9.80665 N. A slope given in degrees is its tangent, which no decimal holds.",
		Check:   "1 lbf·ft = 1.3558179483314004 N·m (NIST SP 811, 2008, app. B.8).",
		Example: []string{"1 lbf·ft", "", "N·m", ""},
		Source:  tables.Source{Grade: tables.Exact, Text: "NIST SP 811 (2008), app. B.8; rounding after its section B.7"},
		eval:    evalConvert,
	},
	{
		Key: "convert_column", Title: "One unit for a mixed column", Figure: "convert",
		About: "A pasted column with different units, written in one. What could not be read keeps its row, with the reason and the place.",
		Inputs: []Column{
			{Key: "value", Title: "Value", Help: "A number, with its unit or without.", Measure: MValue, Required: true, also: "number|amount|reading"},
			{Key: "from", Title: "From", Help: "Unit of a bare number. Blank: a bare number is an error.", Measure: MText, also: "unit|from unit"},
			{Key: "to", Title: "To", Help: "The unit wanted.", Measure: MText, Required: true, also: "to unit|wanted"},
			{Key: "quantity", Title: "Quantity", Help: "Needed only where the unit wanted stands for two.", Measure: MChoice, Choices: quantityChoices, also: "kind"},
		},
		Outputs: []Column{
			{Key: "rounded", Title: "Rounded", Help: "Number in the unit wanted, with the significant digits typed.", Measure: MText},
			{Key: "exact", Title: "Exact", Help: "Number in the unit wanted, whole.", Measure: MText},
			{Key: "unit", Title: "Unit wanted", Help: "Its unit.", Measure: MText},
		},
		Formula: "As for Units, row by row.",
		Check:   "12.5 mil = 0.3175 mm, 1/2 in = 12.7 mm (1 in = 25.4 mm: NIST SP 811, 2008, app. B.8).",
		Example: []string{"12.5 mil", "", "mm", ""},
		Source:  tables.Source{Grade: tables.Exact, Text: "NIST SP 811 (2008), app. B.8"},
		eval:    evalConvertColumn,
	},
	{
		Key: "droop", Title: "Droop of a bracket bar", Figure: "droop",
		About: "How far a dial's bar hangs under its own weight and the dial, and what the dial shows for it at 6 o'clock. Measured on a stiff pipe it is better: the clamp gives way too.",
		Inputs: []Column{
			{Key: "od", Title: "Outside diameter", Help: "Of the bar or tube.", Measure: MDistance, Required: true, also: "OD|diameter|outer diameter"},
			{Key: "id", Title: "Inside diameter", Help: "Of the tube; 0 for a solid bar.", Measure: MDistance, Default: "0 mm", also: "ID|bore|inner diameter"},
			{Key: "length", Title: "Length", Help: "From the clamp to the dial.", Measure: MDistance, Required: true, also: "L|span|reach"},
			{Key: "tip_mass", Title: "Tip mass", Help: "Dial with its fittings at the free end.", Measure: MMass, Default: "0 kg", also: "mass|mass at the end|dial mass"},
			{Key: "material", Title: "Material", Help: "For stiffness and density where they are not typed. Values are common ones.", Measure: MChoice, Default: "steel",
				Choices: []string{"steel|carbon steel", "stainless steel|stainless", "aluminium|aluminum|alu"}},
			{Key: "e", Title: "Stiffness", Help: "Modulus of elasticity; wins over the material.", Measure: MStiffness, also: "modulus|modulus of elasticity|young's modulus"},
			{Key: "density", Title: "Density", Help: "Wins over the material.", Measure: MDensity, also: "rho"},
		},
		Outputs: []Column{
			{Key: "droop", Title: "Droop", Help: "Of the free end, downwards.", Measure: MThickness, Digits: 4},
			{Key: "sag_at_6", Title: "Sag reading at 6", Help: "Zeroed at 12; what the Sag columns take.", Measure: MThickness, Digits: 4},
			{Key: "own", Title: "Droop by own weight", Measure: MThickness, Digits: 4},
			{Key: "tip", Title: "Droop by tip mass", Measure: MThickness, Digits: 4},
			{Key: "bar_mass", Title: "Mass of the bar", Measure: MMass, Digits: 4},
		},
		Formula: "δ = P·L³/(3·E·I) + w·L⁴/(8·E·I), I = π(D⁴ − d⁴)/64, P = m·g, w = ρ·A·g; the dial at 6 o'clock shows −2δ. " +
			"δ droop, P weight at the end, w weight of the bar by length, L length, E modulus of elasticity, I second moment of area, D and d outside and inside diameter, ρ density, g = 9.80665 m/s².",
		Check:   "Steel tube 25 × 20 mm, 300 mm, 0.150 kg: 6.083 µm + 5.847 µm, the dial reads −23.86 µm (Roark, table 8.1, recomputed).",
		Example: []string{"25 mm", "20 mm", "300 mm", "0.150 kg", "steel", "", ""},
		Source:  tables.Source{Grade: tables.Published, Text: "Roark's Formulas for Stress and Strain, table 8.1; E and density of the materials: common practice, no source"},
		eval:    evalDroop,
	},
	{
		Key: "tir", Title: "Readings at 12, 3, 6 and 9 to offset", Figure: "tir",
		About: "A full turn shows twice the offset. Half of it is the offset; the four readings give its direction on the clock.",
		Inputs: []Column{
			{Key: "r12", Title: "Reading 12", Help: "Plunger pushed in is positive. One of the four may be blank.", Measure: MThickness, also: "12 o'clock|at 12|top|T"},
			{Key: "r3", Title: "Reading 3", Help: "At 3 o'clock: on the right, standing behind the movable machine and looking at the coupling.", Measure: MThickness, also: "3 o'clock|at 3|right|R"},
			{Key: "r6", Title: "Reading 6", Measure: MThickness, Help: "At 6 o'clock.", also: "6 o'clock|at 6|bottom|B"},
			{Key: "r9", Title: "Reading 9", Measure: MThickness, Help: "At 9 o'clock.", also: "9 o'clock|at 9|left|L"},
			{Key: "sag", Title: "Sag at 6", Help: "What the dial shows at 6 o'clock on a stiff pipe, zeroed at 12; normally negative.", Measure: MThickness, Default: "0 mm", also: "sag"},
			{Key: "rides", Title: "Dial rides on", Help: "The hub under the plunger.", Measure: MChoice, Default: "movable hub", Choices: []string{"movable hub|movable", "stationary hub|stationary"}, also: "rides on|plunger on"},
			{Key: "tir", Title: "TIR", Help: "Total of a full turn, instead of the four readings: half of it is the offset, without a direction.", Measure: MThickness, also: "total indicator reading|full indicator reading|FIM"},
		},
		Outputs: []Column{
			{Key: "offset", Title: "Offset", Help: "Magnitude.", Measure: MThickness},
			{Key: "direction", Title: "Direction", Help: "From 12 o'clock through 3: where the movable shaft stands, seen from the stationary one.", Measure: MAngle},
			{Key: "clock", Title: "On the clock", Measure: MText},
			{Key: "offset_v", Title: "Offset V", Help: "Movable shaft high is positive.", Measure: MThickness},
			{Key: "offset_h", Title: "Offset H", Help: "Movable shaft towards 3 o'clock is positive.", Measure: MThickness},
			{Key: "full", Title: "Full turn", Help: "Twice the offset.", Measure: MThickness},
			{Key: "balance", Title: "Balance", Help: "Top + bottom less left + right; should be nearly nothing.", Measure: MThickness},
		},
		Formula: "V = (R12 − R6)/2, H = (R3 − R9)/2 after the sag; offset = √(V² + H²), direction = atan2(H, V). With the dial on the stationary hub both signs turn over. " +
			"R readings, V and H offset of the movable shaft up and towards 3 o'clock.",
		Check:   "12: 0, 3: +5, 6: +10, 9: +5 mil with sag −6 mil: the bottom becomes +16, the offset is 8 mil (Karassik et al., Pump Handbook, fig. 19).",
		Example: []string{"0 mil", "5 mil", "10 mil", "5 mil", "-6 mil", "movable hub", ""},
		Source:  tables.Source{Grade: tables.Published, Text: "Karassik et al., Pump Handbook, McGraw-Hill, centrifugal pump installation"},
		eval:    evalTIR,
	},
	{
		Key: "gap", Title: "Gap difference and slope", Figure: "gap",
		About: "A gap difference means little without its diameter. Slope from it, and back to any other diameter.",
		Inputs: []Column{
			{Key: "gap", Title: "Gap difference", Help: "Gap on one side less the gap opposite, or a face dial's difference.", Measure: MThickness, also: "gap|face difference"},
			{Key: "diameter", Title: "Diameter", Help: "Where the gaps were taken.", Measure: MDistance, also: "D|at diameter|face diameter"},
			{Key: "slope", Title: "Slope", Help: "Instead of gap difference and diameter.", Measure: MSlope, also: "angle"},
			{Key: "other", Title: "Other diameter", Help: "Where the gap difference is wanted.", Measure: MDistance, also: "wanted diameter|new diameter|D2"},
		},
		Outputs: []Column{
			{Key: "slope", Title: "Slope found", Measure: MSlope},
			{Key: "degrees", Title: "In degrees", Measure: MAngle},
			{Key: "gap", Title: "Gap at other diameter", Measure: MThickness},
			{Key: "diameter_gap", Title: "Gap at diameter", Help: "With the slope given.", Measure: MThickness},
		},
		Formula: "slope = gap difference / diameter; gap difference = slope · diameter. 1 mm/m = 1 mil/in; the angle is atan(slope).",
		Check:   "0.012 in over 12 in makes 0.006 in over 6 in (T. B. Harlon, A Millwright's Guide to Motor/Pump Alignment, 2nd ed.).",
		Example: []string{"0.012 in", "12 in", "", "6 in"},
		Source:  tables.Source{Grade: tables.Published, Text: "T. B. Harlon, A Millwright's Guide to Motor/Pump Alignment, 2nd ed., Industrial Press 2008"},
		eval:    evalGap,
	},
	{
		Key: "growth", Title: "Thermal growth of a stack", Figure: "growth",
		About: "How far a shaft rises from cold to running, over the parts that stand between base and shaft.",
		Inputs: []Column{
			{Key: "height", Title: "Heights", Help: "Of the parts, a semicolon between: 250; 80 mm.", Measure: MDistance, Required: true, List: true, also: "height|H"},
			{Key: "alpha", Title: "Coefficients", Help: "Of expansion, one for all or one a part; wins over the material.", Measure: MExpansion, List: true, also: "coefficient|expansion|expansion coefficient|alpha"},
			{Key: "material", Title: "Materials", Help: "By name, one for all or one a part.", Measure: MText, also: "material"},
			{Key: "rise", Title: "Rise of temperature", Help: "Running less cold, one for all or one a part.", Measure: MRise, List: true, also: "rise|temperature rise|temperature difference|delta T|ΔT"},
			{Key: "cold", Title: "Cold temperature", Help: "Instead of the rise.", Measure: MTemperature, List: true, also: "cold"},
			{Key: "running", Title: "Running temperature", Help: "Instead of the rise.", Measure: MTemperature, List: true, also: "running|hot|hot temperature"},
		},
		Outputs: []Column{
			{Key: "growth", Title: "Growth", Help: "Upwards.", Measure: MThickness},
			{Key: "parts", Title: "Growth of the parts", Measure: MText},
		},
		Formula:  "g = Σ h·α·(T running − T cold). h height, α mean coefficient of expansion over that span, T temperature.",
		Check:    "20 in of carbon steel from 70 to 200 °F with 6.7e-6/°F: 0.01742 in (ASME BPVC II-D, 2001, table TE-1).",
		Example:  []string{"20 in", "6.7 1e-6/°F", "", "", "70 °F", "200 °F"},
		Source:   tables.Source{Grade: tables.Published, Text: "ASME BPVC II-D (2001), table TE-1, for the example; coefficients differ between books: type your own"},
		Cautions: []tables.Caution{{Text: "A growth that was worked out is a guess at temperatures; one that was measured, or stated by the maker, comes first.", Source: practice}},
		eval:     evalGrowth,
	},
	{
		Key: "bolt", Title: "Torque and preload", Figure: "bolt",
		About: "Preload for a torque and how far it scatters, or the torque for a share of the proof load. Fill one of torque, preload and share.",
		Inputs: []Column{
			{Key: "thread", Title: "Thread", Help: "M16, M16x1.5, 3/4-10, 3/4 UNF. Coarse where nothing is said.", Measure: MText, Required: true, also: "size|bolt|screw"},
			{Key: "grade", Title: "Class", Help: "Property class or grade, for the proof stress.", Measure: MChoice, Choices: []string{"4.6", "5.8", "8.8", "10.9", "12.9", "A2-70|A2 70", "A4-80|A4 80", "grade 2|2|sae 2|gr 2", "grade 5|5|sae 5|gr 5", "grade 8|8|sae 8|gr 8"}, also: "grade|property class|strength"},
			{Key: "proof_stress", Title: "Proof stress", Help: "Wins over the class.", Measure: MStress},
			{Key: "proof_load", Title: "Proof load", Help: "As a standard's table prints it; wins over stress times area.", Measure: MForce},
			{Key: "torque", Title: "Torque", Help: "On the wrench.", Measure: MTorque, also: "T"},
			{Key: "preload", Title: "Preload", Help: "Wanted in the bolt.", Measure: MForce, also: "F|tension|clamp load"},
			{Key: "share", Title: "Share of proof", Help: "Wanted: 75 %.", Measure: MShare, also: "share|of proof|percent of proof"},
			{Key: "k", Title: "K", Help: "Nut factor; wins over the finish. Blank: that of the finish.", Measure: MNumber, also: "nut factor|torque coefficient"},
			{Key: "scatter", Title: "Scatter of K", Help: "To either side.", Measure: MShare, Default: "30 %", also: "scatter|torque scatter"},
			{Key: "finish", Title: "Finish", Help: "Of thread and nut face, for K. Blank: plain and dry, of stainless classes lubricated.", Measure: MChoice,
				Choices: []string{"plain, dry|plain|dry|black", "zinc plated, dry|zinc plated|zinc", "lubricated|oiled", "stainless, lubricated", "stainless, dry"}, also: "thread finish|friction"},
		},
		Outputs: []Column{
			{Key: "torque", Title: "Torque found", Measure: MTorque, Digits: 4},
			{Key: "preload", Title: "Preload found", Measure: MForce, Digits: 4},
			{Key: "low", Title: "Preload low", Help: "With K at the high end of its scatter.", Measure: MForce, Digits: 4},
			{Key: "high", Title: "Preload high", Help: "With K at the low end of its scatter.", Measure: MForce, Digits: 4},
			{Key: "share", Title: "Of proof", Measure: MShare, Digits: 3},
			{Key: "share_high", Title: "Of proof at most", Help: "At the high end of the scatter.", Measure: MShare, Digits: 3},
			{Key: "area", Title: "Stress area", Measure: MArea, Digits: 4},
			{Key: "proof", Title: "Proof load found", Help: "Of stainless classes the load at 0.2 % strain.", Measure: MForce, Digits: 4},
			{Key: "k", Title: "K used", Measure: MNumber, Digits: 3},
			{Key: "books", Title: "As books have it", Help: "What the torque makes with the least and the largest K that books print.", Measure: MText},
		},
		Formula: "T = K·d·F; F between T/(K·d·(1 + s)) and T/(K·d·(1 − s)); As = π/4·(d − 0.938194·P)² metric, π/4·(d − 0.9743/n)² inch, as the tables print it; proof load as printed, else proof stress · As. " +
			"T torque, K nut factor, d nominal diameter, F preload, s scatter, As stress area, P pitch, n threads an inch.",
		Check:   "3/4-10 grade 5 at 75 % of its proof load of 28 400 lbf with K = 0.20: 21 300 lbf, 266 lbf·ft (chart after IFI technical data, 5th ed.).",
		Example: []string{"3/4-10", "grade 5", "", "28400 lbf", "", "", "75 %", "0.2", "30 %", ""},
		Source:  tables.Source{Grade: tables.Published, Text: "ISO 898-1, ISO 3506-1, SAE J429 and ASME B1.1 for areas and proof stress, K from trade charts and handbooks: quoted or from memory, as the rows of Tables say"},
		Cautions: []tables.Caution{ownRules,
			{Text: "By torque the preload scatters: " + tables.ScatterWords + ". The machine maker's torque and procedure come first.", Source: practice}},
		eval: evalBolt,
	},
	{
		Key: "flex", Title: "Angles at the flex planes of a spacer", Figure: "flex",
		About: "What a spacer coupling bends at its two flex planes for an offset and a slope at its middle, and how much offset is allowed.",
		Inputs: []Column{
			{Key: "offset_v", Title: "Offset V", Help: "At the middle of the spacer; movable high is positive.", Measure: MThickness, Default: "0 mm", also: "offset vertical|vertical offset"},
			{Key: "offset_h", Title: "Offset H", Help: "Towards 3 o'clock is positive.", Measure: MThickness, Default: "0 mm", also: "offset horizontal|horizontal offset"},
			{Key: "slope_v", Title: "Slope V", Help: "Rising away from the coupling is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope vertical|vertical slope"},
			{Key: "slope_h", Title: "Slope H", Help: "Leading towards 3 o'clock is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope horizontal|horizontal slope"},
			{Key: "length", Title: "Spacer length", Help: "Between the flex planes.", Measure: MDistance, Required: true, also: "length|L|spacer"},
			{Key: "allowed", Title: "Allowed angle", Help: "At each flex plane.", Measure: MSlope, Default: "0.5 mm/m", also: "limit|allowed slope|slope limit"},
		},
		Outputs: []Column{
			{Key: "stationary", Title: "Stationary flex plane", Measure: MSlope},
			{Key: "movable", Title: "Movable flex plane", Measure: MSlope},
			{Key: "share", Title: "Share of the limit", Help: "Of the larger angle; 100 % is at the limit.", Measure: MShare, Digits: 4},
			{Key: "allowed_offset", Title: "Allowed offset", Help: "In any direction, with the slope as it is.", Measure: MThickness},
			{Key: "allowed_parallel", Title: "Allowed offset without slope", Measure: MThickness},
			{Key: "stationary_v", Title: "Stationary flex plane V", Measure: MSlope},
			{Key: "stationary_h", Title: "Stationary flex plane H", Measure: MSlope},
			{Key: "movable_v", Title: "Movable flex plane V", Measure: MSlope},
			{Key: "movable_h", Title: "Movable flex plane H", Measure: MSlope},
		},
		Formula:  "αS = d/L + θ/2, αM = θ/2 − d/L in each plane, the magnitudes from both; allowed offset = (allowed − θ/2)·L. d offset at the middle, θ slope, L length between the flex planes.",
		Check:    "20 in spacer, 10 mil parallel offset: 0.5 mil/in at each flex plane, at the limit of half a mil an inch (C. Jackson, Alignment by Proximity Probes, p. 50).",
		Example:  []string{"10 mil", "", "", "", "20 in", "0.5 mil/in"},
		Source:   tables.Source{Grade: tables.Published, Text: "limit: C. Jackson, Alignment by Proximity Probes, symposium paper, p. 50 (author's name from memory); angles: geometry"},
		Cautions: []tables.Caution{ownRules},
		eval:     evalFlex,
	},
	{
		Key: "wanted", Title: "What the dials should read cold", Figure: "wanted",
		About: "Readings at 3, 6 and 9 o'clock for the line that is wanted, all zeroed at 12: move the machine until the dials show them.",
		Inputs: []Column{
			{Key: "offset_v", Title: "Wanted offset V", Help: "Movable shaft at the coupling centre, high is positive.", Measure: MThickness, Default: "0 mm", also: "offset v|offset vertical"},
			{Key: "offset_h", Title: "Wanted offset H", Help: "Towards 3 o'clock is positive.", Measure: MThickness, Default: "0 mm", also: "offset h|offset horizontal"},
			{Key: "slope_v", Title: "Wanted slope V", Help: "Rising away from the coupling is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope v|slope vertical"},
			{Key: "slope_h", Title: "Wanted slope H", Help: "Leading towards 3 o'clock is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope h|slope horizontal"},
			{Key: "to_movable", Title: "Coupling to movable plane", Help: "Distance from the coupling centre to the dial on the movable hub.", Measure: MDistance, Default: "0 mm", also: "movable plane"},
			{Key: "to_stationary", Title: "Stationary plane to coupling", Help: "Distance from the dial on the stationary hub to the coupling centre.", Measure: MDistance, Default: "0 mm", also: "stationary plane"},
			{Key: "face_diameter", Title: "Face diameter", Help: "Swept by a face dial; blank: none.", Measure: MDistance, also: "face sweep diameter"},
			{Key: "gap_diameter", Title: "Gap diameter", Help: "Where gaps are taken; blank: none.", Measure: MDistance},
			{Key: "movable_sag", Title: "Movable rim sag", Help: "Sag at 6 o'clock, normally negative.", Measure: MThickness, Default: "0 mm", also: "sag"},
			{Key: "stationary_sag", Title: "Stationary rim sag", Help: "The same for the other bracket.", Measure: MThickness, Default: "0 mm"},
			{Key: "face_sag", Title: "Face sag", Help: "Of the face dial.", Measure: MThickness, Default: "0 mm"},
		},
		Outputs: []Column{
			{Key: "movable_3", Title: "Movable rim 3", Help: "Bracket on the stationary shaft.", Measure: MThickness}, {Key: "movable_6", Title: "Movable rim 6", Measure: MThickness}, {Key: "movable_9", Title: "Movable rim 9", Measure: MThickness},
			{Key: "stationary_3", Title: "Stationary rim 3", Help: "Bracket on the movable shaft.", Measure: MThickness}, {Key: "stationary_6", Title: "Stationary rim 6", Measure: MThickness}, {Key: "stationary_9", Title: "Stationary rim 9", Measure: MThickness},
			{Key: "face_3", Title: "Face 3", Help: "Dial on the face that looks at the coupling.", Measure: MThickness}, {Key: "face_6", Title: "Face 6", Measure: MThickness}, {Key: "face_9", Title: "Face 9", Measure: MThickness},
			{Key: "gap_3", Title: "Gap 3", Help: "Gap less the gap at 12.", Measure: MThickness}, {Key: "gap_6", Title: "Gap 6", Measure: MThickness}, {Key: "gap_9", Title: "Gap 9", Measure: MThickness},
		},
		Formula: "R(φ) = V(x)·(cos φ − 1) + H(x)·sin φ + S·(1 − cos φ)/2 on the movable rim, both shaft terms turned over on the stationary rim; face: D/2·(θV·(cos φ − 1) + θH·sin φ) + its sag; gap: the same " +
			"turned over, without sag. V(x) = dV + θV·x, H likewise; x the plane of the dial, S sag at 6, D diameter, φ from 12 o'clock.",
		Check:    "A movable shaft 8 mil low at the rim, sag −6 mil: 3 and 9 read +5, 6 reads +10 mil (Karassik et al., Pump Handbook, fig. 19, turned about).",
		Example:  []string{"-8 mil", "", "", "", "", "", "", "", "-6 mil", "", ""},
		Source:   tables.Source{Grade: tables.Published, Text: "Karassik et al., Pump Handbook, fig. 19, for rim and sag; the rest is geometry"},
		Cautions: []tables.Caution{ownRules},
		eval:     evalWanted,
	},
	{
		Key: "uncertainty", Title: "What a reading is worth", Figure: "uncertainty",
		About: "From the division of a dial and how well it repeats to the uncertainty of a reading, and of the half difference of a sweep of four.",
		Inputs: []Column{
			{Key: "graduation", Title: "Graduation", Help: "Smallest division, or step of the feelers.", Measure: MThickness, Required: true, also: "division|resolution"},
			{Key: "repeatability", Title: "Repeatability", Help: "Standard deviation of the same reading taken again.", Measure: MThickness, Default: "0 mm", also: "standard deviation|repeat"},
			{Key: "k", Title: "Coverage factor", Help: "2 for about 95 %.", Measure: MNumber, Default: "2", also: "k"},
		},
		Outputs: []Column{
			{Key: "u", Title: "Standard uncertainty", Help: "Of one reading.", Measure: MThickness, Digits: 3},
			{Key: "expanded", Title: "Expanded", Help: "Of one reading.", Measure: MThickness, Digits: 3},
			{Key: "u_half", Title: "Standard uncertainty of a half difference", Help: "Of the offset from two opposite readings.", Measure: MThickness, Digits: 3},
			{Key: "expanded_half", Title: "Expanded of a half difference", Measure: MThickness, Digits: 3},
		},
		Formula: "u = √(g²/12 + s²); of (R12 − R6)/2: u/√2; expanded: k·u. g graduation, s standard deviation of repeats, k coverage factor.",
		Check:   "0.01 mm dial, repeatability 3 µm (JIS B 7503:2011): √(0.01²/12 + 0.003²) = 4.163 µm (JCGM 100:2008, F.2.2.1).",
		Example: []string{"0.01 mm", "0.003 mm", "2"},
		Source:  tables.Source{Grade: tables.Published, Text: "JCGM 100:2008, 4.3.7 and F.2.2.1"},
		eval:    evalUncertainty,
	},
	{
		Key: "tilt", Title: "A shim under one end", Figure: "tilt",
		About: "What a shim under the front or the rear feet does to the slope, and to the height of the shaft at the coupling.",
		Inputs: []Column{
			{Key: "shim", Title: "Shim", Help: "Put in; negative: taken out.", Measure: MThickness, Required: true, also: "shim change|thickness"},
			{Key: "span", Title: "Front to rear feet", Help: "Distance between the foot pairs.", Measure: MDistance, Required: true, also: "foot distance|span|front feet to rear feet"},
			{Key: "front", Title: "Coupling to front feet", Help: "For the rise at the coupling.", Measure: MDistance, also: "front feet"},
			{Key: "under", Title: "Under", Help: "Which feet.", Measure: MChoice, Default: "rear", Choices: []string{"rear|rear feet|back", "front|front feet"}, also: "feet|end"},
		},
		Outputs: []Column{
			{Key: "slope", Title: "Slope change", Help: "Rising away from the coupling is positive.", Measure: MSlope},
			{Key: "degrees", Title: "In degrees", Measure: MAngle},
			{Key: "rise", Title: "Rise at the coupling", Help: "Upwards is positive.", Measure: MThickness},
		},
		Formula:  "rear: slope = t/b, rise = −t·a/b; front: slope = −t/b, rise = t·(a + b)/b. t shim, b front to rear feet, a coupling to front feet.",
		Check:    "0.5 mm under the rear feet, 1000 mm apart: 0.5 mm/m, 0.0286° (1 mrad = 0.05730°).",
		Example:  []string{"0.5 mm", "1000 mm", "300 mm", "rear"},
		Source:   tables.Source{Grade: tables.Exact, Text: "geometry"},
		Cautions: []tables.Caution{isolateFirst, loadFirst},
		eval:     evalTilt,
	},
	{
		Key: "repeats", Title: "How many readings make it certain", Figure: "repeats",
		About: "The mean of more readings is surer, as far as their errors are their own. All numbers in one unit, written without it.",
		Inputs: []Column{
			{Key: "value", Title: "Value", Help: "Found so far.", Measure: MNumber, Required: true, also: "measured|result"},
			{Key: "limit", Title: "Limit", Help: "That it is held to.", Measure: MNumber, Required: true, also: "tolerance"},
			{Key: "u", Title: "Standard uncertainty", Help: "Of the value from one set of readings: the part that differs from set to set.", Measure: MNumber, Required: true, also: "u|uncertainty"},
			{Key: "shared", Title: "Shared part", Help: "Standard uncertainty of what every set has in common (the same dial, the same sag); more readings do not lessen it.", Measure: MNumber, Default: "0", also: "systematic|shared uncertainty"},
			{Key: "bound", Title: "Bound", Help: "At most the limit, or at least.", Measure: MChoice, Default: "at most", Choices: []string{"at most|<=|≤|max|maximum", "at least|>=|≥|min|minimum"}},
			{Key: "k", Title: "Coverage factor", Help: "2 for about 95 %.", Measure: MNumber, Default: "2", also: "k"},
		},
		Outputs: []Column{
			{Key: "n", Title: "Readings needed", Help: "Sets of readings, all told.", Measure: MCount},
			{Key: "answer", Title: "Answer", Measure: MText},
			{Key: "chance", Title: "Chance inside now", Help: "That the true value keeps the limit, after one set.", Measure: MShare, Digits: 3},
			{Key: "verdict", Title: "Verdict now", Measure: MText},
		},
		Formula: "smallest n with value + k·√(s² + u²/n) ≤ limit (at least: value − k·√(…) ≥ limit); chance = Φ((limit − value)/√(s² + u²)). u standard uncertainty of one set, s the shared part, k coverage factor.",
		Check:   "limit at most −5.40, value −5.47, u 0.05: chance 91.9 % (JCGM 106:2012, 7.2.2, from memory).",
		Example: []string{"-5.47", "-5.40", "0.05", "0", "at most", "2"},
		Source:  tables.Source{Grade: tables.Published, Text: "ILAC-G8:09/2019, 4.2.3; JCGM 106:2012, 7.2.2 (from memory)"},
		eval:    evalRepeats,
	},
	{
		Key: "feet", Title: "From a line to the feet", Figure: "feet",
		About: "Shims and moves at front and rear feet that bring a shaft with this offset and slope in line.",
		Inputs: []Column{
			{Key: "offset_v", Title: "Offset V", Help: "Movable shaft at the coupling centre, high is positive.", Measure: MThickness, Default: "0 mm", also: "offset vertical|vertical offset"},
			{Key: "slope_v", Title: "Slope V", Help: "Rising away from the coupling is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope vertical|vertical slope"},
			{Key: "offset_h", Title: "Offset H", Help: "Towards 3 o'clock is positive.", Measure: MThickness, Default: "0 mm", also: "offset horizontal|horizontal offset"},
			{Key: "slope_h", Title: "Slope H", Help: "Leading towards 3 o'clock is positive.", Measure: MSlope, Default: "0 mm/m", also: "slope horizontal|horizontal slope"},
			{Key: "front", Title: "Coupling to front feet", Help: "From the coupling centre.", Measure: MDistance, Required: true, also: "front feet"},
			{Key: "span", Title: "Front to rear feet", Help: "Distance between the foot pairs.", Measure: MDistance, Required: true, also: "front feet to rear feet|span"},
		},
		Outputs: []Column{
			{Key: "shim_front", Title: "Front shim", Help: "Add is positive, take out negative.", Measure: MThickness},
			{Key: "shim_rear", Title: "Rear shim", Help: "Add is positive, take out negative.", Measure: MThickness},
			{Key: "move_front", Title: "Front move", Help: "Towards 3 o'clock is positive.", Measure: MThickness},
			{Key: "move_rear", Title: "Rear move", Help: "Towards 3 o'clock is positive.", Measure: MThickness},
		},
		Formula:  "shim = −(d + θ·x) at each pair of feet; the move likewise sideways. d offset at the coupling, θ slope, x distance from the coupling: a at the front, a + b at the rear feet.",
		Check:    "12 mil high at 14 in before the movable plane, 7 mil high there, feet 12 and 38 in behind it: −2.714 and +6.571 mil (Bloch & Geitner, vol. 3, fig. 5-21).",
		Example:  []string{"7 mil", "-0.35714285714285715 mil/in", "", "", "12 in", "26 in"},
		Source:   tables.Source{Grade: tables.Published, Text: "H. P. Bloch & F. K. Geitner, Machinery Component Maintenance and Repair, ch. 5, fig. 5-21"},
		Cautions: []tables.Caution{isolateFirst, loadFirst},
		eval:     evalFeet,
	},
	{
		Key: "speed", Title: "Synchronous speed and slip", Figure: "speed",
		About: "Speed of a motor's field from frequency and poles, and how far the shaft stays behind.",
		Inputs: []Column{
			{Key: "hertz", Title: "Frequency", Help: "Of the supply.", Measure: MFrequency, Required: true, also: "Hz|f|supply frequency"},
			{Key: "poles", Title: "Poles", Help: "Even; blank: from the speed.", Measure: MCount, also: "p|number of poles"},
			{Key: "rpm", Title: "Speed", Help: "Of the shaft.", Measure: MSpeed, also: "rpm|shaft speed|nameplate speed"},
		},
		Outputs: []Column{
			{Key: "synchronous", Title: "Synchronous speed", Measure: MSpeed},
			{Key: "slip", Title: "Slip", Measure: MShare, Digits: 3},
			{Key: "slip_speed", Title: "Slip speed", Measure: MSpeed},
			{Key: "slip_hertz", Title: "Slip frequency", Measure: MFrequency, Digits: 4},
			{Key: "poles", Title: "Poles found", Measure: MCount},
		},
		Formula: "n = 120·f/p, slip = (n − shaft speed)/n. n synchronous speed in r/min, f frequency in Hz, p number of poles.",
		Check:   "60 Hz, 4 poles: 1800 r/min (NEMA MG 1; IEC 60034-1).",
		Example: []string{"60 Hz", "4", "1750 rpm"},
		Source:  tables.Source{Grade: tables.Exact, Text: "definition of synchronous speed"},
		eval:    evalSpeed,
	},
}
