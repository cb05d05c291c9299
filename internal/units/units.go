// Package units reads and prints the quantities of shaft alignment.
//
// A number on a shutdown list comes in many coats: "12.5 mil", "0,35 mm", "10 1/8 in", "−0.004", "1780 rpm".
// Start with [Parse], which turns a cell's text into a [Value] in the base unit of its [Kind], and [ParseUnit], which reads
// the unit in a column's header. [Format] prints a value back. All factors are exact constant expressions.
//
// Left out on purpose: arithmetic between quantities (the calculation works in base units with plain float64), and unit
// algebra; the list of spellings is closed.
package units

// A Kind is what is measured. Each kind has one base unit, in which the rest of the program computes.
type Kind uint8

// The kinds and their base units.
const (
	Number                Kind = iota // a plain number; base 1
	Length                            // base mm
	Slope                             // base mm/m, which is mrad and mil/in
	Angle                             // position on a clock or arc; base degree
	Temperature                       // a point on a scale; base °C
	TemperatureDifference             // a difference; base K
	Speed                             // turns per time; base r/min
	Force                             // base N
	Torque                            // base N·m
	Pressure                          // base MPa
	Mass                              // base kg
	Expansion                         // linear expansion coefficient; base 1e-6/K
	numKinds
)

// A Unit is one named unit, comparable with ==. The zero Unit is None, the unit of a plain number.
type Unit uint8

// A Decimal says what the job takes for its decimal sign.
type Decimal uint8

// The decimal signs.
const (
	Either Decimal = iota // a point or a comma; what could be read both ways is refused
	Point                 // 1,234.5
	Comma                 // 1.234,5
	Commas                // as Either, in a job some of whose decimals are commas: 1.234 is refused like 1,234
)

// A Value is one quantity as read.
type Value struct {
	Base float64 // in the base unit of Unit.Kind()
	Unit Unit    // the unit it was read in
	Own  bool    // the text bore the unit itself; false: the default was taken
}

// An Error says why a text is not the wanted quantity. Pos is the byte offset in Text of what is wrong; Msg is the cause,
// Hint what would be right.
type Error struct {
	Text string
	Pos  int
	Msg  string
	Hint string
}

func (e *Error) Error() string { return e.Msg }
