package parquet

import (
	"fmt"
	"io"
	"slices"

	"github.com/parquet-go/parquet-go/format"
)

// A Stream writes a table that need not be in memory, a row group at a time. A table of one
// group has the bytes of Encode.
type Stream struct {
	out    io.Writer
	w      *Writer
	first  []Column // of which the names, units and meanings are those of the file
	offset int64
	rows   int
	groups []format.RowGroup
}

// NewStream begins a file with the columns of the table, of which no row is taken.
func NewStream(out io.Writer, like *Table) (*Stream, error) {
	fields, err := fieldsOf(like.Columns, (*Column).kind)
	if err != nil {
		return nil, err
	}
	s := &Stream{out: out, w: newWriter(fields, nil), first: like.Columns, offset: int64(len(magic))}
	_, err = io.WriteString(out, magic)
	return s, err
}

// Add writes the rows of a table with the same columns as one group; none is no group.
func (s *Stream) Add(t *Table) error {
	switch {
	case t.Rows() == 0:
		return nil
	case len(t.Columns) != len(s.first):
		return fmt.Errorf("%d columns, the file has %d", len(t.Columns), len(s.first))
	case s.rows+t.Rows() > MaxRows:
		return fmt.Errorf("more than %d rows", MaxRows)
	}
	if err := s.w.Begin(t.Rows()); err != nil {
		return err
	}
	for i := range t.Columns {
		if k, err := t.Columns[i].kind(); err != nil || k != s.w.fields[i].kind || t.Columns[i].Name != s.w.fields[i].name {
			return fmt.Errorf("column %s is none of the file, or holds something else", t.Columns[i].Name)
		}
		if err := s.w.column(&t.Columns[i]); err != nil {
			return fmt.Errorf("column %s: %w", t.Columns[i].Name, err)
		}
	}
	pages := s.w.image.Bytes()[len(magic):]
	group := s.w.group(s.offset)
	group.Columns = slices.Clone(group.Columns)
	for i := range group.Columns {
		group.Columns[i].MetaData.DataPageOffset += s.offset - int64(len(magic))
	}
	group.Ordinal = int16(len(s.groups))
	s.groups = append(s.groups, group)
	s.rows += t.Rows()
	s.offset += int64(len(pages))
	_, err := s.out.Write(pages)
	return err
}

// Close writes the footer with the metadata.
func (s *Stream) Close(meta map[string]string) error {
	values, err := keyValues(s.first, meta)
	if err != nil {
		return err
	}
	end := newWriter(s.w.fields, values)
	end.rows, end.groups, end.before = s.rows, s.groups, s.offset
	tail, err := end.Finish()
	if err == nil {
		_, err = s.out.Write(tail)
	}
	return err
}
