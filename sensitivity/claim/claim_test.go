package claim

import (
	"math"
	"slices"
	"strings"
	"testing"

	"proofmass/sensitivity/estimate"
)

var nan = math.NaN()

func TestChance(t *testing.T) {
	// 100 rows by hand: 60 hold, 30 fail, 10 are infeasible.
	holds := slices.Concat(slices.Repeat([]float64{1}, 60), slices.Repeat([]float64{0}, 30), slices.Repeat([]float64{nan}, 10))
	margin := make([]float64, 100)
	for i := range margin {
		margin[i] = float64(60 - i)
		if holds[i] != holds[i] {
			margin[i] = nan
		}
	}
	v, err := Chance(holds, margin, estimate.Rows{Independent: true}, estimate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if v.Held != 60 || v.Failed != 30 || v.Infeasible != 10 || v.Rows != 100 || v.Chance != 0.6 {
		t.Errorf("got %+v", v)
	}
	// The margins are 60, 59 ... -29: type 7 of 90 rows, h = 89 p from the lowest.
	if math.Abs(v.MarginP05-(-24.55)) > 1e-12 || v.MarginP50 != 15.5 || math.Abs(v.MarginP95-55.55) > 1e-12 {
		t.Errorf("margins %g %g %g", v.MarginP05, v.MarginP50, v.MarginP95)
	}
	// Wilson of 60 of 100: (0.6 + z^2/200 -+ z sqrt(0.24/100 + z^2/40000)) / (1 + z^2/100).
	const z = 1.959963984540054
	half := z * math.Sqrt(0.24/100+z*z/40000) / (1 + z*z/100)
	middle := (0.6 + z*z/200) / (1 + z*z/100)
	if v.Method != estimate.MethodWilson || math.Abs(v.Interval.Low-(middle-half)) > 1e-14 || math.Abs(v.Interval.High-(middle+half)) > 1e-14 {
		t.Errorf("%s interval %v", v.Method, v.Interval)
	}
}

func TestChanceEdges(t *testing.T) {
	bounds := make([]int, 17)
	for r := range bounds {
		bounds[r] = 64 * r
	}
	replicated := estimate.Rows{Bounds: bounds}
	for _, c := range []struct {
		name   string
		holds  float64
		chance float64
		method string
	}{
		{"never holds", 0, 0, estimate.MethodClopperPearson},
		{"always holds", 1, 1, estimate.MethodClopperPearson},
		{"never feasible", nan, 0, estimate.MethodClopperPearson},
	} {
		v, err := Chance(slices.Repeat([]float64{c.holds}, 1024), nil, replicated, estimate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if v.Chance != c.chance || v.Method != c.method || !math.IsNaN(v.MarginP50) || v.Held+v.Failed+v.Infeasible != v.Rows {
			t.Errorf("%s: got %+v", c.name, v)
		}
		if c.chance == 0 && (v.Interval.Low != 0 || v.Interval.High > 0.004) || c.chance == 1 && v.Interval.High != 1 {
			t.Errorf("%s: interval %v", c.name, v.Interval)
		}
	}
	v, err := Chance(nil, nil, estimate.Rows{Independent: true}, estimate.Options{})
	if err != nil || v.Rows != 0 || !math.IsNaN(v.Chance) || v.Method != estimate.MethodNone {
		t.Errorf("no rows: %+v, %v", v, err)
	}
}

func TestChanceRefuses(t *testing.T) {
	independent := estimate.Rows{Independent: true}
	for _, c := range []struct {
		want          string
		holds, margin []float64
		d             estimate.Rows
	}{
		{"row 2 is 0.5", []float64{1, 0, 0.5}, nil, independent},
		{"row 0 is +Inf", []float64{math.Inf(1)}, nil, independent},
		{"1 margins for 2 rows", []float64{1, 0}, []float64{3}, independent},
		{"margin: estimate: row 1 is -Inf", []float64{1, 0}, []float64{3, math.Inf(-1)}, independent},
		{"must run from 0 to the 2 rows", []float64{1, 0}, nil, estimate.Rows{Bounds: []int{0, 1}}},
	} {
		_, err := Chance(c.holds, c.margin, c.d, estimate.Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got error %v, want one with %q", err, c.want)
		}
	}
}
