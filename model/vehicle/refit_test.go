package vehicle

import (
	"math"
	"slices"
	"testing"
)

// fitted are the losses that the fit moves, with what was believed of each before it
// (judgement) and whether its logarithm is what is normal.
var fitted = []struct {
	name     string
	mean, sd float64
	log      bool
}{
	{"gear_efficiency", 0.97, 0.01, false},
	{"torque_loss_factor", 0.12, 0.6, true},
	{"idle_loss_per_mass", 0.10, 0.6, true},
	{"spin_loss_per_mass", 0.005, 0.005, false},
	{"regen_share", 0.88, 0.05, false},
	{"auxiliary_power", 250, 80, false},
	{"recharge_efficiency", 0.88, 0.025, false},
	{"all_wheel_drive_extra", 0.4, 0.3, false},
}

// prior are the beliefs before the fit, as the fit counts (logarithms where log).
func prior() []float64 {
	theta := make([]float64, len(fitted))
	for k, f := range fitted {
		theta[k] = f.mean
		if f.log {
			theta[k] = math.Log(f.mean)
		}
	}
	return theta
}

// residuals are ln(filed/predicted) of city and highway.
func residuals(t *testing.T, cars []record, theta []float64) [][2]float64 {
	t.Helper()
	middle := central(t)
	found := predict(t, cars, func(column []float64, name string) {
		middle(column, name)
		for k, f := range fitted {
			if f.name == name {
				x := theta[k]
				if f.log {
					x = math.Exp(x)
				}
				for i := range column {
					column[i] = x
				}
			}
		}
	}, acCity, acHighway)
	r := make([][2]float64, len(cars))
	for i, c := range cars {
		r[i] = [2]float64{math.Log(c.city / found[acCity][i]), math.Log(c.hwy / found[acHighway][i])}
	}
	return r
}

// refit finds the most probable losses and the inverse of their covariance, by
// Gauss-Newton from start, for residuals with the covariance c, to a thousandth of the
// spread before the fit.
func refit(t *testing.T, cars []record, c [2][2]float64, start []float64) (theta []float64, information [][]float64) {
	t.Helper()
	det := c[0][0]*c[1][1] - c[0][1]*c[1][0]
	w := [2][2]float64{{c[1][1] / det, -c[0][1] / det}, {-c[1][0] / det, c[0][0] / det}}
	theta = slices.Clone(start)
	p := prior()
	n := len(theta)
	for range 12 {
		r := residuals(t, cars, theta)
		slope := make([][][2]float64, n)
		for k := range theta {
			step := 1e-4 * fitted[k].sd
			moved := slices.Clone(theta)
			moved[k] += step
			slope[k] = residuals(t, cars, moved)
			for i := range slope[k] {
				for j := range 2 {
					slope[k][i][j] = (slope[k][i][j] - r[i][j]) / step
				}
			}
		}
		information = make([][]float64, n)
		right := make([]float64, n)
		for a := range n {
			information[a] = make([]float64, n)
			information[a][a] = 1 / (fitted[a].sd * fitted[a].sd)
			right[a] = (p[a] - theta[a]) / (fitted[a].sd * fitted[a].sd)
			for i := range cars {
				for j := range 2 {
					for l := range 2 {
						right[a] -= slope[a][i][j] * w[j][l] * r[i][l]
						for b := range n {
							information[a][b] += slope[a][i][j] * w[j][l] * slope[b][i][l]
						}
					}
				}
			}
		}
		step := solve(information, right)
		largest := 0.0
		for k := range theta {
			theta[k] += step[k]
			largest = max(largest, math.Abs(step[k])/fitted[k].sd)
		}
		if largest < 1e-3 {
			break
		}
	}
	return theta, information
}

// solve solves a x = b by elimination with pivots; a and b are kept.
func solve(a [][]float64, b []float64) []float64 {
	n := len(b)
	m := make([][]float64, n)
	for i := range m {
		m[i] = append(slices.Clone(a[i]), b[i])
	}
	for i := range n {
		p := i
		for k := i + 1; k < n; k++ {
			if math.Abs(m[k][i]) > math.Abs(m[p][i]) {
				p = k
			}
		}
		m[i], m[p] = m[p], m[i]
		for k := i + 1; k < n; k++ {
			f := m[k][i] / m[i][i]
			for j := i; j <= n; j++ {
				m[k][j] -= f * m[i][j]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for j := i + 1; j < n; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return x
}

// fitCovariance is the covariance of the residuals that the fit was made with: standard
// deviations 0.076 and 0.048, correlation 0.7.
var fitCovariance = [2][2]float64{{.076 * .076, .7 * .076 * .048}, {.7 * .076 * .048, .048 * .048}}

// TestFit makes the catalogue's losses and their correlations anew from the 60 cars: the
// most probable ones and, near them, a normal distribution.
func TestFit(t *testing.T) {
	theta, information := refit(t, readCars(t, "bev_roadload.csv"), fitCovariance, prior())
	n := len(theta)
	covariance := make([][]float64, n)
	for k := range n {
		e := make([]float64, n)
		e[k] = 1
		covariance[k] = solve(information, e)
	}
	for k, f := range fitted {
		x, sd, text := theta[k], math.Sqrt(covariance[k][k]), fallbackOf(t, f.name)
		want, wantSD := text.mean, text.sd
		if f.log {
			x, want, wantSD = math.Exp(x), text.median, math.Log(text.factor)
		}
		t.Logf("%-22s %.5g, standard deviation %.3g", f.name, x, sd)
		near(t, f.name, x, want, 0.004) // as rounded in the catalogue
		near(t, "spread of "+f.name, sd, wantSD, 0.015)
		for j := range k {
			r := covariance[k][j] / math.Sqrt(covariance[k][k]*covariance[j][j])
			if want := lossCorrelation[j][k]; math.Abs(r-want) > 0.0051 {
				t.Errorf("correlation of %s and %s: %.4f, want %.2f", f.name, fitted[j].name, r, want)
			}
		}
		if f.name != tiedLosses[k] {
			t.Errorf("%s stands in the place of %s", f.name, tiedLosses[k])
		}
	}
}

// TestLossPull: what a normal score of each loss does to the energy that the battery
// gives.
func TestLossPull(t *testing.T) {
	const step = 0.1
	cars := readCars(t, "bev_roadload.csv")
	for k, name := range tiedLosses {
		mean := 0.0
		for _, side := range []float64{1, -1} {
			middle := central(t)
			found := predict(t, cars, func(column []float64, n string) {
				middle(column, n)
				if n == name {
					m := fallbackOf(t, n)
					for i := range column {
						column[i] = m.of(side * step)
					}
				}
			}, "car.udds_total", "car.hwfet_total")
			for i := range cars {
				mean += side * (cityWeight*math.Log(found["car.udds_total"][i]) + highwayWeight*math.Log(found["car.hwfet_total"][i])) / float64(len(cars))
			}
		}
		if got := mean / (2 * step); math.Abs(got-lossPull[k]) > 0.0002 {
			t.Errorf("%s: %.4f, declared %.4f", name, got, lossPull[k])
		}
	}
}
