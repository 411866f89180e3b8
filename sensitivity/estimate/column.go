package estimate

import (
	"fmt"
	"math"
	"slices"
)

// A Column is a column of numbers that need not be in memory. Each hands rows from,
// from+1, ... up to to, which is not among them, to f in order, a piece at a time; f must
// not keep a piece. It may be called any number of times.
type Column interface {
	Rows() int
	Each(from, to int, f func(piece []float64) error) error
}

// Values is a Column in memory.
type Values []float64

// Rows is the number of values.
func (v Values) Rows() int { return len(v) }

// Each hands on one piece.
func (v Values) Each(from, to int, f func(piece []float64) error) error { return f(v[from:to]) }

// EachTogether hands rows from up to, but not to, of several columns to f, pieces of the same
// rows; f must not keep them. Each column must be readable while another is read.
func EachTogether(columns []Column, from, to int, f func(pieces [][]float64) error) error {
	pieces := make([][]float64, len(columns))
	at := from
	return columns[0].Each(from, to, func(piece []float64) error {
		pieces[0] = piece
		for k, c := range columns[1:] {
			if all, ok := c.(Values); ok {
				pieces[k+1] = all[at : at+len(piece)]
				continue
			}
			own := pieces[k+1][:0]
			if err := c.Each(at, at+len(piece), func(piece []float64) error {
				own = append(own, piece...)
				return nil
			}); err != nil {
				return err
			}
			pieces[k+1] = own
		}
		at += len(piece)
		return f(pieces)
	})
}

// inMemory is the number of rows up to which Describe keeps a column: 16 MB with what
// sorting needs. Beyond, it reads the column several times, a piece at a time.
const inMemory = 1 << 20

// Scratch holds the memory that Describe needs, so that a second column of the
// same length allocates nothing. The zero value is ready; one goroutine at a time.
type Scratch struct {
	column    Column
	bounds    []int // of the replicates, in rows
	ends      []int // replicate r has the feasible rows ends[r] to ends[r+1]
	kept      bool  // keys holds all feasible rows: in order, later arranged in bins
	keys, alt []uint64
	piece     []float64 // feasible values
	bins      bins
	next      []int // where the next key of each bin goes
	limit     int   // rows that are kept; 0: inMemory

	first, min, max float64
	negative        int      // rows below nil
	lowest          int      // rows of the least value
	exponent        int      // deviations are in units of 2^exponent
	parts           []powers // of each replicate
	tree            []powers
	each            []float64 // a statistic of each replicate
	counts          []Count   // of each replicate, the rows of the greatest value
	chosen          chosen    // ranks of a column that is not kept
	places          places    // of weighted rows
}

// most is the number of keys that are held at a time.
func (s *Scratch) most() int {
	if s.limit > 0 {
		return s.limit
	}
	return inMemory
}

// rows is the number of feasible rows.
func (s *Scratch) rows() int { return s.ends[len(s.ends)-1] }

// load reads the column for the first time: how many rows each replicate has, the ends of
// all, and the rows themselves if there are not too many. It turns -0 into 0, so that
// equal rows have equal keys.
func (s *Scratch) load(c Column, bounds []int) error {
	s.column, s.bounds, s.keys, s.ends = c, bounds, s.keys[:0], append(s.ends[:0], 0)
	s.min, s.max, s.kept = math.Inf(1), math.Inf(-1), c.Rows() <= s.most()
	if s.kept {
		s.keys = slices.Grow(s.keys, c.Rows())
	}
	rows, at := 0, 0
	s.negative = 0
	take := func(piece []float64) error {
		for i, v := range piece {
			if v != v {
				continue
			}
			if v-v != 0 {
				return fmt.Errorf("estimate: row %d is %g, want a finite number or NaN", at+i, v)
			}
			v += 0
			if rows == 0 {
				s.first = v
			}
			rows++
			if s.kept {
				s.keys = append(s.keys, keyOf(v))
			}
			if v < 0 {
				s.negative++
			}
			if v < s.min {
				s.min = v
			}
			if v > s.max {
				s.max = v
			}
		}
		at += len(piece)
		return nil
	}
	for r := 1; r < len(bounds); r++ {
		if err := c.Each(bounds[r-1], bounds[r], take); err != nil {
			return err
		}
		s.ends = append(s.ends, rows)
	}
	return nil
}

// pass hands the feasible values of replicate r to f, in order and in pieces; before
// keys are sorted.
func (s *Scratch) pass(r int, f func(piece []float64)) error {
	if !s.kept {
		return s.column.Each(s.bounds[r], s.bounds[r+1], func(piece []float64) error {
			s.piece = s.piece[:0]
			for _, v := range piece {
				if v == v {
					s.piece = append(s.piece, v+0)
				}
			}
			f(s.piece)
			return nil
		})
	}
	const most = 8 * block
	for keys := s.replicate(r); len(keys) > 0; {
		n := min(most, len(keys))
		s.piece = s.piece[:0]
		for _, k := range keys[:n] {
			s.piece = append(s.piece, valueOf(k))
		}
		f(s.piece)
		keys = keys[n:]
	}
	return nil
}

// replicate returns the keys of replicate r, where they are kept.
func (s *Scratch) replicate(r int) []uint64 { return s.keys[s.ends[r]:s.ends[r+1]] }

// replicates is their number.
func (s *Scratch) replicates() int { return len(s.ends) - 1 }

// fewest is the number of feasible rows of the replicate that has fewest.
func (s *Scratch) fewest() int {
	n := s.rows()
	for r := 1; r < len(s.ends); r++ {
		n = min(n, s.ends[r]-s.ends[r-1])
	}
	return n
}

// countEnds counts the rows of the least and of the greatest value.
func (s *Scratch) countEnds() error {
	s.lowest, s.counts = 0, s.counts[:0]
	for r := range s.replicates() {
		c := Count{Rows: s.ends[r+1] - s.ends[r]}
		if err := s.pass(r, func(piece []float64) {
			for _, v := range piece {
				if v == s.min {
					s.lowest++
				}
				if v == s.max {
					c.Held++
				}
			}
		}); err != nil {
			return err
		}
		s.counts = append(s.counts, c)
	}
	return nil
}
