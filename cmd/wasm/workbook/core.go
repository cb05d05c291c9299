package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"

	"shimsheet/internal/sheet"
	"shimsheet/internal/workbook"
)

// A request is what the page asks for. Texts that are not given are "".
type request struct {
	op      string // inspect, read, write, addTo
	name    string // of the file
	data    []byte // the file: inspect, read, addTo
	choices string // workbook.Choices as JSON: read
	job     string // a saved job: write, addTo
	options string // workbook.Options as JSON: write, addTo
}

// A reply has a JSON text, or the bytes of a file.
type reply struct {
	json []byte
	file []byte
}

// answer does one request. progress is told how far it is, from 0 to 1. A panic becomes an error: the program lives on.
func answer(r *request, progress func(float64)) (out reply, err error) {
	defer func() {
		if p := recover(); p != nil {
			out, err = reply{}, fmt.Errorf("this is a fault of the program, please report it: %v\n%s", p, debug.Stack())
		}
	}()
	switch r.op {
	case "inspect":
		p, err := workbook.Inspect(r.data, r.name)
		if err != nil {
			return out, err
		}
		out.json, err = json.Marshal(p)
		return out, err
	case "read":
		var c *workbook.Choices
		if r.choices != "" {
			c = new(workbook.Choices)
			if err := strictly(r.choices, c); err != nil {
				return out, fmt.Errorf("the choices cannot be understood: %w", err)
			}
		}
		j, report, err := workbook.Read(r.data, r.name, c)
		if err != nil {
			return out, err
		}
		progress(0.8)
		job, err := j.MarshalJSON()
		if err != nil {
			return out, err
		}
		rep, err := json.Marshal(report)
		if err != nil {
			return out, err
		}
		var b bytes.Buffer
		fmt.Fprintf(&b, `{"job":%s,"report":%s}`, job, rep)
		out.json = b.Bytes()
		return out, nil
	case "write", "addTo":
		opts := workbook.Options{}
		if r.options != "" {
			if err := strictly(r.options, &opts); err != nil {
				return out, fmt.Errorf("the options cannot be understood: %w", err)
			}
		}
		j := new(sheet.Job)
		if err := j.UnmarshalJSON([]byte(r.job)); err != nil {
			return out, err
		}
		e := sheet.NewEvaluator(j)
		const share = 0.3 // of the work
		if err := e.Run(context.Background(), func(done, total int) {
			if total > 0 {
				progress(share * float64(done) / float64(total))
			}
		}); err != nil {
			return out, err
		}
		opts.Progress = func(x float64) { progress(share + (1-share)*x) }
		if r.op == "write" {
			out.file, err = workbook.Write(j, e, opts)
		} else {
			out.file, err = workbook.AddTo(r.data, j, e, opts)
		}
		return out, err
	}
	return out, errors.New("workbook: no operation " + r.op)
}

// strictly reads JSON that has nothing unknown in it.
func strictly(text string, v any) error {
	d := json.NewDecoder(bytes.NewReader([]byte(text)))
	d.DisallowUnknownFields()
	return d.Decode(v)
}
