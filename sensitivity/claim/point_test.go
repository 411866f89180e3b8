package claim

import (
	"math"
	"testing"
)

// rowwise makes margins of a function of one row.
func rowwise(f func(z []float64) float64) Margins {
	return func(z [][]float64) ([]float64, error) {
		m := make([]float64, len(z))
		for i, row := range z {
			m[i] = f(row)
		}
		return m, nil
	}
}

// TestNearest: points known in closed form.
//   - Correlated normals of means 10, 4, 1 and deviations 1, 2, 0.5, the first two correlated by
//     0.5, and 3 x1 - 2 x2 + x3 <= 14: x* = mu + S a (t - a mu)/(a S a), at 2.4724901510764024.
//   - ln R ~ N(2.3, 0.1), ln S ~ N(2, 0.2), S >= R: 0.3/sqrt(0.05).
//   - The product of N(2, 0.4) and N(3, 0.5) above 10 and 12: the conditions of Lagrange, at
//     2.2422357149423727 (1.6741965882991690, 1.4915383954463110) and 3.1939403525463366.
//   - A parabola u2 >= 3 + k u1^2/2 of little curvature (Breitung 1984, J. Eng. Mech. 110): 3.
//   - A claim that holds at the middle fails at the same distance.
//   - Both u1 >= 1 and u2 >= 2: the corner, at sqrt(5). Either: 1.
//   - A step: 1 from u1 = 0.5244 on, as a list has it; and one that makes another input's way short.
//   - Nothing: u1^2 <= -1 has no point.
func TestNearest(t *testing.T) {
	linear := func(z []float64) float64 {
		x1, x2, x3 := 10+z[0], 4+2*(0.5*z[0]+math.Sqrt(0.75)*z[1]), 1+0.5*z[2]
		return 14 - (3*x1 - 2*x2 + x3)
	}
	product := func(limit float64) func([]float64) float64 {
		return func(z []float64) float64 { return (2+0.4*z[0])*(3+0.5*z[1]) - limit }
	}
	parabola := func(k float64) func([]float64) float64 {
		return func(z []float64) float64 { return z[1] - 3 - k*z[0]*z[0]/2 }
	}
	for _, c := range []struct {
		name     string
		inputs   int
		f        func([]float64) float64
		distance float64
		z        []float64
		how      Found
		fails    bool
	}{
		{"linear", 3, linear, 2.4724901510764024, nil, AtMinimum, false},
		{"lognormal", 2, func(z []float64) float64 { return math.Exp(2+0.2*z[1]) - math.Exp(2.3+0.1*z[0]) }, 1.3416407864998738, nil, AtMinimum, false},
		{"product 10", 2, product(10), 2.2422357149423727, []float64{1.6741965882991690, 1.4915383954463110}, AtMinimum, false},
		{"product 12", 2, product(12), 3.1939403525463366, []float64{2.3683005079131435, 2.1429903592508678}, AtMinimum, false},
		{"parabola", 2, parabola(0.1), 3, []float64{0, 3}, AtMinimum, false},
		{"hollow parabola", 2, parabola(-0.2), 3, []float64{0, 3}, AtMinimum, false},
		{"holds", 2, func(z []float64) float64 { return 3*z[0] + 4*z[1] + 10 }, 2, []float64{-1.2, -1.6}, AtMinimum, true},
		{"both", 2, func(z []float64) float64 { return min(z[0]-1, z[1]-2) }, math.Sqrt(5), []float64{1, 2}, AtMinimum, false},
		{"either", 2, func(z []float64) float64 { return max(z[0]-1, z[1]-2) }, 1, []float64{1, 0}, AtMinimum, false},
		{"step", 2, func(z []float64) float64 {
			if z[0] >= 0.5244 {
				return 1
			}
			return -1
		}, 0.5244, []float64{0.5244, 0}, NearestMet, false},
		{"list and slope", 2, func(z []float64) float64 {
			if z[0] >= 0.5244 {
				return z[1] - 0.5
			}
			return z[1] - 3
		}, math.Hypot(0.5244, 0.5), []float64{0.5244, 0.5}, AtMinimum, false},
	} {
		p, err := Nearest(c.inputs, rowwise(c.f), [][]float64{[]float64{1.5, 2.5, 1}[:c.inputs]})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Distance-c.distance) > 2e-4 || p.How != c.how || p.Fails != c.fails {
			t.Errorf("%s: %+v, want a distance of %.9g by %s", c.name, p, c.distance, c.how)
		}
		for i, want := range c.z {
			if math.Abs(p.Z[i]-want) > 2e-3 {
				t.Errorf("%s: z%d is %g, want %g", c.name, i+1, p.Z[i], want)
			}
		}
	}
	p, err := Nearest(1, rowwise(func(z []float64) float64 { return -1 - (z[0]-1)*(z[0]-1) }), [][]float64{{2}})
	if err != nil || p.How != OutOfReach || math.Abs(p.Margin+1) > 0.05 {
		t.Errorf("what can't be reached: %+v, %v", p, err)
	}
}
