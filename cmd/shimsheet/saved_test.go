package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// A saved page is read as the list it was made of; a page that is damaged, cut short, empty, or without a checksum is told apart.
func TestSavedPage(t *testing.T) {
	dir := in(t, map[string]string{"list.csv": header + good, "empty.html": "<!doctype html>" + jobMarker + "</html>", "news.html": "<html>news</html>"})
	files := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker+`<script id="part-manifest">{}</script><p>program<script id="part-end">"end"</script></html>`)}}
	at := func(name string) string { return filepath.Join(dir, name) }
	call := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		status := run(args, &out, &errs, files)
		return status, out.String(), errs.String()
	}
	if status, _, errs := call("page", "-job", at("list.csv"), "-o", at("page.html")); status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	_, want, _ := call("calc", at("list.csv"))
	if status, out, errs := call("calc", at("page.html")); status != 0 || errs != "" || out != want {
		t.Errorf("%d %q\n%s\nwanted\n%s", status, errs, out, want)
	}
	if status, _, errs := call("page", "-job", at("page.html"), "-o", at("again.htm")); status != 0 || errs != "" {
		t.Error(status, errs)
	}
	page, _ := os.ReadFile(at("page.html"))
	if status, out, errs := call("calc", at("again.htm")); status != 0 || errs != "" || out != want {
		t.Errorf("a page with the job of a page: %d %q\n%s", status, errs, out)
	}
	job := string(page[bytes.Index(page, []byte(jobOpen))+len(jobOpen):])
	job, rest, _ := strings.Cut(job, jobClose)
	plain := job[:strings.Index(job, `,"length":`)] + "}"
	head := "<!doctype html>" + jobOpen
	for _, c := range []struct {
		name, text string
		status     int
		says       string
	}{
		{"flipped.html", head + strings.Replace(job, "1480", "1490", 1) + jobClose + rest, 2, "flipped.html: the job in it is not the one that was saved: its checksum is wrong"},
		{"flipped.json", strings.Replace(job, "1480", "1490", 1), 2, "flipped.json: the job in it is not the one that was saved"},
		{"longer.json", strings.Replace(job, "1480", "14800", 1), 2, "bytes and says"},
		{"cut.json", job[:len(job)/2], 2, "cut.json: the job in it is cut short"},
		{"cut.html", head + job[:len(job)/2], 2, "cut.html: the page is cut short within the job"},
		{"cut-behind.html", head + job + jobClose + rest[:20], 0, "cut-behind.html: the page: warning: it is cut short behind the job"},
		{"before.json", plain, 0, "before.json: the job: warning: it has no checksum, as earlier versions saved"},
		{"before.html", head + plain + jobClose + "</html>", 0, "before.html: the job: warning: it has no checksum"},
		{"empty.html", "", 2, "empty.html: it is an empty page"},
		{"news.html", "", 2, "news.html: it is a web page, but there is no job in it"},
	} {
		if c.text != "" {
			if err := os.WriteFile(at(c.name), []byte(c.text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		status, out, errs := call("calc", at(c.name))
		if status != c.status || !strings.Contains(errs, c.says) || (out == want) != (status == 0) {
			t.Errorf("%s: %d %q %q", c.name, status, errs, out)
		}
	}
}
