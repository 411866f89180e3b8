package sensitivity

import (
	"math"
	"reflect"
	"testing"
)

// f = x1 + 10 x2 + x1 x3 by hand, medians (2, 3, 4): every bar is its own slope
// times the distance of the ends.
func TestTornado(t *testing.T) {
	median, low, high := []float64{2, 3, 4}, []float64{1, 2.5, 0}, []float64{3, 3.5, 10}
	points := TornadoPoints(median, low, high)
	want := [][]float64{
		{2, 1, 3, 2, 2, 2, 2},
		{3, 3, 3, 2.5, 3.5, 3, 3},
		{4, 4, 4, 4, 4, 0, 10},
	}
	if !reflect.DeepEqual(points, want) {
		t.Fatalf("points %v, want %v", points, want)
	}
	y := values(func(x []float64) float64 { return x[0] + 10*x[1] + x[0]*x[2] }, points)
	constant := make([]float64, len(y))
	swings := ReadTornado(low, high, [][]float64{y, constant})
	got := []Swing{}
	got = append(got, swings[:3]...)
	if want := []Swing{
		{Input: 0, InputLow: 1, InputHigh: 3, AtLow: 35, AtHigh: 45, Swing: 10},
		{Input: 1, InputLow: 2.5, InputHigh: 3.5, AtLow: 35, AtHigh: 45, Swing: 10},
		{Input: 2, InputLow: 0, InputHigh: 10, AtLow: 32, AtHigh: 52, Swing: 20},
	}; !reflect.DeepEqual(got, want) {
		t.Errorf("swings %v, want %v", got, want)
	}
	if s := swings[5]; s.Input != 2 || s.Output != 1 || s.Swing != 0 {
		t.Errorf("constant output: %v", s)
	}
}

func TestSortSwings(t *testing.T) {
	nan := math.NaN()
	s := []Swing{
		{Output: 1, Input: 0, Swing: 99},
		{Output: 0, Input: 0, Swing: nan},
		{Output: 0, Input: 1, Swing: 2},
		{Output: 0, Input: 2, Swing: -3},
		{Output: 0, Input: 3, Swing: -2},
	}
	SortSwings(s)
	var order []int
	for _, x := range s {
		order = append(order, 10*x.Output+x.Input)
	}
	if want := []int{2, 1, 3, 0, 10}; !reflect.DeepEqual(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
}

func TestTornadoWithoutInputs(t *testing.T) {
	if p := TornadoPoints(nil, nil, nil); len(p) != 0 {
		t.Errorf("points %v", p)
	}
	if s := ReadTornado(nil, nil, [][]float64{{1}}); len(s) != 0 {
		t.Errorf("swings %v", s)
	}
}
