package jobs_test

import (
	"math"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// leversOf runs a study and gives the rows of its levers by vehicle, lever and output.
func leversOf(t *testing.T, text string, rows int) (map[string]result.LeverRow, []result.SummaryRow) {
	t.Helper()
	o := quick(t, rows)
	mustRun(t, write(t, text), o)
	named := map[string]result.LeverRow{}
	for _, r := range jobs.RowsOf(t, result.Levers.Read, o.Out) {
		named[r.Vehicle+" "+r.Lever+" "+r.Output] = r
	}
	return named, jobs.RowsOf(t, result.Summary.Read, o.Out)
}

// TestLeversAtASteadySpeed: first principles, 110 km/h: range with one unit less (energy:
// more) less range. A row is 1950 kg, rolling 0.0088, 0.59 m2, 1.19 kg/m3, battery to wheel
// 0.87, 330 W, 57 kWh, 6.4 kg of pack a kilowatt-hour.
func TestLeversAtASteadySpeed(t *testing.T) {
	rows, _ := leversOf(t, `
format: 1
study: levers-at-110
model: vehicle
inputs:
  {drag_area: 0.59 m2, rolling_coefficient: 0.0088, air_density: 1.19 kg/m3, outside_temperature: 20 degC, auxiliary_power: 330 W,
   gear_efficiency: 0.87, torque_loss: 0 W/(N m)2, spin_loss: 0 W s/rad, idle_loss: 0 W, pack_resistance: 0 mohm, all_wheel_drive: no}
vehicles:
  car: {kerb_mass: 1813.922289 kg, pack_mass: 364.8 kg, usable_energy: 57 kWh, model_error_city: 1, model_error_highway: 1}
claims: {far: {holds: car.steady_range_110 >= 300 km}}
indices: none
`, 512)
	for lever, want := range map[string]float64{"mass": 0.06031796837, "drag": 2.305387626, "rolling": 1.179928084,
		"drive_losses": 0.4512125575, "energy": 6.196665429, "energy_with_mass": 5.804353654} {
		r := rows["car "+lever+" car.steady_range_110"]
		if math.Abs(r.Mean-want) > 1e-8 || r.P05 != r.P95 || r.Unit != "km" {
			t.Errorf("%s: %.9f %s, want %.9f km", lever, r.Mean, r.Unit, want)
		}
	}
	if _, is := rows["car recharging car.steady_range_110"]; is {
		t.Error("what a lever leaves alone has a row")
	}
}

// TestALeverIsAVehicleMore: a unit does what a vehicle more does that differs by it alone,
// in the same draws, and leaves what counts from the vehicle as it is.
func TestALeverIsAVehicleMore(t *testing.T) {
	rows, summary := leversOf(t, `
format: 1
study: lever-or-vehicle
model: vehicle
vehicles:
  filed: {test_mass: 1814.4 kg, kerb_mass: {between: [1670 kg, 1690 kg]}, coastdown_f0: {normal: {mean: 138 N, sd: 4 N}}, coastdown_f1: 1.9 N s/m,
    coastdown_f2: 0.402 N s2/m2, usable_energy: {between: [61 kWh, 63 kWh]}, wltp_test_mass: 1870 kg, pack_mass: 401 kg}
  lighter: {based_on: filed, kerb_mass: {formula: filed.kerb_mass - 1 kg}}
  slippery: {based_on: filed, coastdown_f2: {formula: 0.99 * filed.coastdown_f2}}
  fuller: {based_on: filed, usable_energy: {formula: filed.usable_energy + 1 kWh}}
claims:
  label: {holds: filed.label_range >= 380 km}
  european: {holds: filed.wltc_range >= 380 km}
  gained: {holds: slippery.label_range_difference >= 1 km}
outputs:
  one: {formula: lighter.wltc_range - filed.wltc_range, unit: km}
  two: {formula: slippery.wltc_range - filed.wltc_range, unit: km}
  three: {formula: fuller.wltc_range - filed.wltc_range, unit: km}
indices: none
`, 4096)
	means := map[string]float64{}
	for _, r := range summary {
		means[r.Output] = r.Mean
	}
	for _, x := range []struct{ lever, vehicle, output string }{{"mass", "lighter", "one"}, {"drag", "slippery", "two"}, {"energy", "fuller", "three"}} {
		r := rows["filed "+x.lever+" filed.wltc_range"]
		if want := means[x.output]; math.Abs(r.Mean-want) > 1e-9*math.Abs(want) || !(r.P05 < r.P95) {
			t.Errorf("%s: %.9g km of WLTC range, a vehicle more gives %.9g", x.lever, r.Mean, want)
		}
		r = rows["filed "+x.lever+" filed.label_range"]
		if !(r.Mean > 0 && r.MeanLow <= r.Mean && r.Mean <= r.MeanHigh) {
			t.Errorf("%s: %g km of label range, %g to %g", x.lever, r.Mean, r.MeanLow, r.MeanHigh)
		}
	}
	if r := rows["filed drag slippery.label_range_difference"]; !(r.Mean < 0) {
		t.Errorf("less drag of the baseline takes %g km of the candidate's gain", r.Mean)
	}
	if r, is := rows["filed mass slippery.label_range"]; is {
		t.Errorf("a vehicle that counts from the pulled one moves by %g km", r.Mean)
	}
}
