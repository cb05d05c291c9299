package screens

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

func firstJob() *job.Job {
	j := job.NewJob()
	j.Machines = &job.Table{Name: "Machines", FirstRow: 4, Header: []string{"Own <b>", "Machine", "Speed", "Coupling", "Offset limit", "Slope limit", "Given offset V", "Given offset H", "Given slope V", "Given slope H", "Note", "Method"},
		Rows: [][]string{{"</table><script>alert(1)</script>", `A & "B" </title>`, "1480", "short", "0.1", "1", "0.02", "0", "0", "0", "", "line"}, {"x", "C", "1480", "short", "0.1", "1", "0.5", "0", "0", "0", "", "line"}, {"", "", "", "", "", "", "", "", "", "", "", ""}}}
	return j
}

// The list has the columns in the order in which the sheet shows them, what was typed as it was typed, verdicts as words, and nothing in it is markup.
func TestFirstListOf(t *testing.T) {
	j := firstJob()
	html := FirstListOf(sentences.New(j), j.Machines, "abc").String()
	for _, want := range []string{
		`<section id="first" class="first-list" data-of="abc"><p>`, `Not yet live`,
		`<th class="frozen">A &amp; &quot;B&quot; &lt;/title&gt;</th>`,
		`&lt;/table&gt;&lt;script&gt;alert(1)&lt;/script&gt;`,
		`<th class="rowno">4</th>`, `<th class="rowno">5</th>`, `<td class="v2">outside</td>`, `<td class="num">1480</td>`,
	} {
		if want = strings.ReplaceAll(want, "&quot;", `"`); !strings.Contains(html, want) {
			t.Errorf("%q is not in\n%s", want, html)
		}
	}
	if strings.Contains(html, "<script") || strings.Contains(html, "<b>") {
		t.Error("a name became markup")
	}
	if strings.Contains(html, "Note") {
		t.Error("a column that nobody wrote in is there")
	}
	head := html[strings.LastIndex(html[:strings.Index(html, "</thead>")], "<tr>"):strings.Index(html, "</thead>")]
	if m, v, o := strings.Index(head, "Machine"), strings.Index(head, "Verdict"), strings.Index(head, "Own"); m < 0 || v < m || o < v {
		t.Errorf("machine, verdict and the other columns do not follow one another in %s", head)
	}
	j.Views = map[string]string{"machines": "view1;S-Machine;"}
	if html := FirstListOf(sentences.New(j), j.Machines, "abc").String(); !strings.Contains(html, "in the order stored, before") {
		t.Error("a list that will be sorted does not say that it is not")
	}
}

// No more is written than a screen shows, however long and wide the job is; and nothing for a job without machines.
func TestFirstListIsShort(t *testing.T) {
	j := firstJob()
	for range 5000 {
		j.Machines.Rows = append(j.Machines.Rows, j.Machines.Rows[1])
	}
	for range 300 {
		j.Machines.Header = append(j.Machines.Header, "Own")
	}
	html := FirstListOf(sentences.New(j), j.Machines, "abc").String()
	if n := strings.Count(html, "<tr>"); n != FirstRows+3 {
		t.Errorf("%d rows", n)
	}
	if len(html) > 60_000 {
		t.Errorf("%d bytes", len(html))
	}
	for _, none := range []*job.Job{job.NewJob(), {Machines: &job.Table{Header: []string{"Speed"}, Rows: [][]string{{"1"}}}}} {
		if html := FirstListOf(sentences.New(none), none.Machines, ""); !html.Empty() {
			t.Errorf("a list without machines: %s", html)
		}
	}
}
