package sensitivity

import (
	"math"
	"slices"
	"testing"

	"proofmass/sensitivity/estimate"
)

// pairDistances are the mean Kolmogorov-Smirnov distance and Borgonovo's delta of
// normalPair, from the definitions: the total variation of two normals in closed form
// and one quadrature, to ten digits.
var pairDistances = []struct{ rho, ks, delta float64 }{
	{0, 0, 0},
	{0.1, 0.0320336020993886, 0.0320691104920983},
	{0.3, 0.0999965183784218, 0.101010428921001},
	{0.5, 0.179294409551, 0.184608463332658},
	{0.7, 0.282460301436996, 0.300801897038185},
	{0.9, 0.45172714381044, 0.514881907907666},
	{0.99, 0.641434981434226, 0.801510087344803},
}

// TestDistancesOfPairs: the estimates lie within the interval of the exact value, and
// within 0.01 and 0.02 of it. Seeds are fixed; see TestGivenCoverageLong for chances.
func TestDistancesOfPairs(t *testing.T) {
	for k, p := range pairDistances {
		u, design := givenRows(uint64(200+k), 16*2048, 2, true)
		d := classesOf(t, u[0], nil, design).Of(values(normalPair(p.rho), u)).Distance(0.95)
		near(t, "KS", d.KS, p.ks, 0.01)
		near(t, "delta", d.Delta, p.delta, 0.02)
	}
}

func near(t *testing.T, name string, got Index, exact, tolerance float64) {
	t.Helper()
	if !(got.Low <= exact && exact <= got.High) || math.Abs(got.Estimate-exact) > tolerance {
		t.Errorf("%s: %v, exact %.4f", name, got, exact)
	}
}

// productDistances are those of an input of the G-function with a = 0, d = 3, from the
// definitions. Each factor is uniform on (0, 2), so that the chance that the product of
// two is at most y is t(1 - ln t), t = y/4, and of three s(1 - ln s + ln^2 s/2), s = y/8.
func productDistances() (ks, delta float64) {
	two := func(t float64) float64 { return productCDF(min(t, 1)) }
	three := func(s float64) float64 { l := math.Log(s); return s * (1 - l + l*l/2) }
	const n, m = 400, 4000
	for k := range n {
		factor := 2 * (float64(k) + 0.5) / n
		var greatest, area, before float64
		for j := 1; j <= m; j++ {
			s := math.Pow(float64(j)/m, 3)
			d := two(2*s/factor) - three(s)
			greatest = max(greatest, math.Abs(d))
			area += math.Abs(d-before) / 2
			before = d
		}
		ks += greatest / n
		delta += area / n
	}
	return ks, delta
}

// ishigamiDistances are those of Ishigami's function: mean Kolmogorov-Smirnov distance
// and delta of each input, and delta of 32 bins. From the definitions, with 200 values
// of the input and 800 x 800 midpoints of the others in 512 bins of equal chance, made
// once (coarser again in TestIshigamiDistancesLong); KS and delta extrapolated from 256 and 512 bins to none. KS is right to 0.0003,
// delta to 0.002.
var ishigamiDistances = []struct{ ks, delta, delta32 float64 }{
	{0.2299, 0.2655, 0.2515},
	{0.3898, 0.4247, 0.4230},
	{0.0925, 0.2105, 0.1958},
}

func TestDistances(t *testing.T) {
	u, design := givenRows(210, 16*2048, 4, true)
	y := values(ishigami().f, u)
	for i, exact := range ishigamiDistances {
		d := classesOf(t, u[i], nil, design).Of(y).Distance(0.95)
		near(t, "Ishigami's KS", d.KS, exact.ks, 0.01)
		near(t, "Ishigami's delta", d.Delta, exact.delta, 0.03)
	}
	inert := classesOf(t, u[3], nil, design).Of(y).Distance(0.95)
	near(t, "inert KS", inert.KS, 0, 0.02)
	near(t, "inert delta", inert.Delta, 0, 0.03)
	ks, delta := productDistances()
	g := classesOf(t, u[0], nil, design).Of(values(gFunction("g3", 0, 0, 0).f, u[:3])).Distance(0.95)
	near(t, "G's KS", g.KS, ks, 0.01)
	near(t, "G's delta", g.Delta, delta, 0.03)
}

// TestFloor: the plain distance of an input that does nothing is the floor, and the
// estimate is 0 on average: 60 trials, within 4 standard errors of 0.0025.
func TestFloor(t *testing.T) {
	var plain, floor, ks, delta float64
	const trials = 60
	for trial := range trials {
		u, d := givenRows(uint64(300+trial), 2048, 4, true)
		c := classesOf(t, u[3], nil, d)
		g := c.Of(values(ishigami().f, u)).Distance(0.95)
		k, _ := c.bins.gaps(c.bins.fine, -1)
		plain += k.plain / trials
		floor += g.Floor / trials
		ks += g.KS.Estimate / trials
		delta += g.Delta.Estimate / trials
	}
	if math.Abs(plain-floor) > 0.1*floor {
		t.Errorf("plain %.4f, floor %.4f", plain, floor)
	}
	if math.Abs(ks) > 0.01 || math.Abs(delta) > 0.012 {
		t.Errorf("mean KS %.4f, mean delta %.4f", ks, delta)
	}
}

// Distances are of ranks: a monotone transform of y, or of x, changes nothing.
func TestDistanceOfRanks(t *testing.T) {
	u, d := givenRows(220, 4096, 3, true)
	y := values(ishigami().f, u)
	want := classesOf(t, u[0], nil, d).Of(y).Distance(0.95)
	x, z := make([]float64, len(y)), make([]float64, len(y))
	for i, v := range y {
		x[i], z[i] = u[0][i]*u[0][i]*u[0][i], math.Exp(v)
	}
	if got := classesOf(t, x, nil, d).Of(z).Distance(0.95); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// A yes or no of which a discrete input is the half: y = x where another input is below
// 1/2, else a coin of chance 1/2. The classes hold 3/4 and 1/4 against 1/2: both
// distances are 1/4.
func TestDistanceOfChances(t *testing.T) {
	u, d := givenRows(230, 16*1024, 3, true)
	y := make([]float64, len(u[0]))
	for i := range y {
		u[0][i] = math.Round(u[0][i])
		y[i] = u[0][i]
		if u[1][i] < 0.5 {
			y[i] = math.Round(u[2][i])
		}
	}
	g := classesOf(t, u[0], nil, d).Of(y).Distance(0.95)
	near(t, "KS", g.KS, 0.25, 0.02)
	near(t, "delta", g.Delta, 0.25, 0.02)
}

// Weighted rows: as TestFirstWeighted, and half of the rows infeasible at random.
func TestDistanceWeighted(t *testing.T) {
	u, design := givenRows(240, 16*4096, 4, true)
	weight := make([]float64, len(u[0]))
	for i, v := range u[0] {
		u[0][i], weight[i] = v*v, 2*v
	}
	y := values(ishigami().f, u)
	for i, v := range u[3] {
		if v > 0.5 {
			y[i] = math.NaN()
		}
	}
	for i, exact := range ishigamiDistances {
		d := classesOf(t, u[i], weight, design).Of(y).Distance(0.95)
		near(t, "KS", d.KS, exact.ks, 0.015)
	}
}

// Without a second replicate there is an estimate of nothing.
func TestDistanceOfOneReplicate(t *testing.T) {
	u, _ := givenRows(250, 1024, 2, true)
	d := classesOf(t, u[0], nil, estimate.Rows{Bounds: []int{0, len(u[0])}}).Of(slices.Clone(u[1])).Distance(0.95)
	if !isUnknown(d.KS) || !isUnknown(d.Delta) || !(d.Floor > 0) {
		t.Errorf("%v", d)
	}
}
