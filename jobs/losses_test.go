package jobs_test

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/inspect"
	"proofmass/jobs/plan"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// An invented car of which all but losses and the model's error is constant.
const oneCar = `format: 1
study: losses
model: vehicle
indices: none
vehicles:
  car: {test_mass: 2100 kg, drag_coefficient: 0.25, frontal_area: 2.4 m2, rolling_coefficient: 0.009, all_wheel_drive: no}
outputs: {city: {formula: car.udds_ac_consumption}, highway: {formula: car.hwfet_ac_consumption}}
`

// Losses as a study may state them. The correlations tied by hand are the catalogue's.
const (
	constantLosses = `inputs:
  gear_efficiency: 0.971
  torque_loss_factor: 0.101 s
  idle_loss_per_mass: 0.122 W/kg
  spin_loss_per_mass: 0.0074 N/kg
  regen_share: 0.923
  auxiliary_power: 199 W
  recharge_efficiency: 0.862
`
	freeLosses = `inputs:
  gear_efficiency: {normal: {mean: 0.971, sd: 0.0095}, max: 0.995}
  torque_loss_factor: {lognormal: {median: 0.101 s, factor: 1.768267}}
  idle_loss_per_mass: {lognormal: {median: 0.122 W/kg, factor: 1.433329}}
  spin_loss_per_mass: {normal: {mean: 0.0074 N/kg, sd: 0.0039 N/kg}, min: 0 N/kg}
  regen_share: {normal: {mean: 0.923, sd: 0.039}, max: 1}
  auxiliary_power: {normal: {mean: 199 W, sd: 71 W}, min: 50 W}
  recharge_efficiency: {normal: {mean: 0.862, sd: 0.0155}}
`
	tiedByHand = freeLosses + `together:
  - inputs: [gear_efficiency, torque_loss_factor, idle_loss_per_mass, spin_loss_per_mass, regen_share, auxiliary_power, recharge_efficiency]
    matrix:
      - [1, 0.05, 0.17, 0.15, -0.14, 0.10, -0.29]
      - [0.05, 1, -0.20, 0.08, 0.24, -0.13, -0.11]
      - [0.17, -0.20, 1, -0.13, 0.56, -0.19, 0.07]
      - [0.15, 0.08, -0.13, 1, -0.05, -0.07, 0.77]
      - [-0.14, 0.24, 0.56, -0.05, 1, 0.32, 0.23]
      - [0.10, -0.13, -0.19, -0.07, 0.32, 1, 0.04]
      - [-0.29, -0.11, 0.07, 0.77, 0.23, 0.04, 1]
`
)

// TestRangeDoesNotDependOnHowLossesAreStated: the 90 % range of a figure of consumption is
// the same within a twentieth with default losses, constant ones, one of them a little
// uncertain, and all of them tied by hand. 8192 rows know its width to about 1 %.
func TestRangeDoesNotDependOnHowLossesAreStated(t *testing.T) {
	width := func(losses string) (city, highway float64) {
		o := quick(t, 8192)
		mustRun(t, write(t, oneCar+losses), o)
		summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
		if err != nil {
			t.Fatal(err)
		}
		of := func(output string) float64 {
			row := rowOf(t, summary, "output", output)
			return math.Log(cell(summary, "p95", row) / cell(summary, "p05", row))
		}
		return of("city"), of("highway")
	}
	city, highway := width("")
	for _, x := range []struct{ name, losses string }{
		{"constant", constantLosses},
		{"one a little uncertain", strings.Replace(constantLosses, "0.971", "{normal: {mean: 0.971, sd: 0.0001}}", 1)},
		{"tied by hand", tiedByHand},
	} {
		c, h := width(x.losses)
		t.Logf("%s: city x/ %.4f, default %.4f; highway x/ %.4f, default %.4f", x.name, math.Exp(c/2), math.Exp(city/2), math.Exp(h/2), math.Exp(highway/2))
		if math.Abs(c/city-1) > 0.05 || math.Abs(h/highway-1) > 0.05 {
			t.Errorf("%s: the range is %.3f (city) and %.3f (highway) of that with default losses", x.name, c/city, h/highway)
		}
	}
}

func planned(t *testing.T, text string) *plan.Plan {
	t.Helper()
	s, err := study.Read(write(t, text), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestTiedDefaultsAreOneFactor: without a word, without Shapley effects, less what the
// study states.
func TestTiedDefaultsAreOneFactor(t *testing.T) {
	car := strings.Replace(oneCar, "indices: none\n", "", 1)
	for _, x := range []struct {
		name, more string
		inputs     int
		factors    string
	}{
		{"all", "", 8, "losses"},
		{"less one", "inputs: {gear_efficiency: {between: [0.96, 0.98]}}\n", 7, "losses"},
		{"less all but one", constantLosses, 0, "all_wheel_drive_extra"},
	} {
		p := planned(t, car+x.more)
		i := slices.IndexFunc(p.Factors, func(f plan.Factor) bool { return f.Name == "losses" })
		if i < 0 != (x.inputs == 0) || i >= 0 && len(p.Factors[i].Inputs) != x.inputs {
			t.Errorf("%s: factor %d of %+v, want %d inputs", x.name, i, p.Factors, x.inputs)
		}
		if !slices.ContainsFunc(p.Factors, func(f plan.Factor) bool { return f.Name == x.factors }) {
			t.Errorf("%s: no factor %s", x.name, x.factors)
		}
		if len(p.Index.Players) > 0 || len(p.Together()) > 0 {
			t.Errorf("%s: players %v, warnings %q", x.name, p.Index.Players, p.Together())
		}
	}
	p := planned(t, car+"inputs: {air_pressure: {between: [97 kPa, 99 kPa]}, usable_share: {between: [0.9, 0.95]}}\ntogether: [{inputs: [air_pressure, usable_share], spearman: 0.4}]\n")
	for _, f := range p.Index.Players {
		if len(f.Inputs) == 1 && p.Drawn[f.Inputs[0]].Default {
			t.Errorf("the study's own tie makes a player of the default %s", f.Name)
		}
	}
}

// TestStatedLossesOfGreatDoubtAreTold: free of their tie the same losses cause three times
// the doubt, and `check` says so; nothing is said where they do not.
func TestStatedLossesOfGreatDoubtAreTold(t *testing.T) {
	for _, x := range []struct {
		name, losses string
		told         bool
	}{{"default", "", false}, {"constant", constantLosses, false}, {"tied by hand", tiedByHand, false}, {"free", freeLosses, true}} {
		f, err := inspect.Check(write(t, oneCar+x.losses), study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		told := slices.ContainsFunc(f.Odd, func(s string) bool { return strings.Contains(s, "losses") && strings.Contains(s, "tied") })
		if told != x.told {
			t.Errorf("%s: %q", x.name, f.Odd)
		}
	}
}
