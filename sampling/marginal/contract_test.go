package marginal

import (
	"maps"
	"math"
	"proofmass/sampling/design"
	"strings"
	"testing"
)

// family lists one or more marginals of every constructor, at magnitudes from
// 1e-6 to 1e15, truncated ones among them.
func family(t testing.TB) map[string]Marginal {
	t.Helper()
	all := firstFamily(t)
	maps.Copy(all, secondFamily(t))
	return all
}

// firstFamily are those whose draws were frozen first.
func firstFamily(t testing.TB) map[string]Marginal {
	t.Helper()
	all := map[string]Marginal{}
	for _, name := range []string{
		"between(0.068;0.07)", "between(-1e15;1)", "log_between(0.001;10)", "log_between(1e-6;1e15)",
		"triangular(350;550;900)", "triangular(0;0;1)", "triangular(-1e15;1;1)",
		"pert(0.225;0.235;0.25)", "pert(1e15;1e15;3e15)", "pert(0;1e-6;1e-6)",
		"normal(0;1)", "normal(1e15;1e13)", "normal(-1e-6;1e-9)", "likely(450;36)",
		"lognormal(1.5;1.25)", "lognormal(1e15;4)", "lognormal_mean_sd(1e-6;1e-7)",
		"percentiles(0.1:10;0.5:14;0.9:22)", "percentiles(0.05:-1e-6;0.95:1e15)",
	} {
		all[name] = parseCase(t, name)
	}
	for _, c := range []struct {
		base      string
		low, high float64
	}{
		{"normal(0;1)", 5, 6}, {"normal(0;1)", -6, -5}, {"normal(0;1)", -1, math.Inf(1)}, {"normal(0;1)", 6.9, math.Inf(1)},
		{"between(0.068;0.07)", 0.069, 1}, {"triangular(350;550;900)", 500, 600}, {"pert(0.225;0.235;0.25)", 0.2, 0.23},
		{"lognormal(1.5;1.25)", 1.2, 2}, {"percentiles(0.1:10;0.5:14;0.9:22)", 0, 30}, {"log_between(0.001;10)", 1, 5},
	} {
		m, err := Truncate(all[c.base], c.low, c.high)
		all["truncated "+c.base+boundsText(c.low, c.high)] = must(t, m, err)
	}
	return all
}

func boundsText(low, high float64) string {
	return " " + formatNumber(low) + " to " + formatNumber(high)
}

func discrete(t testing.TB) map[string]Marginal {
	t.Helper()
	weighted, err1 := OneOf([]float64{24, 20, 22, 21}, []float64{1, 3, 2, 0})
	equal, err2 := OneOf([]float64{1e15, -1e-6, 7}, nil)
	constant, err3 := Constant(-1e-6)
	return map[string]Marginal{"one_of weighted": must(t, weighted, err1), "one_of equal": must(t, equal, err2), "constant": must(t, constant, err3)}
}

// chances reach from 1e-15 to the middle.
func chances() []float64 {
	var ps []float64
	for p := 1e-15; p < 0.5; p *= 1.7 {
		ps = append(ps, p)
	}
	return append(ps, 0.5)
}

// TestInverse: CDF undoes Quantile and Survival undoes QuantileUpper, with a
// relative error of the chance that the rounding of x explains.
func TestInverse(t *testing.T) {
	for name, m := range family(t) {
		for _, p := range chances() {
			for _, side := range []struct {
				what              string
				quantile, inverse func(float64) float64
			}{{"below", m.Quantile, m.CDF}, {"above", m.QuantileUpper, m.Survival}} {
				x := side.quantile(p)
				step := 8*rounding(m) + 1e-15*math.Abs(x)
				got := side.inverse(x)
				slack := math.Abs(side.inverse(x+step) - side.inverse(x-step))
				if !(math.Abs(got-p) <= 2e-12*p+slack) {
					t.Errorf("%s: the chance %s %v is %v, want %v", name, side.what, x, got, p)
				}
			}
		}
	}
}

// TestComplement: the two pairs describe one distribution.
func TestComplement(t *testing.T) {
	for name, m := range family(t) {
		for _, p := range chances() {
			x := m.Quantile(p)
			if sum := m.CDF(x) + m.Survival(x); !(math.Abs(sum-1) <= 2e-12) {
				t.Errorf("%s at %v: CDF and survival add up to %v, want 1", name, x, sum)
			}
		}
		for _, p := range []float64{0.25, 0.4, 0.5, 0.625, 0.875} { // 1-p is exact
			if a, b := m.Quantile(p), m.QuantileUpper(1-p); !(math.Abs(a-b) <= 2e-12*m.SD()+4*rounding(m)) {
				t.Errorf("%s: quantile(%v) = %v, from above %v", name, p, a, b)
			}
		}
	}
}

func TestMonotone(t *testing.T) {
	all := family(t)
	for name, m := range discrete(t) {
		all[name] = m
	}
	for name, m := range all {
		low, high := m.Support()
		last := math.Inf(-1)
		for i := range 4001 {
			p := float64(i) / 4000
			x := m.Quantile(p)
			if !(x >= last) || x < low || x > high {
				t.Fatalf("%s: quantile(%v) = %v after %v, support %v to %v", name, p, x, last, low, high)
			}
			last = x
		}
	}
}

func TestEnds(t *testing.T) {
	all := family(t)
	for name, m := range discrete(t) {
		all[name] = m
	}
	for name, m := range all {
		low, high := m.Support()
		near := func(a, b float64) bool { return a == b || math.Abs(a-b) <= 2*rounding(m)+1e-15*math.Abs(b) }
		if !near(m.Quantile(0), low) || !near(m.QuantileUpper(1), low) || !near(m.Quantile(1), high) || !near(m.QuantileUpper(0), high) {
			t.Errorf("%s: ends %v %v %v %v, want %v and %v", name, m.Quantile(0), m.QuantileUpper(1), m.Quantile(1), m.QuantileUpper(0), low, high)
		}
		for _, p := range []float64{-0.1, 1.1, math.NaN(), math.Inf(1)} {
			if a, b := m.Quantile(p), m.QuantileUpper(p); a == a || b == b {
				t.Errorf("%s: quantiles of %v are %v and %v, want NaN", name, p, a, b)
			}
		}
		below, above := math.Nextafter(low, math.Inf(-1)), math.Nextafter(high, math.Inf(1))
		if m.CDF(below) != 0 || m.Survival(above) != 0 || m.CDF(above) != 1 || m.Survival(below) != 1 {
			t.Errorf("%s: beyond the ends CDF %v, %v and survival %v, %v", name, m.CDF(below), m.CDF(above), m.Survival(below), m.Survival(above))
		}
	}
}

// TestFill: a column is the quantiles, bit for bit, in place or not, and
// nothing is allocated.
func TestFill(t *testing.T) {
	all := family(t)
	for name, m := range discrete(t) {
		all[name] = m
	}
	u := make([]float64, 3000)
	design.Random(9).Fill(u, "sample", "x", 0, 0, 0)
	copy(u, []float64{0x1p-53, 0x1p-80, 1e-300, 0.5, math.Nextafter(0.5, 0), 1 - 0x1p-53, 0, 1})
	x, same := make([]float64, len(u)), make([]float64, len(u))
	for name, m := range all {
		copy(same, u)
		m.Fill(x, u)
		m.Fill(same, same)
		for i, p := range u {
			if want := m.Quantile(p); x[i] != want || same[i] != want {
				t.Fatalf("%s: filled %v, in place %v, quantile(%v) = %v", name, x[i], same[i], p, want)
			}
		}
		if n := testing.AllocsPerRun(3, func() { m.Fill(x, u) }); n != 0 {
			t.Errorf("%s: Fill allocates %v times", name, n)
		}
		if f, ok := m.(upperFiller); ok {
			f.fillUpper(x, u)
			for i, q := range u {
				if want := m.QuantileUpper(q); x[i] != want {
					t.Fatalf("%s: filled from above %v, want %v at %v", name, x[i], want, q)
				}
			}
		}
	}
}

// TestMoments integrates the quantile over p by a midpoint rule that closes in
// on both ends: cruder than moments, and independent of it.
func TestMoments(t *testing.T) {
	const octaves, steps = 50, 2000
	for name, m := range family(t) {
		centre := m.Quantile(0.5)
		sum, square := 0.0, 0.0
		add := func(x, w float64) {
			d := (x - centre) / m.SD()
			sum += d * w
			square += d * d * w
		}
		for k := 1; k <= octaves; k++ {
			from := math.Ldexp(1, -k-1)
			for i := range steps {
				p := from * (1 + (float64(i)+0.5)/steps)
				add(m.Quantile(p), from/steps)
				add(m.QuantileUpper(p), from/steps)
			}
		}
		mean, sd := centre+sum*m.SD(), m.SD()*math.Sqrt(square-sum*sum)
		if !(math.Abs(mean-m.Mean()) <= 1e-6*m.SD()) || !(math.Abs(sd/m.SD()-1) <= 1e-6) {
			t.Errorf("%s: mean %v, sd %v; integrated %v, %v", name, m.Mean(), m.SD(), mean, sd)
		}
	}
}

// TestTruncationRenormalises: between the limits chances are those of the
// whole, divided by what the limits keep; nothing sits on a limit.
func TestTruncationRenormalises(t *testing.T) {
	for name, base := range family(t) {
		if strings.HasPrefix(name, "truncated") {
			continue
		}
		low, high := base.Quantile(0.125), base.Quantile(0.75)
		cut, err := Truncate(base, low, high)
		m := must(t, cut, err)
		for _, p := range []float64{0.01, 0.2, 0.5, 0.9, 0.99} {
			x := m.Quantile(p)
			if want := base.Quantile(0.125 + 0.625*p); !(math.Abs(x-want) <= 1e-10*base.SD()+4*rounding(base)) {
				t.Errorf("%s: truncated quantile(%v) = %v, want %v", name, p, x, want)
			}
		}
		again, err := Truncate(m, math.Inf(-1), base.Quantile(0.5))
		if got, want := must(t, again, err).Quantile(0.5), base.Quantile(0.125+0.375/2); !(math.Abs(got-want) <= 1e-10*base.SD()+4*rounding(base)) {
			t.Errorf("%s: truncated twice, median %v, want %v", name, got, want)
		}
		if whole, err := Truncate(base, math.Inf(-1), math.Inf(1)); err != nil || whole != base {
			t.Errorf("%s: no limits give another marginal (%v)", name, err)
		}
	}
}
