package jobs

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/result"
)

// accurate is a sum of two normal inputs, read 3 of its standard deviations out with 1/40 of its
// standard deviation, which leaves 1 row in some 3000 effective.
const accurate = `format: 1
study: accurate
model: formulas
inputs: {a: {normal: {mean: 0, sd: 1}}, b: {normal: {mean: 0, sd: 1}}, c: {between: [0, 1]}}
outputs: {y: a + b, free: c}
claims: {far: {holds: a >= 2.5}, alone: {holds: c >= 0.25}}
measured: [{of: y, normal: {mean: 3.5, sd: 0.035}, source: a gauge}]
sample: {rows: 4096, seed: 2}
indices: none
`

// Where weights leave next to no row, draws are moved to what was measured by themselves, and
// have the posterior: of a, normal with mean y/(2+s^2) and variance (1+s^2)/(2+s^2) (conjugate
// normals: Gelman and others, Bayesian Data Analysis, 3rd edition, 2.5). Twice the half-width of
// each interval: of other seeds 1 in 100 would raise a false alarm.
func TestPoorWeightsAreTempered(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	outcome, err := Run(t.Context(), WriteStudy(t, accurate), Options{Out: out})
	if err != nil {
		t.Fatal(err)
	}
	m, err := result.ReadManifest(out)
	if err != nil {
		t.Fatal(err)
	}
	if e := m.Evidence; e == nil || e.Method != result.ByTempering || e.Weighed > 0.01*4096 || e.Rows != 16*256 || e.ESS < 0.5*16*256 || e.ModelRuns < e.Rows {
		t.Errorf("the manifest has %+v", e)
	}
	const v = 2 + 0.035*0.035
	mean, sd := 3.5/v, math.Sqrt((1+0.035*0.035)/v)
	within := func(what string, got, low, high, want float64) {
		t.Helper()
		if half := (high - low) / 2; !(math.Abs(got-want) < 2*half) || half > 0.3 {
			t.Errorf("%s is %g (%g to %g), exact %g", what, got, low, high, want)
		}
	}
	for _, r := range RowsOf(t, result.Summary.Read, out) {
		switch r.Output {
		case "a":
			within("mean of a", r.Mean, r.MeanLow, r.MeanHigh, mean)
			within("p05 of a", r.P05, r.P05Low, r.P05High, mean-1.6448536*sd)
			within("p95 of a", r.P95, r.P95Low, r.P95High, mean+1.6448536*sd)
		case "y":
			within("mean of y", r.Mean, r.MeanLow, r.MeanHigh, 2*3.5/v)
		case "c":
			within("mean of c, which nothing reaches", r.Mean, r.MeanLow, r.MeanHigh, 0.5)
		}
		if r.Rows != 16*256 {
			t.Errorf("%s has %d rows", r.Output, r.Rows)
		}
	}
	above := func(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }
	for _, c := range RowsOf(t, result.Claims.Read, out) {
		switch c.Claim {
		case "far":
			within("chance of far", c.Chance, c.ChanceLow, c.ChanceHigh, above((2.5-mean)/sd))
		case "alone":
			within("chance of alone", c.Chance, c.ChanceLow, c.ChanceHigh, 0.75)
		}
	}
	f := RowsOf(t, result.Evidence.Read, out)[0]
	if want := -3.5*3.5/2/v - math.Log(2*math.Pi*v)/2; f.Method != result.ByTempering || math.Abs(f.LogEvidence-want) > 0.2 || f.Contradicts == 1 {
		t.Errorf("%+v, exact evidence %g", f, want)
	}
	if b := RowsOf(t, result.Earlier.Summary.Read, out); len(b) == 0 || b[0].Rows != 4096 {
		t.Errorf("before it: %+v", b)
	}
	if told := outcome.Answer.Evidence.Counts(4096); !strings.Contains(told, "4,096 draws were moved to it in") {
		t.Error(told)
	}
	samples, err := result.OpenSlices([]string{filepath.Join(out, result.TemperedTable)})
	if err != nil {
		t.Fatal(err)
	}
	y, err := samples.Read("y", nil)
	if err != nil {
		t.Fatal(err)
	}
	weight, err := samples.Read("weight", nil)
	if err != nil {
		t.Fatal(err)
	}
	sum, all := 0.0, 0.0
	for i := range y {
		sum += weight[i] * y[i]
		all += weight[i]
	}
	for _, r := range RowsOf(t, result.Summary.Read, out) {
		if r.Output == "y" && math.Abs(r.Mean-sum/all) > 1e-12 {
			t.Errorf("mean %g, by the weights in the file %g", r.Mean, sum/all)
		}
	}
}

// Moved draws have the same bytes in any order, shares and after any stop.
func TestTemperingHasTheSameBytes(t *testing.T) {
	path, out := WriteStudy(t, accurate), filepath.Join(t.TempDir(), "out")
	want := runInto(t, path, Options{Out: out, Workers: 1})
	if want[result.TemperedTable] == nil {
		t.Fatal("nothing was moved")
	}
	equalTables(t, "in reverse", runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "out"), Workers: 3, order: reversed}), want)
	shares := filepath.Join(t.TempDir(), "shares")
	inShares(t, path, shares, 3, nil)
	equalTables(t, "in shares", TablesOf(t, shares), want)
	stopped := filepath.Join(t.TempDir(), "stopped")
	for runs := 0; ; runs++ {
		left := 30
		_, err := Run(t.Context(), path, Options{Out: stopped, Workers: 2, kept: func(plan.Key) error {
			if left--; left < 0 {
				return errEnded
			}
			return nil
		}})
		if err == nil {
			break
		}
		if !errors.Is(err, errEnded) || runs > 100 {
			t.Fatal(err)
		}
	}
	equalTables(t, "stopped again and again", TablesOf(t, stopped), want)
	if err := os.WriteFile(path, []byte(strings.Replace(accurate, "a gauge", "another gauge", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Run(t.Context(), path, Options{Out: out, Workers: 1}); err != nil {
		t.Fatal(err)
	}
	if again := TablesOf(t, out); string(again[result.ClaimsTable]) != string(want[result.ClaimsTable]) {
		t.Error("another text, another chance")
	}
}

// Where nothing can be moved, an instrument that only says between which values, weights stay,
// and what they can not tell is not told.
func TestTemperingThatFails(t *testing.T) {
	text := strings.Replace(accurate, "normal: {mean: 3.5, sd: 0.035}", "between: [3.44, 3.5]", 1)
	out := filepath.Join(t.TempDir(), "out")
	_, err := Run(t.Context(), WriteStudy(t, text), Options{Out: out})
	if err != nil {
		t.Fatal(err)
	}
	m, err := result.ReadManifest(out)
	if err != nil || m.Evidence.Method != result.ByWeights || m.Tables[result.TemperedTable].Bytes > 0 {
		t.Errorf("%v, %+v", err, m.Evidence)
	}
	for _, r := range RowsOf(t, result.Summary.Read, out) {
		if r.Output == "a" && (r.P05 == r.P05 || r.P95 == r.P95) {
			t.Errorf("p05 %g and p95 %g of %g rows", r.P05, r.P95, m.Evidence.ESS)
		}
	}
}
