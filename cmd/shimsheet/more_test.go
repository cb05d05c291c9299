//go:build !js

package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"io"
	"log/slog"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/andybalholm/brotli"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/httpapi"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
)

// The page is packed by brotli while the server is up; unpacked it is the page. Of what is no page nothing comes.
func TestPageInBrotli(t *testing.T) {
	text := "<!doctype html>" + strings.Repeat("the page, ", 500)
	for _, page := range [][]byte{gz(t, text), []byte("no gzip"), gz(t, text)[:60]} {
		get := inBrotli(page)
		var got []byte
		for end := time.Now().Add(10 * time.Second); got == nil && time.Now().Before(end) && len(page) != 60 && page[0] != 'n'; time.Sleep(time.Millisecond) {
			got = get()
		}
		if page[0] == 'n' || len(page) == 60 {
			if time.Sleep(20 * time.Millisecond); get() != nil {
				t.Error("a damaged page is packed")
			}
			continue
		}
		back, err := io.ReadAll(brotli.NewReader(bytes.NewReader(got)))
		if err != nil || string(back) != text || len(got) > len(text)/10 {
			t.Errorf("%d bytes become %d, %v", len(text), len(got), err)
		}
	}
}

// Every profile that the flag promises is there, and no other address of theirs; metrics when they were asked for.
func TestProfilesAndMetrics(t *testing.T) {
	h := serving(httpapi.Config{}, slog.New(slog.DiscardHandler), false, true, true)
	get := func(path string) (int, string) {
		ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond) // one that measures for seconds ends with its request
		defer cancel()
		rec := httptest.NewRecorder()
		h.ServeHTTP(rec, httptest.NewRequestWithContext(ctx, "GET", path, nil))
		return rec.Code, rec.Body.String() + " " + rec.Header().Get("Content-Type")
	}
	for path, has := range map[string]string{"/debug/pprof/": "goroutine", "/debug/pprof/cmdline": os.Args[0], "/debug/pprof/symbol": "num_symbols", "/debug/pprof/trace?seconds=0.01": "octet-stream", "/debug/pprof/heap": "octet-stream", "/debug/pprof/profile?seconds=1": "octet-stream",
		"/metrics": "go_goroutines", "/v1/health": ""} {
		if status, body := get(path); status != 200 && path != "/v1/health" || !strings.Contains(body, has) {
			t.Errorf("%s: %d, %.200q", path, status, body)
		}
	}
	if status, _ := get("/debug/nothing"); status != 404 {
		t.Errorf("/debug/nothing: %d", status)
	}
}

// Why a file cannot be read is said once, with the file's name once.
func TestReadErrorsNameTheFileOnce(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"d.csv", "d.xlsx", "d.json", "d.html", "d.ndjson"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, name)
		status, out, errs := say("calc", file)
		if status != 2 || out != "" || strings.Count(errs, file) != 1 || !strings.HasPrefix(errs, "shimsheet: "+file+": it could not be read: ") || strings.Contains(errs, "read "+file) {
			t.Errorf("%s: %d, %q, %q", name, status, out, errs)
		}
	}
}

// The tables of numbers are a list with the separator that the job's decimal sign leaves free: read by the library's reader either has more than one column.
func TestStatsSeparator(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "comma.csv": "Setting,Value\nDecimal,comma\n", "point.csv": "Setting,Value\nDecimal,point\n"})
	for decimal, sep := range map[string]rune{"comma": ';', "point": ','} {
		out := filepath.Join(dir, "n.csv")
		if status, _, errs := say("stats", filepath.Join(dir, "m.csv"), "-job", filepath.Join(dir, decimal+".csv"), "-o", out); status != 0 {
			t.Fatal(errs)
		}
		data, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
		r.Comma, r.FieldsPerRecord = sep, -1
		rows, err := r.ReadAll()
		wide := 0
		for _, row := range rows {
			wide = max(wide, len(row))
		}
		if err != nil || wide < 4 {
			t.Errorf("%s: %v, %d columns in\n%s", decimal, err, wide, data)
		}
	}
}

// What is shown is shown after the stock was shared out: on the terminal, on cards, in JSON, as an evaluator has it that shares the demo's stock; a full box for everybody would be another table.
func TestSharedStockIsShown(t *testing.T) {
	const demo = "../../testdata/demo/job.xlsx"
	j, _, err := (&sources{in: demo}).load()
	if err != nil {
		t.Fatal(err)
	}
	table := func(e *sentences.Teller) (table, cards string) {
		var b bytes.Buffer
		if err := results.WriteTable(&b, e); err != nil {
			t.Fatal(err)
		}
		var rows []int
		for i := range e.Len() {
			if e.Row(i).Kind == evaluate.MachineRow {
				rows = append(rows, i)
			}
		}
		return b.String(), screens.CardsFile(e, rows, "letter")
	}
	box := sentences.New(j)
	box.Count()
	shared := sentences.New(j)
	shared.SetToday(today())
	if err := shared.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	if _, err := shared.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	boxTable, boxCards := table(box)
	wantTable, wantCards := table(shared)
	if boxTable == wantTable && boxCards == wantCards {
		t.Fatal("the demo's stock goes round: sharing shows nothing")
	}
	_, out, _ := say("calc", demo)
	if out != wantTable {
		t.Errorf("the table is not that of the shared stock:\n%s\n%s", out, wantTable)
	}
	file := filepath.Join(t.TempDir(), "cards.html")
	if status, _, errs := say("cards", demo, "-paper", "letter", "-o", file); status != 0 {
		t.Fatal(errs)
	}
	if data, err := os.ReadFile(file); err != nil || string(data) != wantCards {
		t.Errorf("the cards are not those of the shared stock: %v", err)
	}
}

// An instrument whose certificate has run out, and nobody signed before: held against today, by calc, verify and stats alike; one that runs out tomorrow is not told of.
func TestCertificatesOfToday(t *testing.T) {
	record := func(due string) string {
		return "Machine,Instrument,Certificate,Due\nwhole job,dial 4,MR-1," + due + "\n"
	}
	dir := in(t, map[string]string{"m.csv": header + good, "past.csv": record("2001-02-03"), "soon.csv": record(time.Now().AddDate(0, 0, 2).Format(time.DateOnly))})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, cmd := range []string{"calc", "verify", "stats"} {
		_, _, errs := say(cmd, at("m.csv"), "-record", at("past.csv"))
		if !strings.Contains(errs, "dial 4") || !strings.Contains(errs, "2001-02-03") || !strings.Contains(errs, "past.csv") {
			t.Errorf("%s: %q", cmd, errs)
		}
		if _, _, errs := say(cmd, at("m.csv"), "-record", at("soon.csv")); errs != "" {
			t.Errorf("%s: %q", cmd, errs)
		}
	}
}

// What sign and merge write as a workbook holds the results too, after sharing the stock out: the same as calc writes from the job they write as .json.
func TestJobsAsWorkbooks(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "n.csv": header + strings.Replace(good, "P 1", "P 9", 1)})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, ext := range []string{".json", ".xlsx"} {
		if status, _, errs := say("sign", at("m.csv"), "-machine", "P 1", "-by", "crew 1", "-at", "2026-04-12 16:40", "-o", at("signed"+ext)); status != 0 || errs != "" {
			t.Fatal(errs)
		}
	}
	_, a, _ := say("calc", at("signed.json"))
	_, b, _ := say("calc", at("signed.xlsx"))
	if a != b || !strings.Contains(a, "P 1") {
		t.Errorf("of the workbook\n%s\nof the job\n%s", b, a)
	}
	j, _, err := (&sources{in: at("signed.json")}).load()
	if err != nil || j.SavedAt == "" {
		t.Errorf("when the job was saved is not in it: %v", err)
	}
	if status, _, errs := say("sign", at("m.csv"), "-machine", "P 1", "-by", "crew 1", "-o", at("signed.csv")); status != 2 || !strings.Contains(errs, "a job is written as .json or .xlsx") {
		t.Errorf("%d, %q", status, errs)
	}
}
