package result

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"strings"
)

// A Typed is the one declaration of a table: its file, what a row is, and its columns as the exported fields of T, in the order
// of the file. Whoever writes, reads, lists or documents the table goes by it.
//
// A field is a string or string type (text), an int64 (a count) or a float64 (a number that may be null: NaN). Its tags are
// `column:"NAME"`, `unit:"..."` and `meaning:"..."`. A field whose type has Terms is a word of that closed list, or empty where
// the tag is `column:"NAME,optional"`.
type Typed[T any] struct {
	File    string // in the result folder
	Row     string // what a row is
	columns []declared
}

// declared is a column of a Typed.
type declared struct {
	Column
	field    int
	words    []Term // of a closed list, else nil
	optional bool
}

// A Term is a word that a column can have, and what it stands for.
type Term struct {
	Word    string
	Meaning string
	Source  string
}

// words is what the type of a column with a closed list can do.
type words interface{ Terms() []Term }

// declare reads the tags of T. What is wrong with them is wrong in the source, and found as the program starts.
func declare[T any](file, row string) *Typed[T] {
	t := &Typed[T]{File: file, Row: row}
	of := reflect.TypeFor[T]()
	for i := range of.NumField() {
		f := of.Field(i)
		name, option, _ := strings.Cut(f.Tag.Get("column"), ",")
		c := declared{Column: Column{Name: name, Unit: f.Tag.Get("unit"), Meaning: f.Tag.Get("meaning")}, field: i, optional: option == "optional"}
		switch f.Type.Kind() {
		case reflect.String:
			c.Texts = []string{}
		case reflect.Int64:
			c.Ints = []int64{}
		case reflect.Float64:
			c.Floats, c.Nullable = []float64{}, true
		default:
			panic(fmt.Sprintf("result: %s: column %q: no kind for %s", file, name, f.Type))
		}
		if w, closed := reflect.Zero(f.Type).Interface().(words); closed {
			c.words = w.Terms()
		}
		t.columns = append(t.columns, c)
	}
	return t
}

// Make is the table of these rows. An infinite number, which no table holds, becomes null.
func (t *Typed[T]) Make(rows []T, meta map[string]string) *Table {
	table := &Table{Columns: make([]Column, len(t.columns)), Meta: meta}
	for i, d := range t.columns {
		c := d.Column // with slices that are empty
		for r := range rows {
			switch v := reflect.ValueOf(&rows[r]).Elem().Field(d.field); v.Kind() {
			case reflect.String:
				c.Texts = append(c.Texts, v.String())
			case reflect.Int64:
				c.Ints = append(c.Ints, v.Int())
			default:
				x := v.Float()
				if math.IsInf(x, 0) {
					x = math.NaN()
				}
				c.Floats = append(c.Floats, x)
			}
		}
		table.Columns[i] = c
	}
	return table
}

// Read reads the rows and the metadata from a result folder: none where its manifest does not list the table. A column that is
// missing, or is of another kind, and a word that is not in its column's list are errors that name file and column.
func (t *Typed[T]) Read(folder string, m *Manifest) ([]T, map[string]string, error) {
	if _, there := m.Tables[t.File]; !there {
		return nil, nil, nil
	}
	path := filepath.Join(folder, t.File)
	table, err := ReadTable(path)
	if err != nil {
		return nil, nil, err
	}
	rows, err := t.rows(table)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return rows, table.Meta, nil
}

func (t *Typed[T]) rows(table *Table) ([]T, error) {
	rows := make([]T, table.Rows())
	for _, d := range t.columns {
		c := table.Column(d.Name)
		if c == nil {
			return nil, fmt.Errorf("there is no column %s (%s)", d.Name, d.Meaning)
		}
		if holds(c) != holds(&d.Column) {
			return nil, fmt.Errorf("column %s holds %s, want %s", d.Name, holds(c), holds(&d.Column))
		}
		if err := d.check(c.Texts); err != nil {
			return nil, err
		}
		for r := range rows {
			switch v := reflect.ValueOf(&rows[r]).Elem().Field(d.field); v.Kind() {
			case reflect.String:
				v.SetString(c.Texts[r])
			case reflect.Int64:
				v.SetInt(c.Ints[r])
			default:
				v.SetFloat(c.Floats[r])
			}
		}
	}
	return rows, nil
}

// check looks whether all words are of the column's closed list.
func (d *declared) check(found []string) error {
	if d.words == nil {
		return nil
	}
	known := map[string]bool{"": d.optional}
	var all []string
	for _, t := range d.words {
		known[t.Word] = true
		all = append(all, t.Word)
	}
	for row, word := range found {
		if !known[word] {
			return fmt.Errorf("column %s: row %d: found %q; the words are %s", d.Name, row, word, strings.Join(all, ", "))
		}
	}
	return nil
}

// holds is what a column's values are, in words.
func holds(c *Column) string {
	switch {
	case c.Texts != nil:
		return "text"
	case c.Ints != nil:
		return "counts"
	case c.Bools != nil:
		return "yes or no"
	}
	return "numbers"
}

// A Description says what a table holds, for help and documentation.
type Description struct {
	File, Row string
	Columns   []Described
}

// Described is a column of a table: what it is, in which unit, and the words that it can have where their list is closed.
type Described struct {
	Name, Holds, Unit, Meaning string
	Words                      []Term
}

func (t *Typed[T]) describe() Description {
	d := Description{File: t.File, Row: t.Row}
	for _, c := range t.columns {
		d.Columns = append(d.Columns, Described{c.Name, holds(&c.Column), c.Unit, c.Meaning, c.words})
	}
	return d
}
