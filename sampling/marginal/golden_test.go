package marginal

import (
	"errors"
	"flag"
	"fmt"
	"hash/fnv"
	"maps"
	"math"
	"os"
	"proofmass/sampling/design"
	"slices"
	"strings"
	"testing"
)

// update writes the golden file anew: go test ./sampling/marginal -run Golden -update. A change of
// it changes every study's results and must be meant.
var update = flag.Bool("update", false, "write golden files anew")

// goldenFile was taken on amd64. The same test as arm64, under qemu-user, must give it too.
const goldenFile = "../../testdata/sampling/draws.csv"

// TestGoldenDraws holds the bits of draws of every marginal, a line each: three draws of
// the random design, and a hash of 200 draws of each of three designs, from below and, of
// the first 50, from far above.
func TestGoldenDraws(t *testing.T) {
	all := firstFamily(t)
	maps.Copy(all, discrete(t))
	maps.Copy(all, secondFamily(t))
	values, err := Resampled([]float64{3, 1, 2, 2, 1e15})
	all["resampled"] = must(t, values, err)
	lines := []string{"marginal,first,second,third,hash"}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		lines = append(lines, drawsOf(t, name, all[name]))
	}
	got := strings.Join(lines, "\n") + "\n"
	if *update {
		if err := os.WriteFile(goldenFile, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(goldenFile)
	if err != nil {
		t.Fatal(err)
	}
	golden := strings.Split(strings.TrimSuffix(string(want), "\n"), "\n")
	if len(golden) != len(lines) {
		t.Errorf("%d lines, the golden file has %d", len(lines), len(golden))
	}
	for i, line := range lines[:min(len(lines), len(golden))] {
		if line != golden[i] {
			t.Errorf("got  %s\nwant %s", line, golden[i])
		}
	}
}

func drawsOf(t *testing.T, name string, m Marginal) string {
	h := fnv.New64a()
	put := func(column []float64) {
		for _, v := range column {
			fmt.Fprintf(h, "%016x", math.Float64bits(v))
		}
	}
	u, x, shown := make([]float64, 200), make([]float64, 200), ""
	short, err1 := design.Latin(7, 16*200)
	long, err2 := design.Latin(7, 16*3000)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	for _, d := range []design.Design{short, long, design.Random(7)} {
		d.Fill(u, "sample", name, 0, 0, 0)
		put(u)
		m.Fill(x, u)
		put(x)
		shown = fmt.Sprintf("%.17g,%.17g,%.17g", x[0], x[1], x[2])
		for j, q := range u[:50] {
			x[j] = m.QuantileUpper(q * 1e-3)
		}
		put(x[:50])
	}
	return fmt.Sprintf("%s,%s,%016x", strings.ReplaceAll(name, ",", ";"), shown, h.Sum64())
}
