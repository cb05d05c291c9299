package sentences

import (
	"slices"
	"strings"
	"testing"
)

// What the gaps and rises of a machine's feet mean, what is to be done about it and why: every sentence, for each pattern and on both sides of what parts one from the next. The geometry is by hand: of four feet in a
// rectangle only front 9 + rear 3 − front 3 − rear 9 counts, and standing on three of them the fourth is off by that; three feet always stand; of six in two rows one in the middle stands off by its gap alone; a sole
// that opens by 0.2 mm over 80 mm has a slope of 2.5 mm/m. A gauge of 0.05 mm has a ± of 0.099 mm for a sum of four gaps.
func TestSoftFeetSaid(t *testing.T) {
	const (
		then    = "Tighten and measure the alignment again: it changes with the soft foot, and its shims come from the new readings."
		first   = "Mend the soft foot first, then measure the alignment again: it changes with it."
		corners = "Machine,Foot,Across,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3"
	)
	lines := func(s string) []string {
		if s == "" {
			return nil
		}
		return strings.Split(s, "\n")
	}
	for _, c := range []struct{ with, feet, head, do, why string }{
		{"", "Machine,Foot,Across,Gap\npump,front 9,-200,0.2\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.05 mm.\nSoft foot: add 0.10 mm under front 9.\nSoft foot: add 0.10 mm under rear 3.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nInstead of both shims, one foot alone can take all of it: 0.2 mm under front 9, or 0.2 mm under rear 3.\nSure: front 9 stands off 0.2 mm ± 0.099 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Across,Gap\npump,front 9,-200,0.06\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.05 mm.\nSoft foot: add 0.03 mm under front 9.\nSoft foot: add 0.03 mm under rear 3.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nInstead of both shims, one foot alone can take all of it: 0.06 mm under front 9, or 0.06 mm under rear 3.\nSoft foot not sure: front 9 stands off 0.06 mm ± 0.099 mm, against the limit of 0.05 mm; there may be none at all. Measure again, with a finer gauge or several times.\n" + first},
		{"", "Machine,Foot,Across,Gap\npump,front 9,-200,0.05\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0", "no soft foot",
			"Soft foot: none over the limit of 0.05 mm.",
			"No foot is over the limit.\nSoft foot not sure: front 9 stands off 0.05 mm ± 0.099 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit."},
		{"Soft foot limit=0.2", "Machine,Foot,Across,Gap\npump,front 9,-200,0.25\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.2 mm.\nSoft foot: add 0.125 mm under front 9.\nSoft foot: add 0.125 mm under rear 3.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nInstead of both shims, one foot alone can take all of it: 0.25 mm under front 9, or 0.25 mm under rear 3.\nSoft foot not sure: front 9 stands off 0.25 mm ± 0.099 mm, against the limit of 0.2 mm; it may be within the limit. Measure again, with a finer gauge or several times.\n" + first},
		{"Soft foot limit=0.2", "Machine,Foot,Across,Gap\npump,front 9,-200,0.18\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0", "no soft foot",
			"Soft foot: none over the limit of 0.2 mm.",
			"No foot is over the limit.\nSoft foot not sure: front 9 stands off 0.18 mm ± 0.099 mm, against the limit of 0.2 mm; it may be past the limit. Measure again, with a finer gauge or several times."},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,-200,0\npump,B,300,200,0\npump,C,550,-200,0.3\npump,D,800,-200,0\npump,E,800,200,0\npump,F,550,200,0", "one soft foot: C",
			"Before aligning: one soft foot (C); limit 0.05 mm.\nSoft foot: add 0.30 mm under C.\n" + then,
			"C alone stands off, by 0.3 mm.\nSoft foot not sure: A stands off 0 mm ± 0.099 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit.\n" + first},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,-200,0.4\npump,B,300,200,0\npump,C,550,-200,0.3\npump,D,800,-200,0\npump,E,800,200,0\npump,F,550,200,0.3", "several soft feet: A, C, E, F",
			"Before aligning: several soft feet (A, C, E, F); limit 0.05 mm.\nSoft foot: add 0.24 mm under A.\nSoft foot: add 0.22 mm under C.\nSoft foot: add 0.16 mm under E.\nSoft foot: add 0.38 mm under F.\n" + then,
			"A, C, E, F stand off in no simpler pattern.\nSure: C stands off 0.3 mm ± 0.078 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,-200,0.2\npump,B,300,200,0\npump,C,550,-200,0\npump,D,800,-200,0\npump,E,800,200,0\npump,F,550,200,0.3", "several soft feet: A, F",
			"Before aligning: several soft feet (A, F); limit 0.05 mm.\nSoft foot: add 0.20 mm under A.\nSoft foot: add 0.30 mm under F.\n" + then,
			"A and F stand off in no simpler pattern.\nSoft foot not sure: E stands off 0 mm ± 0.156 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit.\n" + first},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,-200,0.2\npump,B,300,200,0\npump,C,800,0,0.4", "no soft foot",
			"Soft foot: none over the limit of 0.05 mm.",
			"No foot is over the limit.\nThree feet always stand: what gaps they have only tips the machine.\nLimit of a soft foot: 0.05 mm."},
		{"", "Machine,Foot,Rise\npump,front 9,0.2\npump,front 3,0.01\npump,rear 9,0.01\npump,rear 3,0.01", "one soft foot: front 9",
			"Before aligning: one soft foot (front 9); limit 0.05 mm.\nSoft foot: about 0.19 mm under front 9, from its rise; measure the gap before cutting shims.\n" + then,
			"front 9 alone stands off, by 0.19 mm more than the other feet rise.\nSure: front 3 rises 0.01 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.2\npump,front 3,0.01\npump,rear 9,0.01\npump,rear 3,0.2", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.05 mm.\nSoft foot: about 0.10 mm under front 9, from its rise; measure the gap before cutting shims.\nSoft foot: about 0.10 mm under rear 3, from its rise; measure the gap before cutting shims.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nSure: front 3 rises 0.01 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.2\npump,front 3,0.01\npump,rear 9,0.2\npump,rear 3,0.01", "several soft feet: front 9, rear 9",
			"Before aligning: several soft feet (front 9, rear 9); limit 0.05 mm.\nSoft foot: about 0.19 mm under front 9, from its rise; measure the gap before cutting shims.\nSoft foot: about 0.19 mm under rear 9, from its rise; measure the gap before cutting shims.\n" + then,
			"front 9 and rear 9 stand off in no simpler pattern.\nSure: front 3 rises 0.01 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.2\npump,front 3,0.1\npump,rear 9,0.2\npump,rear 3,0.01", "several soft feet: front 9, front 3, rear 9",
			"Before aligning: several soft feet (front 9, front 3, rear 9); limit 0.05 mm.\nSoft foot: about 0.19 mm under front 9, from its rise; measure the gap before cutting shims.\nSoft foot: about 0.09 mm under front 3, from its rise; measure the gap before cutting shims.\nSoft foot: about 0.19 mm under rear 9, from its rise; measure the gap before cutting shims.\n" + then,
			"front 9, front 3, rear 9 stand off in no simpler pattern.\nSure: rear 3 rises 0.01 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.2\npump,front 3,0.19\npump,rear 9,0.2\npump,rear 3,0.2", "springing feet: front 9, front 3, rear 9, rear 3",
			"Before aligning: springing feet (front 9, front 3, rear 9, rear 3); limit 0.05 mm.\nAll feet rise by about 0.2 mm: feet or base bend under the bolts; no shim mends that.\n" + then,
			"Every foot rises, by about 0.2 mm: the feet or the base bend under the bolts. Shims do not mend that.\nSure: above the least rise front 9 rises 0.01 mm ± 0.012 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.055\npump,front 3,0.01\npump,rear 9,0.01\npump,rear 3,0.01", "one soft foot: front 9",
			"Before aligning: one soft foot (front 9); limit 0.05 mm.\nSoft foot: about 0.04 mm under front 9, from its rise; measure the gap before cutting shims.\n" + then,
			"front 9 alone stands off, by 0.045 mm more than the other feet rise.\nSoft foot not sure: front 9 rises 0.055 mm ± 0.008 mm, against the limit of 0.05 mm; it may be within the limit. Measure again, with a finer gauge or several times.\n" + first},
		{"", "Machine,Foot,Rise\npump,front 9,0.045\npump,front 3,0.01\npump,rear 9,0.01\npump,rear 3,0.01", "no soft foot",
			"Soft foot: none over the limit of 0.05 mm.",
			"No foot is over the limit.\nSoft foot not sure: front 9 rises 0.045 mm ± 0.008 mm, against the limit of 0.05 mm; it may be past the limit. Measure again, with a finer gauge or several times."},
		{"Graduation=0.1", "Machine,Foot,Rise\npump,front 9,0.055\npump,front 3,0.01\npump,rear 9,0.01\npump,rear 3,0.01", "one soft foot: front 9",
			"Before aligning: one soft foot (front 9); limit 0.05 mm.\nSoft foot: about 0.04 mm under front 9, from its rise; measure the gap before cutting shims.\n" + then,
			"front 9 alone stands off, by 0.045 mm more than the other feet rise.\nSoft foot not sure: front 9 rises 0.055 mm ± 0.058 mm, against the limit of 0.05 mm; there may be none at all. Measure again, with a finer gauge or several times.\n" + first},
		{"", "Machine,Foot,Rise,Rise after\npump,front 9,0.3,0.02\npump,front 3,0.01,0.02\npump,rear 9,0.01,0.01\npump,rear 3,0.01,0.01", "no soft foot; the piping pulls",
			"The piping pulls: freeing the flanges changed the rise of front 9 by 0.28 mm. Mend that before anything else; no shim does.\nSoft foot: none over the limit of 0.05 mm.",
			"The piping pulls: freeing the flanges changed the rise of front 9 by 0.28 mm. The pattern is that of the rises with the flanges freed.\nNo foot is over the limit.\nSure: front 9 rises 0.02 mm ± 0.008 mm, against the limit of 0.05 mm."},
		{"", "Machine,Foot,Rise,Rise after\npump,front 9,0.3,0.248\npump,front 3,0.01,0.02\npump,rear 9,0.01,0.01\npump,rear 3,0.01,0.01", "one soft foot: front 9; the piping pulls",
			"The piping pulls: freeing the flanges changed the rise of front 9 by 0.052 mm. Mend that before anything else; no shim does.\nBefore aligning: one soft foot (front 9); limit 0.05 mm.\nSoft foot: about 0.24 mm under front 9, from its rise; measure the gap before cutting shims.\n" + then,
			"The piping pulls: freeing the flanges changed the rise of front 9 by 0.052 mm, which is within the uncertainty of the limit. The pattern is that of the rises with the flanges freed.\nfront 9 alone stands off, by 0.238 mm more than the other feet rise.\nSure: front 3 rises 0.02 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Rise,Rise after\npump,front 9,0.3,0.32\npump,front 3,0.01,0.02\npump,rear 9,0.01,0.01\npump,rear 3,0.01,0.01", "one soft foot: front 9",
			"Before aligning: one soft foot (front 9); limit 0.05 mm.\nSoft foot: about 0.31 mm under front 9, from its rise; measure the gap before cutting shims.\n" + then,
			"The piping does not pull: freeing the flanges changed no rise by more than 0.02 mm.\nfront 9 alone stands off, by 0.31 mm more than the other feet rise.\nSure: front 3 rises 0.02 mm ± 0.008 mm, against the limit of 0.05 mm.\n" + first},
		{"", corners + ",Foot length,Foot width\npump,front 9,-200,0.3,0.1,0.3,0.1,100,80\npump,front 3,200,0,0,0,0,100,80\npump,rear 9,-200,0,0,0,0,100,80\npump,rear 3,200,0,0,0,0,100,80", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.05 mm.\nSoft foot: add 0.10 mm under front 9.\nUnder front 9 the gap opens towards the 9 o'clock edge: step shims from there, 0.05 mm over 75 % of the way, 0.05 mm over 50 % of the way, 0.05 mm over 25 % of the way.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nUnder front 9 the gap opens towards the 9 o'clock edge: 2.5 mm/m across.\nSoft foot not sure: rear 3 stands off 0 mm ± 0.231 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit.\n" + first},
		{"", corners + ",Foot length,Foot width\npump,front 9,-200,0,0,0,0,100,80\npump,front 3,200,0,0,0.2,0.2,100,80\npump,rear 9,-200,0,0,0,0,100,80\npump,rear 3,200,0,0,0,0,100,80", "angled foot: front 3",
			"Before aligning: angled foot (front 3); limit 0.05 mm.\nUnder front 3 the gap opens towards the free-end edge: step shims from there, 0.05 mm over 75 % of the way, 0.05 mm over 50 % of the way, 0.05 mm over 25 % of the way.\n" + then,
			"No foot stands off as a whole, but a sole does not lie parallel to its base.\nUnder front 3 the gap opens towards the free-end edge: 2 mm/m along the shaft.\nSoft foot not sure: front 3 stands off 0 mm ± 0.096 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit.\n" + first},
		{"", corners + "\npump,front 9,-200,0,0.3,0.1,0.4\npump,front 3,200,0,0,0,0\npump,rear 9,-200,0,0,0,0\npump,rear 3,200,0,0,0,0", "angled foot: front 9",
			"Before aligning: angled foot (front 9); limit 0.05 mm.\nUnder front 9 the gap opens towards the free-end corner on the 3 o'clock side by 0.316 mm over the foot; a tapered shim or machining is needed.\n" + then,
			"No foot stands off as a whole, but a sole does not lie parallel to its base.\nUnder front 9 the gap opens towards the free-end corner on the 3 o'clock side: 0.316 mm over the foot.\nSoft foot not sure: front 9 stands off 0 mm ± 0.099 mm, against the limit of 0.05 mm; it may be past the limit. Measure with a finer gauge: this one cannot show a foot to be within so small a limit.\n" + first},
		{"Seen from=stationary", corners + "\npump,front 9,-200,0.3,0.1,0.3,0.1\npump,front 3,200,0,0,0,0\npump,rear 9,-200,0,0,0,0\npump,rear 3,200,0,0,0,0", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 0.05 mm.\nSoft foot: add 0.05 mm under front 9.\nUnder front 9 the gap opens towards the 9 o'clock edge: step shims from there, 0.05 mm over 75 % of the way, 0.05 mm over 50 % of the way, 0.05 mm over 25 % of the way.\nSoft foot: add 0.05 mm under rear 3.\n" + then,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nInstead of both shims, one foot alone can take all of it: 0.1 mm under front 9, or 0.1 mm under rear 3.\nUnder front 9 the gap opens towards the 9 o'clock edge: 0.2 mm over the foot.\nSoft foot not sure: front 9 stands off 0.1 mm ± 0.099 mm, against the limit of 0.05 mm; it may be within the limit. Measure again, with a finer gauge or several times.\n" + first},
		{"", "Machine,Foot,Across,Gap,Rise\npump,front 9,-200,0.2,0.1\npump,front 3,200,0.2,0.1\npump,rear 9,-200,0.2,0.2\npump,rear 3,200,0,0.1", "one soft foot: rear 9",
			"Before aligning: one soft foot (rear 9); limit 0.05 mm.\nAll feet rise by about 0.1 mm: feet or base bend under the bolts; no shim mends that.\nSoft foot: add 0.20 mm under rear 9.\n" + then,
			"rear 9 alone stands off, by 0.1 mm more than the other feet rise.\nSure: above the least rise rear 9 rises 0.1 mm ± 0.012 mm, against the limit of 0.05 mm.\n" + first},
		{"", "Machine,Foot,Across,Gap,Rise\npump,front 9,-200,0.3,0\npump,front 3,200,0,0\npump,rear 9,-200,0,0\npump,rear 3,200,0,0", "no soft foot",
			"Soft foot: none over the limit of 0.05 mm.",
			"No foot is over the limit.\nSure: front 9 rises 0 mm ± 0.008 mm, against the limit of 0.05 mm.\nGaps and rises do not agree: by the gaps front 9 stands off by 0.3 mm. Measure both again."},
		{"", "Machine,Foot,Gap\npump,front 9,\npump,front 3,\npump,rear 9,\npump,rear 3,", "soft foot not measured",
			"",
			"No gap and no rise is written for these feet. Measure the soft foot before aligning: gaps with all bolts free, or the rise as each bolt alone is released."},
		{"", "Machine,Foot,Gap\npump,front 9,0\npump,front 3,\npump,rear 9,0\npump,rear 3,0", "neither a gap at every foot nor a rise at every foot",
			"",
			""},
		{"", "Machine,Foot,Across,Gap\npump,front 9,100,0\npump,front 3,100,0\npump,rear 9,,0\npump,rear 3,,0", "a number that cannot be",
			"",
			""},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,100,0\npump,B,300,100,0\npump,C,800,100,0\npump,D,800,-100,0", "two feet at one place",
			"",
			""},
		{"", "Machine,Foot,Along,Across,Gap\npump,A,300,100,0\npump,B,400,100,0\npump,C,800,100,0", "all feet on one line",
			"",
			""},
		{"Units=inch", "Machine,Foot,Across,Gap\npump,front 9,-10,8\npump,front 3,10,0\npump,rear 9,-10,0\npump,rear 3,10,0", "rocking on a diagonal: front 9, rear 3",
			"Before aligning: rocking on a diagonal (front 9, rear 3); limit 2 mil.\nSoft foot: add 4 mil under front 9.\nSoft foot: add 4 mil under rear 3.\n" + first,
			"Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.\nInstead of both shims, one foot alone can take all of it: 8 mil under front 9, or 8 mil under rear 3.\nSure: front 9 stands off 8 mil ± 3.9 mil, against the limit of 2 mil.\n" + first},
	} {
		one := jobCase{cells: c.with, sheets: thickStock + "\nFeet: " + c.feet}
		if !strings.HasPrefix(c.with, "Seen") {
			one.cells, one.sheets = "", one.sheets+"\nJob: "+c.with
		}
		e, _ := caseJob(t, lowRow, "", &one)
		head, why := e.SoftReasons(0)
		if do := e.SaySoft(0); head != c.head || !slices.Equal(do, lines(c.do)) || !slices.Equal(why, lines(c.why)) {
			t.Errorf("%s %q:\n%s\n%s\n%s", c.with, c.feet, head, strings.Join(do, "\n"), strings.Join(why, "\n"))
		}
	}
}
