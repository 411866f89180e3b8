package estimate

import "math"

// fewestOthers is the number of rows that must differ from the value of most for the
// interval of a mean: with as many as Chance asks for, 5 of each of 16 replicates.
const fewestOthers = 80

// meanInterval is that of the mean, once keys are sorted.
func (s *Scratch) meanInterval(sum *Summary, independent bool, o Options) (Interval, error) {
	n, level := s.rows(), o.Level
	switch {
	case math.IsNaN(sum.Mean):
		return None(), nil
	case o.YesNo:
		return s.shareInterval(0, 1, independent, level), nil
	case s.min == s.max && n > 1:
		return Interval{s.min, s.min}, nil
	case n >= fewestSteps && s.lowest+s.greatest() == n:
		return s.shareInterval(s.min, s.max, independent, level), nil
	}
	common, err := s.equalTo(valueOf(s.at(n / 2)))
	if others := n - common; err != nil || others < fewestOthers && 2*others < n {
		return None(), err
	}
	if independent {
		return meanIndependent(sum.Mean, sum.SD, n, level), nil
	}
	return s.meanOfReplicates(sum, level), nil
}

// greatest counts the rows of the greatest value.
func (s *Scratch) greatest() (n int) {
	for _, c := range s.counts {
		n += c.Held
	}
	return n
}

// shareInterval is that of the mean of a column of two values.
func (s *Scratch) shareInterval(low, high float64, independent bool, level float64) Interval {
	if s.max != high {
		for r := range s.counts {
			s.counts[r].Held = 0
		}
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
	n, all := s.rows(), math.Ldexp(s.tree[0].one, s.exponent)
	centre := sum.Mean - all/float64(n)
	for r, p := range s.parts {
		rows := n - (s.ends[r+1] - s.ends[r])
		s.each = append(s.each, centre+(all-math.Ldexp(p.one, s.exponent))/float64(rows))
	}
	return Jackknife(sum.Mean, s.each, level)
}

// spread fills in the interval of the standard deviation: the jackknife over replicates, or, with
// m4 the fourth central moment, sd (1 -+ z sqrt((m4/sd^4 - 1)/n)/2) for independent rows
// (Kendall and Stuart, 1977, The Advanced Theory of Statistics 1, 4th ed., 10.9). There is
// none below FewestRows.
func (s *Scratch) spread(sum *Summary, independent bool, o Options) error {
	if err := s.countEnds(); err != nil {
		return err
	}
	n := s.rows()
	switch {
	case s.min == s.max && n > 1:
		sum.SDInterval = Interval{}
		return nil
	case n < FewestRows || math.IsNaN(sum.SD) || !independent && s.replicates() < 2:
		return nil
	case independent:
		return s.independentSpread(sum, o.Level)
	}
	all := s.tree[0]
	s.each = s.each[:0]
	for r, p := range s.parts {
		rows := float64(n - (s.ends[r+1] - s.ends[r]))
		one, two := all.one-p.one, all.two-p.two
		s.each = append(s.each, math.Ldexp(math.Sqrt(max(0, (two-one*one/rows)/(rows-1))), s.exponent))
	}
	sum.SDInterval = Jackknife(sum.SD, s.each, o.Level)
	return nil
}

func (s *Scratch) independentSpread(sum *Summary, level float64) error {
	scale := math.Ldexp(1, -s.exponent)
	var fourth float64
	for r := range s.replicates() {
		if err := s.pass(r, func(piece []float64) {
			for _, v := range piece {
				d := (v - sum.Mean) * scale
				fourth += d * d * d * d
			}
		}); err != nil {
			return err
		}
	}
	sd, n := sum.SD*scale, float64(s.rows())
	half := normalQuantile(level) * math.Sqrt(max(0, fourth/(n*sd*sd*sd*sd)-1)/n) / 2
	sum.SDInterval = Interval{sum.SD - half*sum.SD, sum.SD + half*sum.SD}
	return nil
}
