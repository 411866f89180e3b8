package result

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/jobs/parquet"
	"proofmass/jobs/regular"
)

// ReadTable reads a table that WriteTable or a SliceWriter wrote, every page checked. Null is NaN; int32 columns come back as
// Ints.
func ReadTable(path string) (*Table, error) {
	f, size, err := regular.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	t, err := parquet.ReadTable(f, size)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return t, nil
}

// Slices is a set of sample files of one schema, in order. Their footers are read once, when it is made; after that reading a
// column costs one read a file. It holds no open files and may be used by many goroutines.
type Slices struct {
	paths []string
	files []*parquet.File
	rows  int
}

// OpenSlices reads the footers. The files must have the same columns.
func OpenSlices(paths []string) (*Slices, error) {
	s := &Slices{paths: slices.Clone(paths)}
	for _, path := range paths {
		file, err := openSlice(path)
		if err != nil {
			return nil, err
		}
		s.files = append(s.files, file)
		if !file.Like(s.files[0]) {
			return nil, fmt.Errorf("%s: its columns differ from those of %s", path, paths[0])
		}
		s.rows += file.Rows()
	}
	return s, nil
}

func openSlice(path string) (*parquet.File, error) {
	f, size, err := regular.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	file, err := parquet.Open(f, size)
	if err == nil && !file.Packed() && int64(file.Rows()) > size/8 { // the column row alone takes as much
		err = damaged("%d rows in %d bytes", file.Rows(), size)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return file, nil
}

// Rows returns the number of rows of all files together.
func (s *Slices) Rows() int { return s.rows }

// Names returns the columns' names in the files' order.
func (s *Slices) Names() []string {
	if len(s.files) == 0 {
		return nil
	}
	return s.files[0].Names()
}

// Read appends one column, joined over the files in their order, to dst and returns it. Null is NaN, true is 1; text is an
// error. It needs memory for that column and one file's page.
func (s *Slices) Read(column string, dst []float64) ([]float64, error) {
	if len(s.files) == 0 {
		return dst, nil
	}
	i := s.files[0].Index(column)
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
	if s.files[k].Rows() == 0 {
		return dst, nil
	}
	f, _, err := regular.Open(s.paths[k])
	if err != nil {
		return dst, err
	}
	defer f.Close()
	return s.files[k].Numbers(f, i, dst, buffer)
}
