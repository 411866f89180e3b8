package estimate

import (
	"math"
	"slices"
)

// Health says how far weighted rows can be trusted.
type Health struct {
	ESS          float64 // Kish's effective number of rows, (sum w)^2 / sum w^2; 0 where no row has a weight
	Mean         float64 // of the weights
	LargestShare float64 // of the heaviest row in the sum of all
	ParetoK      float64 // shape of the tail of the weights; NaN where they have no tail to tell it by
	Limit        float64 // of ParetoK: above it figures are not to be relied on
}

// Poor reports that the tail of the weights is so heavy that neither percentiles nor intervals
// hold what they say.
func (h *Health) Poor() bool { return h.ParetoK > h.Limit }

// WeightHealth looks at the weights of all rows.
//
// The shape is that of a generalized Pareto distribution through the greatest min(n/5, 3
// sqrt n) weights, by Zhang and Stephens (2009, Technometrics 51), with the weak prior and
// the limit min(1 - 1/log10 n, 0.7) of Vehtari, Simpson, Gelman, Yao and Gabry (2024, JMLR 25,
// Pareto smoothed importance sampling). Weights are not smoothed. A likelihood that is bounded
// has k <= 0 in the limit of many rows, so that the effective rows decide more often.
//
// The weights need not be in memory: it keeps as many as the tail has twice.
func WeightHealth(weight Column) (Health, error) {
	h := Health{ParetoK: math.NaN()}
	n := float64(weight.Rows())
	h.Limit = min(1-1/math.Log10(max(n, 11)), 0.7)
	tail := int(min(n/5, 3*math.Sqrt(n)))
	var sum, square, greatest float64
	var kept []float64 // the tail + 1 greatest, and what came since they were sorted out
	least := -1.0      // of those
	err := weight.Each(0, weight.Rows(), func(piece []float64) error {
		for _, w := range piece {
			sum += w
			square += float64(w * w)
			greatest = max(greatest, w)
			if w > least {
				kept = append(kept, w)
			}
			if len(kept) == 2*(tail+1) {
				slices.Sort(kept)
				kept = kept[:copy(kept, kept[tail+1:])]
				least = kept[0]
			}
		}
		return nil
	})
	if err != nil || !(sum > 0) {
		return h, err
	}
	h.ESS, h.Mean, h.LargestShare = sum*sum/square, sum/n, greatest/sum
	if tail < fewestTail {
		return h, nil
	}
	slices.Sort(kept)
	from, excess := kept[len(kept)-tail-1], kept[len(kept)-tail:]
	for i := range excess {
		excess[i] -= from
	}
	h.ParetoK = paretoShape(excess)
	return h, nil
}

// fewestTail is how many weights tell the shape of their tail. Common practice, no source.
const fewestTail = 5

// paretoShape fits the shape of a generalized Pareto distribution to sorted excesses; NaN
// where a quarter of them is nil.
func paretoShape(x []float64) float64 {
	n := float64(len(x))
	quarter, last := x[int(n/4+0.5)-1], x[len(x)-1]
	if !(quarter > 0) {
		return math.NaN()
	}
	m := 30 + int(math.Sqrt(n))
	b, likelihood := make([]float64, m), make([]float64, m)
	for j := range b {
		b[j] = (1-math.Sqrt(float64(m)/(float64(j)+0.5)))/(3*quarter) + 1/last
		k := meanLog(b[j], x)
		likelihood[j] = n * (math.Log(-b[j]/k) - k - 1)
	}
	var sum, all float64
	for j := range b {
		odds := 0.0
		for _, l := range likelihood {
			odds += math.Exp(l - likelihood[j])
		}
		if share := 1 / odds; share >= 10*0x1p-52 {
			all += share
			sum += float64(share * b[j])
		}
	}
	return (meanLog(sum/all, x)*n + 5) / (n + 10)
}

// meanLog is the mean of ln(1 - b x).
func meanLog(b float64, x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += math.Log1p(-b * v)
	}
	return sum / float64(len(x))
}
