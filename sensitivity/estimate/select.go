package estimate

import (
	"math"
	"math/bits"
	"slices"
	"sort"
)

// chosen are the values of some ranks, from 0, of a column that is not kept.
type chosen struct {
	ranks []int
	keys  []uint64 // of each rank

	taken []uint64 // keys of some bins
}

// at is the key of a rank: all keys must be arranged, or the rank be among the chosen.
func (s *Scratch) at(rank int) uint64 {
	if s.kept {
		s.inOrder(rank, rank+1)
		return s.keys[rank]
	}
	return s.chosen.keys[sort.SearchInts(s.chosen.ranks, rank)]
}

// choose finds the keys of the ranks among the rows of replicates from to to, which
// have n feasible rows between the least and the greatest value.
func (s *Scratch) choose(from, to int, ranks []int) error {
	slices.Sort(ranks)
	c := &s.chosen
	c.ranks = slices.Compact(ranks)
	c.keys = slices.Grow(c.keys[:0], len(c.ranks))[:len(c.ranks)]
	return s.resolve(from, to, keyOf(s.min), keyOf(s.max), 0, s.ends[to]-s.ends[from], 0, len(c.ranks))
}

// A range of keys is cut into 2^14 parts at most.
const binDigits = 14

// resolve finds chosen ranks first to last, all of which have keys from low to high: count
// rows, with before others below them.
func (s *Scratch) resolve(from, to int, low, high uint64, before, count, first, last int) error {
	c := &s.chosen
	switch {
	case first == last:
		return nil
	case low == high:
		for i := first; i < last; i++ {
			c.keys[i] = low
		}
		return nil
	case count <= s.most():
		return s.take(from, to, low, high, before, first, last)
	}
	shift := max(0, bits.Len64(high-low)-binDigits)
	counts, err := s.histogram(from, to, low, high, shift)
	if err != nil {
		return err
	}
	// runs of bins that fit are taken together, those without a rank passed over
	for b := 0; b < len(counts) && first < last; {
		if c.ranks[first] >= before+counts[b] {
			before += counts[b]
			b++
			continue
		}
		start, rows := b, counts[b]
		end := first + sort.SearchInts(c.ranks[first:last], before+rows)
		for b++; b < len(counts) && rows+counts[b] <= s.most() && end < last; b++ {
			rows += counts[b]
			end = first + sort.SearchInts(c.ranks[first:last], before+rows)
		}
		upTo := high
		if next := low + uint64(b)<<shift; b < len(counts) {
			upTo = next - 1
		}
		if err := s.resolve(from, to, low+uint64(start)<<shift, upTo, before, rows, first, end); err != nil {
			return err
		}
		first, before = end, before+rows
	}
	return nil
}

// histogram counts the rows of equal parts of a range of keys.
func (s *Scratch) histogram(from, to int, low, high uint64, shift int) ([]int, error) {
	counts := make([]int, int((high-low)>>shift)+1)
	for r := from; r < to; r++ {
		if err := s.pass(r, func(piece []float64) {
			for _, v := range piece {
				if k := keyOf(v); k >= low && k <= high {
					counts[(k-low)>>shift]++
				}
			}
		}); err != nil {
			return nil, err
		}
	}
	return counts, nil
}

// take reads the keys from low to high and picks ranks from them.
func (s *Scratch) take(from, to int, low, high uint64, before, first, last int) error {
	c := &s.chosen
	c.taken = slices.Grow(c.taken[:0], s.most())
	for r := from; r < to; r++ {
		if err := s.pass(r, func(piece []float64) {
			for _, v := range piece {
				if k := keyOf(v); k >= low && k <= high {
					c.taken = append(c.taken, k)
				}
			}
		}); err != nil {
			return err
		}
	}
	s.sort(c.taken)
	for i := first; i < last; i++ {
		c.keys[i] = c.taken[c.ranks[i]-before]
	}
	return nil
}

// shortestSteps is the number of coverage intervals among which the shortest is looked
// for where a column is not kept: all of them up to 5 million rows.
const shortestSteps = 1 << 18

// shortestStep is the step from one such interval of n rows to the next.
func (s *Scratch) shortestStep(n, q int) int {
	if s.kept {
		return 1
	}
	return 1 + (n-q-1)/shortestSteps
}

// wanted are the ranks that intervals and percentiles are read from.
func (s *Scratch) wanted(o Options) []int {
	n := s.rows()
	ranks := append(s.chosen.ranks[:0], n/2)
	add := func(rank int) {
		if rank >= 0 && rank < n {
			ranks = append(ranks, rank)
		}
	}
	for _, p := range percentiles {
		low, high, _ := place(n, p)
		add(low)
		add(high)
	}
	for _, p := range tails {
		low, high := orderRanks(n, p, o.Level)
		for rank := max(0, low-1); rank < min(high, n); rank++ {
			add(rank)
		}
	}
	q := covered(n, o.Coverage)
	add((n-q+1)/2 - 1)
	add((n-q+1)/2 + q - 1)
	if q >= 1 {
		for r := 0; r+q < n; r += s.shortestStep(n, q) {
			add(r)
			add(r + q)
		}
	}
	return ranks
}

// order arranges the keys, or finds those of the ranks that are wanted.
func (s *Scratch) order(o Options) error {
	if s.kept {
		s.arrange()
		return nil
	}
	return s.choose(0, s.replicates(), s.wanted(o))
}

// equalTo counts the rows of a value.
func (s *Scratch) equalTo(v float64) (n int, err error) {
	k := keyOf(v)
	if s.kept {
		part := s.bins.of(k)
		for _, other := range s.keys[s.bins.starts[part]:s.bins.starts[part+1]] {
			if other == k {
				n++
			}
		}
		return n, nil
	}
	for r := range s.replicates() {
		if err := s.pass(r, func(piece []float64) {
			for _, x := range piece {
				if x == v {
					n++
				}
			}
		}); err != nil {
			return 0, err
		}
	}
	return n, nil
}

// percentile is the type 7 percentile of n rows in order.
func (s *Scratch) percentile(p float64) float64 {
	low, high, weight := place(s.rows(), p)
	return between(valueOf(s.at(low)), valueOf(s.at(high)), weight)
}

// tailsOf are the tails of one replicate.
func (s *Scratch) tailsOf(r int, into *[len(tails)]float64) error {
	n := s.ends[r+1] - s.ends[r]
	var ranks [2 * len(tails)]int
	for k, p := range tails {
		ranks[2*k], ranks[2*k+1], _ = place(n, p)
	}
	if s.kept {
		var keys [len(ranks)]uint64
		s.pick(s.replicate(r), ranks[:], keys[:])
		for k, p := range tails {
			_, _, weight := place(n, p)
			into[k] = between(valueOf(keys[2*k]), valueOf(keys[2*k+1]), weight)
		}
		return nil
	}
	if err := s.choose(r, r+1, slices.Clone(ranks[:])); err != nil {
		return err
	}
	for k, p := range tails {
		low, high, weight := place(n, p)
		into[k] = between(valueOf(s.at(low)), valueOf(s.at(high)), weight)
	}
	return nil
}

// coverSymmetric returns y_(r) and y_(r+q) with r = (n-q)/2, rounded up.
func (s *Scratch) coverSymmetric(p float64) (low, high float64) {
	n, q := s.rows(), covered(s.rows(), p)
	r := (n - q + 1) / 2
	if q < 1 || r < 1 {
		return math.NaN(), math.NaN()
	}
	return valueOf(s.at(r - 1)), valueOf(s.at(r + q - 1))
}

// coverShortest returns y_(r) and y_(r+q) with the r that brings them closest;
// the lowest such r of several.
func (s *Scratch) coverShortest(p float64) (low, high float64) {
	n, q := s.rows(), covered(s.rows(), p)
	if q < 1 || q >= n {
		return math.NaN(), math.NaN()
	}
	at := s.at
	if s.kept {
		s.inOrder(0, n-q)
		s.inOrder(q, n)
		at = func(rank int) uint64 { return s.keys[rank] }
	}
	low, high = valueOf(at(0)), valueOf(at(q))
	step := s.shortestStep(n, q)
	for r := step; r+q < n; r += step {
		if a, b := valueOf(at(r)), valueOf(at(r+q)); b-a < high-low {
			low, high = a, b
		}
	}
	return low, high
}
