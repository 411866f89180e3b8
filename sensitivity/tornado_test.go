package sensitivity

import (
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
	if want := []float64{40, 35, 45, 35, 45, 32, 52}; !reflect.DeepEqual(y, want) {
		t.Errorf("outputs %v, want %v", y, want)
	}
	if p := TornadoPoints(nil, nil, nil); len(p) != 0 {
		t.Errorf("points without inputs: %v", p)
	}
}
