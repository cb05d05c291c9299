package sheet

import (
	"strings"

	"shimsheet/internal/units"
)

// Every message in English, in one place, to be translated. A percent sign stands for what the caller puts in. The words of the columns
// are in columns.go.

// Positions.
const (
	msgRow         = " row "
	msgNotComputed = "not computed"
	msgHintOpen    = " (hint: "
	msgRowName     = "row "
)

// Files and jobs.
const (
	msgNotUTF8         = "%s: the text %q is not UTF-8 and would not come back as it is"
	msgJobBroken       = "this is not a saved job, or it is damaged: %w"
	msgNotAJob         = "this is not a saved job"
	msgJobNewer        = "this job was saved by a newer version (its form is %d, this version knows %d); open it there, or get the newer version"
	msgTooLarge        = "%d MB are more than the %d MB a sheet may have"
	msgWorkbook        = "this is a workbook, not a text table; give the file a name that ends in .xlsx and open it whole, or save the sheet as CSV"
	msgNotText         = "this is not a text; CSV and TSV are read here"
	msgSeparator       = "%q cannot part cells"
	msgWindows1252     = "the text is not UTF-8; it was read as Windows-1252"
	hintWindows1252    = "look at names with accents, or save as UTF-8"
	msgQuoteOpen       = "a quotation mark opens a cell here and is never closed; it was taken as a plain sign"
	hintQuoteOpen      = "close it, or take it away"
	msgNoHeader        = "no row with column names was found"
	hintNoHeader       = "write names such as Machine, Method, Movable rim 12 over the columns; every name is in the printed reference"
	msgHeaderAgain     = "the header stands here again; the row is left out"
	msgHeaderUnit      = "[%s] is no unit of %s; numbers here need a unit of their own"
	msgColumnTwice     = "columns %d and %d bear the same name"
	hintColumnTwice    = "keep one; where both are filled they have to agree"
	msgTwoValues       = "columns %d and %d say %s and %s; the row is refused"
	hintTwoValues      = "keep the right one"
	msgUnknownSetting  = "%q is no setting known here; it is kept and not used"
	hintUnknownSetting = "the settings are in the printed reference"
	msgSettingTwice    = "row %d says %q, here it is %q; the first is used"
	hintSettingTwice   = "keep one"
	msgUnitsBad        = "the Units of the Job sheet could not be understood, so no number here can be"
	hintUnitsBad       = "write metric or inch there"
	msgNoPacks         = "no packs can be made: %v"
	hintNoPacks        = "look at the Stock sheet, Pack pieces at most and Pack tolerance"
)

// Cells.
const (
	msgMissing        = "%s is missing"
	msgMissingShort   = "missing"
	msgNotAWord       = "%s is not one of the words taken here"
	msgTooSmall       = "%s cannot be"
	hintPositive      = "write a number of more than 0"
	hintNotNegative   = "write it without a sign; 0 is possible"
	msgNotACount      = "%s is not a whole number"
	hintCount         = "write 4"
	msgNotPlain       = "%s: no unit belongs here"
	hintPlain         = "write the number alone"
	msgShareUnclear   = "%s could be a share or per cent"
	hintShare         = "write 10 % for a tenth"
	msgAngleRange     = "%s is more than ten turns"
	hintAngle         = "write degrees from 12 o'clock through 3, or 3 o'clock"
	msgSweepLong      = "a sweep of more than %d bytes"
	msgSweepPair      = "reading %d, %s, is not an angle, a colon and a reading"
	msgSweepAt        = "reading %d: %s"
	hintSweep         = "write 0:0 45:-0.12 90:-0.20"
	msgTooManyPieces  = "%g pieces are more than a pack may have here"
	hintTooManyPieces = "write 8 or fewer; published practice is 3 to 5"
)

// Rows.
const (
	msgNoName          = "no machine is named"
	hintNoName         = "write a name, so that results and readings find it"
	msgNameTaken       = "Machine %s stands in row %d already; this row is not judged"
	hintNameTaken      = "give each coupling a name of its own"
	msgNoReadings      = "no readings"
	hintNoReadings     = "fill readings, such as Movable rim 12, 3, 6, 9 and Stationary rim 12, 3, 6, 9, or a given line"
	msgUnusedReadings  = "%s: not used by the method %s"
	hintUnusedReadings = "method sweeps uses every reading"
	msgUnusedGiven     = "the given line is not used by the method %s"
	hintUnusedGiven    = "write line in Method to use it"
	msgNoFamily        = "%s readings are missing"
	hintNoFamily       = "fill %s 12, 3, 6 and 9; three of them are enough"
	hintThree          = "%s needs readings at three positions at least"
	hintZeroPlane      = "write 0 if the readings are taken at the coupling centre"
	hintDiameter       = "write the diameter at which the dial or the gauge was held"
	hintGapDiameter    = "write the diameter at which the gaps were taken"
	hintSpacer         = "write the distance between the two flex planes"
	hintFeet           = "shims and moves need it; offset, slope and verdict stand without it"
	hintFlange         = "shims at the bolts need it; offset, slope and verdict stand without it"
	hintGiven          = "write 0 if it was measured as none"
	msgBothMissing     = "%s and %s are missing"
	msgSlopeAndGap     = "%s and %s are both filled"
	hintSlopeAndGap    = "keep one"
	msgSagPositive     = "sag at 6 is normally negative: a drooping bracket lets the plunger out at the bottom"
	hintSag            = "write what the dial showed at 6 o'clock on a stiff pipe, zeroed at 12"
	msgChainShort      = "%s is less than %s, %s"
	msgChainDiffers    = "%s is not what the two distances from the coupling make, %s"
	msgFrontDiffers    = "by tape the front feet are elsewhere: %s from the coupling, not %s"
	hintChain          = "measure again, or leave one of them blank"
	msgBolts           = "%g bolts are not possible"
	hintBolts          = "write a whole number of 3 or more"
	msgFeetSame        = "two pairs of feet at %s from the coupling"
	hintFeetSame       = "further feet are those besides front and rear"
	msgNoSuchSet       = "%s is no limit set"
	msgNoDefaultSet    = "no limit set: Default limits of the Job sheet could not be understood"
	msgNoSpeed         = "Speed is missing, so there is no limit"
	hintNoSpeed        = "write the speed, or Offset limit and Slope limit of the row's own"
	msgSetLacks        = "the limit set %s has no limits for a %s coupling"
	msgSpeedPast       = "Speed %[4]s rpm is past the limit set %[2]s, which ends at %[1]s rpm for a %[3]s coupling"
	hintOwnLimits      = "write Offset limit and Slope limit of the row's own"
	msgNoLimit         = "there is no limit for this coupling"
	hintGrowthPair     = "%s is given; write 0 if there is no growth here, an empty cell is not zero"
	hintGrowthDistance = "%s and %s differ, so the growth between needs it"
	msgFarNear         = "the far support, %s from the coupling, is not farther than the near one, %s"
	hintFarNear        = "both are distances from the coupling centre, without a sign"
	msgPackOff         = "%s need %s each; the nearest pack of the stock is %s"
	hintPackOff        = "add thicknesses to the stock, or allow more pieces or a wider tolerance"
	msgLongInstead     = "the Readings sheet has this machine; the readings of this row are not used"
	msgLongBad         = "the Readings sheet has a reading for this machine that cannot be used, in row %d"
	hintLongBad        = "mend it there, or take it out"
	hintLongBlank      = "write the name of the machine in every row"
	hintLongCell       = "leave the whole row out if there was no reading"
	msgNoSuchMachine   = "%q is not on the Machines sheet"
	hintNoSuchMachine  = "write the name as it is there"
)

// The Growth, Feet, Limits, Materials and Stock sheets.
const (
	msgOwnRow          = "your sheet %s, row %d"
	msgSheetBad        = "the %s sheet has a row for this machine that cannot be used, row %d"
	hintOwnSet         = "write the name of the set; the rows below it may leave it out"
	hintOwnSlope       = "every kind of coupling is judged by slope"
	hintOwnOffset      = "a %s coupling is judged by its offset too"
	hintSetsAre        = "the limit sets are: "
	msgLimitTwice      = "the set %s has a row that ends at this speed for a %s coupling already"
	hintLimitTwice     = "each row ends at a speed of its own"
	msgBadSet          = "the %s sheet has a row of the limit set %s that cannot be used, row %d"
	hintOwnMaterial    = "write the name of the material and its coefficient, such as 11.9 1e-6/K"
	hintMaterialTable  = "rows of one material are a table: each gives the mean from the same temperature (From) to one of its own (At temperature)"
	msgMaterialFrom    = "the means of %s begin at different temperatures"
	msgMaterialTwice   = "%s has a mean to this temperature already"
	msgBadMaterial     = "the %s sheet has a row of %s that cannot be used, row %d"
	msgNoSuchMaterial  = "%s is no material known here"
	hintMaterialsAre   = "write its Coefficient, or list it on the Materials sheet; the materials are: %s"
	hintGrowthGiven    = "keep one: a growth known from elsewhere, or height, material and temperatures"
	hintGrowthPart     = "write Height, Material (or Coefficient) and Running, or Growth V"
	hintGrowthCold     = "write it here, or once as Cold temperature on the Job sheet"
	hintGrowthMaterial = "write the material, or the Coefficient"
	hintGrowthStation  = "the growth at the supports needs the places they stand at"
	msgGrowthFailed    = "the growth cannot be worked out: %s"
	msgGrowthOne       = "the Growth sheet has %s and not %s"
	hintGrowthOne      = "give both supports of a machine; Growth V of 0 where nothing grows"
	msgGrowthRow       = " (%s row %d, %s)"
	hintGrowthTable    = "means hold for the temperatures of their table only; write the Coefficient, or list the material on the Materials sheet"
	msgGrowthDiffers   = "%s %s there, %s here"
	msgGrowthInstead   = "the Growth sheet has this machine; its growth columns are not used: %s"
	hintGrowthInstead  = "keep one of them"
	hintChange         = "a measured change has four numbers; write 0 if it was measured as none"
	msgChangeInstead   = "a measured change is given; growth is not used"
	msgFootTwice       = "this machine has a foot %s already"
	hintFootTwice      = "each foot has a name of its own: front 9, front 3, rear 9, rear 3"
	hintFootName       = "write front 9, front 3, rear 9, rear 3, or another name with Along and Across"
	hintFootAlong      = "write it, or name the foot front or rear"
	msgFootSide        = "the foot %s stands at 3 o'clock, and Across %s is towards 9"
	hintFootSide       = "towards 3 o'clock is positive; with the side in the name the sign may be left out"
	hintFourCorners    = "give all four corners, or Gap alone"
	msgPackMany        = "%d pieces are more than the %d that are taken"
	msgPieces          = "%s is no list of pieces: %s"
	hintPieces         = "write 0.5+0.2+0.1, 2 x 0.5 + 0.1, or 0 for the bare base"
	msgFootAcross      = "where the foot %s stands across is missing"
	hintFootAcross     = "write Across for every foot, or for none and the side in each name"
	msgSoftFailed      = "the soft foot cannot be worked out: %s"
	hintSoft           = "measure a gap, or a rise, at every foot of the machine"
	hintSoftCount      = "list every foot of the machine, and no other"
	hintSoftPlace      = "write Along and Across of every foot as they are"
	msgBelowBase       = "%s has to go down %s, and %s lie there: %s are missing"
	hintBelowBase      = "move the other machine up, or have base or foot machined; nothing is left to take out here"
	msgFootPackOff     = "%s: the nearest pack of the stock is off by %s"
	msgNoRoom          = "%s has to go %s, and has room for %s"
	hintNoRoom         = "move the other machine, or make room with leave of those who answer for it"
	hintLamination     = "a laminated shim has the thickness of one layer in Lamination, and Thickness is that of the whole before anything is peeled off"
	msgPlainLamination = "a plain shim has no layers"
	msgLaminationThick = "a layer of %s is more than the shim, %s"
)

// Checks. Each says the number found and the limit it was held to.
const (
	msgBalance       = "top + bottom differs from left + right by %s, limit %s"
	hintBalance      = "turn both shafts together, look for a loose bracket or a plunger at its end, and read again"
	msgClosure       = "the repeated position differs from the first by %s, limit %s"
	hintClosure      = "something moved while turning; read again"
	msgResidual      = "the readings scatter about the line by %s, limit %s"
	hintResidual     = "look for a reading that was written wrongly, or read again"
	msgTooFewAngles  = "fewer than three different angles"
	hintTooFewAngles = "three positions at least, as far apart as can be reached"
	msgOnePlane      = "the readings see the line at one plane only, so the slope is not settled"
	hintOnePlane     = "add a rim at another plane, or a face"
	msgUndetermined  = "the readings do not settle the line: too short an arc, or planes too close together"
	hintUndetermined = "read over a longer arc, or at planes farther apart"
	msgBadNumber     = "a number that cannot be"
	hintBadNumber    = "look at the distances and readings of the row"
)

// Findings.
const (
	msgOddReading   = "%s at %s stands out by %s against the others"
	msgAnyOfFour    = "%s: one of the readings at 12, 3, 6 and 9 is off by about %s; four readings cannot say which, a fifth can"
	msgSignTurned   = "%s at %s with its sign turned would fit"
	msgSwapped      = "%s at %s and at %s exchanged would fit"
	msgWrongUnit    = "%s at %s looks like %s: times %s it would fit"
	msgDecimalPoint = "%s at %s times %s would fit: a slipped decimal point"
	msgAllTooLarge  = "all readings look too large for millimetres: were they thousandths of an inch (mil)?"
	msgAllTooSmall  = "all readings are finer than the dial can show: is the unit right?"
	msgUnitMil      = "thousandths of an inch among millimetres"
	msgUnitMM       = "millimetres among thousandths of an inch"
	msgUnitOther    = "another unit"
)

// What decided a verdict.
const (
	msgOver       = "%s %s is over its limit of %s"
	msgClose      = "%s %s ± %s against a limit of %s: %s chance inside; measure again, or finer"
	msgFromWanted = " from the wanted line"
	msgOffsetWord = "offset"
	msgSlopeWord  = "slope"
	msgFlexSWord  = "angle at the stationary flex plane"
	msgFlexMWord  = "angle at the movable flex plane"
)

// Sentences of the side panel.
const (
	senInside         = "Inside the limit: %s of it, %s chance that the true value is inside."
	senOutside        = "Outside the limit: %s of it, %s chance that the true value is inside."
	senTooClose       = "Too close to call with these readings: %s of the limit, %s chance that the true value is inside. Measure again, or finer."
	senNotJudged      = "Not judged: %s."
	senNotJudgedBare  = "Not judged."
	senOffset         = "At the coupling the movable shaft stands %s and %s, ± %s and ± %s."
	senSlope          = "Going away from the coupling it %s and %s, ± %s and ± %s."
	senHigh           = "%s high"
	senLow            = "%s low"
	senLevel          = "level"
	senTowards        = "%s towards %s"
	senStraight       = "in line sideways"
	senRises          = "rises %s"
	senFalls          = "falls %s"
	senKeepsLevel     = "keeps level"
	senLeads          = "leads %s towards %s"
	senLeadsNot       = "leads to neither side"
	senOpens          = "The coupling is open at %s and at %s."
	senOpensOne       = "The coupling is open at %s."
	senBottom         = "the bottom"
	senTop            = "the top"
	senWanted         = "Wanted cold: offset %s up and %s towards 3 o'clock, slope %s and %s."
	senWantedReadings = "Zeroed at 12 the dials would then read cold, in %s at 12, 3, 6 and 9: %s."
	senGrowth         = "From cold to running %s rises %s ± %s%s."
	senGrowthSide     = " and goes %s towards %s"
	senGrowthFrom     = " (Growth sheet)"
	senChange         = "Measured from cold to hot: offset %s and %s, slope %s and %s (up and towards 3 o'clock); the wanted line is the other way about."
	senMaterial       = "Coefficient of %s%s: %s (row %d)."
	senMaterialOwn    = " from your Materials sheet"
	senSoftNone       = "Soft foot: none over the limit of %s."
	senSoft           = "Before aligning: %s (%s); limit %s."
	senSoftShim       = "Soft foot: add %s under %s."
	senSoftEstimate   = "Soft foot: about %s under %s, from its rise; measure the gap before cutting shims."
	senSoftSpring     = "All feet rise by about %s: feet or base bend under the bolts; no shim mends that."
	senSoftStep       = "Under %s the gap opens towards the %s: step shims from there, %s."
	senSoftStepPart   = "%s over %s of the way"
	senSoftTaper      = "Under %s the gap opens towards the %s by %s over the foot; a tapered shim or machining is needed."
	senSoftPull       = "The piping pulls: freeing the flanges changed the rise of %s by %s. Mend that before anything else; no shim does."
	senSoftFirst      = "Mend the soft foot first, then measure the alignment again: it changes with it."
	senSoftOrder      = senSoftFirst + " What follows does both in one, for whoever lifts the machine only once: measure again after that too."
	senFoot           = "Under %s: %s; then %s lie there. Worked out %s ± %s%s."
	senFootSoftOnly   = "Under %s: %s, for the soft foot."
	senFootSoft       = ", of it %s for the soft foot"
	senFootTake       = "take out %s"
	senFootPut        = "put in %s"
	senFootLeave      = "leave what is there"
	senFootUnlisted   = "Take out %s under %s, by the pieces found there. Worked out %s ± %s%s."
	senFootAdd        = "Add %s under %s. Worked out %s ± %s%s."
	senFootPlain      = "Under %s: %s ± %s%s."
	senFootBelow      = "%s cannot go low enough: %s lie there, and %s more would have to go. Take all out; the rest must come from the other machine, from the base or from the foot."
	senBareBase       = "nothing"
	senTogether       = "The packs of front and rear were chosen together: each one's own nearest would leave the line outside."
	senAcrossAssumed  = "Where the feet stand across was not typed; they were taken as evenly wide."
	senAdd            = "Add %s under %s%s; worked out %s ± %s."
	senTakeOut        = "Take out %s under %s; worked out %s ± %s."
	senAddPlain       = "Add %s ± %s under %s."
	senTakeOutPlain   = "Take out %s ± %s under %s."
	senLeave          = "Leave the height of %s; worked out %s ± %s."
	senPush           = "Push the %s %s towards %s; worked out %s ± %s."
	senPushNot        = "Leave the %s where it is sideways; worked out %s ± %s."
	senBoth           = "both %s feet"
	senFront          = "front"
	senRear           = "rear"
	senFurther        = "further feet %s from the coupling"
	senFurtherOne     = "further"
	senStand          = "Leave it as it stands: it is inside its limit."
	senStays          = "Otherwise leave it as it stands: it is inside its limit."
	senZero           = "Not work to be done, as it is inside; to zero it would be: %s."
	senZeroIn         = "%s in under %s"
	senZeroOut        = "%s out under %s"
	senZeroPush       = "the %s %s towards %s"
	senSlide          = "Slide the flange %s %s and %s towards %s."
	senUp             = "towards 12 o'clock"
	senDown           = "towards 6 o'clock"
	senBolt           = "Under the flange at bolt %d (%s): %s%s."
	senAfter          = "After that it is predicted to stand %s and %s at the coupling; going away from it, it %s and %s: %s%s."
	senMeasureAgain   = "Tighten in the usual order and measure again."
	senAfterShare     = ", %s of the limit"
	senInferred       = "Method not given; %s, from the columns that are filled."
	senSpacer         = "Taken as a spacer coupling because a spacer length is given."
	senNoSag          = "Sag of the bracket not given for %s; none was taken off."
	senLimits         = "Held to %s."
	senSource         = "%s, %s coupling, %s: %s"
	senSourceOwn      = "your limit set %s, %s coupling, %s: %s"
	senAnySpeed       = "any speed"
	senUpTo           = "up to %s rpm"
	senOwn            = "the row's own limits"
	senLimitOffset    = "offset %s"
	senLimitSlope     = "slope %s"
	sideDefault3      = "3 o'clock side (right, standing behind the movable machine looking at the coupling)"
	sideDefault9      = "9 o'clock side (left, standing behind the movable machine looking at the coupling)"
	side3             = "3 o'clock side"
	side9             = "9 o'clock side"
	wordTakeOut       = "take out "
	wordOf            = " of "
	wordNothing       = "nothing"
	meaningSweep      = "= %d readings"
)

// The lists over the whole job.
const (
	wordBolt      = "bolt "
	wordFurther   = "further "
	wordPutIn     = "put in "
	wordShort     = " missing"
	wordPull      = "; the piping pulls"
	wordAllFeet   = "all feet"
	txtEnough     = "The stock does for every foot: %d feet have their packs."
	txtProved     = "The stock does not do for every foot: %d of %d feet have their packs, and no other sharing out does better (proved)."
	txtProvedFeet = "The stock does not do for every foot: %d of %d feet have their packs, and no other sharing out meets more; whether the packs could be nearer is not proved."
	txtGap        = "The stock does not do for every foot: %d of %d feet have their packs; no sharing out meets more than %d. Which number is the most is not proved."
	txtLeft       = "%d couplings are inside their limits and are left out.\n"
	txtSteps      = "Step shims besides, cut to size: %s, under %s from the %s: %s."
	txtShared     = "The packs here share out what there is; where they differ from those beside a machine, these hold."
	txtNoChange   = "nothing to do"
	txtNotCounted = "not counted"
	txtLaminated  = " laminated, layers of %s"
	txtAssumed    = "The job lists no stock; usual thicknesses were assumed, not counted.\n"
	txtNoFeet     = "no feet\n"
	rSoftName     = "Soft foot"
	msgNoSuchList = "there is no list %q; the lists are pick, order and feet"
	txtStopped    = "Stopped before the end: what is shown is what there was by then."
)

// The terminal table.
const (
	txtCount   = "%d couplings: %d inside, %d outside, %d too close to call, %d not judged\n"
	txtUnits   = "Lengths in %s, slopes in %s; ± is expanded, k = 2. Shims: + add, - take out. What is inside stays as it is but for a soft foot.\n"
	txtNothing = "no couplings\n"
)

// hintUnits lists the units of a kind by their printed names.
func hintUnits(k units.Kind) string {
	var b strings.Builder
	b.WriteString("write ")
	for i, e := range units.Table(k) {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(e.Unit.String())
	}
	return b.String()
}

// hintChoices lists the words of a column.
func hintChoices(c colID) string { return "write " + strings.Join(columnInfos[c].Choices, ", ") }

// hintHeaderOf lists the columns of a small sheet.
func hintHeaderOf(k SheetKind) string {
	var names []string
	for i := range columnInfos {
		if columnInfos[i].Sheet == k {
			names = append(names, columnInfos[i].Name)
		}
	}
	return "the columns are " + strings.Join(names, ", ")
}
