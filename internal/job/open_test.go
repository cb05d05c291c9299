package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// openWithStdlib opens a job by encoding/json of the Go project, by struct tags: the other reading that ours is held against.
func openWithStdlib(j *Job, data []byte) error {
	type table struct {
		Name     string     `json:"name"`
		File     string     `json:"file"`
		FirstRow int        `json:"first_row"`
		Title    [][]string `json:"title"`
		Header   []string   `json:"header"`
		Rows     [][]string `json:"rows"`
	}
	var body struct {
		Format      string          `json:"format"`
		Version     int             `json:"version"`
		ID          string          `json:"id"`
		Revision    int             `json:"revision"`
		SavedAt     string          `json:"saved_at"`
		SavedBefore []string        `json:"saved_before"`
		Machines    *table          `json:"machines"`
		Readings    *table          `json:"readings"`
		Stock       *table          `json:"stock"`
		Settings    *table          `json:"settings"`
		Growth      *table          `json:"growth"`
		Feet        *table          `json:"feet"`
		Limits      *table          `json:"limits"`
		Materials   *table          `json:"materials"`
		Checks      *table          `json:"checks"`
		Rounds      *table          `json:"rounds"`
		Trains      *table          `json:"trains"`
		Record      *table          `json:"record"`
		Views       json.RawMessage `json:"views"`
	}
	if err := json.Unmarshal(data, &body); err != nil {
		return err
	}
	if body.Format != "shimsheet job" || body.Version > 6 {
		return errors.New("no job, or a newer one")
	}
	n := Job{ID: body.ID, Revision: body.Revision, SavedAt: body.SavedAt, SavedBefore: body.SavedBefore[max(0, len(body.SavedBefore)-MostSavedBefore):]}
	for k, t := range []*table{body.Machines, body.Readings, body.Stock, body.Settings, body.Growth, body.Feet, body.Limits, body.Materials, body.Checks, body.Rounds, body.Trains, body.Record} {
		if t != nil {
			n.SetTable(SheetKind(k), &Table{Name: t.Name, File: t.File, FirstRow: t.FirstRow, Title: t.Title, Header: t.Header, Rows: t.Rows})
		}
	}
	var views map[string]json.RawMessage
	if json.Unmarshal(body.Views, &views) == nil {
		for k, v := range views {
			var text string
			if json.Unmarshal(v, &text) == nil && text != "" {
				if n.Views == nil {
					n.Views = map[string]string{}
				}
				n.Views[k] = text
			}
		}
	}
	if n.Machines == nil {
		n.Machines = &Table{Name: "Machines", FirstRow: 1}
	}
	*j = n
	return nil
}

// refusedOnPurpose says whether ours refuses what encoding/json takes: a part that would be lost, and nesting without end.
func refusedOnPurpose(err error) bool {
	s := err.Error()
	return strings.Contains(s, "would be lost") || strings.Contains(s, "a second time") || strings.Contains(s, "within each other")
}

// againstStdlib holds our reading of a text against that of encoding/json and returns ours.
func againstStdlib(t *testing.T, text string) (*Job, error) {
	t.Helper()
	ours, theirs := Job{ID: "kept"}, Job{}
	err, errTheirs := ours.Open(text), openWithStdlib(&theirs, []byte(text))
	switch {
	case err != nil && ours.ID != "kept":
		t.Errorf("%.160q: refused, and the job is changed", text)
	case err != nil && errTheirs == nil && !refusedOnPurpose(err), err == nil && errTheirs != nil:
		t.Errorf("%.160q: %v; encoding/json says %v", text, err, errTheirs)
	case err == nil:
		id := ours.ID
		if theirs.ID == "" {
			id = "" // drawn anew
		}
		if id != theirs.ID || ours.Revision != theirs.Revision || ours.SavedAt != theirs.SavedAt || fmt.Sprintf("%q", ours.SavedBefore) != fmt.Sprintf("%q", theirs.SavedBefore) || !reflect.DeepEqual(ours.Views, theirs.Views) ||
			!reflect.DeepEqual(tidy(&ours), tidy(&theirs)) {
			t.Errorf("%.160q:\n%+v\nencoding/json:\n%+v", text, ours, theirs)
		}
	}
	return &ours, err
}

// tidy makes empty lists alike: a row without cells may be nil or empty.
func tidy(j *Job) map[SheetKind]Table {
	out := map[SheetKind]Table{}
	for k := range NumSheets {
		if t := j.Table(k); t != nil {
			c := *t
			c.Rows, c.Title = nil, nil
			for _, r := range t.Rows {
				c.Rows = append(c.Rows, append([]string{}, r...))
			}
			for _, r := range t.Title {
				c.Title = append(c.Title, append([]string{}, r...))
			}
			out[k] = c
		}
	}
	return out
}

// jobOf is a job with one row, whose second cell is that JSON; jobWith one with that member.
func jobOf(cell string) string {
	return `{"format":"shimsheet job","version":1,"id":"a","machines":{"name":"M","first_row":2,"rows":[["x",` + cell + `]]}}`
}

func jobWith(member string) string {
	return `{"format":"shimsheet job","version":1,"id":"a",` + member + `}`
}

// Texts as other programs write JSON, and as they break: taken or refused, as encoding/json (of the Go project) takes and refuses them, and read as it reads them.
func TestOpenAsStdlibDoes(t *testing.T) {
	taken := []string{
		jobOf(`"\"\\\/\b\f\n\r\t"`), jobOf(`"\u0041\u00e9\u20ac\u20AC\uFfFf\u09aF"`), jobOf(`"\ud83d\ude00 é"`), jobOf(`"plain é"`), jobOf(`"\u00f0\u00F0\u00a0\u00A0\u0090"`),
		jobOf(`"\ud83d"`), jobOf(`"\ud83dA"`), jobOf(`"\ud83d\u0041"`), jobOf(`"\ude00\ud83d"`), jobOf(`"\ud83d\ud83d\ude00"`), jobOf("\"\xff\""), jobOf("\"\\n\xff\xe2\x82\""), jobOf(`null`), jobOf(`"a"`) + " \n", "\r\n\t " + jobOf(`"a"`),
		jobOf("\"\u2028\x7f\""), jobOf(`"a" , "b"`), jobOf(`"` + strings.Repeat(`a","`, 5000) + `"`), jobOf(`"a"],["b"],[],null,["c"`),
		jobWith(`"x":-0,"y":1.5e3,"z":true,"w":null,"v":"s","u":false,"length":12,"t":0.5E-7,"s":10,"r":1e+1`), jobWith(`"MACHINES":{"Rows":[["a"]],"NAME":"N"}`), jobWith(`"machines":null,"stock":null`), jobWith(`"machines":{"rows":null,"header":null,"title":[null,["t"]]}`),
		jobWith(`"machines":{"header":[],"title":[],"rows":[]}`), jobWith(`"views":{"rows":"w","a":7,"b":"","c":[["w"],{"d":1.5}]}`), jobWith(`"views":7`), jobWith(`"views":{}`), jobWith(`"views":{"a":"1","a":"2"}`), jobWith(`"revision":-7,"saved_at":"é","saved_before":["a","b"]`),
		jobWith(`"revision":null,"saved_at":null,"saved_before":null,"views":null`), `{"format":"shimsheet job"}`, jobWith(`"views":` + strings.Repeat("[", 900) + strings.Repeat("]", 900)),
	}
	for _, text := range taken {
		if _, err := againstStdlib(t, text); err != nil {
			t.Errorf("%.160q: %v", text, err)
		}
	}
	refused := []string{
		jobOf(`"a\u00zz"`), jobOf(`"\u004"`), jobOf(`"\x"`), jobOf("\"a\tb\""), jobOf("\"\\na\tb\""), jobOf("\"\x00\""), jobOf(`1`), jobOf(`true`), jobOf(`["a"]`), jobOf(`{}`), jobOf(`"a",`), jobOf(`,"a"`), jobOf(`"a" "b"`), jobOf(`nul`), jobOf(`nulL`), jobOf(`'a'`),
		jobOf(`"\u00@0"`), jobOf("\"\\u00`0\""), jobOf(`"\u00G0"`), jobOf(`"\u00g0"`), jobOf(`"\u00/0"`), jobOf(`"\u00:0"`), jobOf(`"\U0041"`), jobOf(`"a\`), jobOf(`"`), jobOf(``),
		jobOf(`"a"`)[:len(jobOf(`"a"`))-1], jobOf(`"a"`) + "x", jobOf(`"a"`) + "\x00", "\ufeff" + jobOf(`"a"`), jobOf(`"a"`) + jobOf(`"b"`), "[" + jobOf(`"a"`) + "]",
		`{"machines":{"rows":[["a\`, `{"machines":{"rows":[["\u12`, `{"machines":{"rows":[["\u1234`, `{"machines":{"rows":[["\ud83d\u`, `{"x":1`, `{"x":[1`, `{"x":"a`, `{"x":`, `{"x"`, `{`, ``, ` `, `[]`, `7`, `"a"`, `tru`,
		`{"format":"shimsheet job",}`, `{,"format":"shimsheet job"}`, `{format:"shimsheet job"}`, `{"format":"shimsheet job" "version":1}`, `{"format" "shimsheet job"}`, `{"format":"shimsheet job","version":1,,"x":1}`, `{"format":"shimsheet job"]`,
		jobWith(`"views":[1 2]`), jobWith(`"views":[1,]`), jobWith(`"views":[,1]`), jobWith(`"views":{"a" 1}`), jobWith(`"views":{"a":1 "b":2}`), jobWith(`"views":[1}`), jobWith(`"views":{1:2}`), jobWith(`"x":`),
		jobWith(`"x":01`), jobWith(`"x":+1`), jobWith(`"x":1.`), jobWith(`"x":.5`), jobWith(`"x":1e`), jobWith(`"x":1e+`), jobWith(`"x":-`), jobWith(`"x":--1`), jobWith(`"x":1x`), jobWith(`"x":0x10`), jobWith(`"x":NaN`), jobWith(`"x":True`),
		jobWith(`"revision":1.5`), jobWith(`"revision":1e0`), jobWith(`"revision":99999999999999999999`), jobWith(`"revision":"1"`), jobWith(`"saved_at":1`), jobWith(`"saved_before":"a"`), jobWith(`"saved_before":[1]`),
		jobWith(`"machines":[]`), jobWith(`"machines":"a"`), jobWith(`"machines":{"rows":{}}`), jobWith(`"machines":{"rows":["a"]}`), jobWith(`"machines":{"header":[["a"]]}`), jobWith(`"machines":{"first_row":"2"}`), jobWith(`"machines":{"rows":[["a"]["b"]]}`), jobWith(`"machines":{"rows":[["a" "b"]]}`),
		`{"format":"shimsheet job","version":7}`, `{"version":1}`, `{"format":null}`, `{"format":"x"}`, `{"format":7}`, `{"format":"shimsheet job","version":"1"}`,
	}
	for _, text := range refused {
		if _, err := againstStdlib(t, text); err == nil {
			t.Errorf("%.160q: taken", text)
		} else if refusedOnPurpose(err) {
			t.Errorf("%.160q: %v", text, err)
		}
	}
}

// A part that would be lost is an error: a sheet whose name is misspelt, one that stands there twice. Seen: "machine" for "machines" opened as a job without a machine, and of two sheets of one name the first was gone.
func TestNoPartIsLost(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{jobWith(`"machine":{"rows":[["a"]]}`), `"machine" is no part of a job`}, {jobWith(`"machines":{"row":[["a"]]}`), `"row" is no part of a job`}, {jobWith(`"x":[]`), `"x" is no part of a job`},
		{jobWith(`"machines":{"rows":[["a"]]},"machines":{"rows":[["b"]]}`), `"machines" stands here a second time`}, {jobWith(`"machines":{"rows":[["a"]]},"Machines":{"rows":[["b"]]}`), `"Machines" stands here a second time`},
		{jobWith(`"machines":{"rows":[["a"]],"ROWS":[["b"]]}`), `"ROWS" stands here a second time`}, {jobWith(`"machines":{"rows":[],"rows":[]}`), "a second time"}, {jobWith(`"id":"b"`), "a second time"}, {jobWith(`"machines":null,"machines":{}`), "a second time"},
		{jobWith(`"views":` + strings.Repeat("[", 1100) + strings.Repeat("]", 1100)), "within each other"},
	} {
		if _, err := againstStdlib(t, c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.160s: %v, want %s", c.text, err, c.says)
		}
	}
}

// A fault of a saved job is told with its line and byte, and with what would be right there.
func TestBrokenJobs(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"{\"format\":\"shimsheet job\",\n\n\"version\":x}", "damaged in line 3, near byte 39: `x` stands where a number belongs"},
		{"{\n\"format\":\"shimsheet job\"", "line 2, near byte 27: it ends where `,` or `}` belongs"},
		{jobOf(`7`), "a number stands where a text in quotation marks belongs"},
		{jobOf(`"a" "b"`), "`\"` stands where `,` or `]` belongs"},
		{jobOf("\"a\x00\""), "the control character 0x00 stands in a text"},
		{jobOf(`"a\q"`), "a backslash"},
		{jobWith(`"revision":1.5`), "1.5 is not a whole number"},
		{jobOf(`"a"`) + "é", "`é` stands where the end belongs"},
		{"", "this is not a saved job, or it is damaged: it ends where an object belongs"},
	} {
		if err := new(Job).Open(c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s:\n%v, want %s", c.text, err, c.says)
		}
	}
}

// A row that grows must not write into the next.
func TestRowsShareNoRoom(t *testing.T) {
	j := new(Job)
	if err := j.Open(jobWith(`"machines":{"rows":[["a"],["b"]]}`)); err != nil {
		t.Fatal(err)
	}
	if _ = append(j.Machines.Rows[0], "x"); j.Machines.Rows[1][0] != "b" {
		t.Error("rows share room")
	}
}

// Whatever text comes, it is taken and understood as encoding/json (of the Go project) does, or refused.
func FuzzOpenJob(f *testing.F) {
	for _, s := range []string{
		`{"format":"shimsheet job","version":1,"id":"a","machines":{"name":"Machines","first_row":2,"header":["A"],"rows":[["1","é"],[],["a\\u003cb\\n\\ud83d\\ude00"]]}}`,
		jobWith(`"machines":{"rows":[["x"]],"name":"M"},"stock":{"rows":[]},"views":{"machines":"w"}`),
		jobWith(`"machines":{"rows":[["x"]],"rows":[["y"]]}`), jobWith(`"machines":{"Rows":[["x"]]},"Machines":{"rows":[["y"]]}`), jobWith(`"machines":{"rows":null}`) + " ",
		jobOf(`"\ud800"`), jobOf(`1`), jobOf("\"\xff\""), jobWith(`"machines":{"rows":[["a"]],"first_row":1.5}`), jobWith(`"saved_before":["a"],"revision":-1,"x":1e5`),
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { againstStdlib(t, s) })
}

// What is saved opens, cell by cell as it was.
func TestSavedJobOpens(t *testing.T) {
	j := NewJob()
	j.Machines = &Table{Name: "Machines", Header: []string{"Machine", "P&ID"}, FirstRow: 2, Rows: [][]string{{"a<b", "x\ty\n"}, {}, {"é\u2028", "", "\\\"z"}}}
	j.Stock = &Table{Name: "Stock", Header: []string{"Thickness"}, FirstRow: 2, Rows: [][]string{{"0.1"}}}
	b, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	back, err := againstStdlib(t, string(b))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(tidy(back), tidy(j)) {
		t.Fatalf("%+v", back.Machines)
	}
}
