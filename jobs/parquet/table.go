package parquet

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Column is one column of a table. Exactly one of the value slices is not nil and so gives the column's kind (a table without
// rows has an empty slice, not nil). Unit, Meaning and Source go into the file's key-value metadata as column.NAME.unit,
// column.NAME.meaning and column.NAME.source; an empty one is left out.
type Column struct {
	Name                  string
	Unit, Meaning, Source string

	Floats []float64 // NaN is null, and needs Nullable
	Ints   []int64
	Texts  []string // UTF-8
	Bools  []bool

	Nullable bool // floats only; part of the schema, so that it does not depend on the values
}

// Table is a flat table: columns of equal length in the order in which they stand in the file. Meta is further key-value
// metadata; its keys must not begin with "column.".
type Table struct {
	Columns []Column
	Meta    map[string]string
}

// Column returns the column of that name, or nil.
func (t *Table) Column(name string) *Column {
	for i := range t.Columns {
		if t.Columns[i].Name == name {
			return &t.Columns[i]
		}
	}
	return nil
}

// Rows returns the number of rows.
func (t *Table) Rows() int {
	if len(t.Columns) == 0 {
		return 0
	}
	return t.Columns[0].len()
}

// Limits of one file. A page's size is an int32 in the format; the row limit also bounds what a damaged file can ask for.
const (
	MaxRows        = 1 << 24
	maxPageBytes   = 1<<31 - 1
	maxFooterBytes = 1 << 21
)

// Kind is the type of a column's values.
type Kind int

const (
	Float Kind = iota // float64
	Int64
	Int32 // written by Writer.Repeat; read as Ints
	Text
	Bool
)

func (c *Column) len() int {
	return len(c.Floats) + len(c.Ints) + len(c.Texts) + len(c.Bools)
}

func (c *Column) kind() (Kind, error) {
	var found []Kind
	note := func(given bool, k Kind) {
		if given {
			found = append(found, k)
		}
	}
	note(c.Floats != nil, Float)
	note(c.Ints != nil, Int64)
	note(c.Texts != nil, Text)
	note(c.Bools != nil, Bool)
	if len(found) != 1 {
		return 0, fmt.Errorf("column %s: %d of its value slices are not nil, one must be", c.Name, len(found))
	}
	if c.Nullable && found[0] != Float {
		return 0, fmt.Errorf("column %s: only floats may be null", c.Name)
	}
	return found[0], nil
}

// fieldsOf checks what does not depend on values and returns the schema.
func fieldsOf(columns []Column, kindOf func(*Column) (Kind, error)) ([]field, error) {
	if len(columns) == 0 {
		return nil, fmt.Errorf("a table needs a column")
	}
	seen := make(map[string]bool, len(columns))
	fields := make([]field, len(columns))
	for i := range columns {
		c := &columns[i]
		if c.Name == "" || !utf8.ValidString(c.Name) || seen[c.Name] {
			return nil, fmt.Errorf("column %d: the name %q is empty, not UTF-8 or used twice", i, c.Name)
		}
		seen[c.Name] = true
		k, err := kindOf(c)
		if err != nil {
			return nil, err
		}
		fields[i] = field{name: c.Name, kind: k, nullable: c.Nullable}
	}
	return fields, nil
}

// keyValues joins a table's metadata with that of its columns.
func keyValues(columns []Column, meta map[string]string) (map[string]string, error) {
	all := make(map[string]string, len(meta)+3*len(columns))
	for k, v := range meta {
		if strings.HasPrefix(k, "column.") {
			return nil, fmt.Errorf("metadata key %q: keys that begin with column. belong to columns", k)
		}
		all[k] = v
	}
	for i := range columns {
		for _, f := range columns[i].facts() {
			if *f.value != "" {
				all[f.key] = *f.value
			}
		}
	}
	for k, v := range all {
		if !utf8.ValidString(k) || !utf8.ValidString(v) {
			return nil, fmt.Errorf("metadata key %q: not UTF-8", k)
		}
	}
	return all, nil
}

type fact struct {
	key   string
	value *string
}

func (c *Column) facts() [3]fact {
	prefix := "column." + c.Name
	return [3]fact{{prefix + ".unit", &c.Unit}, {prefix + ".meaning", &c.Meaning}, {prefix + ".source", &c.Source}}
}

// Encode returns the image of a file that holds the table. The same table gives the same bytes.
func Encode(t *Table) ([]byte, error) {
	fields, err := fieldsOf(t.Columns, (*Column).kind)
	if err != nil {
		return nil, err
	}
	meta, err := keyValues(t.Columns, t.Meta)
	if err != nil {
		return nil, err
	}
	w := newWriter(fields, meta)
	if err := w.Begin(t.Rows()); err != nil {
		return nil, err
	}
	for i := range t.Columns {
		if err := w.column(&t.Columns[i]); err != nil {
			return nil, fmt.Errorf("column %s: %w", t.Columns[i].Name, err)
		}
	}
	return w.Finish()
}
