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
	t := &Table{Columns: make([]Column, len(f.fields)), Meta: f.meta}
	var buffer []byte
	for i := range t.Columns {
		if err := f.readColumn(r, i, &t.Columns[i], &buffer); err != nil {
			return nil, fmt.Errorf("column %s: %w", f.fields[i].name, err)
		}
	}
	return t, nil
}

// plausible bounds the memory for nulls, which take no bytes in a file. A row of a table takes some bytes in a column that is
// never null, such as its name, so that there are fewer nulls than bytes.
func (f *File) plausible(size int64) bool {
	nullable := int64(0)
	for _, c := range f.fields {
		if c.nullable {
			nullable++
		}
	}
	return nullable*int64(f.rows) <= 4*size+1<<20
}

func (f *File) readColumn(r io.ReaderAt, i int, c *Column, buffer *[]byte) error {
	c.Name, c.Nullable = f.fields[i].name, f.fields[i].nullable
	for _, fact := range c.facts() {
		*fact.value = f.meta[fact.key]
		delete(f.meta, fact.key)
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
	return true
}

// Numbers appends the column with that index to dst: null is NaN, true is 1; text is an error. The buffer is grown to hold one
// page and may be used again.
func (f *File) Numbers(r io.ReaderAt, column int, dst []float64, buffer *[]byte) ([]float64, error) {
	if f.rows == 0 {
		return dst, nil
	}
	body, err := f.page(r, column, buffer)
	if err != nil {
		return dst, err
	}
	return f.appendNumbers(dst, column, body)
}
