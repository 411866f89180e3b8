package estimate

import (
	"math"
	"math/big"
	"slices"
	"testing"
)

// The univariate sets of the NIST Statistical Reference Datasets
// (itl.nist.gov/div898/strd) with their certified lag-1 autocorrelations. digits is
// -log10 of the relative error that is reached at least: as many as are certified, or
// as the data keep when they become float64 (Mavro, Michelso, NumAcc3, NumAcc4).
// The exact value of the float64 data, in rational arithmetic, is met to 1e-14 always.
// The ninth set, PiDigits, is left out: the first 5000 digits of pi do not give the
// certified mean as we have it (4.5358, not 4.5348), and NIST's own file is not at hand.
func TestAutocorrelationStRD(t *testing.T) {
	for _, set := range []struct {
		name      string
		x         []float64
		certified float64
		digits    float64
	}{
		{"Lew", column(t, "strd_lew.txt"), -0.307304800605679, 14.5},
		{"Lottery", column(t, "strd_lottery.txt"), -0.120948622967393, 14.5},
		{"Mavro", column(t, "strd_mavro.txt"), 0.937989183438248, 13.8},
		{"Michelso", column(t, "strd_michelso.txt"), 0.535199668621283, 13.4},
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, -0.5, 15},
		{"NumAcc2", pairs(1.2, 1.1, 1.3, 500), -0.999, 14.5},
		{"NumAcc3", pairs(1000000.2, 1000000.1, 1000000.3, 500), -0.999, 12},
		{"NumAcc4", pairs(10000000.2, 10000000.1, 10000000.3, 500), -0.999, 11},
	} {
		got := autocorrelation(set.x, 1)
		near(t, set.name+" exact", got, exactAutocorrelation(set.x), 1e-14)
		reversed := slices.Clone(set.x)
		slices.Reverse(reversed)
		near(t, set.name+" reversed", autocorrelation(reversed, 1), got, 1e-14)
		digits := -math.Log10(math.Abs(got-set.certified) / math.Abs(set.certified))
		if t.Logf("%-8s %.15g: %.1f digits", set.name, got, digits); digits < set.digits {
			t.Errorf("%s: got %.17g, certified %.15g: %.2f digits, want %g", set.name, got, set.certified, digits, set.digits)
		}
	}
}

// exactAutocorrelation is autocorrelation at lag 1 without any rounding.
func exactAutocorrelation(x []float64) float64 {
	sum, n := new(big.Rat), new(big.Rat).SetInt64(int64(len(x)))
	d := make([]*big.Rat, len(x))
	for i, v := range x {
		d[i] = new(big.Rat).SetFloat64(v)
		sum.Add(sum, d[i])
	}
	sum.Quo(sum, n)
	pairs, squares, product := new(big.Rat), new(big.Rat), new(big.Rat)
	for i := range d {
		d[i].Sub(d[i], sum)
		squares.Add(squares, product.Mul(d[i], d[i]))
		if i > 0 {
			pairs.Add(pairs, product.Mul(d[i-1], d[i]))
		}
	}
	exact, _ := pairs.Quo(pairs, squares).Float64()
	return exact
}

func TestAutocorrelationUndefined(t *testing.T) {
	for _, c := range []struct {
		x   []float64
		lag int
	}{{nil, 1}, {[]float64{1}, 1}, {[]float64{1, 2}, -1}, {[]float64{3, 3, 3}, 1}} {
		if got := autocorrelation(c.x, c.lag); got == got {
			t.Errorf("%v at lag %d: got %g, want NaN", c.x, c.lag, got)
		}
	}
	near(t, "lag 0", autocorrelation([]float64{1, 2, 4}, 0), 1, 0)
}
