package jobs_test

import (
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/model/schedule"
	"proofmass/model/vehicle"
)

// driven is a pair of cars over schedules of their own, with a claim and an output that
// name them.
const driven = `format: 1
study: driven
vehicles:
  old: {kerb_mass: {normal: {mean: 1600 kg, sd: 20 kg}}, usable_energy: 60 kWh, drag_area: {between: [0.6 m2, 0.7 m2]}, rolling_coefficient: 0.008}
  new: {based_on: old, kerb_mass: 1500 kg}
outputs:
  errand: {formula: new.errand_consumption, unit: Wh/km}
  city: {formula: new.udds_consumption, unit: Wh/km}
  cruise: {formula: new.cruise_consumption, unit: Wh/km}
  steady: {formula: new.steady_consumption_90, unit: Wh/km}
claims:
  thriftier: {of: new.errand_consumption_change, announced: -2 %, sense: at_least}
sample: {rows: 4096}
indices: {half_width: 0.2}
`

// TestModelWithItsOwnSchedules goes with a model of other schedules from the study's text to
// its answer: the claim, outputs, indices, tables. A trace under a name of its own gives
// bit for bit what the same speeds give as a published one, and a constant speed what the
// model computes of it without a trace.
func TestModelWithItsOwnSchedules(t *testing.T) {
	udds, _ := schedule.ByName("udds")
	errand, err := schedule.New("errand", udds.Seconds, udds.Speed)
	if err != nil {
		t.Fatal(err)
	}
	cruise, err := schedule.New("cruise", []float64{0, 10}, []float64{25, 25})
	if err != nil {
		t.Fatal(err)
	}
	drives := append(vehicle.Published(),
		vehicle.Drive{Schedule: errand, Words: "the errand", Driving: vehicle.City},
		vehicle.Drive{Schedule: cruise, Words: "90 km/h", Driving: vehicle.Highway})
	m, err := vehicle.New(vehicle.Options{Drives: drives})
	if err != nil {
		t.Fatal(err)
	}
	path, o := write(t, driven), quick(t, 4096)
	o.Study.Catalogue = study.NewCatalogue(m)
	a := mustRun(t, path, o).Answer

	same := func(own, known string, tolerance float64) {
		x, y := size(t, a, own), size(t, a, known)
		near(t, own, *y.P05, *x.P05*(1-tolerance), *x.P05*(1+tolerance))
		near(t, own, *y.P95, *x.P95*(1-tolerance), *x.P95*(1+tolerance))
	}
	same("errand", "city", 0)
	same("cruise", "steady", 1e-12)
	if c := a.Claims[0]; c.Of != "new.errand_consumption_change" || c.Chance < 0.9 || c.HangsOn == "" {
		t.Errorf("the claim of an own schedule: %+v", c)
	}
	if !strings.Contains(parquetMeaning(t, o.Out, "new.errand_consumption"), "the errand") {
		t.Error("the table does not say which schedule it is")
	}
	_, err = study.Read(path, study.Options{})
	if err == nil || !strings.Contains(err.Error(), "errand_consumption") {
		t.Errorf("the built-in model knows a schedule of another: %v", err)
	}
	if again := mustRun(t, path, o); !again.Again {
		t.Error("the same study over the same schedules was run anew")
	}
}

// parquetMeaning is what the summary table says of an output.
func parquetMeaning(t *testing.T, folder, output string) string {
	t.Helper()
	for _, r := range jobs.RowsOf(t, result.Summary.Read, folder) {
		if r.Output == output {
			return r.Meaning
		}
	}
	return ""
}
