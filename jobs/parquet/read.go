package parquet

import (
	"fmt"
	"io"
	"slices"
)

// ReadTable reads a table that Encode or a Writer wrote, of that many bytes, every page checked. Null is NaN; int32 columns come
// back as Ints.
func ReadTable(r io.ReaderAt, size int64) (*Table, error) {
	f, err := Open(r, size)
	if err != nil {
		return nil, err
	}
	if !f.plausible(size) {
		return nil, damaged("more nulls than a table of %d bytes has", size)
	}
	return f.table(r)
}

// table reads all rows.
func (f *File) table(r io.ReaderAt) (*Table, error) {
	t := &Table{Columns: make([]Column, len(f.fields)), Meta: f.meta}
	f.head(t)
	var buffer []byte
	for i := range t.Columns {
		if err := f.readColumn(r, i, &t.Columns[i], &buffer); err != nil {
			return nil, fmt.Errorf("column %s: %w", f.fields[i].name, err)
		}
	}
	return t, nil
}

// ReadGroups hands the rows of a table on, a row group at a time; the tables have no
// metadata, which is what it returns.
func ReadGroups(r io.ReaderAt, size int64, take func(*Table) error) (map[string]string, error) {
	f, err := Open(r, size)
	if err != nil {
		return nil, err
	}
	if !f.plausible(size) {
		return nil, damaged("more nulls than a table of %d bytes has", size)
	}
	groups := f.groups
	if groups == nil {
		groups = []*File{{fields: f.fields, chunks: f.chunks, rows: f.rows}}
	}
	f.head(&Table{Columns: make([]Column, len(f.fields))})
	for _, g := range groups {
		t, err := g.table(r)
		if err == nil {
			err = take(t)
		}
		if err != nil {
			return nil, err
		}
	}
	return f.meta, nil
}

// head moves what the metadata says of the columns to these.
func (f *File) head(t *Table) {
	for i := range t.Columns {
		c := &t.Columns[i]
		c.Name, c.Nullable = f.fields[i].name, f.fields[i].nullable
		for _, fact := range c.facts() {
			*fact.value = f.meta[fact.key]
			delete(f.meta, fact.key)
		}
	}
}

// plausible bounds the memory for nulls, which take no bytes in a file. A row of a table takes some bytes in a column that is
// never null, such as its name, so that there are fewer nulls than bytes. Of a packed file it bounds all values: a column of
// 8192 times the same takes 300 bytes with what the footer says of it.
func (f *File) plausible(size int64) bool {
	if f.Packed() {
		return int64(len(f.fields))*int64(f.rows) <= 64*size+1<<17
	}
	nullable := int64(0)
	for _, c := range f.fields {
		if c.nullable {
			nullable++
		}
	}
	return nullable*int64(f.rows) <= 4*size+1<<20
}

func (f *File) readColumn(r io.ReaderAt, i int, c *Column, buffer *[]byte) error {
	if f.groups != nil {
		return f.readGroups(r, i, c, buffer)
	}
	var body []byte
	var err error
	if f.rows > 0 {
		if body, err = f.page(r, i, buffer); err != nil {
			return err
		}
	}
	switch k := f.fields[i].kind; k {
	case Int64, Int32:
		c.Ints, err = parseInts(body, f.rows, k)
	case Text:
		c.Texts, err = parseTexts(body, f.rows)
	case Bool:
		c.Bools, err = parseBools(body, f.rows)
	default:
		c.Floats = make([]float64, 0, f.rows)
		if f.rows > 0 {
			c.Floats, err = appendFloats(c.Floats, body, f.rows, c.Nullable)
		}
	}
	return err
}

// readGroups joins a column of several groups.
func (f *File) readGroups(r io.ReaderAt, i int, c *Column, buffer *[]byte) error {
	for _, g := range f.groups {
		more := Column{Nullable: c.Nullable}
		if err := g.readColumn(r, i, &more, buffer); err != nil {
			return err
		}
		c.Floats, c.Ints = append(c.Floats, more.Floats...), append(c.Ints, more.Ints...)
		c.Texts, c.Bools = append(c.Texts, more.Texts...), append(c.Bools, more.Bools...)
	}
	return nil
}

// Rows returns the number of rows.
func (f *File) Rows() int { return f.rows }

// Names returns the columns' names in the file's order.
func (f *File) Names() []string {
	names := make([]string, len(f.fields))
	for i, c := range f.fields {
		names[i] = c.name
	}
	return names
}

// Index returns where the column of that name stands, -1 if there is none.
func (f *File) Index(column string) int {
	return slices.IndexFunc(f.fields, func(c field) bool { return c.name == column })
}

// Like makes a file that has the same columns as first share its schema and forget its metadata, so that many files of a kind
// need little memory. It reports whether the columns are the same.
func (f *File) Like(first *File) bool {
	if !slices.Equal(f.fields, first.fields) {
		return false
	}
	f.fields, f.meta = first.fields, nil
	for _, g := range f.groups {
		g.fields = first.fields
	}
	return true
}

// Numbers appends the column with that index to dst: null is NaN, true is 1; text is an error. The buffer is grown to hold one
// page and may be used again.
func (f *File) Numbers(r io.ReaderAt, column int, dst []float64, buffer *[]byte) ([]float64, error) {
	for _, g := range f.groups {
		var err error
		if dst, err = g.Numbers(r, column, dst, buffer); err != nil {
			return dst, err
		}
	}
	if f.rows == 0 || f.groups != nil {
		return dst, nil
	}
	body, err := f.page(r, column, buffer)
	if err != nil {
		return dst, err
	}
	return f.appendNumbers(dst, column, body)
}
