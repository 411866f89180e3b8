package jobs_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/inspect"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

const growing = `format: 1
model: formulas
inputs: {x: {normal: {mean: 0, sd: 1}, source: invented}, z: {between: [0, 1], source: invented}}
outputs: {y: x + x * z}
claims: {positive: {holds: y + z > 0.3}}
indices: none
`

func grown(t *testing.T, sample string, workers int) (*jobs.Outcome, string) {
	t.Helper()
	o := quick(t, 0)
	o.Workers = workers
	return mustRun(t, write(t, growing+"sample: "+sample+"\n"), o), o.Out
}

// The half-widths asked for are reached, those that the tables show; the rows are
// whole rounds, numbered through, each row the one that is evaluated alone.
func TestGrowthReachesWhatIsAsked(t *testing.T) {
	for _, design := range []string{"latin", "random", "sobol", "halton"} {
		outcome, out := grown(t, "{half_width: {chance: 0.003, percentiles: 0.25 %}, at_most: 1_000_000, design: "+design+"}", 0)
		g := outcome.Answer.Run.Stopping
		if outcome.Missed || g == nil || !g.Reached() {
			t.Fatalf("%s: missed, %+v", design, g)
		}
		m, err := result.ReadManifest(out)
		if err != nil {
			t.Fatal(err)
		}
		if err := result.LoadSlices(out, m); err != nil {
			t.Fatal(err)
		}
		m.Rounds = slices.DeleteFunc(m.Rounds, func(r result.Round) bool { return r.Kind != result.SampleKind })
		if len(m.Rounds) != g.Rounds || m.Rows != int64(g.Rounds)*16_384 || outcome.Answer.Run.Rows != m.Rows || result.Verify(out) != nil {
			t.Errorf("%s: %d rounds, %d rows", design, len(m.Rounds), m.Rows)
		}
		if design == "random" && g.Rounds < 3 {
			t.Errorf("random: %d rounds, too few to show anything", g.Rounds)
		}
		summary, _ := result.ReadTable(filepath.Join(out, result.SummaryTable))
		row := rowOf(t, summary, "output", "y")
		widest := 0.0
		for _, p := range []string{"p05", "p50", "p95"} {
			widest = max(widest, (cell(summary, p+"_high", row)-cell(summary, p+"_low", row))/2)
		}
		if got := widest / (cell(summary, "p95", row) - cell(summary, "p05", row)); math.Abs(got-*g.PercentilesReached) > 1e-12 || got > 0.0025 {
			t.Errorf("%s: percentiles known to %g, told %g", design, got, *g.PercentilesReached)
		}
		claims, _ := result.ReadTable(filepath.Join(out, result.ClaimsTable))
		if got := (cell(claims, "chance_high", 0) - cell(claims, "chance_low", 0)) / 2; math.Abs(got-*g.ChanceReached) > 1e-12 || got > 0.003 {
			t.Errorf("%s: chance known to %g, told %g", design, got, *g.ChanceReached)
		}
		t.Logf("%s: %d rounds, chance +-%.5f, percentiles +-%.4f %%", design, g.Rounds, *g.ChanceReached, 100**g.PercentilesReached)
		checkRows(t, out, m)
	}
}

// checkRows has rows and replicates counted through the rounds, and the first row
// of the last round is the one that show evaluates.
func checkRows(t *testing.T, out string, m *result.Manifest) {
	t.Helper()
	next := int64(0)
	for _, r := range m.Rounds {
		for _, s := range r.Slices {
			if s.FirstRow != next {
				t.Errorf("%s begins with row %d, want %d", s.File, s.FirstRow, next)
			}
			next += s.Rows
		}
	}
	last := m.Rounds[len(m.Rounds)-1].Slices[0]
	s, err := result.OpenSlices([]string{filepath.Join(out, last.File)})
	if err != nil {
		t.Fatal(err)
	}
	x, err := s.Read("x", nil)
	if err != nil {
		t.Fatal(err)
	}
	values, err := inspect.Row(out, int(last.FirstRow)+1)
	if err != nil {
		t.Fatal(err)
	}
	if values[0].Name != "x" || values[0].Value != x[1] {
		t.Errorf("row %d: %s is %v alone, %v in its slice", last.FirstRow+1, values[0].Name, values[0].Value, x[1])
	}
}

// Too few rows allowed: what was reached is told, and missed it is.
func TestGrowthStopsAtMost(t *testing.T) {
	for _, most := range []int{512, 700, 40_000} {
		outcome, out := grown(t, fmt.Sprintf("{half_width: {chance: 0.0005}, at_most: %d}", most), 0)
		g := outcome.Answer.Run.Stopping
		if !outcome.Missed || g.Reached() || g.ChanceReached == nil || g.PercentilesAsked != nil {
			t.Errorf("at most %d: missed %v, %+v", most, outcome.Missed, g)
		}
		if rows := outcome.Answer.Run.Rows; rows > int64(most) || rows < int64(most)/2 {
			t.Errorf("at most %d: %d rows", most, rows)
		}
		if again := mustRun(t, filepath.Join(out, "study.yaml"), jobs.Options{Out: out}); !again.Again || !again.Missed {
			t.Errorf("the finished folder: made again %v, missed %v", !again.Again, again.Missed)
		}
	}
}

func TestGrowthSameBytesWhateverTheWorkers(t *testing.T) {
	var want map[string][]byte
	for _, workers := range []int{1, 2, 7} {
		_, out := grown(t, "{half_width: {chance: 0.004, percentiles: 0.4 %}, at_most: 300_000, design: random}", workers)
		got := jobs.TablesOf(t, out)
		if want == nil {
			want = got
		}
		if len(got) != len(want) || want["samples/0001/slice-00000000.parquet"] == nil {
			t.Fatalf("%d workers: %d files, want %d and a second round", workers, len(got), len(want))
		}
		for name := range want {
			if !bytes.Equal(got[name], want[name]) {
				t.Errorf("%d workers: %s differs from that of 1 worker", workers, name)
			}
		}
	}
}

// Rows on the command line make a quick try: nothing grows, nothing is missed. Of
// every round nothing is left where only the summary is kept.
func TestGrowthBesideOtherOptions(t *testing.T) {
	path := write(t, growing+"sample: {half_width: {chance: 0.0001}, at_most: 40_000}\nkeep: summary\n")
	o := quick(t, 1024)
	if outcome := mustRun(t, path, o); outcome.Missed || outcome.Answer.Run.Rows != 1024 || outcome.Answer.Run.Stopping != nil {
		t.Errorf("--rows 1024: %+v, missed %v", outcome.Answer.Run, outcome.Missed)
	}
	o = quick(t, 0)
	if outcome := mustRun(t, path, o); !outcome.Missed || outcome.Answer.Run.Stopping.Rounds != 2 {
		t.Errorf("%+v", outcome.Answer.Run.Stopping)
	}
	if files, _ := filepath.Glob(filepath.Join(o.Out, "samples", "*", "*")); len(files) > 0 {
		t.Errorf("left over: %v", files)
	}
	if _, err := os.Stat(filepath.Join(o.Out, result.SummaryTable)); err != nil || result.Verify(o.Out) != nil {
		t.Error("the summary is not whole")
	}
	f, err := inspect.Check(path, study.Options{})
	if err != nil || f.Rows != 16_384 || f.AtMost != 32_768 {
		t.Errorf("check: %d rows, at most %d, %v", f.Rows, f.AtMost, err)
	}
}
