package sentences

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// A does is what a person reads of one foot: the pieces that come out and those that go in, thickest first.
type does struct{ take, put string }

// readPieces reads "0.50 + 0.10" or "0.50".
func readPieces(t testing.TB, s string) string {
	t.Helper()
	var list []float64
	for _, w := range strings.Split(s, "+") {
		v, err := strconv.ParseFloat(strings.TrimSpace(w), 64)
		if err != nil {
			t.Fatalf("%q is no list of pieces", s)
		}
		list = append(list, v)
	}
	slices.Sort(list)
	return fmt.Sprint(list)
}

func numbersText(list []float64) string {
	list = slices.Clone(list)
	slices.Sort(list)
	return fmt.Sprint(list)
}

const noPieces = "[]"

// readDo reads what the cells say is to be done under a foot.
func readDo(t testing.TB, s string) does {
	t.Helper()
	d := does{noPieces, noPieces}
	for _, part := range strings.Split(s, ", ") {
		switch {
		case part == "short of stock", part == "nothing", part == "":
		case strings.HasPrefix(part, "take out "):
			d.take = readPieces(t, part[len("take out "):])
		default:
			d.put = readPieces(t, strings.TrimPrefix(part, "put in "))
		}
	}
	return d
}

var (
	saidAdd   = regexp.MustCompile(`^Add ([\d.]+) mm under (both (front|rear|further) feet|[a-z0-9 ]+?)(?: \(([^)]*)\))?;`)
	saidOut   = regexp.MustCompile(`^Take out ([\d.]+) mm under (both (front|rear|further) feet|[a-z0-9 ]+?);`)
	saidAlone = regexp.MustCompile(`^Add ([\d. +]+) mm under ([a-z0-9 ]+)(?:\.|, for)`)
	saidUnder = regexp.MustCompile(`^Under ([a-z0-9 ]+): (.*?)(?:; then|, for)`)
	saidBolt  = regexp.MustCompile(`^Under the flange at (bolt \d+) \([^)]*\): ([\d.]+) mm(?: \(([^)]*)\))?\.`)
)

// readSentences reads the sentences of one machine.
func readSentences(t testing.TB, list []Sentence) map[string]does {
	out := map[string]does{}
	put := func(feet, pair string, d does) {
		if pair == "" {
			out[feet] = d
			return
		}
		if pair == "further" {
			pair = "further 1"
		}
		out[pair+" 9"], out[pair+" 3"] = d, d
	}
	for _, s := range list {
		if s.Kind != SentenceDo {
			continue
		}
		if m := saidAdd.FindStringSubmatch(s.Text); m != nil {
			pieces := m[4]
			if pieces == "" {
				pieces = m[1]
			}
			put(m[2], m[3], does{noPieces, readPieces(t, pieces)})
		} else if m := saidOut.FindStringSubmatch(s.Text); m != nil {
			put(m[2], m[3], does{readPieces(t, m[1]), noPieces})
		} else if m := saidAlone.FindStringSubmatch(s.Text); m != nil {
			put(m[2], "", does{noPieces, readPieces(t, m[1])})
		} else if m := saidBolt.FindStringSubmatch(s.Text); m != nil {
			pieces := m[3]
			if pieces == "" {
				pieces = m[2]
			}
			if d := (does{noPieces, readPieces(t, pieces)}); d.put != "[0]" {
				put(m[1], "", d)
			}
		} else if m := saidUnder.FindStringSubmatch(s.Text); m != nil {
			put(m[1], "", readDo(t, m[2]))
		}
	}
	return out
}

// readPair reads a cell of a pair: what is done under each of its feet.
func readPair(t testing.TB, pair, cell string, into map[string]does) {
	if !strings.Contains(cell, ": ") {
		for _, side := range []string{" 9", " 3"} {
			into[pair+side] = readDo(t, cell)
		}
		return
	}
	for _, part := range strings.Split(cell, "; ") {
		side, do, _ := strings.Cut(part, ": ")
		into[pair+" "+side] = readDo(t, do)
	}
}

// wantedPacks is what is done under the feet of row i, by the one source.
func wantedPacks(e *Teller, i int) map[string]does {
	out := map[string]does{}
	for _, p := range e.Packs(i) {
		take, put := p.Take, p.Put
		if p.Change.Status == packs.ChangeUnlisted {
			take, put = []float64{p.Sum}, nil
		}
		if d := (does{numbersText(take), numbersText(put)}); d != (does{noPieces, noPieces}) {
			out[p.Foot] = d
		}
	}
	return out
}

// TestOnePackForAFoot gathers the pieces of each foot from every output, as a person reads them, and holds them against each other. They once differed in eleven
// places: columns, sentences, JSON and CSV had each foot's pack from a full box, with Front pack the alignment's alone beside the pack of the single foot, and the
// lists that of the shared-out stock.
//
// evidence: calc=packs: the same everywhere grade=regression count=12 source=the outputs of one job read back and held against each other, machine by machine
func TestOnePackForAFoot(t *testing.T) {
	e := work(t, packsJob(t))
	if s, words := e.PacksFrom(); s != evaluate.FullBox || !strings.Contains(words, "from a full box") {
		t.Error(s, words)
	}
	samePacks(t, e, "from a full box")
	before := wantedPacks(e, 1)
	if _, err := e.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	s, words := e.PacksFrom()
	if s != evaluate.SharedOut || words != "The packs are from the stock shared out over the whole job." {
		t.Error(s, words)
	}
	if after := wantedPacks(e, 1); after["front 9"] == after["front 3"] || before["front 9"] == after["front 9"] {
		t.Errorf("the stock is not scarce enough to try anything: %v, %v", before, after)
	}
	samePacks(t, e, "shared out")
	sameLists(t, e)
}

// samePacks holds columns, sentences, JSON and CSV against Packs.
func samePacks(t *testing.T, e *Teller, when string) {
	t.Helper()
	col := map[string]int{}
	for i, c := range job.ResultColumns() {
		col[c.Key] = i
	}
	doc := machines(t, e)
	var csv bytes.Buffer
	if err := e.ResultsCSV(&csv); err != nil {
		t.Fatal(err)
	}
	back, _, err := job.ReadDelimited("Machines", csv.Bytes(), 0)
	if err != nil || !back.SplitHeader(job.MachinesSheet) {
		t.Fatal(err)
	}
	together := 0
	for i := range e.Len() {
		r := e.Row(i)
		want := wantedPacks(e, i)
		check := func(where string, got map[string]does) {
			t.Helper()
			for f, d := range got {
				if d == (does{noPieces, noPieces}) {
					delete(got, f)
				}
			}
			for f := range want {
				if strings.HasPrefix(f, "bolt") && where != "sentences" && where != "JSON packs" {
					got[f] = want[f] // has no column
				}
			}
			if fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s, %s, %s: %v, want %v", when, r.Name, where, got, want)
			}
		}
		cell := func(key string) string { return string(e.AppendResultText(nil, i, col[key])) }
		stays := r.Stays() && r.Feet == nil // its columns are for information
		check("sentences", readSentences(t, e.Sentences(i)))
		if !stays {
			got := map[string]does{}
			readPair(t, "front", cell("front_pack"), got)
			readPair(t, "rear", cell("rear_pack"), got)
			if len(r.Further) > 0 {
				readPair(t, "further 1", cell("further_packs"), got)
			}
			check("columns", got)
			got = map[string]does{}
			for k, h := range back.Header {
				for pair, name := range map[string]string{"front": "Front pack [mm]", "rear": "Rear pack [mm]", "further 1": "Further packs [mm]"} {
					if h == name {
						readPair(t, pair, back.Cell(i, k), got)
					}
				}
			}
			check("CSV", got)
		}
		if r.Feet != nil {
			got := map[string]does{}
			for _, part := range strings.Split(cell("feet_packs"), "; ") {
				foot, do, _ := strings.Cut(part, ": ")
				got[foot] = readDo(t, do)
			}
			check("Pack of each foot", got)
		}
		check("JSON packs", jsonPacks(t, doc[i], want))
		told := fmt.Sprint(e.Sentences(i))
		if r.Together {
			together++
			if !strings.Contains(told, "chosen together") || !strings.Contains(cell("packs_from"), "chosen together") || doc[i]["packs_together"] != true {
				t.Errorf("%s: nobody says that the packs were chosen together", r.Name)
			}
			if strings.Contains(told, "nearest pack") {
				t.Errorf("%s: a pack comes near, and yet %s", r.Name, told)
			}
		}
		if r.Stays() && regexp.MustCompile(`Push|both front|to zero|After that`).MatchString(told) {
			t.Errorf("%s stays, and yet %s", r.Name, told)
		}
		if len(want) > 0 && !strings.Contains(told, "The packs are from ") {
			t.Errorf("%s: nobody says where the packs come from: %s", r.Name, told)
		}
	}
	if together != 2 {
		t.Errorf("%d machines chosen together", together)
	}
}

// jsonPacks reads the pieces of a machine's JSON, and holds its other keys against them.
func jsonPacks(t *testing.T, m map[string]any, want map[string]does) map[string]does {
	t.Helper()
	list := func(v any) []float64 {
		var out []float64
		l, _ := v.([]any)
		for _, x := range l {
			out = append(out, x.(float64))
		}
		return out
	}
	of := func(o map[string]any) does {
		d := does{numbersText(list(o["take_mm"])), numbersText(list(o["put_mm"]))}
		if o["status"] == "remove, pieces not listed" {
			sum := 0.0
			for _, x := range list(o["take_mm"]) {
				sum += x
			}
			d.take = numbersText([]float64{sum})
			if sum == 0 {
				d.take = noPieces
			}
		}
		return d
	}
	got := map[string]does{}
	for _, p := range m["packs"].([]any) {
		o := p.(map[string]any)
		got[o["foot"].(string)] = of(o)
	}
	for _, p := range m["feet"].([]any) {
		if o := p.(map[string]any); o["status"] != nil {
			if d, f := of(o), o["foot"].(string); d != got[f] && d != (does{noPieces, noPieces}) {
				t.Errorf("%v: feet have %v under %s, packs %v", m["machine"], d, f, got[f])
			}
		}
	}
	if !strings.Contains(fmt.Sprint(m["packs_from"]), "for information") {
		for _, pair := range []string{"front", "rear"} {
			if v := m[pair+"_pack_mm"]; v != nil && len(list(v)) > 0 {
				for _, side := range []string{" 9", " 3"} {
					if want[pair+side].put != numbersText(list(v)) {
						t.Errorf("%v: %s_pack_mm is %v, want %v", m["machine"], pair, v, want[pair+side])
					}
				}
			} else if v == nil && m[pair+"_remove_mm"] == nil && want[pair+" 9"] == want[pair+" 3"] && want[pair+" 9"].put != "" && want[pair+" 9"].take == noPieces {
				t.Errorf("%v: %s_pack_mm is null, and both feet get %v", m["machine"], pair, want[pair+" 9"])
			}
		}
	}
	return got
}

// sameLists holds the lists, the terminal's table and the printed cells against Packs.
func sameLists(t *testing.T, e *Teller) {
	t.Helper()
	for _, name := range []string{"pick", "feet"} {
		l, err := e.List(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		foot, do := 1, len(l.Header)-2
		got := map[string]does{}
		for _, row := range l.Rows {
			if d := readDo(t, row[do]); d != (does{noPieces, noPieces}) {
				got[row[0]+" "+row[foot]] = d
			}
		}
		want := map[string]does{}
		for i := range e.Len() {
			r := e.Row(i)
			for f, d := range wantedPacks(e, i) {
				if name == "pick" || r.Feet != nil {
					want[r.Name+" "+f] = d
				}
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("list %s: %v\nwant %v", name, got, want)
		}
		notes := strings.Join(l.Notes, "\n")
		for _, w := range []string{"from the stock shared out over the whole job", "short of, to be ordered", "chosen together", "D together, E together soft"} {
			if !strings.Contains(notes, w) {
				t.Errorf("list %s does not say %q: %s", name, w, notes)
			}
		}
	}
	var b bytes.Buffer
	if err := e.ResultsText(&b); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(b.String(), "\n") {
		switch {
		case strings.HasPrefix(line, "B the same") && !strings.Contains(line, "9: 0.25 + 0.05 + 0.10 + 0.10; 3: 0.50"),
			strings.HasPrefix(line, "F inside") && (strings.Count(line, "stays") != 4 || strings.Contains(line, "-0.03")),
			strings.HasPrefix(line, "H tiny") && strings.Count(line, "leave") != 2:
			t.Error(line)
		}
	}
	if !strings.Contains(b.String(), "from the stock shared out over the whole job") {
		t.Error(b.String())
	}
	var doc struct {
		Picks []struct {
			Machine, Foot string
			Shim          float64   `json:"shim_mm"`
			Error         float64   `json:"error_mm"`
			Net           float64   `json:"net_mm"`
			Put           []float64 `json:"put_mm"`
		} `json:"pick_list"`
	}
	b.Reset()
	if err := e.ResultsJSON(&b); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil || len(doc.Picks) == 0 {
		t.Fatal(err)
	}
	for _, p := range doc.Picks {
		near(t, p.Machine+" "+p.Foot+" is off by", p.Error, map[bool]float64{false: p.Net - p.Shim, true: p.Shim - p.Net}[p.Net < 0], 1e-9)
		if want := wantedPacks(e, e.RowOf(p.Machine))[p.Foot].put; want != "" && want != numbersText(p.Put) {
			t.Errorf("%s %s: %v, want %s", p.Machine, p.Foot, p.Put, want)
		}
	}
}

// TestSharingIsTakenBack: after a change what is shown is from a full box and says so, and nothing of the sharing-out is left; trying a cell loses none of it.
func TestSharingIsTakenBack(t *testing.T) {
	e := work(t, packsJob(t))
	all := func() (s string) {
		for i := range e.Len() {
			s += fmt.Sprint(wantedPacks(e, i), e.Row(i).Calc.After, e.Row(i).AfterVerdict)
		}
		return s
	}
	box := all()
	if _, err := e.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	shared := all()
	if box == shared {
		t.Fatal("sharing out changes nothing")
	}
	text := string(e.AppendSharing(nil))
	col := slices.Index(e.Job().Machines.Header, "Given offset V")
	tried := slices.Clone(e.Job().Machines.Rows[0])
	tried[col] = "-0.60"
	e.Try(0, tried, func() {
		if got := e.Row(0).Calc.Feet[0].Shim; got < 0.6 {
			t.Error("not tried:", got)
		}
	})
	if all() != shared {
		t.Error("trying a cell left something behind")
	}
	e.RowsChanged(0, 1)
	if s, _ := e.PacksFrom(); s != evaluate.FullBox || all() != box {
		t.Error(s, "after a change the packs are not those of a full box")
	}
	// As the page takes it from a worker.
	if err := e.TakeSharing(text, "on 1 May, 09:10"); err != nil || all() != shared {
		t.Error(err, "what came from the worker is not what it worked out")
	}
	if _, words := e.PacksFrom(); words != "The packs are from the stock shared out over the whole job, on 1 May, 09:10." {
		t.Error(words)
	}
	e.Refresh()
	if all() != box {
		t.Error("after a change of another sheet the packs are not those of a full box")
	}
	for _, bad := range []string{"x", "99\t0\t0\t0\t0\t0\t1 2 3 4\t\t\t\t\t\n", "0\t9\t0\t0\t0\t0\t1 2 3 4\t\t\t\t\t\n", "0\t0\t0\t0\t0\t0\t1 2 3\t\t\t\t\t\n", "0\t0\t77\t0\t0\t0\t1 2 3 4\t\t\t\t\t\n"} {
		if e.TakeSharing(bad, "") == nil || !e.WantsSharing() {
			t.Errorf("%q was taken", bad)
		}
	}
}

// TestUncountedStockIsNotShared: where no piece is counted there is nothing to share out, and both ways say so alike.
func TestUncountedStockIsNotShared(t *testing.T) {
	e, _ := grown(t, reverse, "Stock", "Thickness\n0.05\n0.1\n0.5\n")
	_, before := e.PacksFrom()
	if _, err := e.Allocate(nil); err != nil || e.Shares() || e.WantsSharing() {
		t.Error(err)
	}
	if s, after := e.PacksFrom(); s != evaluate.NotCounted || before != after || !strings.Contains(after, "not counted") {
		t.Error(s, after)
	}
	e.FailSharing("the box burnt down")
	e, _ = grown(t, reverse, "Stock", "Thickness,Pieces on hand\n0.05,4\n0.1,4\n0.5,4\n")
	e.FailSharing("the box burnt down")
	if s, words := e.PacksFrom(); s != evaluate.FullBox || !strings.Contains(words, "the box burnt down") || e.WantsSharing() {
		t.Error(s, words)
	}
}

// A Stock sheet that cannot be read is told wherever packs are: they are of a box that is assumed. Seen: the pick list said no more than "a stock whose pieces are not counted", and the order list that the job lists no stock.
func TestStockSheetUnread(t *testing.T) {
	for text, unread := range map[string]bool{"Shim,Lot\nA,3\nB,4\n": true, "Thickness,Pieces on hand\nthick,3\n": true, "Thickness\n0.05\n0.1\n0.5\n": false, "": false} {
		var sheets []string
		if text != "" {
			sheets = []string{"Stock", text}
		}
		e, _ := grown(t, reverse, sheets...)
		const want = "The sheet Stock could not be read: the packs are of usual thicknesses, assumed and not counted."
		for where, said := range map[string]string{"pick list": strings.Join(e.PackNotes(), " "), "order list": strings.Join(e.OrderNotes(), " "), "machine": fmt.Sprint(e.Sentences(0))} {
			if strings.Contains(said, want) != unread {
				t.Errorf("%q, %s: %s", text, where, said)
			}
		}
	}
}
