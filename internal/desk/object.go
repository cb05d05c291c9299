package desk

import "strconv"

// An object writes a JSON object without reflection: the first answers are on the way to a ready page, and cold reflection costs more
// than all else in them. Its methods are called in hundreds of places and kept out of line for the size of the program.
type object struct{ b []byte }

//go:noinline
func (o *object) key(k string) {
	if len(o.b) == 0 {
		o.b = append(o.b, '{')
	} else {
		o.b = append(o.b, ',')
	}
	o.b = append(append(append(o.b, '"'), k...), `":`...)
}

//go:noinline
func (o *object) text(k, v string) *object {
	o.key(k)
	o.b = AppendText(o.b, v)
	return o
}

//go:noinline
func (o *object) int(k string, v int) *object {
	o.key(k)
	o.b = strconv.AppendInt(o.b, int64(v), 10)
	return o
}

//go:noinline
func (o *object) yes(k string, v bool) *object {
	o.key(k)
	o.b = strconv.AppendBool(o.b, v)
	return o
}

//go:noinline
func (o *object) texts(k string, list []string) *object {
	o.key(k)
	o.b = appendList(o.b, list, AppendText)
	return o
}

//go:noinline
func (o *object) numbers(k string, list []float64) *object {
	o.key(k)
	o.b = appendList(o.b, list, func(b []byte, f float64) []byte { return strconv.AppendFloat(b, f, 'g', -1, 64) })
	return o
}

//go:noinline
func (o *object) ints(k string, list []int) *object {
	o.key(k)
	o.b = appendList(o.b, list, func(b []byte, n int) []byte { return strconv.AppendInt(b, int64(n), 10) })
	return o
}

//go:noinline
func (o *object) objects(k string, list []*object) *object {
	o.key(k)
	o.b = appendList(o.b, list, func(b []byte, v *object) []byte { return append(b, v.end()...) })
	return o
}

//go:noinline
func (o *object) rows(k string, list [][]string) *object {
	o.key(k)
	o.b = appendList(o.b, list, func(b []byte, v []string) []byte { return appendList(b, v, AppendText) })
	return o
}

// end is the object as written. More can be added after it.
//
//go:noinline
func (o *object) end() raw {
	if len(o.b) == 0 {
		return "{}"
	}
	return raw(o.b) + "}"
}

func appendList[T any](b []byte, list []T, one func([]byte, T) []byte) []byte {
	b = append(b, '[')
	for i, v := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = one(b, v)
	}
	return append(b, ']')
}

// AppendText quotes s for JSON. Bytes that are no UTF-8 become U+FFFD where the text crosses to the scripts.
//
//go:noinline
func AppendText(b []byte, s string) []byte {
	const hex = "0123456789abcdef"
	b = append(b, '"')
	from := 0
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= ' ' && c != '"' && c != '\\' {
			continue
		}
		b = append(b, s[from:i]...)
		from = i + 1
		switch c {
		case '"', '\\':
			b = append(b, '\\', c)
		case '\n':
			b = append(b, '\\', 'n')
		default:
			b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		}
	}
	return append(append(b, s[from:]...), '"')
}

//go:noinline
func failure(text string) raw { return new(object).text("error", text).end() }
