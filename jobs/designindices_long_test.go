//go:build long

package jobs_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// TestDesignIndices: of 150 seeded runs of Ishigami's function with 16,384 base rows
// (16,400 where the design takes that), how many intervals of an index hold the exact
// value, and how wide they are, for every design that makes index rows. With a
// chance of 0.95 each, fewer than 133 come in 0.05 % of cases (binomial), 1.3 %
// over all 24 counts. Seeds are fixed, so it passes always or never.
func TestDesignIndices(t *testing.T) {
	const trials, fewest = 150, 133
	exact := map[string]float64{"first x1": 0.313905, "first x2": 0.442411, "first x3": 0, "total x1": 0.557589, "total x2": 0.442411, "total x3": 0.243684}
	text, err := os.ReadFile(studies + "ishigami.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, design := range []string{"latin", "random", "sobol", "halton"} {
		path := write(t, strings.NewReplacer("design: sobol", "design: "+design, "rows: 16_384", "rows: 512", "at_most: 400_000", "at_most: 82_000").Replace(string(text)))
		inside, width := map[string]int{}, map[string]float64{}
		for seed := range uint64(trials) {
			o := quick(t, 0)
			o.Study.Seed = &seed
			mustRun(t, path, o)
			indices, err := result.ReadTable(filepath.Join(o.Out, result.IndicesTable))
			if err != nil {
				t.Fatal(err)
			}
			for i, order := range indices.Column("order").Texts {
				name := order + " " + indices.Column("input").Texts[i]
				low, high := cell(indices, "low", i), cell(indices, "high", i)
				if low <= exact[name] && exact[name] <= high {
					inside[name]++
				}
				width[name] += (high - low) / trials
			}
		}
		for name := range exact {
			t.Logf("| %-6s | %s | %3d | %.4f |", design, name, inside[name], width[name])
			if inside[name] < fewest {
				t.Errorf("%s, %s: %d of %d intervals hold the exact value, fewest allowed %d", design, name, inside[name], trials, fewest)
			}
		}
	}
}
