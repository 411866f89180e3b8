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

// A pairwise sum takes values one after the other: blocks of 128, two neighbours of a size
// joined as soon as there are two, so that the tree hangs on the number of values alone.
type pairwise struct {
	centre, scale float64
	now           powers // of the present block
	inBlock       int
	blocks        int // whole ones so far
	levels        [64]powers
}

func (p *pairwise) add(values []float64) {
	for len(values) > 0 {
		n := min(block-p.inBlock, len(values))
		now, centre, scale := p.now, p.centre, p.scale
		for _, x := range values[:n] {
			d := (x - centre) * scale
			square := float64(d * d)
			now.one += d
			now.two += square
			now.three += float64(square * d)
		}
		p.now = now
		if p.inBlock += n; p.inBlock == block {
			p.carry()
		}
		values = values[n:]
	}
}

// carry joins a whole block to those before it.
func (p *pairwise) carry() {
	level := 0
	for ; p.blocks>>level&1 == 1; level++ {
		p.now = p.levels[level].plus(p.now)
	}
	p.levels[level] = p.now
	p.blocks++
	p.now, p.inBlock = powers{}, 0
}

// total joins what is left from the smallest part up.
func (p *pairwise) total() powers {
	sum, any := p.now, p.inBlock > 0
	for level := 0; p.blocks>>level > 0; level++ {
		if p.blocks>>level&1 == 0 {
			continue
		}
		if any {
			sum = p.levels[level].plus(sum)
		} else {
			sum, any = p.levels[level], true
		}
	}
	return sum
}

// joined sums over all replicates, in a binary tree over their numbers.
func (s *Scratch) joined(centre, scale float64) (powers, error) {
	s.parts = s.parts[:0]
	for r := range s.replicates() {
		p := pairwise{centre: centre, scale: scale}
		if err := s.pass(r, p.add); err != nil {
			return powers{}, err
		}
		s.parts = append(s.parts, p.total())
	}
	t := append(s.tree[:0], s.parts...)
	s.tree = t
	for width := 1; width < len(t); width *= 2 {
		for i := 0; i+width < len(t); i += 2 * width {
			t[i] = t[i].plus(t[i+width])
		}
	}
	return t[0], nil
}

// moments is own: gonum's MeanVariance and Skew take as long (20 ns a value, one run), but
// need the whole column, and leave no sums of replicates for the intervals.
//
// It fills in mean, standard deviation and skewness. The first pass finds
// the mean, the second sums around it and takes out what the rounding of the
// mean left (Chan, Golub and LeVeque 1983, equation 1.7). Deviations are scaled
// by a power of two, so that their cubes neither overflow nor vanish.
func (s *Scratch) moments(sum *Summary, _ bool, _ Options) error {
	n := float64(s.rows())
	if s.min == s.max {
		sum.Mean, sum.SD = s.min, 0
		if n == 1 {
			sum.SD = math.NaN()
		}
		return nil
	}
	if math.IsInf(s.max-s.min, 0) {
		return nil
	}
	// The scale keeps the sum itself from overflowing.
	p, err := s.joined(s.first, 1/n)
	if err != nil {
		return err
	}
	mean := min(max(s.first+p.one, s.min), s.max)
	_, exponent := math.Frexp(max(s.max-mean, mean-s.min))
	exponent = max(exponent, -1000)
	if p, err = s.joined(mean, math.Ldexp(1, -exponent)); err != nil {
		return err
	}
	rest := p.one / n
	m2 := p.two - float64(p.one*rest)
	m3 := p.three - float64(3*rest*p.two) + float64(2*n*rest*rest*rest)
	sum.Mean = mean + math.Ldexp(rest, exponent)
	sum.SD = math.Ldexp(math.Sqrt(m2/(n-1)), exponent)
	sum.Skewness = math.Sqrt(n) * m3 / (m2 * math.Sqrt(m2))
	s.exponent = exponent
	return nil
}
