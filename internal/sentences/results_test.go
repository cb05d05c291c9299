package sentences

import (
	"bytes"
	"encoding/json"
	"math"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

func FuzzJobJSON(f *testing.F) {
	f.Add([]byte(`{"format":"shimsheet job","version":1,"id":"x","machines":{"title":[["t"]],"header":["Machine","Speed"],"rows":[["P 1","1480"],[],null]},"settings":{"rows":[["Units","inch"]]}}`))
	f.Add([]byte(`{"format":"shimsheet job","version":0,"readings":{"rows":[["Machine","Sweep","Angle","Reading"],["P","Face","0","1"]]}}`))
	f.Add([]byte(`{"format":"shimsheet job","version":9}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var j job.Job
		if j.UnmarshalJSON(data) != nil {
			return
		}
		a, err := j.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		var k job.Job
		if err := k.UnmarshalJSON(a); err != nil {
			t.Fatalf("%v in %s", err, a)
		}
		if b, _ := k.MarshalJSON(); !bytes.Equal(a, b) {
			t.Fatalf("%s\n%s", a, b)
		}
		// Whatever it holds, it is worked out and written without a panic.
		e := work(t, &j)
		var out bytes.Buffer
		if err := e.ResultsJSON(&out); err != nil || !json.Valid(out.Bytes()) {
			t.Fatalf("%v: %s", err, &out)
		}
		for i := range e.Len() {
			e.Sentences(i)
			for c := range j.Machines.Width() {
				e.Meaning(i, c)
				e.CellProblem(i, c)
			}
		}
		e.ResultsCSV(&out)
		e.ResultsText(&out)
	})
}

// Shown in inch, results are divided by the definition of the inch (25.4 mm exactly); pieces of packs keep the job's unit, which is named; what
// goes into a file does not change.
func TestShownInInch(t *testing.T) {
	e, _ := one(t, reverse...)
	col := func(key string) int {
		for k, c := range job.ResultColumns() {
			if c.Key == key {
				return k
			}
		}
		t.Fatal(key)
		return 0
	}
	text := func(key string) string { return string(e.AppendResultText(nil, 0, col(key))) }
	var before, after bytes.Buffer
	if err := e.ResultsCSV(&before); err != nil {
		t.Fatal(err)
	}
	mm, ok := e.ResultNumber(0, col("offset_v"))
	front, rear := text("front_pack"), text("rear_pack")
	if !ok || front == "" || rear == "" {
		t.Fatalf("nothing to compare: %v, %q, %q", mm, front, rear)
	}
	e.ShowAs("inch")
	if mil, _ := e.ResultNumber(0, col("offset_v")); math.Abs(mil-mm/0.0254) > 1e-9 {
		t.Errorf("offset %v mm is shown as %v mil", mm, mil)
	}
	for key, was := range map[string]string{"front_pack": front, "rear_pack": rear} {
		if got := text(key); got != was+" mm" && got != was {
			t.Errorf("%s: %q, in mm %q", key, got, was)
		} else if strings.ContainsAny(was, "123456789") && got == was {
			t.Errorf("%s: %q without its unit", key, got)
		}
	}
	for _, s := range e.Sentences(0) {
		if s.Kind == SentenceDo && strings.HasPrefix(s.Text, "Take out ") && !strings.Contains(s.Text, " mm under") {
			t.Errorf("pieces without the job's unit: %s", s.Text)
		}
	}
	if err := e.ResultsCSV(&after); err != nil || after.String() != before.String() {
		t.Errorf("the file changed with what is shown: %v", err)
	}
	if e.ShowAs(""); text("front_pack") != front {
		t.Errorf("back: %q, before %q", text("front_pack"), front)
	}
}
