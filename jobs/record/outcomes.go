package record

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// An outcome is a line of the file: what was measured of a quantity or claim of a study.
type outcome struct {
	study, name string
	value       float64
	sd          float64 // of the measurement; 0: exact
	unit        string  // "" where none is stated
	on          string  // the day it was measured, 2026-05-02; "" unknown
	guess       *float64
	guessSD     float64 // 0: a bare number
	places      map[string]source.Place
}

// The columns of the file; those of wanted must be there.
var (
	wanted = []string{"study", "name", "value"}
	known  = []string{"study", "name", "value", "sd", "unit", "measured_on", "guess", "guess_sd"}
)

// mostOutcomes and mostBytes bound a file of outcomes.
const (
	mostOutcomes = 10_000
	mostBytes    = 4 << 20
)

// reader reads one file of outcomes and gathers what is wrong with it.
type reader struct {
	path   string
	data   []byte
	begins []int // of each line, in data
	wrong  *source.Collector
}

// outcomes reads the lines. The error is a source.Errors with the place of every mistake.
func outcomes(path string, data []byte) ([]outcome, error) {
	r := &reader{path: path, data: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), begins: []int{0}, wrong: &source.Collector{}}
	for i, b := range r.data {
		if b == '\n' {
			r.begins = append(r.begins, i+1)
		}
	}
	all := r.read()
	if r.wrong.Count() > 0 {
		return nil, r.wrong.All(path)
	}
	return all, nil
}

func (r *reader) refuse(at source.Place, field, found, allowed string) {
	r.wrong.Add(source.Error{Place: at, Field: field, Found: found, Allowed: allowed})
}

// place is that of byte column from 1 of a line; columns of messages count characters.
func (r *reader) place(line, column int) source.Place {
	rest := r.data[r.begins[min(line, len(r.begins))-1]:]
	before := rest[:max(0, min(column-1, len(rest)))]
	return source.Place{File: r.path, Line: line, Column: 1 + utf8.RuneCount(before)}
}

func (r *reader) read() []outcome {
	lines := csv.NewReader(bytes.NewReader(r.data))
	lines.Comment, lines.FieldsPerRecord, lines.TrimLeadingSpace = '#', -1, true
	head, err := lines.Read()
	if err != nil {
		r.refuse(source.Place{File: r.path, Line: 1, Column: 1}, "", "no line that names the columns", "the first is "+strings.Join(known, ",")+"; the last five may be left out")
		return nil
	}
	columns := r.head(lines, head)
	if columns == nil {
		return nil
	}
	var all []outcome
	for {
		cells, err := lines.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if bad := new(csv.ParseError); errors.As(err, &bad) {
			r.refuse(r.place(bad.Line, bad.Column), "", "no CSV: "+bad.Err.Error(), "values are separated by commas, a quotation mark within quotation marks is doubled")
			return nil
		}
		if len(all) == mostOutcomes {
			line, column := lines.FieldPos(0)
			r.refuse(r.place(line, column), "", "more lines than can be", fmt.Sprintf("at most %d outcomes are allowed", mostOutcomes))
			return nil
		}
		all = append(all, r.line(lines, columns, cells))
		if r.wrong.Full() {
			return nil
		}
	}
	if len(all) == 0 && r.wrong.Count() == 0 {
		r.refuse(source.Place{File: r.path}, "", "no outcome below the names of the columns", "a line for each quantity or claim that was measured")
	}
	return all
}

// head is which column stands where; nil after a mistake.
func (r *reader) head(lines *csv.Reader, head []string) []string {
	names := make([]string, len(head))
	before := r.wrong.Count()
	for i, name := range head {
		line, column := lines.FieldPos(i)
		names[i] = strings.TrimSpace(name)
		switch {
		case len(head) == 1 && strings.ContainsAny(name, ";\t"):
			r.refuse(r.place(line, column), "", "columns that are not separated by commas", "they are separated by commas")
			return nil
		case !slices.Contains(known, names[i]):
			r.refuse(r.place(line, column), "", "column "+source.Quote(names[i]), "the columns are "+strings.Join(known, ", "))
		case slices.Contains(names[:i], names[i]):
			r.refuse(r.place(line, column), "", "two columns "+source.Quote(names[i]), "each stands once")
		}
	}
	for _, name := range wanted {
		if before == r.wrong.Count() && !slices.Contains(names, name) {
			line, column := lines.FieldPos(0)
			r.refuse(r.place(line, column), "", "no column "+name, "study, name and value must be there")
		}
	}
	if r.wrong.Count() > before {
		return nil
	}
	return names
}

// line is one outcome.
func (r *reader) line(lines *csv.Reader, columns, cells []string) outcome {
	o := outcome{places: map[string]source.Place{}}
	text := map[string]string{}
	for i := range cells {
		line, column := lines.FieldPos(i)
		if i >= len(columns) {
			r.refuse(r.place(line, column), "", fmt.Sprintf("%d values", len(cells)), fmt.Sprintf("the first line names %d columns; a value with a comma stands in quotation marks", len(columns)))
			return o
		}
		text[columns[i]], o.places[columns[i]] = strings.TrimSpace(cells[i]), r.place(line, column)
	}
	line, column := lines.FieldPos(0)
	for _, name := range known {
		if _, there := o.places[name]; !there {
			o.places[name] = r.place(line, column)
		}
	}
	for _, name := range wanted {
		if text[name] == "" {
			r.refuse(o.places[name], name, "nothing", "it must be there")
		}
	}
	o.study, o.name, o.unit, o.on = text["study"], text["name"], text["unit"], text["measured_on"]
	if v := r.number(&o, text, "value"); v != nil {
		o.value = *v
	}
	o.guess = r.number(&o, text, "guess")
	o.sd, o.guessSD = r.width(&o, text, "sd"), r.width(&o, text, "guess_sd")
	if text["guess"] == "" && text["guess_sd"] != "" {
		r.refuse(o.places["guess_sd"], "guess_sd", source.Quote(text["guess_sd"]), "it stands beside a guess alone")
	}
	if o.on != "" {
		if _, err := time.Parse(time.DateOnly, o.on); err != nil {
			r.refuse(o.places["measured_on"], "measured_on", source.Quote(o.on), "a day as 2026-05-02 is allowed")
		}
	}
	if o.unit != "" {
		if _, err := unit.Parse(o.unit); err != nil {
			r.refuse(o.places["unit"], "unit", source.Printable(err.Error(), 200), "")
		}
	}
	return o
}

// number reads a number that may be absent.
func (r *reader) number(o *outcome, text map[string]string, name string) *float64 {
	if text[name] == "" {
		return nil
	}
	v, err := unit.ParseNumber(text[name])
	if err != nil {
		r.refuse(o.places[name], name, source.Quote(text[name])+" is no number", "a number alone is allowed; its unit stands in the column unit")
		return nil
	}
	return &v
}

// width reads a standard deviation: nothing is 0.
func (r *reader) width(o *outcome, text map[string]string, name string) float64 {
	v := r.number(o, text, name)
	switch {
	case v == nil:
		return 0
	case *v < 0:
		r.refuse(o.places[name], name, source.Quote(text[name]), "a standard deviation is not below nil")
		return 0
	}
	return *v
}
