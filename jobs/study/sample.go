package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/unit"
	"proofmass/sampling/design"
)

const (
	defaultRows        = 131_072
	mostLowCorrelation = 2000 // rows of latin_low_correlation, which needs them all at once
)

// MostRows bounds rows and model runs: what a week of one machine may do.
const MostRows = 1_000_000_000

// sample reads how the inputs are drawn.
func (r *reader) sample(v source.Field) {
	r.s.DesignPlace = v.Place()
	var rows *int
	var width, most *source.Field
	source.Handlers{
		"rows": func(f source.Field) {
			if n, ok := count(f, "rows", 1, MostRows); ok {
				rows = &n
			}
		},
		"design": func(f source.Field) {
			if word, ok := f.OneOf(design.Names()...); ok {
				r.s.Design, r.s.DesignPlace = word, f.Place()
			}
		},
		"seed": func(f source.Field) {
			if n, ok := whole(f, "a seed is a whole number from 0 to 18446744073709551615"); ok {
				r.s.Seed = n
			}
		},
		"rare": func(f source.Field) {
			if x, ok := uncertain.Plain(f, "rare"); ok && !(x >= LeastRare && x <= MostRare) {
				f.Err(f.What(), fmt.Sprintf("rare is a chance from %g to %g, down to which claims are followed that next to no draw holds: rare: 1e-6", LeastRare, MostRare))
			} else if ok {
				r.s.Rare = x
			}
		},
		"half_width": func(f source.Field) { width = &f },
		"at_most":    func(f source.Field) { most = &f },
	}.Read(v, "sample")
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

// RowsAsked begins the note that other rows are taken than were asked for.
const RowsAsked = "Rows asked for: "

// setRows rounds the rows up to what the design can do and notes that it did.
func (r *reader) setRows(rows int) {
	rounded, err := design.RoundRows(r.s.Design, rows)
	if err != nil {
		r.errs.Add(Error{Place: Place{File: r.s.Path}, Field: "sample.rows", Found: err.Error(), Allowed: rowsAllowed(r.s.Design)})
		return
	}
	r.s.Rows, r.s.RowsNote = rounded, ""
	if rounded != rows {
		r.s.RowsNote = fmt.Sprintf(RowsAsked+"%d; a %s design takes %d", rows, r.s.Design, rounded)
	}
}

func rowsAllowed(design string) string {
	if design == "latin_low_correlation" {
		return fmt.Sprintf("at most %d rows, or another design", mostLowCorrelation)
	}
	return "at least 1"
}

// whole reads a whole number that need not fit a double.
func whole(f source.Field, allowed string) (uint64, bool) {
	text, ok := f.Text(allowed)
	if !ok {
		return 0, false
	}
	if _, err := unit.ParseNumber(text); err != nil {
		f.Err(source.MessageOf(err).Found, allowed)
		return 0, false
	}
	n, err := strconv.ParseUint(strings.ReplaceAll(strings.TrimPrefix(text, "+"), "_", ""), 10, 64)
	if err != nil {
		f.Err(f.What(), allowed)
	}
	return n, err == nil
}

// count reads a whole number within bounds; 1e6 is one.
func count(f source.Field, what string, low, high int) (int, bool) {
	allowed := fmt.Sprintf("%s is a whole number from %d to %d", what, low, high)
	text, ok := f.Text(allowed)
	if !ok {
		return 0, false
	}
	x, err := unit.ParseNumber(text)
	if err != nil {
		f.Err(source.MessageOf(err).Found, allowed)
		return 0, false
	}
	if x != math.Trunc(x) || x < float64(low) || x > float64(high) {
		f.Err(f.What(), allowed)
		return 0, false
	}
	return int(x), true
}
