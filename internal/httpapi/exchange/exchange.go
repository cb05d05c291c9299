// Package exchange is what every form of the handler is asked in the tests, native or at the edge: requests, and what is known of their answers beforehand. No program
// that people get knows it.
//
// The job is the demo's, the fictional waterworks. What the numbers must be is held by the tests of the packages that work them out; here it is that the same bytes come
// back whichever way a job goes in.
package exchange

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// A Case is a request and what its answer must be.
type Case struct {
	Name, Method, Path string
	Header             [][2]string
	Body               string
	Status             int
	Type               string // the answer's Content-Type begins so; "" whatever the kind of answer has
	Holds              string // what stands in the answer's body
	Books              bool   // it takes a program with workbooks
}

// Row is a coupling by reverse indicator, invented, as the members of an object.
const Row = `"Machine":"P-101","Speed [rpm]":1480,"Method":"reverse indicator","Side at 3":"river side","Coupling to stationary plane":110,"Coupling to movable plane":110,` +
	`"Coupling to front feet":420,"Front to rear feet":610,"Movable rim 12":0,"Movable rim 3":-0.11,"Movable rim 6":-0.3,"Movable rim 9":-0.19,` +
	`"Stationary rim 12":0,"Stationary rim 3":0.12,"Stationary rim 6":0.2,"Stationary rim 9":0.08,"Movable sag at 6":-0.04,"Stationary sag at 6":-0.05`

// Query is the same coupling as the parameters of an address, but for the units.
const Query = `Machine=P-101&Speed=1480%20rpm&Method=reverse%20indicator&Side+at+3=river%20side&Coupling%20to%20stationary%20plane=110&Coupling%20to%20movable%20plane=110` +
	`&Coupling%20to%20front%20feet=420&Front%20to%20rear%20feet=610&Movable%20rim%2012=0&Movable%20rim%203=-0.11&Movable%20rim%206=-0.3&Movable%20rim%209=-0.19` +
	`&Stationary%20rim%2012=0&Stationary%20rim%203=0.12&Stationary%20rim%206=0.2&Stationary%20rim%209=0.08&Movable%20sag%20at%206=-0.04&Stationary%20sag%20at%206=-0.05`

const (
	json   = "application/json"
	ndjson = "application/x-ndjson"
	csv    = "text/csv"
	xlsx   = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	detail = "application/problem+json"
)

// Cases returns them all. demo is the directory of the demo job.
func Cases(demo string) ([]Case, error) {
	list, err := os.ReadFile(filepath.Join(demo, "machines.csv"))
	if err != nil {
		return nil, err
	}
	book, err := os.ReadFile(filepath.Join(demo, "job.xlsx"))
	if err != nil {
		return nil, err
	}
	one := `{"machines":[{` + Row + `}]}`
	comma := `{"settings":{"Decimal":"comma"},"machines":[{` + strings.Replace(Row, `"Movable rim 6":-0.3`, `"Movable rim 6":"-0,300"`, 1) + `}]}`
	lines := "{" + Row + "}\n\n{\"Speeed\":1}\n{" + Row + "}\nnot JSON\n"
	post := func(name, in, out, body string, status int, holds string) Case {
		h := [][2]string{{"Content-Type", in}}
		if out != "" {
			h = append(h, [2]string{"Accept", out})
		}
		t := strings.SplitN(out, ",", 2)[0]
		if t == "" {
			t = json
		}
		if status >= 400 {
			t = detail
		}
		return Case{Name: name, Method: "POST", Path: "/v1/jobs", Header: h, Body: body, Status: status, Type: t, Holds: holds}
	}
	get := func(name, path string, status int, holds string, header ...[2]string) Case {
		c := Case{Name: name, Method: "GET", Path: path, Header: header, Status: status, Holds: holds}
		if status >= 400 {
			c.Type = detail
		}
		return c
	}
	cases := []Case{
		post("one row of JSON", json, "", one, 200, `"verdict":"`),
		post("rows alone", json, "", "[{"+Row+"},\n {"+Row+"}\n]", 200, `"not judged":1`),
		post("decimal comma", json, "", comma, 200, `"offset_v_mm"`),
		post("a saved job", json, "", `{"format":"shimsheet job","version":1,"id":"00","revision":3,"saved_at":"","machines":{"name":"Machines","first_row":2,"header":["Machine"],"rows":[["A"]]}}`, 200, `"revision":3`),
		post("further sheets", json, "", `{"machines":[{`+Row+`}],"growth":[{"Machine":"P-101","Support":"front","Rise":0.12},{"Machine":"P-101","Support":"rear","Rise":0.1}],"stock":[{"Thickness":0.5,"Pieces on hand":4},{"Thickness":0.1}]}`, 200, `"growth sheet"`),
		post("a sheet names another machine", json, csv, `{"machines":[{`+Row+`}],"growth":[{"Machine":"P-999","Support":"front","Rise":0.12}]}`, 200, "river side"),
		post("JSON to lines", json, ndjson, one, 200, `{"machine":"P-101"`),
		post("JSON to a list", json, csv, one, 200, "P-101"),
		post("demo list", csv, json, string(list), 200, `"machines":[`),
		post("demo list to a list", csv+"; charset=utf-8", csv, string(list), 200, "Marrow Ridge"),
		post("demo list to lines", csv, ndjson, string(list), 200, "\n{\"machine\":"),
		post("tabs", "text/tab-separated-values", "", "Machine\tSpeed\nA\t1480\n", 200, `"machine":"A"`),
		post("lines", ndjson, ndjson, lines, 200, `{"line":3,"error":`),
		post("lines by another name", "application/jsonl", ndjson, "{"+Row+"}", 200, `"line":1}`),
		post("no sheet", json, "", `{"machnes":[]}`, 422, `\"machnes\" is no sheet`),
		post("no column", json, "", `{"machines":[{"Machine":"A"},{"Speeed":1480}]}`, 422, `"row":2,"column":"Speeed"`),
		post("a row by itself", json, "", "{"+Row+"}", 422, "write the row into a list"),
		post("no JSON", json, "", "{\"machines\":[\n{]}", 422, "line 2"),
		post("nothing", json, "", "", 422, ""),
		post("no coupling", json, "", "[]", 422, "holds no coupling"),
		post("no coupling in a list", csv, "", "\n\n", 422, "holds no coupling"),
		post("no line", ndjson, "", "\n\n", 422, "holds no line"),
		post("a stream as one answer", ndjson, json, lines, 406, ndjson),
		post("a form nobody gives", json, "image/png", one, 406, json),
		post("a body of another type", "text/plain", "", one, 415, json),
		post("a body of no type", "nonsense", "", one, 415, json),
		post("another character set", csv+"; charset=utf-16", "", "Machine\nA\n", 415, "UTF-8"),
		get("health", "/v1/health", 200, `"status": "ok"`),
		get("columns", "/v1/columns", 200, `"coupling_to_front_feet"`),
		get("units", "/v1/units", 200, `"mil"`),
		get("tables", "/v1/tables", 200, `"source"`, [2]string{"Accept-Encoding", "identity"}),
		get("a table", "/v1/tables/limits.csv", 200, "Source"),
		get("no table", "/v1/tables/nothing.csv", 404, "/v1/tables"),
		get("kinds of problem", "/v1/problems", 200, "/v1/problems#too-large"),
		get("description", "/v1/openapi.json", 200, `"openapi": "3.1.0"`),
		get("a row", "/v1/row?"+Query, 200, `"machine":"P-101"`),
		get("values of a row", "/v1/row?"+Query+"&give=verdict,front_shim_mm", 200, "outside\t"),
		get("a row in inches", "/v1/row?"+Query+"&Units=inch", 200, `"machine":"P-101"`),
		get("no column in the address", "/v1/row?Speeed=1", 400, "Speeed"),
		get("no value of that name", "/v1/row?"+Query+"&give=front", 400, "front_shim_mm"),
		get("nowhere", "/v1/nothing", 404, "openapi"),
		get("up and away", "/v1/../v1/health", 404, ""),
		get("the jobs by GET", "/v1/jobs", 405, "POST"),
		{Name: "health by DELETE", Method: "DELETE", Path: "/v1/health", Status: 405, Type: detail, Holds: "GET"},
		{Name: "what may be asked", Method: "OPTIONS", Path: "/v1/row", Status: 204},
		{Name: "settings in the address", Method: "POST", Path: "/v1/jobs?Units=inch", Header: [][2]string{{"Content-Type", csv}}, Body: "Machine,Speed\nA,1480\n", Status: 200, Holds: `"units":"inch"`},
		{Name: "a setting nobody knows", Method: "POST", Path: "/v1/jobs?Unitz=inch", Header: [][2]string{{"Content-Type", csv}}, Body: "Machine,Speed\nA,1480\n", Status: 400, Type: detail, Holds: "Units"},
		{Name: "a setting with a wrong word", Method: "POST", Path: "/v1/jobs?Units=parsecs", Header: [][2]string{{"Content-Type", csv}}, Body: "Machine,Speed\nA,1480\n", Status: 400, Type: detail, Holds: "parsecs"},
		{Name: "packed body", Method: "POST", Path: "/v1/jobs", Header: [][2]string{{"Content-Type", csv}, {"Content-Encoding", "gzip"}}, Body: "\x1f\x8b", Status: 415, Type: detail},
		{Name: "another site's page", Method: "POST", Path: "/v1/jobs", Header: [][2]string{{"Content-Type", json}, {"Sec-Fetch-Site", "cross-site"}, {"Origin", "https://example.org"}}, Body: one, Status: 403, Type: detail},
	}
	for _, c := range []Case{
		post("demo workbook", xlsx, json, string(book), 200, `"machines":[`),
		post("demo workbook to a workbook", xlsx, xlsx, string(book), 200, "PK\x03\x04"),
		post("JSON to a workbook", json, xlsx, one, 200, "PK\x03\x04"),
		post("half a workbook", xlsx, json, string(book[:len(book)/2]), 422, ""),
		post("a list that says it is a workbook", xlsx, json, string(list), 422, ""),
	} {
		c.Books = true
		cases = append(cases, c)
	}
	for i := range cases {
		cases[i].Header = append(cases[i].Header, [2]string{"X-Request-Id", fmt.Sprintf("case-%d", i)})
	}
	return cases, nil
}
