package sentences

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// Feet that name a size get shims of it only, others those of the job's size or of the first of the box; where no foot and no setting names one, sizes are for people to read. Spelling does not matter.
func TestSizesOfShims(t *testing.T) {
	const box = "Stock: Thickness,Size\n0.1,75 x 75\n0.2,75 x 75\n0.06,75 x 75\n0.3,100 x 100\n0.05,100 x 100\n"
	feet := func(a, b string) string {
		return "Feet: Machine,Foot,Shim size\npump,front 9," + a + "\npump,rear 9," + b + "\n"
	}
	exact := "\nJob: Pack tolerance=0.001"
	cases(t, job.Error, lowRow, "", []jobCase{ // 0.36 and 0.46 mm
		{"", box + feet("", "") + exact, "feet.0.put_mm=[0.3,0.06] feet.1.put_mm=[0.2,0.2,0.06]"}, // 0.06 of one size beside 0.3 of another: nobody cares
		{"", box + feet("75x75", "") + exact, "feet.0.put_mm=[0.2,0.1,0.06] feet.1.put_mm=[0.2,0.2,0.06]"},
		{"", box + feet("", "75 X 75") + exact, "feet.0.put_mm=[0.2,0.1,0.06] feet.1.put_mm=[0.2,0.2,0.06]"},
		{"", box + feet("", "100 x 100") + exact, "feet.0.put_mm=[0.2,0.1,0.06] feet.1.net_mm=0.45 feet.1.put_mm=[0.3,0.05,0.05,0.05]"},
		{"", box + feet("", "") + exact + "\nShim size=100x100", "feet.0.net_mm=0.35 feet.1.put_mm=[0.3,0.05,0.05,0.05]"},
		{"", box + feet("75x75", "") + exact + "\nShim size=100x100", "feet.0.put_mm=[0.2,0.1,0.06] feet.1.put_mm=[0.3,0.05,0.05,0.05]"},
		{"", box + feet("50", "") + exact, "feet.0.status=null feet.0.shim_mm=0.36 feet.1.net_mm=0.46"}, // the box has none of these
	})
}

// A stock that no pack can be made of is told, on its sheet or on the Job sheet.
func TestNoPacksAtAll(t *testing.T) {
	cases(t, job.Error, lowRow, "", []jobCase{
		{"", "Stock: Thickness,Pieces\n0.1,0", "packs_from=null front_pack_mm=null packs.#=4 packs.0.status=null\nerror Stock: no packs can be made: the stock is empty (hint: look at the Stock sheet, Pack pieces at most and Pack tolerance)"},
		{"", "Stock: Thickness,Pieces,Size\n0.1,0,75\n0.2,3,100\nJob: Shim size=75", "packs_from=null\nerror Stock: no packs can be made: …"},
		{"", "Stock: Thickness,Pieces,Size\n0.1,0,75\n0.2,3,100\nJob: Shim size=100", "packs_from=full box"},
		{"", "Stock: Thickness\n0.1", "packs_from=stock not counted"}, {"", "Stock: Thickness,Pieces\n0.1,5", "packs_from=full box"}, {"", "Stock: Thickness\n0.1\nJob: Fewest thicknesses=yes", "packs_from=full box"},
	})
}

// fleet is a list of machines by their rise in mm, each foot of a machine asking for the same; a negative one asks for less. prio stands behind a slash: "0.3/1".
func fleet(t *testing.T, stock, settings string, rises ...string) *Teller {
	t.Helper()
	csv := "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Priority\n"
	for k, x := range rises {
		mm, prio, _ := strings.Cut(x, "/")
		v := "-" + mm
		if strings.HasPrefix(mm, "-") {
			v = mm[1:]
		}
		csv += fmt.Sprintf("%c,1480,line,%s,0,0,0,300,500,%s\n", 'A'+k, v, prio)
	}
	j := list(t, csv)
	with(t, j, job.StockSheet, stock)
	set := [][]string{{"Pack tolerance", "0.001"}}
	for _, s := range strings.Split(settings, ";") {
		if n, v, ok := strings.Cut(s, "="); ok {
			set = append(set, []string{strings.TrimSpace(n), strings.TrimSpace(v)})
		}
	}
	j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: set}
	return work(t, j)
}

// What the sharing-out of a small stock comes to, counted by hand: each machine has four feet.
func TestStockSharedByHand(t *testing.T) {
	type want struct {
		picks, left, asked, met int
		proof                   string
		notes                   []string
		orders                  string // of each line: used of on hand, missing, to order, feet, machines
	}
	for _, c := range []struct {
		name, stock, settings string
		rises                 []string
		want
	}{
		{"enough", "Thickness,Pieces on hand\n0.3,8\n0.5,4\n", "", []string{"0.3", "0.8", "0.01"}, want{8, 1, 2, 2, "The stock does for every foot: 8 feet have their packs.", nil, "0.3: 8 used 0 missing 0 to order 8 pieces 2 machines; 0.5: 4 used 0 missing 0 to order 4 pieces 1 machines; "}},
		{"nothing needed", "Thickness,Pieces on hand\n0.3,8\n", "", []string{"0.01", "0.02"}, want{0, 2, 0, 0, "No pieces are needed from the stock.", nil, "0.3: 0 used 0 missing 0 to order 0 pieces 0 machines; "}},
		{"one of two", "Thickness,Pieces on hand\n0.3,4\n", "", []string{"0.3", "0.3"}, want{8, 0, 2, 1, "The stock does not do for every machine: 1 of 2 are served whole, and no other sharing out by machines does better (proved).",
			[]string{"Machines served whole, 1: A.", "Machines not begun, 1: B, lacks 4 × 0.30 mm."}, "0.3: 4 used 4 missing 4 to order 8 pieces 2 machines; "}},
		{"by priority", "Thickness,Pieces on hand\n0.3,4\n", "", []string{"0.3/2", "0.3/1"}, want{8, 0, 2, 1, "The stock does not do for every machine: 1 of 2 are served whole (priority 1: 1 of 1, priority 2: 0 of 1), and no other sharing out by machines does better (proved).",
			[]string{"Machines served whole, 1: B (priority 1).", "Machines not begun, 1: A (priority 2), lacks 4 × 0.30 mm."}, "0.3: 4 used 4 missing 4 to order 8 pieces 2 machines; "}},
		{"none before none", "Thickness,Pieces on hand\n0.3,4\n", "", []string{"0.3", "0.3/9"}, want{8, 0, 2, 1, "The stock does not do for every machine: 1 of 2 are served whole (priority 9: 1 of 1, no priority: 0 of 1), and no other sharing out by machines does better (proved).",
			[]string{"Machines served whole, 1: B (priority 9).", "Machines not begun, 1: A, lacks 4 × 0.30 mm."}, "0.3: 4 used 4 missing 4 to order 8 pieces 2 machines; "}},
		{"in part", "Thickness,Pieces on hand\n0.3,6\n", "", []string{"0.3", "0.3"}, want{8, 0, 2, 1, "The stock does not do for every machine: 1 of 2 are served whole, and no other sharing out by machines does better (proved).",
			[]string{"Machines served whole, 1: A.", "Machines not begun, 1: B, lacks 2 × 0.30 mm."}, "0.3: 4 used 2 missing 2 to order 8 pieces 2 machines; "}}, // what does for half a machine is left in the box
		{"by feet", "Thickness,Pieces on hand\n0.3,6\n", "Share stock by=feet", []string{"0.3", "0.3"}, want{8, 0, 2, 1, "The stock does not do for every foot: 6 of 8 feet have their packs, and no other sharing out does better (proved).", []string{"Machines served whole, 1: A.", "Machines served in part, 1: B, lacks 2 × 0.30 mm."}, "0.3: 6 used 2 missing 2 to order 8 pieces 2 machines; "}},
		{"part and none", "Thickness,Pieces on hand\n0.3,6\n", "Share stock by=feet", []string{"0.3", "0.3", "0.3"}, want{12, 0, 3, 1, "The stock does not do for every foot: 6 of 12 feet have their packs, and no other sharing out does better (proved).", []string{"Machines served whole, 1: A.", "Machines served in part, 1: B, lacks 2 × 0.30 mm.", "Machines not begun, 1: C, lacks 4 × 0.30 mm."}, "0.3: 6 used 6 missing 6 to order 12 pieces 3 machines; "}},
		{"spare", "Thickness,Pieces on hand\n0.3,0\n", "Spare allowance=30 %", []string{"0.3"}, want{4, 0, 1, 0, "The stock does not do for every machine: 0 of 1 are served whole, and no other sharing out by machines does better (proved).", []string{"Machines not begun, 1: A, lacks 4 × 0.30 mm."}, "0.3: 0 used 4 missing 6 to order 4 pieces 1 machines; "}}, // 4 · 1.3, rounded up
		{"no pack", "Thickness,Pieces on hand\n0.3,20\n", "", []string{"0.3", "0.45"}, want{8, 0, 1, 1, "Feet that have their packs from the stock: 4. Feet for which no pack of these thicknesses is within the tolerance: 4; the nearest stands beside each, and its pieces are not counted.", nil, "0.3: 4 used 0 missing 0 to order 4 pieces 1 machines; "}},
		{"what comes out", "Thickness,Pieces on hand\n0.3,20\n", "", []string{"0.3", "-0.45"}, want{8, 0, 1, 1, "The stock does for every foot: 4 feet have their packs.", nil, "0.3: 4 used 0 missing 0 to order 4 pieces 1 machines; "}},
	} {
		e := fleet(t, c.stock, c.settings, c.rises...)
		a, err := e.Allocate(nil)
		if err != nil {
			t.Fatal(c.name, err)
		}
		asked, met := a.MachinesServed()
		orders := ""
		for _, o := range a.Orders {
			orders += fmt.Sprintf("%g: %d used %d missing %d to order %d pieces %d machines; ", o.Stock.MM, o.Used, o.Missing, o.Order, o.Pieces, o.Machines)
		}
		got := want{len(a.Picks), a.Left, asked, met, e.Proof(a), e.ServedNotes(a), orders}
		if fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", c.want) {
			t.Errorf("%s:\n%+v, by hand\n%+v", c.name, got, c.want)
		}
		for _, s := range a.Machines {
			r := e.Row(s.Row)
			if s.Machine != r.Name || s.Priority != r.Priority || s.Whole() != (s.Met == s.Asked) || s.Begun() != (s.Met > 0) {
				t.Errorf("%s: %+v", c.name, s)
			}
		}
		for _, p := range a.Picks {
			if p.Machine != e.Row(p.Row).Name {
				t.Errorf("%s: %+v", c.name, p)
			}
		}
	}
}
