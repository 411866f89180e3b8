package claim

import (
	"math"
	"testing"
)

// TestTurn: the place is found to 2^-30 of the way by at most 31 values whatever turns, a step
// or what has no value beyond it among them, and by at most 12 where the margin is smooth.
func TestTurn(t *testing.T) {
	step := func(at float64) func(float64) float64 {
		return func(x float64) float64 {
			if x >= at {
				return 1e-6
			}
			return -1e3
		}
	}
	for _, c := range []struct {
		name string
		f    func(x float64) float64
		at   float64
		most int
	}{
		{"line", func(x float64) float64 { return 3*x - 1 }, 1.0 / 3, 12},
		{"cube", func(x float64) float64 { return x*x*x - 0.3 }, math.Cbrt(0.3), 12},
		{"exponential", func(x float64) float64 { return math.Exp(6*x) - 60 }, math.Log(60) / 6, 12},
		{"next to the end", func(x float64) float64 { return x - (1 - 1e-6) }, 1 - 1e-6, 12},
		{"step", step(0.123), 0.123, 31},
		{"last step", step(1), 1, 31},
		{"infinite", func(x float64) float64 {
			if x < 0.7 {
				return math.Inf(-1)
			}
			return 1
		}, 0.7, 31},
		{"no value", func(x float64) float64 {
			if x > 0.4 {
				return math.NaN()
			}
			return x - 1
		}, 0.4, 31},
		{"flat", func(x float64) float64 { return math.Pow(x-0.5, 9) }, 0.5, 31},
	} {
		turn, values := NewTurn(c.f(0), c.f(1), 30), 0
		share, more := turn.Next()
		for ; more && values < 100; share, more = turn.Next() {
			v := c.f(share)
			turn.Tell(share, v, !(v < 0))
			values++
		}
		if !(math.Abs(share-c.at) <= math.Ldexp(1, -30)) || values > c.most {
			t.Errorf("%s: %.12g after %d values, want %.12g after %d", c.name, share, values, c.at, c.most)
		}
	}
}
