package claim

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"proofmass/sensitivity/estimate"
)

// references reads the value of each "parameters quantity" of one function from a file
// made by testdata/sensitivity/reference.py.
func references(t *testing.T, file, function string) map[string]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/sensitivity/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]float64{}
	for _, row := range rows {
		if row[0] != function {
			continue
		}
		if all[row[1]+" "+row[2]], err = strconv.ParseFloat(row[3], 64); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// repeated is column j of estimates.csv, as described in reference.py.
func repeated(j int) []float64 {
	const rows = 1440
	u, s := make([]float64, rows), uint64(j+1)
	for k := range rows + 10 {
		s = 6364136223846793005*s + 1442695040888963407
		if k >= 10 {
			u[k-10] = (float64(s>>11) + 0.5) / (1 << 53)
		}
	}
	return u
}

var independent = estimate.Rows{Independent: true}

func region(t *testing.T, x, weight, holds []float64, d estimate.Rows) Region {
	t.Helper()
	s, err := NewRegions(x, d.Weighted(weight))
	if err != nil {
		t.Fatal(err)
	}
	g, err := s.Of(holds, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Distances, percentiles and chances against scipy and numpy on the same columns.
func TestRegionsOfColumns(t *testing.T) {
	want := references(t, "estimates.csv", "x1+2x2^2+3x1x3")
	x := [4][]float64{repeated(0), repeated(1), repeated(2), repeated(3)}
	holds := make([]float64, 1440)
	for k := range holds {
		if x[0][k]+2*float64(x[1][k]*x[1][k])+3*float64(x[0][k]*x[2][k]) <= 1.5 {
			holds[k] = 1
		}
	}
	for i := range x {
		g := region(t, x[i], nil, holds, independent)
		for quantity, got := range map[string]float64{
			"held": float64(g.Held), "KS": g.Distance.Estimate,
			"holds P10": g.HoldsP10, "holds P50": g.HoldsP50, "holds P90": g.HoldsP90,
			"fails P10": g.FailsP10, "fails P50": g.FailsP50, "fails P90": g.FailsP90,
			"chance lowest": g.LowChance.Estimate, "chance highest": g.HighChance.Estimate,
		} {
			w, ok := want["x"+strconv.Itoa(i+1)+" claim y<=1.5 "+quantity]
			if !ok || math.Abs(got-w) > 1e-12*max(1, w) {
				t.Errorf("x%d %s: %.17g, want %.17g", i+1, quantity, got, w)
			}
		}
		// x1 to x3 raise the output, so they are lower where it is below a limit; x4
		// does nothing (a false alarm has the chance 0.05 at this fixed seed).
		if want := []int{-1, -1, -1, 0}[i]; g.Shift != want {
			t.Errorf("x%d: shift %d, want %d: %+v", i+1, g.Shift, want, g.Distance)
		}
	}
}

// By hand: x is 1 to 200, rows up to 120 hold. The gap is 1 at 120.
func TestRegionsByHand(t *testing.T) {
	x, holds := make([]float64, 200), make([]float64, 200)
	for i := range x {
		x[i] = float64(200 - i) // falling
		if x[i] <= 120 {
			holds[i] = 1
		}
	}
	g := region(t, x, nil, holds, independent)
	if g.Held != 120 || g.Failed != 80 || g.Distance.Estimate != 1 || g.Distance.High != 1 || g.Shift != -1 {
		t.Errorf("got %+v", g)
	}
	// Type 7 of 1..120 and of 121..200.
	for _, c := range [][2]float64{{g.HoldsP10, 12.9}, {g.HoldsP50, 60.5}, {g.HoldsP90, 108.1}, {g.FailsP10, 128.9}, {g.FailsP50, 160.5}, {g.FailsP90, 192.1}} {
		if math.Abs(c[0]-c[1]) > 1e-12 {
			t.Errorf("percentile %g, want %g", c[0], c[1])
		}
	}
	// Kolmogorov's 5 % point is 1.3581.
	if low := 1 - 1.3581*math.Sqrt(1.0/120+1.0/80); math.Abs(g.Distance.Low-low) > 1e-5 {
		t.Errorf("low end %g, want %g", g.Distance.Low, low)
	}
	if g.LowChance.Estimate != 1 || g.HighChance.Estimate != 0 || g.LowChance.High != 1 || g.HighChance.Low != 0 {
		t.Errorf("ends %+v %+v", g.LowChance, g.HighChance)
	}
	// A claim that both ends break has a distance and no shift.
	for i := range x {
		holds[i] = 0
		if x[i] > 60 && x[i] <= 140 {
			holds[i] = 1
		}
	}
	if g := region(t, x, nil, holds, independent); g.Shift != 0 || g.Distance.Low < 0.2 {
		t.Errorf("both ends: shift %d, distance %+v", g.Shift, g.Distance)
	}
}

// Whole weights count as rows that stand there as often, but for intervals and for the
// percentiles, that lie between rows; equal weights are as none, whatever their unit.
func TestRegionsWeights(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	var x, w, holds, manyX, manyHolds []float64
	for range 400 {
		v, h, k := math.Floor(20*random.Float64()), 0.0, random.IntN(4)
		if random.Float64() < 0.2+v/40 {
			h = 1
		}
		x, w, holds = append(x, v), append(w, float64(k)), append(holds, h)
		for range k {
			manyX, manyHolds = append(manyX, v), append(manyHolds, h)
		}
	}
	one, all := region(t, x, w, holds, independent), region(t, manyX, nil, manyHolds, independent)
	for _, c := range [][2]float64{
		{one.Distance.Estimate, all.Distance.Estimate}, {one.LowChance.Estimate, all.LowChance.Estimate},
		{one.HighChance.Estimate, all.HighChance.Estimate},
	} {
		if math.Abs(c[0]-c[1]) > 1e-12 {
			t.Errorf("weighted %g, repeated %g", c[0], c[1])
		}
	}
	if !(one.Floor > all.Floor) {
		t.Errorf("floor %g, want above %g: unequal weights tell less", one.Floor, all.Floor)
	}
	plain := region(t, x, nil, holds, independent)
	got := region(t, x, slices.Repeat([]float64{0.5}, 400), holds, independent)
	if math.Abs(got.Distance.Low-plain.Distance.Low) > 1e-12 || math.Abs(got.Floor-plain.Floor) > 1e-12 {
		t.Errorf("equal weights: %+v, want %+v", got, plain)
	}
	got.Distance.Low, got.Floor = plain.Distance.Low, plain.Floor
	if got != plain {
		t.Errorf("equal weights: %+v, want %+v", got, plain)
	}
}

// Rows 1, 2 and 4 of weights 1, 3 and 2: steps of 2 and of 2.5 in weight, so that the
// median, 2.25 from the lowest, is a tenth of the way from 2 to 4.
func TestRegionsWeightedPercentiles(t *testing.T) {
	s, err := NewRegions([]float64{4, 1, 9, 2}, independent.Weighted([]float64{2, 1, 0, 3}))
	if err != nil {
		t.Fatal(err)
	}
	p10, p50, p90 := s.percentiles([]float64{1, 1, 1, 1}, 1)
	if math.Abs(p10-1.225) > 1e-15 || math.Abs(p50-2.2) > 1e-15 || math.Abs(p90-3.64) > 1e-15 {
		t.Errorf("percentiles %.17g %.17g %.17g, want 1.225 2.2 3.64", p10, p50, p90)
	}
}

// Ties are never split: a two-valued input has its two chances at its ends.
func TestRegionsDiscrete(t *testing.T) {
	var x, holds []float64
	for i := range 400 {
		x = append(x, float64(i%2))
		holds = append(holds, float64(i%4/3)) // half of the rows with x = 1
	}
	g := region(t, x, nil, holds, independent)
	if g.LowChance.Estimate != 0 || g.HighChance.Estimate != 0.5 || math.Abs(g.Distance.Estimate-2.0/3) > 1e-15 || g.Shift != 1 {
		t.Errorf("got %+v", g)
	}
	if g := region(t, slices.Repeat([]float64{3}, 400), nil, holds, independent); g.Distance.Estimate != 0 || g.Shift != 0 || g.HighChance.Estimate != 0.25 {
		t.Errorf("constant input: %+v", g)
	}
}

func TestRegionsFewAndInfeasible(t *testing.T) {
	x, holds := make([]float64, 200), make([]float64, 200)
	for i := range x {
		x[i] = float64(i)
		holds[i] = float64(i % 2)
	}
	for i := range 51 {
		holds[2*i] = nan // 49 fail
	}
	g := region(t, x, nil, holds, independent)
	if g.Held != 100 || g.Failed != 49 || !math.IsNaN(g.Distance.Estimate) || !math.IsNaN(g.HoldsP50) || !math.IsNaN(g.LowChance.Low) || g.Shift != 0 {
		t.Errorf("49 fail: %+v", g)
	}
	holds[0] = 0
	g = region(t, x, nil, holds, independent)
	// Of rows 0 to 9 the five odd ones hold; four are infeasible and do not.
	if g.Failed != 50 || math.IsNaN(g.Distance.High) || g.LowChance.Estimate != 0.5 {
		t.Errorf("50 fail: %+v", g)
	}
	x[1], x[2] = nan, nan
	if g := region(t, x, nil, holds, independent); g.Held != 99 {
		t.Errorf("%d hold, want 99", g.Held)
	}
	if g := region(t, nil, nil, nil, independent); g.Held != 0 || !math.IsNaN(g.Floor) {
		t.Errorf("no rows: %+v", g)
	}
}

func TestRegionsRefuse(t *testing.T) {
	for _, c := range []struct {
		want             string
		x, weight, holds []float64
		d                estimate.Rows
	}{
		{"row 1 is +Inf", []float64{1, math.Inf(1)}, nil, nil, independent},
		{"1 weights for 2 rows", []float64{1, 2}, []float64{1}, nil, independent},
		{"weight of row 0 is -1", []float64{1, 2}, []float64{-1, 2}, nil, independent},
		{"weight of row 1 is NaN", []float64{1, 2}, []float64{1, nan}, nil, independent},
		{"must run from 0 to the 2 rows", []float64{1, 2}, nil, nil, estimate.Rows{Bounds: []int{0, 1}}},
		{"1 rows of a claim for 2", []float64{1, 2}, nil, []float64{1}, independent},
		{"row 1 is 0.5", []float64{1, 2}, nil, []float64{1, 0.5}, independent},
	} {
		s, err := NewRegions(c.x, c.d.Weighted(c.weight))
		if err == nil {
			_, err = s.Of(c.holds, 0)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got error %v, want one with %q", err, c.want)
		}
	}
	s, _ := NewRegions([]float64{1}, independent)
	if _, err := s.Of([]float64{1}, 1.5); err == nil || !strings.Contains(err.Error(), "level 1.5") {
		t.Errorf("level: %v", err)
	}
}

func BenchmarkRegions(b *testing.B) {
	x, holds, d := normalClaim(1, 1<<16, 0.5, 0, true)
	b.Run("step=sort", func(b *testing.B) {
		for b.Loop() {
			NewRegions(x, d)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N<<16), "ns/row")
	})
	s, _ := NewRegions(x, d)
	b.Run("step=claim", func(b *testing.B) {
		for b.Loop() {
			s.Of(holds, 0.95)
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N<<16), "ns/row")
	})
}
