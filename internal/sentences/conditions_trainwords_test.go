package sentences

import (
	"fmt"
	"shimsheet/internal/evaluate"
	"strings"
	"testing"
)

// planTold is all that is said of the plan of the first train: what it comes to, the order of the work, how it leaves each coupling, the other plans, what goes under each foot, and what is short.
func planTold(e *Teller) string {
	p := &e.Trains()[0]
	out := e.TrainWords(p) + "\n" + strings.Join(append(append(e.TrainOrder(p), e.TrainAfter(p)...), e.TrainOthers(0)...), "\n") + "\n"
	for k := range p.Feet {
		out += p.Feet[k].Machine + " " + p.Feet[k].Foot + ": " + e.TrainFootDo(&p.Feet[k]) + "\n"
	}
	for _, s := range p.Short {
		out += fmt.Sprintf("short: %s %s %s %.3f%s\n", s.Machine, s.Foot, s.Direction, s.Missing, map[bool]string{true: ", fixed"}[s.Fixed])
	}
	return strings.ReplaceAll(out, "Order of T1: from the machine that stays outwards; soft feet before all; after each machine read its coupling again and enter a round: the plan is then made anew.\n", "")
}

// The worked train in many ways, with everything that is said. Amounts where one plan can be: by hand from the shafts over their feet (Motor 0.33, 0.45 high and 0.04 to the wall, 0.20 to the river; Pump 0 and 0.30 low, 0.32 and 0.38 to
// the wall, the gear at zero, from which a straight line is laid through the machine that stays); packs are the nearest of 0.05, 0.1, 0.2 and 1 mm. Those of "shared out" and "least work" come from package moves, which has its own checks.
// Seen: of a flange the order of the work named the way that it slides all told, and the side that a part of it goes to.
func TestTrainPlansSaid(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{}, `
T1, wanted line: possible. Largest move 0.45 mm, in all 2.02 mm. T1 follows the plan "as set"; feet, bolts and flanges to touch: 8; afterwards inside, chance that all are inside 100 %.
1. Motor, heights: far 0.45 mm down, then near 0.33 mm down.
2. Motor, sideways: far 0.20 mm towards the wall, then near 0.04 mm towards the river.
3. Pump, heights: far 0.30 mm up.
4. Pump, sideways: far 0.38 mm towards the river, then near 0.32 mm towards the river.
Coupling of Motor after the packs: offset -0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Coupling of Pump after the packs: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 0.92 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 90 %: largest move 0.148 mm, in all 0.702 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Motor near: take out 0.35
Motor far: take out 0.45
Gear near: nothing
Gear far: nothing
Pump near: nothing
Pump far: 0.20 + 0.10
`},
		{[]string{"2: Front room down=0 | Rear room down=0"}, `
T1, wanted line: impossible – base-bound: the feet near of Motor need 0.33 mm more room down; base-bound: the feet far of Motor need 0.45 mm more room down (all of these together make it possible); or move Gear too: near 0.18 mm up, near 0.02 mm towards the wall, far 0.03 mm up, far 0.113 mm towards the wall.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.18 mm, in all 1.04 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 100 %: impossible, base-bound: the feet near of Motor need 0.08 mm more room down.
short: Motor near down 0.330
short: Motor far down 0.450
`},
		{[]string{"2: Front room down=0.1 | Rear room down=0.45"}, `
T1, wanted line: impossible – base-bound: the feet near of Motor need 0.23 mm more room down; or move Gear too: near 0.115 mm up, near 0.02 mm towards the wall, far 0.113 mm towards the wall; or stop inside the limits, which is possible: the plan least work.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.115 mm, in all 0.91 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.32 mm, in all 0.765 mm; to touch: 8; afterwards too close to call, chance that all are inside 33 %.
short: Motor near down 0.230
`},
		{[]string{"3: Front room left=0.1"}, `
T1, wanted line: impossible – bolt-bound: the feet near of Pump need 0.22 mm more room towards the river; or move Gear too: near 0.11 mm up, near 0.02 mm towards the wall, far 0.12 mm towards the wall.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.12 mm, in all 0.92 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 100 %: impossible, bolt-bound: the feet near of Pump need 0.02 mm more room towards the river.
short: Pump near right 0.220
`},
		{[]string{"3: Front room right=0.1 | Rear room up=0.1 | Rear room down=0"}, `
T1, wanted line: impossible – the feet far of Pump need 0.2 mm more room up; or move Gear too: near 0.11 mm up, near 0.02 mm towards the wall, far 0.113 mm towards the wall; or stop inside the limits, which is possible: the plan least work.
Other plan of T1: Motor stays, wanted line: impossible, the feet far of Pump need 0.29 mm more room up.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 0.92 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 80 %: largest move 0.176 mm, in all 0.627 mm; to touch: 6; afterwards inside, chance that all are inside 100 %.
short: Pump far up 0.200
`},
		{[]string{"2: Front room down=0 | Rear room down=0", "Trains: Train=T1 | Machine=Gear | May move=no"}, `
T1, wanted line: impossible – base-bound: the feet near of Motor need 0.33 mm more room down; base-bound: the feet far of Motor need 0.45 mm more room down (all of these together make it possible).
Other plan of T1: least work, 100 %: impossible, base-bound: the feet near of Motor need 0.08 mm more room down.
short: Motor near down 0.330
short: Motor far down 0.450
`},
		{[]string{"Trains: Train=T1 | Machine=Motor | May move=no"}, `
T1, wanted line: impossible – Motor must not move, and the feet near of Motor would have to go 0.105 mm down; Gear must not move, and the feet near of Gear would have to go 0.113 mm up; Motor must not move, and the feet near of Motor would have to go 0.107 mm towards the river; Gear must not move, and the feet far of Gear would have to go 0.067 mm towards the wall (all of these together make it possible); or move Gear too: near 0.27 mm up, near 0.16 mm towards the wall, far 0.21 mm up, far 0.28 mm towards the wall.
Other plan of T1: shared out, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 100 %: impossible, Gear must not move, and the feet near of Gear would have to go 0.153 mm up; Gear must not move, and the feet near of Gear would have to go 0.02 mm towards the wall (all of these together make it possible).
short: Motor near down 0.105, fixed
short: Gear near up 0.113, fixed
short: Motor near right 0.107, fixed
short: Gear far left 0.067, fixed
`},
		{[]string{"Trains: Train=T1 | Machine=Motor | May move=no", "Trains: Train=T1 | Machine=Gear | May move=yes"}, `
T1, wanted line: possible. Largest move 0.39 mm, in all 1.68 mm. T1 follows the plan "as set"; feet, bolts and flanges to touch: 8; afterwards inside, chance that all are inside 100 %.
1. Gear, heights: near 0.27 mm up, then far 0.21 mm up.
2. Gear, sideways: far 0.28 mm towards the wall, then near 0.16 mm towards the wall.
3. Pump, heights: far 0.39 mm up, then near 0.15 mm up.
4. Pump, sideways: far 0.14 mm towards the wall, then near 0.08 mm towards the wall.
Coupling of Motor after the packs: offset 0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Coupling of Pump after the packs: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside.
Other plan of T1: least work, 80 %: largest move 0.126 mm, in all 0.796 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Motor near: nothing
Motor far: nothing
Gear near: 0.20 + 0.05
Gear far: 0.20
Pump near: 0.10 + 0.05
Pump far: 0.20 + 0.20
`},
		{[]string{"3: Train", "Trains: Train=T1 | Plan=only Motor"}, `
T1, wanted line: possible. Largest move 0.45 mm, in all 1.02 mm. T1 follows the plan "only Motor", which was chosen; feet, bolts and flanges to touch: 4; afterwards inside, chance that all are inside 100 %.
1. Motor, heights: far 0.45 mm down, then near 0.33 mm down.
2. Motor, sideways: far 0.20 mm towards the wall, then near 0.04 mm towards the river.
Coupling of Motor after the packs: offset -0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Other plan of T1: as set (only Motor), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: only Gear, wanted line: largest move 0.28 mm, in all 0.92 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.09 mm, in all 0.56 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Motor near: take out 0.35
Motor far: take out 0.45
Gear near: nothing
Gear far: nothing
`},
		{[]string{"3: Train", "Trains: Train=T1 | Plan=Only gear"}, `
T1, wanted line: possible. Largest move 0.28 mm, in all 0.92 mm. T1 follows the plan "only Gear", which was chosen; feet, bolts and flanges to touch: 4; afterwards inside, chance that all are inside 100 %.
1. Gear, heights: near 0.27 mm up, then far 0.21 mm up.
2. Gear, sideways: far 0.28 mm towards the wall, then near 0.16 mm towards the wall.
Coupling of Motor after the packs: offset 0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Other plan of T1: as set (only Motor), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.09 mm, in all 0.56 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Motor near: nothing
Motor far: nothing
Gear near: 0.20 + 0.05
Gear far: 0.20
`},
		{[]string{"3: Train", "Trains: Train=T1 | Plan=Gear stays"}, `
T1, wanted line: possible. Largest move 0.45 mm, in all 1.02 mm. T1 follows the plan "Gear stays", which was chosen; feet, bolts and flanges to touch: 4; afterwards inside, chance that all are inside 100 %.
1. Motor, heights: far 0.45 mm down, then near 0.33 mm down.
2. Motor, sideways: far 0.20 mm towards the wall, then near 0.04 mm towards the river.
Coupling of Motor after the packs: offset -0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Other plan of T1: as set (only Motor), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: only Gear, wanted line: largest move 0.28 mm, in all 0.92 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.09 mm, in all 0.56 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Motor near: take out 0.35
Motor far: take out 0.45
Gear near: nothing
Gear far: nothing
`},
		{[]string{"3: Train", "Trains: Train=T1 | Plan=Motor stays"}, `
T1, wanted line: possible. Largest move 0.28 mm, in all 0.92 mm. T1 follows the plan "Motor stays", which was chosen; feet, bolts and flanges to touch: 4; afterwards inside, chance that all are inside 100 %.
1. Gear, heights: near 0.27 mm up, then far 0.21 mm up.
2. Gear, sideways: far 0.28 mm towards the wall, then near 0.16 mm towards the wall.
Coupling of Motor after the packs: offset 0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, inside.
Other plan of T1: as set (only Motor), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: only Gear, wanted line: largest move 0.28 mm, in all 0.92 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.09 mm, in all 0.56 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Motor near: nothing
Motor far: nothing
Gear near: 0.20 + 0.05
Gear far: 0.20
`},
		{[]string{"3: Train", "Trains: Train=T1 | Machine=Gear | May move=no | Plan=only Gear"}, `
train "T1" is not judged: the sheet Trains says that Gear must not move
Other plan of T1: as set (only Motor, shared out), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
`},
		{[]string{"3: Train", "2: Stationary near support", "Trains: Train=T1 | Machine=Gear | Plan=only Gear"}, `
train "T1" is not judged: where the feet of Gear stand is not known
Other plan of T1: as set (only Motor, shared out), wanted line: largest move 0.45 mm, in all 1.02 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.137 mm, in all 0.353 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
`},
		{[]string{"Trains: Train=T1 | Plan=only Pump"}, `
T1, wanted line: impossible – Motor must not move, and the feet near of Motor would have to go 0.105 mm down; Gear must not move, and the feet near of Gear would have to go 0.113 mm up; Motor must not move, and the feet near of Motor would have to go 0.107 mm towards the river; Gear must not move, and the feet far of Gear would have to go 0.067 mm towards the wall (all of these together make it possible); or move Motor too: near 0.33 mm down, near 0.04 mm towards the river, far 0.45 mm down, far 0.2 mm towards the wall; or move Gear too: near 0.27 mm up, near 0.16 mm towards the wall, far 0.21 mm up, far 0.28 mm towards the wall.
Other plan of T1: as set (Gear stays), wanted line: largest move 0.45 mm, in all 2.02 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 0.92 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 90 %: largest move 0.148 mm, in all 0.702 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
short: Motor near down 0.105, fixed
short: Gear near up 0.113, fixed
short: Motor near right 0.107, fixed
short: Gear far left 0.067, fixed
`},
		{[]string{"2: Further feet=900 1200", "Trains: Train=T1 | Plan=as set"}, `
T1, wanted line: possible. Largest move 0.45 mm, in all 3.05 mm. T1 follows the plan "as set", which was chosen; feet, bolts and flanges to touch: 12; afterwards inside, chance that all are inside 100 %.
1. Motor, heights: far 0.45 mm down, then further 2 0.42 mm down, then further 1 0.39 mm down, then near 0.33 mm down.
2. Motor, sideways: far 0.20 mm towards the wall, then further 2 0.14 mm towards the wall, then further 1 0.08 mm towards the wall, then near 0.04 mm towards the river.
3. Pump, heights: far 0.30 mm up.
4. Pump, sideways: far 0.38 mm towards the river, then near 0.32 mm towards the river.
Coupling of Motor after the packs: offset -0.026 mm up and 0 mm sideways, slope 0.024 mm/m and 0 mm/m, inside.
Coupling of Pump after the packs: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 5.39 mm; to touch: 12; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 1.175 mm; to touch: 16; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 85 %: largest move 0.157 mm, in all 0.775 mm; to touch: 10; afterwards inside, chance that all are inside 100 %.
Motor near: take out 0.35
Motor further 1: take out 0.40
Motor further 2: take out 0.40
Motor far: take out 0.45
Gear near: nothing
Gear far: nothing
Pump near: nothing
Pump far: 0.20 + 0.10
`},
		{[]string{"2: Offset limit | Slope limit"}, `
T1, wanted line: possible. Largest move 0.45 mm, in all 2.02 mm. T1 follows the plan "as set"; feet, bolts and flanges to touch: 8; afterwards not judged.
1. Motor, heights: far 0.45 mm down, then near 0.33 mm down.
2. Motor, sideways: far 0.20 mm towards the wall, then near 0.04 mm towards the river.
3. Pump, heights: far 0.30 mm up.
4. Pump, sideways: far 0.38 mm towards the river, then near 0.32 mm towards the river.
Coupling of Motor after the packs: offset -0.025 mm up and 0 mm sideways, slope 0.017 mm/m and 0 mm/m, not judged.
Coupling of Pump after the packs: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards not judged.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards not judged.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 0.92 mm; to touch: 12; afterwards not judged.
Other plan of T1: least work, 100 %: not judged, row 2, Motor: there is no limit, which a share asks for.
Motor near: take out 0.35
Motor far: take out 0.45
Gear near: nothing
Gear far: nothing
Pump near: nothing
Pump far: 0.20 + 0.10
`},
		{[]string{"2: Offset limit | Slope limit", "Trains: Train=T1 | Plan=least work"}, `
train "T1" is not judged: row 2, Motor: there is no limit, which a share asks for
Other plan of T1: as set (Gear stays), wanted line: largest move 0.45 mm, in all 2.02 mm; to touch: 8; afterwards not judged.
Other plan of T1: Motor stays, wanted line: largest move 0.39 mm, in all 1.68 mm; to touch: 8; afterwards not judged.
Other plan of T1: Pump stays, wanted line: largest move 1.05 mm, in all 3.3 mm; to touch: 8; afterwards not judged.
Other plan of T1: shared out, wanted line: largest move 0.113 mm, in all 0.92 mm; to touch: 12; afterwards not judged.
`},
		{[]string{"2: Mounting=vertical flange | Bolt circle=600 | Bolts=4 | Coupling to flange=400", "3: Train"}, `
T1, wanted line: possible. Largest move 0.34 mm, in all 0.45 mm. T1 follows the plan "as set"; feet, bolts and flanges to touch: 4; afterwards inside, chance that all are inside 100 %.
1. Motor, heights: bolt 2 0.12 mm up, then bolt 1 0.09 mm up, then bolt 3 0.03 mm up.
2. Motor, sideways: flange 0.34 mm towards 6 o'clock, 0.02 mm towards the river.
Coupling of Motor after the packs: offset -0.007 mm up and -0.013 mm sideways, slope 0.017 mm/m and 0.033 mm/m, inside.
Other plan of T1: only Gear, wanted line: largest move 0.28 mm, in all 0.92 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.078 mm, in all 0.429 mm; to touch: 7; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.088 mm, in all 0.251 mm; to touch: 3; afterwards inside, chance that all are inside 100 %.
Motor flange: -0.34 mm towards 12 o'clock
Motor bolt 1: 0.10
Motor bolt 2: 0.10
Motor bolt 3: 0.05
Motor bolt 4: nothing
Gear near: nothing
Gear far: nothing
`},
		{[]string{"2: Mounting=vertical flange | Bolt circle=600 | Bolts=4 | Coupling to flange=400 | Front room down=0.1 | Front room left=0.01", "3: Train"}, `
T1, wanted line: impossible – held by the register: the flange of Motor needs 0.24 mm more room towards 6 o'clock; or move Gear too: near 0.078 mm up, near 0.013 mm towards the wall, far 0.078 mm down, far 0.044 mm towards the wall; or stop inside the limits, which is possible: the plan least work.
Other plan of T1: only Gear, wanted line: largest move 0.28 mm, in all 0.92 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.078 mm, in all 0.429 mm; to touch: 7; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 95 %: largest move 0.088 mm, in all 0.251 mm; to touch: 3; afterwards inside, chance that all are inside 100 %.
short: Motor flange down 0.240
`},
		{[]string{"2: Mounting=vertical flange | Bolt circle=600 | Bolts=4 | Coupling to flange=400 | Front room up=0.1 | Front room right=0.01 | Running offset V=1 | Running offset H=1", "3: Train"}, `
T1, wanted line: impossible – held by the register: the flange of Motor needs 0.56 mm more room towards 12 o'clock; held by the register: the flange of Motor needs 1.01 mm more room towards the river (all of these together make it possible); or move Gear too: near 0.189 mm down, near 0.345 mm towards the wall, far 0.129 mm up, far 0.225 mm towards the river.
Other plan of T1: only Gear, wanted line: largest move 1.28 mm, in all 3.96 mm; to touch: 4; afterwards inside, chance that all are inside 100 %.
Other plan of T1: shared out, wanted line: largest move 0.345 mm, in all 1.532 mm; to touch: 8; afterwards inside, chance that all are inside 100 %.
Other plan of T1: least work, 100 %: impossible, held by the register: the flange of Motor needs 0.348 mm more room towards 12 o'clock; held by the register: the flange of Motor needs 0.798 mm more room towards the river (all of these together make it possible).
short: Motor flange up 0.560
short: Motor flange right 1.010
`},
		{[]string{"Feet: Machine=Gear | Foot=near 9 | Room up=0 | Room left=0", "Trains: Train=T1 | Machine=Motor | May move=no", "Trains: Train=T1 | Machine=Gear | May move=yes"}, `
T1, wanted line: impossible – the feet near 9 of Gear need 0.27 mm more room up; bolt-bound: the feet near 9 of Gear need 0.16 mm more room towards the wall (all of these together make it possible).
Other plan of T1: least work, 100 %: impossible, the feet near 9 of Gear need 0.078 mm more room up.
short: Gear near 9 up 0.270
short: Gear near 9 left 0.160
`},
	} {
		lines := plus(trainText, plus(c.lines, "2: Side at 3=river | Side at 9=the wall", "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=1")...)
		if got := planTold(workText(t, lines...)); got != strings.TrimPrefix(c.want, "\n") {
			t.Errorf("%v:\n%s", c.lines, got)
		}
	}
}

// What a row says of its train while no plan of it can be followed: that one was asked for, by the name that was typed, and why not. Seen: of a plan that there is not, and of one asked for while a row is not sound, it said that the plan is taken once it is
// chosen.
func TestAskedPlanThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{nil, "This coupling belongs to the train T1. What follows moves this machine alone; the plan of the whole train (possible) is taken once it is chosen under Plan on the sheet Trains."},
		{[]string{"Trains: Train=T1 | Plan=as set"}, `Train T1, plan "as set": what follows is this machine's part of it;`},
		{[]string{"Trains: Train=T1 | Plan=best"}, `This coupling belongs to the train T1, whose chosen plan "best" cannot be followed ("best" is no plan of this train; its plans are as set, Motor stays, Pump stays, shared out, least work). What follows moves this machine alone.`},
		{[]string{"Trains: Train=T1 | Plan=shared out", "3: Movable rim 3=x"}, `whose chosen plan "shared out" cannot be followed (row 3`},
		{[]string{"Trains: Train=T1 | Plan=as set", "Trains: Train=T1 | Plan=least work"}, `whose chosen plan "as set" cannot be followed (the plans "as set" and "least work" stand beside each other`},
		{[]string{"Trains: Train=T1 | Plan=as set", "2: Front room down=0 | Rear room down=0"}, `whose chosen plan "as set" cannot be followed (impossible).`},
	} {
		e := workText(t, plus(trainText, c.lines...)...)
		got := sentencesOf(e, 0, SentenceDo, SentenceHint)
		if !strings.Contains(got, c.want) || len(c.lines) > 0 && strings.Contains(got, "once it is chosen") {
			t.Errorf("%v: %q is not said:\n%s", c.lines, c.want, got)
		}
	}
}

// What the chosen plan does at the machine that has no row of its own is said of that machine alone: not of the row's own feet, whether they are pairs, single feet or bolts.
func TestOnlyTheOtherMachineMovesToo(t *testing.T) {
	for _, c := range []struct {
		lines []string
		feet  string // of the Gear, as they are named
	}{
		{[]string{"Trains: Train=T1 | Plan=shared out"}, "near 9,near 3,far 9,far 3"},
		{[]string{"Trains: Train=T1 | Plan=shared out", "Feet: Machine=Motor | Foot=front 9", "Feet: Machine=Motor | Foot=rear 9"}, "near 9,near 3,far 9,far 3"},
		{[]string{"Trains: Train=T1 | Plan=shared out", "2: Mounting=vertical flange | Bolt circle=600 | Bolts=8 | Coupling to flange=400"}, "near 9,near 3,far 9,far 3"},
		{[]string{"Trains: Train=T1 | Plan=as set"}, ""},
	} {
		e := workText(t, plus(trainText, c.lines...)...)
		own := 0
		for _, p := range e.Packs(0) {
			own += evaluate.AsInt(p.Pair >= 0 || p.Single >= 0 || p.Bolt >= 0)
		}
		var feet []string
		for _, s := range strings.Split(sentencesOf(e, 0, SentenceDo), "\n") {
			machine, rest, ok := strings.Cut(s, " moves too, ")
			if !ok {
				continue
			}
			foot, _, _ := strings.Cut(rest, ":")
			if feet = append(feet, foot); machine != "Gear" {
				t.Errorf("%v: %s", c.lines, s)
			}
		}
		if got := strings.Join(feet, ","); got != c.feet || own == 0 {
			t.Errorf("%v: %q, want %q; %d of its own; %s", c.lines, got, c.feet, own, toldBy(append(e.Problems(), e.Row(0).Problems...)))
		}
	}
}
