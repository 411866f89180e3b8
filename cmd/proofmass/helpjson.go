package main

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"proofmass/jobs/compare"
	"proofmass/jobs/inspect"
	"proofmass/jobs/record"
	"proofmass/jobs/reference"
	"proofmass/jobs/report"
)

// documents are what commands print with --json.
var documents = []struct {
	commands, what string
	of             any
	meanings       map[string]string // of its first fields
}{
	{"run STUDY, show DIR (below answer, with study, finished, whole, fault beside it)", "the answer", report.Answer{}, map[string]string{
		"run": "how it was made", "contradictions": "what the study says against itself", "claims": "each claim's chance and verdict",
		"sizes": "how large each output is", "decides": "what decides each output and claim", "requires": "where each claim turns", "measure_next": "what a measurement is worth to each claim", "assumed": "what was assumed without evidence",
		"cautions": "what to beware of", "withdrawn": "what no longer counts", "history": "of the study", "choices": "of a study that sweeps them"}},
	{"show DIR --row N", "a list, an entry a quantity", inspect.Value{}, nil},
	{"check STUDY...", "a list, an entry a file", inspect.Checked{}, map[string]string{"mistakes": "each with its place", "seconds": "what a run would take", "odd": "what looks odd"}},
	{"compare OLD NEW", "what changed, and why", compare.Comparison{}, map[string]string{"notes": "what to know first", "inputs": "what is stated otherwise",
		"gone": "outputs and claims that only OLD has", "added": "that only NEW has", "method": "how causes were worked out"}},
	{"score DIR... --against FILE", "what predictions were worth", record.Record{}, map[string]string{"predictions": "each result, with digest and day", "outcomes": "each line of the file against what was foretold",
		"calibration": "of each quantity, and of all", "claims": "how the chances did", "notes": "what to know"}},
	{"list [WHAT]", "a mapping of kinds to lists of entries; list --about NAME: one entry", reference.Entry{}, nil},
}

// jsonHelp tells every field that --json prints, from the types that it prints.
func jsonHelp() string {
	var b strings.Builder
	b.WriteString(report.Wrap("With --json a command prints one JSON document and nothing else to stdout. Numbers have all their digits and are in the units of the tables, chances and shares from 0 to 1; null, or a field that is left out, is not known or not asked for. Fields are a promise: more may come, none is renamed. X[] is a list of X, X{} a mapping of names to X.", "", 80))
	for _, d := range documents {
		b.WriteString("\n" + report.Wrap(d.commands+": "+d.what, "", 80))
		for _, f := range fieldsOf(reflect.TypeOf(d.of), "", 0) {
			line := fmt.Sprintf("  %-46s %s", f.path, f.kind)
			if m := d.meanings[strings.TrimSuffix(strings.TrimSuffix(f.path, "[]"), "{}")]; m != "" {
				line = fmt.Sprintf("%-58s %s", line, m)
				if len([]rune(line)) > 80 {
					line = fmt.Sprintf("%s\n%s", strings.TrimRight(fmt.Sprintf("  %-46s %s", f.path, f.kind), " "), strings.TrimSuffix(report.Wrap(m, "      ", 80), "\n"))
				}
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	return b.String()
}

// A jsonField is a field of a document: a.b[].c and what stands there.
type jsonField struct{ path, kind string }

var isTime = reflect.TypeFor[time.Time]()

// fieldsOf walks a type as encoding/json does.
func fieldsOf(t reflect.Type, prefix string, depth int) []jsonField {
	var all []jsonField
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		of := f.Type
		for of.Kind() == reflect.Pointer {
			of = of.Elem()
		}
		if f.Anonymous && name == "" && of.Kind() == reflect.Struct {
			all = append(all, fieldsOf(of, prefix, depth)...)
			continue
		}
		if name == "-" || !f.IsExported() {
			continue
		}
		if name == "" {
			name = f.Name
		}
		all = append(all, fieldOf(of, prefix+name, depth)...)
	}
	return all
}

// deepest is how far nested documents go.
const deepest = 8

func fieldOf(of reflect.Type, path string, depth int) []jsonField {
	for of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	switch kind := of.Kind(); {
	case of == isTime:
		return []jsonField{{path, "time"}}
	case strings.HasSuffix(path, ".parts[].parts[]"): // parts of parts are as parts are
		return []jsonField{{path, "the same again"}}
	case kind == reflect.Struct && depth < deepest:
		return append([]jsonField{{path, ""}}, fieldsOf(of, path+".", depth+1)...)
	case kind == reflect.Slice || kind == reflect.Array:
		return fieldOf(of.Elem(), path+"[]", depth)
	case kind == reflect.Map:
		return fieldOf(of.Elem(), path+"{}", depth)
	case kind == reflect.String:
		return []jsonField{{path, "text"}}
	case kind == reflect.Bool:
		return []jsonField{{path, "yes or no"}}
	}
	return []jsonField{{path, "number"}}
}
