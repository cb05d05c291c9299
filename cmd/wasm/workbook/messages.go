package main

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/jsonread"
)

// Messages between page and program are small structs, written and read by their json tags, as encoding/json does it: without it this program is a twentieth smaller. There are only
// texts, whole numbers, truths, lists, pointers and structs in them; another kind is a fault of the program.

// appendMessage writes v as JSON.
func appendMessage(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.String:
		return job.AppendJSONString(b, v.String())
	case reflect.Int:
		return strconv.AppendInt(b, v.Int(), 10)
	case reflect.Bool:
		return strconv.AppendBool(b, v.Bool())
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, "null"...)
		}
		return appendMessage(b, v.Elem())
	case reflect.Array, reflect.Slice:
		if v.Kind() == reflect.Slice && v.IsNil() {
			return append(b, "null"...)
		}
		b = append(b, '[')
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendMessage(b, v.Index(i))
		}
		return append(b, ']')
	case reflect.Struct:
		b = appendMembers(append(b, '{'), v)
		return append(b, '}')
	}
	panic(fmt.Sprintf("a message holds a %v", v.Type()))
}

// appendMembers writes the members of a struct, those of a struct embedded in it among them.
func appendMembers(b []byte, v reflect.Value) []byte {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name, omit := memberOf(f)
		switch {
		case f.Anonymous:
			b = appendMembers(b, v.Field(i))
		case name != "" && !(omit && v.Field(i).IsZero()):
			if b[len(b)-1] != '{' {
				b = append(b, ',')
			}
			b = append(job.AppendJSONString(b, name), ':')
			b = appendMessage(b, v.Field(i))
		}
	}
	return b
}

// memberOf is the name of a field in JSON, "" for one that stays here, and whether it is left out where it is empty.
func memberOf(f reflect.StructField) (name string, omit bool) {
	name, option, _ := strings.Cut(f.Tag.Get("json"), ",")
	if name == "-" {
		return "", false
	}
	return name, option == "omitempty"
}

// readMessage reads JSON into what v points to. A member that it does not have is an error, as is anything behind the end.
func readMessage(text string, v any) error {
	r := jsonread.New(text)
	if err := readInto(&r, reflect.ValueOf(v).Elem()); err != nil {
		return err
	}
	return r.End()
}

func readInto(r *jsonread.Reader, v reflect.Value) error {
	if r.Kind() == jsonread.Null {
		return r.Skip()
	}
	switch v.Kind() {
	case reflect.String:
		s, err := r.Text()
		v.SetString(s)
		return err
	case reflect.Int:
		s, err := r.Number()
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(s)
		v.SetInt(int64(n))
		return err
	case reflect.Bool:
		is, err := r.Truth()
		v.SetBool(is)
		return err
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return readInto(r, v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		return r.List(func() error {
			x := reflect.New(v.Type().Elem()).Elem()
			err := readInto(r, x)
			v.Set(reflect.Append(v, x))
			return err
		})
	case reflect.Struct:
		return r.Object(func(key string) error {
			for i := range v.NumField() {
				if name, _ := memberOf(v.Type().Field(i)); name == key && name != "" {
					return readInto(r, v.Field(i))
				}
			}
			return r.Wrong("%q is not known", key)
		})
	}
	panic(fmt.Sprintf("a message holds a %v", v.Type()))
}
