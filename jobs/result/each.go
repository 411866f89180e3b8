package result

import (
	"fmt"
	"slices"
	"sort"
	"strings"
)

// A SliceReader reads columns of Slices a file at a time, with one buffer for all. One
// goroutine at a time.
type SliceReader struct {
	slices *Slices
	starts []int // first row of each file, and the number of rows
	page   []byte
	values []float64
}

// Reader returns a reader of the files.
func (s *Slices) Reader() *SliceReader {
	r := &SliceReader{slices: s, starts: []int{0}}
	for _, file := range s.files {
		r.starts = append(r.starts, r.starts[len(r.starts)-1]+file.Rows())
	}
	return r
}

// A SliceColumn is one column, joined over the files in their order.
type SliceColumn struct {
	reader *SliceReader
	name   string
	index  int
}

// Column finds a column of numbers. Null is NaN, true is 1; text is an error once it is read.
func (r *SliceReader) Column(name string) (*SliceColumn, error) {
	i := slices.Index(r.slices.Names(), name)
	if i < 0 && len(r.slices.paths) > 0 {
		return nil, fmt.Errorf("%s: there is no column %q, there are %s", r.slices.paths[0], name, strings.Join(r.slices.Names(), ", "))
	}
	return &SliceColumn{r, name, i}, nil
}

// Rows returns the number of rows of all files together.
func (c *SliceColumn) Rows() int { return c.reader.slices.rows }

// Each hands the values of rows from up to, but not to, in order and a file at a time to f,
// which must not keep them. It needs memory for one file's page.
func (c *SliceColumn) Each(from, to int, f func(piece []float64) error) error {
	r := c.reader
	k := sort.SearchInts(r.starts, from+1) - 1
	for ; k < len(r.slices.paths) && r.starts[k] < to; k++ {
		var err error
		if r.values, err = r.slices.readSlice(k, c.index, r.values[:0], &r.page); err != nil {
			return fmt.Errorf("%s: column %s: %w", r.slices.paths[k], c.name, err)
		}
		start := r.starts[k]
		piece := r.values[max(0, from-start):min(len(r.values), to-start)]
		if len(piece) == 0 {
			continue
		}
		if err := f(piece); err != nil {
			return err
		}
	}
	return nil
}
