package jobs

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// Invented: two accounts of one normal quantity, which is then measured.
const rivals = `format: 1
study: rivals
model: formulas
sample: {rows: 32_768, seed: 9}
indices: none
inputs:
  x: {normal: {mean: 0 kg, sd: 1 kg}, how_known: guess}
  z: {between: [0, 1], how_known: weighed}
outputs:
  y: {formula: x, unit: kg}
claims:
  above: {holds: y >= 1 kg}
measured: [{of: y, normal: {mean: 1.5 kg, sd: 0.5 kg}}]
either:
  low: {weight: 60 %}
  high: {weight: 40 %, source: invented, inputs: {x: {normal: {mean: 2 kg, sd: 1 kg}, how_known: guess}}}
`

// upper is the chance that a normal variable lies above a value.
func upper(x, mean, sd float64) float64 { return math.Erfc((x-mean)/sd/math.Sqrt2) / 2 }

// TestAccounts: of X ~ N(0, 1) against N(2, 1), measured 1.5 with sd 0.5, the reading's densities
// are those of N(0, 1.25) and N(2, 1.25), 0.14507 and 0.32286, so that 60 and 40 in 100 become
// 0.4026 and 0.5974 (Bayes' theorem; conjugate normal: Gelman and others, Bayesian Data Analysis,
// 3rd edition, 2.5). What was measured leaves N(1.2, 0.2) and N(1.6, 0.2). The intervals are 95 %
// ones: with a dozen of them twice their width is missed with a chance below 0.01.
func TestAccounts(t *testing.T) {
	out := filepath.Join(t.TempDir(), "r")
	if _, err := Run(t.Context(), WriteStudy(t, rivals), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	density := func(mean, sd float64) float64 {
		z := (1.5 - mean) / sd
		return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
	}
	share := func(wide float64) float64 { // of the first, with the priors' widths times wide
		sd := math.Sqrt(wide*wide + 0.25)
		a, b := 0.6*density(0, sd), 0.4*density(2, sd)
		return a / (a + b)
	}
	near := func(what string, got, low, high, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= max(high-low, 1e-4)) {
			t.Errorf("%s: %g (%g to %g), want %g", what, got, low, high, want)
		}
	}
	first := share(1)
	if math.Abs(first-0.4026261) > 1e-6 {
		t.Fatalf("the closed form gives %g", first)
	}
	accounts := RowsOf(t, result.Accounts.Read, out)
	if len(accounts) != 2 || accounts[0].Account != "low" || accounts[1].Source != "invented" {
		t.Fatalf("%+v", accounts)
	}
	for i, want := range []float64{first, 1 - first} {
		a := accounts[i]
		near(a.Account, a.After, a.Low, a.High, want)
		near(a.Account+" evidence", a.LogEvidence, 0, 0.002, math.Log(density(2*float64(i), math.Sqrt(1.25))))
		sign := []float64{share(0.5), share(2)}
		if i == 1 {
			sign[0], sign[1] = 1-sign[0], 1-sign[1]
		}
		near(a.Account+" halved", a.Halved, 0, 0.01, sign[0])
		near(a.Account+" doubled", a.Doubled, 0, 0.01, sign[1])
	}
	sd := math.Sqrt(0.2)
	wanted := map[string]float64{"low": upper(1, 1.2, sd), "high": upper(1, 1.6, sd)}
	wanted[""] = first*wanted["low"] + (1-first)*wanted["high"]
	for _, c := range RowsOf(t, result.AccountClaims.Read, out) {
		near("claim of "+c.Account, c.Chance, c.ChanceLow, c.ChanceHigh, wanted[c.Account])
		if c.Account != "" && c.Rows != 32_768 || c.Account == "" && c.Rows != 2*32_768 {
			t.Errorf("%+v", c)
		}
	}
	means := map[string]float64{"low": 1.2, "high": 1.6, "": first*1.2 + (1-first)*1.6}
	for _, o := range RowsOf(t, result.AccountOutputs.Read, out) {
		near("mean of "+o.Account, o.Mean, o.MeanLow, o.MeanHigh, means[o.Account])
	}
	claims := RowsOf(t, result.Claims.Read, out)
	near("the first account stands", claims[0].Chance, claims[0].ChanceLow, claims[0].ChanceHigh, wanted["low"])
	// prior sd 1/2 and 2: the posterior is N(0.75, 0.125) and N(1.5 16/17, 4/17)
	near("halved", claims[0].Halved, 0, 0.02, upper(1, 0.75, math.Sqrt(0.125)))
	near("doubled", claims[0].Doubled, 0, 0.02, upper(1, 1.5*16/17, math.Sqrt(4.0/17)))
}

// TestAccountsAlike: whatever the number of workers the tables have the same bytes; without weights all are believed alike, and where
// nothing was measured the weights stay.
func TestAccountsAlike(t *testing.T) {
	text := strings.NewReplacer("measured: [{of: y, normal: {mean: 1.5 kg, sd: 0.5 kg}}]\n", "", "weight: 60 %", "", "weight: 40 %, ", "", "32_768", "4096").Replace(rivals)
	path := WriteStudy(t, text)
	digests := map[string]result.Digest{}
	for _, workers := range []int{1, 3} {
		out := filepath.Join(t.TempDir(), "r")
		if _, err := Run(t.Context(), path, Options{Out: out, Workers: workers}); err != nil {
			t.Fatal(err)
		}
		m, err := result.ReadManifest(out)
		if err != nil {
			t.Fatal(err)
		}
		for name, d := range m.Tables {
			if old, there := digests[name]; there && old != d {
				t.Errorf("%s: other bytes with %d workers", name, workers)
			}
			digests[name] = d
		}
		for _, a := range RowsOf(t, result.Accounts.Read, out) {
			if a.Before != 0.5 || a.After != 0.5 || a.LogEvidence == a.LogEvidence {
				t.Errorf("%+v", a)
			}
		}
		var mixed, mean float64
		for _, c := range RowsOf(t, result.AccountClaims.Read, out) {
			if c.Account == "" {
				mixed = c.Chance
			} else {
				mean += c.Chance / 2
			}
		}
		if math.Abs(mixed-mean) > 1e-12 {
			t.Errorf("mixed %g, mean of the two %g", mixed, mean)
		}
	}
	if _, there := digests[result.AccountsTable]; !there {
		t.Error("no table of accounts")
	}
}

// TestAccountsOfVehicles: an account's lines win quantity by quantity and item by item, and what
// follows from them is computed anew; the rest, and every draw, is as in the study.
func TestAccountsOfVehicles(t *testing.T) {
	const cars = `format: 1
study: cars
sample: {rows: 512}
indices: none
inputs: {drag_coefficient: {between: [0.24, 0.26]}, frontal_area: 2.3 m2, rolling_coefficient: 0.0085, usable_share: 94 %}
vehicles:
  today: {kerb_mass: 1600(10) kg, pack_mass: 380 kg, pack_energy: 57 kWh}
  new:
    based_on: today
    pack_mass: 340 kg
    displaced: {panel: 10(1) kg, bars: 5 kg}
claims: {lighter: {of: new.kerb_mass_change, announced: -4 %, sense: at_least}}
either:
  as_said: {}
  no_panel: {vehicles: {new: {displaced: {panel: 0 kg}}}}
`
	out := filepath.Join(t.TempDir(), "r")
	if _, err := Run(t.Context(), WriteStudy(t, cars), Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	means := map[string]float64{}
	for _, o := range RowsOf(t, result.AccountOutputs.Read, out) {
		means[o.Account+" "+o.Output] = o.Mean
	}
	for name, want := range map[string]float64{"as_said new.kerb_mass": 1545, "no_panel new.kerb_mass": 1555, " new.kerb_mass": 1550} {
		if got := means[name]; math.Abs(got-want) > 0.2 {
			t.Errorf("%s: %g, want %g", name, got, want)
		}
	}
}
