package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// classSum is about y in one class. Deviations d are from a centre near the mean of
// all, in a unit near the greatest of them, so that neither a far mean nor a small
// spread costs digits.
type classSum struct {
	rows   int
	acting int // rows whose y is not the common value
	weight float64
	square float64 // of the weights
	first  float64 // of weight d
	second float64 // of weight d^2
	x      float64 // of weight x, the place within the class
	xx     float64 // of weight x^2
	xd     float64 // of weight x d
}

func (s *classSum) add(w, x, d float64) {
	wd, wx := w*d, w*x
	s.rows++
	s.weight += w
	s.square += w * w
	s.first += wd
	s.second += wd * d
	s.x += wx
	s.xx += wx * x
	s.xd += wx * d
}

func (s *classSum) plus(o classSum) {
	s.rows += o.rows
	s.acting += o.acting
	s.weight += o.weight
	s.square += o.square
	s.first += o.first
	s.second += o.second
	s.x += o.x
	s.xx += o.xx
	s.xd += o.xd
}

// minus takes rows out again; without any left all is exactly 0.
func (s classSum) minus(o classSum) classSum {
	if s.rows == o.rows {
		return classSum{}
	}
	return classSum{
		s.rows - o.rows, s.acting - o.acting, s.weight - o.weight, s.square - o.square,
		s.first - o.first, s.second - o.second, s.x - o.x, s.xx - o.xx, s.xd - o.xd,
	}
}

// A frame is where deviations are taken from, and the unit of 1 of them; and whether the
// column is one of two values.
type frame struct {
	centre, unit float64
	common       float64 // value that most rows have, if one is
	low, high    float64
	twoValues    bool
}

// framed finds the frame of y; false for a constant output or one without two rows.
func (c *Classes) framed(y []float64) (frame, bool) {
	if len(y) != len(c.class) || c.n < 2 {
		return frame{}, false
	}
	var rows int
	var first, low, high, weight, sum float64
	for row, v := range y {
		if v-v != 0 || c.class[row] == leftOut {
			continue
		}
		if rows == 0 {
			first, low, high = v, v, v
		}
		rows++
		low, high = min(low, v), max(high, v)
		w := weightOf(c.weight, int32(row))
		weight += w
		sum += float64(w * (v - first))
	}
	spread := high - low
	if rows == 0 || roundingOnly(low, high) || spread > math.MaxFloat64/2 {
		return frame{}, false
	}
	centre := first + sum/weight
	if !(centre >= low && centre <= high) {
		centre = low + spread/2
	}
	_, exponent := math.Frexp(spread)
	f := frame{centre: centre, unit: math.Ldexp(1, max(exponent, -1000)), low: low, high: high}
	f.common, f.twoValues = c.commonValue(y, low, high)
	return f, true
}

// commonValue is a value that all but few rows have, if there is one, and whether there are
// but two: low and high. What all but 30 rows have is that of most of 64 rows.
func (c *Classes) commonValue(y []float64, low, high float64) (value float64, twoValues bool) {
	const looked = 64
	counts := func(row int) bool { return y[row]-y[row] == 0 && c.class[row] != leftOut }
	var most estimate.Majority
	twoValues = true
	for row, found := 0, 0; row < len(y) && found < looked; row++ {
		if counts(row) {
			most.Count(y[row])
			twoValues = twoValues && (y[row] == low || y[row] == high)
			found++
		}
	}
	for row := 0; row < len(y) && twoValues; row++ {
		twoValues = y[row] == low || y[row] == high || !counts(row)
	}
	return most.Value, twoValues
}

// A Seen is one output as the classes of an input show it. It is good until Of is
// called for another one.
type Seen struct {
	classes *Classes
	y       []float64
	frame   frame
	known   bool
}

// tells reports whether enough rows differ from a value that most have.
func (o *Seen) tells() bool {
	var acting, rows int
	for _, s := range o.classes.all {
		acting += s.acting
		rows += s.rows
	}
	return tells(acting, rows)
}

// Of looks at the output y, a value for each row of the input.
func (c *Classes) Of(y []float64) *Seen {
	c.seen = Seen{classes: c, y: y}
	c.seen.frame, c.seen.known = c.framed(y)
	if c.seen.known {
		c.gather(y, c.seen.frame)
		c.seen.known = c.occupied() > 1
	}
	return &c.seen
}

// occupied counts the classes with a feasible row.
func (c *Classes) occupied() int {
	count := 0
	for _, s := range c.all {
		if s.rows > 0 {
			count++
		}
	}
	return count
}

// gather fills the sums of every block and class, and those of all blocks.
func (c *Classes) gather(y []float64, f frame) {
	clear(c.sums)
	clear(c.all)
	inverse := 1 / f.unit
	for r := range len(c.bounds) - 1 {
		sums := c.sums[r%c.blocks*c.n:][:c.n]
		for row := c.bounds[r]; row < c.bounds[r+1]; row++ {
			class := c.class[row]
			v := y[row]
			if class == leftOut || v-v != 0 {
				continue
			}
			w := weightOf(c.weight, int32(row))
			sums[class].add(w, float64(c.within[row]), (v-f.centre)*inverse)
			if v != f.common {
				sums[class].acting++
			}
		}
	}
	for i, s := range c.sums {
		c.all[i%c.n].plus(s)
	}
}

// First is the first-order index Var(E[Y|X])/Var(Y) from the means of classes
// (Plischke, Borgonovo and Smith 2013, Eur. J. Oper. Res. 226). The noise of the means
// is taken out as by the one-way random-effects model with unequal counts (Searle,
// Casella and McCulloch 1992, Variance Components, ch. 3): with p the share of a class
// in the weight of all, m its mean, s^2 the variance within and v that of m,
//
//	B = sum p ((m - mean)^2 - (1-p) v),  W = sum p s^2,  S = (B + T)/(B + W).
//
// T is what the trend within classes holds: of each class the sum of squares that a
// straight line in the input explains, less r^2, with r^2 the variance around the line; v
// is r^2 over the rows of the class (of weighted rows the sum of the squared weights
// over the square of the sum). Without T an index near 1 of an input with long tails would
// be too low by some thousandths. The line is our own addition; no source. The square of the
// half-width holds that of T/4, for what bends within a class.
//
// For an input that does nothing the index is 0 on average, and it may be negative. There is
// no interval where one value is that of most rows and fewer than 30 have another.
func (o *Seen) First(level float64) Index {
	if !o.known {
		return unknown()
	}
	c := o.classes
	left, without := make([]classSum, c.n), make([]float64, c.blocks)
	effects := make([]effectOfClass, c.n)
	for r := range without {
		for k, s := range c.all {
			left[k] = s.minus(c.sums[r*c.n+k])
		}
		without[r], _ = betweenShare(left, effects)
	}
	all, trend := betweenShare(c.all, effects)
	s := known(all, without, level)
	half := math.Hypot((s.High-s.Low)/2, trend/4)
	if !o.tells() {
		return Index{all, estimate.None()}
	}
	return Index{all, estimate.Interval{Low: all - half, High: all + half}}
}

// Share is the index of First alone, at a fraction of its time; NaN where it is unknown.
func (o *Seen) Share() float64 {
	if !o.known {
		return math.NaN()
	}
	share, _ := betweenShare(o.classes.all, make([]effectOfClass, o.classes.n))
	return share
}

// effectOfClass are p, m, s^2, v and the class's part of T of First.
type effectOfClass struct{ share, mean, within, noise, trend float64 }

// betweenShare is S of First and the part of it that is T. Classes without a row are
// passed over; effects is a buffer.
func betweenShare(sums []classSum, effects []effectOfClass) (share, ofTrend float64) {
	effects = effectsOf(sums, effects)
	var mean, between, within float64
	for _, e := range effects {
		mean += e.share * e.mean
	}
	for _, e := range effects {
		d := e.mean - mean
		between += e.share * (d*d - (1-e.share)*e.noise)
		within += e.share * e.within
	}
	var trend float64
	for _, e := range effects {
		trend += e.share * e.trend
	}
	return (between + trend) / (between + within), trend / (between + within)
}

// effectsOf fills the buffer. A class of one row lends its variance from the others.
func effectsOf(sums []classSum, effects []effectOfClass) []effectOfClass {
	var weight, inside, freedom float64
	for _, s := range sums {
		weight += s.weight
		if s.rows > 1 {
			inside += s.inside()
			freedom += s.weight - s.square/s.weight
		}
	}
	effects = effects[:0]
	for _, s := range sums {
		if s.rows == 0 {
			continue
		}
		within, rest := inside/freedom, inside/freedom
		var trend float64
		if s.rows > 1 {
			within = s.inside() / (s.weight - s.square/s.weight)
			trend, rest = s.line(within)
		}
		effects = append(effects, effectOfClass{
			s.weight / weight, s.first / s.weight, within, rest * s.square / (s.weight * s.weight), trend,
		})
	}
	return effects
}

// inside is the sum of squares around the mean of the class.
func (s classSum) inside() float64 { return max(0, s.second-s.first*s.first/s.weight) }

// line returns the variance that a line explains, free of noise, and that around it,
// within where there is no line.
func (s classSum) line(within float64) (trend, rest float64) {
	spread := s.xx - s.x*s.x/s.weight
	freedom := s.weight - 2*s.square/s.weight
	if s.rows < 4 || !(spread > 1e-9*s.weight) || !(freedom > 0) {
		return 0, within
	}
	both := s.xd - s.x*s.first/s.weight
	explained := min(both*both/spread, s.inside())
	rest = (s.inside() - explained) / freedom
	return (explained - rest*s.square/s.weight) / s.weight, rest
}

// meansWithout are, for a set of classes, the mean of all rows in it as a deviation,
// and the same without each block, into without.
func (c *Classes) meansWithout(e twentieth, without []float64) float64 {
	all, _ := c.sumOf(e)
	for r := range without {
		block := sumOfClasses(c.sums[r*c.n:][:c.n], e)
		left := all.minus(block)
		without[r] = left.first / left.weight
	}
	return all.first / all.weight
}

// sumOf are the sums of classes and of a part of another, and that of the squares of the
// weights.
func (c *Classes) sumOf(e twentieth) (all classSum, square float64) {
	all = sumOfClasses(c.all, e)
	for _, s := range c.all[e.from:e.to] {
		square += s.square
	}
	if e.part > 0 {
		square += float64(e.part * e.part * c.all[e.next].square)
	}
	return all, square
}

// sumOfClasses counts rows whole, and weights by their part.
func sumOfClasses(sums []classSum, e twentieth) (all classSum) {
	for _, s := range sums[e.from:e.to] {
		all.plus(s)
	}
	if e.part > 0 {
		next := sums[e.next]
		next.weight *= e.part
		next.first *= e.part
		all.plus(next)
	}
	return all
}
