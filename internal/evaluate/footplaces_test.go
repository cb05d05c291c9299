package evaluate

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// A foot whose place on the Feet sheet and the columns of its machine cannot both be true leaves the machine without shims, and what the number could be in is said. Seen: Along 12 and 36, which
// were inches, of a machine whose columns have its feet at 300 and 800 mm were read as 12 and 36 mm without a word, and so were 0 and 500 from a tape that began at the front feet. 12 in is 304.8 mm
// (NIST SP 811).
func TestFeetElsewhereThanTheColumns(t *testing.T) {
	head := "Machine,Foot,Along,Across,Gap\n"
	four := func(front, rear, across string) string {
		return head + "pump,front 9," + front + "," + across + ",0\npump,front 3," + front + "," + across + ",0\npump,rear 9," + rear + "," + across + ",0\npump,rear 3," + rear + "," + across + ",0\n"
	}
	for _, c := range []struct {
		text, told string
		refused    bool
	}{
		{four("300", "800", "200"), "", false},
		{four("305", "795", ""), "", false}, // two people with two tapes
		{four("12", "32", "200"), "\"12\" under Along puts the foot front 9 12 mm from the coupling, and the columns of its machine put it at 300 mm: both cannot be; in in it would be 304.8 mm", true},
		{four("0.3", "0.8", "200"), "in m it would be 300 mm", true},
		{four("12 mm", "32 mm", "200"), "put it at 300 mm: both cannot be [", true},
		{four("0", "500", "200"), "\"500\" under Along puts the foot rear 9 500 mm from the coupling, and the columns of its machine put it at 800 mm", true},
		{head + "pump,1,12,-200,0\npump,2,12,200,0\npump,3,32,-200,0\npump,4,32,200,0\n", "have its feet from 300 mm to 800 mm; in in it would be 304.8 mm", true},
		{head + "pump,1,0,-200,0\npump,2,0,200,0\npump,3,500,-200,0\npump,4,500,200,0\n", "is \"0\" under Along right?", false},
		{head + "pump,1,300,-200,0\npump,2,300,200,0\npump,3,550,-200,0\npump,4,800,200,0\n", "", false},
		{four("300", "800", "8"), "The feet stand 16 mm apart across, and 500 mm along the machine", false},
	} {
		_, r := grown(t, reverse, job.FeetSheet.String(), c.text)
		told := ""
		for _, p := range r.Problems {
			told += p.Text.String() + " [" + p.Hint.String() + "]\n"
		}
		if (r.Foot(r.Front) == nil) != c.refused || !strings.Contains(told, c.told) || c.told == "" && strings.Contains(told, "right?") {
			t.Errorf("%s: refused %v\n%s", c.text, r.Foot(r.Front) == nil, told)
		}
	}
	// Where the columns say nothing the feet stand where Along says: 24 mm from foot to foot is asked about.
	for text, told := range map[string]bool{four("12", "36", ""): true, four("300", "800", ""): false} {
		_, r := grown(t, change(reverse, "Coupling to front feet", "Front to rear feet"), job.FeetSheet.String(), text)
		if got := strings.Contains(toldBy(r.Problems), "is \"24 mm\" right?"); got != told {
			t.Errorf("%s: %v\n%s", text, got, toldBy(r.Problems))
		}
	}
}
