package jobs_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

const sizedBase = `
format: 1
study: sized
model: vehicle
inputs: {drag_coefficient: {between: [0.24, 0.27]}, frontal_area: 2.28 m2, rolling_coefficient: {normal: {mean: 0.0091, sd: 0.0004}}, usable_share: 94 %%}
vehicles:
  boxed:
    {gross_mass: 2310 kg, kerb_mass: {between: [1830 kg, 1860 kg]}, body_mass: 331 kg, series: 102, parallel: 8, cell_charge: 19.3 Ah, cell_voltage: 3.66 V, cell_mass: 291 g,
     cell_resistance: 6.7 mohm, module_mass_per_cell: 29 g, tray_mass: 63 kg, cell_price: 91 EUR/kWh, hardware_price: 8 EUR/kg}
%s
outputs: {moved: {formula: %s, unit: km}}
claims: {some: {holds: moved <= 1 m}}
keep: all
indices: none
`

// sizedRun gives the statistics of a run with these vehicles beside the base, by output.
func sizedRun(t *testing.T, vehicles, moved string) map[string]result.SummaryRow {
	t.Helper()
	o := quick(t, 256)
	mustRun(t, write(t, fmt.Sprintf(sizedBase, vehicles, moved)), o)
	named := map[string]result.SummaryRow{}
	for _, r := range jobs.RowsOf(t, result.Summary.Read, o.Out) {
		named[r.Output] = r
	}
	return named
}

// TestSizingKeepsTheRange: in each draw the range is the baseline's, whether secondary mass
// is in the loop or not; a vehicle that states the strings which were found has it too; lighter
// hardware needs fewer cells, more of them where nothing else follows the mass; whole strings
// are at least as many and go at least as far.
func TestSizingKeepsTheRange(t *testing.T) {
	rows := sizedRun(t, `
  bonded: {based_on: boxed, size_for: label_range, tray_mass: {between: [41 kg, 47 kg]}}
  again: {based_on: bonded, parallel: {formula: bonded.parallel}}
  open: {based_on: boxed, size_for: label_range, tray_mass: 44 kg, body_resizing: 0.5, certified: yes}
  closed: {based_on: boxed, size_for: label_range, tray_mass: 44 kg}
  european: {based_on: boxed, size_for: wltc_range, tray_mass: 44 kg}
  heavy: {based_on: boxed, size_for: label_range, tray_mass: 81 kg}
`, `abs(bonded.label_range - boxed.label_range) + abs(again.label_range - boxed.label_range) + abs(closed.label_range - boxed.label_range)
      + abs(open.label_range * open.model_error_own_factor - boxed.label_range) + abs(european.wltc_range - boxed.wltc_range) + abs(heavy.label_range - boxed.label_range)`)
	if r := rows["moved"]; !(r.Max < 1e-6) || r.Infeasible > 0 {
		t.Errorf("ranges move by up to %g km, %d draws infeasible", r.Max, r.Infeasible)
	}
	at := func(name string) float64 { return rows[name].Mean }
	for _, v := range []string{"bonded", "open", "closed", "european"} {
		if !(rows[v+".cells_saved"].Min > 0) || !(rows[v+".pack_mass_saving"].Min > 0) || !(rows[v+".pack_cost_saving"].Min > 0) || !(rows[v+".kerb_mass_saving"].Min > 0) {
			t.Errorf("%s is lighter and saves from %g cells", v, rows[v+".cells_saved"].Min)
		}
		if rows[v+".strings_whole"].Min < 8 || rows[v+".cells_saved_whole"].Max > rows[v+".cells_saved"].Max {
			t.Errorf("%s: %g whole strings", v, rows[v+".strings_whole"].Min)
		}
	}
	if !(rows["heavy.cells_saved"].Max < 0) || at("heavy.strings_whole") != 9 || !(at("heavy.whole_strings_range") > at("heavy.label_range")) {
		t.Errorf("heavier hardware saves %g cells, takes %g whole strings", at("heavy.cells_saved"), at("heavy.strings_whole"))
	}
	if !(at("open.cells_saved") > at("closed.cells_saved")*1.05) || !(at("open.kerb_mass_saving") > at("open.pack_mass_saving")) {
		t.Errorf("resized %g cells, else %g", at("open.cells_saved"), at("closed.cells_saved"))
	}
	// First principles: the cells saved take their own mass and hardware with them.
	if want := at("closed.cells_saved") * 0.320; math.Abs(at("closed.pack_mass_saving")-want) > 1e-9 {
		t.Errorf("%.9f kg go with %g cells, want %.9f", at("closed.pack_mass_saving"), at("closed.cells_saved"), want)
	}
	if change := at("closed.kerb_mass") - at("boxed.kerb_mass"); math.Abs(change-(-19-at("closed.cells_saved")*0.320)) > 1e-9 {
		t.Errorf("kerb mass changes by %g kg", change)
	}
}

// TestSizingAtItsLimits: without a change of mass nothing is saved, exactly; by energy the
// strings hold the baseline's, whatever the cell; where no number of strings has the range
// every draw is infeasible.
func TestSizingAtItsLimits(t *testing.T) {
	rows := sizedRun(t, `
  same: {based_on: boxed, size_for: label_range}
  european: {based_on: boxed, size_for: wltc_range}
  smaller: {based_on: boxed, size_for: energy, cell_charge: 4.9 Ah, cell_mass: 72 g}
  leaden: {based_on: boxed, size_for: label_range, cell_mass: 9 kg}
`, "leaden.label_range")
	for _, q := range []string{"same.cells_saved", "same.cells_saved_whole", "same.pack_mass_saving", "same.kerb_mass_saving", "same.pack_cost_saving",
		"european.cells_saved", "european.kerb_mass_saving"} {
		if r, is := rows[q]; !is || r.Min != 0 || r.Max != 0 {
			t.Errorf("%s: %g to %g without any change", q, r.Min, r.Max)
		}
	}
	if r := rows["smaller.pack_energy_difference"]; math.Abs(r.Min) > 1e-12 || math.Abs(r.Max) > 1e-12 {
		t.Errorf("sized for energy it holds %g kWh more", r.Max)
	}
	if r := rows["smaller.cells_saved"]; math.Abs(r.Mean-(816-816*19.3/4.9)) > 1e-9 {
		t.Errorf("%g cells fewer", r.Mean)
	}
	if r := rows["moved"]; r.Infeasible != r.Rows {
		t.Errorf("%d of %d draws are infeasible where every string shortens the range", r.Infeasible, r.Rows)
	}
}

func TestSizingIsRefused(t *testing.T) {
	for vehicles, want := range map[string]string{
		"  b: {based_on: boxed, size_for: label_range, tray_resizing: 0.3}":                                                  "vehicles.b.size_for: label_range beside tray_resizing",
		"  b: {based_on: boxed, size_for: label_range, usable_energy: 50 kWh, kerb_mass: 1700 kg, pack_resistance: 60 mohm}": "does not change with the strings",
		"  b: {based_on: boxed, size_for: range}":                                                                            `"range"; allowed: cells, energy, label_range or wltc_range`,
		"  b: {based_on: boxed, size_for: energy, parallel: 9}":                                                              "vehicles.b.parallel: parallel beside size_for: energy",
	} {
		_, err := study.Read(write(t, fmt.Sprintf(sizedBase, vehicles, "boxed.label_range")), study.Options{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s:\n%v\nwant %s", vehicles, err, want)
		}
	}
}
