package sensitivity

import (
	"math"
	"slices"
	"testing"

	"proofmass/sampling/portable"
	"proofmass/sensitivity/claim"
	"proofmass/sensitivity/estimate"
)

// Corners: outputs behind which few rows act, of whole numbers, of rounding alone, and
// huge ones. A right interval may be wider than 95 % asks for there, never narrower.

func TestCoverageCorners(t *testing.T) { coverageCorners(t, 60) }

// A corner is a column of two uniform inputs with its exact mean and percentiles.
type corner struct {
	name          string
	f             func(u []float64) float64
	mean          float64
	p05, p50, p95 float64
}

func corners() []corner {
	rare := func(share float64) func(u []float64) float64 {
		return func(u []float64) float64 {
			if u[0]+u[1] < math.Sqrt(2*share) {
				return 1
			}
			return 0
		}
	}
	seldom := func(share float64) func(u []float64) float64 { // a size with a tail, seldom
		return func(u []float64) float64 {
			if u[0] < share {
				return -math.Log(1 - u[1])
			}
			return 0
		}
	}
	steps := func(n float64) func(u []float64) float64 { // floor of n times the mean of both
		return func(u []float64) float64 { return math.Floor(n * (u[0] + u[1]) / 2) }
	}
	below := func(n float64) func(p float64) float64 { // its quantile
		return func(p float64) float64 { return math.Floor(n * sumQuantile(p) / 2) }
	}
	all := []corner{
		{"0 or 1, 0.0001", rare(1e-4), 1e-4, 0, 0, 0},
		{"0 or 1, 0.001", rare(1e-3), 1e-3, 0, 0, 0},
		{"0 or 1, 0.01", rare(1e-2), 1e-2, 0, 0, 0},
		{"0 or 1, 0.05", rare(0.05), 0.05, 0, 0, math.NaN()}, // p95 is 0 or 1: both are right
		{"seldom a size, 0.002", seldom(0.002), 0.002, 0, 0, 0},
		{"seldom a size, 0.008", seldom(0.008), 0.008, 0, 0, 0},
	}
	for _, n := range []float64{4, 10, 37, 300} {
		q := below(n)
		mean := 0.0
		for k := 1.0; k < n; k++ { // the mean of a count is the sum of the chances of at least k
			mean += 1 - sumCDF(2*k/n)
		}
		all = append(all, corner{"whole numbers to " + string(rune('a'+int(math.Log2(n)))), steps(n), mean, q(0.05), q(0.5), q(0.95)})
	}
	return all
}

// sumCDF is the chance that the sum of two uniforms is at most t.
func sumCDF(t float64) float64 {
	if t <= 1 {
		return t * t / 2
	}
	return 1 - (2-t)*(2-t)/2
}

func coverageCorners(t *testing.T, trials int) {
	scratch := new(estimate.Scratch)
	for _, c := range corners() {
		t.Run(c.name, func(t *testing.T) {
			hits, told := tally{}, 0
			for trial := range trials {
				y, d := replicated(c.f, uint64(5000+trial), 16*1024)
				s, err := estimate.Describe(y, d, estimate.Options{}, scratch)
				if err != nil {
					t.Fatal(err)
				}
				if s.MeanInterval.Low == s.MeanInterval.Low && s.Min < s.Max {
					told++
					hits.add("mean", s.MeanInterval, c.mean)
				} else {
					hits["mean"]++ // none is said, or no row shows anything
				}
				hits.add("p05", s.P05Interval, c.p05)
				hits.add("p50", s.P50Interval, c.p50)
				if c.p95 == c.p95 {
					hits.add("p95", s.P95Interval, c.p95)
				}
			}
			t.Logf("mean has an interval in %d of %d", told, trials)
			hits.check(t, trials)
		})
	}
}

// TestCoverageRareClasses: first-order index and curve of a claim that few rows hold.
func TestCoverageRareClasses(t *testing.T) { coverageRareClasses(t, 60) }

func coverageRareClasses(t *testing.T, trials int) {
	for _, h := range []float64{-3.1, -2.6, -2} { // held by about 0.1, 0.5 and 2.3 % of the rows
		for _, rho := range []float64{0, 0.5, 0.9} {
			f := heldClaim(rho, h)
			hits, none := tally{}, 0
			exact := claimShare(rho, h)
			lowest := claimIn(rho, h, 0, 0.05) * 20
			middle := claimIn(rho, h, 0.5, 0.55) * 20
			for trial := range trials {
				u, d := givenRows(uint64(6000+trial), 16*512, 2, true)
				seen := classesOf(t, u[0], nil, d).Of(values(f, u))
				first := seen.First(0)
				if first.Low != first.Low {
					none++
					hits["first"]++
				} else {
					hits.add("first", first.Interval, exact)
				}
				low, _ := seen.Ends(0)
				hits.add("lowest twentieth", low.Interval, lowest)
				if curve := seen.Curve(0); len(curve) == 10 {
					hits.add("fifth class", curve[5].Interval, claimIn(rho, h, 0.5, 0.6)*10)
				} else if len(curve) > 0 {
					hits.add("a class", curve[10].Interval, middle)
				}
			}
			t.Logf("rho %g, h %g: no interval of the index in %d of %d", rho, h, none, trials)
			hits.check(t, trials)
		}
	}
}

// claimIn is the chance of holding the claim of heldClaim with the input from one chance to
// another, by the midpoint rule.
func claimIn(rho, h, from, to float64) float64 {
	const n = 20_000
	sum := 0.0
	for k := range n {
		x := normal(from + (to-from)*(float64(k)+0.5)/n)
		sum += portable.NormalCDF((h-rho*x)/math.Sqrt(1-rho*rho)) / n
	}
	return sum * (to - from)
}

// claimShare is its first-order index.
func claimShare(rho, h float64) float64 {
	const n = 200_000
	p, square := portable.NormalCDF(h), 0.0
	for k := range n {
		q := portable.NormalCDF((h - rho*normal((float64(k)+0.5)/n)) / math.Sqrt(1-rho*rho))
		square += (q - p) * (q - p) / n
	}
	return square / (p * (1 - p))
}

// A value that fewer than a twentieth of the rows have is not a twentieth: the rest of
// it comes from the value beside it.
func TestEndsOfRareValue(t *testing.T) {
	x := make([]float64, 2000)
	y := make([]float64, 2000)
	for i := range x {
		switch {
		case i%100 == 0: // 1 in 100 has 0, where y is 10
			y[i] = 10
		case i%100 == 1: // and 1 in 100 has 9, where it is -10
			x[i], y[i] = 9, -10
		default:
			x[i] = 5
		}
	}
	d := estimate.Rows{Bounds: []int{0, 500, 1000, 1500, 2000}}
	low, high := classesOf(t, x, nil, d).Of(y).Ends(0)
	if math.Abs(low.Mean-2) > 1e-12 || math.Abs(high.Mean+2) > 1e-12 { // a fifth of the twentieth
		t.Errorf("means of the lowest and the highest twentieth: %g and %g, want 2 and -2", low.Mean, high.Mean)
	}
	if math.Abs(low.Input-4) > 1e-12 || math.Abs(high.Input-5.8) > 1e-12 {
		t.Errorf("their inputs: %g and %g, want 4 and 5.8", low.Input, high.Input)
	}
	regions, err := claim.NewRegions(x, d)
	if err != nil {
		t.Fatal(err)
	}
	holds := make([]float64, len(x))
	for i := range holds {
		if x[i] != 5 || i%100 >= 50 {
			holds[i] = 1
		}
	}
	r, err := regions.Of(holds, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := 0.2 + 0.8*50/98
	if math.Abs(r.LowChance.Estimate-want) > 1e-9 || math.Abs(r.HighChance.Estimate-want) > 1e-9 {
		t.Errorf("chances in the lowest and the highest twentieth: %g and %g, want %g", r.LowChance.Estimate, r.HighChance.Estimate, want)
	}
}

// An input that cancels out of an output but for rounding has an index of 0 that is known,
// and an output of rounding alone has none.
func TestRoundingIsNothing(t *testing.T) {
	fn := testFunction{name: "cancels", first: make([]float64, 2), total: make([]float64, 2), f: func(u []float64) float64 {
		mass := 1900.0
		if u[1] < 0.004 {
			mass += 0.3 // taken off again below; leaves some 1e-13
		}
		y := float64(mass+50*u[0]) - mass
		return y
	}}
	pair := pickFreeze(fn, 1, 4096, replicates).Indices(0)[0][1]
	if pair.First.Estimate != 0 || pair.First.High != 0 || pair.Total.Estimate != 0 || pair.Total.High != 0 {
		t.Errorf("what cancels: %+v, want 0 and its interval 0", pair)
	}
	for name, f := range map[string]func(u []float64) float64{
		"a far constant": func(u []float64) float64 { return float64(1950.3+float64(u[0]*1e3)) - u[0]*1e3 },
		"nothing left": func(u []float64) float64 {
			return float64(float64(0.1+math.Floor(u[0]*8)*0.1)-0.1) - math.Floor(u[0]*8)*0.1
		},
		"less than that": func(u []float64) float64 {
			return float64(1+float64(u[0]*1e-3))/(1+u[0]*1e-3) - 1 + math.Floor(3*u[0])*0x1p-53
		},
	} {
		fn := testFunction{name: name, first: make([]float64, 2), total: make([]float64, 2), f: f}
		pair := pickFreeze(fn, 1, 2048, replicates).Indices(0)[0][0]
		if !pair.Constant || pair.Total.Estimate == pair.Total.Estimate {
			t.Errorf("%s: swapped: %+v, want a constant output", name, pair)
		}
		u, d := givenRows(1, 2048, 2, true)
		y := values(f, u)
		if first := classesOf(t, u[0], nil, d).Of(y).First(0); first.Estimate == first.Estimate {
			t.Errorf("%s: by classes: %+v, want none", name, first)
		}
		if r, err := Regress(u, [][]float64{y}, d, 0); err != nil || r.R2[0].Estimate == r.R2[0].Estimate {
			t.Errorf("%s: by regression: %+v, %v, want none", name, r.R2[0], err)
		}
		if e := screened(fn, 1, 256, replicates).Results(0)[0][0]; e.Total.Estimate == e.Total.Estimate {
			t.Errorf("%s: screened: %+v, want no total index", name, e)
		}
		if s := independently(fn).bySubsets(1, 2048, singles(2)).Effects(0)[0][0]; s.Estimate == s.Estimate {
			t.Errorf("%s: Shapley effect %+v, want none", name, s)
		}
	}
	// counts and small quantities are no rounding
	for _, f := range []func(u []float64) float64{
		func(u []float64) float64 { return math.Floor(3 * u[0]) }, func(u []float64) float64 { return 1e-15 * u[0] },
		func(u []float64) float64 { return 1e-12 * math.Floor(2*u[0]) }, func(u []float64) float64 { return 1e6 + 1e-4*u[0] },
	} {
		fn := testFunction{first: make([]float64, 1), total: make([]float64, 1), f: f}
		if pair := pickFreeze(fn, 1, 2048, replicates).Indices(0)[0][0]; !(pair.Total.Estimate > 0.99) {
			t.Errorf("the only input: %+v", pair)
		}
	}
}

// TestHugeValues: near the ends of what a float64 holds every figure is a finite number or none.
func TestHugeValues(t *testing.T) {
	u, d := givenRows(1, 2048, 2, true)
	for _, scale := range []float64{1e150, 1e200, 1e300, 1.7e308} {
		f := func(u []float64) float64 { return scale * (((2*u[0] - 1) + (2*u[1]-1)*0x1p-3) / 1.125) }
		fn := testFunction{first: make([]float64, 2), total: make([]float64, 2), f: f}
		y := values(f, u)
		var all []float64
		index := func(i Index) { all = append(all, i.Estimate, i.Low, i.High) }
		s, err := estimate.Describe(y, d, estimate.Options{}, nil)
		if err != nil {
			t.Errorf("%g: %v", scale, err)
		}
		all = append(all, s.Mean, s.SD, s.Skewness, s.MeanInterval.Low, s.P05, s.P50, s.P95, s.P05Interval.Low, s.P95Interval.High, s.CoverLow, s.ShortestHigh)
		if !(math.Abs(s.P50) < scale*0.1) || !(s.P95 > 0.7*scale) {
			t.Errorf("%g: median %g, p95 %g", scale, s.P50, s.P95)
		}
		c := classesOf(t, u[0], nil, d)
		all = append(all, everything(c, y)...)
		all = append(all, everything(classesOf(t, y, nil, d), u[0])...)
		for _, p := range pickFreeze(fn, 1, 2048, replicates).Indices(0)[0] {
			index(p.First)
			index(p.Total)
		}
		for _, e := range screened(fn, 1, 256, replicates).Results(0)[0] {
			index(e.MeanAbsolute)
			index(e.Total)
			all = append(all, e.Mean, e.SD)
		}
		for _, e := range independently(fn).bySubsets(1, 2048, singles(2)).Effects(0)[0] {
			index(e)
		}
		for _, e := range independently(fn).byWalks(1, 2048, 16, singles(2), permutations(2, 1)).Effects(0)[0] {
			index(e)
		}
		for _, x := range [][][]float64{u, {y, u[1]}} {
			r, err := Regress(x, [][]float64{y}, d, 0)
			if err != nil {
				t.Fatal(err)
			}
			index(r.R2[0])
			index(r.SRC[0][0])
			index(r.SRRC[0][0])
		}
		regions, err := claim.NewRegions(y, d)
		if err != nil {
			t.Fatal(err)
		}
		holds := make([]float64, len(y))
		for i := range holds {
			holds[i] = math.Floor(2 * u[0][i])
		}
		r, err := regions.Of(holds, 0)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, r.HoldsP10, r.FailsP90, r.Distance.High, r.LowChance.High)
		if i := slices.IndexFunc(all, func(v float64) bool { return math.IsInf(v, 0) }); i >= 0 {
			t.Errorf("%g: figure %d of %v is infinite", scale, i, all)
		}
	}
}

// TestMeanAbsolutePerSD: the size of an effect in standard deviations of the output is as
// uncertain as both are. Of a linear function the effect has no error at all.
func TestMeanAbsolutePerSD(t *testing.T) { meanAbsolutePerSD(t, 100) }

func meanAbsolutePerSD(t *testing.T, trials int) {
	for _, fn := range []testFunction{linear("linear", 4, 4, 1.5, 0.5), exponential()} {
		for _, hypercubes := range []bool{true, false} {
			exact := screened(fn, 1<<40, 1<<18, replicates).Results(0)[0]
			hits := tally{}
			for trial := range trials {
				u, d := givenRows(uint64(7000+trial), 16*64, len(fn.first), hypercubes)
				s, err := estimate.Describe(values(fn.f, u), d, estimate.Options{}, nil)
				if err != nil {
					t.Fatal(err)
				}
				sd := math.Sqrt(fn.variance(len(fn.first)))
				for i, e := range screened(fn, uint64(trial), 256, replicates).Results(0)[0] {
					got := e.MeanAbsolute.Per(s.SD, s.SDInterval)
					hits.add("x"+string(rune('1'+i)), got.Interval, exact[i].MeanAbsolute.Estimate/sd)
				}
			}
			t.Logf("%s, hypercubes %v", fn.name, hypercubes)
			hits.check(t, trials)
		}
	}
}

// exponential is the product of exp of two uniforms.
func exponential() testFunction {
	square := (math.E - 1) * (math.E - 1)
	v := (math.E*math.E-1)/2 - square
	return testFunction{
		name: "exponential", f: func(u []float64) float64 { return portable.Exp(u[0] + u[1]) },
		closed: ofParts(map[uint32]float64{1: square * v, 2: square * v, 3: v * v}),
	}.withIndices(2)
}
