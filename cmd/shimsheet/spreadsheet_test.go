//go:build !js

package main

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What LibreOffice is given: a library with one macro, which opens a file as somebody does who lets it ask the network, works it out and stores it as text.
const (
	basicLibraries = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
<library:libraries xmlns:library="http://openoffice.org/2000/library" xmlns:xlink="http://www.w3.org/1999/xlink">
<library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/script.xlb/" xlink:type="simple" library:link="false"/>
</library:libraries>`
	basicLibrary = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false" library:passwordprotected="false">
<library:element library:name="Ask"/>
</library:library>`
	basicMacro = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Ask" script:language="StarBasic">
Sub Main(from As String, into As String)
  Dim how(2) As New com.sun.star.beans.PropertyValue
  how(0).Name = "Hidden"
  how(0).Value = True
  how(1).Name = "UpdateDocMode"
  how(1).Value = 3
  how(2).Name = "MacroExecutionMode"
  how(2).Value = 4
  doc = StarDesktop.loadComponentFromURL(from, "_blank", 0, how())
  doc.calculateAll()
  Dim csv(1) As New com.sun.star.beans.PropertyValue
  csv(0).Name = "FilterName"
  csv(0).Value = "Text - txt - csv (StarCalc)"
  csv(1).Name = "FilterOptions"
  csv(1).Value = "124,,76"
  doc.storeToURL(into, csv())
  doc.close(True)
  StarDesktop.terminate()
End Sub
</script:module>`
	// Without the first of these the first start puts libraries of its own in the place of ours; the second is what somebody sets under Trusted Sources.
	setUp = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Setup/Office"><prop oor:name="ooSetupInstCompleted" oor:op="fuse"><value>true</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Security/Scripting"><prop oor:name="SecureURL" oor:op="fuse"><value><it>%s</it></value></prop></item>
</oor:items>`
	flatSheet = `<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:body><office:spreadsheet><table:table table:name="Ask">%s</table:table></office:spreadsheet></office:body></office:document>`
)

// office has LibreOffice work the formulas of one column out, with a text beside each, and returns what stands in the cells after.
func office(t *testing.T, texts, formulas []string) []string {
	t.Helper()
	bin, err := exec.LookPath("soffice")
	if err != nil {
		const msg = "soffice is not installed (Debian: libreoffice-calc); a spreadsheet was NOT made to ask"
		if os.Getenv("CI") != "" {
			t.Fatal(msg)
		}
		t.Skip(msg)
	}
	escape := func(s string) string {
		var b bytes.Buffer
		xml.EscapeText(&b, []byte(s))
		return b.String()
	}
	var rows strings.Builder
	for i, f := range formulas {
		fmt.Fprintf(&rows, `<table:table-row><table:table-cell office:value-type="string"><text:p>%s</text:p></table:table-cell><table:table-cell table:formula="of:=%s"/></table:table-row>`,
			escape(texts[i]), escape(f))
	}
	dir := in(t, map[string]string{"ask.fods": fmt.Sprintf(flatSheet, rows.String())})
	at := "file://" + filepath.ToSlash(dir)
	user := filepath.Join(dir, "profile", "user")
	if err := os.MkdirAll(filepath.Join(user, "basic", "Standard"), 0o755); err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"registrymodifications.xcu": fmt.Sprintf(setUp, at), "basic/script.xlc": basicLibraries, "basic/Standard/script.xlb": basicLibrary, "basic/Standard/Ask.xba": basicMacro}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(user, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	said, err := exec.CommandContext(ctx, bin, "-env:UserInstallation="+at+"/profile", "--headless", "--norestore",
		fmt.Sprintf(`macro:///Standard.Ask.Main("%s/ask.fods","%s/asked.csv")`, at, at)).CombinedOutput()
	if err != nil {
		t.Fatalf("LibreOffice: %v\n%s", err, said)
	}
	got, err := os.ReadFile(filepath.Join(dir, "asked.csv"))
	if err != nil {
		t.Fatalf("LibreOffice stored nothing: %v\n%s", err, said)
	}
	var cells []string
	for line := range strings.SplitSeq(strings.TrimSuffix(string(got), "\n"), "\n") {
		_, cell, _ := strings.Cut(line, "|")
		cells = append(cells, cell)
	}
	return cells
}

// A spreadsheet's own function asks for the addresses that docs/http.md shows: the cell holds what the command says of the same row.
func TestSpreadsheetAsks(t *testing.T) {
	s := startServer(t)
	const row = "Method=line&Speed=1480 rpm&Given offset V=0.1&Given offset H=-0.05&Given slope V=0.2&Given slope H=0.1&Coupling to front feet=300&Front to rear feet=500"
	ask := func(pairs, give string) string {
		parts := strings.Split(pairs, "&")
		for i, p := range parts {
			k, v, _ := strings.Cut(p, "=")
			parts[i] = url.QueryEscape(k) + "=" + url.QueryEscape(v)
		}
		return fmt.Sprintf(`COM.MICROSOFT.WEBSERVICE("%s/v1/row?Machine="&COM.MICROSOFT.ENCODEURL([.A1])&"&%s&give=%s")`, s.url, strings.Join(parts, "&"), give)
	}
	formulas := []string{ask(row, "front_shim_mm"), ask(row, "machine,verdict,rear_move_mm"), ask(row+"&Speeed=3", "verdict"), ask(strings.Replace(row, "=300", "=", 1), "front_shim_mm")}
	for i := range formulas {
		formulas[i] = strings.Replace(formulas[i], "[.A1]", fmt.Sprintf("[.A%d]", i+1), 1)
	}
	got := office(t, []string{"P-101", "Pump & fan, Nº 2", "P-103", "P-104"}, formulas)
	if len(got) != 4 {
		t.Fatalf("%q", got)
	}
	q := func(name string) string {
		_, text := fetch(t, "GET", s.url+"/v1/row?Machine="+url.QueryEscape(name)+"&"+strings.ReplaceAll(row, " ", "%20")+"&give=machine,verdict,front_shim_mm,rear_move_mm", "", "")
		return text
	}
	want := strings.Split(q("P-101"), "\t")
	if len(want) != 4 || want[2] != "-0.16" { // −(0.1 + 0.2 × 300/1000)
		t.Fatalf("%q", want)
	}
	if got[0] != want[2] {
		t.Errorf("front shim %q, want %q", got[0], want[2])
	}
	if want := strings.Join([]string{"Pump & fan, Nº 2", want[1], want[3]}, "\t"); strings.Trim(got[1], `"`) != want {
		t.Errorf("%q, want %q", got[1], want)
	}
	if !strings.HasPrefix(got[2], "Err:") && !strings.HasPrefix(got[2], "#") {
		t.Errorf("a column that there is not gives %q, which looks like an answer", got[2])
	}
	if got[3] != "" {
		t.Errorf("a shim that cannot be known gives %q", got[3])
	}
}
