package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
)

// runCards writes the cards of a job as a page that a browser prints: one upright sheet of paper a machine.
func runCards(args []string, stdout, stderr io.Writer) error {
	fl := newFlags("cards")
	out, paper, by, machine := fl.String("o", "", ""), fl.String("paper", "a4", ""), fl.String("by", "", ""), fl.String("machine", "", "")
	words, err := parse(fl, args)
	if err != nil {
		return err
	}
	ext := strings.ToLower(filepath.Ext(*out))
	switch {
	case len(words) != 1:
		return errors.New("cards takes one file; see shimsheet help")
	case ext != ".html" && ext != ".htm":
		return errors.New("cards are written as .html: add -o cards.html")
	case *paper != "a4" && *paper != "letter":
		return fmt.Errorf("-paper %s: the papers are a4 and letter", *paper)
	case *by != "" && *by != "area" && *by != "crew":
		return fmt.Errorf("-by %s: cards are in order by area or by crew", *by)
	}
	src := sources{in: words[0]}
	if err := src.spare(*out); err != nil {
		return err
	}
	j, problems, err := src.load()
	if err != nil {
		return err
	}
	writeProblems(stderr, problems, src.in)
	ev := worked(j, nil)
	allocate(ev)
	var rows []int
	for i := range ev.Len() {
		if r := ev.Row(i); r.Kind == sheet.MachineRow && (*machine == "" || strings.EqualFold(r.Name, strings.TrimSpace(*machine))) {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		return fmt.Errorf("%s: no machine to make a card of", words[0])
	}
	_, groups := ev.CardGroups(rows, *by)
	rows = rows[:0]
	for _, g := range groups {
		rows = append(rows, g...)
	}
	return writeFile(*out, func(w io.Writer) error {
		_, err := io.WriteString(w, screens.CardsFile(ev, rows, *paper))
		return err
	})
}
