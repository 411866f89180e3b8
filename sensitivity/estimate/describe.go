package estimate

import (
	"fmt"
	"math"
)

// tailRows is the number of rows a replicate must have beyond a percentile for
// its own percentile to vary like a normal variable. With 5 the stated 95 %
// interval was seen to hold 93 % (600 trials, 16 Latin hypercubes of 256 rows).
const tailRows = 50

// Summary is what Describe finds in a column. Everything but the counts is NaN
// where it is not defined: all of it without a feasible row, SD with one.
type Summary struct {
	Rows, Infeasible int // all rows, and those of them that are NaN; the rest below is over the others

	Mean         float64
	MeanInterval Interval
	SD           float64 // divisor n-1; exactly 0 for a constant column
	SDInterval   Interval
	Skewness     float64 // third central moment over the second to the power 3/2, both with divisor n; NaN if SD is 0
	Min, Max     float64

	P01, P05, P10, P25, P50, P75, P90, P95, P99 float64 // Hyndman and Fan's type 7
	P05Interval, P50Interval, P95Interval       Interval

	CoverLow, CoverHigh       float64 // coverage interval with equal tails; NaN where there are too few rows for it
	ShortestLow, ShortestHigh float64 // the shortest one of the same coverage

	Method string // of the intervals: replicates | replicates and order_statistics | independent | none
}

// Describe summarises the column x. Row i belongs to the replicate of d that
// holds i; NaN rows are infeasible. x is only read. scratch may be nil; with one
// that has seen a column as long, nothing is allocated. The error names an
// infinite row, or what is wrong with d or o.
//
// A column of two values has the interval of the chance of one of them ([Chance]) for
// that of its mean. Where one value is that of most rows, and fewer than 80 others have
// another, the mean has none: sizes that few rows show have a spread that is not known.
// What no row shows is in no interval: a column of one value has that value.
// Mean, SD and Skewness are NaN where the range of the rows does not fit a float64.
func Describe(x []float64, d Design, o Options, scratch *Scratch) (Summary, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Summary{}, err
	}
	bounds, err := d.Replicates(len(x))
	if err != nil {
		return Summary{}, err
	}
	if scratch == nil {
		scratch = new(Scratch)
	}
	if err := scratch.load(x, bounds); err != nil {
		return Summary{}, err
	}
	s := undefined()
	s.Rows, s.Infeasible = len(x), len(x)-len(scratch.values)
	if len(scratch.values) == 0 {
		return s, nil
	}
	scratch.moments(&s)
	s.SDInterval = scratch.sdInterval(&s, d.Independent, o.Level)
	scratch.intervals(&s, d.Independent, o)
	scratch.percentiles(&s, o.Coverage)
	return s, nil
}

// undefined is the summary of a column without a feasible row.
func undefined() Summary {
	none, nan := None(), math.NaN()
	return Summary{
		Mean: nan, MeanInterval: none, SD: nan, SDInterval: none, Skewness: nan, Min: nan, Max: nan,
		P01: nan, P05: nan, P10: nan, P25: nan, P50: nan, P75: nan, P90: nan, P95: nan, P99: nan,
		P05Interval: none, P50Interval: none, P95Interval: none,
		CoverLow: nan, CoverHigh: nan, ShortestLow: nan, ShortestHigh: nan,
		Method: MethodNone,
	}
}

// Scratch holds the memory that Describe needs, so that a second column of the
// same length allocates nothing. The zero value is ready; one goroutine at a time.
type Scratch struct {
	values    []float64 // the feasible rows in order, later sorted
	keys, alt []uint64  // the same as integers of the same order
	ends      []int     // replicate r is values[ends[r]:ends[r+1]]
	parts     []powers  // of each replicate
	tree      []powers
	each      []float64 // a statistic of each replicate
	counts    []Count   // of each replicate, the rows of the greater of two values
	min, max  float64
	exponent  int // deviations are in units of 2^exponent
}

// load packs the feasible rows of x. It turns -0 into 0, so that equal rows have
// equal keys.
func (s *Scratch) load(x []float64, bounds []int) error {
	s.values, s.keys, s.ends = s.values[:0], s.keys[:0], append(s.ends[:0], 0)
	s.min, s.max = math.Inf(1), math.Inf(-1)
	for r := 1; r < len(bounds); r++ {
		for i, v := range x[bounds[r-1]:bounds[r]] {
			if v != v {
				continue
			}
			if v-v != 0 {
				return fmt.Errorf("estimate: row %d is %g, want a finite number or NaN", bounds[r-1]+i, v)
			}
			v += 0
			s.values = append(s.values, v)
			s.keys = append(s.keys, keyOf(v))
			if v < s.min {
				s.min = v
			}
			if v > s.max {
				s.max = v
			}
		}
		s.ends = append(s.ends, len(s.values))
	}
	return nil
}

// replicate returns the keys of replicate r.
func (s *Scratch) replicate(r int) []uint64 { return s.keys[s.ends[r]:s.ends[r+1]] }

// fewest is the number of feasible rows of the replicate that has fewest.
func (s *Scratch) fewest() int {
	n := len(s.values)
	for r := 1; r < len(s.ends); r++ {
		n = min(n, s.ends[r]-s.ends[r-1])
	}
	return n
}

// tails are the percentiles that get an interval.
var tails = [...]float64{0.05, 0.50, 0.95}

// intervals fills in the intervals of the mean and of the tails and leaves the
// keys sorted.
func (s *Scratch) intervals(sum *Summary, independent bool, o Options) {
	level := o.Level
	half := [len(tails)]float64{math.NaN(), math.NaN(), math.NaN()}
	switch n := len(s.values); {
	case independent:
		sum.Method = MethodIndependent
	case n >= FewestRows && len(s.ends) > 2 && s.fewest() > 0:
		sum.Method = MethodReplicates
		half = s.tailHalfWidths(level)
	}
	s.sort(s.keys)
	if sum.Method == MethodNone {
		return
	}
	sum.MeanInterval = s.meanInterval(sum, independent, o)
	for k, to := range [len(tails)]*Interval{&sum.P05Interval, &sum.P50Interval, &sum.P95Interval} {
		if half[k] == half[k] && s.smooth(tails[k], level) {
			pooled := percentileOfKeys(s.keys, tails[k])
			*to = Interval{pooled - half[k], pooled + half[k]}
			continue
		}
		*to = s.orderInterval(tails[k], level)
		if !independent && to.Low != to.High {
			sum.Method = MethodOrder
		}
	}
}

// tailHalfWidths are those of the pooled tails, from the spread of the replicates'
// own; NaN where replicates are too short. It sorts the keys of each replicate.
func (s *Scratch) tailHalfWidths(level float64) (half [len(tails)]float64) {
	for r := range len(s.ends) - 1 {
		s.sort(s.replicate(r))
	}
	for k, p := range tails {
		half[k] = math.NaN()
		if float64(s.fewest())*min(p, 1-p) < tailRows {
			continue
		}
		s.each = s.each[:0]
		for r := range len(s.ends) - 1 {
			s.each = append(s.each, percentileOfKeys(s.replicate(r), p))
		}
		half[k] = halfWidth(s.each, level)
	}
	return half
}

// percentiles writes the sorted rows back and reads what hangs on their order.
func (s *Scratch) percentiles(sum *Summary, coverage float64) {
	for i, k := range s.keys {
		s.values[i] = valueOf(k)
	}
	v := s.values
	sum.Min, sum.Max = s.min, s.max
	sum.P01, sum.P05, sum.P10 = percentile(v, 0.01), percentile(v, 0.05), percentile(v, 0.10)
	sum.P25, sum.P50, sum.P75 = percentile(v, 0.25), percentile(v, 0.50), percentile(v, 0.75)
	sum.P90, sum.P95, sum.P99 = percentile(v, 0.90), percentile(v, 0.95), percentile(v, 0.99)
	sum.CoverLow, sum.CoverHigh = coverSymmetric(v, coverage)
	sum.ShortestLow, sum.ShortestHigh = coverShortest(v, coverage)
}
