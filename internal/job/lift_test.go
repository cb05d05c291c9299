package job

import (
	"reflect"
	"testing"
)

// Whatever the quick way takes, encoding/json (of the Go project) understands in the same way.
func FuzzLiftRows(f *testing.F) {
	for _, s := range []string{
		`{"format":"shimsheet job","version":1,"id":"a","machines":{"name":"Machines","first_row":2,"header":["A"],"rows":[["1","é"],[],["a\\u003cb\\n\\ud83d\\ude00"]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["x"]],"name":"M"},"stock":{"rows":[]},"views":{"machines":"w"}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["x"]],"rows":[["y"]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"Rows":[["x"]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["x"]]},"Machines":{"rows":[["y"]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":null}} `,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["\ud800"]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["a",1]]}}`,
		`{"format":"shimsheet job","version":1,"machines":{"rows":[["a"]],"first_row":1.5}}`,
		"{\"format\":\"shimsheet job\",\"version\":1,\"machines\":{\"rows\":[[\"\xff\"]]}}",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		text, rows, ok := liftRows(s)
		if !ok {
			return
		}
		quick, slow := Job{ID: "none"}, Job{ID: "none"}
		e1, e2 := quick.unmarshal([]byte(text), rows), slow.unmarshal([]byte(s), nil)
		if (e1 == nil) != (e2 == nil) {
			t.Fatalf("quick: %v, slow: %v", e1, e2)
		}
		if e1 != nil {
			return
		}
		quick.ID = slow.ID // drawn anew where the text has none
		if !reflect.DeepEqual(tidy(&quick), tidy(&slow)) {
			t.Fatalf("quick %+v, slow %+v", quick.Machines, slow.Machines)
		}
	})
}

// tidy makes empty lists alike: a row without cells may be nil or empty.
func tidy(j *Job) map[SheetKind]Table {
	out := map[SheetKind]Table{}
	for k := range NumSheets {
		if t := j.Table(k); t != nil {
			c := *t
			c.Rows = nil
			for _, r := range t.Rows {
				c.Rows = append(c.Rows, append([]string{}, r...))
			}
			out[k] = c
		}
	}
	return out
}

// A saved job goes the quick way, cell by cell as it was.
func TestSavedJobIsLifted(t *testing.T) {
	j := NewJob()
	j.Machines = &Table{Name: "Machines", Header: []string{"Machine", "P&ID"}, FirstRow: 2, Rows: [][]string{{"a<b", "x\ty\n"}, {}, {"é\u2028", "", "\\\"z"}}}
	j.Stock = &Table{Name: "Stock", Header: []string{"Thickness"}, FirstRow: 2, Rows: [][]string{{"0.1"}}}
	b, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	if _, rows, ok := liftRows(string(b)); !ok || len(rows) != 2 {
		t.Fatalf("%v %v", rows, ok)
	}
	back := new(Job)
	if err := back.UnmarshalJSON(b); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(tidy(back), tidy(j)) {
		t.Fatalf("%+v", back.Machines)
	}
}
