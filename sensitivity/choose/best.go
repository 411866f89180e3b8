package choose

import (
	"cmp"
	"math"
	"slices"

	"proofmass/sensitivity/estimate"
)

// demand tells whether a choice surely keeps a demand, and whether it surely misses it.
func (l *look) demand(i int, d Demand, alpha float64) (keeps, misses bool) {
	f, x := l.rules.Figures[d.Figure], l.values[i][d.Figure][:l.now]
	if !f.decides((mean(x) + d.Limit) / 2) {
		return l.counted(i, d, alpha)
	}
	above := make([]float64, len(x))
	below := make([]float64, len(x))
	for r, v := range x {
		above[r], below[r] = v-d.Limit, d.Limit-v
	}
	up, down := l.twice(above, alpha), l.twice(below, alpha)
	if d.Below {
		up, down = down, up
	}
	return up != open, down >= sure // exactly at the limit keeps it
}

// counted is demand where replicates hold too few events for a figure of their own each: the
// exact binomial test of all rows. A replicate of a Latin hypercube varies no more than
// n/(n-1) times as independent rows do (Owen 1997, Ann. Stat. 25), so it needs no second look.
func (l *look) counted(i int, d Demand, alpha float64) (keeps, misses bool) {
	f, x := l.rules.Figures[d.Figure], l.values[i][d.Figure][:l.now]
	share := mean(x)
	if !f.Chance || share != share {
		return false, false
	}
	n := f.Rows * len(x)
	k := int(math.Round(share * float64(n)))
	above, below := estimate.AtLeast(k, n, d.Limit) <= alpha, estimate.AtMost(k, n, d.Limit) <= alpha
	if d.Below {
		above, below = below, above
	}
	return above, below
}

// bestAlpha is the chance of error of one test for the best.
func (l *look) bestAlpha() float64 {
	return (1 - l.rules.Level) / float64(max(1, len(l.values)-1+len(l.rules.Demands))*l.rules.Looks)
}

// mostRivals is how many of the best are held against each choice: what loses to any of
// them is lost, and fewer tests only keep more.
const mostRivals = 64

// best sends away what cannot be the best.
func (l *look) best(in []int) {
	aim, alpha := *l.rules.Best, l.bestAlpha()
	var rivals []int
	for _, i := range in {
		fit := true
		for _, d := range l.rules.Demands {
			keeps, misses := l.demand(i, d, alpha)
			fit = fit && keeps
			if misses || l.never(i, d.Figure) {
				l.lose(i, Unfit, false)
			}
		}
		if l.never(i, aim.Figure) {
			l.lose(i, Unfit, false)
		}
		if fit && l.standing[i].Best != No && !math.IsNaN(l.mean(i, aim.Figure)) { // what is not known beats none
			rivals = append(rivals, i)
		}
	}
	slices.SortStableFunc(rivals, func(a, b int) int {
		if aim.Lower {
			a, b = b, a
		}
		return cmp.Compare(l.mean(b, aim.Figure), l.mean(a, aim.Figure))
	})
	rivals = rivals[:min(len(rivals), mostRivals)]
	for _, i := range in {
		for _, k := range rivals {
			if k != i && l.standing[i].Best != No && l.may(k, i, aim.Figure) && l.twice(l.better(k, i, aim), alpha) >= sure {
				l.lose(i, k, false)
				break
			}
		}
	}
}

// never reports whether no replicate of the choice has the figure.
func (l *look) never(i, figure int) bool {
	for _, v := range l.values[i][figure][:l.now] {
		if v == v {
			return false
		}
	}
	return true
}

func (l *look) lose(i, to int, front bool) {
	s := &l.standing[i]
	switch {
	case front && s.Front != No:
		s.Front, s.For = No, to
	case !front && s.Best != No:
		s.Best, s.For = No, to
	}
}
