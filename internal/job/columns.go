package job

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Quantity says what the cells of a column hold and so which unit a bare number has.
type Quantity uint8

// The quantities. The unit of a bare number, metric or inch job, stands behind each.
const (
	QText        Quantity = iota
	QChoice               // one of ColumnInfo.Choices
	QNumber               // a plain number
	QCount                // a whole number
	QShare                // per cent: 10 and 10 % are the same
	QDistance             // lengths along machines: mm, in
	QThickness            // readings, offsets, shims: mm, mil
	QSlope                // mm/m, mil/in
	QSpeed                // rpm
	QTemperature          // °C, °F
	QAngle                // degrees from 12 o'clock
	QDistances            // several distances
	QSweep                // angle:reading pairs; a unit in the header is that of the readings
	QPieces               // several thicknesses, the pieces of a pack
	QDifference           // of temperatures: K, °F
	QExpansion            // linear expansion coefficient: 1e-6/K, 1e-6/°F
	numQuantities
)

var quantityWords = [numQuantities]words.Key{words.QuantityText, words.QuantityChoice, words.QuantityNumber, words.QuantityCount, words.QuantityShare, words.QuantityDistance, words.QuantityThickness, words.QuantitySlope,
	words.QuantitySpeed, words.QuantityTemperature, words.QuantityAngle, words.QuantityDistances, words.QuantitySweep, words.QuantityPieces, words.QuantityDifference, words.QuantityExpansion}

// String names the quantity.
func (q Quantity) String() string { return quantityWords[q].String() }

// Kind is the kind of unit the cells take; units.Number where there is none.
func (q Quantity) Kind() units.Kind {
	switch q {
	case QDistance, QThickness, QDistances, QSweep, QPieces:
		return units.Length
	case QDifference:
		return units.TemperatureDifference
	case QExpansion:
		return units.Expansion
	case QSlope:
		return units.Slope
	case QSpeed:
		return units.Speed
	case QTemperature:
		return units.Temperature
	case QAngle:
		return units.Angle
	}
	return units.Number
}

// Unit is the unit of a bare number in a job without another word; units.None where there is none.
func (q Quantity) Unit(inch bool) units.Unit {
	pick := func(metric, inches units.Unit) units.Unit {
		if inch {
			return inches
		}
		return metric
	}
	switch q {
	case QShare:
		return units.Percent
	case QDistance, QDistances:
		return pick(units.MM, units.Inch)
	case QThickness, QSweep, QPieces:
		return pick(units.MM, units.Mil)
	case QDifference:
		return pick(units.KelvinDiff, units.FahrenheitDiff)
	case QExpansion:
		return pick(units.PerKelvin, units.PerFahrenheit)
	case QSlope:
		return pick(units.MMPerM, units.MilPerInch)
	case QSpeed:
		return units.RPM
	case QTemperature:
		return pick(units.Celsius, units.Fahrenheit)
	case QAngle:
		return units.Degree
	}
	return units.None
}

// A ColumnInfo is one row of the table of columns.
type ColumnInfo struct {
	Key      string // lower case with underscores, as in JSON
	Name     string // as printed
	Group    string
	Sheet    SheetKind
	Quantity Quantity
	Choices  []string // the words a QChoice takes, as printed
	Result   bool     // worked out; what is typed there is not read

	help, rides words.Key
	position    string // on the clock, of a reading
	id          ColumnID
}

// Spellings are every spelling taken, Name first; case, spaces and punctuation do not matter. They are put together anew each time.
func (c *ColumnInfo) Spellings() (list []string) {
	seen := map[string]bool{}
	for _, s := range spelled(c.id) {
		if n := NormalForm(s); !seen[n] {
			seen[n] = true
			list = append(list, s)
		}
	}
	return list
}

// spelled are the spellings of a column as the table has them, Name first.
func spelled(c ColumnID) []string {
	t := &columnTable[c]
	if c < ColReading || c >= ColMovableSag {
		return SplitWords(strings.TrimSuffix(t.name+"|"+t.also, "|"))
	}
	fi, pi := &familyInfo[(c-ColReading)/NumPositions], &posInfo[(c-ColReading)%NumPositions]
	list := make([]string, 0, (1+len(fi.words))*(1+len(pi.words)))
	for i := -1; i < len(fi.words); i++ {
		family := fi.name
		if i >= 0 {
			family = fi.words[i]
		}
		list = append(list, family+" "+pi.name)
		for _, position := range pi.words {
			list = append(list, family+" "+position)
		}
	}
	return list
}

// Help says in one or two sentences what the column means.
func (c *ColumnInfo) Help() string { return c.help.Say(c.rides, c.position) }

// Unit is the unit of a bare number in the column.
func (c *ColumnInfo) Unit(inch bool) units.Unit { return c.Quantity.Unit(inch) }

// A ColumnID is a column: its place in the table of columns.
type ColumnID int16

// NoColumn is the column of a header that nobody knows.
const NoColumn ColumnID = -1

// Info is the column's row of the table, which [LoadColumns] has made ready.
func (c ColumnID) Info() *ColumnInfo { return &columnInfos[c] }

// Positions of the five readings of a family.
const (
	At12 = iota
	at3
	at6
	at9
	Again12
	NumPositions
)

// PositionAngle is where each position stands on the clock, in degrees from 12.
var PositionAngle = [NumPositions]float64{0, 90, 180, 270, 360}

// A Family is the readings of one sweep in columns.
type Family uint8

// The families.
const (
	MovableRim Family = iota
	StationaryRim
	Face
	StationaryFace
	SecondRim
	Gap
	Step
	NumFamilies
)

// The columns of the Machines sheet that people fill. The order of the sheet, not of this list, is that of the table.
const (
	ColMachine ColumnID = iota
	ColTrain
	ColStationary
	ColSide3
	ColSide9
	ColSeenFrom
	ColNote
	ColPriority
	ColArea
	ColCrew
	ColDate
	ColWorkOrder
	ColIsolation
	ColBase
	ColCoupling
	ColMounting
	ColSpeed
	ColLimits
	ColOffsetLimit
	ColSlopeLimit
	ColLimitReason
	ColToStationary
	ColToMovable
	ColToFront
	ColFrontToRear
	ColFurther
	ColFaceDiameter
	ColSpacerLength
	ColToSecond
	ColStationaryToMovable
	ColMovableToFront
	ColStationaryNear
	ColStationaryFar
	ColBoltCircle
	ColBolts
	ColToFlange
	ColMethod
	ColFaceSide
	ColReading // NumFamilies × NumPositions
)

// They go on behind the readings of all families.
const (
	ColMovableSag ColumnID = ColReading + ColumnID(NumFamilies)*NumPositions + iota
	ColStationarySag
	ColFaceSag
	ColStationaryFaceSag
	ColSecondSag
	ColPositiveSag
	ColSagU
	ColMovableSweep
	ColStationarySweep
	ColGivenOffsetV
	ColGivenOffsetH
	ColGivenSlopeV
	ColGivenSlopeH
	ColGivenGapV
	ColGivenGapH
	ColGivenOffsetU
	ColGivenSlopeU
	ColGraduation
	ColRepeatability
	ColUnit
	ColGrowth // 4 supports × V, H: movable front, rear, stationary near, far
	_
	_
	_
	_
	_
	_
	_
	ColRunningOffsetV
	ColRunningOffsetH
	ColRunningSlopeV
	ColRunningSlopeH
	ColChangeOffsetV // measured, hot less cold
	ColChangeOffsetH
	ColChangeSlopeV
	ColChangeSlopeH
	ColColdOffsetV // a maker's setting
	ColColdOffsetH
	ColColdSlopeV
	ColColdSlopeH
	ColWantedFrom
	ColMinutes
	ColShaftGap // the axial direction
	ColGapWanted
	ColGapTolerance
	ColGapAt
	ColEndFloat
	ColRunningMark
	ColRoom // front, rear × up, down, left, right
	_
	_
	_
	_
	_
	_
	_
	NumInputs
)

// Results, then the other sheets.
const (
	ResultVerdict ColumnID = NumInputs + iota
	ResultWhy
	ResultOffsetV
	ResultOffsetH
	ResultOffset
	ResultSlopeV
	ResultSlopeH
	ResultSlope
	ResultShare
	ResultChance
	ResultLimitHeld
	ResultFrontShim
	ResultRearShim
	ResultFurtherShims
	ResultFrontMove
	ResultRearMove
	ResultFurtherMoves
	ResultFrontPack
	ResultRearPack
	ResultFurtherPacks
	ResultPacksFrom
	ResultAfterOffsetV
	ResultAfterOffsetH
	ResultAfterSlopeV
	ResultAfterSlopeH
	ResultAfterShare
	ResultAfterVerdict
	ResultBalance
	ResultClosure
	ResultFlexStationary
	ResultFlexMovable
	ResultSlideV
	ResultSlideH
	ResultBoltShims
	ResultWantedOffsetV
	ResultWantedOffsetH
	ResultWantedSlopeV
	ResultWantedSlopeH
	ResultWantedReadings
	ResultFeetPacks
	ResultSoftFoot
	ResultGapAfter
	ResultGapVerdict
	ResultChecks
	ResultState

	ReadingsMachine // the Readings sheet
	ReadingsSweep
	ReadingsAngle
	ReadingsReading
	ReadingsSet
	ReadingsUnit

	StockThickness // the Stock sheet
	StockCount
	StockSize
	StockKind
	StockLamination
	StockClass
	StockTolerance
	StockUnit

	GrowthMachine // the Growth sheet
	GrowthSupport
	GrowthPart
	GrowthHeight
	GrowthDirection
	GrowthMaterial
	GrowthCoefficient
	GrowthCold
	GrowthRunning
	GrowthRise
	GrowthSideways
	GrowthTemperatureU
	GrowthCoefficientU
	GrowthNote
	GrowthUnit

	FeetMachine // the Feet sheet
	FeetFoot
	FeetAlong
	FeetAcross
	FeetRise
	FeetRiseFree
	FeetGapUnder
	FeetCornerFront9
	FeetCornerFront3
	FeetCornerRear9
	FeetCornerRear3
	FeetFootLength
	FeetFootWidth
	FeetPack
	FeetSize
	FeetRoomUp
	FeetRoomDown
	FeetRoomLeft
	FeetRoomRight
	FeetNote
	FeetUnit

	LimitsSet // the Limits sheet
	LimitsCoupling
	LimitsUpTo
	LimitsOffset
	LimitsSlope
	LimitsSource
	LimitsUnit

	MaterialsMaterial // the Materials sheet
	MaterialsCoefficient
	MaterialsFrom
	MaterialsTo
	MaterialsUncertainty
	MaterialsSource
	MaterialsUnit

	ChecksMachine // the Checks sheet
	ChecksCheck
	ChecksValue
	ChecksLimit
	ChecksSource
	ChecksBy
	ChecksWhen
	ChecksDone
	ChecksHold
	ChecksNote
	ChecksUnit

	RoundsMachine // the Rounds sheet, which has the columns of readings of the Machines sheet too
	RoundsRound
	RoundsWhen
	RoundsBy
	RoundsTemperature
	RoundsInstrument
	RoundsDone
	RoundsPacks
	RoundsStruck
	RoundsFrontShim
	RoundsRearShim
	RoundsFrontMove
	RoundsRearMove
	RoundsUnit

	TrainsTrain // the Trains sheet
	TrainsMachine
	TrainsMayMove
	TrainsEffort
	TrainsPlan
	TrainsNote

	RecordMachine // the Record sheet
	RecordRole
	RecordSignedBy
	RecordSignedAt
	RecordResult
	RecordDeviation
	RecordAllowedBy
	RecordInstrument
	RecordCertificate
	RecordDue
	RecordPhoto
	RecordSignature
	RecordDigest
	RecordNote

	SettingName // the Job sheet
	SettingSite
	SettingDate
	SettingPeople
	SettingHeading
	SettingLogo
	SettingUnits
	SettingDecimal
	SettingSeenFrom
	SettingPositiveSag
	SettingSagShare
	SettingNoSag
	SettingDistanceU
	SettingWantedFrom
	SettingLeftAside
	SettingCold
	SettingCoupling
	SettingLimits
	SettingAddShares
	SettingGraduation
	SettingRepeatability
	SettingFeelerGraduation
	SettingFeelerRepeatability
	SettingMaxPieces
	SettingPackTolerance
	SettingMoveStep
	SettingBalanceShare
	SettingBalanceGraduations
	SettingClosureGraduations
	SettingSpare
	SettingFewest
	SettingShareBy
	SettingSize
	SettingReuse
	SettingStripClass
	SettingSoftFoot
	SettingTemperatureU
	SettingCoefficientU
	SettingCooling
	SettingNumbered
	SettingPlausible
	SettingMovesAim
	NumColumns
)

// EndResults is the end of the results among the columns.
const EndResults = ReadingsMachine

// ReadingColumn is the column of a position of a family.
func ReadingColumn(f Family, pos int) ColumnID {
	return ColReading + ColumnID(f)*NumPositions + ColumnID(pos)
}

// String is the name of the family, with which its columns begin.
func (f Family) String() string { return familyInfo[f].name }

// PositionName is the word of a position: "3", "12 again".
func PositionName(pos int) string { return posInfo[pos].name }

// familyInfo holds the words of each family of readings.
var familyInfo = [NumFamilies]struct {
	name  string
	words []string // spellings of the family, positions are joined to them
	rides words.Key
}{
	MovableRim:     {"Movable rim", []string{"mov rim", "m rim", "rim movable", "rim on movable", "rim m", "movable hub rim", "movable radial", "radial movable"}, words.RidesMovableRim},
	StationaryRim:  {"Stationary rim", []string{"stat rim", "s rim", "rim stationary", "rim on stationary", "rim s", "stationary hub rim", "stationary radial", "radial stationary"}, words.RidesStationaryRim},
	Face:           {"Face", []string{"movable face", "mov face", "m face", "face movable", "face on movable", "face m", "movable hub face", "axial", "movable axial", "axial movable"}, words.RidesFace},
	StationaryFace: {"Stationary face", []string{"stat face", "s face", "face stationary", "face on stationary", "face s", "stationary hub face", "stationary axial", "axial stationary"}, words.RidesStationaryFace},
	SecondRim:      {"Second rim", []string{"2nd rim", "rim 2", "rim two", "second movable rim", "second radial"}, words.RidesSecondRim},
	Gap:            {"Gap", []string{"feeler gap", "gap between hubs", "coupling gap"}, words.RidesGap},
	Step:           {"Step", []string{"straightedge step", "straightedge", "step at rim"}, words.RidesStep},
}

var posInfo = [NumPositions]struct {
	name  string
	words []string
}{
	{"12", []string{"12 o'clock", "12h", "0", "0 deg", "0 degrees", "top"}},
	{"3", []string{"3 o'clock", "3h", "90", "90 deg", "90 degrees"}},
	{"6", []string{"6 o'clock", "6h", "180", "180 deg", "180 degrees", "bottom"}},
	{"9", []string{"9 o'clock", "9h", "270", "270 deg", "270 degrees"}},
	{"12 again", []string{"12 repeated", "12 repeat", "12 closing", "back at 12", "12 o'clock again", "360", "360 deg", "360 degrees", "top again"}},
}

// column is a row of the table while it is written down.
type column struct {
	key, name, group string
	q                Quantity
	help             words.Key
	also             string // further spellings, | between
	choices          []choice
}

// couplingChoices are the kinds in the order of tables.Coupling, without tables.Flange: the words that once stood for it are a mounting now (flangeWords).
var (
	couplingChoices = []choice{
		{"flexible", "short|short coupled|close|close coupled|disc|disc or other flexible|direct|flange|flanged|flange mounted|vertical flange|vertical"},
		{"spacer", "spacer coupling|spool|with spacer|membrane spacer|disc with spacer"},
		{"universal", "universal joint|cross and yoke|cardan|joint shaft"},
		{"gear", "gear coupling|geared"},
		{"rigid", "rigid coupling|solid|solid flange|rigid flange"},
	}
	CouplingKinds = [...]tables.Coupling{tables.Flexible, tables.Spacer, tables.Universal, tables.Gear, tables.Rigid}
	flangeWords   = []string{"flange", "flanged", "flange mounted", "vertical flange", "vertical"}

	// limitChoices are the kinds on the Limits sheet, where machines on a vertical flange may have rows of their own.
	limitChoices = []choice{couplingWithoutFlange, couplingChoices[1], couplingChoices[2], couplingChoices[3], couplingChoices[4], {"vertical flange", "flange|flanged|flange mounted|vertical"}}
	LimitKinds   = [...]tables.Coupling{tables.Flexible, tables.Spacer, tables.Universal, tables.Gear, tables.Rigid, tables.Flange}

	couplingWithoutFlange = choice{"flexible", "short|short coupled|close|close coupled|disc|disc or other flexible|direct"}
	mountingChoices       = []choice{{"horizontal", "horizontal feet|feet|on feet|foot mounted|foot"}, {"vertical flange", "vertical|flange|flanged|flange mounted|on a flange"}}
	shareChoices          = []choice{{"machines", "machine|whole machines|by machines|by machine|couplings"}, {"feet", "foot|single feet|by feet|by foot"}}
	yesNo                 = []choice{{"no", "n|false|0"}, {"yes", "y|true|1"}}
)

// IsFlangeWord says whether a text of the Coupling column is one of the words that say how the machine is mounted.
func IsFlangeWord(s string) bool {
	return slices.ContainsFunc(flangeWords, func(w string) bool { return SameSpelling(w, s) })
}

var (
	seenChoices        = []choice{{"movable", "behind the movable machine|movable machine|behind movable|from movable"}, {"stationary", "behind the stationary machine|stationary machine|behind stationary|from stationary"}}
	positiveSagChoices = []choice{{"dial reading", "reading|as read|dial"}, {"amount", "amount of sag|sag amount|droop"}}
	wantedFromChoices  = []choice{{"cold setting", "setting|maker's setting|cold"}, {"growth", "growth or change|measured change|change"}}
)

// stripChoices are the classes of strip from tables.StripNormal on.
var stripChoices = []choice{{"normal", "n|standard"}, {"fine", "f"}, {"precision", "p|precise"}}

var methodChoices = [NumMethods]choice{
	ReverseIndicator:   {"reverse indicator", "reverse|reverse dial|reverse dials|reverse dial indicator|reverse indicators|reverse rim|rim and rim|rim rim|double radial|two shafts|indicator reverse"},
	RimAndFace:         {"rim and face", "rim face|face and rim|face rim|radial and axial|rim & face"},
	TwoRims:            {"two rims", "2 rims|double rim|rim at two planes|two rims one side"},
	FaceAndFace:        {"face and face", "face face|double face|two faces|face to face|spool faces|face & face"},
	StraightedgeAndGap: {"straightedge and gap", "straightedge|straightedge and feeler|straight edge and feeler|straight edge and gap|gap and step|step and gap|feeler|straight edge|straightedge & gap"},
	Sweeps:             {"sweeps", "sweep|any angles|many points|arc|partial arc|readings"},
	GivenLineMethod:    {"line", "given line|given|offset and slope|reduced line"},
}

// A choice is a word a QChoice column takes, with other spellings of it, | between.
type choice struct{ word, also string }

const (
	gWho       = "who"
	gRunning   = "running"
	gDistances = "distances"
	gMethod    = "method"
	gTrust     = "trust"
	gGrowth    = "growth"
	gAxial     = "axial"
	gRoom      = "room"
	gResults   = "results"
)

var columnTable = [NumColumns]column{
	ColMachine:    {"machine", "Machine", gWho, QText, words.ColumnMachine, "machine name|movable machine|movable|tag|equipment|item|equipment no", nil},
	ColTrain:      {"train", "Train", gWho, QText, words.ColumnTrain, "line up|machine train|string", nil},
	ColStationary: {"stationary", "Stationary", gWho, QText, words.ColumnStationary, "stationary machine|fixed machine|stays", nil},
	ColSide3:      {"side_3", "Side at 3", gWho, QText, words.ColumnSide3, "side 3|3 o'clock side|side at 3 o'clock|side towards 3|name of 3 o'clock side", nil},
	ColSide9:      {"side_9", "Side at 9", gWho, QText, words.ColumnSide9, "side 9|9 o'clock side|side at 9 o'clock|side towards 9|name of 9 o'clock side", nil},
	ColSeenFrom:   {"seen_from", "Seen from", gWho, QChoice, words.ColumnSeenFrom, "looking from|viewed from|view from|standing behind|seen from behind", seenChoices},
	ColPriority:   {"priority", "Priority", gWho, QCount, words.ColumnPriority, "prio|rank|order of machines|urgency", nil},
	ColArea:       {"area", "Area", gWho, QText, words.ColumnArea, "plant area|area of the plant", nil},
	ColCrew:       {"crew", "Crew", gWho, QText, words.ColumnCrew, "team|gang", nil},
	ColDate:       {"date", "Date", gWho, QText, words.ColumnDate, "planned date|work date|planned for", nil},
	ColWorkOrder:  {"work_order", "Work order", gWho, QText, words.ColumnWorkOrder, "work order no|work order number|order no|wo no", nil},
	ColIsolation:  {"isolation", "Isolation", gWho, QText, words.ColumnIsolation, "isolation point|isolation points|isolation certificate|isolation no", nil},
	ColBase:       {"base", "Base", gWho, QText, words.ColumnBase, "baseplate|base plate|foundation|stands on", nil},
	ColNote:       {"note", "Note", gWho, QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},

	ColCoupling:    {"coupling", "Coupling", gRunning, QChoice, words.ColumnCoupling, "coupling kind|coupling type|kind of coupling|type of coupling", couplingChoices},
	ColMounting:    {"mounting", "Mounting", gRunning, QChoice, words.ColumnMounting, "mounted|mounting kind|how mounted|arrangement", mountingChoices},
	ColSpeed:       {"speed", "Speed", gRunning, QSpeed, words.ColumnSpeed, "rpm|n|running speed|shaft speed|speed of rotation|revolutions|r/min", nil},
	ColLimits:      {"limits", "Limits", gRunning, QText, words.ColumnLimits, "limit set|tolerance|tolerances|tolerance set|limits set", nil},
	ColOffsetLimit: {"offset_limit", "Offset limit", gRunning, QThickness, words.ColumnOffsetLimit, "max offset|allowed offset|offset tolerance|limit offset|permitted offset", nil},
	ColSlopeLimit:  {"slope_limit", "Slope limit", gRunning, QSlope, words.ColumnSlopeLimit, "max slope|allowed slope|slope tolerance|limit slope|angle limit|angularity limit|permitted slope", nil},
	ColLimitReason: {"limit_reason", "Limit reason", gRunning, QText, words.ColumnLimitReason, "reason for limit|limits reason|limit source|source of limit|limit from", nil},

	ColToStationary:        {"coupling_to_stationary_plane", "Coupling to stationary plane", gDistances, QDistance, words.ColumnToStationary, "stationary plane to coupling|coupling centre to stationary plane|coupling center to stationary plane|stationary plane to coupling centre|stationary plane to coupling center|coupling to s plane|s plane to coupling|stationary plane", nil},
	ColToMovable:           {"coupling_to_movable_plane", "Coupling to movable plane", gDistances, QDistance, words.ColumnToMovable, "movable plane to coupling|coupling centre to movable plane|coupling center to movable plane|movable plane to coupling centre|movable plane to coupling center|coupling to m plane|m plane to coupling|movable plane", nil},
	ColToFront:             {"coupling_to_front_feet", "Coupling to front feet", gDistances, QDistance, words.ColumnToFront, "coupling to front foot|coupling centre to front feet|coupling center to front feet|front feet|front foot|coupling to near feet|coupling to inboard feet|inboard feet|coupling to first feet", nil},
	ColFrontToRear:         {"front_to_rear_feet", "Front to rear feet", gDistances, QDistance, words.ColumnFrontToRear, "front to rear|front feet to rear feet|front to back feet|inboard to outboard feet|feet distance|foot to foot|between feet", nil},
	ColFurther:             {"further_feet", "Further feet", gDistances, QDistances, words.ColumnFurther, "more feet|other feet|additional feet|extra feet", nil},
	ColFaceDiameter:        {"face_diameter", "Face diameter", gDistances, QDistance, words.ColumnFaceDiameter, "face dia|gap diameter|diameter|sweep diameter|measuring diameter|face sweep diameter", nil},
	ColSpacerLength:        {"spacer_length", "Spacer length", gDistances, QDistance, words.ColumnSpacerLength, "spacer|spool length|flex plane distance|between flex planes|joint distance", nil},
	ColToSecond:            {"coupling_to_second_plane", "Coupling to second plane", gDistances, QDistance, words.ColumnToSecond, "second plane|coupling centre to second plane|coupling center to second plane|coupling to 2nd plane|2nd plane", nil},
	ColStationaryToMovable: {"stationary_plane_to_movable_plane", "Stationary plane to movable plane", gDistances, QDistance, words.ColumnStationaryToMovable, "plane to plane|between planes|stationary to movable plane|s plane to m plane", nil},
	ColMovableToFront:      {"movable_plane_to_front_feet", "Movable plane to front feet", gDistances, QDistance, words.ColumnMovableToFront, "movable plane to front foot|m plane to front feet|plane to front feet|movable plane to inboard feet|movable plane to near feet", nil},
	ColStationaryNear:      {"stationary_near_support", "Stationary near support", gDistances, QDistance, words.ColumnStationaryNear, "coupling to stationary near support|stationary near feet|stationary front feet|near support", nil},
	ColStationaryFar:       {"stationary_far_support", "Stationary far support", gDistances, QDistance, words.ColumnStationaryFar, "coupling to stationary far support|stationary far feet|stationary rear feet|far support", nil},
	ColBoltCircle:          {"bolt_circle", "Bolt circle", gDistances, QDistance, words.ColumnBoltCircle, "bolt circle diameter|pitch circle|pitch circle diameter|pcd|bcd", nil},
	ColBolts:               {"bolts", "Bolts", gDistances, QCount, words.ColumnBolts, "number of bolts|bolt count|no of bolts", nil},
	ColToFlange:            {"coupling_to_flange", "Coupling to flange", gDistances, QDistance, words.ColumnToFlange, "flange distance|coupling centre to flange|coupling center to flange", nil},

	ColShaftGap:     {"shaft_gap", "Shaft gap", gAxial, QThickness, words.ColumnShaftGap, "gap between shaft ends|shaft end gap|dbse|hub gap|axial gap|distance between shaft ends", nil},
	ColGapWanted:    {"gap_wanted", "Gap wanted", gAxial, QThickness, words.ColumnGapWanted, "wanted gap|gap required|required gap|nominal gap", nil},
	ColGapTolerance: {"gap_tolerance", "Gap tolerance", gAxial, QThickness, words.ColumnGapTolerance, "axial tolerance|gap limit", nil},
	ColGapAt:        {"gap_read_at", "Gap read at", gAxial, QChoice, words.ColumnGapAt, "gap position|gap at", []choice{{"middle", "centre|center|mean|average|axis"}, {"12", "12 o'clock|top|0"}, {"3", "3 o'clock|right"}, {"6", "6 o'clock|bottom"}, {"9", "9 o'clock|left"}}},
	ColEndFloat:     {"end_float", "End float", gAxial, QThickness, words.ColumnEndFloat, "float|rotor float|axial float|axial play|end play", nil},
	ColRunningMark:  {"running_mark", "Running mark", gAxial, QThickness, words.ColumnRunningMark, "magnetic centre|magnetic center|running position", nil},

	ColMethod:   {"method", "Method", gMethod, QChoice, words.ColumnMethod, "measuring method|how measured|method of measuring", methodChoices[1:]},
	ColFaceSide: {"face_side", "Face side", gMethod, QChoice, words.ColumnFaceSide, "side of face|face front or back|dial on face", []choice{{"front", "coupling side|f"}, {"back", "rear|behind|back of hub|b"}}},

	ColMovableSag:        {"movable_sag_6", "Movable sag at 6", gMethod, QThickness, words.ColumnMovableSag, "movable sag|movable rim sag|sag movable|movable rim sag at 6|m sag|mov sag", nil},
	ColStationarySag:     {"stationary_sag_6", "Stationary sag at 6", gMethod, QThickness, words.ColumnStationarySag, "stationary sag|stationary rim sag|sag stationary|stationary rim sag at 6|s sag|stat sag", nil},
	ColFaceSag:           {"face_sag_6", "Face sag at 6", gMethod, QThickness, words.ColumnFaceSag, "face sag|sag face|movable face sag|movable face sag at 6", nil},
	ColStationaryFaceSag: {"stationary_face_sag_6", "Stationary face sag at 6", gMethod, QThickness, words.ColumnStationaryFaceSag, "stationary face sag|sag stationary face|stat face sag", nil},
	ColSecondSag:         {"second_rim_sag_6", "Second rim sag at 6", gMethod, QThickness, words.ColumnSecondSag, "second rim sag|second sag|sag second rim|2nd rim sag", nil},
	ColPositiveSag:       {"positive_sag", "Positive sag", gMethod, QChoice, words.ColumnPositiveSag, "positive sag is|sag sign|sign of sag", positiveSagChoices},
	ColSagU:              {"sag_uncertainty", "Sag ±", gMethod, QThickness, words.ColumnSagU, "± sag|sag uncertainty|sag plus minus|uncertainty of sag", nil},
	ColMovableSweep:      {"movable_sweep", "Movable sweep", gMethod, QSweep, words.ColumnMovableSweep, "movable rim sweep|m sweep|mov sweep|sweep movable", nil},
	ColStationarySweep:   {"stationary_sweep", "Stationary sweep", gMethod, QSweep, words.ColumnStationarySweep, "stationary rim sweep|s sweep|stat sweep|sweep stationary", nil},
	ColGivenOffsetV:      {"given_offset_v", "Given offset V", gMethod, QThickness, words.ColumnGivenOffsetV, "given vertical offset|measured offset v|given offset vertical", nil},
	ColGivenOffsetH:      {"given_offset_h", "Given offset H", gMethod, QThickness, words.ColumnGivenOffsetH, "given horizontal offset|measured offset h|given offset horizontal", nil},
	ColGivenSlopeV:       {"given_slope_v", "Given slope V", gMethod, QSlope, words.ColumnGivenSlopeV, "given vertical slope|measured slope v|given slope vertical|given angle v", nil},
	ColGivenSlopeH:       {"given_slope_h", "Given slope H", gMethod, QSlope, words.ColumnGivenSlopeH, "given horizontal slope|measured slope h|given slope horizontal|given angle h", nil},
	ColGivenGapV:         {"given_gap_12_6", "Given gap 12 minus 6", gMethod, QThickness, words.ColumnGivenGapV, "gap 12 minus 6|gap difference v|given gap difference v|given gap v|gap difference vertical", nil},
	ColGivenGapH:         {"given_gap_3_9", "Given gap 3 minus 9", gMethod, QThickness, words.ColumnGivenGapH, "gap 3 minus 9|gap difference h|given gap difference h|given gap h|gap difference horizontal", nil},
	ColGivenOffsetU:      {"given_offset_u", "Given offset ±", gMethod, QThickness, words.ColumnGivenOffsetU, "offset ±|offset uncertainty|given offset uncertainty|offset plus minus", nil},
	ColGivenSlopeU:       {"given_slope_u", "Given slope ±", gMethod, QSlope, words.ColumnGivenSlopeU, "slope ±|slope uncertainty|given slope uncertainty|slope plus minus", nil},

	ColGraduation:    {"graduation", "Graduation", gTrust, QThickness, words.ColumnGraduation, "dial graduation|division|smallest division", nil},
	ColRepeatability: {"repeatability", "Repeatability", gTrust, QThickness, words.ColumnRepeatability, "dial repeatability|repeat standard deviation|standard deviation", nil},
	ColUnit:          {"unit", "Unit", gTrust, QText, words.ColumnUnit, unitWords, nil},

	ColRunningOffsetV: {"running_offset_v", "Running offset V", gGrowth, QThickness, words.ColumnRunningOffsetV, "wanted running offset v|hot offset v|running vertical offset", nil},
	ColRunningOffsetH: {"running_offset_h", "Running offset H", gGrowth, QThickness, words.ColumnSidewaysPositive, "wanted running offset h|hot offset h|running horizontal offset", nil},
	ColRunningSlopeV:  {"running_slope_v", "Running slope V", gGrowth, QSlope, words.ColumnRunningSlopeV, "wanted running slope v|hot slope v|running vertical slope", nil},
	ColRunningSlopeH:  {"running_slope_h", "Running slope H", gGrowth, QSlope, words.ColumnSideways, "wanted running slope h|hot slope h|running horizontal slope", nil},

	ColChangeOffsetV: {"change_offset_v", "Change offset V", gGrowth, QThickness, words.ColumnChangeOffsetV, "measured change offset v|offset change v|change of offset v|hot minus cold offset v", nil},
	ColChangeOffsetH: {"change_offset_h", "Change offset H", gGrowth, QThickness, words.ColumnSidewaysPositive, "measured change offset h|offset change h|change of offset h|hot minus cold offset h", nil},
	ColChangeSlopeV:  {"change_slope_v", "Change slope V", gGrowth, QSlope, words.ColumnChangeSlopeV, "measured change slope v|slope change v|change of slope v|hot minus cold slope v", nil},
	ColChangeSlopeH:  {"change_slope_h", "Change slope H", gGrowth, QSlope, words.ColumnSideways, "measured change slope h|slope change h|change of slope h|hot minus cold slope h", nil},
	ColColdOffsetV:   {"cold_offset_v", "Cold offset V", gGrowth, QThickness, words.ColumnColdOffsetV, "cold setting offset v|cold setting v|target offset v|cold offset vertical|target offset vertical|cold target offset v|desired offset v|cold target v", nil},
	ColColdOffsetH:   {"cold_offset_h", "Cold offset H", gGrowth, QThickness, words.ColumnSidewaysPositive, "cold setting offset h|cold setting h|target offset h|cold offset horizontal|target offset horizontal|cold target offset h|desired offset h|cold target h", nil},
	ColColdSlopeV:    {"cold_slope_v", "Cold slope V", gGrowth, QSlope, words.ColumnColdSlopeV, "cold setting slope v|target slope v|cold slope vertical|target slope vertical|cold target slope v|desired slope v|cold angle v|target angle v", nil},
	ColColdSlopeH:    {"cold_slope_h", "Cold slope H", gGrowth, QSlope, words.ColumnColdSlopeH, "cold setting slope h|target slope h|cold slope horizontal|target slope horizontal|cold target slope h|desired slope h|cold angle h|target angle h", nil},
	ColWantedFrom:    {"wanted_line_from", "Wanted from", gGrowth, QChoice, words.ColumnWantedFrom, "wanted line from|cold position from|target from", wantedFromChoices},
	ColMinutes:       {"minutes_since_stop", "Minutes since stop", gGrowth, QNumber, words.ColumnMinutes, "minutes after stop|minutes since the stop|min since stop|minutes stopped", nil},

	ResultVerdict:        {"verdict", "Verdict", gResults, QText, words.ColumnResultVerdict, "result|judgement", nil},
	ResultWhy:            {"why", "Why", gResults, QText, words.ColumnResultWhy, "reason", nil},
	ResultOffsetV:        {"offset_v", "Offset V", gResults, QThickness, words.ColumnResultOffsetV, "± offset v|uncertainty offset v", nil},
	ResultOffsetH:        {"offset_h", "Offset H", gResults, QThickness, words.ColumnSidewaysPositive, "± offset h|uncertainty offset h", nil},
	ResultOffset:         {"offset", "Offset total", gResults, QThickness, words.ColumnBoth, "offset|total offset|± offset total", nil},
	ResultSlopeV:         {"slope_v", "Slope V", gResults, QSlope, words.ColumnResultSlopeV, "± slope v|uncertainty slope v", nil},
	ResultSlopeH:         {"slope_h", "Slope H", gResults, QSlope, words.ColumnSidewaysPositive, "± slope h|uncertainty slope h", nil},
	ResultSlope:          {"slope", "Slope total", gResults, QSlope, words.ColumnBoth, "slope|total slope|± slope total", nil},
	ResultShare:          {"share_of_limit", "Share of limit", gResults, QShare, words.ColumnResultShare, "limit share", nil},
	ResultChance:         {"chance_inside", "Chance inside", gResults, QShare, words.ColumnResultChance, "chance|probability inside", nil},
	ResultLimitHeld:      {"limit_held", "Limit held to", gResults, QText, words.ColumnResultLimitHeld, "limits held|held to", nil},
	ResultFrontShim:      {"front_shim", "Front shim", gResults, QThickness, words.ColumnResultFrontShim, "shim front|± front shim", nil},
	ResultRearShim:       {"rear_shim", "Rear shim", gResults, QThickness, words.ColumnResultRearShim, "shim rear|± rear shim", nil},
	ResultFurtherShims:   {"further_shims", "Further shims", gResults, QThickness, words.ColumnResultFurtherShims, "", nil},
	ResultFrontMove:      {"front_move", "Front move", gResults, QThickness, words.ColumnResultFrontMove, "move front|± front move", nil},
	ResultRearMove:       {"rear_move", "Rear move", gResults, QThickness, words.ColumnResultRearMove, "move rear|± rear move", nil},
	ResultFurtherMoves:   {"further_moves", "Further moves", gResults, QThickness, words.ColumnResultFurtherMoves, "", nil},
	ResultFrontPack:      {"front_pack", "Front pack", gResults, QThickness, words.ColumnResultFrontPack, "pack front", nil},
	ResultRearPack:       {"rear_pack", "Rear pack", gResults, QThickness, words.ColumnResultRearPack, "pack rear", nil},
	ResultFurtherPacks:   {"further_packs", "Further packs", gResults, QThickness, words.ColumnResultFurtherPacks, "", nil},
	ResultPacksFrom:      {"packs_from", "Packs from", gResults, QText, words.ColumnResultPacksFrom, "", nil},
	ResultAfterOffsetV:   {"after_offset_v", "After: offset V", gResults, QThickness, words.ColumnResultAfterOffsetV, "", nil},
	ResultAfterOffsetH:   {"after_offset_h", "After: offset H", gResults, QThickness, words.ColumnSideways, "", nil},
	ResultAfterSlopeV:    {"after_slope_v", "After: slope V", gResults, QSlope, words.ColumnResultAfterSlopeV, "", nil},
	ResultAfterSlopeH:    {"after_slope_h", "After: slope H", gResults, QSlope, words.ColumnSideways, "", nil},
	ResultAfterShare:     {"after_share_of_limit", "After: share of limit", gResults, QShare, words.ColumnResultAfterShare, "", nil},
	ResultAfterVerdict:   {"after_verdict", "After: verdict", gResults, QText, words.ColumnResultAfterVerdict, "", nil},
	ResultBalance:        {"balance", "Balance", gResults, QThickness, words.ColumnResultBalance, "balance of each sweep", nil},
	ResultClosure:        {"closure", "Closure", gResults, QThickness, words.ColumnResultClosure, "closure of each sweep", nil},
	ResultFlexStationary: {"flex_stationary", "Angle at stationary flex plane", gResults, QSlope, words.ColumnFlexAngle, "± angle at stationary flex plane", nil},
	ResultFlexMovable:    {"flex_movable", "Angle at movable flex plane", gResults, QSlope, words.ColumnFlexAngle, "± angle at movable flex plane", nil},
	ResultSlideV:         {"slide_v", "Flange slide V", gResults, QThickness, words.ColumnResultSlideV, "", nil},
	ResultSlideH:         {"slide_h", "Flange slide H", gResults, QThickness, words.ColumnResultSlideH, "", nil},
	ResultBoltShims:      {"bolt_shims", "Bolt shims", gResults, QThickness, words.ColumnResultBoltShims, "", nil},

	ResultWantedOffsetV:  {"wanted_offset_v", "Wanted offset V", gResults, QThickness, words.ColumnResultWantedOffsetV, "", nil},
	ResultWantedOffsetH:  {"wanted_offset_h", "Wanted offset H", gResults, QThickness, words.ColumnSidewaysPositive, "", nil},
	ResultWantedSlopeV:   {"wanted_slope_v", "Wanted slope V", gResults, QSlope, words.ColumnResultWantedSlopeV, "", nil},
	ResultWantedSlopeH:   {"wanted_slope_h", "Wanted slope H", gResults, QSlope, words.ColumnSideways, "", nil},
	ResultWantedReadings: {"wanted_readings", "Wanted readings", gResults, QText, words.ColumnResultWantedReadings, "", nil},
	ResultFeetPacks:      {"feet_packs", "Pack of each foot", gResults, QText, words.ColumnResultFeetPacks, "packs of each foot|pack per foot", nil},
	ResultSoftFoot:       {"soft_foot", "Soft foot", gResults, QText, words.ColumnResultSoftFoot, "soft feet", nil},

	ResultGapAfter:   {"gap_after", "Gap after", gResults, QThickness, words.ColumnResultGapAfter, "predicted gap|gap predicted", nil},
	ResultGapVerdict: {"gap_verdict", "Gap verdict", gResults, QText, words.ColumnResultGapVerdict, "", nil},
	ResultChecks:     {"checks", "Checks", gResults, QText, words.ColumnResultChecks, "", nil},

	ResultState: {"state", "State", gResults, QText, words.ColumnResultState, "", nil},

	ReadingsMachine: {"machine", "Machine", "readings", QText, words.ColumnMachineOfSheet, "machine name|movable machine|tag", nil},
	ReadingsSweep:   {"sweep", "Sweep", "readings", QChoice, words.ColumnReadingsSweep, "dial|indicator|sweep name", nil},
	ReadingsAngle:   {"angle", "Angle", "readings", QAngle, words.ColumnReadingsAngle, "position|clock position|clock|o'clock|hours|at|phi|degrees", nil},
	ReadingsReading: {"reading", "Reading", "readings", QThickness, words.ColumnReadingsReading, "value|dial reading|indicated", nil},
	ReadingsSet:     {"set", "Set", "readings", QChoice, words.ColumnReadingsSet, "set of readings|hot or cold", []choice{{"found", "as found|now"}, {"cold", "before|cold set"}, {"hot", "running|warm|hot set"}, {"wanted", "target|cold readings wanted|wanted cold|desired"}}},
	ReadingsUnit:    {"unit", "Unit", "readings", QText, words.ColumnUnit, unitWords, nil},

	StockThickness:  {"thickness", "Thickness", "stock", QThickness, words.ColumnStockThickness, "shim|shim thickness|thick", nil},
	StockCount:      {"pieces", "Pieces on hand", "stock", QCount, words.ColumnStockCount, "pieces|count|on hand|quantity|qty|number", nil},
	StockSize:       {"size", "Size", "stock", QText, words.ColumnStockSize, "shim size", nil},
	StockKind:       {"kind", "Kind", "stock", QChoice, words.ColumnStockKind, "type|shim kind", []choice{{"plain", "solid|single"}, {"laminated", "peel|peelable|layered"}}},
	StockLamination: {"lamination", "Lamination", "stock", QThickness, words.ColumnStockLamination, "layer|layer thickness|lamination thickness", nil},
	StockClass:      {"strip_class", "Strip class", "stock", QChoice, words.ColumnStockClass, "tolerance class|thickness class|strip tolerance", stripChoices},
	StockTolerance:  {"tolerance", "Tolerance", "stock", QThickness, words.ColumnStockTolerance, "thickness tolerance|plus minus|±|tolerance ±|half width", nil},
	StockUnit:       {"unit", "Unit", "stock", QText, words.ColumnUnit, unitWords, nil},

	GrowthMachine:      {"machine", "Machine", "growth", QText, words.ColumnGrowthMachine, "machine name|movable machine|tag", nil},
	GrowthSupport:      {"support", "Support", "growth", QChoice, words.ColumnGrowthSupport, "foot|feet|location", []choice{{"movable front", "front|movable near|movable inboard|inboard|m front|front feet|movable front feet"}, {"movable rear", "rear|movable far|movable outboard|outboard|m rear|rear feet|movable rear feet"}, {"stationary near", "near|stationary front|stationary inboard|s near|stationary near support"}, {"stationary far", "far|stationary rear|stationary outboard|s far|stationary far support"}}},
	GrowthPart:         {"part", "Part", "growth", QText, words.ColumnGrowthPart, "piece|component|item", nil},
	GrowthHeight:       {"height", "Height", "growth", QDistance, words.ColumnGrowthHeight, "length|part height", nil},
	GrowthDirection:    {"direction", "Direction", "growth", QChoice, words.ColumnGrowthDirection, "way|grows", []choice{{"up", "v|vertical|upwards"}, {"towards 3", "to 3|3|3 o'clock|right"}, {"towards 9", "to 9|9|9 o'clock|left"}}},
	GrowthMaterial:     {"material", "Material", "growth", QText, words.ColumnGrowthMaterial, "metal|made of", nil},
	GrowthCoefficient:  {"coefficient", "Coefficient", "growth", QExpansion, words.ColumnGrowthCoefficient, "expansion coefficient|coefficient of expansion|alpha|cte|expansion", nil},
	GrowthCold:         {"cold", "Cold", "growth", QTemperature, words.ColumnGrowthCold, "cold temperature|ambient|ambient temperature|from", nil},
	GrowthRunning:      {"running", "Running", "growth", QTemperature, words.ColumnGrowthRunning, "running temperature|hot|hot temperature|to", nil},
	GrowthRise:         {"growth_v", "Growth V", "growth", QThickness, words.ColumnGrowthRise, "growth|rise|vertical growth|growth vertical", nil},
	GrowthSideways:     {"growth_h", "Growth H", "growth", QThickness, words.ColumnGrowthSideways, "horizontal growth|growth horizontal|sideways", nil},
	GrowthTemperatureU: {"temperature_uncertainty", "Temperature uncertainty", "growth", QDifference, words.ColumnGrowthTemperatureU, "u temperature|temperature u|temperature standard uncertainty", nil},
	GrowthCoefficientU: {"coefficient_uncertainty", "Coefficient uncertainty", "growth", QShare, words.ColumnGrowthCoefficientU, "u coefficient|coefficient u|coefficient standard uncertainty", nil},
	GrowthNote:         {"note", "Note", "growth", QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},
	GrowthUnit:         {"unit", "Unit", "growth", QText, words.ColumnUnit, unitWords, nil},

	FeetMachine:      {"machine", "Machine", "feet", QText, words.ColumnMachineOfSheet, "machine name|movable machine|tag", nil},
	FeetFoot:         {"foot", "Foot", "feet", QText, words.ColumnFeetFoot, "foot name|foot number|foot no|location", nil},
	FeetAlong:        {"along", "Along", "feet", QDistance, words.ColumnFeetAlong, "distance along|station|along shaft|x", nil},
	FeetAcross:       {"across", "Across", "feet", QDistance, words.ColumnFeetAcross, "distance across|sideways distance|across shaft|y", nil},
	FeetRise:         {"rise", "Rise", "feet", QThickness, words.ColumnFeetRise, "soft foot|soft foot rise|rise at foot|foot rise", nil},
	FeetRiseFree:     {"rise_after", "Rise after", "feet", QThickness, words.ColumnFeetRiseFree, "rise with flanges freed|rise flanges freed|rise after freeing|rise free", nil},
	FeetGapUnder:     {"gap", "Gap", "feet", QThickness, words.ColumnFeetGapUnder, "gap under foot|feeler gap|foot gap", nil},
	FeetCornerFront9: {"corner_front_9", "Corner front 9", "feet", QThickness, words.ColumnFeetCornerFront9, "corner front left|gap front 9|gap front left|corner gap front 9|corner gap front left", nil},
	FeetCornerFront3: {"corner_front_3", "Corner front 3", "feet", QThickness, words.ColumnFeetCornerFront3, "corner front right|gap front 3|gap front right|corner gap front 3|corner gap front right", nil},
	FeetCornerRear9:  {"corner_rear_9", "Corner rear 9", "feet", QThickness, words.ColumnFeetCornerRear9, "corner rear left|gap rear 9|gap rear left|corner gap rear 9|corner gap rear left", nil},
	FeetCornerRear3:  {"corner_rear_3", "Corner rear 3", "feet", QThickness, words.ColumnFeetCornerRear3, "corner rear right|gap rear 3|gap rear right|corner gap rear 3|corner gap rear right", nil},
	FeetFootLength:   {"foot_length", "Foot length", "feet", QDistance, words.ColumnFeetFootLength, "length of foot|foot along", nil},
	FeetFootWidth:    {"foot_width", "Foot width", "feet", QDistance, words.ColumnFeetFootWidth, "width of foot|foot across", nil},
	FeetPack:         {"pack_in_place", "Pack in place", "feet", QPieces, words.ColumnFeetPack, "pack|pieces in place|shims in place|existing pack|existing shims|pack now", nil},
	FeetSize:         {"shim_size", "Shim size", "feet", QText, words.ColumnFeetSize, "size", nil},
	FeetRoomUp:       {"room_up", "Room up", "feet", QThickness, words.ColumnFeetRoomUp, "up", nil},
	FeetRoomDown:     {"room_down", "Room down", "feet", QThickness, words.ColumnFeetRoomDown, "down", nil},
	FeetRoomLeft:     {"room_left", "Room left", "feet", QThickness, words.ColumnFeetRoomLeft, "left|room 9", nil},
	FeetRoomRight:    {"room_right", "Room right", "feet", QThickness, words.ColumnFeetRoomRight, "right|room 3", nil},
	FeetNote:         {"note", "Note", "feet", QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},
	FeetUnit:         {"unit", "Unit", "feet", QText, words.ColumnUnit, unitWords, nil},

	LimitsSet:      {"set", "Set", "limits", QText, words.ColumnLimitsSet, "limit set|limits|name|set name", nil},
	LimitsCoupling: {"coupling", "Coupling", "limits", QChoice, words.ColumnLimitsCoupling, "coupling kind|coupling type|kind of coupling", limitChoices},
	LimitsUpTo:     {"up_to_speed", "Up to speed", "limits", QSpeed, words.ColumnLimitsUpTo, "speed|rpm|up to|up to rpm|to speed", nil},
	LimitsOffset:   {"offset", "Offset", "limits", QThickness, words.ColumnLimitsOffset, "offset limit|max offset", nil},
	LimitsSlope:    {"slope", "Slope", "limits", QSlope, words.ColumnLimitsSlope, "slope limit|max slope|angle|angle limit|angularity", nil},
	LimitsSource:   {"source", "Source", "limits", QText, words.ColumnLimitsSource, "reference|document|from", nil},
	LimitsUnit:     {"unit", "Unit", "limits", QText, words.ColumnUnit, unitWords, nil},

	MaterialsMaterial:    {"material", "Material", "materials", QText, words.ColumnMaterialsMaterial, "metal|name", nil},
	MaterialsCoefficient: {"coefficient", "Coefficient", "materials", QExpansion, words.ColumnMaterialsCoefficient, "mean coefficient|expansion coefficient|coefficient of expansion|alpha|cte|expansion", nil},
	MaterialsFrom:        {"from", "From", "materials", QTemperature, words.ColumnMaterialsFrom, "from temperature|reference temperature", nil},
	MaterialsTo:          {"at_temperature", "At temperature", "materials", QTemperature, words.ColumnMaterialsTo, "to|to temperature|temperature|up to temperature", nil},
	MaterialsUncertainty: {"uncertainty", "Uncertainty", "materials", QShare, words.ColumnMaterialsUncertainty, "standard uncertainty|u", nil},
	MaterialsSource:      {"source", "Source", "materials", QText, words.ColumnMaterialsSource, "reference|document", nil},
	MaterialsUnit:        {"unit", "Unit", "materials", QText, words.ColumnUnit, unitWords, nil},

	ChecksMachine: {"machine", "Machine", "checks", QText, words.ColumnMachineOfSheet, "machine name|movable machine|tag", nil},
	ChecksCheck:   {"check", "Check", "checks", QText, words.ColumnChecksCheck, "item|what|check item", nil},
	ChecksValue:   {"value", "Value", "checks", QText, words.ColumnChecksValue, "found|reading|measured|result", nil},
	ChecksLimit:   {"limit", "Limit", "checks", QText, words.ColumnChecksLimit, "max|maximum|tolerance|limit value", nil},
	ChecksSource:  {"source", "Source", "checks", QText, words.ColumnChecksSource, "reference|document|from", nil},
	ChecksBy:      {"by", "By", "checks", QText, words.ColumnChecksBy, "who|name|checked by", nil},
	ChecksWhen:    {"when", "When", "checks", QText, words.ColumnChecksWhen, "date|time|due", nil},
	ChecksDone:    {"done", "Done", "checks", QChoice, words.ColumnChecksDone, "ok|state|passed", []choice{{"yes", "y|true|1|done|ok|passed"}, {"no", "n|false|0|failed|not ok"}}},
	ChecksHold:    {"hold", "Hold", "checks", QChoice, words.ColumnChecksHold, "hold point|stop here|witness point", yesNo},
	ChecksNote:    {"note", "Note", "checks", QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},
	ChecksUnit:    {"unit", "Unit", "checks", QText, words.ColumnChecksUnit, "units|uom|unit of measure", nil},

	RoundsMachine:     {"machine", "Machine", "rounds", QText, words.ColumnMachineOfSheet, "machine name|movable machine|tag", nil},
	RoundsRound:       {"round", "Round", "rounds", QText, words.ColumnRoundsRound, "round no|round number|stage", nil},
	RoundsWhen:        {"when", "When", "rounds", QText, words.ColumnRoundsWhen, "date|time|date and time", nil},
	RoundsBy:          {"by", "By", "rounds", QText, words.ColumnRoundsBy, "who|name|read by|crew", nil},
	RoundsTemperature: {"temperature", "Temperature", "rounds", QText, words.ColumnRoundsTemperature, "temp|ambient", nil},
	RoundsInstrument:  {"instrument", "Instrument", "rounds", QText, words.ColumnRoundsInstrument, "gauge|dials|read with|instrument no", nil},
	RoundsDone:        {"done", "Done", "rounds", QText, words.ColumnRoundsDone, "what was done|action|work done", nil},
	RoundsPacks:       {"packs_in_place", "Packs in place", "rounds", QPieces, words.ColumnRoundsPacks, "packs really in place|pack in place|shims in place", nil},
	RoundsStruck:      {"struck", "Struck", "rounds", QText, words.ColumnRoundsStruck, "struck out|struck because|void|reason struck", nil},
	RoundsFrontShim:   {"front_shim_done", "Front shim done", "rounds", QThickness, words.ColumnRoundsFrontShim, "front shims done|done front shim", nil},
	RoundsRearShim:    {"rear_shim_done", "Rear shim done", "rounds", QThickness, words.ColumnRoundsRearShim, "rear shims done|done rear shim", nil},
	RoundsFrontMove:   {"front_move_done", "Front move done", "rounds", QThickness, words.ColumnRoundsFrontMove, "front moves done|done front move", nil},
	RoundsRearMove:    {"rear_move_done", "Rear move done", "rounds", QThickness, words.ColumnRoundsRearMove, "rear moves done|done rear move", nil},
	RoundsUnit:        {"unit", "Unit", "rounds", QText, words.ColumnUnit, unitWords, nil},
	TrainsTrain:       {"train", "Train", "trains", QText, words.ColumnTrainsTrain, "line up|machine train|string", nil},
	TrainsMachine:     {"machine", "Machine", "trains", QText, words.ColumnTrainsMachine, "machine name|tag", nil},
	TrainsMayMove:     {"may_move", "May move", "trains", QChoice, words.ColumnTrainsMayMove, "can move|movable|moves|may be moved", yesNo},
	TrainsEffort:      {"effort", "Effort", "trains", QNumber, words.ColumnTrainsEffort, "weight|cost", nil},
	TrainsPlan:        {"plan", "Plan", "trains", QText, words.ColumnTrainsPlan, "chosen plan|plan chosen|alternative", nil},
	TrainsNote:        {"note", "Note", "trains", QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},

	RecordMachine:     {"machine", "Machine", "record", QText, words.ColumnRecordMachine, "machine name|movable machine|tag", nil},
	RecordRole:        {"role", "Role", "record", QChoice, words.ColumnRecordRole, "signed as|capacity", roleChoices},
	RecordSignedBy:    {"signed_by", "Signed by", "record", QText, words.ColumnRecordSignedBy, "signature of|signed", nil},
	RecordSignedAt:    {"signed_at", "Signed at", "record", QText, words.ColumnRecordSignedAt, "signed on|time of signature", nil},
	RecordResult:      {"result", "Result", "record", QText, words.ColumnRecordResult, "result signed|signed for", nil},
	RecordDeviation:   {"deviation", "Deviation", "record", QText, words.ColumnRecordDeviation, "deviations|exception", nil},
	RecordAllowedBy:   {"allowed_by", "Allowed by", "record", QText, words.ColumnRecordAllowedBy, "deviation allowed by|approved by", nil},
	RecordInstrument:  {"instrument", "Instrument", "record", QText, words.ColumnRecordInstrument, "gauge|dial|measuring instrument", nil},
	RecordCertificate: {"certificate", "Certificate", "record", QText, words.ColumnRecordCertificate, "certificate no|calibration|calibration certificate", nil},
	RecordDue:         {"due", "Due", "record", QText, words.ColumnRecordDue, "due date|calibration due|valid until", nil},
	RecordPhoto:       {"photo", "Photo", "record", QText, words.ColumnRecordPhoto, "picture|image", nil},
	RecordSignature:   {"signature", "Signature", "record", QText, words.ColumnRecordSignature, "drawn signature", nil},
	RecordDigest:      {"digest", "Digest", "record", QText, words.ColumnRecordDigest, "sha-256|sha256|checksum", nil},
	RecordNote:        {"note", "Note", "record", QText, words.ColumnFreeText, "notes|remark|remarks|comment|comments", nil},

	SettingName:                {"name", "Name", "job", QText, words.ColumnSettingName, "job|job name|shutdown", nil},
	SettingSite:                {"site", "Site", "job", QText, words.ColumnSettingSite, "plant|location", nil},
	SettingDate:                {"date", "Date", "job", QText, words.ColumnSettingDate, "dates|when", nil},
	SettingHeading:             {"heading", "Heading", "job", QText, words.ColumnSettingHeading, "letterhead|title of papers", nil},
	SettingLogo:                {"logo", "Logo", "job", QText, words.ColumnSettingLogo, "logo picture", nil},
	SettingPeople:              {"people", "People", "job", QText, words.ColumnSettingPeople, "crew|who|by", nil},
	SettingUnits:               {"units", "Units", "job", QChoice, words.ColumnSettingUnits, "unit|unit system|system of units", []choice{{"metric", "mm|si|metre|metres"}, {"inch", "inches|in|mil|mils|imperial|us|us customary"}}},
	SettingDecimal:             {"decimal_sign", "Decimal sign", "job", QChoice, words.ColumnSettingDecimal, "decimal|decimal mark|decimal separator|decimals", []choice{{"either", "both|any"}, {"point", "dot|period"}, {"comma", ""}}},
	SettingSeenFrom:            {"seen_from", "Seen from", "job", QChoice, words.ColumnSettingSeenFrom, "looking from|viewed from|view from|seen from behind", seenChoices},
	SettingPositiveSag:         {"positive_sag", "Positive sag", "job", QChoice, words.ColumnSettingPositiveSag, "positive sag is|sag sign|sign of sag", positiveSagChoices},
	SettingSagShare:            {"sag_share", "Sag share", "job", QShare, words.ColumnSettingSagShare, "sag uncertainty|sag ±|uncertainty of sag", nil},
	SettingNoSag:               {"sag_not_given", "Sag not given", "job", QChoice, words.ColumnSettingNoSag, "blank sag|no sag typed|sag blank", []choice{{"widen", "widened|estimate"}, {"no sag", "none|zero|0|heads|measuring heads"}}},
	SettingDistanceU:           {"distance_uncertainty", "Distance uncertainty", "job", QDistance, words.ColumnSettingDistanceU, "u distance|tape uncertainty|distances ±", nil},
	SettingWantedFrom:          {"wanted_line_from", "Wanted from", "job", QChoice, words.ColumnSettingWantedFrom, "wanted line from|cold position from|target from", wantedFromChoices},
	SettingLeftAside:           {"columns_left_aside", "Columns left aside", "job", QText, words.ColumnSettingLeftAside, "left aside|columns of my own|ignored columns|columns ignored", nil},
	SettingCold:                {"cold_temperature", "Cold temperature", "job", QTemperature, words.ColumnSettingCold, "cold|ambient|ambient temperature", nil},
	SettingCoupling:            {"default_coupling", "Default coupling", "job", QChoice, words.ColumnSettingCoupling, "coupling", couplingChoices},
	SettingLimits:              {"default_limits", "Default limits", "job", QText, words.ColumnSettingLimits, "limits|limit set|default limit set|tolerances", nil},
	SettingAddShares:           {"add_shares", "Add shares", "job", QChoice, words.ColumnSettingAddShares, "shares added|combined limits|offset and angle together", yesNo},
	SettingGraduation:          {"graduation", "Graduation", "job", QThickness, words.ColumnSettingGraduation, "dial graduation|default graduation", nil},
	SettingRepeatability:       {"repeatability", "Repeatability", "job", QThickness, words.ColumnSettingRepeatability, "dial repeatability|default repeatability", nil},
	SettingFeelerGraduation:    {"feeler_graduation", "Feeler graduation", "job", QThickness, words.ColumnSettingFeelerGraduation, "gauge graduation|gap graduation", nil},
	SettingFeelerRepeatability: {"feeler_repeatability", "Feeler repeatability", "job", QThickness, words.ColumnSettingFeelerRepeatability, "gauge repeatability|gap repeatability", nil},
	SettingMaxPieces:           {"pack_pieces", "Pack pieces at most", "job", QCount, words.ColumnSettingMaxPieces, "pack pieces|max pieces|pieces at most|most pieces|shims at most", nil},
	SettingPackTolerance:       {"pack_tolerance", "Pack tolerance", "job", QThickness, words.ColumnSettingPackTolerance, "shim tolerance|tolerance of packs", nil},
	SettingMoveStep:            {"move_step", "Move step", "job", QThickness, words.ColumnSettingMoveStep, "rounding of moves", nil},
	SettingBalanceShare:        {"balance_share", "Balance share", "job", QShare, words.ColumnSettingBalanceShare, "balance limit|balance", nil},
	SettingBalanceGraduations:  {"balance_graduations", "Balance graduations", "job", QNumber, words.ColumnSettingBalanceGraduations, "", nil},
	SettingClosureGraduations:  {"closure_graduations", "Closure graduations", "job", QNumber, words.ColumnSettingClosureGraduations, "closure limit|closure", nil},
	SettingSpare:               {"spare_allowance", "Spare allowance", "job", QShare, words.ColumnSettingSpare, "spares|spare share|allowance", nil},
	SettingFewest:              {"fewest_thicknesses", "Fewest thicknesses", "job", QChoice, words.ColumnSettingFewest, "few thicknesses|fewest different thicknesses", yesNo},
	SettingShareBy:             {"share_stock_by", "Share stock by", "job", QChoice, words.ColumnSettingShareBy, "share stock|stock shared by|share by", shareChoices},
	SettingSize:                {"shim_size", "Shim size", "job", QText, words.ColumnSettingSize, "default shim size|size of shims", nil},
	SettingReuse:               {"reuse_removed", "Reuse removed shims", "job", QChoice, words.ColumnSettingReuse, "removed shims reused|reuse shims|return removed", yesNo},
	SettingStripClass:          {"strip_class", "Strip class", "job", QChoice, words.ColumnSettingStripClass, "default strip class|tolerance class|thickness class", stripChoices},
	SettingSoftFoot:            {"soft_foot_limit", "Soft foot limit", "job", QThickness, words.ColumnSettingSoftFoot, "soft foot tolerance|soft foot", nil},
	SettingTemperatureU:        {"temperature_uncertainty", "Temperature uncertainty", "job", QDifference, words.ColumnSettingTemperatureU, "u temperature", nil},
	SettingCoefficientU:        {"coefficient_uncertainty", "Coefficient uncertainty", "job", QShare, words.ColumnSettingCoefficientU, "u coefficient", nil},
	SettingCooling:             {"cooling_per_minute", "Cooling per minute", "job", QShare, words.ColumnSettingCooling, "cooling|cooling a minute|lost per minute", nil},
	SettingNumbered:            {"feet_numbered", "Feet numbered", "job", QText, words.ColumnSettingNumbered, "feet 1 to 4|numbering of feet|foot numbers", nil},
	SettingMovesAim:            {"moves_aim", "Moves aim", "job", QText, words.ColumnSettingMovesAim, "aim|aim of the moves|aim of moves|train aim", nil},
	SettingPlausible:           {"plausible_ranges", "Plausible ranges", "job", QText, words.ColumnSettingPlausible, "question numbers|usual ranges|plausibility", nil},
}

var (
	columnInfos [NumColumns]ColumnInfo
	lookups     [NumSheets]map[string]ColumnID
	choiceWords [NumColumns]map[string]int
)

// sheetOf says which sheet a column belongs to.
func sheetOf(c ColumnID) SheetKind {
	switch {
	case c < EndResults:
		return MachinesSheet
	case c <= ReadingsUnit:
		return ReadingsSheet
	case c <= StockUnit:
		return StockSheet
	case c <= GrowthUnit:
		return GrowthSheet
	case c <= FeetUnit:
		return FeetSheet
	case c <= LimitsUnit:
		return LimitsSheet
	case c <= MaterialsUnit:
		return MaterialsSheet
	case c <= ChecksUnit:
		return ChecksSheet
	case c <= RoundsUnit:
		return RoundsSheet
	case c <= TrainsNote:
		return TrainsSheet
	case c <= RecordNote:
		return RecordSheet
	}
	return SettingsSheet
}

// LoadColumns builds the look-ups from the table, once, when first needed.
var LoadColumns = sync.OnceFunc(func() {
	for f := range NumFamilies {
		fi := &familyInfo[f]
		key := strings.ReplaceAll(strings.ToLower(fi.name), " ", "_")
		for p := range NumPositions {
			pi := &posInfo[p]
			help := words.ColumnReadingAt
			if p == Again12 {
				help = words.ColumnReadingAgain
			}
			columnTable[ReadingColumn(f, p)] = column{key + "_" + strings.ReplaceAll(pi.name, " ", "_"), fi.name + " " + pi.name, gMethod, QThickness, help, "", nil}
		}
		columnTable[ReadingsSweep].choices = append(columnTable[ReadingsSweep].choices, choice{fi.name, strings.Join(fi.words, "|")})
	}
	supports := [4][2]string{{"Growth movable front", "growth front|movable front growth|front growth"}, {"Growth movable rear", "growth rear|movable rear growth|rear growth"},
		{"Growth stationary near", "stationary near growth|growth near"}, {"Growth stationary far", "stationary far growth|growth far"}}
	for i, s := range supports {
		for p, plane := range []string{"V", "H"} {
			var also []string
			for j, w := range append([]string{s[0]}, strings.Split(s[1], "|")...) {
				also = append(also, w+" "+[]string{"vertical", "horizontal"}[p])
				if j > 0 {
					also = append(also, w+" "+plane)
				}
				if p == 0 {
					also = append(also, w)
				}
			}
			help := words.ColumnSupportRise
			if p == 1 {
				help = words.ColumnSidewaysPositive
			}
			columnTable[ColGrowth+ColumnID(2*i+p)] = column{strings.ReplaceAll(strings.ToLower(s[0]), " ", "_") + "_" + strings.ToLower(plane), s[0] + " " + plane, gGrowth, QThickness, help, strings.Join(also, "|"), nil}
		}
	}
	room := [8]words.Key{words.ColumnFrontUp, words.ColumnFrontDown, words.ColumnFrontLeft, words.ColumnFrontRight, words.ColumnRearUp, words.ColumnRearDown, words.ColumnRearLeft, words.ColumnRearRight}
	for i, foot := range []string{"Front", "Rear"} {
		for d, dir := range []string{"up", "down", "left", "right"} {
			columnTable[ColRoom+ColumnID(4*i+d)] = column{strings.ToLower(foot) + "_room_" + dir, foot + " room " + dir, gRoom, QThickness, room[4*i+d], foot + " feet room " + dir + "|room " + foot + " " + dir, nil}
		}
	}

	spellings := [NumSheets]int{} // maps that need not grow: this runs while a page opens
	for c := range NumColumns {
		spellings[sheetOf(c)] += len(spelled(c))
	}
	for k := range lookups {
		lookups[k] = make(map[string]ColumnID, spellings[k])
	}
	for c := range NumColumns {
		t := &columnTable[c]
		if t.name == "" {
			panic("job: the table of columns has a hole")
		}
		info := ColumnInfo{Key: t.key, Name: t.name, Group: t.group, Sheet: sheetOf(c), Quantity: t.q, help: t.help, Result: t.group == gResults, id: c}
		if c >= ColReading && c < ColMovableSag {
			info.rides, info.position = familyInfo[(c-ColReading)/NumPositions].rides, posInfo[(c-ColReading)%NumPositions].name
		}
		m := lookups[info.Sheet]
		for i, s := range spelled(c) {
			n := NormalForm(s)
			if old, taken := m[n]; taken && (old != c || i == 0) {
				panic("job: the spelling " + s + " leads to " + columnTable[old].name + " and to " + t.name)
			} else if taken {
				continue
			}
			m[n] = c
		}
		if len(t.choices) > 0 {
			w := map[string]int{}
			for i, ch := range t.choices {
				info.Choices = append(info.Choices, ch.word)
				for _, s := range append([]string{ch.word}, SplitWords(ch.also)...) {
					if old, taken := w[NormalForm(s)]; taken && old != i {
						panic("job: the word " + s + " leads to two choices of " + t.name)
					}
					w[NormalForm(s)] = i
				}
			}
			choiceWords[c] = w
		}
		columnInfos[c] = info
		if info.Result {
			resultColumns = append(resultColumns, ResultColumn{info.Key, info.Name, info.help, info.Quantity, PlusMinus(c)})
		}
	}
	// Each round has its own readings, under the names they have on the Machines sheet.
	for _, c := range ReadingColumns() {
		for _, s := range spelled(c) {
			if n := NormalForm(s); lookups[RoundsSheet][n] == 0 {
				lookups[RoundsSheet][n] = c
			}
		}
	}
	for k, m := range lookups {
		for n := range m {
			namesBegin[k].add(n)
		}
	}
})

// SplitWords parts a list of spellings at its strokes.
func SplitWords(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, "|")
}

// Columns returns the table of columns, sheet by sheet in the order they are printed. Callers must not change it.
func Columns() []ColumnInfo {
	LoadColumns()
	return columnInfos[:]
}

// SpellingsOf are the normal forms of every spelling of the columns of a sheet. Callers must not change them.
func SpellingsOf(kind SheetKind) map[string]ColumnID { return lookups[kind] }

// FindColumn returns the column a header cell leads to, or nil. A unit in brackets does not matter.
func FindColumn(kind SheetKind, text string) *ColumnInfo {
	LoadColumns()
	if c, _, _ := MatchHeader(kind, text); c != NoColumn {
		return c.Info()
	}
	return nil
}

// NormalForm takes case, spaces and punctuation from a spelling. The sign ± stays, as the results use it.
func NormalForm(s string) string {
	var buf [64]byte
	return string(AppendNormalForm(buf[:0], s))
}

// AppendNormalForm appends [NormalForm] of s.
func AppendNormalForm(b []byte, s string) []byte {
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			b = append(b, c)
		case 'A' <= c && c <= 'Z':
			b = append(b, c+'a'-'A')
		case c == '&':
			b = append(b, "and"...)
		case c >= utf8.RuneSelf:
			for _, r := range s[i:] {
				if r == '&' {
					b = append(b, "and"...)
				} else if r == '±' || unicode.IsLetter(r) || unicode.IsDigit(r) {
					b = utf8.AppendRune(b, unicode.ToLower(r))
				}
			}
			return b
		}
	}
	return b
}

// SameSpelling says whether two texts are one spelling.
func SameSpelling(a, b string) bool {
	if a == b {
		return true
	}
	if len(a) > MaxHeader || len(b) > MaxHeader {
		return false
	}
	var x, y [MaxHeader + 64]byte
	return string(AppendNormalForm(x[:0], a)) == string(AppendNormalForm(y[:0], b))
}

// MatchHeader reads one header cell. unit is what stands in brackets behind the name, as typed; hasUnit tells an empty one from none.
func MatchHeader(kind SheetKind, text string) (c ColumnID, unit string, hasUnit bool) {
	if len(text) > MaxHeader || OnlyNumbers(text) {
		return NoColumn, "", false
	}
	if !mayBegin(kind, text) {
		return NoColumn, "", false
	}
	return matchName(kind, text)
}

// matchName is MatchHeader without the short way for texts that are no names.
func matchName(kind SheetKind, text string) (c ColumnID, unit string, hasUnit bool) {
	var buf [MaxHeader + 64]byte
	m := lookups[kind]
	open := strings.LastIndexAny(text, "[(")
	if open >= 0 {
		if shut := strings.IndexAny(text[open:], "])"); shut > 0 {
			if c, ok := m[string(AppendNormalForm(AppendNormalForm(buf[:0], text[:open]), text[open+shut+1:]))]; ok {
				return c, text[open+1 : open+shut], true
			}
		}
	}
	if c, ok := m[string(AppendNormalForm(buf[:0], text))]; ok {
		return c, "", false
	}
	if open < 0 && strings.ContainsAny(text, " ,/-_\n\u00a0") {
		if c, u, ok := looseUnit(m, text); ok {
			return c, u, true
		}
	}
	return NoColumn, "", false
}

// OnlyNumbers says that a text holds nothing but digits, signs, points, commas and blanks, as most cells do and no name of a column.
func OnlyNumbers(text string) bool {
	for i := range len(text) {
		if c := text[i]; (c < '0' || c > '9') && c != '.' && c != ',' && c != '-' && c != '+' && c != ' ' {
			return false
		}
	}
	return true
}

// MaxHeader is the longest text, in bytes, that is looked up as a header.
const MaxHeader = 120

// FindHeader returns the index of the header row: the first row with at least three known names, or with two among no more than eight cells,
// else the first with one among no more than two; of a header in two lines the first. -1: there is none, as in a block of cells pasted without its header.
func FindHeader(rows [][]string, kind SheetKind) int {
	if h, ok := findHeading(rows, kind); ok {
		return h.from
	}
	return -1
}

// SettingsHeader says whether a row of the Job sheet is its header.
func SettingsHeader(row []string) bool {
	return len(row) >= 2 && (SameSpelling(row[1], "value") || SameSpelling(row[1], "values")) &&
		(SameSpelling(row[0], "name") || SameSpelling(row[0], "setting") || SameSpelling(row[0], "item"))
}

// MaxTitle is how many rows are searched for a header.
const MaxTitle = 200

// Blank says whether a cell holds nothing to see.
func Blank(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; c > ' ' {
			if c < utf8.RuneSelf {
				return false
			}
			return strings.TrimFunc(s[i:], func(r rune) bool { return unicode.IsSpace(r) || r == '\u200b' || r == '\ufeff' }) == ""
		}
	}
	return true
}

// HeaderBlock returns the header names of a sheet to copy into a spreadsheet, tabs between, each quantity with its unit. For the
// Machines sheet a method other than MethodBlank leaves out the readings and distances that it does not use.
func HeaderBlock(kind SheetKind, m Method, inch bool) string {
	LoadColumns()
	var b strings.Builder
	for c := range NumColumns {
		info := c.Info()
		ofRound := kind == RoundsSheet && IsReading(c) && UsedBy(c, cmp.Or(m, ReverseIndicator))
		if !ofRound && info.Sheet != kind || info.Result || kind == MachinesSheet && !UsedBy(c, m) {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte('\t')
		}
		b.WriteString(info.Name)
		if u := info.Unit(inch); u != units.None {
			b.WriteString(" [" + u.String() + "]")
		}
	}
	return b.String()
}

// UsedBy says whether a method has a use for a column.
func UsedBy(c ColumnID, m Method) bool {
	if m == MethodBlank {
		return true
	}
	fams := methodFamilies[m]
	has := func(f Family) bool { return slices.Contains(fams, f) }
	switch {
	case c >= ColReading && c < ColMovableSag:
		return has(Family((c - ColReading) / NumPositions))
	case c == ColMovableSag:
		return has(MovableRim)
	case c == ColStationarySag, c == ColToStationary, c == ColStationaryToMovable:
		return has(StationaryRim)
	case c == ColFaceSag, c == ColFaceSide:
		return has(Face)
	case c == ColStationaryFaceSag:
		return has(StationaryFace)
	case c == ColSecondSag, c == ColToSecond:
		return has(SecondRim)
	case c == ColFaceDiameter:
		return has(Face) || has(StationaryFace) || has(Gap) || m == GivenLineMethod
	case c == ColToMovable, c == ColMovableToFront:
		return m != GivenLineMethod && m != FaceAndFace
	case c == ColMovableSweep, c == ColStationarySweep:
		return m == Sweeps
	case c >= ColGivenOffsetV && c <= ColGivenSlopeU:
		return m == GivenLineMethod
	}
	return true
}

// SweepsUse says whether sweeps of these families have a use for a distance, the droop of a bracket or the like.
func SweepsUse(c ColumnID, have FamilySet) bool {
	switch c {
	case ColToMovable, ColToStationary, ColStationaryToMovable: // each may be worked out from the two others
		return have&(Rims|1<<Step) != 0
	case ColMovableSag:
		return have.Has(MovableRim)
	case ColStationarySag:
		return have.Has(StationaryRim)
	case ColSecondSag, ColToSecond:
		return have.Has(SecondRim)
	case ColFaceSag:
		return have.Has(Face)
	case ColStationaryFaceSag:
		return have.Has(StationaryFace)
	case ColFaceSide:
		return have&Faces != 0
	case ColFaceDiameter:
		return have&(Faces|1<<Gap) != 0
	}
	return false
}

// WriteReference prints the table of columns: every spelling, what it means, its unit. markdown false gives plain text.
func WriteReference(w io.Writer, markdown bool) error {
	LoadColumns()
	var b strings.Builder
	for _, k := range SheetOrder {
		last := ""
		if markdown {
			fmt.Fprintf(&b, "## %s\n", k)
		} else {
			fmt.Fprintf(&b, "%s\n%s\n", k, strings.Repeat("=", len(k.String())))
		}
		for c := range NumColumns {
			i := c.Info()
			if i.Sheet != k {
				continue
			}
			if i.Group != last {
				last = i.Group
				if markdown {
					fmt.Fprintf(&b, "\n### %s\n\n%s\n|---|---|---|---|---|\n", i.Group, words.ReferenceHeadings)
				} else {
					fmt.Fprintf(&b, "\n%s\n", i.Group)
				}
			}
			unit := ""
			if m, in := i.Unit(false), i.Unit(true); m != units.None {
				if unit = m.String(); in != m {
					unit += ", " + in.String()
				}
			}
			help := i.Help()
			if len(i.Choices) > 0 {
				help += words.ColumnWords.Say(strings.Join(i.Choices, ", "))
			}
			if markdown {
				fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", i.Name, i.Quantity, unit, strings.ReplaceAll(help, "|", `\|`), strings.Join(i.Spellings()[1:], ", "))
				continue
			}
			fmt.Fprintf(&b, "  %s", i.Name)
			if unit != "" {
				fmt.Fprintf(&b, " [%s]", unit)
			}
			fmt.Fprintf(&b, "\n      %s\n", help)
			if len(i.Spellings()) > 1 {
				fmt.Fprintf(&b, "      %s\n", words.ReferenceAlso.Say(strings.Join(i.Spellings()[1:], ", ")))
			}
		}
		b.WriteByte('\n')
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// A ResultColumn is one column of results.
type ResultColumn struct {
	Key, Name string
	Help      words.Key
	Quantity  Quantity
	PlusMinus bool // a number with its expanded uncertainty
}

var resultColumns []ResultColumn

// ResultColumns returns the columns of results in order. Callers must not change them.
func ResultColumns() []ResultColumn {
	LoadColumns()
	return resultColumns
}

// PlusMinus says whether a column of results is a number with its expanded uncertainty.
func PlusMinus(c ColumnID) bool {
	switch c {
	case ResultOffsetV, ResultOffsetH, ResultOffset, ResultSlopeV, ResultSlopeH, ResultSlope, ResultFrontShim, ResultRearShim, ResultFrontMove, ResultRearMove, ResultFlexStationary, ResultFlexMovable:
		return true
	}
	return false
}

// Unit is the unit the column is shown in.
func (c *ResultColumn) Unit(inch bool) units.Unit { return c.Quantity.Unit(inch) }

// IsReading says whether a column of the Machines sheet holds readings, of which each round has its own.
func IsReading(id ColumnID) bool {
	return id >= ColReading && id < ColMovableSag || id == ColMovableSweep || id == ColStationarySweep || id >= ColGivenOffsetV && id <= ColGivenGapH
}

// ReadingColumns are the columns of readings.
func ReadingColumns() (list []ColumnID) {
	for id := ColumnID(0); id < NumInputs; id++ {
		if IsReading(id) {
			list = append(list, id)
		}
	}
	return list
}

var roleChoices = []choice{{"aligner", "aligned by|aligned"}, {"witness", "witnessed|witnessed by"}, {"accepter", "accepted|accepted by|acceptor"}}

// ChoiceIndex finds the word of a QChoice column.
func ChoiceIndex(id ColumnID, s string) (int, bool) {
	if len(s) > MaxHeader {
		return 0, false
	}
	var buf [MaxHeader + 64]byte
	k, ok := choiceWords[id][string(AppendNormalForm(buf[:0], s))]
	return k, ok
}

// LeastValue is the least value a column takes; strictly: only more than that.
func LeastValue(id ColumnID) (least float64, strictly bool) {
	switch id {
	case ColPriority, ColFaceDiameter, ColSpacerLength, ColFrontToRear, ColBoltCircle, ColOffsetLimit, ColSlopeLimit, ColSpeed, ColStationaryToMovable, ColGivenOffsetU, ColGivenSlopeU:
		return 0, true
	case ColGraduation, ColRepeatability, ColSagU, ColMinutes, ColShaftGap, ColGapWanted, ColGapTolerance, ColEndFloat, ColRunningMark, ColToStationary, ColToMovable, ColToFront, ColToSecond, ColMovableToFront, ColStationaryNear, ColStationaryFar, ColToFlange:
		return 0, false
	}
	if id >= ColRoom && id < NumInputs {
		return 0, false
	}
	return math.Inf(-1), false
}

// TakesWord says whether a text is one of the words that a column of a few words takes, in any of their spellings.
func (c *ColumnInfo) TakesWord(text string) bool {
	LoadColumns()
	for id := range NumColumns {
		if id.Info() == c || id.Info().Key == c.Key && id.Info().Sheet == c.Sheet {
			_, ok := ChoiceIndex(id, text)
			return ok
		}
	}
	return false
}
