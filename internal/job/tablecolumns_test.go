package job

import (
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/units"
)

// What every quantity is measured in, in a metric and in an inch job: the units of the table in docs and of the trade (common practice, no source).
func TestUnitsOfQuantities(t *testing.T) {
	want := map[Quantity][2]units.Unit{QShare: {units.Percent, units.Percent}, QDistance: {units.MM, units.Inch}, QDistances: {units.MM, units.Inch}, QThickness: {units.MM, units.Mil}, QSweep: {units.MM, units.Mil}, QPieces: {units.MM, units.Mil},
		QDifference: {units.KelvinDiff, units.FahrenheitDiff}, QExpansion: {units.PerKelvin, units.PerFahrenheit}, QSlope: {units.MMPerM, units.MilPerInch}, QSpeed: {units.RPM, units.RPM}, QTemperature: {units.Celsius, units.Fahrenheit}, QAngle: {units.Degree, units.Degree}}
	kinds := map[Quantity]units.Kind{QDistance: units.Length, QDistances: units.Length, QThickness: units.Length, QSweep: units.Length, QPieces: units.Length, QDifference: units.TemperatureDifference, QExpansion: units.Expansion, QSlope: units.Slope,
		QSpeed: units.Speed, QTemperature: units.Temperature, QAngle: units.Angle}
	seen := map[string]bool{}
	for q := range numQuantities {
		if got := [2]units.Unit{q.Unit(false), q.Unit(true)}; got != want[q] {
			t.Errorf("%v is in %v, want %v", q, got, want[q])
		}
		k, ok := kinds[q]
		if !ok {
			k = units.Number
		}
		if q.Kind() != k {
			t.Errorf("%v takes units of %v", q, q.Kind())
		}
		if u := q.Unit(true); u != units.None && q != QShare {
			if _, is := units.ParseUnit(u.String(), q.Kind()); !is {
				t.Errorf("%v: %v is none of its units", q, u)
			}
		}
		if seen[q.String()] || q.String() == "" {
			t.Errorf("%v twice", q)
		}
		seen[q.String()] = true
	}
}

// Each sheet has the columns that are read of it, first to last; the readings stand by family and position, each with its clock position in its help and its key.
func TestSheetsOfColumns(t *testing.T) {
	LoadColumns()
	ends := map[SheetKind][2]ColumnID{MachinesSheet: {ColMachine, ResultState}, ReadingsSheet: {ReadingsMachine, ReadingsUnit}, StockSheet: {StockThickness, StockUnit}, GrowthSheet: {GrowthMachine, GrowthUnit}, FeetSheet: {FeetMachine, FeetUnit},
		LimitsSheet: {LimitsSet, LimitsUnit}, MaterialsSheet: {MaterialsMaterial, MaterialsUnit}, ChecksSheet: {ChecksMachine, ChecksUnit}, RoundsSheet: {RoundsMachine, RoundsUnit}, TrainsSheet: {TrainsTrain, TrainsNote},
		RecordSheet: {RecordMachine, RecordNote}, SettingsSheet: {SettingName, NumColumns - 1}}
	for c := range NumColumns {
		if e := ends[c.Info().Sheet]; c < e[0] || c > e[1] {
			t.Errorf("%s is on the sheet %v", c.Info().Name, c.Info().Sheet)
		}
		if is := c >= ResultVerdict && c <= ResultState; c.Info().Result != is {
			t.Errorf("%s is a result: %v", c.Info().Name, c.Info().Result)
		}
	}
	for f := range NumFamilies {
		for p := range NumPositions {
			c := ReadingColumn(f, p)
			i := c.Info()
			if i.Name != f.String()+" "+PositionName(p) || i.Key != strings.ReplaceAll(strings.ToLower(i.Name), " ", "_") || i.Quantity != QThickness {
				t.Errorf("%+v", i)
			}
			if again := strings.Contains(i.Help(), "after a full turn"); again != (PositionAngle[p] == 360) || !strings.Contains(i.Help(), strings.Fields(PositionName(p))[0]+" o'clock") {
				t.Errorf("%s: %s", i.Name, i.Help())
			}
			for _, s := range []string{f.String() + " " + PositionName(p), strings.ReplaceAll(f.String(), "Second", "2nd") + " " + []string{"top", "90°", "bottom", "270 deg", "360"}[p]} {
				if got := FindColumn(MachinesSheet, s); got == nil || got.Key != i.Key {
					t.Errorf("%s leads to %v, not to %s", s, got, i.Name)
				}
			}
		}
	}
	for i, s := range []string{"Growth movable front", "Growth movable rear", "Growth stationary near", "Growth stationary far"} {
		for p, plane := range []string{"V", "H"} {
			c := ColGrowth + ColumnID(2*i+p)
			if c.Info().Name != s+" "+plane || strings.Contains(c.Info().Help(), "sideways") != (p == 1) {
				t.Errorf("%+v", c.Info())
			}
			if got := FindColumn(MachinesSheet, s+" "+[]string{"vertical", "horizontal"}[p]); got != c.Info() {
				t.Errorf("%s %s: %v", s, plane, got)
			}
		}
	}
	for name, plane := range map[string]string{"growth front": "Growth movable front V", "front growth": "Growth movable front V", "growth far h": "Growth stationary far H", "movable rear growth v": "Growth movable rear V", "growth near horizontal": "Growth stationary near H"} {
		if got := FindColumn(MachinesSheet, name); got == nil || got.Name != plane {
			t.Errorf("%s: %v", name, got)
		}
	}
	for i, foot := range []string{"Front", "Rear"} {
		for d, dir := range []string{"up", "down", "left", "right"} {
			c := ColRoom + ColumnID(4*i+d)
			if c.Info().Name != foot+" room "+dir || c.Info().Key != strings.ToLower(foot)+"_room_"+dir || strings.Contains(c.Info().Help(), "taken out") != (dir == "down") || !strings.Contains(c.Info().Help(), strings.ToLower(foot)+" feet") {
				t.Errorf("%+v", c.Info())
			}
			if got := FindColumn(MachinesSheet, "room "+foot+" "+dir); got != c.Info() {
				t.Errorf("room %s %s: %v", foot, dir, got)
			}
		}
	}
}

// A word of a column of a few words is taken in any of its spellings, and by its own column alone.
func TestWordsOfColumns(t *testing.T) {
	LoadColumns()
	words := 0
	for c := range NumColumns {
		info := c.Info()
		for k, w := range info.Choices {
			words++
			if got, ok := ChoiceIndex(c, strings.ToUpper(w)+" "); !ok || got != k {
				t.Errorf("%s: %s is word %d, %v, want %d", info.Name, w, got, ok, k)
			}
			if !info.TakesWord(w) {
				t.Errorf("%s does not take %s", info.Name, w)
			}
		}
		if _, ok := ChoiceIndex(c, "no such word"); ok || info.TakesWord("no such word") {
			t.Errorf("%s takes any word", info.Name)
		}
		if _, ok := ChoiceIndex(c, strings.Repeat("x", MaxHeader+1)); ok {
			t.Errorf("%s takes a long word", info.Name)
		}
		if len(info.Choices) == 0 && info.TakesWord("front") {
			t.Errorf("%s takes words", info.Name)
		}
	}
	for text, m := range map[string]Method{"rim & face": RimAndFace, "Radial and axial": RimAndFace, "given": GivenLineMethod, "straight edge": StraightedgeAndGap, "2 rims": TwoRims, "face to face": FaceAndFace, "arc": Sweeps, "reverse dial": ReverseIndicator} {
		if k, ok := ChoiceIndex(ColMethod, text); !ok || MethodBlank+1+Method(k) != m {
			t.Errorf("%s: %v, %v", text, k, ok)
		}
	}
	for text, is := range map[string]bool{"Flange": true, "vertical flange": true, "vertical": true, "short": false, "spacer": false, "": false} {
		if IsFlangeWord(text) != is {
			t.Errorf("%q says how a machine is mounted: %v", text, !is)
		}
	}
	for k := range NumSheets {
		for s, c := range SpellingsOf(k) {
			if c.Info().Sheet != k && !(k == RoundsSheet && IsReading(c)) || FindColumn(k, s) == nil {
				t.Errorf("%v: %q leads to %v", k, s, c)
			}
		}
	}
	var other ColumnInfo
	if other.TakesWord("front") {
		t.Error("a column of no table takes words")
	}
	if words < 60 {
		t.Error(words)
	}
	for f := range NumFamilies {
		if k, ok := ChoiceIndex(ReadingsSweep, f.String()); !ok || Family(k) != f {
			t.Errorf("%v is word %d of Sweep", f, k)
		}
	}
}

// What each method reads (a method is a set of sweeps; the textbook's list), and so which columns it has a use for: counted from the two ways that say it.
func TestMethodsAndColumns(t *testing.T) {
	LoadColumns()
	reads := map[Method]string{ReverseIndicator: "Movable rim, Stationary rim", RimAndFace: "Movable rim, Stationary rim, Face, Stationary face", TwoRims: "Movable rim, Second rim", FaceAndFace: "Face, Stationary face", StraightedgeAndGap: "Gap, Step",
		Sweeps: "Movable rim, Stationary rim, Face, Stationary face, Second rim, Gap, Step"}
	for m := range NumMethods {
		if got := FamilyNames(m.Reads()); got != reads[m] || len(m.Families()) != strings.Count(got, ",")+min(1, len(got)) {
			t.Errorf("%v reads %s", m, got)
		}
		for _, f := range m.Families() {
			if !m.Reads().Has(f) {
				t.Errorf("%v does not read %v", m, f)
			}
		}
		if m == MethodBlank {
			if m.String() != "" {
				t.Errorf("%q", m)
			}
			continue
		}
		if k, ok := ChoiceIndex(ColMethod, m.String()); !ok || MethodBlank+1+Method(k) != m {
			t.Errorf("%v is word %d", m, k)
		}
		var names []string
		for _, n := range SweepsOf(strings.ToUpper(m.String())) {
			names = append(names, strings.ReplaceAll(n, "_", " "))
		}
		if got := strings.Join(names, ", "); !strings.EqualFold(got, reads[m]) && m != StraightedgeAndGap {
			t.Errorf("%v: sweeps %s", m, got)
		}
		use := map[ColumnID]bool{}
		for c := range NumColumns {
			use[c] = UsedBy(c, m)
			if !UsedBy(c, MethodBlank) {
				t.Errorf("no method, and no use for %s", c.Info().Name)
			}
		}
		has := func(list ...Family) bool { return slices.ContainsFunc(list, m.Reads().Has) }
		for f := range NumFamilies {
			for p := range NumPositions {
				if use[ReadingColumn(f, p)] != has(f) {
					t.Errorf("%v: %s is of use: %v", m, ReadingColumn(f, p).Info().Name, !has(f))
				}
			}
		}
		line := m == GivenLineMethod
		for c, want := range map[ColumnID]bool{ColMovableSag: has(MovableRim), ColStationarySag: has(StationaryRim), ColToStationary: has(StationaryRim), ColStationaryToMovable: has(StationaryRim), ColFaceSag: has(Face), ColFaceSide: has(Face),
			ColStationaryFaceSag: has(StationaryFace), ColSecondSag: has(SecondRim), ColToSecond: has(SecondRim), ColFaceDiameter: has(Face, StationaryFace, Gap) || line, ColToMovable: has(MovableRim, Step), ColMovableToFront: has(MovableRim, Step),
			ColMovableSweep: m == Sweeps, ColStationarySweep: m == Sweeps, ColGivenOffsetV: line, ColGivenOffsetH: line, ColGivenSlopeV: line, ColGivenSlopeH: line, ColGivenGapV: line, ColGivenGapH: line, ColGivenOffsetU: line, ColGivenSlopeU: line,
			ColMachine: true, ColSpeed: true, ColToFront: true, ColGraduation: true, ColRoom: true, ColGrowth: true, ColMethod: true, ColPositiveSag: true, ColSagU: true} {
			if use[c] != want {
				t.Errorf("%v: %s is of use: %v", m, c.Info().Name, use[c])
			}
		}
		// The same asked of the families: whatever distance or sag a method's sweeps use, the method has a use for.
		for c := range NumInputs {
			if SweepsUse(c, m.Reads()) && !use[c] && c != ColStationaryToMovable && c != ColToStationary && c != ColFaceSide {
				t.Errorf("%v: its sweeps use %s", m, c.Info().Name)
			}
		}
	}
	if SweepsOf("no method") != nil || SweepsOf("line") != nil {
		t.Error("sweeps of what has none")
	}
	set := func(list ...Family) (s FamilySet) {
		for _, f := range list {
			s |= 1 << f
		}
		return s
	}
	for f := range NumFamilies {
		one := set(f)
		rim := f == MovableRim || f == StationaryRim
		face := f == Face || f == StationaryFace
		for c, want := range map[ColumnID]bool{ColToMovable: rim || f == Step, ColToStationary: rim || f == Step, ColStationaryToMovable: rim || f == Step, ColMovableSag: f == MovableRim, ColStationarySag: f == StationaryRim, ColSecondSag: f == SecondRim,
			ColToSecond: f == SecondRim, ColFaceSag: f == Face, ColStationaryFaceSag: f == StationaryFace, ColFaceSide: face, ColFaceDiameter: face || f == Gap, ColSpeed: false, ColMachine: false} {
			if got := SweepsUse(c, one); got != want {
				t.Errorf("%v has a use for %s: %v", f, c.Info().Name, got)
			}
		}
		if (Rims.Has(f)) != rim || Faces.Has(f) != face {
			t.Errorf("%v", f)
		}
	}
	if FamilyNames(0) != "" || FamilyNames(set(Step, MovableRim)) != "Movable rim, Step" {
		t.Error(FamilyNames(set(Step, MovableRim)))
	}
}

// A round has its own readings and no other column of the Machines sheet; the columns are counted by their names.
func TestColumnsOfReadings(t *testing.T) {
	LoadColumns()
	var got []string
	for _, c := range ReadingColumns() {
		got = append(got, c.Info().Name)
	}
	var want []string
	for c := range NumInputs {
		n := c.Info().Name
		given := strings.HasPrefix(n, "Given ") && !strings.Contains(n, "±") && n != "Given slope ±"
		if c.Info().Sheet == MachinesSheet && (slices.Contains([]string{"12", "3", "6", "9", "again"}, n[strings.LastIndexByte(n, ' ')+1:]) && !strings.HasPrefix(n, "Side") && !strings.Contains(n, "sag") && !strings.HasPrefix(n, "Given") || strings.HasSuffix(n, " sweep") || given) {
			want = append(want, n)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
	block := strings.Split(HeaderBlock(RoundsSheet, MethodBlank, false), "\t")
	for _, n := range []string{"Machine", "Round", "Struck", "Movable rim 12 [mm]", "Stationary rim 12 again [mm]", "Front shim done [mm]"} {
		if !slices.Contains(block, n) {
			t.Errorf("a header of rounds lacks %s: %q", n, block)
		}
	}
	for _, n := range []string{"Face 12 [mm]", "Speed [rpm]", "Gap 12 [mm]", "Movable sag at 6 [mm]", "Coupling"} {
		if slices.Contains(block, n) {
			t.Errorf("a header of rounds has %s", n)
		}
	}
	if b := HeaderBlock(RoundsSheet, RimAndFace, true); !strings.Contains(b, "\tFace 12 [mil]") || strings.Contains(b, "Gap 12") {
		t.Error(b)
	}
	if b := HeaderBlock(StockSheet, MethodBlank, true); strings.Contains(b, "rim") || !strings.HasPrefix(b, "Thickness [mil]\tPieces on hand") {
		t.Error(b)
	}
}

// A length is not less than nothing; what something is divided by or held to is more than nothing. What has a direction may be negative.
func TestLeastValues(t *testing.T) {
	LoadColumns()
	more := "Priority|Face diameter|Spacer length|Front to rear feet|Bolt circle|Offset limit|Slope limit|Speed|Stationary plane to movable plane|Given offset ±|Given slope ±|Slope ±|Offset ±"
	for c := range NumInputs {
		least, strictly := LeastValue(c)
		n, q := c.Info().Name, c.Info().Quantity
		switch {
		case slices.Contains(strings.Split(more, "|"), n):
			if least != 0 || !strictly {
				t.Errorf("%s takes %g, %v", n, least, strictly)
			}
		case strictly:
			t.Errorf("%s must be more than %g", n, least)
		case q == QDistance || strings.Contains(n, "room") || strings.HasSuffix(n, "±") || q == QThickness && !IsReading(c) && !strings.Contains(n, "sag at 6") && !strings.HasPrefix(n, "Growth") && !strings.Contains(n, "offset"):
			if least != 0 {
				t.Errorf("%s takes %g", n, least)
			}
		case q == QThickness || q == QSlope:
			if !math.IsInf(least, -1) {
				t.Errorf("%s takes no less than %g", n, least)
			}
		}
	}
}

// Columns of results with their ±: each of those that a line, a shim or a move has, and no other.
func TestColumnsOfResults(t *testing.T) {
	list := ResultColumns()
	if len(list) < 40 || list[0].Name != "Verdict" || len(list) != int(ResultState-ResultVerdict)+1 {
		t.Fatal(len(list))
	}
	pm := "Offset V|Offset H|Offset total|Slope V|Slope H|Slope total|Front shim|Rear shim|Front move|Rear move|Angle at stationary flex plane|Angle at movable flex plane"
	n := 0
	for i, c := range list {
		id := ResultVerdict + ColumnID(i)
		if info := id.Info(); info.Name != c.Name || info.Key != c.Key || info.Help() != c.Help.String() || info.Quantity != c.Quantity || PlusMinus(id) != c.PlusMinus {
			t.Errorf("%+v, %+v", c, info)
		}
		if has := slices.Contains(strings.Split(pm, "|"), c.Name); has != c.PlusMinus {
			t.Errorf("%s has ±: %v", c.Name, c.PlusMinus)
		}
		if c.PlusMinus {
			n++
			if got, _, _ := MatchHeader(MachinesSheet, "± "+c.Name); got != id {
				t.Errorf("± %s leads to %v", c.Name, got)
			}
		}
		for _, inch := range []bool{false, true} {
			if c.Unit(inch) != c.Quantity.Unit(inch) || c.Unit(inch) != id.Info().Unit(inch) {
				t.Errorf("%s is in %v", c.Name, c.Unit(inch))
			}
		}
	}
	if n != 12 {
		t.Error(n)
	}
}

// Signs, blanks and capitals do not tell spellings apart, in whatever alphabet; letters and the sign ± do.
func TestNormalForms(t *testing.T) {
	for s, want := range map[string]string{"Movable rim 12": "movablerim12", "A&b": "aandb", "é&A": "éanda", "ÉA Z&": "éazand", "± Offset V": "±offsetv", "Ø-Z_z [": "øzz", "": "", "日本 A": "日本a", "@A[Z`a{z/0:9": "azaz09", "µA": "µa"} {
		if got := NormalForm(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	long := strings.Repeat("a", MaxHeader)
	if !SameSpelling(long+"-", long+"-") || SameSpelling(long+"-", long+"_") || !SameSpelling(long[1:]+"-", long[1:]+"_") || SameSpelling("a", "b") || SameSpelling("a", long+"b") || !SameSpelling("A b", "ab") {
		t.Error("same spelling")
	}
	for s, want := range map[string]bool{"": true, "0": true, "9": true, "+-., 5": true, "a": false, "1a": false, "/": false, ":": false, "1:2": false} {
		if OnlyNumbers(s) != want {
			t.Errorf("%q", s)
		}
	}
}

// The reference tells of each column its unit in both kinds of job, its words and its spellings, under its sheet and group.
func TestReferenceWhole(t *testing.T) {
	var md, plain strings.Builder
	if err := WriteReference(&md, true); err != nil {
		t.Fatal(err)
	}
	if err := WriteReference(&plain, false); err != nil {
		t.Fatal(err)
	}
	for k := range NumSheets {
		if !strings.Contains(md.String(), "\n## "+k.String()+"\n") && !strings.HasPrefix(md.String(), "## "+k.String()+"\n") {
			t.Errorf("no part %v", k)
		}
		if !strings.Contains(plain.String(), k.String()+"\n"+strings.Repeat("=", len(k.String()))+"\n") {
			t.Errorf("no part %v in the plain one", k)
		}
	}
	for c := range NumColumns {
		i := c.Info()
		unit := ""
		if m, in := i.Unit(false), i.Unit(true); m == in && m != units.None {
			unit = m.String()
		} else if m != in {
			unit = m.String() + ", " + in.String()
		}
		help := strings.ReplaceAll(i.Help(), "|", `\|`)
		if len(i.Choices) > 0 {
			help += " Words: " + strings.Join(i.Choices, ", ") + "."
		}
		line := "\n| " + i.Name + " | " + i.Quantity.String() + " | " + unit + " | " + help + " | " + strings.Join(i.Spellings()[1:], ", ") + " |\n"
		if !strings.Contains(md.String(), line) {
			t.Errorf("the reference lacks %s", line)
		}
		if unit != "" {
			unit = " [" + unit + "]"
		}
		if !strings.Contains(plain.String(), "\n"+i.Group+"\n") || !strings.Contains(md.String(), "\n### "+i.Group+"\n\n| column |") {
			t.Errorf("no group %s", i.Group)
		}
		text := "\n  " + i.Name + unit + "\n      " + strings.ReplaceAll(help, `\|`, "|") + "\n"
		if len(i.Spellings()) > 1 {
			text += "      also: " + strings.Join(i.Spellings()[1:], ", ") + "\n"
		}
		if !strings.Contains(plain.String(), text) {
			t.Errorf("the plain reference lacks %s", text)
		}
	}
}
