package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"proofmass/model/unit"
	"proofmass/sampling"
)

const (
	defaultRows        = 131_072
	mostLowCorrelation = 2000 // rows of latin_low_correlation, which needs them all at once
)

// MostRows bounds rows and model runs: what a week of one machine may do.
const MostRows = 1_000_000_000

// sample reads how the inputs are drawn.
func (r *reader) sample(v field) {
	var rows *int
	var width, most *field
	handlers{
		"rows": func(f field) {
			if n, ok := f.count("rows", 1, MostRows); ok {
				rows = &n
			}
		},
		"design": func(f field) {
			if word, ok := f.oneOf(sampling.Designs()...); ok {
				r.s.Design = word
			}
		},
		"seed": func(f field) {
			if n, ok := f.whole("a seed is a whole number from 0 to 18446744073709551615"); ok {
				r.s.Seed = n
			}
		},
		"half_width": func(f field) { width = &f },
		"at_most":    func(f field) { most = &f },
	}.read(v, "sample")
	if width != nil || most != nil {
		r.growth(v, rows != nil, width, most)
		return
	}
	switch {
	case rows != nil:
		r.setRows(*rows)
	case r.s.Design == "latin_low_correlation":
		r.setRows(mostLowCorrelation)
	}
}

// setRows rounds the rows up to what the design can do and notes that it did.
func (r *reader) setRows(rows int) {
	rounded, err := sampling.RoundRows(r.s.Design, rows)
	if err != nil {
		r.main.add(Error{File: r.s.Path, Field: "sample.rows", Found: err.Error(), Allowed: rowsAllowed(r.s.Design)})
		return
	}
	r.s.Rows, r.s.RowsNote = rounded, ""
	if rounded != rows {
		r.s.RowsNote = fmt.Sprintf("Rows asked for: %d; a %s design takes %d", rows, r.s.Design, rounded)
	}
}

func rowsAllowed(design string) string {
	if design == "latin_low_correlation" {
		return fmt.Sprintf("at most %d rows, or another design", mostLowCorrelation)
	}
	return "at least 1"
}

// whole reads a whole number that need not fit a double.
func (f field) whole(allowed string) (uint64, bool) {
	text, ok := f.text(allowed)
	if !ok {
		return 0, false
	}
	if _, err := unit.ParseNumber(text); err != nil {
		f.err(err.Error(), allowed)
		return 0, false
	}
	n, err := strconv.ParseUint(strings.ReplaceAll(strings.TrimPrefix(text, "+"), "_", ""), 10, 64)
	if err != nil {
		f.err(f.what(), allowed)
	}
	return n, err == nil
}

// count reads a whole number within bounds; 1e6 is one.
func (f field) count(what string, low, high int) (int, bool) {
	allowed := fmt.Sprintf("%s is a whole number from %d to %d", what, low, high)
	text, ok := f.text(allowed)
	if !ok {
		return 0, false
	}
	x, err := unit.ParseNumber(text)
	if err != nil {
		f.err(err.Error(), allowed)
		return 0, false
	}
	if x != math.Trunc(x) || x < float64(low) || x > float64(high) {
		f.err(f.what(), allowed)
		return 0, false
	}
	return int(x), true
}
