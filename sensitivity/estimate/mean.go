package estimate

import (
	"math"
	"sort"
)

// fewestOthers is the number of rows that must differ from the value of most for the
// interval of a mean: with as many as Chance asks for, 5 of each of 16 replicates.
const fewestOthers = 80

// meanInterval is that of the mean; all keys must be sorted, values not yet.
func (s *Scratch) meanInterval(sum *Summary, independent bool, o Options) Interval {
	n, level := len(s.values), o.Level
	if o.YesNo {
		return s.shareInterval(0, 1, independent, level)
	}
	if s.min == s.max && n > 1 {
		return Interval{s.min, s.min}
	}
	if n >= fewestSteps && s.upTo(s.min) == s.below(s.max) {
		return s.shareInterval(s.min, s.max, independent, level)
	}
	middle := valueOf(s.keys[n/2])
	if others := n - (s.upTo(middle) - s.below(middle)); others < fewestOthers && 2*others < n {
		return None()
	}
	if independent {
		return meanIndependent(sum.Mean, sum.SD, n, level)
	}
	return s.meanOfReplicates(sum, level)
}

// below counts the rows below v, upTo those at most v, in sorted keys.
func (s *Scratch) below(v float64) int {
	k := keyOf(v)
	return sort.Search(len(s.keys), func(i int) bool { return s.keys[i] >= k })
}

func (s *Scratch) upTo(v float64) int {
	k := keyOf(v)
	return sort.Search(len(s.keys), func(i int) bool { return s.keys[i] > k })
}

// shareInterval is that of the mean of a column of two values.
func (s *Scratch) shareInterval(low, high float64, independent bool, level float64) Interval {
	s.counts = s.counts[:0]
	for r := 1; r < len(s.ends); r++ {
		c := Count{Rows: s.ends[r] - s.ends[r-1]}
		for _, v := range s.values[s.ends[r-1]:s.ends[r]] {
			if v == high {
				c.Held++
			}
		}
		s.counts = append(s.counts, c)
	}
	p, err := Chance(s.counts, independent, Options{Level: level})
	if err != nil {
		return None()
	}
	return Interval{between(low, high, p.Interval.Low), between(low, high, p.Interval.High)}
}

// meanOfReplicates is the jackknife over replicates of the pooled mean. moments has
// left each replicate's sum of deviations in parts, all of them in tree[0].
func (s *Scratch) meanOfReplicates(sum *Summary, level float64) Interval {
	s.each = s.each[:0]
	n, all := len(s.values), math.Ldexp(s.tree[0].one, s.exponent)
	centre := sum.Mean - all/float64(n)
	for r, p := range s.parts {
		rows := n - (s.ends[r+1] - s.ends[r])
		s.each = append(s.each, centre+(all-math.Ldexp(p.one, s.exponent))/float64(rows))
	}
	return Jackknife(sum.Mean, s.each, level)
}

// sdInterval is that of the standard deviation: the jackknife over replicates, or, with
// m4 the fourth central moment, sd (1 -+ z sqrt((m4/sd^4 - 1)/n)/2) for independent rows
// (Kendall and Stuart, 1977, The Advanced Theory of Statistics 1, 4th ed., 10.9). There is
// none below FewestRows. values must not be sorted yet.
func (s *Scratch) sdInterval(sum *Summary, independent bool, level float64) Interval {
	n := len(s.values)
	switch {
	case s.min == s.max && n > 1:
		return Interval{}
	case n < FewestRows || math.IsNaN(sum.SD) || !independent && len(s.ends) <= 2:
		return None()
	case independent:
		scale := math.Ldexp(1, -s.exponent)
		var fourth float64
		for _, v := range s.values {
			d := (v - sum.Mean) * scale
			fourth += d * d * d * d
		}
		sd := sum.SD * scale
		half := normalQuantile(level) * math.Sqrt(max(0, fourth/(float64(n)*sd*sd*sd*sd)-1)/float64(n)) / 2
		return Interval{sum.SD - half*sum.SD, sum.SD + half*sum.SD}
	}
	all := s.tree[0]
	s.each = s.each[:0]
	for r, p := range s.parts {
		rows := float64(n - (s.ends[r+1] - s.ends[r]))
		one, two := all.one-p.one, all.two-p.two
		s.each = append(s.each, math.Ldexp(math.Sqrt(max(0, (two-one*one/rows)/(rows-1))), s.exponent))
	}
	return Jackknife(sum.SD, s.each, level)
}
