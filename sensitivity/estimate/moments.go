package estimate

import "math"

// block is the number of rows summed one after the other; blocks are joined in a
// binary tree that depends on the number of rows alone.
const block = 128

// powers are the sums of the first three powers of (x - centre) * scale.
type powers struct{ one, two, three float64 }

func (a powers) plus(b powers) powers {
	return powers{a.one + b.one, a.two + b.two, a.three + b.three}
}

// powersOf sums over v.
func powersOf(v []float64, centre, scale float64) powers {
	if len(v) > block {
		half := block
		for 2*half < len(v) {
			half *= 2
		}
		return powersOf(v[:half], centre, scale).plus(powersOf(v[half:], centre, scale))
	}
	var p powers
	for _, x := range v {
		d := (x - centre) * scale
		square := float64(d * d)
		p.one += d
		p.two += square
		p.three += float64(square * d)
	}
	return p
}

// joined sums over all replicates, in a binary tree over their numbers.
func (s *Scratch) joined(centre, scale float64) powers {
	s.parts = s.parts[:0]
	for r := 1; r < len(s.ends); r++ {
		s.parts = append(s.parts, powersOf(s.values[s.ends[r-1]:s.ends[r]], centre, scale))
	}
	t := append(s.tree[:0], s.parts...)
	s.tree = t
	for width := 1; width < len(t); width *= 2 {
		for i := 0; i+width < len(t); i += 2 * width {
			t[i] = t[i].plus(t[i+width])
		}
	}
	return t[0]
}

// moments fills in mean, standard deviation and skewness. The first pass finds
// the mean, the second sums around it and takes out what the rounding of the
// mean left (Chan, Golub and LeVeque 1983, equation 1.7). Deviations are scaled
// by a power of two, so that their cubes neither overflow nor vanish.
func (s *Scratch) moments(sum *Summary) {
	n := float64(len(s.values))
	if s.min == s.max {
		sum.Mean, sum.SD = s.min, 0
		if n == 1 {
			sum.SD = math.NaN()
		}
		s.joined(s.min, 1)
		return
	}
	// The scale keeps the sum itself from overflowing.
	if math.IsInf(s.max-s.min, 0) {
		s.joined(0, 0)
		return
	}
	first, down := s.values[0], 1/float64(len(s.values))
	mean := first + s.joined(first, down).one
	mean = min(max(mean, s.min), s.max)
	_, exponent := math.Frexp(max(s.max-mean, mean-s.min))
	exponent = max(exponent, -1000)
	scale := math.Ldexp(1, -exponent)
	p := s.joined(mean, scale)
	rest := p.one / n
	m2 := p.two - float64(p.one*rest)
	m3 := p.three - float64(3*rest*p.two) + float64(2*n*rest*rest*rest)
	sum.Mean = mean + math.Ldexp(rest, exponent)
	sum.SD = math.Ldexp(math.Sqrt(m2/(n-1)), exponent)
	sum.Skewness = math.Sqrt(n) * m3 / (m2 * math.Sqrt(m2))
	s.exponent = exponent
}
