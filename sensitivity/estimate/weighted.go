package estimate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Estimates over weighted rows come from sums over replicates, never over rows: with A_r
// the sum of weight times value in replicate r, B_r that of the weights and m = A/B,
//
//	se^2 = sum_r d_r^2 / (R ),  d_r = (A_r - m B_r) / mean B.
//
// Kish's effective number of rows is ESS = (sum w)^2 / sum w^2 (1965, Survey Sampling).

// weightedBlocks is the number of parts that independent rows are cut into for the error.
const weightedBlocks = 16

// A Weighing is the weight of the rows of one replicate, and of those of them that hold.
type Weighing struct{ Held, All, Square float64 } // Square: sum of the squares of the weights

// Add takes a row.
func (w *Weighing) Add(weight float64, holds bool) {
	w.All += weight
	w.Square += float64(weight * weight)
	if holds {
		w.Held += weight
	}
}

// WeightedChance is Chance for weighted rows. With n = p (1-p)/se^2 the interval is
// Wilson's with n rows, at most 20 ESS, where 5 R effective rows hold and fail, else with
// the less of n and ESS; with ESS where none or all hold. Held and Rows are not set. There
// is none with fewer than 2 replicates.
func WeightedChance(replicates []Weighing, o Options) (Proportion, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Proportion{}, err
	}
	var all Weighing
	for _, w := range replicates {
		all.Held += w.Held
		all.All += w.All
		all.Square += w.Square
	}
	p := Proportion{Interval: None(), Method: MethodNone, Chance: all.Held / all.All}
	p.EffectiveRows = all.All * all.All / all.Square
	if len(replicates) < 2 || !(all.All > 0) {
		return p, nil
	}
	p.EffectiveRows = effectiveWeights(replicates, p.Chance, p.EffectiveRows)
	p.Method = MethodReplicates
	p.Interval = wilson(p.Chance, p.EffectiveRows, StudentQuantile(o.Level, len(replicates)-1))
	return p, nil
}

// effectiveWeights is the number of independent rows that would tell a chance as well.
func effectiveWeights(replicates []Weighing, chance, kish float64) float64 {
	if !(chance > 0 && chance < 1) {
		return kish
	}
	var mean, square float64
	for _, w := range replicates {
		mean += w.All / float64(len(replicates))
	}
	for _, w := range replicates {
		d := (w.Held - float64(chance*w.All)) / mean
		square += float64(d * d)
	}
	r := float64(len(replicates))
	n := chance * (1 - chance) * r * (r - 1) / square // infinite where all agree
	if min(chance, 1-chance)*kish >= fewOfEach*r {
		return min(n, mostInFavour*kish)
	}
	return min(n, kish)
}

// A weightedRow is a feasible row with a weight.
type weightedRow struct {
	x, w      float64
	replicate int
}

// A weighted column is its rows in the order of their values.
type weighted struct {
	rows       []weightedRow
	at         []float64 // place of each row, the middle of its weight, as a share of all
	replicates int
	all, kish  float64
	level      float64
}

// Blocks returns the bounds of the replicates of n rows, or of 16 equal parts of independent
// ones: what the errors of weighted rows are made of.
func (d Rows) Blocks(n int) ([]int, error) {
	bounds, err := d.Replicates(n)
	if err != nil || !d.Independent || len(bounds) > 2 {
		return bounds, err
	}
	parts := max(1, min(weightedBlocks, n))
	bounds = []int{0}
	for r := 1; r <= parts; r++ {
		bounds = append(bounds, n*r/parts)
	}
	return bounds, nil
}

// describeWeighted is DescribeColumn for weighted rows, all in memory.
func describeWeighted(x Column, d Rows, o Options) (Summary, error) {
	bounds, err := d.Blocks(x.Rows())
	if err != nil {
		return Summary{}, err
	}
	if err := d.CheckWeights(x.Rows()); err != nil {
		return Summary{}, err
	}
	s := undefined()
	s.Rows = x.Rows()
	c := weighted{replicates: len(bounds) - 1, level: o.Level}
	for r := range c.replicates {
		row := bounds[r]
		err := x.Each(bounds[r], bounds[r+1], func(piece []float64) error {
			for _, v := range piece {
				switch w := d.Weight[row]; {
				case v != v:
					s.Infeasible++
				case v-v != 0:
					return fmt.Errorf("estimate: row %d is %g, want a finite number or NaN", row, v)
				case w > 0:
					c.rows = append(c.rows, weightedRow{v + 0, w, r})
				}
				if v < 0 {
					s.Negative++
				}
				row++
			}
			return nil
		})
		if err != nil {
			return Summary{}, err
		}
	}
	if len(c.rows) > 0 {
		c.describe(&s, o)
	}
	return s, nil
}

// describe fills in everything.
func (c *weighted) describe(s *Summary, o Options) {
	slices.SortStableFunc(c.rows, func(a, b weightedRow) int { return cmp.Compare(a.x, b.x) })
	var square, below float64
	for _, r := range c.rows {
		c.all += r.w
		square += float64(r.w * r.w)
	}
	c.kish = c.all * c.all / square
	c.at = make([]float64, len(c.rows))
	for i, r := range c.rows {
		c.at[i] = (below + r.w/2) / c.all
		below += r.w
	}
	s.Min, s.Max = c.rows[0].x, c.rows[len(c.rows)-1].x
	c.moments(s)
	if c.replicates > 1 {
		s.Method = MethodReplicates
	}
	for i, to := range [...]*float64{&s.P01, &s.P05, &s.P10, &s.P25, &s.P50, &s.P75, &s.P90, &s.P95, &s.P99} {
		*to = c.known(percentiles[i])
	}
	for k, to := range [len(tails)]*Interval{&s.P05Interval, &s.P50Interval, &s.P95Interval} {
		*to = c.percentileInterval(tails[k])
	}
	tail := (1 - o.Coverage) / 2
	s.CoverLow, s.CoverHigh = c.known(tail), c.known(1-tail)
	if s.CoverLow == s.CoverLow {
		s.ShortestLow, s.ShortestHigh = c.shortest(o.Coverage)
	}
}

// moments fills in mean, standard deviation and skewness, and the intervals of the first
// two.
func (c *weighted) moments(s *Summary) {
	first, scale := c.rows[0].x, s.Max-s.Min
	if scale == 0 {
		s.Mean, s.SD, s.SDInterval, s.MeanInterval = first, 0, Interval{}, Interval{first, first}
		return
	}
	if math.IsInf(scale, 0) {
		return
	}
	mean := c.meanOf(func(x float64) float64 { return (x - first) / scale })
	power := func(k int) func(x float64) float64 {
		return func(x float64) float64 {
			d, p := (x-first)/scale-mean, 1.0
			for range k {
				p *= d
			}
			return p
		}
	}
	second := c.meanOf(power(2))
	s.Mean = first + mean*scale
	s.SD = math.Sqrt(second*c.kish/(c.kish-1)) * scale
	s.Skewness = c.meanOf(power(3)) / (second * math.Sqrt(second))
	if half := c.halfWidth(power(1), 0) * scale; half == half {
		s.MeanInterval = Interval{s.Mean - half, s.Mean + half}
	}
	if half := c.halfWidth(power(2), second) / (2 * second) * s.SD; half == half {
		s.SDInterval = Interval{s.SD - half, s.SD + half}
	}
	if c.twoValues() {
		p, err := WeightedChance(c.weighings(func(x float64) bool { return x == s.Max }), Options{Level: c.level})
		if err == nil {
			s.MeanInterval = Interval{between(s.Min, s.Max, p.Interval.Low), between(s.Min, s.Max, p.Interval.High)}
		}
	} else if !c.tells() {
		s.MeanInterval = None()
	}
}

// twoValues and tells are as in meanInterval of rows without weights.
func (c *weighted) twoValues() bool {
	low, high := c.rows[0].x, c.rows[len(c.rows)-1].x
	return len(c.rows) >= fewestSteps && !slices.ContainsFunc(c.rows, func(r weightedRow) bool { return r.x != low && r.x != high })
}

func (c *weighted) tells() bool {
	middle, others := c.rows[len(c.rows)/2].x, 0
	for _, r := range c.rows {
		if r.x != middle {
			others++
		}
	}
	return others >= fewestOthers || 2*others >= len(c.rows)
}

// meanOf is the weighted mean of a function of the rows.
func (c *weighted) meanOf(f func(x float64) float64) float64 {
	var sum float64
	for _, r := range c.rows {
		sum += r.w * f(r.x)
	}
	return sum / c.all
}

// halfWidth is t times the standard error of the mean m of a function.
func (c *weighted) halfWidth(f func(x float64) float64, m float64) float64 {
	if c.replicates < 2 {
		return math.NaN()
	}
	gaps := make([]float64, c.replicates)
	for _, r := range c.rows {
		gaps[r.replicate] += r.w * (f(r.x) - m)
	}
	n := float64(c.replicates)
	var square float64
	for _, g := range gaps {
		d := g / (c.all / n)
		square += d * d
	}
	return StudentQuantile(c.level, c.replicates-1) * math.Sqrt(square/(n*(n-1)))
}

// weighings are the weights of each replicate, and of what holds.
func (c *weighted) weighings(holds func(x float64) bool) []Weighing {
	all := make([]Weighing, c.replicates)
	for _, r := range c.rows {
		all[r.replicate].Add(r.w, holds(r.x))
	}
	return all
}

// fewestBeyond is the effective number of rows beyond a percentile, below which it is not
// known: p05 takes an ESS of 200.
const fewestBeyond = 10

// known is the percentile p, NaN where too few rows lie beyond it.
func (c *weighted) known(p float64) float64 {
	if c.kish*min(p, 1-p) < fewestBeyond*(1-1e-9) {
		return math.NaN()
	}
	return c.percentile(p)
}

// percentile is linear between rows at the middle of their weights.
func (c *weighted) percentile(p float64) float64 {
	k, _ := slices.BinarySearch(c.at, p)
	switch {
	case k == 0:
		return c.rows[0].x
	case k == len(c.at):
		return c.rows[k-1].x
	}
	return between(c.rows[k-1].x, c.rows[k].x, (p-c.at[k-1])/(c.at[k]-c.at[k-1]))
}

// percentileInterval turns the interval of the chance of at most the percentile back into
// percentiles (Woodruff 1952, J. Am. Stat. Assoc. 47).
func (c *weighted) percentileInterval(p float64) Interval {
	q := c.known(p)
	if q != q || c.replicates < 2 {
		return None()
	}
	at := c.weighings(func(x float64) bool { return x <= q })
	var held float64
	for _, w := range at {
		held += w.Held
	}
	n := effectiveWeights(at, held/c.all, c.kish)
	i := wilson(p, n, StudentQuantile(c.level, c.replicates-1))
	return Interval{c.percentile(i.Low), c.percentile(i.High)}
}

// shortest is the shortest interval from a row to the percentile that the coverage is
// further on.
func (c *weighted) shortest(coverage float64) (low, high float64) {
	low, high = math.NaN(), math.NaN()
	for i, u := range c.at {
		if u+coverage > c.at[len(c.at)-1] {
			break
		}
		if end := c.percentile(u + coverage); low != low || end-c.rows[i].x < high-low {
			low, high = c.rows[i].x, end
		}
	}
	return low, high
}
