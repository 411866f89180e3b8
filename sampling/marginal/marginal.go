package marginal

import (
	"fmt"
	"math"
)

// A Marginal is the distribution of one uncertain input.
//
// A draw is the quantile of a point u of the unit cube, so a design's structure
// carries over to the values. Both tails are told honestly: Quantile takes the
// chance below, QuantileUpper the chance above, and what one can't resolve near
// 1 the other has near 0; CDF and Survival are their inverses. A marginal never
// changes once made, serves all goroutines and may be compared with ==.
type Marginal interface {
	// Fill sets x[i] = Quantile(u[i]), bit for bit. Each u[i] must lie in
	// [0, 1]; len(x) = len(u); x may be u itself. Nothing is allocated.
	Fill(x, u []float64)
	// Quantile returns the value below which the chance is p, NaN for p
	// outside [0, 1]. At 0 and 1 it is the end of the support, up to rounding.
	Quantile(p float64) float64
	// QuantileUpper returns the value above which the chance is q.
	QuantileUpper(q float64) float64
	// CDF returns the chance of a value of at most x.
	CDF(x float64) float64
	// Survival returns the chance of a value above x.
	Survival(x float64) float64
	Mean() float64
	// SD returns the standard deviation.
	SD() float64
	// Support returns the smallest and the largest possible value, -Inf and
	// +Inf where there is no limit.
	Support() (low, high float64)
}

// upperFiller is a marginal that draws a column from the chances above: what
// Truncate needs. Every marginal of this package has it.
type upperFiller interface {
	fillUpper(x, q []float64) // x[i] = QuantileUpper(q[i]), as Fill
}

// kinked is a marginal whose density or its slope jumps at these values.
type kinked interface {
	kinks() []float64
}

// farScore lies beyond the normal score of any chance down to 1e-300; values up
// to there must be finite numbers.
const farScore = 38

// outside tells a probability from other numbers.
func outside(p float64) bool { return !(p >= 0 && p <= 1) }

// parameter is a number with the name it has in messages.
type parameter struct {
	name  string
	value float64
}

func checkFinite(ps ...parameter) error {
	for _, p := range ps {
		if math.IsNaN(p.value) || math.IsInf(p.value, 0) {
			return fmt.Errorf("%s is %v; it must be a finite number", p.name, p.value)
		}
	}
	return nil
}

// checkSpan checks the limits of a bounded distribution.
func checkSpan(low, high float64) error {
	if err := checkFinite(parameter{"low", low}, parameter{"high", high}); err != nil {
		return err
	}
	switch {
	case low == high:
		return fmt.Errorf("low and high are both %v; low must be below high, and what is certain is a constant", low)
	case low > high:
		return fmt.Errorf("low %v must be below high %v", low, high)
	case math.IsInf(high-low, 0):
		return fmt.Errorf("the span from low %v to high %v is more than a number can hold", low, high)
	}
	return nil
}

// checkMode checks the limits and mode of a distribution with a peak.
func checkMode(low, mode, high float64) error {
	if err := checkSpan(low, high); err != nil {
		return err
	}
	if !(mode >= low && mode <= high) {
		return fmt.Errorf("the mode %v must lie between low %v and high %v", mode, low, high)
	}
	return nil
}

// Discrete reports whether m takes single values, so that its rank correlation with
// another input is smaller than that of the scores.
func Discrete(m Marginal) bool {
	switch b := m.(type) {
	case constant, *oneOf, *resampled:
		return true
	case scaled:
		return Discrete(b.of)
	}
	return false
}
