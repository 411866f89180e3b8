//go:build long

package jobs_test

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// Intervals of samples that grew until they were narrow enough still hold the true
// values, though a half-width is by chance small when it ends the growth: y is
// normal with mean 0 and variance 2. 150 seeds; the limit is 132 of 150, below which
// 95 % intervals fall with a chance of 2e-4 a count.
func TestGrownIntervalsCover(t *testing.T) {
	const seeds = 150
	truth := map[string]float64{"p05": -1.6448536269514722 * math.Sqrt2, "p50": 0, "p95": 1.6448536269514722 * math.Sqrt2}
	chance := math.Erfc(1/2.0) / 2 // y > 1
	for design, sample := range map[string]string{"latin": "{chance: 0.0022, percentiles: 0.35 %}", "random": "{chance: 0.0032, percentiles: 0.55 %}"} {
		covered, rounds := map[string]int{}, 0
		for seed := range seeds {
			o := quick(t, 0)
			text := fmt.Sprintf(`format: 1
model: formulas
inputs: {a: {normal: {mean: 0, sd: 1}}, b: {normal: {mean: 0, sd: 1}}}
outputs: {y: a + b}
claims: {large: {holds: y > 1}}
indices: none
sample: {half_width: %s, at_most: 2_000_000, design: %s, seed: %d}
`, sample, design, seed)
			rounds += mustRun(t, write(t, text), o).Answer.Run.Stopping.Rounds
			summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
			if err != nil {
				t.Fatal(err)
			}
			row := rowOf(t, summary, "output", "y")
			for name, want := range truth {
				if cell(summary, name+"_low", row) <= want && want <= cell(summary, name+"_high", row) {
					covered[name]++
				}
			}
			claims, _ := result.ReadTable(filepath.Join(o.Out, result.ClaimsTable))
			if cell(claims, "chance_low", 0) <= chance && chance <= cell(claims, "chance_high", 0) {
				covered["chance"]++
			}
		}
		t.Logf("%s: %.1f rounds, covered %v of %d", design, float64(rounds)/seeds, covered, seeds)
		for _, name := range []string{"p05", "p50", "p95", "chance"} {
			if covered[name] < 132 {
				t.Errorf("%s: %s covered in %d of %d", design, name, covered[name], seeds)
			}
		}
	}
}
