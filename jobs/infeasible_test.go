package jobs_test

import (
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// A pack that in part of the draws can not give the power that a schedule asks for,
// U2 < 4 R P: those draws have no range, are null in samples, are counted in the
// summary and in every claim that reads them, and the answer says so.
func TestPackTooWeakForTheSchedule(t *testing.T) {
	o := quick(t, 0)
	a := mustRun(t, write(t, `format: 1
study: weak
model: vehicle
vehicles:
  car: {kerb_mass: 1900(10) kg, usable_energy: 60(1) kWh, pack_voltage: 350 V, pack_resistance: {between: [0.3 ohm, 1.6 ohm]}}
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085}
claims: {far: {holds: car.label_range > 100 km}, heavy: {holds: car.kerb_mass > 1800 kg}}
sample: {rows: 2048, seed: 4}
indices: none
`), o).Answer
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	row := rowOf(t, summary, "output", "car.label_range")
	infeasible := summary.Column("infeasible").Ints[row]
	if infeasible < 100 || infeasible > 1948 {
		t.Fatalf("%d of 2048 draws are infeasible; the study is made for some", infeasible)
	}
	samples, err := result.OpenSlices(slicePaths(t, o.Out))
	if err != nil {
		t.Fatal(err)
	}
	ranges, err := samples.Read("car_label_range", nil)
	if err != nil {
		t.Fatal(err)
	}
	feasible, err := samples.Read("feasible", nil)
	if err != nil {
		t.Fatal(err)
	}
	null := int64(0)
	for i, x := range ranges {
		if x != x {
			null++
		}
		if (x != x) == (feasible[i] == 1) {
			t.Fatalf("row %d: range %g, feasible %g", i, x, feasible[i])
		}
	}
	if null != infeasible {
		t.Errorf("%d null ranges in samples, %d infeasible in the summary", null, infeasible)
	}
	for name, want := range map[string]int64{"far": infeasible, "heavy": 0, "all_claims": infeasible} {
		for _, c := range a.Claims {
			if c.Name == name && (c.Infeasible != want || c.Held+c.Failed+c.Infeasible != c.Rows) {
				t.Errorf("%s: %d held, %d failed, %d infeasible of %d; want %d infeasible", name, c.Held, c.Failed, c.Infeasible, c.Rows, want)
			}
		}
	}
	var text strings.Builder
	if err := a.Text(&text, report.TextOptions{Folder: o.Out, Full: true}); err != nil || !strings.Contains(text.String(), " infeasible)") || !strings.Contains(text.String(), "infeasible and count as not holding") {
		t.Errorf("the answer does not speak of the infeasible draws: %v\n%s", err, text.String())
	}
}
