package design

import (
	"fmt"
	"math"
)

type latin struct {
	seed uint64
	n    int // rows of a replicate
}

// Latin returns a Latin hypercube design of rows rows as 16 independent
// replicates (McKay, Beckman and Conover, 1979, Technometrics 21, 239-245).
// In each, of n = rows/16 rows, row i of a column is
//
//	u = (pi(i) + v(i)) / n
//
// with pi a permutation of 0..n-1 and v uniform in (0, 1), both functions of a
// key: every stratum [j/n, (j+1)/n) of every column holds exactly one row.
//
// The size is part of the design: part of a replicate isn't a Latin hypercube
// and can't be extended to one. s/sqrt(rows) is no error of a mean here; take
// it from the spread of the replicates. The error says what is allowed: rows
// must be a positive multiple of 16, as RoundRows gives.
func Latin(seed uint64, rows int) (Design, error) {
	if rows < Replicates || rows > maxRows || rows%Replicates != 0 {
		return nil, fmt.Errorf("got %d rows; a latin design takes a multiple of %d, at most %d", rows, Replicates, maxRows)
	}
	return latin{seed, rows / Replicates}, nil
}

func (latin) Name() string { return "latin" }

func (latin) Replicates() int { return Replicates }

func (d latin) Fill(u []float64, purpose, column string, round, replicate, from int) {
	k := columnKey(d.seed, d.Name(), purpose, column, round, replicate).With(uint64(d.n))
	jitter := k.With(1)
	var pi permutation
	pi.set(k, d.n)
	inside := max(0, min(len(u), d.n-from))
	var strata [batch]uint64
	for done := 0; done < inside; done += batch {
		part := strata[:min(batch, inside-done)]
		first := uint64(from + done)
		pi.images(part, first)
		for i, j := range part {
			u[done+i] = inStratum(j, jitter.Unit(first+uint64(i)), float64(d.n))
		}
	}
	for i := inside; i < len(u); i++ {
		u[i] = math.NaN()
	}
}

// inStratum returns (j + v)/n, kept below (j+1)/n: left alone, rounding lifts
// about 60 in 1e9 values into the next stratum.
func inStratum(j uint64, v, n float64) float64 {
	x := float64(j) + v
	u := x / n
	if end := float64(j + 1); end-x <= end*0x1p-50 { // near enough for rounding to matter
		u = min(u, math.Nextafter(end/n, 0))
	}
	return u
}
