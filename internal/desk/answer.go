package desk

import (
	"fmt"
	"maps"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"unsafe"

	"shimsheet/internal/words"
)

// A Value is one argument of an operation: a string, a float64 (from Go also an int), a bool or a []byte, which belongs to the desk from then on; or an Unfit.
type Value any

// Unfit is an argument that the caller could not hand over, and why: "is undefined".
type Unfit string

// MaxFile is the largest file that the page takes, in bytes.
const MaxFile = 200 << 20

// TooLarge is what stands for a file of n bytes that is larger.
func TooLarge(n int) Unfit {
	return Unfit(words.Text("desk.fileTooLarge", strconv.Itoa(n>>20), strconv.Itoa(MaxFile>>20)))
}

// Answer runs one operation. It never panics: a panic would end the page's program and take the typed texts with it, so it becomes an answer
// {"panic": …} that the page shows as a banner. What a person can cause is {"error": …}, and nothing is changed then.
func (d *Desk) Answer(name string, in ...Value) (out string) {
	defer func() {
		if r := recover(); r != nil {
			out = string(new(object).text("panic", fmt.Sprint(r)).text("stack", string(debug.Stack())).end())
		}
	}()
	op, ok := operations[name]
	if !ok {
		panic("desk: no operation " + name)
	}
	if bad := wrong(op.takes, in); bad != "" {
		return string(failure("operation " + name + ": " + bad))
	}
	return string(op.do(d, &arguments{in: in}))
}

// Operations names every operation, in order.
func Operations() []string { return slices.Sorted(maps.Keys(operations)) }

// raw is an answer: JSON, but for the viewport and the records.
type raw string

// wrong says what is the matter with the arguments of an operation, as its takes has it; "" nothing. So an operation is not begun with a wrong one.
func wrong(takes string, in []Value) string {
	required, optional, _ := strings.Cut(takes, "?")
	if len(in) < len(required) {
		return fmt.Sprintf("argument %d is missing", len(in)+1)
	}
	for i, kind := range required + optional {
		if i == len(in) {
			break
		}
		if why := unlike(byte(kind), in[i]); why != "" {
			return fmt.Sprintf("argument %d %s", i+1, why)
		}
	}
	return ""
}

// unlike says why a value is not of a kind; "": it is.
func unlike(kind byte, v Value) string {
	if why, unfit := v.(Unfit); unfit {
		return string(why)
	}
	ok, what := false, ""
	switch kind {
	case 'n':
		what = "number"
		f, float := v.(float64)
		if float && !(f >= -1e9 && f <= 1e9) {
			return "is out of range"
		}
		_, whole := v.(int)
		ok = float || whole
	case 't':
		what = "text"
		_, ok = v.(string)
	case 'y':
		what = "yes or no"
		_, ok = v.(bool)
	case 'b':
		what = "text or bytes"
		_, text := v.(string)
		_, bytes := v.([]byte)
		ok = text || bytes
	}
	if ok {
		return ""
	}
	return "is no " + what
}

// arguments are those of an operation, checked and taken one after the other.
type arguments struct {
	in []Value
	n  int
}

func (a *arguments) next() Value {
	a.n++
	return a.in[a.n-1]
}

func (a *arguments) int() int {
	switch v := a.next().(type) {
	case int:
		return v
	case float64:
		return int(v)
	}
	panic("desk: a number was taken that the operation does not say")
}

func (a *arguments) text() string { return a.next().(string) }
func (a *arguments) yes() bool    { return a.next().(bool) }

// more says that there is another argument.
func (a *arguments) more() bool { return a.n < len(a.in) }

// utf8 is a text, or one handed over as its bytes: for a long one that is one copy and not three.
func (a *arguments) utf8() string {
	switch v := a.next().(type) {
	case string:
		return v
	case []byte:
		return unsafe.String(unsafe.SliceData(v), len(v)) // nobody else has them
	}
	panic("desk: a text was taken that the operation does not say")
}
