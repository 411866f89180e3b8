// Package score says how good a prediction was once its outcome is known. All scores are
// better where they are smaller, and proper: expected to be best where the prediction is what
// is believed (Gneiting and Raftery 2007, J. Am. Stat. Assoc. 102, 359-378).
package score

import (
	"cmp"
	"math"
	"slices"

	"proofmass/sampling/portable"
)

// A Forecast is a prediction as draws, in ascending order.
type Forecast struct {
	x       []float64
	reached []float64 // share of the weight up to and with each draw
}

// New makes a forecast of draws and their weights, both of which it leaves as they are; nil
// weights are equal ones. Draws without a value (NaN), or without weight, do not count.
func New(draws, weights []float64) Forecast {
	order := make([]int, 0, len(draws))
	for i, x := range draws {
		if x == x && (weights == nil || weights[i] > 0) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(draws[a], draws[b]) })
	f := Forecast{make([]float64, len(order)), make([]float64, len(order))}
	total := 0.0
	for i, row := range order {
		w := 1.0
		if weights != nil {
			w = weights[row]
		}
		total += w
		f.x[i], f.reached[i] = draws[row], total
	}
	for i := range f.reached {
		f.reached[i] /= total
	}
	return f
}

// Draws is how many there are.
func (f Forecast) Draws() int { return len(f.x) }

// CRPS is the continuous ranked probability score, the integral of (F(t) - 1{t >= y})^2, in the
// unit of the draws: E|X - y| - E|X - X'|/2 with the distribution that the draws themselves
// are. It is |x - y| for a forecast of one value. NaN without draws.
func (f Forecast) CRPS(y float64) float64 {
	if len(f.x) == 0 {
		return math.NaN()
	}
	away, apart, before := 0.0, 0.0, 0.0
	for i, x := range f.x {
		w := f.reached[i] - before
		away += float64(w * math.Abs(x-y))
		apart += float64(w * float64((x-f.x[0])*(f.reached[i]+before-1)))
		before = f.reached[i]
	}
	return max(0, away-apart)
}

// Place is F(y), from 0 to 1: where the outcome lies among the draws, half of those that meet
// it below. Over many independent predictions that are as sure as they should be it is uniform
// (the probability integral transform). NaN without draws.
func (f Forecast) Place(y float64) float64 {
	if len(f.x) == 0 {
		return math.NaN()
	}
	below, _ := slices.BinarySearch(f.x, y)
	upTo := below
	for upTo < len(f.x) && f.x[upTo] == y {
		upTo++
	}
	share := func(n int) float64 {
		if n == 0 {
			return 0
		}
		return f.reached[n-1]
	}
	return (share(below) + share(upTo)) / 2
}

// Percentile is the draw at or above which the weight reaches p; between draws it is linear in
// the middles of their weights. NaN without draws.
func (f Forecast) Percentile(p float64) float64 {
	if len(f.x) == 0 {
		return math.NaN()
	}
	before, lastMiddle := 0.0, 0.0
	for i, x := range f.x {
		middle := (before + f.reached[i]) / 2
		if middle >= p {
			if i == 0 || middle == lastMiddle {
				return x
			}
			return f.x[i-1] + float64((x-f.x[i-1])*((p-lastMiddle)/(middle-lastMiddle)))
		}
		before, lastMiddle = f.reached[i], middle
	}
	return f.x[len(f.x)-1]
}

// Normal is the CRPS of a normal forecast (Gneiting and Raftery 2007, equation 21); with sd 0
// that of one value.
func Normal(mean, sd, y float64) float64 {
	if sd == 0 {
		return math.Abs(mean - y)
	}
	z := (y - mean) / sd
	density := portable.Exp(-float64(z*z)/2) / math.Sqrt(2*math.Pi)
	return sd * (float64(z*(2*portable.NormalCDF(z)-1)) + 2*density - 1/math.Sqrt(math.Pi))
}

// Interval is the interval score of the central interval from low to high that is meant to
// hold an outcome with a chance of level (equation 43): its width, and where the outcome lies
// outside 2/(1 - level) times how far.
func Interval(low, high, level, y float64) float64 {
	return high - low + float64(2/(1-level)*(max(0, low-y)+max(0, y-high)))
}
