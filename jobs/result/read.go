package result

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// ReadTable reads a table that WriteTable or a SliceWriter wrote, every page checked. Null is NaN; int32 columns come back as
// Ints.
func ReadTable(path string) (*Table, error) {
	f, l, err := openLayout(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	t, err := l.readTable(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return t, nil
}

func (l *layout) readTable(r io.ReaderAt) (*Table, error) {
	t := &Table{Columns: make([]Column, len(l.fields)), Meta: l.meta}
	var buffer []byte
	for i := range t.Columns {
		if err := l.readColumn(r, i, &t.Columns[i], &buffer); err != nil {
			return nil, fmt.Errorf("column %s: %w", l.fields[i].name, err)
		}
	}
	return t, nil
}

func (l *layout) readColumn(r io.ReaderAt, i int, c *Column, buffer *[]byte) error {
	c.Name, c.Nullable = l.fields[i].name, l.fields[i].nullable
	for _, f := range c.facts() {
		*f.value = l.meta[f.key]
		delete(l.meta, f.key)
	}
	var body []byte
	var err error
	if l.rows > 0 {
		if body, err = l.page(r, i, buffer); err != nil {
			return err
		}
	}
	switch k := l.fields[i].kind; k {
	case kindInt64, kindInt32:
		c.Ints, err = parseInts(body, l.rows, k)
	case kindText:
		c.Texts, err = parseTexts(body, l.rows)
	case kindBool:
		c.Bools, err = parseBools(body, l.rows)
	default:
		c.Floats = make([]float64, 0, l.rows)
		if l.rows > 0 {
			c.Floats, err = appendFloats(c.Floats, body, l.rows, c.Nullable)
		}
	}
	return err
}

// Slices is a set of sample files of one schema, in order. Their footers are read once, when it is made; after that reading a
// column costs one read a file. It holds no open files and may be used by many goroutines.
type Slices struct {
	paths   []string
	layouts []*layout
	rows    int
}

// OpenSlices reads the footers. The files must have the same columns.
func OpenSlices(paths []string) (*Slices, error) {
	s := &Slices{paths: slices.Clone(paths)}
	for _, path := range paths {
		f, l, err := openLayout(path)
		if err != nil {
			return nil, err
		}
		if err := f.Close(); err != nil {
			return nil, err
		}
		if len(s.layouts) > 0 && !slices.Equal(l.fields, s.layouts[0].fields) {
			return nil, fmt.Errorf("%s: its columns differ from those of %s", path, paths[0])
		}
		if len(s.layouts) > 0 {
			l.fields, l.meta = s.layouts[0].fields, nil
		}
		s.layouts = append(s.layouts, l)
		s.rows += l.rows
	}
	return s, nil
}

// Rows returns the number of rows of all files together.
func (s *Slices) Rows() int { return s.rows }

// Names returns the columns' names in the files' order.
func (s *Slices) Names() []string {
	var names []string
	if len(s.layouts) > 0 {
		for _, f := range s.layouts[0].fields {
			names = append(names, f.name)
		}
	}
	return names
}

// Read appends one column, joined over the files in their order, to dst and returns it. Null is NaN, true is 1; text is an
// error. It needs memory for that column and one file's page.
func (s *Slices) Read(column string, dst []float64) ([]float64, error) {
	if len(s.layouts) == 0 {
		return dst, nil
	}
	i := slices.IndexFunc(s.layouts[0].fields, func(f field) bool { return f.name == column })
	if i < 0 {
		return dst, fmt.Errorf("%s: there is no column %q, there are %s", s.paths[0], column, strings.Join(s.Names(), ", "))
	}
	start := len(dst)
	dst = slices.Grow(dst, s.rows)
	var buffer []byte
	for k := range s.paths {
		var err error
		if dst, err = s.readSlice(k, i, dst, &buffer); err != nil {
			return dst[:start], fmt.Errorf("%s: column %s: %w", s.paths[k], column, err)
		}
	}
	return dst, nil
}

func (s *Slices) readSlice(k, i int, dst []float64, buffer *[]byte) ([]float64, error) {
	l := s.layouts[k]
	if l.rows == 0 {
		return dst, nil
	}
	f, err := os.Open(s.paths[k])
	if err != nil {
		return dst, err
	}
	defer f.Close()
	body, err := l.page(f, i, buffer)
	if err != nil {
		return dst, err
	}
	return l.appendNumbers(dst, i, body)
}
