package jobs_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
	"proofmass/sampling/design"
)

// Every index of Ishigami's function, and its mean, lies within the interval
// printed for it. Each holds with chance 0.95 by construction; the seed is fixed.
func TestIshigami(t *testing.T) {
	o := quick(t, 0)
	mustRun(t, studies+"ishigami.yaml", o)
	summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	row := rowOf(t, summary, "output", "y")
	within(t, "mean", 3.5, cell(summary, "mean_low", row), cell(summary, "mean_high", row))
	if width := cell(summary, "mean_high", row) - cell(summary, "mean_low", row); width > 0.01 { // random: 0.11
		t.Errorf("the interval of the mean is %.4f wide: sobol gives no more than random", width)
	}
	if sd := cell(summary, "sd", row); math.Abs(sd/math.Sqrt(13.844588)-1) > 0.005 {
		t.Errorf("sd %.5f, want %.5f", sd, math.Sqrt(13.844588))
	}
	indices, err := result.ReadTable(filepath.Join(o.Out, result.IndicesTable))
	if err != nil {
		t.Fatal(err)
	}
	exact := map[string]float64{"second x1": 0.243684, "first x1": 0.313905, "first x2": 0.442411, "first x3": 0, "total x1": 0.557589, "total x2": 0.442411, "total x3": 0.243684}
	for i, order := range indices.Column("order").Texts {
		name := order + " " + indices.Column("input").Texts[i]
		want, known := exact[name]
		if !known || indices.Column("method").Texts[i] != "swapped_both_ways" {
			continue // from the sample's rows
		}
		near(t, name, want, cell(indices, "low", i), cell(indices, "high", i))
		delete(exact, name)
	}
	if len(exact) > 0 {
		t.Errorf("no row for %v", exact)
	}
}

// A study of each design gives the same bytes whatever the workers, says what it
// rounded and which design it is.
func TestEveryDesignRuns(t *testing.T) {
	for _, design := range design.Names() {
		text := fmt.Sprintf("format: 1\nstudy: d\nmodel: formulas\ninputs: {x: {between: [0, 1]}, y: {normal: {mean: 1, sd: 0.1}}}\noutputs: {z: x * y}\nsample: {rows: 1500, design: %s}\nindices: {half_width: 0.05}\n", design)
		path := write(t, text)
		var want map[string][]byte
		for _, workers := range []int{1, 3} {
			o := quick(t, 0)
			o.Workers = workers
			a := mustRun(t, path, o).Answer
			if a.Run.Design != design {
				t.Errorf("%s: the answer says %q", design, a.Run.Design)
			}
			rounded := map[string]int64{"latin": 1504, "random": 1500, "sobol": 2048, "halton": 2048, "latin_low_correlation": 1504}[design]
			if int64(a.Run.Rows) != rounded || strings.Contains(a.Run.Note, "Rows asked for: 1500") != (rounded != 1500) {
				t.Errorf("%s: %d rows, note %q; want %d", design, a.Run.Rows, a.Run.Note, rounded)
			}
			files := jobs.TablesOf(t, o.Out)
			for name, data := range files {
				if want != nil && !bytes.Equal(data, want[name]) {
					t.Errorf("%s: %s differs with %d workers", design, name, workers)
				}
			}
			want = files
		}
	}
}

// What a design cannot do is refused when the study is checked, with what is
// allowed.
func TestDesignsRefuse(t *testing.T) {
	var inputs, terms []string
	for i := range 129 {
		inputs, terms = append(inputs, fmt.Sprintf("x%d: {between: [0, 1]}", i)), append(terms, fmt.Sprintf("x%d", i))
	}
	many := "format: 1\nstudy: d\nmodel: formulas\ninputs: {" + strings.Join(inputs, ", ") + "}\noutputs: {z: " + strings.Join(terms, " + ") + "}\n"
	for _, c := range []struct{ text, says string }{
		{many + "sample: {rows: 1024, design: sobol}\n", "128 inputs with variance-based indices, 256 without"},
		{many + "sample: {rows: 1024, design: halton}\n", "128 inputs with variance-based indices, 256 without"},
		{many + "sample: {rows: 1024, design: latin_low_correlation}\n", "takes more rows in each of its 16 replicates than it has columns: at least 2080"},
		{many + "sample: {rows: 20_000, design: latin_low_correlation}\n", "at most 2000 rows, or another design"},
	} {
		_, err := inspect.Check(write(t, c.text), study.Options{})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("got %v, want ... %s", err, c.says)
		}
		var wrong study.Errors
		if !errors.As(err, &wrong) || wrong[0].Line == 0 && wrong[0].Field != "sample.rows" {
			t.Errorf("%v is no mistake with a place", err)
		}
	}
	if _, err := inspect.Check(write(t, many+"sample: {rows: 1024, design: sobol}\nindices: none\n"), study.Options{}); err != nil {
		t.Error(err)
	}
	f, err := inspect.Check(write(t, many+"sample: {rows: 1024, design: halton}\nindices: none\n"), study.Options{})
	if err != nil || !strings.Contains(f.Note, "position in the study") ||
		!slices.ContainsFunc(f.Odd, func(s string) bool { return strings.Contains(s, "poorly") }) {
		t.Errorf("%v; nothing says how a halton design is numbered or how many inputs it is good for", err)
	}
}

// Sizes at the ends: 500 inputs and 500 outputs, one input, two rows; a check of 1e9
// rows answers at once.
func TestSizes(t *testing.T) {
	formulas := func(inputs, outputs int, rest string) string {
		var in, out []string
		for i := range inputs {
			in = append(in, fmt.Sprintf("  x%d: {between: [0, %d]}", i, i+1))
		}
		for o := range outputs {
			out = append(out, fmt.Sprintf("  y%d: sin(x%d) + x%d^1.5 * atan2(x0, 1)", o, o%inputs, (o+7)%inputs))
		}
		return "format: 1\nstudy: sizes\nmodel: formulas\ninputs:\n" + strings.Join(in, "\n") + "\noutputs:\n" + strings.Join(out, "\n") + "\n" + rest
	}
	for name, text := range map[string]string{
		"250 inputs, 250 outputs": formulas(250, 250, "sample: {rows: 512}\nindices: none\n"),
		"one input":               formulas(1, 1, "sample: {rows: 512}\nindices: {half_width: 0.1}\n"),
		"two rows":                formulas(3, 2, "sample: {rows: 2, design: random}\nindices: none\n"),
		"two rows, latin":         formulas(3, 2, "sample: {rows: 2}\nindices: none\n"),
	} {
		o := quick(t, 0)
		mustRun(t, write(t, text), o)
		if _, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, design := range []string{"latin", "random", "sobol", "halton"} {
		path := write(t, formulas(5, 5, "sample: {rows: 1e9, design: "+design+"}\n"))
		began := time.Now()
		f, err := inspect.Check(path, study.Options{})
		if err != nil || f.Rows < 1e9 {
			t.Fatalf("%s: %d rows, %v", design, f.Rows, err)
		}
		t.Logf("%s: check of %d rows took %v", design, f.Rows, time.Since(began))
	}
}
