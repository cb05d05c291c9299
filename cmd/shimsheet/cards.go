package main

import (
	"errors"
	"io"
	"path/filepath"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// runCards writes the cards of a job as a page that a browser prints: one upright sheet of paper a machine.
func runCards(args []string, stdout, stderr io.Writer) error {
	fl := newFlags("cards")
	out, paper, by, machine := fl.String("o", "", ""), fl.String("paper", "a4", ""), fl.String("by", "", ""), fl.String("machine", "", "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	ext := strings.ToLower(filepath.Ext(*out))
	switch {
	case len(given) != 1:
		return errors.New(words.CommandCardsOne.String())
	case ext != ".html" && ext != ".htm":
		return errors.New(words.CommandCardsHtml.String())
	case *paper != "a4" && *paper != "letter":
		return errors.New(words.CommandPapers.Say(*paper))
	case *by != "" && *by != "area" && *by != "crew":
		return errors.New(words.CommandOrders.Say(*by))
	}
	src := sources{in: given[0]}
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
		if r := ev.Row(i); r.Kind == evaluate.MachineRow && (*machine == "" || strings.EqualFold(r.Name, strings.TrimSpace(*machine))) {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		return errors.New(words.CommandNoMachineForCard.Say(given[0]))
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
