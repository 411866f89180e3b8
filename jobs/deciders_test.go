package jobs_test

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// indexRows calls look with every row of indices.parquet.
func indexRows(t *testing.T, folder string, look func(output, of, input, method, order string, estimate, low, high float64)) {
	t.Helper()
	indices, err := result.ReadTable(filepath.Join(folder, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	text := func(name string, row int) string { return indices.Column(name).Texts[row] }
	for i := range indices.Column("input").Texts {
		look(text("output", i), text("of", i), text("input", i), text("method", i), text("order", i), cell(indices, "estimate", i), cell(indices, "low", i), cell(indices, "high", i))
	}
}

// Screening looks at outputs and margins. An input that only a claim without a margin
// reads (two units under one `and`) is never set aside.
func TestScreeningKeepsWhatAClaimReadsAlone(t *testing.T) {
	text := strings.Replace(manyInputs("claims: {both: {holds: mass > 0.5 kg and length > 0.5 m}}\n"), "x1: {", "mass: {between: [0 kg, 1 kg]}, length: {between: [0 m, 1 m]}, x1: {", 1)
	o := quick(t, 0)
	a := mustRun(t, write(t, text), o).Answer
	totals := map[string]float64{}
	indexRows(t, o.Out, func(output, of, input, method, order string, estimate, low, high float64) {
		if output == "both" && of == "holds" && method == "swapped_both_ways" && order == "total" {
			totals[input] = estimate
		}
	})
	// p = 1/4, V = 3/16, E[Var(.|other)] = 1/2 * 1/4: the total of each is 2/3
	for _, input := range []string{"mass", "length"} {
		if math.Abs(totals[input]-2.0/3) > 0.1 {
			t.Errorf("%s has the total %.3f of the claim, want 0.667", input, totals[input])
		}
	}
	if !strings.Contains(a.Claims[0].HangsOn, "mass (") || !strings.Contains(a.Claims[0].HangsOn, "length (") {
		t.Errorf("%q", a.Claims[0].HangsOn)
	}
}

// y = a + 0.3 b^5, both normal: the size of y hangs on b's tails, whether it is above
// 0.5 on a. Words go by the yes or no.
func TestWordsGoByTheYesOrNo(t *testing.T) {
	a := mustRun(t, write(t, `format: 1
study: tails
model: formulas
inputs: {a: {normal: {mean: 0, sd: 1}}, b: {normal: {mean: 0, sd: 1}}}
outputs: {y: a + 0.3 * b^5}
claims: {above: {of: y, announced: 0.5, sense: at_least}, far: {of: y, announced: 30, sense: at_least}}
sample: {rows: 8192}
`), quick(t, 0)).Answer
	for i, want := range []string{"Whether above holds hangs on a (", "How clearly far holds or fails hangs on b (", "too seldom"} {
		if got := a.Claims[i].HangsOn; !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", a.Claims[i].Name, got, want)
		}
	}
}

// Of the product of two that are seldom 1, few rows have both: what so few rows show has
// no interval, not one of no width.
func TestWhatSeldomActsHasNoInterval(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, write(t, `format: 1
study: seldom
model: formulas
inputs: {a: {one_of: {0: 0.9, 1: 0.1}}, b: {one_of: {0: 0.98, 1: 0.02}}}
outputs: {y: a * b}
indices: {half_width: 0.05, at_most: 6000}
sample: {rows: 4096}
`), o)
	count := 0
	indexRows(t, o.Out, func(_, _, input, method, order string, estimate, low, high float64) {
		if method != "swapped_both_ways" || order == "second" {
			return
		}
		count++
		if low == high {
			t.Errorf("%s %s: %.4f in [%.4f, %.4f], an interval of no width", input, order, estimate, low, high)
		}
	})
	if count != 4 {
		t.Errorf("%d indices, want 4", count)
	}
}

// Given a single value the scores of what is tied to it are not normal: such a group
// shares as one.
func TestTiedSingleValuesShareAsOne(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, write(t, `format: 1
study: steps
model: formulas
inputs: {c: {one_of: [0, 1]}, d: {normal: {mean: 0, sd: 1}}, e: {normal: {mean: 0, sd: 1}}}
together: [{inputs: [c, d], spearman: 0.9}]
outputs: {y: d + e}
sample: {rows: 4096}
`), o)
	shares := map[string]float64{}
	indexRows(t, o.Out, func(_, _, input, _, order string, estimate, _, _ float64) {
		if order == "shapley" {
			shares[input] = estimate
		}
	})
	if len(shares) != 2 || math.Abs(shares["c + d"]-0.5) > 0.05 || math.Abs(shares["e"]-0.5) > 0.05 {
		t.Errorf("shares %v, want a half for c + d and for e", shares)
	}
}

// Too few runs for one row a replicate: what is asked is missed, and told.
func TestTooFewRunsAreTold(t *testing.T) {
	const text = "format: 1\nstudy: few\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}\noutputs: {y: a * b}\nsample: {rows: 4096}\nindices: {half_width: 0.01, at_most: %d}\n"
	for _, most := range []int{16, 64, 95} {
		outcome := mustRun(t, write(t, fmt.Sprintf(text, most)), quick(t, 0))
		if told := strings.Join(outcome.Answer.Cautions, "\n"); !outcome.Missed || !strings.Contains(told, "too few for sensitivity by swapped inputs, which takes at least 96") {
			t.Errorf("at most %d: missed %v, %q", most, outcome.Missed, told)
		}
	}
	if outcome := mustRun(t, write(t, fmt.Sprintf(text, 96)), quick(t, 0)); !outcome.Missed || outcome.Answer.Run.IndexRuns != 96 {
		t.Errorf("at most 96: missed %v, %d runs", outcome.Missed, outcome.Answer.Run.IndexRuns)
	}
}

// The claims' joint name stands for all of them, and runs never go beyond at_most,
// with screening, walks and pairs.
func TestIndicesOfAllClaims(t *testing.T) {
	o := quick(t, 0)
	text := strings.Replace(everyWay(), "at_most: 1_500_000", "at_most: 150_000, of: [all_claims], pairs: all", 1)
	a := mustRun(t, write(t, text), o).Answer
	if a.Run.IndexRuns > 150_000 || a.Run.IndexRuns < 50_000 {
		t.Errorf("%d runs of 150,000", a.Run.IndexRuns)
	}
	of := map[string]bool{}
	indexRows(t, o.Out, func(output, kind, _, _, _ string, _, _, _ float64) { of[kind+" "+output] = true })
	for _, want := range []string{"output y", "output root", "margin much", "margin both", "holds much", "holds both", "holds all_claims"} {
		if !of[want] {
			t.Errorf("no %s among %v", want, of)
		}
	}
}
