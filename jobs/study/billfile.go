package study

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// billColumns are the columns that the file of a bill may have; those with a dimension have
// the unit that the study gives them.
var (
	billMeasures = map[string]string{"mass": "kg", "x": "mm", "y": "mm", "z": "mm", "length": "mm", "width": "mm", "height": "mm"}
	billTexts    = []string{"item", "group", "count", "sd", "material", "fate", "source", "how_known", "note"}
)

const (
	billFileShape = "a bill in a file is {file: pack.csv, mass: kg, x: mm}: the units of its columns"
	mostBillLines = 500
	mostBillBytes = 1 << 20
)

// billFile reads the lines of a bill from a CSV file, each as a mapping that may as well
// stand in the study.
func (r *reader) billFile(v source.Field) ([]source.Pair, bool) {
	before := r.errs.Count()
	var name string
	units := map[string]string{}
	take := source.Handlers{"file": func(f source.Field) { name, _ = f.Text("the name of a CSV file is expected") }}
	for column, like := range billMeasures {
		take[column] = func(f source.Field) {
			u, ok := r.numbers.Unit(f)
			if si, _ := unit.Parse(like); ok && u.Dimension() != si.Dimension() {
				f.Err(f.What()+" is no unit of "+column, "such as "+like)
			} else if ok {
				units[column] = strings.TrimSpace(f.Raw())
			}
		}
	}
	take.Read(v, "a bill in a file")
	switch {
	case r.errs.Count() > before:
		return nil, false
	case name == "" || units["mass"] == "":
		v.Err("file or mass is missing", billFileShape)
		return nil, false
	}
	data, err := r.valuesFile(name)
	if err != nil {
		v.Err(source.Quote(name)+": "+err.Error(), "a CSV file in the study's folder")
		return nil, false
	}
	if len(data) > mostBillBytes {
		v.Err(fmt.Sprintf("%s has %d bytes", source.Quote(name), len(data)), fmt.Sprintf("a bill has at most %d (1 MiB)", mostBillBytes))
		return nil, false
	}
	t := &billTable{Sheet: v.SheetAt(source.Printable(name, 100), data), units: units}
	lines := t.read(data)
	return lines, r.errs.Count() == before
}

// billTable reads a bill's file.
type billTable struct {
	*source.Sheet
	units   map[string]string
	columns []string
}

func (t *billTable) read(data []byte) []source.Pair {
	in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))))
	in.Comment = '#'
	head, err := in.Read()
	if err != nil {
		t.Err(1, 1, "no first line that names the columns", "columns separated by commas: item, mass ...")
		return nil
	}
	if !t.head(in, head) {
		return nil
	}
	var all []source.Pair
	seen := map[string]int{}
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if wrong := new(csv.ParseError); errors.As(err, &wrong) {
			t.Err(wrong.Line, max(wrong.Column, 1), source.Printable(wrong.Err.Error(), 80), fmt.Sprintf("%d columns a line, separated by commas", len(head)))
			return nil
		}
		line, _ := in.FieldPos(0)
		if len(all) == mostBillLines {
			t.Err(line, 1, fmt.Sprintf("more than %d lines", mostBillLines), "put together what belongs together")
			return nil
		}
		p := t.line(in, cells)
		if first := seen[p.Name]; first > 0 {
			p.Key.Err(source.Quote(p.Name)+" a second time", fmt.Sprintf("it stands in line %d: each item has a line, count says how many of it there are", first))
			continue
		}
		seen[p.Name] = line
		all = append(all, p)
	}
	if len(all) == 0 {
		t.Err(1, 1, "no lines", "an item a line")
	}
	return all
}

// head takes the names of the columns.
func (t *billTable) head(in *csv.Reader, head []string) bool {
	known := slices.Concat(billTexts, slices.Sorted(maps.Keys(billMeasures)))
	ok := true
	wrong := func(i int, found, allowed string) {
		line, column := in.FieldPos(i)
		t.Err(line, column, found, allowed)
		ok = false
	}
	if len(head) == 1 && strings.ContainsAny(head[0], ";\t") {
		wrong(0, "columns that are not separated by commas", "item,mass,sd: a comma between them, a point in numbers")
		return false
	}
	for i, name := range head {
		name = strings.TrimSpace(name)
		_, measure := billMeasures[name]
		switch {
		case !slices.Contains(known, name):
			wrong(i, source.Quote(name)+" is no column of a bill", source.Suggest(name, known))
		case slices.Contains(t.columns, name):
			wrong(i, "two columns "+source.Quote(name), "one of each")
		case measure && t.units[name] == "":
			wrong(i, "column "+source.Quote(name)+" has no unit", fmt.Sprintf("the study says it beside file: %s: %s", name, billMeasures[name]))
		}
		t.columns = append(t.columns, name)
	}
	for _, name := range append([]string{"item"}, slices.Sorted(maps.Keys(t.units))...) {
		if !slices.Contains(t.columns, name) {
			wrong(0, "no column "+source.Quote(name), "a bill has item and mass, and each column whose unit the study says")
		}
	}
	return ok
}

// line makes one line of the bill; empty cells say nothing.
func (t *billTable) line(in *csv.Reader, cells []string) source.Pair {
	line, _ := in.FieldPos(0)
	at := map[string]source.Field{}
	var p source.Pair
	var entries []source.Entry
	of := slices.Index(t.columns, "item")
	p.Name = strings.TrimSpace(cells[of])
	below := t.Below(p.Name)
	_, column := in.FieldPos(of)
	p.Key = below.Scalar(line, column, p.Name)
	for i, name := range t.columns {
		text := strings.TrimSpace(cells[i])
		_, column := in.FieldPos(i)
		if text == "" || i == of {
			continue
		}
		if u := t.units[name]; u != "" {
			text += " " + u
		}
		at[name] = below.Scalar(line, column, text)
	}
	for _, name := range t.columns {
		f, has := at[name]
		switch {
		case !has || name == "sd":
			continue
		case name == "mass":
			if sd, spread := at["sd"]; spread {
				sd = below.Scalar(sd.Place().Line, sd.Place().Column, sd.Raw()+" "+t.units["mass"])
				f = below.Mapping(line, source.Entry{Key: "normal", Value: below.Mapping(line, source.Entry{Key: "mean", Value: f}, source.Entry{Key: "sd", Value: sd})})
			}
		}
		entries = append(entries, source.Entry{Key: name, Value: f})
	}
	if _, has := at["mass"]; !has {
		if sd, spread := at["sd"]; spread {
			sd.Err("sd without a mass", "both, or neither")
		}
	}
	p.Value = below.Mapping(line, entries...)
	return p
}
