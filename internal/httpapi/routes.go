package httpapi

import (
	"net/http"

	"shimsheet/internal/words"
)

// A route is one thing that can be asked for. The handler and its description for programs are both made of the table of them.
type route struct {
	method, path string
	name         string // for programs
	title, about words.Key
	params       []param
	reads        []string // types of the body; nil: there is none
	gives        []string // types of the answer
	kinds        []*kind  // of problems, besides those any request can have
	serve        func(*server, *answer, *http.Request) *problem
}

// A param is a parameter of an address.
type param struct {
	name, in string
	about    words.Key
	example  string
	free     bool // any name that leads to a column or a setting may stand in its place
}

// jobParam says how the settings of a job stand in the address.
var jobParam = param{name: "settings", in: "query", free: true, example: "inch",
	about: words.ApiSettingsAbout}

const tablesPrefix = "/v1/tables/"

// routes are all there are.
func routes() []route {
	return []route{
		{method: http.MethodGet, path: "/", name: "page", title: words.ApiPage,
			about: words.ApiPageAbout,
			gives: []string{mediaHTML}, serve: (*server).getPage},
		{method: http.MethodPost, path: "/v1/jobs", name: "compute", title: words.ApiCompute,
			about:  words.ApiComputeAbout,
			params: []param{jobParam},
			reads:  jobReads, gives: jobWrites,
			kinds: []*kind{kindParameter, kindCut, kindAccept, kindSlow, kindTooLarge, kindMediaType, kindUnreadable, kindBusy, kindTooLong},
			serve: (*server).postJobs},
		{method: http.MethodGet, path: "/v1/row", name: "row", title: words.ApiRow,
			about: words.ApiRowAbout,
			params: []param{
				{name: "row", in: "query", free: true, example: "P-101",
					about: words.ApiRowColumns},
				{name: "give", in: "query", example: "verdict,front_shim_mm", about: words.ApiGive}},
			gives: []string{mediaJSON, mediaText}, kinds: []*kind{kindParameter, kindUnreadable, kindBusy},
			serve: (*server).getRow},
		{method: http.MethodGet, path: "/v1/columns", name: "columns", title: words.ApiColumns, about: words.ApiColumnsAbout,
			gives: []string{mediaJSON}, serve: (*server).getColumns},
		{method: http.MethodGet, path: "/v1/units", name: "units", title: words.ApiUnits, about: words.ApiUnitsAbout,
			gives: []string{mediaJSON}, serve: (*server).getUnits},
		{method: http.MethodGet, path: "/v1/tables", name: "tables", title: words.ApiTables, about: words.ApiTablesAbout,
			gives: []string{mediaJSON}, serve: (*server).getTables},
		{method: http.MethodGet, path: tablesPrefix + "{file}", name: "table", title: words.ApiTable,
			params: []param{{name: "file", in: "path", example: "limits.csv", about: words.ApiTableFile}},
			gives:  []string{mediaCSV}, kinds: []*kind{kindNotFound}, serve: (*server).getTable},
		{method: http.MethodGet, path: "/v1/health", name: "health", title: words.ApiHealth, gives: []string{mediaJSON}, serve: (*server).getHealth},
		{method: http.MethodGet, path: problemsPath, name: "problems", title: words.ApiProblems, gives: []string{mediaJSON}, serve: (*server).getProblems},
		{method: http.MethodGet, path: "/v1/openapi.json", name: "description", title: words.ApiThisDescription, gives: []string{mediaJSON}, serve: (*server).getDescription},
	}
}
