package evaluate

import (
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// A droop of −0.05 mm under the header Moveable sag at 6 was once left out without a word, and the machine judged without it.
func TestMisspelt(t *testing.T) {
	job.LoadColumns()
	for header, want := range map[string]string{
		"Moveable sag at 6": "Movable sag at 6", "Moveable sag at 6 [mm]": "Movable sag at 6", "Movable rm 12": "Movable rim 12", "Sationary rim 3": "Stationary rim 3", "Sped": "",
		"Coupling to front foot": "Coupling to front feet", "Copling to front feets": "Coupling to front feet", "Offset limt": "Offset limit", "Graduaton": "Graduation", "Spacer lenght": "Spacer length",
		// What lists have besides, and is no slip.
		"Comment 2": "", "Location": "", "Power kW": "", "Weight": "", "Movable rim 4": "", "Bearing": "", "Model": "", "Status": "", "Foreman": "", "Vendor": "",
		"Room": "", "Building": "", "Serial": "", "Motor": "", "Driver": "", "Checked": "", "Inspector": "", "Plant": "", "Unit no": "", "Frame": "", "Torque": "", "Grease": "",
	} {
		got := ""
		if c := nearColumn(job.MachinesSheet, header); c != job.NoColumn {
			got = c.Info().Name
		}
		if got != want {
			t.Errorf("%s is taken for %q, want %q", header, got, want)
		}
	}
	list := "Machine,Speed,Moveable sag at 6,Movable rim 12\nP 1,1480,-0.05,0\n"
	tell := func(list string) (n int) {
		tab, _, err := job.ReadDelimited("Machines", []byte(list), ',')
		if err != nil {
			t.Fatal(err)
		}
		tab.SplitHeader(job.MachinesSheet)
		j := job.NewJob()
		j.Machines = tab
		for _, p := range NewEvaluator(j).Problems() {
			if p.Severity == job.Error && p.Row == 1 && p.Col == 2 && strings.Contains(p.Text.String(), `"Moveable sag at 6" is not a known column`) && strings.Contains(p.Text.String(), "Movable sag at 6") {
				n++
			}
		}
		return n
	}
	if n := tell(list); n != 1 {
		t.Errorf("told %d times", n)
	}
	if n := tell(strings.Replace(list, "-0.05", "", 1)); n != 0 {
		t.Error("an empty column is told")
	}
	if n := tell(strings.Replace(list, "Speed", "Movable sag at 6", 1)); n != 0 {
		t.Error("told although the column is there")
	}
}

// A distance of 1e308 was once told as "too short an arc", and a NUL byte in a saved job without its place.
func TestMessagesThatMisled(t *testing.T) {
	list := "Machine,Speed,Coupling to movable plane,Coupling to stationary plane,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n" +
		"P 1,1480,1e308,100,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
	tab, _, err := job.ReadDelimited("Machines", []byte(list), ',')
	if err != nil {
		t.Fatal(err)
	}
	tab.SplitHeader(job.MachinesSheet)
	j := job.NewJob()
	j.Machines = tab
	r := NewEvaluator(j).Row(0)
	said := ""
	for i := range r.Problems {
		said += r.Problems[i].String() + "\n"
	}
	if !strings.Contains(said, `"1e308" is too large a number`) || strings.Contains(said, "too short an arc") {
		t.Error(said)
	}
	for _, text := range []string{"{\"format\":\"shimsheet job\",\n\"version\":1,\x00\"machines\":{\"header\":[\"Machine\"],\"rows\":[[\"P 1\"]]}}",
		"{\"format\":\"shimsheet job\",\"version\":1,\"machines\":{\"header\":[\"Machine\"],\"rows\":[\n[\"P\x00 1\"]]}}"} {
		if err := new(job.Job).UnmarshalJSON([]byte(text)); err == nil || !strings.Contains(err.Error(), "damaged in line 2, near byte ") {
			t.Error(err)
		}
	}
}
