package jobs

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/sampling/portable"
)

// rareStudy has claims of known chances: Phi(-2.6) and 1 - Phi(-2.5) of two inputs tied, exp(-6), 0,
// and one half, of which plain draws tell enough.
const rareStudy = `format: 1
study: rare
model: formulas
inputs: {a: {normal: {mean: 0, sd: 1}}, b: {normal: {mean: 0, sd: 1}}, c: {between: [0, 1]}}
together: [{inputs: [a, b], spearman: 0.5}]
outputs: {y: a + b, w: -log(c)}
claims: {far: {holds: y >= 2.6 * 3.0352762 ^ 0.5}, nearly: {holds: y >= -2.5 * 3.0352762 ^ 0.5}, edge: {holds: w > 6}, never: {holds: c > 1.5}, half: {holds: y > 0}}
sample: {rows: 2048, seed: 3, rare: 1e-3}
indices: none
`

// The same bytes come from any number of workers, slices in any order and shares, and from runs
// that go on.
func TestRareClaimsHaveTheSameBytes(t *testing.T) {
	text := strings.Replace(rareStudy, "edge: {holds: w > 6}, never: {holds: c > 1.5}, ", "", 1)
	path, out := WriteStudy(t, strings.Replace(text, "rows: 2048", "rows: 512", 1)), filepath.Join(t.TempDir(), "out")
	kept := 0
	want := runInto(t, path, Options{Out: out, Workers: 1, kept: func(k plan.Key) error {
		if k.Kind == plan.Rare {
			kept++
		}
		return nil
	}})
	if kept < 2*3*16 {
		t.Errorf("%d slices of climbs", kept)
	}
	equalTables(t, "three workers, in reverse", runInto(t, path, Options{Out: filepath.Join(t.TempDir(), "out"), Workers: 3, order: reversed}), want)
	shares := filepath.Join(t.TempDir(), "shares")
	inShares(t, path, shares, 3, nil)
	equalTables(t, "in shares", TablesOf(t, shares), want)
	onAgain := filepath.Join(t.TempDir(), "again")
	for runs, left := 0, 0; ; runs++ {
		left = 25
		_, err := Run(t.Context(), path, Options{Out: onAgain, Workers: 2, kept: func(plan.Key) error {
			if left--; left < 0 {
				return errEnded
			}
			return nil
		}})
		if err == nil {
			if runs < 2 {
				t.Errorf("%d runs", runs)
			}
			break
		}
		if !errors.Is(err, errEnded) || runs > 100 {
			t.Fatal(err)
		}
	}
	equalTables(t, "stopped again and again", TablesOf(t, onAgain), want)
}

// Claims that next to no draw holds, or fails, get the chances that they have. A study whose texts
// alone change keeps the chances of its rare claims; it is told in words, and
// what is not asked for is not made.
func TestRareClaims(t *testing.T) {
	path, out := WriteStudy(t, rareStudy), filepath.Join(t.TempDir(), "out")
	first, err := Run(t.Context(), path, Options{Out: out})
	if err != nil {
		t.Fatal(err)
	}
	// Pearson's correlation of two normals with Spearman's 0.5 is 2 sin(pi/12).
	if variance := 2 + 4*math.Sin(math.Pi/12); math.Abs(variance-3.0352762) > 1e-6 {
		t.Errorf("variance %.8f", variance)
	}
	exact := map[string]float64{"far": portable.NormalCDF(-2.6), "nearly": portable.NormalCDF(2.5), "edge": math.Exp(-6)}
	for _, c := range RowsOf(t, result.Claims.Read, out) {
		p, rare := exact[c.Claim]
		switch {
		case c.Claim == "never":
			if c.Method != result.RareChance || c.Chance != 0 || c.ChanceLow != 0 || c.ChanceHigh > 2e-3 || c.ChanceHigh == 0 || c.Verdict != result.Falls {
				t.Errorf("%+v", c)
			}
		case !rare:
			if c.Method == result.RareChance {
				t.Errorf("%s is not rare, or has no margin: %+v", c.Claim, c)
			}
		default:
			half := (c.ChanceHigh - c.ChanceLow) / 2
			if c.Method != result.RareChance || math.Abs(c.Chance-p) > 2*half || half > 0.3*min(p, 1-p) {
				t.Errorf("%s: %g +- %g by %s, exact %g", c.Claim, c.Chance, half, c.Method, p)
			}
		}
	}
	for _, r := range RowsOf(t, result.Rare.Read, out) {
		if r.Used != r.Reached && r.Claim != "never" || r.Chance < r.Low || r.Chance > r.High || r.Populations != 16 {
			t.Errorf("%+v", r)
		}
	}
	before := RowsOf(t, result.Claims.Read, out)
	if err := os.WriteFile(path, []byte(strings.Replace(rareStudy, "claims: {far: {holds: y", "about: now with words\nclaims: {far: {note: looked at again, holds: y", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	again, err := Run(t.Context(), path, Options{Out: out})
	if err != nil || !again.Renewed {
		t.Fatalf("%v, renewed %v", err, again != nil && again.Renewed)
	}
	for i, c := range RowsOf(t, result.Claims.Read, out) {
		if b := before[i]; c.Chance != b.Chance || c.ChanceHigh != b.ChanceHigh || c.Method != b.Method {
			t.Errorf("renewed: %+v, before %+v", c, b)
		}
	}
	for what, a := range map[string]*report.Answer{"first": first.Answer, "renewed": again.Answer} {
		var full, short strings.Builder
		if err := errors.Join(a.Text(&full, report.TextOptions{Full: true}), a.Text(&short, report.TextOptions{})); err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{"HOW RARE IS IT?", "never holds in at most 1 in"} {
			if !strings.Contains(full.String(), text) {
				t.Errorf("%s: nothing says %q:\n%s", what, text, full.String())
			}
		}
		if text := strings.Join(strings.Fields(short.String()), " "); !strings.Contains(text, "edge falls: about 1 in") || !strings.Contains(text, "draws hold it, by draws that climb towards it") {
			t.Errorf("%s: %s", what, short.String())
		}
	}
	plain := filepath.Join(t.TempDir(), "plain")
	if _, err := Run(t.Context(), WriteStudy(t, strings.Replace(rareStudy, ", rare: 1e-3", "", 1)), Options{Out: plain}); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(plain, result.RareTable)); err == nil {
		t.Error("a table that nobody asked for")
	}
}
