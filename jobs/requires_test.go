package jobs

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// requiredOf runs a study with so many workers and gives the rows of its table.
func requiredOf(t *testing.T, text string, workers int) []result.RequiredRow {
	t.Helper()
	out := filepath.Join(t.TempDir(), "r")
	if _, err := Run(t.Context(), WriteStudy(t, text), Options{Out: out, Workers: workers}); err != nil {
		t.Fatal(err)
	}
	return RowsOf(t, result.Requires.Read, out)
}

const turning = `format: 1
study: turning
model: formulas
sample: {rows: 16384, seed: 5}
indices: none
inputs:
  a: {normal: {mean: 10, sd: 1}, unit: kg}
  b: {normal: {mean: 4, sd: 2}, unit: kg}
  pick: {one_of: {1: 0.3, 2: 0.7}}
  low: {between: [1 kg, 2 kg]}
  high: {between: [1 kg, 2 kg]}
outputs:
  both: {formula: 3 * a - 2 * b, unit: kg}
claims:
  light: {holds: both <= 14 kg}
  one: {holds: pick <= 1.5}
  never: {holds: low + high >= 6 kg}
  even: {holds: a >= 10.5 kg}
together:
  - {inputs: [a, b], spearman: SPEARMAN}
`

// TestRequires: two normals correlated by 0.5 (Spearman's 0.482584 by 6/pi asin(r/2)) and
// 3 a - 2 b <= 14 of mean 22 and variance 9 + 16 - 2 x 6 x 0.5 x 2 = 13: the nearest point lies
// 8/sqrt(13) = 2.2188 away, at mean + covariance x gradient x (14 - 22)/13: a = 10 - 8/13, b = 4
// + 40/13. A list with 1 in 3 of 10 holds from the score of 0.3 on, exactly: 0.52440. A sum of
// two that reach 4 never makes 6, which one alone does at 4.5. And a bare limit is where the
// chance of a's claim is one half. Another number of workers gives the same bits.
func TestRequires(t *testing.T) {
	text := strings.ReplaceAll(turning, "SPEARMAN", "0.48258373")
	rows := requiredOf(t, text, 1)
	if again := requiredOf(t, text, 2); !sameRequired(rows, again) {
		t.Error("two workers find something else")
	}
	found := map[string]result.RequiredRow{}
	for _, r := range rows {
		found[r.Claim+" "+r.Input] = r
	}
	near := func(what string, got, want, by float64) {
		t.Helper()
		if !(math.Abs(got-want) <= by) {
			t.Errorf("%s: %.9g, want %.9g", what, got, want)
		}
	}
	a, b := found["light a"], found["light b"]
	near("distance", a.PointDistance, 8/math.Sqrt(13), 1e-4)
	near("a", a.Needed, 10-8.0/13, 1e-3)
	near("b", b.Needed, 4+40.0/13, 1e-3)
	near("a's score", a.Distance, -8.0/13, 1e-3)
	near("b's percentile", b.Percentile, 0.93803, 1e-3)
	near("first order", a.FirstOrder, 0.013250, 1e-4)
	near("a alone", a.AloneAt, 22.0/3, 1e-6)
	one := found["one pick"]
	near("list", one.PointDistance, 0.5244005127080407, 1e-6)
	near("list's value", one.Needed, 1, 0)
	near("list's chance", one.FirstOrder, 0.3, 1e-6)
	never := found["never low"]
	if never.Method != result.OutOfReach || never.Turning != result.TurnsToHold {
		t.Errorf("never: %+v", never)
	}
	near("never's best", never.Margin, -2, 1e-2)
	near("low alone", never.AloneAt, 4.5, 1e-6)
	even := found["even a"]
	near("half", even.HalfAt, 10.5, 0.1)
	near("alone", even.AloneAt, 10.5, 1e-6)
}

// sameRequired compares bits, NaN as one number.
func sameRequired(x, y []result.RequiredRow) bool {
	plain := func(rows []result.RequiredRow) [][]any {
		var all [][]any
		for i := range rows {
			v := reflect.ValueOf(rows[i])
			var row []any
			for k := range v.NumField() {
				if f := v.Field(k); f.Kind() == reflect.Float64 {
					row = append(row, math.Float64bits(f.Float()))
				} else {
					row = append(row, f.Interface())
				}
			}
			all = append(all, row)
		}
		return all
	}
	return reflect.DeepEqual(plain(x), plain(y))
}
