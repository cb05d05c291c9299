package sheet

// A Method is a way of measuring: a set of sweeps, or a line reduced elsewhere.
type Method uint8

// The methods. MethodBlank stands for a blank cell: the method is taken from the columns that are filled.
const (
	MethodBlank Method = iota
	ReverseIndicator
	RimAndFace
	TwoRims
	FaceAndFace
	StraightedgeAndGap
	Sweeps
	GivenLineMethod
	numMethods
)

// String is the word the Method column takes, "" for MethodBlank.
func (m Method) String() string { return methodChoices[m].word }

// methodFamilies says which families of readings a method reads. Rim and face reads whichever rim and face are filled.
var methodFamilies = [numMethods][]family{
	ReverseIndicator:   {fMovRim, fStatRim},
	RimAndFace:         {fMovRim, fStatRim, fFace, fStatFace},
	TwoRims:            {fMovRim, fSecondRim},
	FaceAndFace:        {fFace, fStatFace},
	StraightedgeAndGap: {fGap, fStep},
	Sweeps:             {fMovRim, fStatRim, fFace, fStatFace, fSecondRim, fGap, fStep},
}
