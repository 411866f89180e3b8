package jobs_test

import (
	"math"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// gum is an example of JCGM 101:2008, clause 9. The values were computed apart
// from this program, in closed form or by quadrature (9.5's interval from 4e7
// rows of another generator, standard error 0.03 nm). The published figures are
// recalled from memory, not read from the document.
type gum struct {
	study               string
	mean, u, low, high  float64 // low and high: symmetric coverage interval
	shortLow, shortHigh float64 // shortest one; both 0 where it is the symmetric
	tolerance           float64 // clause 7.9.2: half a unit of the second digit of u
	published           [4]float64
	publishedShortest   bool
	publishedWithin     float64 // what its own noise and rounding explain
}

var gumExamples = []gum{
	{study: "9.2.2", u: 2, low: -3.919927969080108, high: 3.919927969080108, tolerance: 0.05,
		published: [4]float64{0, 2.0, -3.92, 3.92}, publishedWithin: 0.05},
	{study: "9.2.3", u: 2, low: -3.879406741347821, high: 3.879406741347821, tolerance: 0.05,
		published: [4]float64{0, 2.0, -3.88, 3.88}, publishedWithin: 0.05},
	{study: "9.2.4", u: 10.148891565092219, low: -17.015814099866675, high: 17.015814099866675, tolerance: 0.5,
		published: [4]float64{0, 10.15, -17.0, 17.0}, publishedWithin: 0.05},
	{study: "9.3", mean: 1.234, u: 0.0754797, low: 1.0844333, high: 1.3835667, tolerance: 0.0005,
		published: [4]float64{1.2341, 0.0754, 1.0834, 1.3825}, publishedWithin: 0.0015}, // 1e5 rows
	{study: "9.4-0", mean: 5e-5, u: 5e-5, low: 0.000001266, high: 0.000184444, shortLow: 0, shortHigh: 0.0001498, tolerance: 5e-7,
		published: [4]float64{0.000050, 0.000050, 0, 0.000150}, publishedShortest: true, publishedWithin: 1e-6},
	{study: "9.4-10", mean: 0.00015, u: 0.00011180339887498948, low: 0.000008547, high: 0.000427123, shortLow: 0, shortHigh: 0.0003660, tolerance: 5e-6,
		published: [4]float64{0.000150, 0.000112, 0, 0.000367}, publishedShortest: true, publishedWithin: 2e-6},
	{study: "9.4-50", mean: 0.00255, u: 0.0005024937810560445, low: 0.001638477, high: 0.003603358, shortLow: 0.0015936, shortHigh: 0.0035486, tolerance: 5e-6,
		published: [4]float64{0.002550, 0.000502, 0.001590, 0.003543}, publishedShortest: true, publishedWithin: 3e-5},
	{study: "9.5", mean: 838, u: 35.808079, low: 744.3150, high: 931.6074, tolerance: 0.5,
		published: [4]float64{838, 36, 745, 932}, publishedWithin: 1},
}

// TestGUMExamples runs each example as a study and holds mean, standard
// uncertainty and coverage interval against the computed values within the
// guide's own numerical tolerance, and against the published ones.
func TestGUMExamples(t *testing.T) {
	for _, g := range gumExamples {
		o := quick(t, 0)
		mustRun(t, studies+"gum-"+g.study+".yaml", o)
		summary, err := result.ReadTable(filepath.Join(o.Out, result.SummaryTable))
		if err != nil {
			t.Fatal(err)
		}
		row := rowOf(t, summary, "output", "y")
		check := func(column string, want, within float64, what string) {
			if got := cell(summary, column, row); !(math.Abs(got-want) <= within) {
				t.Errorf("%s: %s is %.9g, %s %.9g within %.2g", g.study, column, got, what, want, within)
			}
		}
		check("mean", g.mean, g.tolerance, "computed")
		check("sd", g.u, g.tolerance, "computed")
		check("cover_low", g.low, g.tolerance, "computed")
		check("cover_high", g.high, g.tolerance, "computed")
		low, high := "cover_low", "cover_high"
		if g.publishedShortest {
			low, high = "shortest_low", "shortest_high"
			check(low, g.shortLow, g.tolerance, "computed")
			check(high, g.shortHigh, g.tolerance, "computed")
		}
		check("mean", g.published[0], g.publishedWithin, "published")
		check("sd", g.published[1], g.publishedWithin, "published")
		check(low, g.published[2], g.publishedWithin, "published")
		check(high, g.published[3], g.publishedWithin, "published")
		t.Logf("%s: %.7g %.7g, [%.7g, %.7g], shortest [%.7g, %.7g]", g.study, cell(summary, "mean", row), cell(summary, "sd", row),
			cell(summary, "cover_low", row), cell(summary, "cover_high", row), cell(summary, "shortest_low", row), cell(summary, "shortest_high", row))
	}
}
