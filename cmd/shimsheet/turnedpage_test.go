package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// A list that is turned on its side is not read by the command, and a page with it inside shows every row of it on its sheet.
// Seen: the rows stood above a header that there was not, so that the page opened with an empty sheet.
func TestPageKeepsAListOnItsSide(t *testing.T) {
	dir := in(t, map[string]string{"turned.csv": ",P 7,P 8\nrpm,1480,2960\nRim T,0,0\nRim R,0.1,0.2\nRim B,0.2,0.2\nCpl to front feet,410,300\n"})
	var page, errs bytes.Buffer
	files := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker)}}
	if status := run([]string{"page", "-job", filepath.Join(dir, "turned.csv")}, &page, &errs, files); status != 0 || !strings.Contains(errs.String(), "turned on its side") {
		t.Fatal(status, errs.String())
	}
	job, _, _ := strings.Cut(page.String(), "</script>")
	if _, rows, ok := strings.Cut(job, `"rows":[`); !ok || !strings.Contains(rows, `"Rim B","0.2","0.2"`) || !strings.Contains(rows, `"P 7","P 8"`) || strings.Contains(job, `"title"`) {
		t.Errorf("%.600s", job)
	}
}
