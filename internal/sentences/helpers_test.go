package sentences

import (
	"context"
	"fmt"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/jobtest"
)

// What the tests here share with those of evaluate, under short names.
var (
	add               = jobtest.Add
	change            = jobtest.Change
	demoJob           = jobtest.Demo
	feetOf            = jobtest.FeetOf
	jobText           = jobtest.Text
	list              = jobtest.List
	near              = jobtest.Near
	packsJob          = jobtest.Packs
	plus              = jobtest.Plus
	rimRow            = jobtest.RimRow
	rims              = jobtest.Rims
	sameLine          = jobtest.SameLine
	sameValue         = jobtest.SameValue
	sweepsOf          = jobtest.SweepsOf
	toldBy            = jobtest.Told
	trainJob          = jobtest.Train
	wild              = jobtest.Wild
	with              = jobtest.With
	yearJob           = jobtest.Year
	hotMovable        = jobtest.HotMovable
	hotStationary     = jobtest.HotStationary
	lowRow            = jobtest.LowRow
	reverse           = jobtest.Reverse
	reverseMovable    = jobtest.ReverseMovable
	reverseStationary = jobtest.ReverseStationary
	roundsText        = jobtest.RoundsText
	trainText         = jobtest.TrainText
	without           = jobtest.Without
)

const (
	reasonMachine  = jobtest.ReasonMachine
	recordMachines = jobtest.RecordMachines
	roundsHead     = jobtest.RoundsHead
	setsHead       = jobtest.SetsHead
	trainHeader    = jobtest.TrainHeader
	trainMotor     = jobtest.TrainMotor
	trainPump      = jobtest.TrainPump
)

type trainDoc = jobtest.TrainDoc

func work(t testing.TB, j *job.Job) *Teller {
	t.Helper()
	e := New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return e
}

// pump works a job out whose first machine is looked at.
func pump(t testing.TB, j *job.Job) (*Teller, *evaluate.RowResult) {
	t.Helper()
	e := work(t, j)
	return e, e.Row(0)
}

// one evaluates a row given as header=value pairs.
func one(t testing.TB, cells ...string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Row(cells...))
}

// grown is a row with the sheets given as CSV.
func grown(t testing.TB, cells []string, sheets ...string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Sheets(t, cells, sheets...))
}

// withRounds is a job of one machine and its rounds.
func withRounds(t testing.TB, cells []string, rows string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Rounds(t, cells, rows))
}

func withSets(t testing.TB, cells []string, rows string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Sets(t, cells, rows))
}

// boxed is a job of the row with a Stock sheet and a Strip class on the Job sheet, "" none.
func boxed(t testing.TB, class, stock string, cells ...string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Boxed(t, class, stock, cells...))
}

// workText works a job of lines out.
func workText(t testing.TB, lines ...string) *Teller {
	t.Helper()
	return work(t, jobText(t, lines...))
}

func beside(t testing.TB, now *job.Job, older ...*job.Job) *Teller {
	t.Helper()
	e := New(now)
	var list []evaluate.Older
	for k, j := range older {
		list = append(list, evaluate.Older{Name: fmt.Sprintf("year-%d.json", k), Job: j})
	}
	e.SetHistory(list)
	return e
}

// says checks that the row has a problem of that severity whose text on one line holds all the words.
func says(t testing.TB, r *evaluate.RowResult, sev job.Severity, words ...string) {
	t.Helper()
	jobtest.Says(t, r.Problems, sev, words...)
}

// machines decodes the JSON result.
func machines(t testing.TB, e *Teller) []map[string]any {
	t.Helper()
	return jobtest.Machines(t, e.ResultsJSON)
}

func oneTrain(t testing.TB, j *job.Job) (*Teller, *trainDoc) {
	t.Helper()
	e := work(t, j)
	return e, jobtest.OneTrain(t, e.ResultsJSON)
}
