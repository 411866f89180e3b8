package jobs_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// manyInputs is y = 3 x1 + 4 x2 x3 + 0.001 (x4 + ... + x60), all uniform on (0, 1):
// variances 9/12, 16 * 7/144 and 57e-6/12.
func manyInputs(more string) string {
	var inputs, sum []string
	for i := range 60 {
		inputs = append(inputs, fmt.Sprintf("x%d: {between: [0, 1]}", i+1))
		if i >= 3 {
			sum = append(sum, fmt.Sprintf("x%d", i+1))
		}
	}
	return "format: 1\nstudy: many\nmodel: formulas\ninputs: {" + strings.Join(inputs, ", ") +
		"}\noutputs: {y: 3 * x1 + 4 * x2 * x3 + 0.001 * (" + strings.Join(sum, " + ") + ")}\nsample: {rows: 4096, seed: 3}\n" + more
}

// Above 50 inputs screening sets aside what does next to nothing: no runs of its own,
// a total index from the screening rows, and all such together as one group that shows
// that nothing was lost.
func TestScreeningSetsAside(t *testing.T) {
	path := write(t, manyInputs(""))
	o := quick(t, 0)
	mustRun(t, path, o)
	indices, err := result.ReadTable(filepath.Join(o.Out, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	v := 9.0/12 + 16*7.0/144
	exact := map[string]float64{"total x1": 9.0 / 12 / v, "first x1": 9.0 / 12 / v, "total x2": 4.0 / 7 * 16 * 7 / 144 / v, "first x2": 3.0 / 7 * 16 * 7 / 144 / v, "group_total others": 57e-6 / 12 / v}
	count := map[string]int{}
	for i, order := range indices.Column("order").Texts {
		method, input := indices.Column("method").Texts[i], indices.Column("input").Texts[i]
		count[method+" "+order]++
		if want, known := exact[order+" "+input]; known && method == "swapped_both_ways" {
			near(t, order+" "+input, want, cell(indices, "low", i), cell(indices, "high", i))
		}
	}
	for what, want := range map[string]int{"swapped_both_ways total": 3, "screened total": 57, "swapped_both_ways group_total": 1,
		"elementary_effects mean_absolute_effect": 60, "classes first": 60, "swapped_both_ways second": 1} {
		if count[what] != want {
			t.Errorf("%d rows of %s, want %d", count[what], what, want)
		}
	}
}

// check finds out what screening saves; a study may ask for screening or refuse it.
func TestCheckSaysWhatScreeningSaves(t *testing.T) {
	forecast := func(text string) *inspect.Forecast {
		f, err := inspect.Check(write(t, text), study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	many := forecast(manyInputs(""))
	if s := many.Screening; s == nil || s.Inputs != 60 || s.SetAside != 57 || s.Runs != 256*61 || s.Saved != many.IndexRows*2*56 {
		t.Errorf("screening %+v of %d base rows", s, many.IndexRows)
	}
	whole := forecast(manyInputs("indices: {screen: no}\n"))
	if whole.Screening != nil || whole.Runs-many.Runs != many.Screening.Saved-many.Screening.Runs {
		t.Errorf("%d runs without screening, %d with it, which claims to save %d for %d", whole.Runs, many.Runs, many.Screening.Saved, many.Screening.Runs)
	}
	const two = "format: 1\nstudy: two\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}\noutputs: {y: a + b}\n"
	if f := forecast(two); f.Screening != nil {
		t.Errorf("two inputs are screened: %+v", f.Screening)
	}
	if f := forecast(two + "indices: {screen: yes}\n"); f.Screening == nil || f.Screening.SetAside != 0 || f.Screening.Saved != 0 {
		t.Errorf("screening asked for: %+v", f.Screening)
	}
}

// Without any run for indices every output still says what it depends on.
func TestIndicesNoneStillRanks(t *testing.T) {
	o := quick(t, 0)
	a := mustRun(t, write(t, manyInputs("indices: none\nclaims: {large: {holds: y >= 3}}\n")), o).Answer
	if len(a.Decides) == 0 || a.Decides[0].Inputs[0].Input != "x1" || a.Decides[0].Inputs[0].Order != "first" || a.Run.IndexRuns != 0 {
		t.Fatalf("%+v", a.Decides)
	}
	if !strings.Contains(a.Claims[0].HangsOn, "hangs on x1 (") {
		t.Errorf("the claim hangs on %q", a.Claims[0].HangsOn)
	}
}

// A screening that takes seconds is left to the run: check of 500 inputs that 500 outputs all
// read took 7 s, nearly all of them for it.
func TestCheckLeavesDearScreening(t *testing.T) {
	var s strings.Builder
	s.WriteString("format: 1\nstudy: dear\nmodel: formulas\ninputs:\n")
	for i := range 400 {
		fmt.Fprintf(&s, "  a%d: {between: [0, 1]}\n", i)
	}
	s.WriteString("outputs:\n  y0: a0")
	for i := 1; i < 400; i++ {
		fmt.Fprintf(&s, " + a%d", i)
	}
	for i := 1; i < 400; i++ {
		fmt.Fprintf(&s, "\n  y%d: y0 * a%d", i, i)
	}
	path := filepath.Join(t.TempDir(), "dear.yaml")
	if err := os.WriteFile(path, []byte(s.String()+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	f, err := inspect.Check(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if x := f.Screening; x == nil || !x.Left || x.SetAside != 0 || x.Saved != 0 {
		t.Errorf("screening of 400 inputs and outputs: %+v", x)
	}
}
