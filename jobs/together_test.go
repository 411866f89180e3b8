package jobs_test

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// JCGM 101:2008, 9.4 with r = 0.9. Means and standard uncertainties were computed in
// closed form, intervals by quadrature over the rotated normals, apart from this
// program. The tolerance is that of clause 7.9.2, half a unit of the second digit of u.
func TestComparisonLossDependent(t *testing.T) {
	o := quick(t, 0)
	answer := mustRun(t, studies+"gum-comparison-loss-dependent.yaml", o).Answer
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		output                                      string
		mean, u, low, high, shortLow, shortHigh, by float64
	}{
		{"y0", 5e-5, 6.7268120235368551586e-5, 0.000000561, 0.000241217, 0, 0.0001851, 5e-7},
		{"y10", 0.00015, 0.00012051970793193949655, 0.000029081, 0.000478311, 0.0000127, 0.0003975, 5e-6},
		{"y50", 0.00255, 0.00050450470760935422613, 0.001696858, 0.003659796, 0.0016244, 0.0035547, 5e-6},
	} {
		row := rowOf(t, summary, "output", c.output)
		for column, want := range map[string]float64{"mean": c.mean, "sd": c.u, "cover_low": c.low, "cover_high": c.high} {
			if got := cell(summary, column, row); !(math.Abs(got-want) <= c.by) {
				t.Errorf("%s: %s is %.9g, want %.9g within %.2g", c.output, column, got, want, c.by)
			}
		}
		// The place of the shortest interval is noisier than its ends are (see gum-9.4-50).
		for column, want := range map[string]float64{"shortest_low": c.shortLow, "shortest_high": c.shortHigh} {
			if got := cell(summary, column, row); !(math.Abs(got-want) <= 3*c.by) {
				t.Errorf("%s: %s is %.9g, want %.9g within %.2g", c.output, column, got, want, 3*c.by)
			}
		}
		t.Logf("%s: %.7g %.7g, [%.7g, %.7g], shortest [%.7g, %.7g]", c.output, cell(summary, "mean", row), cell(summary, "sd", row),
			cell(summary, "cover_low", row), cell(summary, "cover_high", row), cell(summary, "shortest_low", row), cell(summary, "shortest_high", row))
	}
	if tied := answer.Assumed.Tied; len(tied) != 1 || tied[0].Achieved == nil || math.Abs(*tied[0].Achieved-tied[0].Wanted) > 0.004 {
		t.Errorf("tied: %+v", tied)
	}
}

const linear = `format: 1
model: formulas
inputs:
  a: {normal: {mean: 1, sd: 1}, source: invented}
  b: {normal: {mean: 2, sd: 2}, source: invented}
  c: {normal: {mean: 3, sd: 1.5}, source: invented}
  d: {normal: {mean: 0, sd: 1}, source: invented}
together: [{inputs: [a, c], spearman: -0.5}]
outputs: {y: a + b + c + d}
`

// A linear function of normal inputs, a and c tied: the group's index is its share
// of the variance, var(a + c) = 1 + 2.25 + 2 r 1.5 with r = 2 sin(-pi/12); first and
// total are the same. Shapley effects give a its own variance and half of what it has in
// common with c, less half of what the tie takes from both (Owen and Prieur, 2017,
// SIAM/ASA J. Uncertain. Quantif. 5): 1 (1 - r^2/2) + r 1.5 + 2.25 r^2/2. The tornado
// moves c to its conditional median given a, so a's bar is (1 + 1.5 r) 2 z95. The
// tolerance is the stated half-width and half as much again: it is that of a 95 %
// interval of the largest of ten, so less than 1 in 300 is beyond.
func TestIndicesOfTiedInputs(t *testing.T) {
	r := 2 * math.Sin(-math.Pi/12)
	both := 1 + 2.25 + 2*r*1.5
	all := both + 4 + 1
	swapped := map[string]float64{"a + c": both / all, "b": 4 / all, "d": 1 / all}
	shapley := map[string]float64{"a": (1 + r*1.5 + (2.25-1)*r*r/2) / all, "c": (2.25 + r*1.5 + (1-2.25)*r*r/2) / all, "b": 4 / all, "d": 1 / all}
	for _, design := range []string{"latin", "sobol", "halton", "random"} {
		o := quick(t, 0)
		answer := mustRun(t, write(t, linear+"sample: {rows: 16_384, design: "+design+"}\nindices: {half_width: 0.02, at_most: 400_000}\n"), o).Answer
		tablesOfTied(t, design, o.Out, swapped, (1+1.5*r)*2*1.6448536269514722)
		got := answer.Decides[0].Inputs
		if len(got) != 4 {
			t.Fatalf("%s: %d inputs decide, want 4: %+v", design, len(got), got)
		}
		for _, s := range got {
			if s.Order != "shapley" || math.Abs(*s.Share-shapley[s.Input]) > 0.03 {
				t.Errorf("%s: %s has the %s share %.3f, want %.3f by Shapley", design, s.Input, s.Order, *s.Share, shapley[s.Input])
			}
		}
		if pair := answer.Assumed.Tied[0]; pair.Input != "a" || pair.Other != "c" || math.Abs(*pair.Achieved+0.5) > 5*0.8/math.Sqrt(16_384) {
			t.Errorf("%s: a and c achieve %v", design, *pair.Achieved)
		}
		warned := false
		for _, c := range answer.Cautions {
			warned = warned || strings.Contains(c, "a, c are tied")
		}
		if !warned {
			t.Errorf("%s: nothing says that a and c are tied: %q", design, answer.Cautions)
		}
	}
}

// tablesOfTied looks at the group's indices and its bar, and that tied inputs have no
// index of their own but the one that says so.
func tablesOfTied(t *testing.T, design, folder string, want map[string]float64, full float64) {
	t.Helper()
	indices, err := result.ReadTable(filepath.Join(folder, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	for i, order := range indices.Column("order").Texts {
		input, method := indices.Column("input").Texts[i], indices.Column("method").Texts[i]
		if order != "first" && order != "total" || method == "classes" {
			if order == "first" && (input == "a" || input == "c") {
				t.Errorf("%s: %s has an index of its own", design, input)
			}
			continue
		}
		share, known := want[input]
		if got := cell(indices, "estimate", i); !known || math.Abs(got-share) > 0.03 {
			t.Errorf("%s: %s has %s %.3f, want %.3f", design, input, order, got, share)
		}
	}
	tornado, err := result.ReadTable(filepath.Join(folder, result.TornadoTable))
	if err != nil {
		t.Fatal(err)
	}
	row := rowOf(t, tornado, "input", "a + c")
	if bar := cell(tornado, "swing", row); math.Abs(bar-full) > 1e-12 {
		t.Errorf("%s: the bar of a + c is %.15g, want %.15g", design, bar, full)
	}
}

// Tying two inputs leaves the draws of all others as they were, and of the
// lead to rounding.
func TestTyingLeavesOthersAlone(t *testing.T) {
	free, tied := quick(t, 1024), quick(t, 1024)
	mustRun(t, write(t, strings.Replace(linear, "together: [{inputs: [a, c], spearman: -0.5}]\n", "", 1)+"indices: none\n"), free)
	mustRun(t, write(t, linear+"indices: none\n"), tied)
	read := func(o jobs.Options, name string) []float64 {
		s, err := result.OpenSlices([]string{filepath.Join(o.Out, "samples/0000/slice-00000003.parquet")})
		if err != nil {
			t.Fatal(err)
		}
		x, err := s.Read(name, nil)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for name, within := range map[string]float64{"a": 1e-13, "b": 0, "d": 0} {
		x, y := read(free, name), read(tied, name)
		for i := range x {
			if math.Abs(x[i]-y[i]) > within {
				t.Fatalf("%s, row %d: %v free, %v tied", name, i, x[i], y[i])
			}
		}
	}
}

// One of several values cannot have the rank correlation that its score has: it is
// warned of, and what the draws have is told.
func TestTiedSingleValues(t *testing.T) {
	text := strings.Replace(linear, "c: {normal: {mean: 3, sd: 1.5}, source: invented}", "c: {one_of: [1, 2], source: invented}", 1) + "indices: none\n"
	f, err := inspect.Check(write(t, text), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if odd := strings.Join(f.Odd, "\n"); !strings.Contains(odd, "Tied inputs of single values (c)") || f.Inputs != 4 {
		t.Errorf("%d inputs, odd: %s", f.Inputs, odd)
	}
	answer := mustRun(t, write(t, text), quick(t, 16_384)).Answer
	// c is 2 where its score w is above 0. With r the correlation of the scores and
	// w' a score of its own, P(w' < w1, w > 0) = 1/4 + asin(r/sqrt 2)/(2 pi) (Sheppard,
	// 1899), so the correlation of the ranks is sqrt(12)/pi asin(r/sqrt 2). Within 4 standard errors
	// of independent rows: false alarm 6e-5.
	want := math.Sqrt(12) / math.Pi * math.Asin(2*math.Sin(-math.Pi/12)/math.Sqrt2)
	if got := *answer.Assumed.Tied[0].Achieved; math.Abs(got-want) > 4/math.Sqrt(16_384) {
		t.Errorf("achieved %v, want %v and not the -0.5 stated", got, want)
	}
}

// What cannot be is refused by check and run alike, with its place.
func TestImpossibleIsAStudyError(t *testing.T) {
	path := write(t, strings.Replace(linear, "[{inputs: [a, c], spearman: -0.5}]", "[{inputs: [a, b, c], spearman: -0.7}]", 1))
	var errs study.Errors
	if _, err := inspect.Check(path, study.Options{}); !errors.As(err, &errs) || errs[0].Line != 8 || !strings.Contains(err.Error(), "at least -0.482") {
		t.Errorf("check: %v", err)
	}
	if _, err := jobs.Run(context.Background(), path, quick(t, 0)); !errors.As(err, &errs) {
		t.Errorf("run: %v", err)
	}
}
