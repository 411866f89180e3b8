package choose

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// look is one look at the figures.
type look struct {
	*Race
	now, before int // replicates at this look and at the last, 0 where this is the first
	d           []float64
	quantiles   map[[2]float64]float64
}

// Of outcomes of one test.
type outcome int

const (
	open  outcome = iota
	equal         // in every replicate
	sure          // by the interval
	exact         // the same difference in every replicate
)

// test looks whether differences are surely positive, at a chance of error alpha.
func (l *look) test(d []float64, alpha float64) outcome {
	n := float64(len(d))
	var shift float64
	for _, v := range d {
		shift += v - d[0]
	}
	m := d[0] + shift/n
	var square, cube float64
	for _, v := range d {
		e := v - m
		square += float64(e * e)
		cube += float64(float64(e*e) * e)
	}
	switch {
	case m != m || math.IsInf(m, 0):
		return open
	case square == 0 && m == 0:
		return equal
	case square == 0 && m > 0:
		return exact
	case square == 0 || m <= 0 || n < 3:
		return open
	}
	s, root := math.Sqrt(square/(n-1)), math.Sqrt(n)
	x, g := m/s, cube/n/float64(s*float64(s*s))
	if s == 0 { // a square too small for a float64: no doubt that is worth the name
		return exact
	}
	t := l.quantile(alpha, len(d)-1)
	gx := g * x
	skewed := x + float64(gx*x/3) + float64(float64(gx*gx)*x/27) + float64(g/(6*n))
	if float64(root*x) > t && float64(root*skewed) > t {
		return sure
	}
	return open
}

func (l *look) quantile(alpha float64, freedom int) float64 {
	key := [2]float64{alpha, float64(freedom)}
	if t, known := l.quantiles[key]; known {
		return t
	}
	if l.quantiles == nil {
		l.quantiles = map[[2]float64]float64{}
	}
	t := estimate.StudentQuantile(1-2*alpha, freedom)
	l.quantiles[key] = t
	return t
}

// twice is the test at this look and at the one before: what is not exact has to be sure at
// both.
func (l *look) twice(d []float64, alpha float64) outcome {
	o := l.test(d, alpha)
	if o == sure && (l.before == 0 || l.test(d[:l.before], alpha) < sure) {
		return open
	}
	return o
}

// better are how much k is better than i in an aim, a replicate each.
func (l *look) better(k, i int, a Aim) []float64 {
	x, y := l.values[k][a.Figure][:l.now], l.values[i][a.Figure][:l.now]
	if a.Lower {
		x, y = y, x
	}
	l.d = l.d[:0]
	for r := range x {
		l.d = append(l.d, x[r]-y[r])
	}
	return l.d
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func (l *look) mean(choice, figure int) float64 { return mean(l.values[choice][figure][:l.now]) }

// may reports whether a figure of the size of both may decide.
func (l *look) may(k, i, figure int) bool {
	f := l.rules.Figures[figure]
	return f.decides((l.mean(k, figure) + l.mean(i, figure)) / 2)
}
