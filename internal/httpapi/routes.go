package httpapi

import (
	"net/http"
)

// A route is one thing that can be asked for. The handler and its description for programs are both made of the table of them.
type route struct {
	method, path string
	name         string // for programs
	title, about string
	params       []param
	reads        []string // types of the body; nil: there is none
	gives        []string // types of the answer
	kinds        []*kind  // of problems, besides those any request can have
	serve        func(*server, *answer, *http.Request) *problem
}

// A param is a parameter of an address.
type param struct {
	name, in, about string
	example         string
	free            bool // any name that leads to a column or a setting may stand in its place
}

// jobParam says how the settings of a job stand in the address.
var jobParam = param{name: "settings", in: "query", free: true, example: "inch",
	about: "Settings of the Job sheet by their names, such as ?Units=inch&Decimal=comma, for bodies that hold no Job sheet. A name that is no setting is refused."}

const tablesPrefix = "/v1/tables/"

// routes are all there are.
func routes() []route {
	return []route{
		{method: http.MethodGet, path: "/", name: "page", title: "The offline page",
			about: "The page as it can be saved and carried away. It runs in the browser and sends nothing.",
			gives: []string{mediaHTML}, serve: (*server).getPage},
		{method: http.MethodPost, path: "/v1/jobs", name: "compute", title: "Works a job out",
			about: "A whole job in, its results out. JSON lines in are a stream: each line is answered by a line, in order, while they come; send and read at the same time. " +
				"Rows that cannot be judged say so in their place and the answer is 200; Shimsheet-Exit-Status is then 1, as it would be of the command. Nothing is kept.",
			params: []param{jobParam},
			reads:  jobReads, gives: jobWrites,
			kinds: []*kind{kindParameter, kindCut, kindAccept, kindSlow, kindTooLarge, kindMediaType, kindUnreadable, kindBusy, kindTooLong},
			serve: (*server).postJobs},
		{method: http.MethodGet, path: "/v1/row", name: "row", title: "Works one coupling out",
			about: "The coupling stands in the address, for spreadsheets and whoever else can only ask for addresses. A row stands alone, like a line of a stream.",
			params: []param{
				{name: "row", in: "query", free: true, example: "P-101",
					about: "Columns of the Machines sheet by their names, such as ?Machine=P-101&Speed=1480 rpm, and settings of the Job sheet. A name that is neither is refused."},
				{name: "give", in: "query", example: "verdict,front_shim_mm", about: "Members of the answer, parted by commas: only their values are given, as text, parted by tabs; one that does not exist is blank."}},
			gives: []string{mediaJSON, mediaText}, kinds: []*kind{kindParameter, kindUnreadable, kindBusy},
			serve: (*server).getRow},
		{method: http.MethodGet, path: "/v1/columns", name: "columns", title: "Every column of every sheet", about: "What it is called, how it may be spelt, its unit and what it means.",
			gives: []string{mediaJSON}, serve: (*server).getColumns},
		{method: http.MethodGet, path: "/v1/units", name: "units", title: "Every unit", about: "How it may be spelt, and what one of it is in the unit the program computes in.",
			gives: []string{mediaJSON}, serve: (*server).getUnits},
		{method: http.MethodGet, path: "/v1/tables", name: "tables", title: "The reference tables", about: "Every table with every row, and the source of each.",
			gives: []string{mediaJSON}, serve: (*server).getTables},
		{method: http.MethodGet, path: tablesPrefix + "{file}", name: "table", title: "One reference table as a list for a spreadsheet",
			params: []param{{name: "file", in: "path", example: "limits.csv", about: "The key of the table and .csv."}},
			gives:  []string{mediaCSV}, kinds: []*kind{kindNotFound}, serve: (*server).getTable},
		{method: http.MethodGet, path: "/v1/health", name: "health", title: "Whether it answers", gives: []string{mediaJSON}, serve: (*server).getHealth},
		{method: http.MethodGet, path: problemsPath, name: "problems", title: "The kinds of problem", gives: []string{mediaJSON}, serve: (*server).getProblems},
		{method: http.MethodGet, path: "/v1/openapi.json", name: "description", title: "This description", gives: []string{mediaJSON}, serve: (*server).getDescription},
	}
}
