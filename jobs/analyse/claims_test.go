package analyse_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// What was announced and what was tested stand in the table as they were written, in the
// unit of the announcement.
func TestWhatWasAnnouncedStandsInTheTable(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "study.yaml")
	const text = `format: 1
study: announced
model: formulas
inputs: {a: {between: [0.5 kg, 0.7 kg]}, share: {between: [0.1, 0.14], unit: '%'}, cool: {between: [-3 degC, 3 degC]}}
outputs: {lost: {formula: -a, unit: kg}}
claims:
  more:  {of: share, announced: 12 %, rounded_to: 1 %, sense: at_least}
  less:  {of: lost, announced: -600 g, rounded_to: 100 g, sense: at_least}
  most:  {of: a, announced: 0.7 kg, sense: at_most}
  near:  {of: a, announced: 0.6 kg, rounded_to: 0.1 kg, sense: about}
  frost: {of: cool, announced: -2 degC, rounded_to: 1 K, sense: at_least}
  own:   {holds: a < 0.6 kg}
sample: {rows: 1024}
indices: none
`
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(folder, "result")
	if _, err := jobs.Run(context.Background(), path, jobs.Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	m, err := result.ReadManifest(out)
	if err != nil {
		t.Fatal(err)
	}
	rows, _, err := result.Claims.Read(out, m)
	if err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	want := map[string]result.ClaimRow{
		"more":       {Announced: 12, RoundedTo: 1, Limit: 11.5, Sense: result.AtLeast, Side: result.Above, AnnouncedIn: "%"},
		"less":       {Announced: -600, RoundedTo: 100, Limit: -550, Sense: result.AtLeast, Side: result.Below, AnnouncedIn: "g"},
		"most":       {Announced: 0.7, RoundedTo: nan, Limit: 0.7, Sense: result.AtMost, Side: result.Below, AnnouncedIn: "kg"},
		"near":       {Announced: 0.6, RoundedTo: 0.1, Limit: nan, Sense: result.About, Side: result.Within, AnnouncedIn: "kg"},
		"frost":      {Announced: -2, RoundedTo: 1, Limit: -2.5, Sense: result.AtLeast, Side: result.Above, AnnouncedIn: "degC"},
		"own":        {Announced: nan, RoundedTo: nan, Limit: nan},
		"all_claims": {Announced: nan, RoundedTo: nan, Limit: nan},
	}
	same := func(x, y float64) bool { return x == y || x != x && y != y }
	for _, r := range rows {
		w, known := want[r.Claim]
		delete(want, r.Claim)
		if !known || !same(r.Announced, w.Announced) || !same(r.RoundedTo, w.RoundedTo) || !same(r.Limit, w.Limit) || r.Sense != w.Sense || r.Side != w.Side || w.AnnouncedIn != "" && r.AnnouncedIn != w.AnnouncedIn {
			t.Errorf("%s: announced %g %s, rounded to %g, limit %g, %q, %q; want %+v", r.Claim, r.Announced, r.AnnouncedIn, r.RoundedTo, r.Limit, r.Sense, r.Side, w)
		}
		if r.Verdict == "" {
			t.Errorf("%s has no verdict", r.Claim)
		}
	}
	if len(want) > 0 {
		t.Errorf("no row of %v", want)
	}
}
