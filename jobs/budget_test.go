package jobs

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/analyse"
	"proofmass/jobs/result"
)

// twenty is a study of 20 outputs, each of three inputs of which b has most.
func twenty(t *testing.T) string {
	t.Helper()
	var outputs []string
	for k := range 20 {
		outputs = append(outputs, fmt.Sprintf("y%d: a + %d * b + 0.5 * c", k, k+3))
	}
	return WriteStudy(t, "format: 1\nstudy: twenty\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [0, 1]}, c: {between: [0, 1]}}\n"+
		"outputs: {"+strings.Join(outputs, ", ")+"}\nsample: {rows: 1024, seed: 5}\nindices: none\n")
}

// figures counts the rows of the table of indices: what they are of, and their inputs.
func figures(t *testing.T, path string, budget analyse.Budget) (count, inputs map[string]int, cautions []string) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	done, err := Run(t.Context(), path, Options{Out: out, Workers: 1, budget: budget})
	if err != nil {
		t.Fatal(err)
	}
	rows := RowsOf(t, result.Indices.Read, out)
	count, inputs = map[string]int{}, map[string]int{}
	for _, r := range rows {
		count[string(r.Order)]++
		if r.Order == result.FirstOrder || r.Order == result.KSDistance {
			inputs[r.Input]++
		}
	}
	for _, c := range done.Answer.Cautions {
		if strings.HasPrefix(c, "To save time") {
			cautions = append(cautions, c)
		}
	}
	return count, inputs, cautions
}

// What a budget leaves out is the weakest pairs and the last outputs, and is said; what is
// within the budget says nothing.
func TestBudgetsOfGivenRows(t *testing.T) {
	path := twenty(t)
	if count, _, cautions := figures(t, path, analyse.Budget{}); count["first"] != 60 || count["ks_distance"] != 40 || count["src"] != 60 || count["r2"] != 20 || len(cautions) != 0 {
		t.Errorf("within the budget: %v, %q", count, cautions)
	}
	count, inputs, cautions := figures(t, path, analyse.Budget{Pairs: 20, Distances: 7, Steps: 1})
	if count["first"] != 20 || count["ks_distance"] != 7 || count["delta_distance"] != 7 || count["src"] != 3*16 || count["r2"] != 16 {
		t.Errorf("beyond the budget: %v", count)
	}
	if len(inputs) != 1 || inputs["b"] != 27 {
		t.Errorf("told of %v, want b alone, which has most of each output", inputs)
	}
	if all := strings.Join(cautions, "\n"); len(cautions) != 3 || !strings.Contains(all, "20 of 60 pairs") || !strings.Contains(all, "7 of 20 pairs") || !strings.Contains(all, "first 16 of 20") {
		t.Errorf("cautions:\n%s", all)
	}
}
