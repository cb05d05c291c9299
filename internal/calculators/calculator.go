package calculators

import (
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Measure says what a cell of a calculator holds, and so which units it takes. It is wider than [Quantity]: stiffness, density and area
// occur in no sheet.
type Measure uint8

// The measures. Behind each stands the base unit of the numbers, then the unit of a bare number in a metric and in an inch job.
const (
	MText        Measure = iota
	MChoice              // one of Column.Choices
	MNumber              // a plain number
	MCount               // a whole number
	MShare               // hundredths; per cent: 10 and 10 % are the same
	MDistance            // mm; mm, in
	MThickness           // mm; mm, mil
	MSlope               // mm/m; mm/m, mil/in
	MAngle               // degrees; a position on the clock, or an arc
	MTemperature         // °C; °C, °F
	MRise                // K; °C, °F: a difference of temperatures
	MSpeed               // r/min; rpm
	MFrequency           // r/min; Hz
	MForce               // N; kN, lbf
	MTorque              // N·m; N·m, lbf·ft
	MStress              // MPa; MPa, psi
	MStiffness           // MPa; GPa, psi
	MMass                // kg; kg, lb
	MExpansion           // 1e-6/K; 1e-6/K, 1e-6/°F
	MDensity             // kg/m³; kg/m³, lb/in³
	MArea                // mm²; mm², in²
	MValue               // any quantity with its unit, as text
	numMeasures
)

// A Column is one input or output of a calculator: a field of its form, and a column of its batch.
type Column struct {
	Key      string    // lower case with underscores
	Title    string    // as printed; the first spelling of the header
	Help     words.Key // one or two sentences
	Measure  Measure
	Default  string   // what a blank cell stands for, as it would be typed in either job, so with a unit; "" nothing
	Choices  []string // the words an MChoice takes
	Required bool     // a blank cell is an error; an input that is not required has a default or is one of several ways
	List     bool     // several values parted by semicolons
	Digits   int      // significant digits of an output; 0: 5
	also     string   // further spellings, | between
}

// Unit is the unit of a bare number and of the numbers of a batch, as printed; "" where there is none.
func (c *Column) Unit(inch bool) string { return c.Measure.unit(inch).String() }

// Heading is the header cell of the column, "Length [mm]".
func (c *Column) Heading(inch bool) string {
	if u := c.Unit(inch); u != "" {
		return c.Title + " [" + u + "]"
	}
	return c.Title
}

// A Calculator is one small calculation beside the sheet, for one set of values in a form and for many pasted at once.
type Calculator struct {
	Key      string
	Title    words.Key
	About    words.Key // what it is for, one or two sentences
	Inputs   []Column
	Outputs  []Column
	Formula  words.Key // plain text, the symbols explained
	Check    words.Key // a worked example with its source
	Example  []string  // cells of that example, one an input; "" blank
	Source   tables.Source
	Cautions []Caution
	Figure   string // key of the drawing, report.CalculatorFigure

	eval func(*run)
}

// A Caution is one line of warning with where it comes from.
type Caution struct {
	text   words.Key
	Source tables.Source
}

// Text is the sentence, with how far the preload scatters where it speaks of that.
func (c *Caution) Text() string { return c.text.Say(tables.ScatterWords) }

// A Material is what the calculators ask a table of materials for. NaN: not known.
type Material struct {
	Expansion float64 // 1e-6/K
	// Mean is the coefficient between two temperatures in °C, in 1e-6/K, of a material whose Expansion is NaN because it has means by
	// temperature; NaN where they do not reach. nil: none.
	Mean    func(cold, running float64) float64
	Modulus float64 // MPa
	Density float64 // kg/m³
	Source  tables.Source
}

// Settings says how texts are read and printed.
type Settings struct {
	Inch     bool
	Decimal  units.Decimal
	Common   []string                                // by input: stands for blank cells of a batch, before the input's default; nil: none
	Material func(name string) (m Material, ok bool) // table of materials by name; nil: [FindMaterial]
}

// A Result is what one row gives.
type Result struct {
	Row      int           // 1-based row of the source; 0 for a single calculation
	Blank    bool          // nothing was typed, nothing is worked out
	Texts    []string      // by output: with unit, "" where there is none
	Numbers  []float64     // by output: base unit of its Measure; NaN where there is none, and for texts
	Used     []string      // by input: the text that was used, a default or the batch's common one included
	Problems []job.Problem // Col is the index of the input, in a batch of the cell
}

// OK says whether the row has no error.
func (r *Result) OK() bool {
	for i := range r.Problems {
		if r.Problems[i].Severity == job.Error {
			return false
		}
	}
	return true
}

// A Batch is a pasted block worked out.
type Batch struct {
	Calculator *Calculator
	Settings   Settings
	Title      [][]string // rows above the header
	Header     []string   // as typed; nil: there was none, and the cells are taken in the order of the inputs
	Bound      []int      // by column of the block: index of the input; −1: unknown, kept
	Table      *job.Table // the rows as typed
	Rows       []Result
	Problems   []job.Problem // of the header
	headings   []string
	units      []measureUnit
}

// All returns every calculator in the order they are shown. Callers must not change them.
func All() []*Calculator { return calculatorList }

// Find returns the calculator of a key, or nil.
func Find(key string) *Calculator {
	for _, c := range All() {
		if c.Key == key {
			return c
		}
	}
	return nil
}

// Row works one set of values out. cells holds one text an input, in their order; missing ones are blank.
//
// A value may bear a unit, which wins; a bare number has the unit of [Column.Unit]. Nothing in the cells panics. Outputs that rest on a
// cell that could not be read, or that is missing, are empty and NaN; a problem names it.
func (c *Calculator) Row(cells []string, set Settings) Result {
	r := newRun(c, set)
	return r.row(cells, nil)
}

// Batch works a block of cells out. A header is looked for as in the sheets: names with a unit in brackets or none, in any order, in any of
// their spellings; a block without one is taken in the order of the inputs. Columns nobody knows are kept. One bad row changes no
// other, and each row is what [Calculator.Row] gives for its cells. t is not changed.
func (c *Calculator) Batch(t *job.Table, set Settings) *Batch { return newBatch(c, t, set) }

// HeaderRow is the header of the results: the columns as pasted, the units of the results behind their names, and "Problems".
func (b *Batch) HeaderRow() []string { return b.headerRow() }

// ResultRow is row i of the results: its cells as typed, the outputs as numbers in the units of the header and with the job's decimal sign,
// and its problems.
func (b *Batch) ResultRow(i int) []string { return b.resultRow(i) }

// TSV is the whole of the results, tabs between the cells, to be pasted into a spreadsheet. Tabs and line ends within a cell become blanks.
func (b *Batch) TSV() string { return b.tsv() }

// HeaderBlock is the header of an empty batch, tabs between, to copy into a spreadsheet.
func (c *Calculator) HeaderBlock(inch bool) string {
	s := ""
	for i := range c.Inputs {
		if i > 0 {
			s += "\t"
		}
		s += c.Inputs[i].Heading(inch)
	}
	return s
}
