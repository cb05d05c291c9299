package frame

import (
	"shimsheet/internal/job"
)

// A file from elsewhere as the program for workbook files says it: a list of one pump under headers of which one was matched.
const preview = `{"preview":{"format":"xlsx","sheets":[{"name":"Machines","kind":"machines","rows":1,"columns":[]}],"notices":[],"learnt":[{"sheet":"Machines","header":"Tag","means":"machine"}]},"rows":[1,0,0,0,0,0,0,0,0,0,0,0]}`

// parts is the job of that file as it comes: its head, then the rows.
func parts() []part {
	j := job.NewJob()
	t := &job.Table{Name: "Machines", Header: []string{"Machine", "Speed [1/min]"}, FirstRow: 2}
	j.SetTable(job.MachinesSheet, t)
	head, err := j.MarshalJSON()
	if err != nil {
		panic(err)
	}
	return []part{{head: string(head)}, {table: 0, rows: string(job.AppendPacked(nil, [][]string{{"Fan 7", "990"}}))}}
}
