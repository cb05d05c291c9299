package httpapi

import (
	"encoding/json"
	"strings"
)

// A scan goes through the values of one list or object of JSON that is known to be valid, and hands each out as it stands. Nothing is copied.
type scan struct {
	text string
	pos  int
}

// blanks passes over what may stand between values.
func (s *scan) blanks() {
	for s.pos < len(s.text) && (s.text[s.pos] == ' ' || s.text[s.pos] == '\t' || s.text[s.pos] == '\n' || s.text[s.pos] == '\r') {
		s.pos++
	}
}

// enter passes over the bracket that a list or an object begins with, and says which it is; 0: the value is neither.
func (s *scan) enter() byte {
	s.blanks()
	if c := s.text[s.pos]; c == '[' || c == '{' {
		s.pos++
		return c
	}
	return 0
}

// more says whether another element or member follows, and goes to it.
func (s *scan) more() bool {
	if s.blanks(); s.text[s.pos] == ',' {
		s.pos++
		s.blanks()
	}
	return s.text[s.pos] != ']' && s.text[s.pos] != '}'
}

// key reads the name of a member, and passes over the colon behind it.
func (s *scan) key() string {
	raw := s.value()
	s.blanks()
	s.pos++
	if strings.IndexByte(raw, '\\') < 0 {
		return raw[1 : len(raw)-1]
	}
	var key string
	if err := json.Unmarshal([]byte(raw), &key); err != nil {
		panic("httpapi: a key of valid JSON: " + err.Error())
	}
	return key
}

// value is the text of the value that begins here, or behind blanks.
func (s *scan) value() string {
	s.blanks()
	start, depth := s.pos, 0
	for {
		switch s.text[s.pos] {
		case '"':
			s.quoted()
		case '[', '{':
			depth++
			s.pos++
		case ']', '}':
			depth--
			s.pos++
		case ',', ':', ' ', '\t', '\n', '\r':
			s.pos++
		default: // a number or a word, to its end
			for s.pos < len(s.text) && strings.IndexByte(",:]} \t\n\r", s.text[s.pos]) < 0 {
				s.pos++
			}
		}
		if depth == 0 {
			return s.text[start:s.pos]
		}
	}
}

// quoted passes over a text in quotation marks.
func (s *scan) quoted() {
	for s.pos++; s.text[s.pos] != '"'; s.pos++ {
		if s.text[s.pos] == '\\' {
			s.pos++
		}
	}
	s.pos++
}
