package estimate

import (
	"math"
	"sort"
	"sync"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Jackknife returns the interval of an estimate from its leave-one-out values:
// leaveOut[r] is the same estimate without replicate r. With
//
//	se^2 = (R-1)/R sum_r (leaveOut[r] - their mean)^2
//
// it is estimate -+ t se, t with R-1 degrees of freedom. Replicates need not be
// of equal weight. There is none with fewer than 2 replicates or where a value
// is NaN. Source: Tukey (1958), Ann. Math. Stat. 29; Efron (1982), The
// Jackknife, the Bootstrap and Other Resampling Plans, chapter 3.
func Jackknife(estimate float64, leaveOut []float64, level float64) Interval {
	n := float64(len(leaveOut))
	half := halfWidth(leaveOut, level) * (n - 1)
	return Interval{estimate - half, estimate + half}
}

// HalfWidth is that of the interval of the mean of independent values, such as those of
// replicates: t times the standard error. NaN of fewer than two.
func HalfWidth(values []float64, level float64) float64 { return halfWidth(values, level) }

// halfWidth is t times the standard error of the mean of the values.
func halfWidth(values []float64, level float64) float64 {
	if len(values) < 2 {
		return math.NaN()
	}
	n := float64(len(values))
	var shift float64 // sums are around the first value: equal values give exactly 0
	for _, v := range values {
		shift += v - values[0]
	}
	mean := values[0] + shift/n
	var square, greatest float64
	for _, v := range values {
		d := v - mean
		square += float64(d * d)
		greatest = max(greatest, math.Abs(d))
	}
	root := math.Sqrt(square / (n * (n - 1)))
	if math.IsInf(root, 1) { // a square too great for a float64
		square = 0
		for _, v := range values {
			d := (v - mean) / greatest
			square += float64(d * d)
		}
		root = greatest * math.Sqrt(square/(n*(n-1)))
	}
	if half := StudentQuantile(level, len(values)-1) * root; half <= math.MaxFloat64 {
		return half
	}
	return math.NaN()
}

// StudentQuantile is the t of a two-sided interval of the given level, such as
// 0.95, with freedom degrees of freedom. It is NaN unless the level lies between
// 0 and 1 and freedom is at least 1.
func StudentQuantile(level float64, freedom int) float64 {
	if !(level > 0 && level < 1) || freedom < 1 {
		return math.NaN()
	}
	key := studentKey{level, freedom}
	if t, known := students.Load(key); known {
		return t.(float64)
	}
	t := distuv.StudentsT{Sigma: 1, Nu: float64(freedom)}.Quantile((1 + level) / 2)
	if freedom <= mostStudents {
		students.Store(key, t)
	}
	return t
}

// students are quantiles met before: a run asks for the same few thousands of times,
// and each takes some microseconds.
var students sync.Map // studentKey -> float64

type studentKey struct {
	level   float64
	freedom int
}

// mostStudents bounds what is kept: replicates, not rows.
const mostStudents = 64

// normalQuantile is the z of a two-sided interval of the given level.
func normalQuantile(level float64) float64 { return mathext.NormalQuantile((1 + level) / 2) }

// meanIndependent is the t interval of the mean of n independent rows.
func meanIndependent(mean, sd float64, n int, level float64) Interval {
	if n < 2 {
		return None()
	}
	half := StudentQuantile(level, n-1) * sd / math.Sqrt(float64(n))
	return Interval{mean - half, mean + half}
}

// fewestSteps is the number of different values that the rows around a percentile must
// have for the percentiles of replicates to vary like normal variables. Common
// practice, no source.
const fewestSteps = 30

// smooth tells that the rows that may hold the percentile p have many values: of a
// count the replicates' percentiles are mostly the same whole number, whatever it is.
// All keys must be sorted.
func (s *Scratch) smooth(p, level float64) bool {
	low, high := orderRanks(s.rows(), p, level)
	steps := 1
	for i := max(low, 1); i < min(high, s.rows()) && steps < fewestSteps; i++ {
		if s.at(i) != s.at(i-1) {
			steps++
		}
	}
	return steps >= fewestSteps
}

// orderInterval is the interval of a percentile of independent rows; all keys
// must be sorted. An end beyond the rows is not known.
func (s *Scratch) orderInterval(p, level float64) Interval {
	low, high := orderRanks(s.rows(), p, level)
	i := None()
	if low >= 1 {
		i.Low = valueOf(s.at(low - 1))
	}
	if high <= s.rows() {
		i.High = valueOf(s.at(high - 1))
	}
	return i
}

// orderRanks returns the ranks, from 1, of the order statistics that hold the
// percentile p of n independent rows between them: with B binomial (n, p) and
// a = 1 - level,
//
//	low = 1 + max{k: P(B <= k) <= a/2}, high = 1 + min{k: P(B <= k) >= 1 - a/2}.
//
// 0 and n+1 mean that there is no such end.
func orderRanks(n int, p, level float64) (low, high int) {
	tail := (1 - level) / 2
	low = sort.Search(n+1, func(k int) bool { return binomialCDF(k, n, p) > tail })
	high = 1 + sort.Search(n+1, func(k int) bool { return binomialCDF(k, n, p) >= 1-tail })
	return low, high
}

// AtMost is the chance of at most k of n independent events that have the chance p each.
func AtMost(k, n int, p float64) float64 { return binomialCDF(k, n, p) }

// AtLeast is the chance of at least k of n independent events that have the chance p each.
func AtLeast(k, n int, p float64) float64 { return binomialCDF(n-k, n, 1-p) }

// binomialCDF is the chance of at most k of n.
func binomialCDF(k, n int, p float64) float64 {
	if k >= n {
		return 1
	}
	return mathext.RegIncBeta(float64(n-k), float64(k+1), 1-p)
}
