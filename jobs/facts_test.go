package jobs_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/analyse"
	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// evidenceOf reads what a result tells before and after what was measured.
func evidenceOf(t *testing.T, folder string) (facts []result.EvidenceRow, before, after map[string]result.SummaryRow, m *result.Manifest) {
	t.Helper()
	m, err := result.ReadManifest(folder)
	if err != nil {
		t.Fatal(err)
	}
	rows := func(of *result.Typed[result.SummaryRow]) map[string]result.SummaryRow {
		all := map[string]result.SummaryRow{}
		for _, r := range jobs.RowsOf(t, of.Read, folder) {
			all[r.Output] = r
		}
		return all
	}
	return jobs.RowsOf(t, result.Evidence.Read, folder), rows(result.Earlier.Summary), rows(result.Summary), m
}

// gauged is x of a normal prior, measured with a normal error.
func gauged(priorSD, value, sd float64) string {
	return fmt.Sprintf(`format: 1
model: formulas
inputs: {x: {normal: {mean: 0, sd: %g}}}
outputs: {y: {formula: x}}
claims: {above: {holds: y >= %g}}
measured: [{of: y, normal: {mean: %g, sd: %g}}]
indices: none
`, priorSD, value/2, value, sd)
}

// A normal prior and a normal reading have a normal posterior: mean y t^2/(t^2+s^2), sd
// ts/sqrt(t^2+s^2), evidence phi(y; 0, t^2+s^2); and ESS/n of weights goes to E[w]^2/E[w^2]
// (Gelman and others, Bayesian Data Analysis, 3rd edition, 2.5; values by the closed forms at
// 60 digits). The intervals are 95 % ones, of 16 replicates with t: with three of them in four
// cases a false alarm at twice their width has a chance below 0.001.
func TestNormalPosterior(t *testing.T) {
	for _, c := range []struct{ prior, value, sd, mean, after, share, evidence float64 }{
		{1, 0, 0.5, 0, 0.44721359549995793928, 0.6, 0.35682482323055422291},
		{1, 2, 0.5, 1.6, 0.44721359549995793928, 0.14470648261209086057, 0.072041689344307325893},
		{1, 1, 0.1, 0.99009900990099009901, 0.099503719020998913567, 0.085772688852569840084, 0.24196475508376177537},
		{8, 5, 6, 3.2, 4.8, 0.69695218030593118881, 0.035206532676429947777},
	} {
		o := quick(t, 16384)
		mustRun(t, write(t, gauged(c.prior, c.value, c.sd)), o)
		facts, before, after, m := evidenceOf(t, o.Out)
		y := after["y"]
		within := func(what string, got, low, high, want float64) {
			if half := (high - low) / 2; !(math.Abs(got-want) < 2*half) {
				t.Errorf("%+v: %s is %g (%g to %g), want %g", c, what, got, low, high, want)
			}
		}
		within("mean", y.Mean, y.MeanLow, y.MeanHigh, c.mean)
		within("p50", y.P50, y.P50Low, y.P50High, c.mean)
		within("p05", y.P05, y.P05Low, y.P05High, c.mean-1.6448536269514722*c.after)
		within("p95", y.P95, y.P95Low, y.P95High, c.mean+1.6448536269514722*c.after)
		if math.Abs(y.SD-c.after) > 0.05*c.after {
			t.Errorf("%+v: sd %g, want %g", c, y.SD, c.after)
		}
		f := facts[0]
		if math.Abs(math.Exp(f.LogEvidence)-c.evidence) > 0.02*c.evidence {
			t.Errorf("%+v: evidence %g, want %g", c, math.Exp(f.LogEvidence), c.evidence)
		}
		if share := f.ESS / 16384; math.Abs(share-c.share) > 0.05*c.share || m.Evidence == nil || m.Evidence.ESS != f.ESS {
			t.Errorf("%+v: ESS/n %g, want %g; the manifest has %+v", c, share, c.share, m.Evidence)
		}
		spread := math.Sqrt(c.prior*c.prior + c.sd*c.sd)
		if want := math.Erfc(-c.value/spread/math.Sqrt2) / 2; math.Abs(f.PriorPercentile-want) > 0.003 || f.OthersPercentile != f.PriorPercentile || f.Contradicts == 1 {
			t.Errorf("%+v: prior percentile %g (others %g, contradicts %d), want %g", c, f.PriorPercentile, f.OthersPercentile, f.Contradicts, want)
		}
		if b := before["y"]; math.Abs(b.SD-c.prior) > 0.01*c.prior || math.Abs(b.Mean) > 0.01*c.prior {
			t.Errorf("%+v: before it mean %g, sd %g", c, b.Mean, b.SD)
		}
	}
}

// The weights in samples give back what the tables say, and what was measured draws nothing
// else: every other column is that of the study without.
func TestFactsOnlyWeigh(t *testing.T) {
	text := gauged(1, 2, 0.5)
	with, without := quick(t, 4096), quick(t, 4096)
	mustRun(t, write(t, text), with)
	mustRun(t, write(t, strings.Replace(text, "measured: [", "# measured: [", 1)), without)
	columns := func(folder string) map[string][]float64 {
		samples, err := result.OpenSlices(slicePaths(t, folder))
		if err != nil {
			t.Fatal(err)
		}
		all := map[string][]float64{}
		for _, name := range samples.Names() {
			x, err := samples.Read(name, nil)
			if err != nil {
				t.Fatal(err)
			}
			all[name] = append([]float64(nil), x...)
		}
		return all
	}
	weighted, plain := columns(with.Out), columns(without.Out)
	for name, x := range plain {
		if name == "weight" {
			continue
		}
		for i, v := range x {
			if math.Float64bits(weighted[name][i]) != math.Float64bits(v) {
				t.Fatalf("%s row %d is %g, without facts %g", name, i, weighted[name][i], v)
			}
		}
	}
	var sum, all float64
	for i, w := range weighted["weight"] {
		sum += w * weighted["y"][i]
		all += w
		z := (weighted["y"][i] - 2) / 0.5
		if math.Abs(w-math.Exp(-z*z/2)) > 1e-14 || math.Abs(weighted["log_likelihood"][i]-(-z*z/2-math.Log(0.5*math.Sqrt(2*math.Pi)))) > 1e-12 {
			t.Fatalf("row %d: weight %g, log likelihood %g for y %g", i, w, weighted["log_likelihood"][i], weighted["y"][i])
		}
	}
	_, _, after, _ := evidenceOf(t, with.Out)
	if got := after["y"].Mean; math.Abs(got-sum/all) > 1e-12 {
		t.Errorf("mean %g, by the weights %g", got, sum/all)
	}
}

// Facts that no draw can have are an error that names each and its place; facts that
// contradict the inputs, or each other, are said to, and which is the odd one.
func TestFactsThatContradict(t *testing.T) {
	path := write(t, strings.Replace(gauged(1, 2, 0.5), "normal: {mean: 2, sd: 0.5}", "normal: {mean: 40, sd: 0.5}", 1))
	hopeless := quick(t, 4096)
	_, err := jobs.Run(context.Background(), path, hopeless)
	const lies = "y (normal, mean 40, sd 0.5) lies above more than 999 in 1000"
	if !analyse.Hopeless(err) || !strings.Contains(err.Error(), lies) {
		t.Errorf("40 sd away: %v", err)
	}
	var wrong study.Errors
	if !errors.As(err, &wrong) || len(wrong) != 1 || wrong[0].Place.Line == 0 || !strings.HasPrefix(wrong[0].Found, lies) || !strings.Contains(wrong[0].Allowed, "--replace") {
		t.Errorf("nothing wrong in the study: %v", wrong)
	}
	if state, err := inspect.Show(hopeless.Out); err != nil || state.Finished || !strings.Contains(state.Hopeless, lies) {
		t.Errorf("show: %v, %+v", err, state)
	}
	o := quick(t, 16384)
	mustRun(t, write(t, `format: 1
model: formulas
inputs: {x: {normal: {mean: 10 kg, sd: 2 kg}}, other: {normal: {mean: 1 kg, sd: 0.3 kg}}}
outputs: {y: {formula: x + other}, z: {formula: x - other}}
measured:
  - {of: y, value: 11.5(2) kg, source: a scale}
  - {of: z, value: 9.3(2) kg}
  - {of: x, value: 13.0(3) kg, source: "the odd one"}
indices: none
`), o)
	facts, _, _, _ := evidenceOf(t, o.Out)
	if len(facts) != 3 || facts[2].Odd != 1 || facts[0].Odd+facts[1].Odd != 0 || facts[2].Contradicts != 1 {
		t.Fatalf("%+v", facts)
	}
	if p := facts[2].PriorPercentile; p < 0.9 || p > 0.96 {
		t.Errorf("prior percentile %g, want about 0.93", p)
	}
	if p := facts[2].OthersPercentile; p < 0.9999 {
		t.Errorf("after the others %g, want nearly 1", p)
	}
}

// The order of the facts and the number of workers change nothing.
func TestFactsInAnyOrder(t *testing.T) {
	text := func(first, second string) string {
		return "format: 1\nmodel: formulas\ninputs: {x: {normal: {mean: 0, sd: 1}}, u: {between: [0, 1]}}\noutputs: {y: {formula: x}, z: {formula: x + u}}\n" +
			"claims: {c: {holds: z >= 2}}\nindices: none\nmeasured: [" + first + ", " + second + "]\n"
	}
	one, two := "{of: y, normal: {mean: 1, sd: 0.5}}", "{of: z, student: {freedom: 5, middle: 1.5, scale: 0.3}}"
	a, b := quick(t, 4096), quick(t, 4096)
	a.Workers, b.Workers = 1, 5
	mustRun(t, write(t, text(one, two)), a)
	mustRun(t, write(t, text(two, one)), b)
	_, _, first, _ := evidenceOf(t, a.Out)
	_, _, second, _ := evidenceOf(t, b.Out)
	for name, r := range first {
		if s := second[name]; math.Abs(r.Mean-s.Mean) > 1e-14*math.Abs(r.Mean) || math.Abs(r.P50-s.P50) > 1e-14 {
			t.Errorf("%s: %v and %v", name, r.Mean, s.Mean)
		}
	}
}
