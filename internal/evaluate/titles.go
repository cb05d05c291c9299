package evaluate

import (
	"slices"
	"strings"
	"unicode"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// What stands above a list may say how its numbers are meant. Of that the units are read (package job); of the rest it is told that it is not.

// titleTopics are the words by which a line above a list speaks of what is not read there, the sheets where that counts, and what to do instead.
var titleTopics = []struct {
	words  []string
	sheets []job.SheetKind
	hint   words.Key
}{
	{[]string{"sag", "sags", "durchhang"}, sheetsRead, words.HintTitleSag},
	{[]string{"seen", "viewed", "looking", "gesehen", "blickrichtung"}, sheetsSided, words.HintTitleSeen},
	{[]string{"counterclockwise", "anticlockwise", "ccw", "gegenuhrzeigersinn"}, sheetsRead, words.HintTitleTurned},
	{[]string{"sign", "signs", "positive", "negative", "inverted", "reversed", "turned", "vorzeichen", "half", "halves", "halved", "doubled"}, sheetsSided, words.HintTitleSign},
	{[]string{"division", "divisions", "graduation", "graduations", "graduated"}, sheetsSided, words.HintTitleGraduation},
}

// The sheets of readings, and those with sides or signs.
var (
	sheetsRead  = []job.SheetKind{job.MachinesSheet, job.ReadingsSheet, job.RoundsSheet}
	sheetsSided = append(slices.Clip(sheetsRead), job.FeetSheet, job.GrowthSheet)
)

// titleTopic is what a line above a list speaks of and what to do; empty: nothing that counts. A line of one or two words is a name, or the upper line of a header.
func titleTopic(kind job.SheetKind, row []string) (text string, hint words.Phrase) {
	var said []string
	for _, cell := range row {
		if !job.Blank(cell) {
			said = append(said, strings.TrimSpace(cell))
		}
	}
	if len(said) == 0 || len(said) > 2 {
		return "", words.Phrase{}
	}
	text = strings.Join(said, " ")
	list := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(list) < 3 {
		return "", words.Phrase{}
	}
	read := job.StatedUnits([][]string{row}, nil)
	for _, topic := range titleTopics {
		if !slices.Contains(topic.sheets, kind) {
			continue
		}
		for i, w := range list {
			if !slices.Contains(topic.words, w) || i+1 < len(list) && list[i+1] == "displacement" { // a kind of pump
				continue
			}
			if topic.hint == words.HintTitleGraduation && read.Of(job.QThickness) != "" {
				continue // it is read
			}
			return text, topic.hint.With()
		}
	}
	if read.Of(job.QThickness) == "" && slices.Contains(sheetsSided, kind) && holdsDivision(text) {
		return text, words.HintTitleGraduation.With()
	}
	return "", words.Phrase{}
}

// holdsDivision says whether a text holds the division of a dial, such as 1/100 mm: it may be how fine the dials are, or what the numbers are in.
func holdsDivision(text string) bool {
	list := strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("()[],;:", r) })
	for i := range list {
		for n := 1; n <= 2 && i+n <= len(list); n++ {
			if u, ok := units.ParseHeaderUnit(strings.Join(list[i:i+n], " "), units.Length); ok && u.Division() {
				return true
			}
		}
	}
	return false
}

// tellTitles tells which lines above a list speak of its numbers in a way that is not read.
func (e *Evaluator) tellTitles(kind job.SheetKind, t *job.Table) {
	first := t.SourceRow(0) - 1 - len(t.Title)
	for i, row := range t.Title {
		if text, hint := titleTopic(kind, row); text != "" {
			e.problems = append(e.problems, job.Problem{Severity: job.Warning, File: t.File, Sheet: e.SheetName(kind), Row: max(first+i, 0),
				Text: words.ProblemTitleUnread.With(job.Quote(text)), Hint: hint, Col: -1})
		}
	}
}

// dialOf is the dial whose reading a column holds, −1 none.
func dialOf(id job.ColumnID) int {
	if id < job.ColReading || id >= job.ColMovableSag {
		return -1
	}
	return int(id-job.ColReading) / job.NumPositions
}

// dialUnits looks for dials of which one column bears a unit and another none: the unit may have been meant for all of them. Numbers there then want a unit of their own. A
// dial without any beside one with another unit is told. A column that stands both with a unit and without is that of two lists under one another, each of which says what it means.
func dialUnits(bind []binding, tell func(sev job.Severity, col int, c job.ColumnID, text, hint words.Phrase)) {
	own, bare := map[job.ColumnID]bool{}, map[job.ColumnID]bool{}
	for _, b := range bind {
		if dialOf(b.id) >= 0 {
			own[b.id], bare[b.id] = own[b.id] || b.own, bare[b.id] || !b.own
		}
	}
	for id := range own {
		if own[id] && bare[id] {
			return
		}
	}
	told := map[int]bool{} // dials
	for col := range bind {
		b := &bind[col]
		dial := dialOf(b.id)
		if dial < 0 || b.own || b.unit == units.None {
			continue
		}
		same, other := -1, -1 // columns with another unit: of this dial, of another
		for k, x := range bind {
			switch {
			case dialOf(x.id) < 0 || !x.own || x.unit == b.unit:
			case dialOf(x.id) == dial:
				same = k
			case other < 0:
				other = k
			}
		}
		switch {
		case same >= 0:
			tell(job.Error, col, b.id, words.ProblemUnitOfSome.With(bind[same].id.Info().Name, bind[same].unit, b.unit), words.HintUnitOfSome.With())
			b.unit = units.None
		case other >= 0 && !told[dial]:
			tell(job.Warning, col, b.id, words.ProblemDialWithout.With(bind[other].id.Info().Name, bind[other].unit, b.unit), words.HintUnitOfSome.With())
			told[dial] = true
		}
	}
}
