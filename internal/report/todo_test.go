package report

import (
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
)

// TestWhatToDoSaysThePacks reads the picture back and holds it to what the evaluator gives each foot: the same pieces, dashed where they come out, beside the foot they belong to and on its side;
// and to the sentences: the same push, its arrow pointing to the side that is named. The rule that 3 o'clock is to the right of whoever stands behind the movable machine is README's.
//
// evidence: calc=picture of what to do grade=identity count=20 source=the demo's machines: pieces, pushes and sides read back from the drawing
func TestWhatToDoSaysThePacks(t *testing.T) {
	ev := demo(t)
	feet, pushes := 0, 0
	for _, w := range []float64{338, 640} {
		for i := range ev.Len() {
			r := ev.Row(i)
			if ev.Todo(i).Missing != "" {
				if r.Kind == evaluate.MachineRow && r.Verdict == calc.Outside && len(ev.Packs(i)) > 0 {
					t.Errorf("%s: nothing is drawn", r.Name)
				}
				continue
			}
			list := parse(t, WhatToDo(nil, ev, i, Options{Width: w}))
			drawn := func(attr, name string) (texts []element) {
				for _, e := range list {
					if e.name == "text" && e.inside[attr] == name {
						texts = append(texts, e)
					}
				}
				return texts
			}
			for _, p := range ev.Packs(i) {
				if p.Pair < 0 && p.Single < 0 && p.Bolt < 0 {
					continue // of the other machine of a train: told in a sentence
				}
				f := drawn("data-foot", p.Foot)
				if len(f) == 0 {
					t.Errorf("%s: foot %s is not drawn", r.Name, p.Foot)
					continue
				}
				var words []string
				for _, e := range f {
					words = append(words, e.text)
				}
				all := strings.Join(words, " ")
				for _, piece := range p.Pieces {
					if s := string(ev.AppendPack(nil, piece)); p.Change.Status != packs.ChangeUnlisted && len(p.Keep) == 0 && !strings.Contains(all, s) {
						t.Errorf("%s, %s: piece %s is not in %q", r.Name, p.Foot, s, all)
					}
				}
				for _, piece := range p.Take {
					if s := string(ev.AppendPack(nil, piece)); !strings.Contains(all[strings.Index(all, "take out"):], s) {
						t.Errorf("%s, %s: piece %s does not come out in %q", r.Name, p.Foot, s, all)
					}
				}
				if nothing := len(p.Pieces)+len(p.Take) == 0; p.Bolt < 0 && nothing != strings.Contains(all, "leave as it is") {
					t.Errorf("%s, %s: %q of %v", r.Name, p.Foot, all, p.Pieces)
				}
				if p.Bolt < 0 && (strings.HasSuffix(p.Foot, " 3") != r.FromStationary) != (f[0].num(t, "x") > w/2) {
					t.Errorf("%s: %s is drawn on the other side", r.Name, p.Foot)
				}
				feet++
			}
			for _, s := range ev.Sentences(i) {
				if s.Kind != sentences.SentenceDo || !strings.HasPrefix(s.Text, "Push the ") {
					continue
				}
				word := strings.Fields(s.Text)[2]
				var line, tip element
				for _, e := range list {
					if e.inside["data-push"] != word {
						continue
					}
					switch e.name {
					case "line":
						line = e
					case "path":
						tip = e
					}
				}
				said := drawn("data-push", word)
				amount := slices.IndexFunc(said, func(e element) bool { return e.attr["class"] == "d-num" })
				if amount < 0 || !strings.Contains(s.Text, " "+said[amount].text+" towards ") {
					t.Errorf("%s: %q is not what is drawn: %v", r.Name, s.Text, said)
					continue
				}
				move := r.Calc.Feet[0].Move
				if word == "rear" {
					move = r.Calc.Feet[r.Rear].Move
				} else if word != "front" {
					continue
				}
				if right := line.num(t, "x2") > line.num(t, "x1"); right != (move > 0) || right != (coords(t, tip.attr["d"])[0] > w/2) {
					t.Errorf("%s: the %s push of %g points the other way", r.Name, word, move)
				}
				side := ev.SideName(r, move)
				if !strings.Contains(said[len(said)-1].text, side) {
					t.Errorf("%s: %q does not name %s", r.Name, said[len(said)-1].text, side)
				}
				pushes++
			}
		}
	}
	if feet < 100 || pushes < 40 {
		t.Errorf("only %d feet and %d pushes were looked at", feet, pushes)
	}
}
