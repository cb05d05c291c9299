package sheet

import "strings"

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

// families are the families of readings the method reads, in their order.
func (m Method) families() []family { return methodFamilies[m] }

// reads is the same as a set.
func (m Method) reads() families { return methodSet[m] }

// methodFamilies says which families of readings a method reads. Rim and face reads whichever rim and face are filled.
var methodFamilies = [numMethods][]family{
	ReverseIndicator:   {fMovRim, fStatRim},
	RimAndFace:         {fMovRim, fStatRim, fFace, fStatFace},
	TwoRims:            {fMovRim, fSecondRim},
	FaceAndFace:        {fFace, fStatFace},
	StraightedgeAndGap: {fGap, fStep},
	Sweeps:             {fMovRim, fStatRim, fFace, fStatFace, fSecondRim, fGap, fStep},
}

// families is a set of families.
type families uint16

func (s families) has(f family) bool { return s>>f&1 == 1 }

// methodSet is methodFamilies as sets.
var methodSet = func() (m [numMethods]families) {
	for i, list := range methodFamilies {
		for _, f := range list {
			m[i] |= 1 << f
		}
	}
	return
}()

func familyNames(s families) string {
	var b strings.Builder
	for f := range numFamilies {
		if s.has(f) {
			if b.Len() > 0 {
				b.WriteString(", ")
			}
			b.WriteString(f.String())
		}
	}
	return b.String()
}

// The families that ride on rims, and on faces.
const (
	rims  = families(1<<fMovRim | 1<<fStatRim)
	faces = families(1<<fFace | 1<<fStatFace)
)

// SweepsOf returns the sweeps that a method, by any spelling of its word, reads, as their columns of readings begin: "movable_rim". nil: no such
// method, or one that reads none.
func SweepsOf(method string) []string {
	load()
	i, ok := choiceIndex(cMethod, method)
	if !ok {
		return nil
	}
	var out []string
	for _, f := range (MethodBlank + 1 + Method(i)).families() {
		out = append(out, strings.ReplaceAll(strings.ToLower(f.String()), " ", "_"))
	}
	return out
}
