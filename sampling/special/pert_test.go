package special

import (
	"math"
	"testing"

	"proofmass/sampling/portable"
)

// TestBetaFunction: B(a, 6-a) in closed form. With d = a-3 it is
// (4-d^2)(1-d^2) pi d / (120 sin(pi d)), by the reflection formula (DLMF 5.5.3).
func TestBetaFunction(t *testing.T) {
	for _, a := range []float64{1.1, 1.5, 2.6, 3.2, 4.7} {
		d := a - 3
		want := (4 - d*d) * (1 - d*d) * math.Pi * d / math.Sin(math.Pi*d) / 120
		if got := NewPERTBeta(a, 6-a).norm; math.Abs(got/want-1) > 3e-15 {
			t.Errorf("B(%v, %v) = %v, want %v", a, 6-a, got, want)
		}
	}
	for a, want := range map[float64]float64{1: 1.0 / 5, 2: 1.0 / 20, 3: 1.0 / 30, 5: 1.0 / 5} { // (a-1)!(b-1)!/5!
		if got := NewPERTBeta(a, 6-a).norm; math.Abs(got/want-1) > 2e-15 {
			t.Errorf("B(%v, %v) = %v, want %v", a, 6-a, got, want)
		}
	}
}

// TestBetaBinomial: for whole shapes the chance is a binomial sum,
// I_x(a, b) = sum over j >= a of C(5,j) x^j (1-x)^(5-j) for a+b = 6
// (DLMF 8.17.5).
func TestBetaBinomial(t *testing.T) {
	choose := []float64{1, 5, 10, 10, 5, 1}
	for a := 1; a <= 5; a++ {
		d := NewPERTBeta(float64(a), float64(6-a))
		for x := 1.0 / 1024; x < 1; x += 1.0 / 1024 { // 1-x is exact
			want := 0.0
			for j := 5; j >= a; j-- {
				want += choose[j] * math.Pow(x, float64(j)) * math.Pow(1-x, float64(5-j))
			}
			if got := d.Chance(x, 1-x); math.Abs(got/want-1) > 2e-14 {
				t.Fatalf("I_%v(%d, %d) = %v, want %v", x, a, 6-a, got, want)
			}
		}
	}
}

// TestBetaTable: the table agrees with the exact quantile within 1e-12 of the
// distance to the nearer end, at scores between its nodes and in both tails.
func TestBetaTable(t *testing.T) {
	worst := 0.0
	for _, a := range []float64{1, 1.0001, 1.4, 2, 2.6, 3, 4.6, 5} {
		d := NewPERTBeta(a, 6-a)
		table := NewPERTTable(d)
		for z := -8.4999; z < 0; z += 0.0137 {
			got, want := table.At(z), d.Quantile(portable.NormalCDF(z))
			worst = max(worst, math.Abs(got/want-1))
			if !(math.Abs(got/want-1) <= 1e-12) {
				t.Fatalf("shapes %v and %v: quantile at score %v is %v, want %v", a, 6-a, z, got, want)
			}
		}
	}
	t.Logf("worst relative error %.1e", worst)
}
