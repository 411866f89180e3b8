package estimate

import (
	"fmt"
	"math"
)

// FewestRows is the number of rows below which a replicated design gives no
// interval: 32 rows in each of 16 replicates. Common practice, no source.
const FewestRows = 512

// How an interval was made.
const (
	MethodReplicates     = "replicates"                      // from the spread over replicates, t with R-1 degrees of freedom
	MethodOrder          = "replicates and order_statistics" // mean as above, some percentile as if rows were independent: too wide, never too narrow
	MethodIndependent    = "independent"                     // t for the mean, order statistics for percentiles
	MethodWilson         = "wilson"                          // a chance, rows as if independent
	MethodClopperPearson = "clopper_pearson"                 // the same where fewer than 5 rows hold or fail
	MethodNone           = "none"                            // no interval
)

// Rows says how the rows of a column were drawn, and how much each counts.
type Rows struct {
	Bounds      []int     // replicate r is rows [Bounds[r], Bounds[r+1]); Bounds[0] is 0, the last one the number of rows
	Independent bool      // the rows are independent draws; Bounds may then be nil
	Weight      []float64 // of each row; nil for equal ones
	Weights     Column    // the same, for columns that need not be in memory; nil: Weight
}

// HasWeights reports whether rows may count differently.
func (d Rows) HasWeights() bool { return d.Weight != nil || d.Weights != nil }

// OfRows are the weights as a column, nil for equal ones.
func (d Rows) OfRows() Column {
	if d.Weights == nil && d.Weight != nil {
		return Values(d.Weight)
	}
	return d.Weights
}

// Weighted returns the same rows with weights, nil for equal ones.
func (d Rows) Weighted(weight []float64) Rows {
	d.Weight = weight
	return d
}

// CheckWeights says what is wrong with the weights for n rows; of those that are not in
// memory only their number, since reading them takes as long as what is read beside them.
func (d Rows) CheckWeights(n int) error {
	if d.Weights != nil && d.Weights.Rows() != n {
		return fmt.Errorf("estimate: %d weights for %d rows", d.Weights.Rows(), n)
	}
	if d.Weight == nil {
		return nil
	}
	if len(d.Weight) != n {
		return fmt.Errorf("estimate: %d weights for %d rows", len(d.Weight), n)
	}
	for row, w := range d.Weight {
		if !(w >= 0 && w <= math.MaxFloat64) {
			return badWeight(row, w)
		}
	}
	return nil
}

func badWeight(row int, w float64) error {
	return fmt.Errorf("estimate: weight of row %d is %g, want a finite number not below 0", row, w)
}

// Options are the stated chances. A zero value counts as 0.95.
type Options struct {
	Level    float64 // that an interval holds the true value of what it belongs to
	Coverage float64 // share of the rows inside a coverage interval
	YesNo    bool    // Describe: the column has no values but 1 and 0, even where every row has the same
}

// Interval is a closed interval; an end that is NaN is not known.
type Interval struct{ Low, High float64 }

// None is the interval of which neither end is known.
func None() Interval { return Interval{math.NaN(), math.NaN()} }

// Replicates returns the bounds of the replicates of n rows, one whole replicate
// if the rows are independent and have none. The error says what is wrong with
// them.
func (d Rows) Replicates(n int) ([]int, error) {
	b := d.Bounds
	if b == nil && d.Independent {
		return []int{0, n}, nil
	}
	if len(b) < 2 || b[0] != 0 || b[len(b)-1] != n {
		return nil, fmt.Errorf("estimate: replicate bounds %v must run from 0 to the %d rows", b, n)
	}
	for r := 1; r < len(b); r++ {
		if b[r] <= b[r-1] {
			return nil, fmt.Errorf("estimate: replicate %d is empty: its bounds are %d and %d", r-1, b[r-1], b[r])
		}
	}
	return b, nil
}

// withDefaults fills in what was left 0 and refuses what is no chance.
func (o Options) withDefaults() (Options, error) {
	if o.Level == 0 {
		o.Level = 0.95
	}
	if o.Coverage == 0 {
		o.Coverage = 0.95
	}
	if !(o.Level > 0 && o.Level < 1) {
		return o, fmt.Errorf("estimate: level %g must lie between 0 and 1", o.Level)
	}
	if !(o.Coverage > 0 && o.Coverage < 1) {
		return o, fmt.Errorf("estimate: coverage %g must lie between 0 and 1", o.Coverage)
	}
	return o, nil
}
