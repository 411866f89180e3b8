package reference

import (
	"fmt"
	"math"
	"slices"

	"proofmass/jobs/analyse"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/jobs/study/uncertain"
	"proofmass/model"
	"proofmass/model/formula"
	"proofmass/model/unit"
	"proofmass/model/vehicle"
)

// An Entry is one thing that a study may use.
type Entry struct {
	Name          string  `json:"name"`
	Column        string  `json:"column,omitempty"` // of a result's tables, in which the name is a word
	Unit          string  `json:"unit,omitempty"`
	Meaning       string  `json:"meaning"`
	Limits        string  `json:"limits,omitempty"`
	Default       string  `json:"default,omitempty"`
	DefaultSource string  `json:"default_source,omitempty"`
	Absent        string  `json:"if_left_out,omitempty"`
	Stated        string  `json:"stated,omitempty"`
	Routes        []Route `json:"made_from,omitempty"` // the ways to compute it, the first that can be gone
	Source        string  `json:"source,omitempty"`
	Usual         string  `json:"usual,omitempty"` // where it mostly lies, and what is often meant elsewhere
}

// A Route is one way to compute a quantity from others.
type Route = vehicle.Route

// Kinds are what List can list.
func Kinds() []string {
	return []string{"inputs", "outputs", "schedules", "distributions", "functions", "units", "methods", "tables"}
}

// Suggest is "; did you mean ..." with the known word nearest to one that was not
// found, "" if none is near.
func Suggest(word string, known []string) string {
	if near := unit.Nearest(word, known); near != "" {
		return "; did you mean " + near
	}
	return ""
}

// Quantity reports whether the catalogue has a quantity of that name.
func Quantity(catalogue *study.Catalogue, name string) bool {
	_, found := catalogue.Find(name)
	return found
}

// List lists one of Kinds, of a catalogue where it is of vehicles; nil for any other word.
func List(catalogue *study.Catalogue, kind string) []Entry {
	switch kind {
	case "inputs":
		return quantities(catalogue, func(q model.Quantity) bool { return q.Stated })
	case "outputs":
		return quantities(catalogue, func(q model.Quantity) bool { return q.Computed })
	case "schedules":
		return schedules(catalogue)
	case "distributions":
		return distributions()
	case "functions":
		return functions()
	case "units":
		return units()
	case "methods":
		return methods(catalogue)
	case "tables":
		return tables()
	}
	return nil
}

func quantities(catalogue *study.Catalogue, wanted func(model.Quantity) bool) []Entry {
	var entries []Entry
	for _, q := range catalogue.Quantities() {
		if !wanted(q) {
			continue
		}
		e := Entry{Name: q.Name, Unit: q.Unit.String(), Meaning: q.Meaning, Limits: limits(q), Default: catalogue.DefaultText(q.Name),
			DefaultSource: q.DefaultSource, Source: q.Source, Routes: catalogue.Routes(q.Name)}
		if q.Optional {
			e.Absent = number(q.Unit.FromSI(q.Absent)) + " " + q.Unit.String()
		}
		if q.Computed && q.Stated {
			e.Stated = "yes; what would have made it is then not asked for"
		}
		e.Usual = usual(q)
		entries = append(entries, e)
	}
	return entries
}

// usual is the band in which a quantity mostly lies.
func usual(q model.Quantity) string {
	b := q.Usual
	if b == (model.Band{}) {
		return ""
	}
	text := number(q.Unit.FromSI(b.Low)) + " to " + number(q.Unit.FromSI(b.High)) + " " + q.Unit.String() + " (" + b.Source + ")"
	if b.Slip != "" {
		text += "; elsewhere often " + b.Slip
	}
	return text
}

// MadeOf are the quantities that are made from one directly, in the catalogue's order.
func MadeOf(catalogue *study.Catalogue, name string) []string {
	var all []string
	for _, q := range catalogue.Quantities() {
		if slices.ContainsFunc(catalogue.Routes(q.Name), func(r Route) bool { return slices.Contains(r.From, name) }) {
			all = append(all, q.Name)
		}
	}
	return all
}

func limits(q model.Quantity) string {
	low, high := q.Unit.FromSI(q.Low), q.Unit.FromSI(q.High)
	above, unit := "at least", ""
	if q.LowOpen {
		above = "above"
	}
	if u := q.Unit.String(); u != "1" {
		unit = " " + u
	}
	switch {
	case math.IsInf(low, 0) && math.IsInf(high, 0):
		return ""
	case math.IsInf(high, 0):
		return above + " " + number(low) + unit
	case math.IsInf(low, 0):
		return "at most " + number(high) + unit
	}
	return above + " " + number(low) + unit + ", at most " + number(high) + unit
}

func number(x float64) string {
	if math.IsInf(x, 1) {
		return "no limit"
	}
	return fmt.Sprintf("%.6g", x)
}

func schedules(catalogue *study.Catalogue) []Entry {
	var entries []Entry
	for _, d := range catalogue.Drives() {
		s := d.Schedule
		entries = append(entries, Entry{Name: s.Name, Source: s.Source,
			Meaning: fmt.Sprintf("%s, %.2f km in %.0f s", s.Title, s.Distance()/1000, s.Duration())})
	}
	return entries
}

func distributions() []Entry {
	var entries []Entry
	for _, d := range uncertain.Distributions() {
		entries = append(entries, Entry{Name: d.Key, Meaning: d.Parameters + ": " + d.Meaning})
	}
	return entries
}

// functions are what an expression may hold, operators too.
func functions() []Entry {
	var entries []Entry
	for _, f := range formula.Language() {
		entries = append(entries, Entry{Name: f.Form, Meaning: f.Meaning})
	}
	return entries
}

func units() []Entry {
	var entries []Entry
	for _, u := range unit.List() {
		entries = append(entries, Entry{Name: u.Symbol, Unit: u.Dimension.String(), Meaning: u.Meaning})
	}
	return append(entries, Entry{Name: "three capitals", Unit: "money", Meaning: "the code of a currency, one a study, as in 92 EUR/kWh; nothing is converted"})
}

// methods are the words of a result's tables.
func methods(catalogue *study.Catalogue) []Entry {
	var entries []Entry
	for _, t := range analyse.Methods(catalogue) {
		entries = append(entries, Entry{Name: t.Word, Column: t.Column, Meaning: t.Meaning, Source: t.Source})
	}
	return entries
}

// tables are the columns of a result's tables.
func tables() []Entry {
	var entries []Entry
	for _, t := range append(result.Describe(), result.DescribeIndex(), result.DescribeRecord()) {
		for _, c := range t.Columns {
			e := Entry{Name: c.Name, Column: t.File, Meaning: c.Meaning}
			if c.Unit != "" && c.Unit != "1" {
				e.Meaning += "; in the " + c.Unit
			}
			entries = append(entries, e)
		}
	}
	return entries
}
