package httpapi

import (
	"bytes"
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/streams"
	"shimsheet/internal/words"
)

func hintSheets() string {
	return words.HttpWriteSheets.Say(`{"machines": [{"Machine": "P-101", …}, …]}`)
}
func hintWhole() string { return words.HttpSendOneValue.String() }

// sheetNamed finds the sheet that a member of a job stands for.
func sheetNamed(key string) (job.SheetKind, bool) {
	for _, k := range job.SheetKinds() {
		if strings.EqualFold(key, k.Key()) || strings.EqualFold(key, k.String()) {
			return k, true
		}
	}
	return 0, false
}

// broken is the problem of a body that is no JSON.
func broken(body []byte, err error) *problem {
	var at *json.SyntaxError
	if errors.As(err, &at) && at.Offset <= int64(len(body)) {
		return unreadable(words.HttpLineByte.Say(1+bytes.Count(body[:max(at.Offset-1, 0)], []byte{'\n'}), int(at.Offset), err), hintWhole(), nil)
	}
	return unreadable(err.Error(), hintWhole(), nil)
}

// readJSON reads a job out of JSON: the sheets as lists of objects with names of columns, the list of machines alone, or a job as the page and the command save it. named says
// that it is none of the last kind.
func (s *server) readJSON(body []byte, settings *job.Table) (j *job.Job, named bool, bad *problem) {
	body = bytes.TrimPrefix(body, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(body) {
		return nil, false, unreadable(words.HttpBodyNotUTF8.String(), hintWhole(), nil)
	}
	if !json.Valid(body) {
		var any any
		return nil, false, broken(body, json.Unmarshal(body, &any))
	}
	members, bad := membersOf(string(body)) // one copy, of which the cells are pieces
	if bad != nil {
		return nil, false, bad
	}
	var lists []member
	for _, m := range members {
		if m.key == "format" {
			j = new(job.Job)
			if _, err := j.OpenChecked(string(body)); err != nil {
				return nil, false, unreadable(err.Error(), "", nil)
			}
			return j, false, nil
		}
		k, ok := sheetNamed(m.key)
		if !ok {
			hint := hintSheets()
			if job.FindColumn(job.MachinesSheet, m.key) != nil {
				hint = words.HttpWriteList.Say(`{"machines": [{…}]}`)
			}
			return nil, false, unreadable(words.HttpNoSheet.Say(strconv.Quote(shorten(m.key))), hint, nil)
		}
		m.kind = k
		for _, o := range lists {
			if o.kind == k {
				return nil, false, unreadable(words.HttpSheetTwice.Say(k), words.HintKeyTwice.String(), nil).at(k.String(), 0, "")
			}
		}
		lists = append(lists, m)
	}
	for _, m := range lists {
		if m.kind != job.SettingsSheet {
			continue
		}
		if settings != nil {
			return nil, false, failure(kindParameter, words.HttpSettingsInBody.String(), words.HttpSettingsAllInBody.String())
		}
		if settings, bad = settingsOf(m.value); bad != nil {
			return nil, false, bad
		}
	}
	records := evaluate.NewRecords(settings)
	for _, m := range lists {
		if m.kind != job.SettingsSheet {
			if bad := s.rows(records, m); bad != nil {
				return nil, false, bad
			}
		}
	}
	return records.Job(), true, nil
}

// A member is one of an object.
type member struct {
	key   string
	value string // as it stands in the body
	kind  job.SheetKind
}

// membersOf parts the body, which is JSON, into its sheets. A list alone is the machines.
func membersOf(body string) (list []member, bad *problem) {
	s := scan{text: body}
	switch s.enter() {
	case '[':
		return []member{{key: job.MachinesSheet.Key(), value: body}}, nil
	case '{':
	default:
		return nil, unreadable(words.HttpNeither.String(), hintSheets(), nil)
	}
	for s.more() {
		key := s.key()
		list = append(list, member{key: key, value: s.value()})
	}
	return list, nil
}

// flat is the text of an object on one line.
func flat(raw string) string {
	if strings.IndexByte(raw, '\n') < 0 {
		return raw
	}
	var b bytes.Buffer
	if json.Compact(&b, []byte(raw)) != nil {
		return raw
	}
	return b.String()
}

// settingsOf reads the Job sheet: an object with the names of settings.
func settingsOf(raw string) (*job.Table, *problem) {
	var names, values []string
	var number []bool
	refused := streams.Members(flat(raw), func(key, text string, n bool) *evaluate.Refusal {
		names, values, number = append(names, key), append(values, text), append(number, n)
		return nil
	})
	var t *job.Table
	if refused == nil {
		t, refused = evaluate.SettingsTable(names, values, number)
	}
	if refused != nil {
		return nil, unreadable(refused.Text.String(), refused.Hint.String(), nil).at(job.SettingsSheet.String(), 0, "")
	}
	return t, nil
}

// rows reads the rows of one sheet.
func (s *server) rows(records *evaluate.Records, m member) *problem {
	name := m.kind.String()
	list := scan{text: m.value}
	if list.enter() != '[' {
		return unreadable(words.HttpSheetNoList.Say(name), hintSheets(), nil).at(name, 0, "")
	}
	for row := 1; list.more(); row++ {
		if row > s.MaxRows {
			return failure(kindTooLarge, words.HttpSheetLong.Say(name, s.MaxRows),
				words.HttpOrAsStream.String()).at(name, 0, "")
		}
		column := ""
		records.Begin(m.kind)
		refused := streams.Members(flat(list.value()), func(key, text string, number bool) *evaluate.Refusal {
			bad := records.Set(key, text, number)
			if bad != nil {
				column = key
			}
			return bad
		})
		if refused != nil {
			return unreadable(refused.Text.String(), refused.Hint.String(), nil).at(name, row, column)
		}
	}
	return nil
}
