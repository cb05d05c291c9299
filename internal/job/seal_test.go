package job

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

func sealed(t *testing.T) string {
	t.Helper()
	j := NewJob()
	j.Machines = &Table{Name: "Machines", FirstRow: 2, Header: []string{"Machine", "Speed", "Movable rim 3"}, Rows: [][]string{{"Pump 1", "1480", "-0.35"}, {"Größe \u2028 <b>", "990", "0,05"}}}
	j.Views = map[string]string{"machines": "view1;W120,Machine;"}
	j.Saved("2026-11-29T10:00:00.000Z")
	j.Saved("2026-11-29T11:00:00.000Z")
	b, err := j.Seal()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The seal is that of the text before it, by the standard library; it goes through opening and back.
func TestSeal(t *testing.T) {
	text := sealed(t)
	body, _, _ := strings.Cut(text, `,"length":`)
	if want := fmt.Sprintf(`%s,"length":%d,"sha256":"%x"}`, body, len(body), sha256.Sum256([]byte(body))); text != want {
		t.Fatalf("sealed as %s", text)
	}
	j := new(Job)
	if ok, err := j.OpenChecked(text); err != nil || !ok {
		t.Fatal(ok, err)
	}
	if len(j.SavedBefore) != 1 || j.SavedBefore[0] != "2026-11-29T10:00:00.000Z" || j.Revision != 2 {
		t.Errorf("%+v", j)
	}
	if again, err := j.Seal(); err != nil || string(again) != text {
		t.Errorf("sealed anew as %s, %v", again, err)
	}
	plain, _ := j.MarshalJSON()
	if ok, err := new(Job).OpenChecked(string(plain)); ok || err != nil {
		t.Errorf("without a seal, as earlier versions wrote it: %v, %v", ok, err)
	}
	if ok, err := new(Job).OpenChecked(text + "\n"); !ok || err != nil {
		t.Errorf("with a line end behind it: %v, %v", ok, err)
	}
}

// 16 of 25 flipped bytes changed a job in silence, before there was a seal. Every flip and every cut is told.
func TestFlippedJob(t *testing.T) {
	text := sealed(t)
	told := func(what, s string) (err error) {
		t.Helper()
		ok, err := new(Job).OpenChecked(s)
		if ok {
			t.Errorf("%s: opened as whole", what)
		}
		return err
	}
	for i := range len(text) {
		for _, bit := range []byte{1, 2, 32, 128} {
			b := []byte(text)
			b[i] ^= bit
			var d *Damage
			if err := told("a flip", string(b)); !errors.As(err, &d) {
				t.Errorf("byte %d %q as %q: %v", i, text[i], b[i], err)
			}
		}
	}
	for n := range len(text) - 1 {
		if n > 0 {
			if told("a cut", text[:n]) == nil {
				t.Errorf("cut at %d: opened", n)
			}
		}
	}
	r := rand.New(rand.NewPCG(12, 12))
	for range 100 {
		i, k := r.IntN(len(text)), r.IntN(len(text))
		_ = told("a piece taken out", text[:min(i, k)]+text[max(i, k)+1:]) // without all of the seal it is as from an earlier version, which is told too
	}
}

func TestJobInPage(t *testing.T) {
	page := func(job string) string {
		return `<!doctype html><title>x</title><script type="application/json" id="job">` + job + `</script><script type="application/json" id="part-manifest">{}</script>` +
			strings.Repeat("program ", 100) + `<script type="application/json" id="part-end">"end"</script></body></html>`
	}
	whole := page(`{"a":1}`)
	for _, c := range []struct {
		page, job, err string
		whole          bool
	}{
		{whole, `{"a":1}`, "", true},
		{whole[:len(whole)-80], `{"a":1}`, "", false},
		{whole[:85], "", "cut short within the job", false},
		{whole[:75], "", "cut short within the job", false},
		{page("null"), "", "empty page", false},
		{"<html><p>news</html>", "", "no job in it", false},
		{`<script type="application/json" id="job">{"old":1}</script>…</html>`, `{"old":1}`, "", true}, // an earlier version's
	} {
		job, ok, err := JobInPage(c.page)
		if job != c.job || ok != c.whole || (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%.120s: %q, whole %v, %v", c.page, job, ok, err)
		}
	}
}
