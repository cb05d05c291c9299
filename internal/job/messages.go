package job

import (
	"shimsheet/internal/units"
	"strings"
)

// What is said of files, cells and keys. A percent sign stands for what the caller puts in.

// Files and jobs.
const (
	msgNotUTF8      = "%s: the text %q is not UTF-8 and would not come back as it is"
	msgJobBroken    = "this is not a saved job, or it is damaged: %w"
	msgJobBrokenAt  = "this is not a saved job, or it is damaged in line %d, near byte %d: %w"
	msgNotAJob      = "this is not a saved job"
	msgJobTwice     = "the part %q stands here a second time, and only one of the two could be kept; take one out, or put what it holds into the other"
	msgJobUnknown   = "%q is no part of a job that is known here, and what it holds would be lost; look at the spelling, or take it out"
	msgJobCut       = "the job in it is cut short: its end is missing; take an earlier file, or copy this one again from where it came"
	msgJobDamaged   = "the job in it is not the one that was saved: its checksum is wrong, so some of it changed on the way; take an earlier file, or copy this one again from where it came (who changed it on purpose takes out length and sha256 at its end)"
	msgJobLength    = "the job in it is not the one that was saved: it has %d bytes and says %d; take an earlier file, or copy this one again from where it came (who changed it on purpose takes out length and sha256 at its end)"
	msgPageNoJob    = "it is a web page, but there is no job in it"
	msgPageEmpty    = "it is an empty page: there is no job in it"
	msgPageCut      = "the page is cut short within the job; take an earlier file, or copy this one again from where it came"
	msgJobNewer     = "this job was saved by a newer version (its form is %d, this version knows %d); open it there, or get the newer version"
	msgTooLarge     = "%d MB are more than the %d MB a sheet may have"
	msgWorkbook     = "this is a workbook, not a text table; give the file a name that ends in .xlsx and open it whole, or save the sheet as CSV"
	msgNotText      = "this is not a text: byte %d, in line %d, is NUL; CSV and TSV are read here"
	msgSeparator    = "%q cannot part cells"
	msgWindows1252  = "the text is not UTF-8; it was read as Windows-1252"
	hintWindows1252 = "look at names with accents, or save as UTF-8"
	msgQuoteOpen    = "a quotation mark opens a cell here and is never closed; it was taken as a plain sign"
	hintQuoteOpen   = "close it, or take it away"
	msgTooManyRows  = "the list has more than %d rows; split it"
	msgSwallowed    = "row %d: a quotation mark opens a cell that ends in line %d only, and the lines it takes in have as many cells as rows have; close the quotation mark, take it away, or write it twice within a cell in quotation marks"
)

// Places and cells.
const (
	MsgHeaderAgain     = "the header stands here again; the row is left out"
	HintColumnTwice    = "keep one; where both are filled they have to agree"
	HintTwoValues      = "keep the right one"
	HintNotNegative    = "write it without a sign; 0 is possible"
	MsgSagPositive     = "a positive sag can be read two ways: the dial really showed more at 6 o'clock, or it is the amount of sag, and the dial showed that much less"
	msgRow             = " row "
	MsgHintOpen        = " (hint: "
	msgTooLargeNumber  = "%s is too large a number for any machine"
	hintTooLargeNumber = "look at the exponent and at the unit"
	MsgMissing         = "%s is missing"
	msgMissingShort    = "missing"
	MsgTooSmall        = "%s cannot be"
	HintPositive       = "write a number of more than 0"
	msgNotACount       = "%s is not a whole number"
	hintCount          = "write 4"
	msgNotPlain        = "%s: no unit belongs here"
	hintPlain          = "write the number alone"
	msgShareUnclear    = "%s could be a share or per cent"
	hintShare          = "write 10 % for a tenth"
	msgAngleRange      = "%s is more than ten turns"
	hintAngle          = "write degrees from 12 o'clock through 3, or 3 o'clock"
	msgSweepLong       = "a sweep of more than %d bytes"
	msgSweepPair       = "reading %d, %s, is not an angle, a colon and a reading"
	msgSweepAt         = "reading %d: %s"
	hintSweep          = "write 0:0 45:-0.12 90:-0.20"
	MsgHoursOrDegrees  = "the angles could be hours (3 is 3 o'clock) or degrees (3 is 3°)"
	HintAngles         = "call the column Angle and write degrees (0, 90, 180, 270), or Clock position and write hours (12, 3, 6, 9); or write 90° or 3h in each"
	MsgMixedUnits      = "%s: some of it bears the unit %v, the rest would be read in %v"
	HintMixedUnits     = "write the unit behind each number, or behind none"
	msgDivisions       = "%s under a unit of %v could be divisions of the dial, or a reading of a dial divided so"
	hintDivisions      = "write whole divisions, or write mm or in over the column and not %v"
	msgMillion         = "%s would come to a growth a million times off in the unit %v"
	hintMillion        = "write 12 under 1e-6/K, 0.000012 under 1/K, or 12 µm/m·K with its unit"
	msgKelvin          = "%s is %.0f °C: a temperature, or a rise of temperature?"
	hintKelvin         = "write the temperature itself, such as 60 °C or 333 K; a rise goes on top of the cold temperature"
	msgUnitUnknown     = "the row's Unit, %s, is none known here"
	msgUnitDiffers     = "the row's Unit is %v, and the header says %v"
)

// HintUnits lists the units of a kind by their printed names.
func HintUnits(k units.Kind) string {
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

// HintChoices lists the words of a column.
func HintChoices(c ColumnID) string { return "write " + strings.Join(c.Info().Choices, ", ") }

// HintHeaderOf lists the columns of a small sheet.
func HintHeaderOf(k SheetKind) string {
	var names []string
	for i := range NumColumns {
		if i.Info().Sheet == k {
			names = append(names, i.Info().Name)
		}
	}
	return "the columns are " + strings.Join(names, ", ")
}
