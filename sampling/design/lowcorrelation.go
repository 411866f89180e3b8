package design

import (
	"fmt"
	"slices"
	"sync"

	"proofmass/sampling/portable"
)

// mostLowCorrelation is where correlation by chance, about 1/sqrt(rows), is no
// longer worth the memory and the time of all rows at once.
const mostLowCorrelation = 2000

type lowCorrelation struct {
	latin
	columns []Column
	number  map[Column]int
	cache   *strataCache
}

// newLowCorrelation returns a Latin hypercube design of 16 replicates whose
// columns are nearly uncorrelated: the strata of Latin, reordered by the method of
// Iman and Conover (1982), Commun. Stat. Simul. Comput. 11, 311-334, with the target
// of no rank correlation. It needs all rows of a replicate at once and is for small
// designs: at most 2,000 rows, and more rows a replicate than columns. A column
// depends on those listed before it; one that is not listed is all NaN. The error
// says what is allowed.
func newLowCorrelation(seed uint64, rows int, columns []Column) (Design, error) {
	if rows > mostLowCorrelation {
		return nil, tooManyRows(rows)
	}
	l, err := Latin(seed, rows)
	if err != nil {
		return nil, err
	}
	d := lowCorrelation{l.(latin), slices.Clone(columns), make(map[Column]int, len(columns)), &strataCache{made: map[block][][]uint16{}}}
	for j, c := range columns {
		d.number[c] = j
	}
	if len(d.number) < len(columns) {
		return nil, errTwice
	}
	if len(columns) >= d.n {
		return nil, fmt.Errorf("got %d rows for %d columns; a latin_low_correlation design takes more rows in each of its %d replicates than it has columns: at least %d",
			rows, len(columns), Replicates, Replicates*(len(columns)+1))
	}
	return d, nil
}

func tooManyRows(rows int) error {
	return fmt.Errorf("got %d rows; a latin_low_correlation design needs all rows at once and takes at most %d: beyond, latin has hardly any correlation either", rows, mostLowCorrelation)
}

func (lowCorrelation) Name() string { return "latin_low_correlation" }

func (d lowCorrelation) Fill(u []float64, purpose, column string, round, replicate, from int) {
	j, known := d.number[Column{purpose, column}]
	u = there(u, from, d.n, known)
	if len(u) == 0 {
		return
	}
	strata := d.cache.of(block{round, replicate}, d.reorder)[j]
	jitter := d.key(d.columns[j], block{round, replicate}).With(1)
	for i := range u {
		row := from + i
		u[i] = inStratum(uint64(strata[row]), jitter.Unit(uint64(row)), float64(d.n))
	}
}

func (d lowCorrelation) key(c Column, b block) Key {
	return columnKey(d.seed, d.Name(), c.Purpose, c.Name, b.round, b.replicate).With(uint64(d.n))
}

// block is the replicate of a round, whose rows are made together.
type block struct{ round, replicate int }

// strataCache keeps what was made: a replicate is a few kB. It holds no more than
// a pure function of the key.
type strataCache struct {
	sync.Mutex
	made map[block][][]uint16
}

func (c *strataCache) of(b block, make func(block) [][]uint16) [][]uint16 {
	c.Lock()
	defer c.Unlock()
	strata, ok := c.made[b]
	if !ok {
		strata = make(b)
		c.made[b] = strata
	}
	return strata
}

// reorder returns the strata of every column of a replicate. With M the normal
// scores of the strata of Latin, a column each, and E = F F' their correlation, the
// new order of a column is that of M F'^-1.
func (d lowCorrelation) reorder(b block) [][]uint16 {
	scores := make([][]float64, len(d.columns))
	for j, c := range d.columns {
		scores[j] = d.scores(d.key(c, b))
	}
	decorrelate(scores)
	strata := make([][]uint16, len(scores))
	for j, s := range scores {
		strata[j] = ranks(s)
	}
	return strata
}

// scores are the normal scores of a permutation of the strata.
func (d lowCorrelation) scores(k Key) []float64 {
	var pi permutation
	pi.set(k, d.n)
	s := make([]float64, d.n)
	var images [batch]uint64
	for done := 0; done < d.n; done += batch {
		part := images[:min(batch, d.n-done)]
		pi.images(part, uint64(done))
		for i, j := range part {
			s[done+i] = portable.NormalQuantile(float64(j+1) / float64(d.n+1))
		}
	}
	return s
}

// decorrelate makes every column orthogonal to those before it, which is what
// F'^-1 does; the scale of a column is of no account. Columns may be dependent by
// chance: then what is left of one is rounding, and its order is as random as any.
func decorrelate(columns [][]float64) {
	for j, x := range columns {
		for range 2 { // the second pass takes away what rounding left
			for _, y := range columns[:j] {
				share := portable.Dot(x, y) / portable.Dot(y, y)
				for i := range x {
					x[i] -= float64(share * y[i])
				}
			}
		}
	}
}

// ranks from 0; of equal values the earlier row has the lower one. Own: draws hang on the
// order of ties, which a library's sort does not promise.
func ranks(x []float64) []uint16 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return a - b
	})
	rank := make([]uint16, len(x))
	for r, i := range order {
		rank[i] = uint16(r)
	}
	return rank
}
