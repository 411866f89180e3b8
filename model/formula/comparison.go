package formula

import "math"

// truth holds what a condition is worth; it is looked up, not branched on.
var truth = [2]float64{0, 1}

func less(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		a, b, holds := x[i], y[i], 0
		if a < b {
			holds = 1
		}
		out[i] = truth[holds] + (float64(a*0) + float64(b*0))
	}
}

func lessEqual(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		a, b, holds := x[i], y[i], 0
		if a <= b {
			holds = 1
		}
		out[i] = truth[holds] + (float64(a*0) + float64(b*0))
	}
}

func swapped(k kernel) kernel {
	return func(out, x, y, z []float64, s step) { k(out, y, x, z, s) }
}

// below is x < k; atMost, above and atLeast are x <= k, x > k and x >= k.
func below(out, x, _, _ []float64, s step) {
	x = x[:len(out)]
	k := s.k
	for i := range out {
		a, holds := x[i], 0
		if a < k {
			holds = 1
		}
		out[i] = truth[holds] + float64(a*0)
	}
}

func atMost(out, x, _, _ []float64, s step) {
	x = x[:len(out)]
	k := s.k
	for i := range out {
		a, holds := x[i], 0
		if a <= k {
			holds = 1
		}
		out[i] = truth[holds] + float64(a*0)
	}
}

func above(out, x, _, _ []float64, s step) {
	x = x[:len(out)]
	k := s.k
	for i := range out {
		a, holds := x[i], 0
		if a > k {
			holds = 1
		}
		out[i] = truth[holds] + float64(a*0)
	}
}

func atLeast(out, x, _, _ []float64, s step) {
	x = x[:len(out)]
	k := s.k
	for i := range out {
		a, holds := x[i], 0
		if a >= k {
			holds = 1
		}
		out[i] = truth[holds] + float64(a*0)
	}
}

// orColumns is x + y - x*y for 0 and 1.
func orColumns(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		out[i] = (x[i] + y[i]) - float64(x[i]*y[i])
	}
}

func notColumn(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = 1 - x[i]
	}
}

// choose takes y where x is 1 and z where it is 0; the other does not count.
// It compares bits, which the compiler turns into conditional moves: a branch
// on a random condition would cost more than all else. Of 0, 1 and NaN only
// NaN has bits above those of 1.
func choose(out, x, y, z []float64, _ step) {
	x, y, z = x[:len(out)], y[:len(out)], z[:len(out)]
	one := math.Float64bits(1)
	for i := range out {
		c, v, yes := math.Float64bits(x[i]), math.Float64bits(z[i]), math.Float64bits(y[i])
		if c != 0 {
			v = yes
		}
		if c > one {
			v = c
		}
		out[i] = math.Float64frombits(v)
	}
}
