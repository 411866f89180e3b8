package estimate

import "math"

// tailRows is the number of rows a replicate must have beyond a percentile for
// its own percentile to vary like a normal variable. With 5 the stated 95 %
// interval was seen to hold 93 % (600 trials, 16 Latin hypercubes of 256 rows).
const tailRows = 50

// Summary is what Describe finds in a column. Everything but the counts is NaN
// where it is not defined: all of it without a feasible row, SD with one.
type Summary struct {
	Rows, Infeasible int // all rows, and those of them that are NaN; the rest below is over the others
	Negative         int // rows below nil

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
// With weights rows of weight 0 take no part, percentiles are
// linear between rows at the middle of their weights, and NaN with fewer than 10
// effective rows beyond them; independent rows are cut into 16 parts for the errors, and
// Method is replicates.
// Mean, SD and Skewness are NaN where the range of the rows does not fit a float64.
func Describe(x []float64, d Rows, o Options, scratch *Scratch) (Summary, error) {
	return DescribeColumn(Values(x), d, o, scratch)
}

// DescribeColumn is Describe for a column that need not be in memory. Beyond a million
// rows it keeps some 20 MB whatever their number, and reads the column about ten times. The
// shortest coverage interval is then, beyond 5 million rows, that of 262,144 evenly spaced
// ones. Of weighted rows it keeps 262,144, 8 MB; beyond, the shortest interval begins where that
// of so many evenly spaced rows does, and is cut at the exact percentiles.
func DescribeColumn(x Column, d Rows, o Options, scratch *Scratch) (Summary, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Summary{}, err
	}
	if scratch == nil {
		scratch = new(Scratch)
	}
	if d.HasWeights() {
		return describeWeighted(x, d, o, scratch)
	}
	bounds, err := d.Replicates(x.Rows())
	if err != nil {
		return Summary{}, err
	}
	if err := scratch.load(x, bounds); err != nil {
		return Summary{}, err
	}
	s := undefined()
	s.Rows, s.Infeasible, s.Negative = x.Rows(), x.Rows()-scratch.rows(), scratch.negative
	if scratch.rows() == 0 {
		return s, nil
	}
	for _, step := range []func(*Summary, bool, Options) error{scratch.moments, scratch.spread, scratch.intervals} {
		if err := step(&s, d.Independent, o); err != nil {
			return Summary{}, err
		}
	}
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

// percentiles are those of a Summary; tails those that get an interval.
var percentiles = [...]float64{0.01, 0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95, 0.99}

var tails = [...]float64{0.05, 0.50, 0.95}

// intervals fills in the intervals of the mean and of the tails and leaves the
// keys arranged.
func (s *Scratch) intervals(sum *Summary, independent bool, o Options) (err error) {
	half := [len(tails)]float64{math.NaN(), math.NaN(), math.NaN()}
	switch n := s.rows(); {
	case independent:
		sum.Method = MethodIndependent
	case n >= FewestRows && s.replicates() > 1 && s.fewest() > 0:
		sum.Method = MethodReplicates
		if half, err = s.tailHalfWidths(o.Level); err != nil {
			return err
		}
	}
	if err := s.order(o); err != nil || sum.Method == MethodNone {
		return err
	}
	if sum.MeanInterval, err = s.meanInterval(sum, independent, o); err != nil {
		return err
	}
	for k, to := range [len(tails)]*Interval{&sum.P05Interval, &sum.P50Interval, &sum.P95Interval} {
		if half[k] == half[k] && s.smooth(tails[k], o.Level) {
			pooled := s.percentile(tails[k])
			*to = Interval{pooled - half[k], pooled + half[k]}
			continue
		}
		*to = s.orderInterval(tails[k], o.Level)
		if !independent && to.Low != to.High {
			sum.Method = MethodOrder
		}
	}
	return nil
}

// tailHalfWidths are those of the pooled tails, from the spread of the replicates'
// own; NaN where replicates are too short.
func (s *Scratch) tailHalfWidths(level float64) (half [len(tails)]float64, err error) {
	s.each = s.each[:0]
	for r := range s.replicates() {
		var own [len(tails)]float64
		if err := s.tailsOf(r, &own); err != nil {
			return half, err
		}
		s.each = append(s.each, own[:]...)
	}
	n := s.replicates()
	for k, p := range tails {
		half[k] = math.NaN()
		if float64(s.fewest())*min(p, 1-p) < tailRows {
			continue
		}
		for r := range n {
			s.each = append(s.each, s.each[r*len(tails)+k])
		}
		half[k] = halfWidth(s.each[n*len(tails):], level)
		s.each = s.each[:n*len(tails)]
	}
	return half, nil
}

// percentiles reads what hangs on the order of the rows.
func (s *Scratch) percentiles(sum *Summary, coverage float64) {
	sum.Min, sum.Max = s.min, s.max
	for i, to := range [...]*float64{&sum.P01, &sum.P05, &sum.P10, &sum.P25, &sum.P50, &sum.P75, &sum.P90, &sum.P95, &sum.P99} {
		*to = s.percentile(percentiles[i])
	}
	sum.CoverLow, sum.CoverHigh = s.coverSymmetric(coverage)
	sum.ShortestLow, sum.ShortestHigh = s.coverShortest(coverage)
}
