package claim

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sampling/portable"
	"proofmass/sensitivity/estimate"
)

func TestRegionsCoverage(t *testing.T) { regionsCoverage(t, 60, 4096) }

// regionsCoverage draws Y = rho X + sqrt(1-rho^2) Z and the claim Y <= h, as 16 Latin
// hypercubes or as independent rows, and counts how often the interval of the distance
// holds its exact value (exact.csv, by quadrature). The limit is what a right 95 %
// interval falls below with the chance 1e-4. A shift of x where there is none may be
// told in 5 % of the trials, by the same limit.
func regionsCoverage(t *testing.T, trials, rows int) {
	exact := references(t, "exact.csv", "normal claim")
	for _, c := range []struct {
		parameters string
		rho, h     float64
	}{
		{"rho=0 h=0.5", 0, 0.5}, {"rho=0.05 h=0", 0.05, 0}, {"rho=0.1 h=0", 0.1, 0}, {"rho=0.3 h=0", 0.3, 0}, {"rho=0.5 h=0", 0.5, 0}, {"rho=0.8 h=0", 0.8, 0},
		{"rho=0.5 h=-1", 0.5, -1}, {"rho=0.8 h=-2", 0.8, -2}, {"rho=0.9 h=1", 0.9, 1},
	} {
		if portable.NormalCDF(c.h)*float64(rows) < 80 {
			continue // often fewer than 50 rows hold
		}
		want, ok := exact[c.parameters+" KS of x, holds and fails"]
		if !ok {
			t.Fatalf("no exact distance for %s", c.parameters)
		}
		for _, latin := range []bool{true, false} {
			hits, shifts, width := 0, 0, 0.0
			for trial := range trials {
				x, holds, d := normalClaim(uint64(trial), rows, c.rho, c.h, latin)
				g := region(t, x, nil, holds, d)
				if g.Distance.Low <= want && want <= g.Distance.High {
					hits++
				}
				if g.Shift != 0 {
					shifts++
				}
				width += (g.Distance.High - g.Distance.Low) / float64(trials)
			}
			t.Logf("%s latin=%v: %.4f hold %.4f, mean width %.3f, shift told in %.3f", c.parameters, latin,
				float64(hits)/float64(trials), want, width, float64(shifts)/float64(trials))
			if limit := lowerLimit(trials); hits < limit || c.rho == 0 && trials-shifts < limit {
				t.Errorf("%s: %d of %d intervals hold %g, want %d; %d shifts", c.parameters, hits, trials, want, limit, shifts)
			}
		}
	}
}

// An input that does nothing, with weights that draw it up or down: its interval holds 0,
// with the stronger pull in 92 % of 400 trials. The seeds are fixed.
func TestRegionsCoverageWeighted(t *testing.T) {
	const trials = 200
	for _, pull := range []float64{0.3, -0.8} {
		hits := 0
		for trial := range trials {
			x, holds, d := normalClaim(uint64(trial), 2048, 0, 0.5, false)
			weight := make([]float64, len(x))
			for i, v := range x {
				weight[i] = portable.Exp(pull * v)
			}
			if g := region(t, x, weight, holds, d); g.Distance.Low <= 0 {
				hits++
			}
		}
		t.Logf("pull %g: %.3f", pull, float64(hits)/trials)
		if limit := lowerLimit(trials); hits < limit {
			t.Errorf("pull %g: %d of %d intervals hold 0, want %d", pull, hits, trials, limit)
		}
	}
}

// lowerLimit is the least count of n trials that a chance of 0.95 would not fall below
// but with the chance 1e-4.
func lowerLimit(n int) int {
	chance, sum, misses := math.Pow(0.95, float64(n)), 0.0, 0
	for sum+chance < 1-1e-4 {
		sum += chance
		chance *= 0.05 / 0.95 * float64(n-misses) / float64(misses+1)
		misses++
	}
	return n - misses
}

func normalClaim(seed uint64, rows int, rho, h float64, latin bool) (x, holds []float64, d estimate.Rows) {
	random := rand.New(rand.NewPCG(seed, 13))
	u := [2][]float64{make([]float64, rows), make([]float64, rows)}
	for j := range u {
		for r := range 16 {
			part := u[j][r*rows/16 : (r+1)*rows/16]
			for i, stratum := range random.Perm(len(part)) {
				part[i] = random.Float64()
				if latin {
					part[i] = (float64(stratum) + part[i]) / float64(len(part))
				}
			}
		}
	}
	x, holds = make([]float64, rows), make([]float64, rows)
	for i := range x {
		x[i] = portable.NormalQuantile(u[0][i])
		if rho*x[i]+math.Sqrt(1-rho*rho)*portable.NormalQuantile(u[1][i]) <= h {
			holds[i] = 1
		}
	}
	if !latin {
		return x, holds, independent
	}
	for r := range 17 {
		d.Bounds = append(d.Bounds, r*rows/16)
	}
	return x, holds, d
}
