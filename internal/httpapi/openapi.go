package httpapi

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/words"
)

type object = map[string]any

func ref(name string) object { return object{"$ref": "#/components/schemas/" + name} }

// describe is the description for programs, OpenAPI 3.1: the table of routes, with the rows that go in described by the table of columns, and those that come out by rows that
// are worked out here.
func (s *server) describe() object {
	paths := object{}
	for i := range s.routes {
		x := &s.routes[i]
		op := object{"operationId": x.name, "summary": x.title.String(), "responses": s.responses(x)}
		if x.about != words.SentenceNone {
			op["description"] = x.about.String()
		}
		var params []object
		for _, p := range x.params {
			params = append(params, p.describe())
		}
		if params != nil {
			op["parameters"] = params
		}
		if x.reads != nil {
			content := object{}
			for _, m := range s.withBooks(x.reads) {
				content[m] = object{"schema": bodySchema(m)}
			}
			op["requestBody"] = object{"required": true, "content": content}
		}
		at, _ := paths[x.path].(object)
		if at == nil {
			at = object{}
			paths[x.path] = at
		}
		at[strings.ToLower(x.method)] = op
	}
	return object{
		"openapi": "3.1.0",
		"info": object{"title": "Shimsheet", "version": s.Version,
			"description": words.ApiDescription.String(),
			"license":     object{"name": "Apache-2.0", "identifier": "Apache-2.0"}},
		"servers":    []object{{"url": "/"}},
		"security":   []object{},
		"paths":      paths,
		"components": object{"schemas": s.schemas()},
	}
}

// describe is a parameter.
func (p *param) describe() object {
	o := object{"name": p.name, "in": p.in, "description": p.about.String(), "required": p.in == "path"}
	if p.free {
		o["style"], o["explode"] = "form", true
		o["schema"] = object{"type": "object", "additionalProperties": object{"type": "string"}}
		return o
	}
	o["schema"], o["example"] = object{"type": "string"}, p.example
	return o
}

// bodySchema is what a body of that type is. What is no JSON is a text or bytes to a validator.
func bodySchema(media string) object {
	switch media {
	case mediaJSON:
		return ref("Job")
	case mediaXLSX:
		return object{"type": "string", "contentMediaType": mediaXLSX}
	case mediaNDJSON:
		return object{"type": "string", "description": words.ApiRowALine.String()}
	}
	return object{"type": "string", "description": words.ApiMachinesList.String()}
}

// responses are those of a route.
func (s *server) responses(x *route) object {
	content := object{}
	for _, m := range s.withBooks(x.gives) {
		schema := object{"type": "string"}
		switch {
		case m == mediaJSON && x.name == "compute":
			schema = ref("Results")
		case m == mediaJSON && x.name == "row":
			schema = ref("Answer")
		case m == mediaJSON:
			schema = object{"type": "object"}
		case m == mediaNDJSON:
			schema["description"] = words.ApiLines.Say(`{"problems": …}`)
		}
		content[m] = object{"schema": schema}
	}
	ok := object{"description": words.ApiAnswer.String(), "content": content, "headers": object{headerID: object{"description": words.ApiRequestID.String(),
		"schema": object{"type": "string"}}}}
	if x.name == "compute" || x.name == "row" {
		h := ok["headers"].(object)
		h[headerStatus] = object{"description": words.ApiExitStatus.String(), "schema": object{"type": "string", "enum": []string{"0", "1"}}}
		if x.name == "compute" {
			h[headerProblem] = object{"description": words.ApiProblemHeader.String(), "schema": object{"type": "string"}}
		}
	}
	out := object{"200": ok}
	titles := map[int][]string{}
	for _, k := range append(slices.Clone(x.kinds), kindCross, kindFailed) {
		if x.method == http.MethodGet && k == kindCross {
			continue
		}
		titles[k.status] = append(titles[k.status], k.title.String())
	}
	if slices.Contains(s.documents(), x.name) {
		out["304"] = object{"description": words.ApiHasAlready.String()}
	}
	for status, list := range titles {
		out[strconv.Itoa(status)] = object{"description": strings.Join(list, "; "), "content": object{mediaProblem: object{"schema": ref("Problem")}}}
	}
	return out
}

// documents are the routes with an answer that is the same for everybody.
func (s *server) documents() []string {
	return []string{"page", "columns", "units", "tables", "table", "problems", "description"}
}

// cell is what stands under a name of a row.
func cell(about string) object {
	o := object{"type": []string{"string", "number", "null"}}
	if about != "" {
		o["description"] = about
	}
	return o
}

// schemas are those of bodies and answers.
func (s *server) schemas() object {
	j := object{}
	out := object{}
	for _, k := range job.SheetKinds() {
		props := object{}
		for _, c := range job.Columns() {
			if c.Sheet == k && !c.Result {
				props[c.Name] = cell(c.Help())
			}
		}
		name := k.String() + "Row"
		switch k {
		case job.MachinesSheet:
			name = "Row"
		case job.SettingsSheet:
			name = "Settings"
		}
		out[name] = object{"type": "object", "properties": props, "additionalProperties": cell(""),
			"description": words.ApiColumnsOf.Say(k.String())}
		if j[k.Key()] = (object{"type": "array", "items": ref(name)}); k == job.SettingsSheet {
			j[k.Key()] = ref(name)
		}
	}
	out["Job"] = object{"oneOf": []object{
		{"title": words.ApiMachinesAlone.String(), "type": "array", "items": ref("Row")},
		{"title": words.ApiSheetsOfJob.String(), "type": "object", "properties": j, "not": object{"required": []string{"format"}}},
		{"title": words.ApiSavedJob.String(), "type": "object", "required": []string{"format"}, "properties": object{"format": object{"const": "shimsheet job"}}},
	}}
	results, answer := s.sample()
	out["Results"], out["Answer"] = results, answer
	out["Refusal"] = object{"type": "object", "required": []string{"line", "error", "hint"},
		"properties": object{"line": object{"type": "integer"}, "error": object{"type": "string"}, "hint": object{"type": "string"}}}
	place := object{"sheet": object{"type": "string"}, "row": object{"type": "integer"}, "column": object{"type": "string"}, "hint": object{"type": "string"}}
	found := object{"severity": object{"enum": []string{"note", "warning", "error"}}, "text": object{"type": "string"}}
	problem := object{"type": object{"type": "string"}, "title": object{"type": "string"}, "status": object{"type": "integer"}, "detail": object{"type": "string"}, "request_id": object{"type": "string"},
		"problems": object{"type": "array", "items": ref("Found")}}
	for k, v := range place {
		found[k], problem[k] = v, v
	}
	out["Found"] = object{"type": "object", "required": []string{"severity", "text"}, "properties": found, "additionalProperties": false}
	out["Problem"] = object{"type": "object", "description": words.ApiProblemDetails.String(), "required": []string{"type", "title", "status", "detail", "request_id"},
		"properties": problem, "additionalProperties": false}
	return out
}

// samples are rows from which the members of an answer are seen: one with everything, one with nothing.
const samples = `{"Machine":"A","Speed":1480,"Method":"reverse indicator","Coupling to stationary plane":110,"Coupling to movable plane":110,"Coupling to front feet":420,` +
	`"Front to rear feet":610,"Movable rim 12":0,"Movable rim 3":-0.1,"Movable rim 6":-0.3,"Movable rim 9":-0.2,"Stationary rim 12":0,"Stationary rim 3":0.1,"Stationary rim 6":0.2,` +
	`"Stationary rim 9":0.1,"Growth movable front V":0.1,"Growth movable rear V":0.1}`

// sample works rows out and describes their members, so that the description cannot say otherwise than the answer.
func (s *server) sample() (whole, answer object) {
	j, _, bad := s.readJSON([]byte(`{"machines":[`+samples+`,{"Machine":"B"}]}`), nil)
	if bad != nil {
		panic("httpapi: " + bad.Detail)
	}
	x := s.evaluate(context.Background(), j, nil, mediaJSON)
	var b strings.Builder
	if err := results.WriteJSON(&b, x.e); err != nil {
		panic("httpapi: " + err.Error())
	}
	var all map[string]any
	if err := json.Unmarshal([]byte(b.String()), &all); err != nil {
		panic("httpapi: " + err.Error())
	}
	machines := all["machines"].([]any)
	answer = membersSchema(machines[0].(map[string]any), machines[1].(map[string]any))
	answer["description"] = words.ApiCoupling.String()
	props := answer["properties"].(object)
	props["line"] = object{"type": "integer", "description": words.ApiLineNumber.String()}
	props["questions"] = object{"type": "array", "items": ref("Found"), "description": words.ApiQuestions.String()}
	props["whole_job"] = object{"type": "array", "items": object{"type": "string"}, "description": words.ApiWholeJob.String()}
	whole = membersSchema(all, all)
	whole["properties"].(object)["machines"] = object{"type": "array", "items": ref("Answer")}
	return whole, answer
}

// membersSchema describes the members of objects of one kind. A number or a text may be null.
func membersSchema(a, b map[string]any) object {
	props, required := object{}, []string{}
	for k, v := range a {
		if v == nil {
			v = b[k]
		}
		o := object{}
		switch v.(type) {
		case float64:
			o["type"] = []string{"number", "null"}
		case string:
			o["type"] = []string{"string", "null"}
		case bool:
			o["type"] = "boolean"
		case []any:
			o["type"] = []string{"array", "null"}
		case map[string]any:
			o["type"] = []string{"object", "null"}
		}
		props[k] = o
		if _, ok := b[k]; ok {
			required = append(required, k)
		}
	}
	slices.Sort(required)
	return object{"type": "object", "properties": props, "required": required}
}
