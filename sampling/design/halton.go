package design

import "math/bits"

type halton struct {
	seed    uint64
	n       int // rows of a replicate
	columns map[Column]radix
}

// radix is what a column counts in: the base, a prime, and so many digits as it
// takes to tell n rows apart.
type radix struct {
	base   uint64
	digits int
	cells  float64 // base to the power digits
}

// newHalton returns the design of 16 replicates of the first n = rows/16 points of
// Halton's sequence (1960, Numer. Math. 2, 84-90), n a power of two, each scrambled
// anew. Column j counts in the j-th prime, at most 256 of them; a column that is not
// listed is all NaN. The error says what is allowed.
//
// A digit a becomes (s a + t) mod base, s from 1 to base-1 and t from 0 to base-1 a
// hash of the digits above it. Two points that part at this digit get any two
// different digits with equal chance, and are independent from there on, as under a
// uniform permutation for every prefix (Owen, 1995, in Monte Carlo and Quasi-Monte
// Carlo Methods, Springer, 299-317; affine ones: Matousek, 1998, J. Complexity 14,
// 527-556). Bias and variance of a mean are made of pairs of points alone, and so
// are the same. Digits beyond those that tell the rows apart are one hash.
//
// Beyond about 20 columns the bases are large and the points of the later columns
// poorly spread: take Sobol there.
func newHalton(seed uint64, rows int, columns []Column) (Design, error) {
	if err := powerOfTwoRows("halton", rows); err != nil {
		return nil, err
	}
	number, err := numbered("halton", columns)
	if err != nil {
		return nil, err
	}
	d := halton{seed, rows / Replicates, make(map[Column]radix, len(columns))}
	primes := firstPrimes(len(columns))
	for c, j := range number {
		d.columns[c] = newRadix(primes[j], d.n)
	}
	return d, nil
}

func newRadix(base uint64, n int) radix {
	r := radix{base: base}
	cells := uint64(1)
	for cells < uint64(n) {
		cells *= base
		r.digits++
	}
	r.cells = float64(cells)
	return r
}

func firstPrimes(count int) []uint64 {
	var primes []uint64
next:
	for p := uint64(2); len(primes) < count; p++ {
		for _, q := range primes {
			if p%q == 0 {
				continue next
			}
		}
		primes = append(primes, p)
	}
	return primes
}

func (halton) Name() string { return "halton" }

func (halton) Replicates() int { return Replicates }

func (d halton) Fill(u []float64, purpose, column string, round, replicate, from int) {
	r, known := d.columns[Column{purpose, column}]
	u = there(u, from, d.n, known)
	if len(u) == 0 {
		return
	}
	k := columnKey(d.seed, d.Name(), purpose, column, round, replicate).With(uint64(d.n))
	for i := range u {
		u[i] = r.point(k, uint64(from+i))
	}
}

// point returns row i: its digits from the lowest up are those of the point from
// the highest down.
func (r radix) point(k Key, i uint64) float64 {
	above, image := uint64(1), uint64(0) // the 1 in front tells prefixes of different length apart
	for range r.digits {
		rest := i / r.base
		digit := i - rest*r.base
		h := k.bits(above)
		s, _ := bits.Mul64(h<<32, r.base-1) // both with a bias below 2^-21
		t, _ := bits.Mul64(h, r.base)
		image = image*r.base + ((s+1)*digit+t)%r.base
		above = above*r.base + digit
		i = rest
	}
	return inStratum(image, k.Unit(above), r.cells)
}
