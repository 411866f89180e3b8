package plan_test

import (
	"math"
	"math/bits"
	"strconv"
	"strings"
	"testing"

	"proofmass/jobs/plan"
)

// Index rows of sobol and halton are 16 times a power of two, no more runs than
// at_most allows; those of latin_low_correlation are latin, which it says.
func TestIndexRowsSuitTheDesign(t *testing.T) {
	for _, design := range []string{"sobol", "halton", "latin", "random", "latin_low_correlation"} {
		for _, most := range []int{64, 100, 1000, 5000, 1_000_000} {
			p := planOf(t, formulas+"sample: {rows: 1024, design: "+design+"}\nindices: {half_width: 0.02, at_most: "+strconv.Itoa(most)+"}\n")
			each := p.Index.Rows / plan.Replicates
			runs := p.Index.Most * p.Index.Rows * p.Index.Each()
			if runs > most || p.Index.Rows%plan.Replicates != 0 {
				t.Errorf("%s: %d rows, %d runs of %d", design, p.Index.Rows, runs, most)
			}
			if (design == "sobol" || design == "halton") && bits.OnesCount(uint(each)) > 1 {
				t.Errorf("%s: %d rows a replicate, no power of two", design, each)
			}
			if most >= 100 && p.Index.Rows == 0 {
				t.Errorf("%s: no index rows with %d runs", design, most)
			}
			want := design
			if design == "latin_low_correlation" {
				want = "latin"
				if p.Index.Rows > 0 && !strings.Contains(p.Note(), "their design is latin") {
					t.Errorf("nothing says that the index rows of %s are latin", design)
				}
			}
			if p.Index.Rows > 0 && p.Index.Design.Name() != want {
				t.Errorf("the index rows of %s are %s", design, p.Index.Design.Name())
			}
		}
	}
}

// Columns are numbered in the order of the study: the first input has the first
// dimension, whatever the order in which outputs read them.
func TestDesignColumnsGoByPosition(t *testing.T) {
	first := planOf(t, strings.Replace(formulas, "z: x * y, w: x + 1", "w: y + x", 1)+"indices: none\nsample: {rows: 1024, design: sobol}\n")
	other := planOf(t, strings.Replace(formulas, "z: x * y, w: x + 1", "w: x + y", 1)+"indices: none\nsample: {rows: 1024, design: sobol}\n")
	a, b := make([]float64, 64), make([]float64, 64)
	for _, name := range []string{"x", "y"} {
		first.Design.Fill(a, plan.PurposeSample, name, 0, 3, 0)
		other.Design.Fill(b, plan.PurposeSample, name, 0, 3, 0)
		for i := range a {
			if a[i] != b[i] || math.IsNaN(a[i]) {
				t.Fatalf("%s, row %d: %v and %v", name, i, a[i], b[i])
			}
		}
	}
}
