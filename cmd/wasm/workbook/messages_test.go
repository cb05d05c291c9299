package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"testing"

	"shimsheet/internal/workbook"
)

// filled puts something other than nothing into every field, so that none can be left out unseen.
func filled(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprintf("text %d \"é\"\n", *n))
	case reflect.Int:
		v.SetInt(int64(*n) - 7)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		filled(v.Index(0), n)
	case reflect.Struct:
		for i := range v.NumField() {
			if name, _ := memberOf(v.Type().Field(i)); name != "" || v.Type().Field(i).Anonymous {
				filled(v.Field(i), n)
			}
		}
	}
}

// Messages are what encoding/json (of the Go project) writes and reads of the same structs, full and empty.
func TestMessagesAsStdlibHasThem(t *testing.T) {
	n := 0
	full := workbook.Report{}
	filled(reflect.ValueOf(&full).Elem(), &n)
	if n < 50 || full.Sheets[0].Columns[0].Why == "" || len(full.Learnt) == 0 {
		t.Fatal(n, full)
	}
	for _, v := range []any{full, workbook.Report{}, &workbook.Report{Preview: workbook.Preview{Sheets: []workbook.SheetPreview{}}}, (*workbook.Report)(nil)} {
		want, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var a, b any
		got := appendMessage(nil, reflect.ValueOf(v))
		if err := json.Unmarshal(got, &a); err != nil {
			t.Fatalf("%v: %s", err, got)
		}
		if json.Unmarshal(want, &b); !reflect.DeepEqual(a, b) {
			t.Errorf("%s\nencoding/json: %s", got, want)
		}
	}
	choices := workbook.Choices{}
	filled(reflect.ValueOf(&choices).Elem(), &n)
	whole, err := json.Marshal(choices)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{string(whole), `{}`, `null`, `{"sheets":null,"before":[]}`, `{"sheets":[{"sheet":"A","kind":null,"columns":[{"col":-3,"key":"é"}],"text_to_numbers":false}]}`, `{"sheets":[null]}`,
		`{"sheet":[]}`, `{"sheets":[{"sheet":1}]}`, `{"sheets":[{"header_row":1.5}]}`, `{"sheets":[{"text_to_numbers":"yes"}]}`, `{"sheets":{}}`, `{"sheets":[]`, `{"sheets":[]}`, `[]`} {
		var ours, theirs workbook.Choices
		d := json.NewDecoder(bytes.NewReader([]byte(text)))
		d.DisallowUnknownFields()
		err, errTheirs := readMessage(text, &ours), d.Decode(&theirs)
		if (err == nil) != (errTheirs == nil) || err == nil && !reflect.DeepEqual(ours, theirs) {
			t.Errorf("%s: %v, %+v\nencoding/json: %v, %+v", text, err, ours, errTheirs, theirs)
		}
	}
	for _, text := range []string{`{} x`, `{}{}`, ``} {
		if readMessage(text, new(workbook.Choices)) == nil {
			t.Errorf("%q is taken", text)
		}
	}
}
