package jobs_test

import (
	"math"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

const insideStudy = `
format: 1
study: what-is-inside
model: vehicle
inputs:
  drag_coefficient: {between: [0.24, 0.28]}
  frontal_area: 2.29 m2
  rolling_coefficient: {normal: {mean: 0.0091, sd: 0.0004}}
  usable_share: 93 %
vehicles:
  before: {kerb_mass: 1711(12) kg, pack_mass: 402(8) kg, cell_count: 2310, cell_mass: {between: [99 g, 103 g]}, cell_charge: 6.9 Ah, cell_voltage: 3.6 V}
  after: {based_on: before, pack_mass: {between: [341 kg, 362 kg]}}
keep: all
`

// TestInsideIsTheSample: what figures show beside what was asked is of the sample's own draws:
// where all of them are looked at and all quantities are stored, both tables say the same, to
// the bit where the sample drives all steps of a schedule too.
func TestInsideIsTheSample(t *testing.T) {
	for _, c := range []struct {
		about, more string
		within      float64
	}{{"all steps", "exact: yes\nsample: {rows: 256}\nindices: none\n", 0}, {"reduced schedules", "sample: {rows: 1536}\n", 1e-9}} {
		t.Run(c.about, func(t *testing.T) { insideIsTheSample(t, insideStudy+c.more, c.within) })
	}
}

func insideIsTheSample(t *testing.T, study string, within float64) {
	o := quick(t, 0)
	mustRun(t, write(t, study), o)
	inside, summary := jobs.RowsOf(t, result.Inside.Read, o.Out), jobs.RowsOf(t, result.Summary.Read, o.Out)
	stored := map[string]result.SummaryRow{}
	for _, r := range summary {
		stored[r.Output] = r
	}
	compared := map[string]int{}
	for _, r := range inside {
		s, ok := stored[r.Output]
		if !ok {
			continue
		}
		apart := func(x, y, within float64) bool { return !(math.Abs(x-y) <= within*math.Abs(y)) }
		if r.Rows != s.Rows || r.Unit != s.Unit || apart(r.P05, s.P05, within) || apart(r.P50, s.P50, within) || apart(r.P95, s.P95, within) || apart(r.Mean, s.Mean, max(within, 1e-12)) {
			t.Errorf("%s: inside says %v, the summary %v", r.Output, r, s)
		}
		compared[r.Figure]++
	}
	for _, figure := range []string{"mass", "ladder", "ranges", "energy over UDDS", "pair"} {
		if compared[figure] == 0 {
			t.Errorf("nothing of the figure %q was compared", figure)
		}
	}
}
