package calc

import (
	"errors"
	"math"

	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// A Line is the movable shaft's axis seen from the stationary shaft, a straight line in each of two planes:
//
//	V(x) = DV + TV·x/1000    H(x) = DH + TH·x/1000
//
// x in mm from the coupling centre, positive towards the movable machine. DV and DH are the offsets at the coupling centre in mm,
// positive when the movable shaft is high, or stands towards 3 o'clock. TV and TH are the slopes in mm/m, positive when the movable
// shaft rises, or leads towards 3 o'clock, going away from the coupling. 3 o'clock is on the right of a person who stands behind the
// movable machine and looks along the shafts at the coupling.
type Line struct{ DV, TV, DH, TH float64 }

// Cov is the covariance of a Line in the order DV, TV, DH, TH (mm, mm/m), symmetric.
type Cov [4][4]float64

// A Model says what a sweep's readings see of the line.
type Model uint8

// The sweep models. R is the reading, c a constant of the sweep, φ the clock angle in degrees from 12, growing through 3 o'clock,
// V and H the line at the sweep's Station, D its Diameter. A plunger pushed in reads positive.
const (
	RimOnMovable          Model = iota // bracket on the stationary shaft, plunger on the movable hub: R = c + V cos φ + H sin φ
	RimOnStationary                    // bracket on the movable shaft, plunger on the stationary hub: R = c − V cos φ − H sin φ
	FaceFront                          // plunger on the face that looks at the coupling, either hub: R = c + D/2 (TV cos φ + TH sin φ)/1000
	FaceBack                           // plunger on the back of the hub: R = c − D/2 (TV cos φ + TH sin φ)/1000
	GapBetween                         // feeler or taper gauge between the hub faces: R = c − D/2 (TV cos φ + TH sin φ)/1000
	StepAtRim                          // straightedge on the rim, movable hub proud is positive: R = c + V cos φ + H sin φ
	SpoolOnMovable                     // dial carried by the spool of Length L on the movable hub's face: slope θ − σ, σ = V(L/2)/L
	SpoolOnStationary                  // dial carried by the spool on the stationary hub's face: slope σ
	SpoolOnMovableBack                 // as SpoolOnMovable, on the back of the hub
	SpoolOnStationaryBack              // as SpoolOnStationary, on the back of the hub
	numModels
)

// A Sweep is one set of readings taken by turning the shafts.
type Sweep struct {
	Model      Model
	Station    float64   // mm from the coupling centre, signed: negative on the stationary side. Rims and steps only.
	Diameter   float64   // mm, faces and gaps only
	Length     float64   // mm between the flex planes, spool faces only
	Angle      []float64 // degrees from 12 o'clock, any order, any range; the same angle may come again
	Reading    []float64 // mm, as read
	SagAt6     float64   // mm: what this dial shows at 6 o'clock on a straight stiff pipe, zeroed at 12; normally negative
	USag       float64   // mm, standard uncertainty of SagAt6; sweeps with the same SagAt6 and USag hang on one bracket and share its error
	Mirrored   bool      // the angles are counted as somebody behind the stationary machine sees the clock: from 12 through what is 9 o'clock here
	Graduation float64   // mm, smallest division, for the limits of the checks
	U          float64   // mm, standard uncertainty of one reading, > 0
}

// Limits that hold one coupling. NaN: there is none.
type Limits struct {
	Offset float64 // mm, the offset vector at the coupling centre (flexible, gear, rigid)
	Slope  float64 // mm/m, the slope vector; spacer: the angle vector at each flex plane
}

// An Input is all that one row gives the calculation. Slices are only read.
type Input struct {
	Sweeps []Sweep

	// A line reduced elsewhere, used when there are no sweeps. NaN: not given. GivenU are standard uncertainties (mm, mm/m).
	Given  Line
	GivenU Line

	Coupling tables.Coupling
	Length   float64 // mm between the flex planes or joints; NaN: not given
	Limits   Limits
	// AddShares holds the sum of the shares of offset and slope to 1, not each to its own limit; couplings that are judged by slope alone are not touched by it.
	//
	// Reference: US Army TM 10-4320-307-24 pp. 3-15 and 3-16, where the parts of a limit act together.
	AddShares bool

	// Where the movable shaft should stand cold, seen from the stationary one; zero: in line as it stands. An offset of NaN is free:
	// the shaft is left at the offset it has (universal couplings, whose offset is wanted).
	Wanted    Line
	WantedCov Cov // its covariance; zero: taken as exact
	// Where the change from cold to running was measured, Wanted is where the shaft should run, and this tells where it must then
	// stand cold; nil: it was not.
	Measured *ColdToHot

	Feet []float64 // stations of the foot pairs of the movable machine, mm, nearest the coupling first; two or more, or none

	// Vertical flange-mounted machines: bolt circle radius (mm), bolts evenly spaced, the first at 12 o'clock. Zero bolts: none.
	// FlangeStation is the flange's distance from the coupling centre; NaN: taken at the coupling centre.
	BoltCircleRadius float64
	Bolts            int
	FlangeStation    float64
	Mirrored         bool // the bolts are counted as somebody behind the stationary machine sees the clock

	UDistance float64 // mm, standard uncertainty of each distance by tape (stations, diameters, length, feet); 0: taken as exact
	NoMisfit  bool    // what the readings themselves show is not taken into their uncertainty

	Planned  *Planned      // what a plan of the machine's train asks of it, which then takes the place of its own way to the wanted line; nil: there is none
	Packer   *packs.Packer // nil: packs and the line after are left out
	MoveStep float64       // mm: sideways moves are rounded to this for the line after; 0: not rounded
	Checks   CheckLimits
}

// A Planned is what the plan of a train asks: how far the machine itself is moved, as a line, and what the moves of the other machines do to the line read at its coupling.
type Planned struct{ Own, Others Line }

// CheckLimits are what the readings are held to. The zero value takes the defaults.
type CheckLimits struct {
	BalanceShare      float64 // of the largest reading of the sweep; default 0.10
	BalanceGraduation float64 // never under so many graduations; default 2
	ClosureGraduation float64 // the repeated reading against the first, graduations; default 2
}

// A Verdict is one of four words.
type Verdict uint8

// The verdicts.
const (
	NotJudged Verdict = iota
	Inside
	Outside
	TooClose
)

// String is the word that everything shows.
func (v Verdict) String() string {
	return [...]string{"not judged", "inside", "outside", "too close to call"}[v]
}

// A Status says how a calculation ended.
type Status uint8

// The ways a calculation ends.
const (
	OK             Status = iota
	NoReadings            // neither sweeps nor a given line
	TooFewAngles          // a sweep has fewer than three distinct angles; Result.Sweep says which
	PlanesCoincide        // the sweeps see the line at one station only, so the slope is undetermined
	IllConditioned        // the design leaves the line undetermined (too short an arc, or nearly one station)
	BalanceFailed         // top + bottom differs from left + right; Result.Sweep says which
	ClosureFailed         // a repeated position does not read the same again; Result.Sweep says which
	ResidualFailed        // the readings scatter about the fitted line
	PartOfLine            // a given line without all of its four numbers
	NoLimit               // no limit for this coupling: numbers, but no verdict
	NoLength              // a spacer coupling without its length
	BadInput              // a number that cannot be (a negative diameter, NaN reading); what our caller should have kept out
	numStatus
)

// A Vector is a quantity with a part in each plane, with expanded uncertainties (k = 2).
type Vector struct {
	V, H, Total    float64 // mm or mm/m
	UV, UH, UTotal float64 // expanded, k = 2; UTotal along the vector, for the zero vector the largest
}

// Clock returns the vector's direction in degrees from 12 o'clock towards 3, 0 ≤ Clock < 360; NaN for the zero vector.
func (v *Vector) Clock() float64 {
	if !(v.Total > 0) {
		return nan
	}
	c := math.Atan2(v.H, v.V) * (180 / math.Pi)
	if c < 0 {
		c += 360
	}
	if c >= 360 { // a negative angle too small to be told from a full turn
		c = 0
	}
	return c
}

// A Judgement is a set of vectors held to limits.
type Judgement struct {
	Offset, Slope Vector  // deviation from the wanted line at the coupling centre
	FlexS, FlexM  Vector  // spacer, universal: the angles at the stationary and the movable flex plane (joint); NaN elsewhere
	Share         float64 // largest magnitude over its limit, 1 = at the limit; NaN without limits
	Chance        float64 // joint probability, 0 to 1, that every judged vector is inside; NaN without limits
	Verdict       Verdict
}

// A Foot is what is to be done at one pair of feet.
type Foot struct {
	Station     float64
	Shim, UShim float64    // mm, positive = add; expanded uncertainty
	Move, UMove float64    // mm, positive = towards 3 o'clock; expanded uncertainty
	Pack        packs.Pack // the pieces for |Shim|; only with a Packer
	Rounded     float64    // mm, signed: Shim as the pack makes it
	MoveRounded float64    // mm: Move to the step
}

// A SweepCheck is what the checks found on one sweep. NaN where a check does not apply.
type SweepCheck struct {
	Balance, BalanceLimit float64 // mm: (R12 + R6) − (R3 + R9)
	Closure, ClosureLimit float64 // mm: repeated minus first
	Sag                   float64 // mm at 6 o'clock that was taken off
	Misfit                float64 // Birge ratio by which the stated uncertainty of this sweep's readings was multiplied; 1: they agree as well as it explains
	Repeats               int     // positions read again
	RepeatSquares         float64 // mm²: the sum over them of (repeated minus first)²
}

// A Result is what one row gets. Numbers that do not exist are NaN; a status other than OK, NoLimit, NoLength leaves the
// corrections empty.
type Result struct {
	Status Status
	Sweep  int // the sweep that Status speaks of, else −1

	Line   Line // as found
	Cov    Cov  // of Line
	Wanted Line // Input.Wanted with a free offset settled

	Misfit float64 // Birge ratio by which all sweeps together were, because they disagree about the line; 1: they do not

	ResidualSD, ResidualLimit float64 // mm; NaN without readings to spare
	DOF                       int
	Checks                    []SweepCheck // one a sweep

	Found Judgement // Line against the wanted line
	Feet  []Foot

	// Vertical flange-mounted machines.
	SlideV, SlideH float64      // mm
	BoltShims      []float64    // mm, the first bolt at 12 o'clock, going towards 3
	BoltPacks      []packs.Pack // the pieces for each; only with a Packer

	byLength [4]float64 // what one standard uncertainty of Input.Length does to the line, mm and mm/m

	HasAfter bool
	After    Line      // predicted from the rounded packs and moves
	AfterJ   Judgement // After against the wanted line
}

var statusText = [numStatus]words.Key{
	OK:             words.CalcStatusComputed,
	NoReadings:     words.CalcStatusNoReadings,
	TooFewAngles:   words.CalcStatusTooFewAngles,
	PlanesCoincide: words.CalcStatusOneStation,
	IllConditioned: words.CalcStatusIllConditioned,
	BalanceFailed:  words.CalcStatusBalance,
	ClosureFailed:  words.CalcStatusClosure,
	ResidualFailed: words.CalcStatusScatter,
	PartOfLine:     words.CalcStatusPartOfLine,
	NoLimit:        words.CalcStatusNoLimit,
	NoLength:       words.CalcStatusNoLength,
	BadInput:       words.CalcStatusBadNumber,
}

// String is the ending in a few words.
func (s Status) String() string { return statusText[s].String() }

// Code is the status as other programs read it, in every language the same.
func (s Status) Code() string { return statusText[s].Code() }

// Err is nil for OK and an error with the words of String otherwise.
func (s Status) Err() error {
	if s == OK {
		return nil
	}
	return errors.New("calc: " + s.String())
}
