//go:build long

package jobs

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// TestRejectionOnTheDemo: conditioning on what was measured agrees with rejection. Draws of the
// demonstration without facts are kept with the chance that their likelihood has of the greatest
// (von Neumann 1951, NBS Appl. Math. Ser. 12); their means are those of the same study with the
// fact, by weights and where draws are moved, within 4 standard errors of both: a false alarm of
// other seeds in some 1000 runs.
func TestRejectionOnTheDemo(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"heron.yaml", "drum-cell.yaml"} {
		data, err := os.ReadFile(filepath.Join("..", "testdata", "studies", name))
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), data, 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(folder, "heron.yaml")
	plain, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(plain), "indices:", "x_indices:", 1)
	if text != string(plain) {
		t.Fatal("the demonstration asks for indices of its own")
	}
	run := func(more string, rows int, seed uint64) string {
		if err := os.WriteFile(path, []byte(text+"\nindices: none\n"+more), 0o666); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(t.TempDir(), "out")
		if _, err := Run(t.Context(), path, Options{Out: out, Study: study.Options{Rows: rows, Seed: &seed}}); err != nil {
			t.Fatal(err)
		}
		return out
	}
	before := run("", 65_536, 71)
	row := func(folder, name string) result.SummaryRow {
		for _, r := range RowsOf(t, result.Summary.Read, folder) {
			if r.Output == name {
				return r
			}
		}
		t.Fatalf("%s is not there", name)
		return result.SummaryRow{}
	}
	label := row(before, "boxed.label_range")
	value, sd := label.Mean+0.5*label.SD, label.SD/40
	fact := "measured: [{of: boxed.label_range, normal: {mean: " + ftoa(value) + " km, sd: " + ftoa(sd) + " km}}]\n"
	paths, err := filepath.Glob(filepath.Join(before, "samples", "*", "*.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	samples, err := result.OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	read := func(name string) []float64 {
		x, err := samples.Read(strings.ReplaceAll(name, ".", "_"), nil)
		if err != nil {
			t.Fatal(err)
		}
		return append([]float64{}, x...)
	}
	var kept []int
	for i, x := range read("boxed.label_range") {
		z := (x - value) / sd
		u := (float64((uint64(i)*0x9e3779b97f4a7c15+0x1234567)>>11) + 0.5) / (1 << 53) // equally spread
		if u < math.Exp(-z*z/2) {
			kept = append(kept, i)
		}
	}
	if len(kept) < 1000 {
		t.Fatalf("%d draws are kept", len(kept))
	}
	weighed, moved := run(fact, 65_536, 72), run(fact, 4096, 73)
	for folder, method := range map[string]result.EvidenceMethod{weighed: result.ByWeights, moved: result.ByTempering} {
		if m, err := result.ReadManifest(folder); err != nil || m.Evidence.Method != method {
			t.Fatalf("%v, %+v, want %s", err, m.Evidence, method)
		}
	}
	for _, name := range []string{"boxed.label_range", "bonded.label_range", "drag_coefficient", "rolling_coefficient", "usable_share", "bonded.kerb_mass", "bonded.label_range_change"} {
		x := read(name)
		sum, square := 0.0, 0.0
		for _, i := range kept {
			sum += x[i]
		}
		mean := sum / float64(len(kept))
		for _, i := range kept {
			square += (x[i] - mean) * (x[i] - mean)
		}
		se := math.Sqrt(square) / float64(len(kept))
		for what, folder := range map[string]string{"by weights": weighed, "moved": moved} {
			r := row(folder, name)
			own := (r.MeanHigh - r.MeanLow) / 2 / 2.13
			if d := math.Abs(r.Mean - mean); !(d < 4*math.Hypot(se, own)) {
				t.Errorf("%s %s: mean %g +- %g, by rejection %g +- %g", name, what, r.Mean, own, mean, se)
			}
			t.Logf("%s %s: mean %g +- %g, by rejection of %d %g +- %g", name, what, r.Mean, own, len(kept), mean, se)
		}
	}
}

func ftoa(x float64) string { return strconv.FormatFloat(x, 'f', 6, 64) }
