package workbook

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// The demo, as it is and otherwise: in inches, with a decimal comma and hardly a piece in the box, and without a stock of its own.
func otherDemos(t *testing.T) map[string]*made {
	return map[string]*made{
		"metric": demoBook(t, ""),
		"inch":   demoWith(t, "Setting,Value\nUnits,inch\nSpare allowance,10 %\nCold temperature,14 °C\n", nil),
		"comma, little stock": demoWith(t, "Setting;Value\nUnits;metric\nDecimal sign;comma\nCold temperature;14 °C\nSpare allowance;20 %\nPack pieces at most;4\n", func(j *job.Job) {
			for _, k := range job.SheetKinds() { // numbers as they are typed there
				tab := j.Table(k)
				for r := range tab.Rows {
					for c, s := range tab.Rows[r] {
						info := columnAt(tab, k, c)
						if _, err := strconv.ParseFloat(s, 64); err == nil && info != nil && (numeric(info.Quantity) || info.Key == "pack_in_place") {
							tab.Rows[r][c] = strings.Replace(s, ".", ",", 1)
						}
						if info != nil && info.Key == "pieces_on_hand" && k == job.StockSheet {
							tab.Rows[r][c] = []string{"1", "3", "", "0"}[r%4]
						}
					}
				}
			}
			j.Stock.Header = append(j.Stock.Header, "Lamination [mm]")
			lam := make([]string, len(j.Stock.Header))
			lam[0], lam[1], lam[len(lam)-1] = "2,50", "3", "0,05"
			j.Stock.Rows = append(j.Stock.Rows, lam)
		}),
		"no stock": demoWith(t, "", func(j *job.Job) { j.Stock = nil }),
	}
}

// Pick list and order list say what the command's lists say, foot by foot and line by line, in the same pieces and words; and each row is at one with itself: what is to be done follows from what comes out and goes in, the pieces are those
// named, the rest is what goes in less what comes out less what was wanted, and a foot is pushed as the Results sheet has it of its machine.
func TestListsAreTheCommands(t *testing.T) {
	did := map[string]int{}
	for what, m := range otherDemos(t) {
		u := job.QThickness.Unit(m.ev.Inch())
		list := func(name string) *results.List {
			l, err := results.NewList(m.ev, name, nil)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		number := func(s string) float64 { // as the lists write it
			if s == "" {
				return math.NaN()
			}
			v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimPrefix(strings.Replace(s, ",", ".", 1), "+"), "−", "-"), 64)
			if err != nil {
				t.Fatalf("%q is no number", s)
			}
			return v
		}
		sum := func(s string) (v float64, n int) {
			if s == "" {
				return 0, 0
			}
			for _, p := range strings.Split(s, " + ") {
				v += number(p)
				n++
			}
			return v, n
		}
		machines := map[string]map[string]any{}
		for _, x := range m.doc["machines"].([]any) {
			x := x.(map[string]any)
			machines[x["machine"].(string)] = x
		}
		want, got := list("pick"), tableIn(t, m.f, "Pick list", "Machine", "Foot")
		steps := results.StepShims(m.ev)
		if len(got) != len(want.Rows)+len(steps) {
			t.Fatalf("%s: %d lines for %d feet and %d bent ones", what, len(got), len(want.Rows), len(steps))
		}
		for i, w := range want.Rows {
			c, r := got[i].cell, &got[i]
			who := fmt.Sprintf("%s: %s, %s", what, c["Machine"], c["Foot"])
			if c["Machine"] != w[0] || c["Foot"] != w[1] || c["Done"] != "" {
				t.Fatalf("%s: the command's list has %q", who, w)
			}
			raw := func(name string) float64 { // in the sheet's unit
				if c[name] == "" {
					return math.NaN()
				}
				v, err := strconv.ParseFloat(c[name], 64)
				if err != nil {
					t.Fatalf("%s: %s is %q", who, name, c[name])
				}
				return v
			}
			rise, step := raw("To rise by"), 0.0051
			if m.ev.Inch() {
				step = 0.51
			}
			if v := number(w[3]); !(math.Abs(rise-v) < step) && !(math.IsNaN(rise) && math.IsNaN(v)) {
				t.Errorf("%s rises by %v, the command has %s", who, rise, w[3])
			}
			if c["Pack then"] != w[5] && w[5] != "0" {
				t.Errorf("%s: the pack is %q then, the command has %q", who, c["Pack then"], w[5])
			}
			do, together := strings.CutSuffix(c["Do"], ", chosen together")
			if together != strings.HasSuffix(w[2], ", chosen together") {
				t.Errorf("%s: %q, the command has %q", who, c["Do"], w[2])
			}
			status := strings.TrimSuffix(w[2], ", chosen together")
			expect := "nothing"
			switch {
			case status == "short of stock" || status == "waits for its machine" || strings.HasPrefix(status, "no pack") || status == "below the bare base":
				expect = status
			case c["Take out"] != "" && c["Put in"] != "":
				expect = "exchange"
			case c["Take out"] != "":
				expect = "take out"
			case c["Put in"] != "":
				expect = "add"
			}
			if do != expect {
				t.Errorf("%s: %q; out comes %q, in goes %q, the command says %q", who, do, c["Take out"], c["Put in"], w[2])
			}
			did[do]++
			off := raw("Off by")
			if words, all := strings.CutSuffix(c["Take out"], " in all, by the pieces found there"); all {
				out := number(words)
				if c["Put in"]+c["Pack then"]+c["Pieces"] != "" || math.Abs(-out-rise-off) > 0.0011/u.ToBase(1) || !strings.Contains(w[4], words) {
					t.Errorf("%s: %v", who, c)
				}
				did["by the pieces found there"]++
			} else if !math.IsNaN(rise) && !strings.HasPrefix(status, "no pack") && status != "below the bare base" {
				out, _ := sum(c["Take out"])
				in, _ := sum(c["Put in"])
				_, n := sum(c["Pack then"])
				if c["Pack then"] == "0" {
					n = 0
				}
				if c["Pieces"] != "" && raw("Pieces") != float64(n) {
					t.Errorf("%s: %s pieces are %q", who, c["Pieces"], c["Pack then"])
				}
				if c["Pieces"] != "" && math.Abs(in-out-rise-off) > 0.0011/u.ToBase(1) {
					t.Errorf("%s: %g goes in, %g comes out, it should rise by %g and is off by %g", who, in, out, rise, off)
				}
				did["added up"]++
			}
			// Pushes are those of the machine.
			x := machines[c["Machine"]]
			end, _, _ := strings.Cut(c["Foot"], " ")
			move, known := x[end+"_move_mm"].(float64)
			um, _ := x["u_"+end+"_move_mm"].(float64)
			if _, plan := x["train"].(map[string]any); plan || !known || end != "front" && end != "rear" {
				continue
			}
			row := m.ev.Row(want.At[i])
			side := map[bool]string{true: row.Side3, false: row.Side9}[move > 0]
			if side == "" {
				side = map[bool]string{true: "3 o'clock", false: "9 o'clock"}[move > 0]
			}
			switch {
			case row.Stays():
				if c["Then move"]+c["Towards"] != "" {
					t.Errorf("%s stays, and is moved %q", who, c["Then move"])
				}
			case math.Abs(move) < um:
				if c["Then move"] != "" || c["Towards"] != "leave" {
					t.Errorf("%s: moved by %q towards %q; it is %g ± %g", who, c["Then move"], c["Towards"], move, um)
				}
				did["leave"]++
			default:
				if math.Abs(r.num(t, "Then move")-math.Abs(move)) > 1e-9 || c["Towards"] != side {
					t.Errorf("%s: moved by %q towards %q; it is %g towards %s", who, c["Then move"], c["Towards"], move, side)
				}
				did["moved"]++
			}
		}
		for i, s := range steps {
			c := got[len(want.Rows)+i].cell
			for name, text := range map[string]string{"Machine": s.Machine, "Foot": s.Foot, "Do": "step shims, cut to size", "Put in": s.Text, "Take out": "", "Pack then": "", "Pieces": "", "Towards": "", "Size": "", "Done": "", "To rise by": "", "Off by": "", "Then move": ""} {
				if c[name] != text {
					t.Errorf("%s: %s of the step shims is %q, want %q", what, name, c[name], text)
				}
			}
			did["steps"]++
		}
		want, got = list("order"), tableIn(t, m.f, "Order list", "Thickness", "Pieces to add")
		if len(got) != len(want.Rows) {
			t.Fatalf("%s: %d lines of the order list for %d", what, len(got), len(want.Rows))
		}
		all := map[string]float64{}
		for i, w := range want.Rows {
			c := got[i].cell
			for k, name := range map[int]string{0: "Thickness", 1: "Pieces to add", 2: "On hand", 4: "Short by", 5: "Order, spares included", 6: "Couplings"} {
				have, is := c[name], w[k]
				if (k == 4 || k == 5) && is == "0" {
					is = ""
				}
				if k == 0 {
					is = strings.Replace(is, ",", ".", 1)
					if v, err := strconv.ParseFloat(is, 64); err == nil {
						is = strconv.FormatFloat(v, 'f', -1, 64)
					}
				}
				if have != is {
					t.Errorf("%s: %s of line %d is %q, the command has %q", what, name, i+1, have, is)
				}
				if v, err := strconv.ParseFloat(have, 64); err == nil {
					all[name] += v
				}
			}
			if size, _, _ := strings.Cut(w[7], " laminated"); c["Size"] != strings.TrimSuffix(size, ",") {
				t.Errorf("%s: size of line %d is %q, the command has %q", what, i+1, c["Size"], w[7])
			}
			if strings.Contains(w[7], "laminated") != strings.HasPrefix(c["Kind"], "laminated, layers of ") || !strings.HasPrefix(c["Kind"], "laminated") && !strings.HasPrefix(c["Kind"], "plain") {
				t.Errorf("%s: line %d is %q, the command has %q", what, i+1, c["Kind"], w[7])
			}
			class := "" // as the Stock sheet has it of that line
			if o := m.j.Stock; o != nil && i < len(o.Rows) {
				for k, h := range o.Header {
					if info := job.FindColumn(job.StockSheet, h); info != nil && info.Key == "strip_class" {
						class = o.Cell(i, k)
					}
				}
			}
			if _, said, _ := strings.Cut(strings.TrimPrefix(c["Kind"], "laminated, "), ", "); class != "" && said != class || class == "" && strings.HasPrefix(c["Kind"], "plain") && c["Kind"] != "plain" {
				t.Errorf("%s: line %d is %q, its strip class is %q", what, i+1, c["Kind"], class)
			}
			if class != "" {
				did["strip classes"]++
			}
			did[strings.Trim(strings.Fields(c["Kind"])[0], ",")]++
			if c["Short by"] != "" {
				did["lines short"]++
			}
		}
		rows, err := m.f.GetRows("Order list")
		if err != nil {
			t.Fatal(err)
		}
		last := append(rows[len(rows)-1], "", "", "", "", "", "", "")
		for k, name := range map[int]string{1: "Pieces to add", 3: "Short by", 4: "Order, spares included"} {
			if last[0] != "All" || last[k] != strconv.FormatFloat(all[name], 'f', -1, 64) {
				t.Errorf("%s: all of %s are %q, the lines have %g", what, name, last[k], all[name])
			}
		}
		pick, err := m.f.GetRows("Pick list")
		if err != nil {
			t.Fatal(err)
		}
		for name, line := range map[string]string{"pick": pick[1][0], "order": rows[1][0]} { // what is said above them
			for _, n := range list(name).Notes {
				if strings.Contains(n, "step shims") || strings.Contains(n, "bent") || name == "pick" && strings.HasPrefix(n, "Couplings inside") || strings.Contains(n, "served") || len(n) == 0 {
					continue
				}
				if !strings.Contains(line, n) && !served(m.ev, n) {
					t.Errorf("%s: the %s list does not say %q: %s", what, name, n, line)
				}
			}
		}
		top, err := m.f.GetRows("Results")
		if err != nil {
			t.Fatal(err)
		}
		notes := strings.Join(m.ev.PackNotes(), " ")
		if notes != "" && (len(top[4]) == 0 || top[4][0] != notes) || notes == "" && top[4][0] != "Machine" {
			t.Errorf("%s: below the cautions the results say %q, want %q", what, top[4], notes)
		}
		if notes != "" {
			did["notes on packs"]++
		}
		a, err := m.ev.Allocate(nil)
		if err != nil {
			t.Fatal(err)
		}
		left := fmt.Sprintf(" Couplings inside their limits, which are left out: %d.", a.Left)
		bent := fmt.Sprintf(" Bent feet that need step shims as well, cut to size and not counted here: %d.", len(steps))
		_, assumed := m.ev.Stock()
		if strings.Contains(pick[1][0], left) != (a.Left > 0) || strings.Contains(rows[1][0], bent) != (len(steps) > 0) || strings.Contains(rows[1][0], "The job lists no stock; usual thicknesses were assumed, not counted.") != assumed {
			t.Errorf("%s: %d inside, %d bent feet, stock assumed: %v; said is\n%s\n%s", what, a.Left, len(steps), assumed, pick[1][0], rows[1][0])
		}
		if assumed != (what == "no stock") {
			t.Errorf("%s: stock assumed: %v", what, assumed)
		}
	}
	for what, n := range map[string]int{"add": 20, "exchange": 4, "take out": 2, "nothing": 2, "short of stock": 20, "waits for its machine": 1, "below the bare base": 2, "moved": 30, "leave": 1, "added up": 100, "by the pieces found there": 1, "steps": 2, "lines short": 3, "notes on packs": 1, "strip classes": 6, "laminated": 1, "plain": 30} {
		if did[what] < n {
			t.Errorf("%d feet: %s; all: %v", did[what], what, did)
		}
	}
}

// served says whether a note tells which machines are served, which the workbook leaves to the command.
func served(ev *sentences.Teller, note string) bool {
	a, err := ev.Allocate(nil)
	if err != nil {
		return false
	}
	for _, s := range ev.ServedNotes(a) {
		if s == note {
			return true
		}
	}
	return false
}

// A list that there is not is refused with the names of all there are, each of which can be had. Seen: three of six were named.
func TestNoSuchList(t *testing.T) {
	m := demoBook(t, "")
	_, err := results.NewList(m.ev, "picks", nil)
	if err == nil {
		t.Fatal("there is a list of picks")
	}
	for _, name := range results.Lists {
		if !strings.Contains(err.Error(), " "+name) {
			t.Errorf("%v does not name %s", err, name)
		}
		if _, err := results.NewList(m.ev, name, nil); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What the pick list says of the feet of a machine that is Stationary on its row, which the plan of a train moves, is what the sheet Moves says of them, foot by foot; the machine that must not move is left as it is.
func TestPicksOfTrains(t *testing.T) {
	j := job.NewJob()
	for k, text := range map[job.SheetKind]string{
		job.MachinesSheet: "Machine,Train,Stationary,Side at 3,Side at 9,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H,Stationary near support,Stationary far support\n" +
			"motor,T,pump,river,wall,line,1480,300,500,0.4,-0.3,0.2,0.6,200,700\n",
		job.TrainsSheet: "Train,Machine,May move,Plan\nT,motor,no,as set\nT,pump,yes,\n", job.StockSheet: "Thickness,Pieces on hand\n0.05,50\n0.1,50\n0.5,50\n",
	} {
		tab, _, err := job.ReadDelimited(k.String(), []byte(text), 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.SplitHeader(k)
		j.SetTable(k, tab)
	}
	ev := work(t, j)
	out, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	picks := tableIn(t, f, "Pick list", "Machine", "Foot")
	moves := tableIn(t, f, "Moves", "Train", "Machine")
	pump := 0
	for i := range picks {
		p := &picks[i]
		if p.cell["Machine"] != "pump" {
			if p.cell["Do"] != "nothing" || p.cell["Then move"] != "" || p.cell["Towards"] != "leave" {
				t.Errorf("%v, and it must not move", p.cell)
			}
			continue
		}
		for k := range moves {
			if m := &moves[k]; m.cell["Machine"] == "pump" && strings.HasPrefix(p.cell["Foot"], m.cell["Foot"]) {
				pump++
				v := m.num(t, "Move")
				side := map[bool]string{true: "river", false: "wall"}[v > 0]
				if math.Abs(p.num(t, "Then move")-math.Abs(v)) > 1e-9 || p.cell["Towards"] != side || math.Abs(v) < 0.01 || math.Abs(p.num(t, "To rise by")-m.num(t, "Shim")) > 1e-9 {
					t.Errorf("%v, the sheet Moves has %v", p.cell, m.cell)
				}
			}
		}
	}
	if pump != 4 || len(picks) != 8 {
		t.Errorf("%d lines for %d feet of the pump; problems %v", len(picks), pump, ev.Row(0).Problems)
		for _, m := range moves {
			t.Log(m.cell)
		}
	}
}
