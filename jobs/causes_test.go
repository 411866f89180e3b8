package jobs_test

import (
	"fmt"
	"math"
	"math/bits"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// causesOf runs a study and gives the rows of its attribution by output and cause.
func causesOf(t *testing.T, path string, seed uint64, rows int) (byCause map[string]result.CauseRow, all []result.CauseRow, folder string) {
	t.Helper()
	o := quick(t, rows)
	if seed > 0 {
		o.Study = study.Options{Rows: rows, Seed: &seed}
	}
	mustRun(t, path, o)
	all = jobs.RowsOf(t, result.Causes.Read, o.Out)
	byCause = map[string]result.CauseRow{}
	for _, r := range all {
		byCause[r.Output+" "+r.Cause] = r
	}
	return byCause, all, o.Out
}

const productStudy = `
format: 1
study: product-of-two
model: vehicle
inputs: {drag_coefficient: 0.26, frontal_area: 2.3 m2, rolling_coefficient: 0.009}
vehicles:
  old: {kerb_mass: 1700 kg, usable_energy: 60 kWh, label_factor: 0.7}
  new: {based_on: old, usable_energy: {normal: {mean: 63 kWh, sd: 1.2 kWh}}, label_factor: {normal: {mean: 0.77, sd: 0.014}}}
indices: none
sample: {rows: 4096}
`

// TestCausesOfAProduct: a range is energy times label factor over consumption, so that with
// e and l, the two over those of the baseline, energy brings (e - 1)(1 + l)/2 and the factor
// (l - 1)(1 + e)/2: 5.25 and 10.25 points of 15.5, e and l being independent. Of 12 seeds
// the intervals of 95 % hold these in at least 9 but for a chance of 2 in 1000 each.
func TestCausesOfAProduct(t *testing.T) {
	path := write(t, productStudy)
	inside := map[string]int{}
	want := map[string]float64{"usable energy": 5.25, "label factor": 10.25, "total": 15.5}
	for seed := range uint64(12) {
		rows, _, _ := causesOf(t, path, seed+1, 512)
		for cause, mean := range want {
			r := rows["new.label_range_change "+cause]
			if r.MeanLow <= mean && mean <= r.MeanHigh {
				inside[cause]++
			}
			if math.Abs(r.Mean-mean) > 0.2 || !(r.MeanHigh-r.MeanLow < 0.2) {
				t.Errorf("seed %d, %s: %g (%g to %g), want %g", seed, cause, r.Mean, r.MeanLow, r.MeanHigh, mean)
			}
		}
		e := rows["new.label_range_change usable energy"] // its sd is 2.1/2 x 2 points
		if math.Abs(e.P95-(5.25+1.645*2.1)) > 0.5 || math.Abs(e.P05-(5.25-1.645*2.1)) > 0.5 {
			t.Errorf("seed %d: nine in ten from %g to %g", seed, e.P05, e.P95)
		}
	}
	for cause := range want {
		if inside[cause] < 9 {
			t.Errorf("%s: %d of 12 intervals hold it", cause, inside[cause])
		}
	}
}

// TestCausesAreThoseOfRealCars: every combination of three differences is stated as a car of
// its own; the shares that these give by hand are the table's.
func TestCausesAreThoseOfRealCars(t *testing.T) {
	differences := []string{"kerb_mass: 1530 kg", "drag_coefficient: 0.22", "usable_energy: 66 kWh"}
	causes := []string{"mass", "air drag", "usable energy"}
	text := `
format: 1
study: eight-cars
model: vehicle
vehicles:
  car0: {kerb_mass: 1700 kg, usable_energy: 60 kWh, drag_coefficient: 0.26, frontal_area: 2.3 m2, rolling_coefficient: 0.009}
`
	for made := 1; made < 8; made++ {
		var own []string
		for i, d := range differences {
			if made>>i&1 == 1 {
				own = append(own, d)
			}
		}
		text += fmt.Sprintf("  car%d: {based_on: car0, %s}\n", made, strings.Join(own, ", "))
	}
	rows, _, folder := causesOf(t, write(t, text+"indices: none\nsample: {rows: 64}\n"), 0, 64)
	summary := jobs.RowsOf(t, result.Summary.Read, folder)
	change := map[string]float64{}
	for _, r := range summary {
		change[r.Output] = r.Mean
	}
	value := func(made int) float64 {
		if made == 0 {
			return 0
		}
		return change[fmt.Sprintf("car%d.label_range_change", made)]
	}
	for i, cause := range causes {
		want := 0.0
		for s := range 8 {
			if s>>i&1 == 0 { // 0, 1 or 2 of the others before it: a third, a sixth, a third
				want += [3]float64{1. / 3, 1. / 6, 1. / 3}[bits.OnesCount(uint(s))] * (value(s|1<<i) - value(s))
			}
		}
		// Losses and the model's error are drawn: the change is nearly the same in every draw.
		if got := rows["car7.label_range_change "+cause].Mean; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %.12g, by eight cars %.12g", cause, got, want)
		}
	}
}

// TestCausesAddUp: to the mean of the summary, parts to their cause, in the study that has
// everything; so they do where all else is a cause: a coast-down against coefficients.
func TestCausesAddUp(t *testing.T) {
	rows, all, folder := causesOf(t, studies+"everything.yaml", 0, 512)
	summary := jobs.RowsOf(t, result.Summary.Read, folder)
	sums := map[string]float64{}
	for _, r := range all {
		if r.Cause == "total" {
			continue
		}
		of := r.PartOf
		if of == "" {
			of = "total"
		}
		sums[r.Output+" "+of] += r.Mean
	}
	for whole, sum := range sums {
		if got := rows[whole].Mean; math.Abs(got-sum) > 1e-9*(1+math.Abs(got)) {
			t.Errorf("%s: %.15g, what makes it %.15g", whole, got, sum)
		}
	}
	found := 0
	for _, r := range summary {
		if c, is := rows[r.Output+" total"]; is && strings.HasSuffix(r.Output, "_change") {
			if found++; c.Mean != r.Mean || c.MeanLow > r.MeanLow+1e-9 {
				t.Errorf("%s: total %g from %g, summary %g from %g", r.Output, c.Mean, c.MeanLow, r.Mean, r.MeanLow)
			}
		}
	}
	if _, is := rows["rolled.label_range_change all else"]; found < 3 || !is {
		t.Errorf("%d changes compared; all else is a cause: %t", found, is)
	}
}

// TestCausesWhateverTheOrder: the order of lines in the file changes nothing.
func TestCausesWhateverTheOrder(t *testing.T) {
	head := "format: 1\nstudy: order\nmodel: vehicle\n"
	lines := []string{
		"  displaced: {panel: {between: [12 kg, 19 kg]}, beam: {between: [3 kg, 8 kg]}}\n", "  usable_energy: {between: [61 kWh, 65 kWh]}\n",
		"  drag_coefficient: {between: [0.22, 0.25]}\n", "  added: {plate: {between: [1 kg, 3 kg]}}\n",
	}
	before := "  old: {kerb_mass: 1700(9) kg, pack_mass: 410 kg, usable_energy: 60 kWh, drag_coefficient: 0.26, frontal_area: 2.3 m2, rolling_coefficient: 0.009}\n"
	texts := [2]string{}
	for i := range texts {
		own := ""
		for k := range lines {
			if i == 1 {
				k = len(lines) - 1 - k
			}
			line := lines[k]
			if i == 1 {
				line = strings.Replace(line, "{panel: {between: [12 kg, 19 kg]}, beam: {between: [3 kg, 8 kg]}}", "{beam: {between: [3 kg, 8 kg]}, panel: {between: [12 kg, 19 kg]}}", 1)
			}
			own += "  " + line
		}
		texts[i] = head + "vehicles:\n" + before + "  new:\n    based_on: old\n    pack_mass: {between: [360 kg, 380 kg]}\n" + own + "indices: none\nsample: {rows: 512}\n"
	}
	one, all, _ := causesOf(t, write(t, texts[0]), 0, 512)
	other, again, _ := causesOf(t, write(t, texts[1]), 0, 512)
	if len(all) != len(again) || len(all) < 10 {
		t.Fatalf("%d rows and %d", len(all), len(again))
	}
	for name, r := range one {
		if s := other[name]; r != s {
			t.Errorf("%s: %+v, in another order %+v", name, r, s)
		}
	}
}
