package choose

import (
	"cmp"
	"slices"
)

// front sends away what another choice surely beats.
func (l *look) front(in []int) {
	alpha := l.frontAlpha()
	rivals := l.ahead(in)
	for _, i := range in {
		for _, a := range l.rules.Front {
			if l.never(i, a.Figure) {
				l.lose(i, Unfit, true)
			}
		}
		for _, k := range rivals {
			if k != i && l.standing[i].Front != No && l.beats(k, i, alpha) {
				l.lose(i, k, true)
				break
			}
		}
	}
}

// frontAlpha is the chance of error of one test for the front.
func (l *look) frontAlpha() float64 {
	return (1 - l.rules.Level) / float64(max(1, len(l.values)-1)*l.rules.Looks)
}

// ahead are the choices that none beats by their means.
func (l *look) ahead(in []int) []int {
	order := slices.Clone(in)
	first := l.rules.Front[0]
	size := func(i int, a Aim) float64 {
		if a.Lower {
			return -l.mean(i, a.Figure)
		}
		return l.mean(i, a.Figure)
	}
	means := make(map[int][]float64, len(in))
	for _, i := range in {
		for _, a := range l.rules.Front {
			means[i] = append(means[i], size(i, a))
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size(b, first), size(a, first)) })
	var ahead []int
	for _, i := range order {
		beaten := slices.ContainsFunc(ahead, func(k int) bool {
			some := false
			for f := range means[i] {
				if !(means[k][f] >= means[i][f]) {
					return false
				}
				some = some || means[k][f] > means[i][f]
			}
			return some
		})
		if !beaten {
			ahead = append(ahead, i)
		}
	}
	return ahead
}

// beats reports whether k is surely no worse than i in anything, and surely better in
// something. Equal in all replicates counts as no worse.
func (l *look) beats(k, i int, alpha float64) bool {
	better := false
	for _, a := range l.rules.Front {
		o := l.twice(l.better(k, i, a), alpha)
		if o == open || o != equal && !l.may(k, i, a.Figure) {
			return false
		}
		better = better || o >= sure
	}
	return better
}

// mayBeat reports whether k may be better than i in everything, as far as is known.
func (l *look) mayBeat(k, i int, alpha float64) bool {
	same := true
	for _, a := range l.rules.Front {
		switch o := l.test(l.better(i, k, a), alpha); {
		case o >= sure && (o == exact || l.may(k, i, a.Figure)):
			return false
		case o != equal:
			same = false
		}
	}
	return !same
}
