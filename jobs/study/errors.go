package study

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// An Error is one mistake in a study, at a place.
type Error struct {
	File    string `json:"file"`
	Line    int    `json:"line"` // 0 where the file as a whole is meant, as Column
	Column  int    `json:"column"`
	Field   string `json:"field"`   // dotted path of the field, "" for none
	Found   string `json:"found"`   // what was found
	Allowed string `json:"allowed"` // what is allowed
}

// Error gives one line: file:line:column: field: found; allowed.
func (e Error) Error() string {
	var b strings.Builder
	b.WriteString(printable(e.File, 200))
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	if e.Field != "" {
		b.WriteString(": " + printable(e.Field, 120))
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

// collector gathers the mistakes of a study. It keeps the first hundred and counts
// the rest, so that a file of nothing but mistakes is refused in no time.
type collector struct {
	list  Errors
	count int
}

const mostErrors = 100

func (c *collector) add(e Error) {
	if c.count++; !c.full() {
		c.list = append(c.list, e)
	}
}

func (c *collector) full() bool { return c.count > mostErrors }

// all returns the mistakes in order of place, those of the file first in front.
func (c *collector) all(first string) Errors {
	list := c.list.sorted(first)
	if c.full() {
		list = append(list, Error{File: first, Found: fmt.Sprintf("%d more mistakes", c.count-mostErrors), Allowed: "the first 100 are shown"})
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
