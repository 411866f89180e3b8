package design

import (
	"math"
	"math/bits"
)

type sobol struct {
	seed    uint64
	n       int // rows of a replicate
	columns map[Column]*directions
}

// newSobol returns the design of 16 replicates of the first n = rows/16 points of
// Sobol's sequence, n a power of two, each replicate scrambled anew. Dimension j is
// the j-th column, at most 256; a column that is not listed is all NaN. The error
// says what is allowed.
//
// The points are in natural order from point 0, with the direction numbers of Joe
// and Kuo (2008), SIAM J. Sci. Comput. 30, 2635-2654. They are scrambled as Owen
// does (1995, in Monte Carlo and Quasi-Monte Carlo Methods, Springer, 299-317): each
// binary digit is flipped or not by a random bit that belongs to the digits above
// it, here a hash of them. So every point is uniform, every column of a replicate a
// Latin one, and the error of the mean of what is smooth falls as n^-3/2, nearly.
// Digits beyond the 32nd are a hash of all above.
//
// A row does not depend on rows: a longer design begins with the same ones in each
// replicate. The first columns are the best spread ones.
func newSobol(seed uint64, rows int, columns []Column) (Design, error) {
	if err := powerOfTwoRows("sobol", rows); err != nil {
		return nil, err
	}
	number, err := numbered("sobol", columns)
	if err != nil {
		return nil, err
	}
	d := sobol{seed, rows / Replicates, make(map[Column]*directions, len(columns))}
	for c, j := range number {
		d.columns[c] = &sobolTable()[j]
	}
	return d, nil
}

func (sobol) Name() string { return "sobol" }

func (sobol) Replicates() int { return Replicates }

func (d sobol) Fill(u []float64, purpose, column string, round, replicate, from int) {
	v := d.columns[Column{purpose, column}]
	u = there(u, from, d.n, v != nil)
	if len(u) == 0 {
		return
	}
	k := columnKey(d.seed, d.Name(), purpose, column, round, replicate)
	x := v.point(uint32(from))
	for i := range u {
		u[i] = scrambled(k, x)
		if next := uint32(from+i) + 1; next != 0 {
			x ^= v[bits.TrailingZeros32(next)]
		}
	}
}

// scrambled flips the 32 binary digits of x. A hash holds the 63 flips of a tree of
// six digits: that of the first, the two of the second, and so on; which hash, say
// the digits above.
func scrambled(k Key, x uint32) float64 {
	const levels = 6
	wide := uint64(x) << 4 // 36 digits, six trees of six
	var flips uint64
	for done := uint(0); done < 36; done += levels {
		above := wide >> (36 - done)
		here := wide >> (30 - done) & 63
		h := k.bits(1<<done | above) // the 1 in front tells prefixes of different length apart
		f := h>>1&1<<5 |
			h>>(2|here>>5)&1<<4 |
			h>>(4|here>>4)&1<<3 |
			h>>(8|here>>3)&1<<2 |
			h>>(16|here>>2)&1<<1 |
			h>>(32|here>>1)&1
		flips = flips<<levels | f
	}
	digits := (wide ^ flips) >> 4
	rest := k.bits(1<<40|uint64(x)) >> 44
	return (float64(digits<<20|rest) + 0.5) * (1.0 / (1 << 52))
}

// there are the values of u, which starts at row from, that a column of n rows has, none
// where the column is not known. The others are marked as no draw's.
func there(u []float64, from, n int, known bool) []float64 {
	inside := max(0, min(len(u), n-from))
	if !known {
		inside = 0
	}
	for i := range u[inside:] {
		u[inside+i] = math.NaN()
	}
	return u[:inside]
}
