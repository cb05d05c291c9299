package streams

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/words"
)

// An object is a line while it is read.
type object struct {
	s   string
	pos int
}

// Members reads a line that holds one flat JSON object, and hands each member on, in order: number for one written as a JSON number, whose text is then as it
// stands. A member that is null is passed over. What is not such an object, and what take refuses, is a refusal; members handed on before do not count then.
func Members(line string, take func(key, text string, number bool) *evaluate.Refusal) *evaluate.Refusal {
	if !utf8.ValidString(line) {
		return &evaluate.Refusal{Text: words.ProblemLineNotUTF8.With(), Hint: words.HintLineNotUTF8.With()}
	}
	o := object{s: line}
	o.blanks()
	if o.peek() != '{' {
		return o.noObject()
	}
	o.pos++
	o.blanks()
	if o.peek() == '}' {
		o.pos++
		return o.end()
	}
	for {
		if o.peek() != '"' {
			return o.wrong(words.ProblemLineKeyWanted)
		}
		key, bad := o.text()
		if bad != nil {
			return bad
		}
		o.blanks()
		if o.peek() != ':' {
			return o.wrong(words.ProblemLineColonWanted)
		}
		o.pos++
		o.blanks()
		text, kind, bad := o.value(key)
		if bad == nil && kind != 'n' {
			bad = take(key, text, kind == '0')
		}
		if bad != nil {
			return bad
		}
		o.blanks()
		switch o.peek() {
		case ',':
			o.pos++
			o.blanks()
		case '}':
			o.pos++
			return o.end()
		default:
			return o.wrong(words.ProblemLineCommaWanted)
		}
	}
}

// peek is the sign at pos, 0 at the end.
func (o *object) peek() byte {
	if o.pos < len(o.s) {
		return o.s[o.pos]
	}
	return 0
}

func (o *object) blanks() {
	for o.pos < len(o.s) && (o.s[o.pos] == ' ' || o.s[o.pos] == '\t' || o.s[o.pos] == '\r') {
		o.pos++
	}
}

// example is a line as it should be.
const example = `{"Machine": "P-101", "Speed [rpm]": 1480}`

func hintObject() string { return words.HintLineObject.Say(example) }

// wrong says that the line is no JSON, and where.
func (o *object) wrong(what words.Key) *evaluate.Refusal {
	if o.pos >= len(o.s) {
		what = words.ProblemLineCut
	}
	return &evaluate.Refusal{Text: words.ProblemLineNotJSON.With(o.pos+1, what), Hint: words.Plain(hintObject())}
}

func (o *object) end() *evaluate.Refusal {
	if o.blanks(); o.pos < len(o.s) {
		return o.wrong(words.ProblemLineBehind)
	}
	return nil
}

// noObject says what stands there in place of an object.
func (o *object) noObject() *evaluate.Refusal {
	what, hint := "", hintObject()
	switch rest := strings.TrimSpace(o.s); {
	case strings.HasPrefix(rest, "["), strings.HasPrefix(rest, "]"):
		what, hint = words.LineArrayPart.String(), words.HintLineArray.String()
	case json.Valid([]byte(rest)) && len(rest) > 0:
		what = map[bool]words.Key{true: words.LineText, false: words.LineNumberOrWord}[rest[0] == '"'].String()
	}
	if what == "" {
		return &evaluate.Refusal{Text: words.ProblemLineNoJSON.With(), Hint: words.Plain(hint)}
	}
	return &evaluate.Refusal{Text: words.ProblemLineNotObject.With(what), Hint: words.Plain(hint)}
}

// text reads a JSON string at pos.
func (o *object) text() (string, *evaluate.Refusal) {
	start, escaped := o.pos, false
	for i := o.pos + 1; i < len(o.s); i++ {
		switch c := o.s[i]; {
		case c == '"':
			o.pos = i + 1
			if !escaped {
				return o.s[start+1 : i], nil
			}
			return o.unescape(start)
		case c == '\\':
			escaped = true
			i++
		case c < ' ':
			o.pos = i
			return "", o.wrong(words.ProblemLineControl)
		}
	}
	o.pos = len(o.s)
	return "", o.wrong(words.ProblemLineCut)
}

// unescape takes the backslashes out of the string from start to pos.
func (o *object) unescape(start int) (string, *evaluate.Refusal) {
	raw := o.s[start:o.pos]
	var out string
	err := json.Unmarshal([]byte(raw), &out)
	// Half of a surrogate pair comes back as U+FFFD in silence.
	if err != nil || strings.Count(out, "\ufffd") > strings.Count(raw, "\ufffd")+strings.Count(strings.ToLower(raw), `\ufffd`) {
		o.pos = start
		return "", o.wrong(words.ProblemLineEscape)
	}
	return out, nil
}

// value reads the value of a member. kind is '"' a text, '0' a number, 'n' null.
func (o *object) value(key string) (text string, kind byte, bad *evaluate.Refusal) {
	c := o.peek()
	if c == '"' {
		text, bad = o.text()
		return text, '"', bad
	}
	refuse := func(hint string, form words.Key, args ...any) (string, byte, *evaluate.Refusal) {
		return "", 0, &evaluate.Refusal{Text: form.With(append([]any{quoted(key)}, args...)...), Hint: words.Plain(hint)}
	}
	switch c {
	case '{':
		return refuse(words.HintLineNested.String(), words.ProblemLineNested, words.LineObject)
	case '[':
		return refuse(words.HintLineNested.String(), words.ProblemLineNested, words.LineArray)
	}
	start := o.pos
	for o.pos < len(o.s) && !endsWord[o.s[o.pos]] {
		o.pos++
	}
	text = o.s[start:o.pos]
	if len(text) <= 15 && isPlain(text) {
		return text, '0', nil
	}
	switch text {
	case "":
		return refuse(hintObject(), words.ProblemLineValueWanted)
	case "null":
		return "", 'n', nil
	case "true", "false":
		return refuse(words.HintLineBool.String(), words.ProblemLineNested, text)
	}
	switch strings.ToLower(strings.TrimLeft(text, "+-")) {
	case "nan", "inf", "infinity":
		return refuse(words.HintLineNaN.String(), words.ProblemLineNaN, text)
	}
	if !isNumber(text) {
		return refuse(words.HintLineNumberForm.String(), words.ProblemLineNumberForm, quoted(text))
	}
	if len(text) > 15 { // shorter ones have to have an exponent to be too large
		if x, err := strconv.ParseFloat(text, 64); err != nil || math.IsInf(x, 0) {
			return refuse(words.HintLineNumberMust.String(), words.ProblemLineNumberLarge, cut(text))
		}
	} else if strings.ContainsAny(text, "eE") {
		if _, err := strconv.ParseFloat(text, 64); err != nil {
			return refuse(words.HintLineNumberMust.String(), words.ProblemLineNumberLarge, text)
		}
	}
	return text, '0', nil
}

// endsWord are the signs before which a number or a word ends.
var endsWord = [256]bool{' ': true, '\t': true, '\r': true, ',': true, ':': true, '{': true, '}': true, '[': true, ']': true, '"': true}

// isPlain says whether a text is a number as JSON writes it, without an exponent.
func isPlain(s string) bool {
	return isNumber(s) && strings.IndexByte(s, 'e') < 0 && strings.IndexByte(s, 'E') < 0
}

// isNumber says whether a text is a number as JSON writes it.
func isNumber(s string) bool {
	digits := func() bool {
		n := 0
		for n < len(s) && s[n] >= '0' && s[n] <= '9' {
			n++
		}
		s = s[n:]
		return n > 0
	}
	s = strings.TrimPrefix(s, "-")
	if strings.HasPrefix(s, "0") {
		s = s[1:]
	} else if !digits() {
		return false
	}
	if strings.HasPrefix(s, ".") {
		if s = s[1:]; !digits() {
			return false
		}
	}
	if s != "" && (s[0] == 'e' || s[0] == 'E') {
		s = strings.TrimPrefix(s[1:], "+")
		if s = strings.TrimPrefix(s, "-"); !digits() {
			return false
		}
	}
	return s == ""
}

// cut shortens a text for a message.
func cut(s string) string {
	n := 0
	for i := range s {
		if n++; n > 40 {
			return s[:i] + "…"
		}
	}
	return s
}

func quoted(s string) string { return `"` + cut(s) + `"` }
