package job

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
	NumMethods
)

// String is the word the Method column takes, "" for MethodBlank.
func (m Method) String() string { return methodChoices[m].word }

// families are the families of readings the method reads, in their order.
func (m Method) Families() []Family { return methodFamilies[m] }

// Reads is the same as a set.
func (m Method) Reads() FamilySet { return methodSet[m] }

// methodFamilies says which families of readings a method reads. Rim and face reads whichever rim and face are filled.
var methodFamilies = [NumMethods][]Family{
	ReverseIndicator:   {MovableRim, StationaryRim},
	RimAndFace:         {MovableRim, StationaryRim, Face, StationaryFace},
	TwoRims:            {MovableRim, SecondRim},
	FaceAndFace:        {Face, StationaryFace},
	StraightedgeAndGap: {Gap, Step},
	Sweeps:             {MovableRim, StationaryRim, Face, StationaryFace, SecondRim, Gap, Step},
}

// FamilySet is a set of families.
type FamilySet uint16

// Has says whether a family is in the set.
func (s FamilySet) Has(f Family) bool { return s>>f&1 == 1 }

// methodSet is methodFamilies as sets.
var methodSet = func() (m [NumMethods]FamilySet) {
	for i, list := range methodFamilies {
		for _, f := range list {
			m[i] |= 1 << f
		}
	}
	return
}()

// FamilyNames are the names of a set, commas between.
func FamilyNames(s FamilySet) string {
	var b strings.Builder
	for f := range NumFamilies {
		if s.Has(f) {
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
	Rims  = FamilySet(1<<MovableRim | 1<<StationaryRim)
	Faces = FamilySet(1<<Face | 1<<StationaryFace)
)

// SweepsOf returns the sweeps that a method, by any spelling of its word, reads, as their columns of readings begin: "movable_rim". nil: no such
// method, or one that reads none.
func SweepsOf(method string) []string {
	LoadColumns()
	i, ok := ChoiceIndex(ColMethod, method)
	if !ok {
		return nil
	}
	var out []string
	for _, f := range (MethodBlank + 1 + Method(i)).Families() {
		out = append(out, strings.ReplaceAll(strings.ToLower(f.String()), " ", "_"))
	}
	return out
}
