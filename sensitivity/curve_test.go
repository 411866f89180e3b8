package sensitivity

import (
	"math"
	"testing"
)

// sineMean is the mean of sin x over (a, b).
func sineMean(a, b float64) float64 { return (math.Cos(a) - math.Cos(b)) / (b - a) }

// squareMean is that of sin^2 x.
func squareMean(a, b float64) float64 {
	return 0.5 - (math.Sin(2*b)-math.Sin(2*a))/(4*(b-a))
}

// ishigamiMean is E[Y | x_i in (a, b)] of Ishigami's function.
func ishigamiMean(i int, a, b float64) float64 {
	switch i {
	case 0:
		return (1+0.1*math.Pow(math.Pi, 4)/5)*sineMean(a, b) + 3.5
	case 1:
		return 7 * squareMean(a, b)
	}
	return 3.5
}

// TestCurve: twice the interval of each point holds the exact mean over the range of the
// input; 60 points, of which each fails once in 1500.
func TestCurve(t *testing.T) {
	u, d := givenRows(400, 16*2048, 3, true)
	y := values(ishigami().f, u)
	for i := range u {
		points := classesOf(t, u[i], nil, d).Of(y).Curve(0.95)
		if len(points) != 20 {
			t.Fatalf("%d points, want 20", len(points))
		}
		for k, p := range points {
			a, b := math.Pi*(2*float64(k)/20-1), math.Pi*(2*float64(k+1)/20-1)
			exact, half := ishigamiMean(i, a, b), (p.High-p.Low)/2
			if !(math.Abs(p.Mean-exact) <= 2*half) || half > 0.6 {
				t.Errorf("x%d, point %d: %v, exact %.4f", i+1, k, p, exact)
			}
			middle := (float64(k) + 0.5) / 20
			if math.Abs(p.Input-middle) > 0.002 || p.InputLow > p.Input || p.InputHigh < p.Input {
				t.Errorf("x%d, point %d: input %g in %g to %g, want %g", i+1, k, p.Input, p.InputLow, p.InputHigh, middle)
			}
		}
	}
}

func TestCurvePoints(t *testing.T) {
	for _, c := range []struct{ rows, values, want int }{
		{64, 0, 5}, {1024, 0, 5}, {2048, 0, 10}, {16 * 2048, 0, 20},
		{16 * 2048, 3, 3}, {1024, 3, 3}, {16 * 2048, 50, 20}, {64, 2, 2},
	} {
		u, d := givenRows(401, c.rows, 2, true)
		if c.values > 0 {
			for i, v := range u[0] {
				u[0][i] = math.Floor(v * float64(c.values))
			}
		}
		points := classesOf(t, u[0], nil, d).Of(u[1]).Curve(0)
		if len(points) != c.want {
			t.Errorf("%d rows, %d values: %d points, want %d", c.rows, c.values, len(points), c.want)
		}
		for k := 1; k < len(points); k++ {
			if points[k].InputLow <= points[k-1].InputHigh {
				t.Errorf("%d rows, %d values: point %d overlaps that before", c.rows, c.values, k)
			}
		}
	}
}

// TestEnds: exact means over the lowest and highest twentieth; as TestCurve.
func TestEnds(t *testing.T) {
	u, d := givenRows(402, 16*2048, 3, true)
	y := values(ishigami().f, u)
	for i := range u {
		low, high := classesOf(t, u[i], nil, d).Of(y).Ends(0.95)
		for _, e := range []struct {
			Point
			from, to float64
		}{{low, 0, 0.05}, {high, 0.95, 1}} {
			exact := ishigamiMean(i, math.Pi*(2*e.from-1), math.Pi*(2*e.to-1))
			if half := (e.High - e.Low) / 2; !(math.Abs(e.Mean-exact) <= 2*half) || half > 0.6 {
				t.Errorf("x%d: %v, exact %.4f", i+1, e.Point, exact)
			}
			if middle := (e.from + e.to) / 2; math.Abs(e.Input-middle) > 1e-3 || e.InputLow < e.from-1e-3 || e.InputHigh > e.to+1e-3 {
				t.Errorf("x%d: input %v, want %g", i+1, e.Point, middle)
			}
		}
	}
}

// The ends of few values are those values.
func TestEndsOfValues(t *testing.T) {
	u, d := givenRows(403, 1024, 2, true)
	for i, v := range u[0] {
		u[0][i] = math.Floor(3 * v)
	}
	low, high := classesOf(t, u[0], nil, d).Of(u[0]).Ends(0)
	if low.Input != 0 || low.Mean != 0 || high.Input != 2 || high.Mean != 2 || low.InputHigh != 0 || high.InputLow != 2 {
		t.Errorf("%v, %v", low, high)
	}
}

// TestMonotone: a square of a sine is called not monotone always, and a curve that is flat or
// only rises in fewer than 6 of 100 trials, where about 1 is expected.
func TestMonotone(t *testing.T) {
	for _, rows := range []int{16 * 64, 16 * 256, 16 * 1280} { // 5, 10 and 20 points
		wrong := map[string]int{}
		for trial := range 100 {
			u, d := givenRows(uint64(500+trial), rows, 4, true)
			y := values(ishigami().f, u)
			if Monotone(classesOf(t, u[1], nil, d).Of(y).Curve(0.95)) {
				t.Errorf("%d rows, trial %d: a square of a sine is called monotone", rows, trial)
			}
			if !Monotone(classesOf(t, u[3], nil, d).Of(y).Curve(0.95)) {
				wrong["inert"]++
			}
			if !Monotone(classesOf(t, u[2], nil, d).Of(y).Curve(0.95)) {
				wrong["flat"]++
			}
			if !Monotone(classesOf(t, u[0], nil, d).Of(values(normalPair(0.1), u)).Curve(0.95)) {
				wrong["rising"]++
			}
		}
		for name, n := range wrong {
			t.Logf("%d rows, %s: %d of 100", rows, name, n)
			if n >= 6 {
				t.Errorf("%d rows, %s: %d of 100 are called not monotone", rows, name, n)
			}
		}
	}
	if !Monotone(nil) || !Monotone([]Point{{Mean: math.NaN()}}) {
		t.Error("nothing is called not monotone")
	}
}
