package desk

import (
	"fmt"
	"maps"
	"runtime/debug"
	"slices"
	"unsafe"
)

// A Value is one argument of an operation: a string, a float64 (from Go also an int), a bool or a []byte, which belongs to the desk from then on; or an Unfit.
type Value any

// Unfit is an argument that the caller could not hand over, and why: "is undefined".
type Unfit string

// MaxFile is the largest file that the page takes, in bytes.
const MaxFile = 200 << 20

// TooLarge is what stands for a file of n bytes that is larger.
func TooLarge(n int) Unfit {
	return Unfit(fmt.Sprintf("is a file of %d MB; the page takes %d MB", n>>20, MaxFile>>20))
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
	args := arguments{in: in}
	res := op(d, &args)
	if args.bad != "" {
		res = failure("operation " + name + ": " + args.bad)
	}
	return string(res)
}

// Operations names every operation, in order.
func Operations() []string { return slices.Sorted(maps.Keys(operations)) }

// raw is an answer: JSON, but for the viewport and the records.
type raw string

// arguments checks what is handed over. After a wrong one the operation's answer is thrown away.
type arguments struct {
	in  []Value
	n   int
	bad string
}

// take gives the next argument; what is of another kind is noted, and the zero value given.
func take[T any](a *arguments, kind string) (v T, ok bool) {
	a.n++
	if a.n > len(a.in) {
		a.note(fmt.Sprintf("argument %d is missing", a.n))
		return v, false
	}
	if v, ok = a.in[a.n-1].(T); !ok {
		why, unfit := a.in[a.n-1].(Unfit)
		if !unfit {
			why = Unfit("is no " + kind)
		}
		a.note(fmt.Sprintf("argument %d %s", a.n, why))
	}
	return v, ok
}

func (a *arguments) note(s string) {
	if a.bad == "" {
		a.bad = s
	}
}

func (a *arguments) int() int {
	if a.n < len(a.in) {
		if n, ok := a.in[a.n].(int); ok {
			a.n++
			return n
		}
	}
	if f, ok := take[float64](a, "number"); ok {
		if f >= -1e9 && f <= 1e9 {
			return int(f)
		}
		a.note(fmt.Sprintf("argument %d is out of range", a.n))
	}
	return 0
}

func (a *arguments) text() string {
	s, _ := take[string](a, "text")
	return s
}

func (a *arguments) yes() bool {
	v, _ := take[bool](a, "yes or no")
	return v
}

// more says that there is another argument.
func (a *arguments) more() bool { return a.n < len(a.in) }

// utf8 is a text, or one handed over as its bytes: for a long one that is one copy and not three.
func (a *arguments) utf8() string {
	if a.n < len(a.in) {
		if _, ok := a.in[a.n].(string); ok {
			return a.text()
		}
	}
	b, _ := take[[]byte](a, "text or bytes")
	return unsafe.String(unsafe.SliceData(b), len(b)) // nobody else has b
}
