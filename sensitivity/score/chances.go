package score

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Said is a chance that was stated of an event, and what came of it.
type Said struct {
	Chance float64
	Held   bool
}

func (s Said) outcome() float64 {
	if s.Held {
		return 1
	}
	return 0
}

// Brier is the mean of (chance - outcome)^2 (Brier 1950, Mon. Weather Rev. 78), and what it is
// made of: Score = Reliability - Resolution + Uncertainty, by distinct chances (Murphy 1973, J.
// Appl. Meteorol. 12).
type Brier struct {
	Score       float64 // 0: each was sure and right; 1 in 2 said of everything has 0.25
	Reliability float64 // how far what came differs from the chance that was stated; 0 is best
	Resolution  float64 // how far the stated chances tell the cases apart; more is better
	Uncertainty float64 // of the outcomes themselves
}

// BrierOf scores stated chances; of none all is NaN.
func BrierOf(all []Said) Brier {
	n := float64(len(all))
	if n == 0 {
		return Brier{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	}
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Said) int { return cmp.Compare(a.Chance, b.Chance) })
	var b Brier
	held := 0.0
	for _, s := range sorted {
		off := s.Chance - s.outcome()
		b.Score += float64(off*off) / n
		held += s.outcome()
	}
	rate := held / n
	b.Uncertainty = float64(rate * (1 - rate))
	for from := 0; from < len(sorted); {
		to, came := from, 0.0
		for ; to < len(sorted) && sorted[to].Chance == sorted[from].Chance; to++ {
			came += sorted[to].outcome()
		}
		share, here := float64(to-from)/n, came/float64(to-from)
		off, told := here-sorted[from].Chance, here-rate
		b.Reliability += float64(share * float64(off*off))
		b.Resolution += float64(share * float64(told*told))
		from = to
	}
	return b
}

// Uneven is the Cramer-von Mises statistic of places that should be uniform on 0 to 1,
// 1/(12 n) + sum of (place - (2i - 1)/(2n))^2; more than UnevenLimit comes by chance once in
// twenty, from about five places on.
func Uneven(places []float64) float64 {
	sorted := slices.Sorted(slices.Values(places))
	n := float64(len(sorted))
	sum := 1 / (12 * n)
	for i, u := range sorted {
		off := u - (2*float64(i)+1)/(2*n)
		sum += float64(off * off)
	}
	return sum
}

// UnevenLimit is the 95 % point of Uneven (Anderson and Darling 1952, Ann. Math. Stat. 23,
// table 1: 0.46136).
const UnevenLimit = 0.46136

// Band is the fewest and the most of n independent events of a chance that come in the middle
// 95 % of cases: fewer, and more, come with a chance of at most 2.5 % each.
func Band(n int, chance float64) (low, high int) {
	count := distuv.Binomial{N: float64(n), P: chance}
	reached := func(share func(below float64) bool) int {
		return sort.Search(n, func(k int) bool { return share(count.CDF(float64(k))) })
	}
	return reached(func(below float64) bool { return below > 0.025 }), reached(func(below float64) bool { return below >= 0.975 })
}
