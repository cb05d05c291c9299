package results

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"strconv"
)

// A writer writes results as JSON, straight into bytes: a row has some three hundred members, and most of the time of a stream goes into writing them.
//
// The name of a member is handed over as it stands in the text, comma, quotation marks and colon with it: `,"speed_rpm":`. The first of an object loses its comma.
// An element of a list has "" for its name.
type writer struct {
	b    []byte
	memo *numberTexts // nil: none
}

// memberName is the name of a member as a writer takes it, for names that are not known beforehand.
func memberName(name string) string { return `,"` + name + `":` }

// key writes what stands in front of a value. Something stands in b already, but for the outermost value.
func (j *writer) key(k string) {
	last := byte('[')
	if n := len(j.b); n > 0 {
		last = j.b[n-1]
	}
	switch {
	case k == "":
		if last != '[' {
			j.b = append(j.b, ',')
		}
		return
	case last == '{':
		k = k[1:]
	}
	j.b = append(j.b, k...)
}

// raw writes members whose values are always the same.
func (j *writer) raw(members string) { j.b = append(j.b, members...) }

func (j *writer) str(k, v string) {
	j.key(k)
	j.b = job.AppendJSONString(j.b, v)
}

func (j *writer) bool(k string, v bool) {
	j.key(k)
	j.b = strconv.AppendBool(j.b, v)
}

func (j *writer) int(k string, v int) {
	j.key(k)
	j.b = strconv.AppendInt(j.b, int64(v), 10)
}

// num writes a number to its last bit, null for one that does not exist.
func (j *writer) num(k string, v float64) {
	j.key(k)
	j.b = j.memo.append(j.b, v)
}

func (j *writer) nums(k string, v []float64) {
	j.key(k)
	j.b = append(j.b, '[')
	for i, x := range v {
		if i > 0 {
			j.b = append(j.b, ',')
		}
		j.b = j.memo.append(j.b, x)
	}
	j.b = append(j.b, ']')
}

func (j *writer) null(k string) {
	j.key(k)
	j.b = append(j.b, "null"...)
}

func (j *writer) open(k string, c byte) {
	j.key(k)
	j.b = append(j.b, c)
}

func (j *writer) shut(c byte) { j.b = append(j.b, c) }

// numberTexts remembers how numbers are written: many stand in a row of results more than once, and in the next row again. It halves the time of a row.
type numberTexts [512]struct {
	bits uint64
	n    uint8
	text [25]byte // the longest is -2.2250738585072014e-308
}

// append is appendJSONNumber.
func (m *numberTexts) append(b []byte, v float64) []byte {
	if v != v {
		return append(b, "null"...)
	}
	if i := int64(v); float64(i) == v && -1e6 < v && v < 1e6 || m == nil || math.IsInf(v, 0) {
		return appendJSONNumber(b, v)
	}
	bits := math.Float64bits(v)
	x := &m[bits*0x9e3779b97f4a7c15>>55]
	if x.bits != bits {
		x.bits, x.n = bits, uint8(len(appendJSONNumber(x.text[:0], v)))
	}
	return append(b, x.text[:x.n]...)
}

func appendJSONNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, "null"...)
	}
	if v == math.Trunc(v) && math.Abs(v) < 1e6 {
		return strconv.AppendInt(b, int64(v), 10) // minus zero as 0
	}
	return strconv.AppendFloat(b, v, 'g', -1, 64)
}

// vectorKeys are the names of what a vector has, its parts and the uncertainty of each in turn, and all six as they are where there is none.
type vectorKeys struct {
	keys [6]string
	none string
}

func newVectorKeys(name, unit string) (k vectorKeys) {
	for i, part := range [...]string{"_v", "_h", ""} {
		k.keys[2*i], k.keys[2*i+1] = memberName(name+part+unit), memberName("u_"+name+part+unit)
	}
	for _, s := range k.keys {
		k.none += s + "null"
	}
	return k
}

var (
	offsetKeys         = newVectorKeys("offset", "_mm")
	slopeKeys          = newVectorKeys("slope", "")
	flexStationaryKeys = newVectorKeys("flex_stationary", "")
	flexMovableKeys    = newVectorKeys("flex_movable", "")
)

// vector writes the three numbers of a vector and their expanded uncertainties. It is never the first of an object.
func (j *writer) vector(k *vectorKeys, v *calc.Vector) {
	all := [6]float64{v.V, v.UV, v.H, v.UH, v.Total, v.UTotal}
	none := true
	for _, x := range all {
		none = none && x != x
	}
	if none {
		j.raw(k.none)
		return
	}
	for i, x := range all {
		j.num(k.keys[i], x)
	}
}

func (j *writer) problem(p *job.Problem) {
	j.open("", '{')
	j.str(`,"severity":`, p.Severity.String())
	if p.File != "" {
		j.str(`,"file":`, p.File)
	}
	j.str(`,"sheet":`, p.Sheet)
	if p.Row > 0 {
		j.int(`,"row":`, p.Row)
	}
	if p.Column != "" {
		j.str(`,"column":`, p.Column)
	}
	j.str(`,"text":`, p.Text.String())
	if !p.Hint.Empty() {
		j.str(`,"hint":`, p.Hint.String())
	}
	j.shut('}')
}

func (j *writer) problems(list []job.Problem) {
	j.open(`,"problems":`, '[')
	for i := range list {
		j.problem(&list[i])
	}
	j.shut(']')
}
