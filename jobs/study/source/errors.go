package source

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Place is where in a file something stands. Lines and columns count from 1,
// columns in characters; both are 0 where the file as a whole is meant.
type Place struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// String gives file:line:column.
func (p Place) String() string {
	return fmt.Sprintf("%s:%d:%d", Printable(p.File, 200), p.Line, p.Column)
}

// An Error is one mistake in a study, at a place.
type Error struct {
	Place
	Field   string `json:"field"`   // dotted path of the field, "" for none
	Found   string `json:"found"`   // what was found
	Allowed string `json:"allowed"` // what is allowed
}

// Error gives one line: file:line:column: field: found; allowed.
func (e Error) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		b.WriteString(e.Place.String())
	} else {
		b.WriteString(Printable(e.File, 200))
	}
	if e.Field != "" {
		b.WriteString(": " + Printable(e.Field, 120))
	}
	b.WriteString(": " + e.Found)
	if e.Allowed != "" {
		b.WriteString("; " + e.Allowed)
	}
	return b.String()
}

// Errors are all mistakes of a study, in order of place.
type Errors []Error

// Error gives one line a mistake.
func (e Errors) Error() string {
	lines := make([]string, len(e))
	for i := range e {
		lines[i] = e[i].Error()
	}
	return strings.Join(lines, "\n")
}

// A Collector gathers the mistakes of a study. It keeps the first hundred and counts
// the rest, so that a file of nothing but mistakes is refused in no time.
type Collector struct {
	list  Errors
	count int
}

// MostErrors is how many mistakes are kept.
const MostErrors = 100

// Add takes one mistake.
func (c *Collector) Add(e Error) {
	if c.count++; !c.Full() {
		c.list = append(c.list, e)
	}
}

// Count is the number of mistakes so far.
func (c *Collector) Count() int { return c.count }

// Full reports whether a further mistake is only counted, so that nobody need search for
// what was meant.
func (c *Collector) Full() bool { return c.count > MostErrors }

// All returns the mistakes in order of place, those of the file first in front.
func (c *Collector) All(first string) Errors {
	list := c.list.sorted(first)
	if c.Full() {
		list = append(list, Error{Place: Place{File: first}, Found: fmt.Sprintf("%d more mistakes", c.count-MostErrors), Allowed: "the first 100 are shown"})
	}
	return list
}

// sorted returns the errors with those of first in front, then by place; the same
// mistake found twice is said once.
func (e Errors) sorted(first string) Errors {
	slices.SortStableFunc(e, func(a, b Error) int {
		if a.File != b.File {
			if a.File == first {
				return -1
			}
			if b.File == first {
				return 1
			}
		}
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return slices.Compact(e)
}
