package sensitivity

import "proofmass/sensitivity/estimate"

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
// there. A value that many rows share is taken whole. Without a result the means are
// NaN.
func (o *Seen) Ends(level float64) (low, high Point) {
	if !o.known {
		none := Point{Mean: unknown().Estimate, Interval: estimate.None()}
		none.InputLow, none.InputHigh, none.Input = none.Mean, none.Mean, none.Mean
		return none, none
	}
	c, f := o.classes, o.frame
	return c.pointOf(c.low, f, 0, c.ends[0], level), c.pointOf(c.high, f, c.ends[1], c.n, level)
}

// pointOf fills in the mean of the output over classes.
func (c *Classes) pointOf(p Point, f frame, from, to int, level float64) Point {
	without := make([]float64, c.blocks)
	mean := jackknifed(c.meansWithout(from, to, without), without, level)
	p.Mean = f.centre + mean.Estimate*f.unit
	p.Low, p.High = f.centre+mean.Low*f.unit, f.centre+mean.High*f.unit
	return p
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
