package marginal

import (
	"math"
	"proofmass/sampling/design"
	"testing"
)

func TestOneOf(t *testing.T) {
	m, err := OneOf([]float64{24, 20, 22, 21, 20}, []float64{2, 1, 4, 0, 1})
	d := must(t, m, err)
	// 20 with 2/8, 22 with 4/8, 24 with 2/8
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"quantile(0)", d.Quantile(0), 20}, {"quantile(0.2499)", d.Quantile(0.2499), 20}, {"quantile(0.25)", d.Quantile(0.25), 22},
		{"quantile(0.7499)", d.Quantile(0.7499), 22}, {"quantile(0.75)", d.Quantile(0.75), 24}, {"quantile(1)", d.Quantile(1), 24},
		{"upper(0)", d.QuantileUpper(0), 24}, {"upper(0.25)", d.QuantileUpper(0.25), 24}, {"upper(0.26)", d.QuantileUpper(0.26), 22},
		{"upper(0.76)", d.QuantileUpper(0.76), 20}, {"upper(1)", d.QuantileUpper(1), 20},
		{"cdf(19)", d.CDF(19), 0}, {"cdf(20)", d.CDF(20), 0.25}, {"cdf(21)", d.CDF(21), 0.25}, {"cdf(22)", d.CDF(22), 0.75}, {"cdf(24)", d.CDF(24), 1},
		{"survival(19)", d.Survival(19), 1}, {"survival(20)", d.Survival(20), 0.75}, {"survival(23)", d.Survival(23), 0.25}, {"survival(24)", d.Survival(24), 0},
		{"mean", d.Mean(), 22}, {"sd", d.SD(), math.Sqrt2},
	} {
		if math.Abs(c.got-c.want) > 1e-15 {
			t.Errorf("%s = %v, want %v", c.what, c.got, c.want)
		}
	}
}

// TestOneOfShares: drawn through a Latin design of n rows, each value comes
// n times its share, give or take one: the design has one row a stratum.
func TestOneOfShares(t *testing.T) {
	m, err := OneOf([]float64{1, 2, 3}, []float64{0.1, 0.2, 0.7})
	d := must(t, m, err)
	const n = 1000
	latin, err := design.Latin(4, 16*n)
	if err != nil {
		t.Fatal(err)
	}
	u := make([]float64, n)
	latin.Fill(u, "sample", "columns", 0, 2, 0)
	d.Fill(u, u)
	count := map[float64]float64{}
	for _, x := range u {
		count[x]++
	}
	for x, share := range map[float64]float64{1: 0.1, 2: 0.2, 3: 0.7} {
		if math.Abs(count[x]-n*share) > 1 {
			t.Errorf("%v came %v times of %d, want %v", x, count[x], n, n*share)
		}
	}
}

func TestTruncateDiscrete(t *testing.T) {
	m, err := OneOf([]float64{20, 22, 24, 26}, []float64{1, 2, 3, 4})
	whole := must(t, m, err)
	cut, err := Truncate(whole, 21, 24)
	d := must(t, cut, err)
	if a, b := d.CDF(22), d.Mean(); math.Abs(a-0.4) > 1e-15 || math.Abs(b-23.2) > 1e-13 {
		t.Errorf("cdf(22) = %v and mean %v, want 0.4 and 23.2", a, b)
	}
	c, err := Constant(5)
	five := must(t, c, err)
	same, err := Truncate(five, 5, 5)
	if got := must(t, same, err).Quantile(0.3); got != 5 {
		t.Errorf("a constant within its limits gives %v, want 5", got)
	}
}
