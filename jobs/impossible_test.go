package jobs_test

import (
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// TestImpossibleCarIsNotJudged has a pack that outweighs its car. What is made of a
// kerb mass below nil is no car: nothing that reads it holds or fails.
func TestImpossibleCarIsNotJudged(t *testing.T) {
	a := mustRun(t, write(t, `format: 1
indices: none
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_energy: 60(1) kWh}
vehicles:
  car: {kerb_mass: 1950(15) kg, pack_mass: 2450(5) kg}
  lighter: {based_on: car, pack_mass: {between: [380 kg, 395 kg]}}
claims:
  light: {of: lighter.kerb_mass_change, announced: -5 %, sense: at_least}
  far: {of: lighter.label_range_change, announced: 5 %, sense: at_least}
`), quick(t, 256)).Answer
	for _, c := range a.Claims {
		if c.Infeasible != 256 || c.Held != 0 || c.Verdict != result.NotJudged {
			t.Errorf("%s: %s, %d held, %d infeasible of %d", c.Name, c.Verdict, c.Held, c.Infeasible, c.Rows)
		}
	}
}

// TestMassBases has masses on different bases compared on that of the baseline where both
// are stated; where one is not, a claim that compares them can't be judged.
func TestMassBases(t *testing.T) {
	const text = `format: 1
indices: none
vehicles:
  old: {kerb_mass: 1600 kg}
  new: {based_on: old, kerb_mass: 1655 kg, mass_basis: eu_running_order}
claims:
  lighter: {of: new.kerb_mass_change, announced: -1 %, sense: at_least}
  saved: {holds: new.kerb_mass_difference < -19.9 kg}
  below: {holds: new.kerb_mass < old.kerb_mass}
  alone: {holds: new.kerb_mass > 1600 kg}
`
	for _, x := range []struct {
		old  string
		want map[string]result.Verdict
	}{
		{"old: {", map[string]result.Verdict{"lighter": result.NotJudged, "saved": result.NotJudged, "below": result.NotJudged, "alone": result.Stands}},
		{"old: {mass_basis: us_curb, ", map[string]result.Verdict{"lighter": result.Stands, "saved": result.Stands, "below": result.Falls, "alone": result.Stands}},
	} {
		for _, c := range mustRun(t, write(t, strings.Replace(text, "old: {", x.old, 1)), quick(t, 2048)).Answer.Claims {
			if want := x.want[c.Name]; want != "" && c.Verdict != want {
				t.Errorf("%s %s: %s, want %s", x.old, c.Name, c.Verdict, want)
			}
		}
	}
}

// TestClaimOnContradictions has a claim that rests on two energies of one pack not
// judged, and another of the same study judged; the reader learns why first.
func TestClaimOnContradictions(t *testing.T) {
	a := mustRun(t, write(t, `format: 1
indices: none
vehicles:
  car: {kerb_mass: 1870(10) kg, pack_energy: 88 kWh, series: 100, parallel: 44, cell_charge: 5 Ah, cell_voltage: 3.65 V}
claims:
  large: {holds: car.pack_energy > 70 kWh}
  heavy: {holds: car.kerb_mass > 1700 kg}
`), quick(t, 2048)).Answer
	for _, c := range a.Claims {
		if want := map[string]result.Verdict{"large": result.NotJudged, "heavy": result.Stands, "all_claims": result.NotJudged}[c.Name]; c.Verdict != want {
			t.Errorf("%s: %s, want %s", c.Name, c.Verdict, want)
		}
	}
	var text strings.Builder
	if err := a.Text(&text, report.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	why, verdict := strings.Index(text.String(), "This cannot be: car: pack_energy is 88 kWh, but 80.3 kWh"), strings.Index(text.String(), "can't be judged: it rests on what contradicts itself")
	if why < 0 || why > verdict {
		t.Errorf("the reason does not stand before the verdict:\n%s", text.String())
	}
}

// TestPackBeyondNumbers: a pack as heavy as a double can be leaves nothing that a lever
// could move, and the page is drawn all the same.
func TestPackBeyondNumbers(t *testing.T) {
	a := mustRun(t, write(t, `format: 1
indices: none
inputs: {drag_coefficient: 0.24, frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_energy: 60(1) kWh}
vehicles:
  car: {kerb_mass: 1950(15) kg, pack_mass: 1e308 kg}
  lighter: {based_on: car, pack_mass: {between: [380 kg, 395 kg]}}
claims:
  light: {of: lighter.kerb_mass_change, announced: -5 %, sense: at_least}
`), quick(t, 64)).Answer
	if c := a.Claims[0]; c.Infeasible != 64 || c.Verdict != result.NotJudged {
		t.Errorf("%s: %s, %d infeasible", c.Name, c.Verdict, c.Infeasible)
	}
	outputs, vehicles := a.Pulled()
	for i := range outputs {
		if len(a.LeversOf(vehicles[i], outputs[i])) == 0 {
			t.Errorf("levers are told of %s, which no draw has", outputs[i])
		}
	}
}
