package unit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// plainly is FromSI as its comment has it, number by number.
func plainly(u Unit, x float64) float64 {
	y := float64(x*u.den) / u.num
	if z, ok := written(y); ok && u.DeltaToSI(z) == x {
		y = z
	}
	y -= u.offset
	if z, ok := written(y); ok && u.ToSI(z) == x {
		return z
	}
	return y
}

// TestFillIsFromSI: numbers that someone wrote, with up to twelve digits, numbers beside them
// and numbers that nobody wrote come back alike one by one and in columns.
func TestFillIsFromSI(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 52))
	var x []float64
	for _, name := range []string{"1", "%", "km", "Wh/km", "mohm", "kWh", "degC", "g", "mm", "km/h", "kg", "W/kg", "degF", "h"} {
		u, err := Parse(name)
		if err != nil {
			t.Fatal(err)
		}
		x = append(x[:0], 0, math.Copysign(0, -1), math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, math.SmallestNonzeroFloat64)
		for range 20_000 {
			scale := math.Pow(10, float64(r.IntN(16)-4))
			y := math.Round((r.Float64()-0.3)*1e5) / scale
			v := u.ToSI(y)
			for range r.IntN(3) {
				v = math.Nextafter(v, math.Inf(1-2*r.IntN(2)))
			}
			x = append(x, v, u.ToSI(r.NormFloat64()*scale), u.ToSI(math.Round(y*1e9)/1e9+0.5e-9))
		}
		got := make([]float64, len(x))
		u.Fill(got, x)
		for i, v := range x {
			want := math.Float64bits(plainly(u, v))
			if math.Float64bits(got[i]) != want || math.Float64bits(u.FromSI(v)) != want {
				t.Fatalf("%s: %.17g SI is %.17g in a column, %.17g alone, want %.17g", name, v, got[i], u.FromSI(v), math.Float64frombits(want))
			}
		}
	}
}
