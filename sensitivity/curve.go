package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// A Point is the mean of an output over the rows where the input lies between two
// values. An interval is NaN where a single replicate holds all those rows.
type Point struct {
	InputLow, InputHigh float64 // lowest and highest value of the input
	Input               float64 // its median, or its mean at the ends
	Mean                float64 // of the output, NaN without a feasible row
	estimate.Interval           // of Mean
}

// curveCount is the number of points of a curve over n rows: some hundred rows each.
func curveCount(n int) int {
	switch {
	case n >= 20_000:
		return twenty
	case n >= 2000:
		return twenty / 2
	}
	return twenty / 4
}

// Curve is the conditional mean E[Y|X] over classes of equal weight: 20 from 20,000
// rows on, 10 from 2000, else 5; the values of a discrete input where there are no more
// of them. Intervals are for each point by itself. It is empty where nothing can be
// said.
func (o *Seen) Curve(level float64) []Point {
	if !o.known {
		return nil
	}
	c, f := o.classes, o.frame
	points, from := make([]Point, c.curve.n), 0
	for g := range points {
		to := from
		for to < c.n && int(c.curve.of[to]) == g {
			to++
		}
		points[g] = c.pointOf(c.curve.points[g], f, from, to, level)
		from = to
	}
	return points
}

// Ends are the means of the output over the lowest and the highest twentieth of the
// input, for the conditional form of the tornado; Input is the mean of the input
// there. A value that more rows share is taken whole; where fewer than a twentieth have
// the lowest values, the rows beside them count with the weight that makes up for it. Without
// a result the means are NaN.
func (o *Seen) Ends(level float64) (low, high Point) {
	if !o.known {
		none := Point{Mean: unknown().Estimate, Interval: estimate.None()}
		none.InputLow, none.InputHigh, none.Input = none.Mean, none.Mean, none.Mean
		return none, none
	}
	c, f := o.classes, o.frame
	return c.pointOfEnd(c.ends[0], f, level), c.pointOfEnd(c.ends[1], f, level)
}

// A twentieth is classes at an end of the input, and a part of the next one.
type twentieth struct {
	Point
	from, to int     // whole classes
	next     int     // the class behind them
	part     float64 // of its weight; often 0
}

// twentieth finds the classes from the given one on, up or down. A part of the next class
// is taken for values that are single, and where what is left is no matter of rounding.
func (c *Classes) twentieth(order []estimate.Place, ends []int, shares []float64, from, step int) twentieth {
	const rounding = 1e-9
	share, to := shares[from], from+step
	for ; to >= 0 && to < c.n && share+shares[to] <= 1.0/twenty+rounding; to += step {
		share += shares[to]
	}
	e := twentieth{from: min(from, to-step), to: max(from, to-step) + 1, next: to}
	e.Point = c.span(order[ends[e.from]:ends[e.to]])
	left := 1.0/twenty - share
	if to < 0 || to >= c.n || left <= rounding || !c.discrete && left < 0.1/twenty {
		return e
	}
	e.part = left / shares[to]
	beside := c.span(order[ends[to]:ends[to+1]])
	e.InputLow, e.InputHigh = min(e.InputLow, beside.InputLow), max(e.InputHigh, beside.InputHigh)
	e.Input += float64(left * twenty * (beside.Input - e.Input))
	return e
}

// pointOf fills in the mean of the output over classes.
func (c *Classes) pointOf(p Point, f frame, from, to int, level float64) Point {
	return c.pointOfEnd(twentieth{Point: p, from: from, to: to}, f, level)
}

// pointOfEnd does so for classes and a part of another.
func (c *Classes) pointOfEnd(e twentieth, f frame, level float64) Point {
	p, without := e.Point, make([]float64, c.blocks)
	mean := jackknifed(c.meansWithout(e, without), without, level)
	p.Mean = f.centre + mean.Estimate*f.unit
	p.Low, p.High = f.centre+mean.Low*f.unit, f.centre+mean.High*f.unit
	acting, rows := c.acting(e)
	switch {
	case f.twoValues:
		chance := c.shareIn(e, f, level)
		p.Low, p.High = f.low+chance.Low*(f.high-f.low), f.low+chance.High*(f.high-f.low)
	case !tells(acting, rows):
		p.Interval = estimate.None()
	}
	return p
}

// acting counts the rows of classes, and those that differ from the value of most.
func (c *Classes) acting(e twentieth) (acting, rows int) {
	for _, s := range c.all[e.from:e.to] {
		acting += s.acting
		rows += s.rows
	}
	if e.part > 0 {
		acting += c.all[e.next].acting
		rows += c.all[e.next].rows
	}
	return acting, rows
}

// shareIn is the interval of the chance of the greater of two values. Where rows have
// weights, or a part of a class counts, it is that of as many independent rows (Kish 1965,
// Survey Sampling); few rows are taken as independent too.
func (c *Classes) shareIn(e twentieth, f frame, level float64) estimate.Interval {
	held := func(s classSum) int {
		if f.common == f.high {
			return s.rows - s.acting
		}
		return s.acting
	}
	counts := make([]estimate.Count, c.blocks)
	var rows int
	for r := range counts {
		for _, s := range c.sums[r*c.n+e.from : r*c.n+e.to] {
			counts[r].Held += held(s)
			counts[r].Rows += s.rows
		}
		rows += counts[r].Rows
	}
	independent := c.independent || rows < estimate.FewestRows
	if c.weight != nil || e.part > 0 {
		whole, square := c.sumOf(e)
		n := int(math.Round(whole.weight * whole.weight / square))
		share := (f.centre + whole.first/whole.weight*f.unit - f.low) / (f.high - f.low)
		counts = []estimate.Count{{Held: min(n, int(math.Round(share*float64(n)))), Rows: n}}
		independent = true
	}
	p, err := estimate.Chance(counts, independent, estimate.Options{Level: level})
	if err != nil {
		return estimate.None()
	}
	return p.Interval
}

// widerBands is by how much bands are widened, since the greatest of many differences is
// looked for. A curve of 5, 10 or 20 points that is flat or only rises was then called not
// monotone in at most 1 of 100 trials (TestMonotone). Our own choice, no source.
const widerBands = 1.4

// Monotone is false only where the curve both rises and falls by more than its bands
// explain: it has a point whose interval, 1.4 times as wide, lies above that of an earlier
// point, and one whose interval lies below that of an earlier one.
func Monotone(curve []Point) bool {
	rises, falls := false, false
	for i, p := range curve {
		for _, q := range curve[:i] {
			step, bands := p.Mean-q.Mean, widerBands*(p.High-p.Low+q.High-q.Low)/2
			rises = rises || step > bands
			falls = falls || -step > bands
		}
	}
	return !(rises && falls)
}
