package main

import (
	"bytes"
	"compress/flate"
	"encoding/json"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// host packs as the page's browser does, and counts.
func host(p *program) (packed, unpacked *int) {
	packed, unpacked = new(int), new(int)
	p.inflate = func(b []byte, size int, sum uint32, dst []byte) error {
		out, err := io.ReadAll(flate.NewReader(bytes.NewReader(b)))
		if err == nil && (len(out) != size || crc32.ChecksumIEEE(out) != sum) {
			err = errors.New("damaged")
		}
		*unpacked++
		copy(dst, out)
		return err
	}
	p.deflate = func(pieces ...[]byte) ([]byte, uint32, error) {
		var b bytes.Buffer
		w, _ := flate.NewWriter(&b, 6)
		for _, x := range pieces {
			w.Write(x)
		}
		w.Close()
		*packed++
		return b.Bytes(), crc32.ChecksumIEEE(bytes.Join(pieces, nil)), nil
	}
	return
}

func ask(t *testing.T, p *program, r request, pieces *[]piece) reply {
	t.Helper()
	last := 0.0
	out, err := p.answer(&r, func(x float64) {
		if x < last || x > 1 {
			t.Errorf("%s: progress %v behind %v", r.op, x, last)
		}
		last = x
	}, func(x piece) { *pieces = append(*pieces, x) })
	if err != nil {
		t.Fatalf("%s: %v", r.op, err)
	}
	if (r.op == "read" || r.op == "write") && last < 0.9 && len(r.data) > 4096 {
		t.Errorf("%s: told to %v", r.op, last)
	}
	return out
}

// over hands the job that a program has read to its writing, piece by piece as the page does, and gives it as one.
func over(t *testing.T, p *program) *job.Job {
	t.Helper()
	var pieces []piece
	ask(t, p, request{op: "take"}, &pieces)
	for i, x := range pieces {
		if x.head != "" != (i == 0) {
			t.Fatal("the head comes first, and once")
		}
		if i == 0 {
			ask(t, p, request{op: "head", head: x.head}, nil)
		} else {
			ask(t, p, request{op: "rows", table: x.table, rows: x.rows}, nil)
		}
	}
	if last := pieces[len(pieces)-1]; last.table != 0 || last.progress != 1 {
		t.Errorf("the last piece is %d, %v", last.table, last.progress)
	}
	return p.coming
}

func TestAnswer(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	for _, lent := range []bool{false, true} {
		p := new(program)
		var packed, unpacked *int
		if lent {
			packed, unpacked = host(p)
		}
		var got struct {
			Preview struct {
				Own    bool
				Sheets []struct{ Name, Kind string }
			}
			Refused string
			Rows    [4]int
		}
		read := func(r request) {
			t.Helper()
			got.Refused = ""
			if err := json.Unmarshal(ask(t, p, r, nil).json, &got); err != nil {
				t.Fatal(err)
			}
		}
		read(request{op: "read", name: "job.xlsx", data: data})
		if len(got.Preview.Sheets) != 12 || got.Preview.Sheets[0].Kind != "job" || !got.Preview.Own || got.Rows[0] != 26 || got.Rows[2] == 0 {
			t.Errorf("%+v", got)
		}
		// What is refused keeps the other choices.
		read(request{op: "read", choices: `{"sheets":[{"sheet":"Machines","kind":""},{"sheet":"Stock","kind":"readings"}]}`})
		if !strings.Contains(got.Refused, "list of machines") || got.Preview.Sheets[1].Kind != "" {
			t.Errorf("%+v", got)
		}
		for _, s := range got.Preview.Sheets {
			if s.Name == "Stock" && s.Kind != "readings" {
				t.Errorf("%+v", s)
			}
		}
		if _, err := p.answer(&request{op: "take"}, nil, nil); err == nil {
			t.Error("a refused job was handed over")
		}
		read(request{op: "read", choices: `{"sheets":[{"sheet":"Stock","kind":""}]}`})
		if j := over(t, p); got.Refused != "" || j.Stock != nil || len(j.Machines.Rows) != 26 {
			t.Fatalf("%+v", got)
		}
		want, _ := p.coming.MarshalJSON()
		file := ask(t, p, request{op: "write", options: `{"live":true}`}, nil).file
		read(request{op: "read", name: "job.xlsx", data: file})
		if back, _ := over(t, p).MarshalJSON(); !bytes.Equal(back, want) {
			t.Error("the job that comes back differs")
		}
		if added := ask(t, p, request{op: "write", data: data}, nil).file; len(added) <= len(data) {
			t.Error("nothing was added")
		}
		ask(t, p, request{op: "warm"}, nil)
		if lent && (*packed == 0 || *unpacked == 0) {
			t.Errorf("the host packed %d and unpacked %d parts", *packed, *unpacked)
		}
	}
}

// What was worked out and made ahead is what would have been written, and nothing of it outlives what it was made of.
func TestMadeAhead(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	const plain, live = `{"live":false}`, `{"live":true}`
	write := func(r request, ahead ...request) []byte {
		t.Helper()
		p := new(program)
		host(p)
		ask(t, p, request{op: "read", name: "job.xlsx", data: data}, nil)
		over(t, p)
		for _, a := range ahead {
			if out := ask(t, p, a, nil); out.file != nil || out.json != nil {
				t.Errorf("%s answers", a.op)
			}
		}
		had := p.made
		r.op = "write"
		file := ask(t, p, r, nil).file
		if kept := had != nil && &had[0] == &file[0]; kept != (len(ahead) > 1 && ahead[len(ahead)-1].op == "make" && r.data == nil && r.options == ahead[len(ahead)-1].options) {
			t.Errorf("what was made ahead is taken: %v", kept)
		}
		if p.coming != nil || p.worked != nil || p.made != nil {
			t.Error("kept for nobody")
		}
		return file
	}
	work, makePlain := request{op: "work"}, request{op: "make", options: plain}
	more := request{op: "rows", table: 0, rows: string(job.AppendPacked(nil, [][]string{{"Late pump"}}))}
	for _, r := range []request{{options: plain}, {options: live}, {options: plain, data: data}} {
		want := write(r)
		for _, ahead := range [][]request{{work}, {work, makePlain}, {work, makePlain, makePlain}} {
			if got := write(r, ahead...); !bytes.Equal(got, want) {
				t.Errorf("%s, data %v, behind %d: another workbook", r.options, r.data != nil, len(ahead))
			}
		}
		if got, want := write(r, work, makePlain, more), write(r, more); !bytes.Equal(got, want) || bytes.Equal(got, write(r)) {
			t.Errorf("%s, data %v: without the row that came later", r.options, r.data != nil)
		}
	}
}

// The text of a workbook is the job that a person gets who opens it; of one that cannot be read whole there is none.
func TestText(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	p := new(program)
	host(p)
	ask(t, p, request{op: "read", name: "job.xlsx", data: data}, nil)
	want := over(t, p)
	var got struct{ Text string }
	if err := json.Unmarshal(ask(t, p, request{op: "text", name: "job.xlsx", data: data}, nil).json, &got); err != nil {
		t.Fatal(err)
	}
	j := new(job.Job)
	if sealed, err := j.OpenChecked(got.Text); err != nil || sealed {
		t.Fatal(sealed, err)
	}
	for _, k := range job.SheetKinds() {
		a, b := j.Table(k), want.Table(k)
		if (a == nil) != (b == nil) || a != nil && (!slices.Equal(a.Header, b.Header) || !slices.EqualFunc(a.Rows, b.Rows, slices.Equal)) {
			t.Errorf("sheet %v differs", k)
		}
	}
	if j.ID != want.ID {
		t.Error("the identity of the job is lost:", j.ID)
	}
	for _, bad := range [][]byte{[]byte("no workbook"), data[:len(data)/2]} {
		if out, err := p.answer(&request{op: "text", name: "x.xlsx", data: bad}, func(float64) {}, nil); err == nil {
			t.Errorf("it is read: %.80s", out.json)
		}
	}
}

// A part that the host takes for whole although its checksum is another would be a damaged workbook read.
func TestHostRefuses(t *testing.T) {
	p := new(program)
	host(p)
	ask(t, p, request{op: "read", name: "x.csv", data: []byte("Machine,Speed,Note\n" + strings.Repeat("A,1480,"+strings.Repeat("long ", 40)+"\n", 900))}, nil)
	over(t, p)
	file := ask(t, p, request{op: "write"}, nil).file
	for at := len(file) / 4; at < len(file)*3/4; at += 997 {
		bad := bytes.Clone(file)
		bad[at] ^= 0x20
		if out, err := p.answer(&request{op: "read", name: "x.xlsx", data: bad}, func(float64) {}, nil); err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("byte %d: %s %v", at, out.json, err)
		}
	}
}

func TestAnswerRefuses(t *testing.T) {
	for _, r := range []request{{op: "read", name: "x.xlsx", data: []byte("no")}, {op: "read", name: "x.xlsx"}, {op: "read", name: "x.csv", data: []byte("Machine"), choices: `{"sheet":[]}`},
		{op: "head", head: "{}"}, {op: "rows"}, {op: "work"}, {op: "make"}, {op: "write"}, {op: "take"}, {op: "erase"}} {
		p := new(program)
		if out, err := p.answer(&r, func(float64) {}, nil); err == nil || out.file != nil || out.json != nil || strings.Contains(err.Error(), "fault of the program") {
			t.Errorf("%s: %v", r.op, err)
		}
	}
	p := new(program)
	p.coming = job.NewJob()
	for _, r := range []request{{op: "write", options: "[]"}, {op: "rows", table: 4}, {op: "rows", table: -1}} {
		if _, err := p.answer(&r, func(float64) {}, nil); err == nil || strings.Contains(err.Error(), "fault of the program") {
			t.Errorf("%s: %v", r.op, err)
		}
	}
}

// deskStub is what the dialog of a file asks of the page.
type deskStub struct{}

func (deskStub) FileKeys(sheet string) (out []screens.MatchKey) {
	k, _ := screens.FileSheet(sheet)
	for _, c := range job.Columns() {
		if c.Sheet == k {
			out = append(out, screens.MatchKey{Key: c.Key, Name: c.Name, Units: []string{"mm"}})
		}
	}
	return out
}
func (deskStub) JobAtHand() (string, bool) { return "", true }

// What this program says of a file, the dialog of the page reads and shows: each sheet by its name, each column that is no result in its row with its letter, header, meaning, unit,
// first texts and count, each guess and question, each notice. Two programs that name a member differently would show nothing, without a word.
func TestDialogShowsWhatWasRead(t *testing.T) {
	const own = "Equip no;RPM;Cplg-FF;FF-RF;M 0;M 90;M 180;M 270;Pump;Motor;T;R;B;L\nP-1;1480;410;620;0;0,05;0,12;0,07;a;b;1;2;3;4\n"
	demo, err := os.ReadFile("../../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"own.csv": []byte(own), "job.xlsx": demo} {
		p := new(program)
		host(p)
		out := ask(t, p, request{op: "read", name: name, data: data}, nil)
		var want struct {
			Preview struct {
				Sheets []struct {
					Name, Kind, Why, Dimension string
					Columns                    []struct {
						Letter, Header, Name, Key, Unit, Guess, Because string
						Result                                          bool
						Filled                                          int
						Sample, Asked                                   []string
					}
				}
				Notices []struct{ Text, Hint string }
			}
			Rows []int
		}
		if err := json.Unmarshal(out.json, &want); err != nil {
			t.Fatal(err)
		}
		dialog := screens.NewOpenFile(deskStub{})
		dialog.Event(screens.Event{Name: "begin", Key: name})
		u := dialog.Event(screens.Event{Name: "read", Value: string(out.json)})
		body := u.Regions[0].Content.String()
		has := func(text string) {
			t.Helper()
			if text != "" && !strings.Contains(body, screens.Text(text).String()) {
				t.Errorf("%s: %q is not shown", name, text)
			}
		}
		columns, marks := 0, 0
		for _, s := range want.Preview.Sheets {
			has(s.Name)
			if s.Kind == "" {
				has(s.Why)
				continue
			}
			has(s.Dimension)
			for _, c := range s.Columns {
				if c.Result {
					continue
				}
				columns++
				for _, text := range append([]string{c.Header, c.Name, c.Because, strings.Join(c.Sample, " · ")}, c.Unit) {
					has(text)
				}
				has(words.Number(c.Filled))
				if c.Guess != "" || c.Asked != nil {
					marks++
				}
			}
		}
		for _, n := range want.Preview.Notices {
			has(n.Text)
			has(screens.Sentence(n.Hint))
		}
		taking, ok := dialog.Taking()
		if n := strings.Count(body, `<td class="letter">`); n != columns || columns < 10 || !ok || taking.Rows != want.Rows[0] || len(taking.Notices) != len(want.Preview.Notices) {
			t.Errorf("%s: %d rows for %d columns; %+v", name, n, columns, taking)
		}
		if name == "own.csv" && marks < 8 {
			t.Errorf("%d guesses and questions", marks)
		}
	}
}
