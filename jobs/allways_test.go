package jobs_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"proofmass/jobs"
)

// everyWay uses all that sensitivity has: 60 inputs, of which most are screened out, tied
// inputs in two groups, discrete ones, a group, claims with and without a margin,
// infeasible rows, pairs that act together.
func everyWay() string {
	var inputs, rest []string
	for i := range 60 {
		form := "{between: [0, 1]}"
		switch i {
		case 1, 2, 3:
			form = "{normal: {mean: 1, sd: 0.5}}"
		case 4, 5:
			form = "{triangular: [0, 1, 3]}"
		case 6:
			form = "{one_of: {1: 0.2, 2: 0.5, 4: 0.3}}"
		}
		inputs = append(inputs, fmt.Sprintf("x%d: %s", i, form))
		if i > 6 {
			rest = append(rest, fmt.Sprintf("x%d", i))
		}
	}
	return "format: 1\nstudy: ways\nmodel: formulas\ninputs: {" + strings.Join(inputs, ", ") + "}\n" +
		"together: [{inputs: [x1, x2, x3], matrix: [[1, 0.4, 0], [0.4, 1, -0.3], [0, -0.3, 1]]}, {inputs: [x4, x5], spearman: 1}]\n" +
		"groups: {mixed: [x0, x6]}\n" +
		"outputs: {y: x0 * x6 + x1 + x2 - x3 + x4 * x5 + 0.001 * (" + strings.Join(rest, " + ") + "), root: sqrt(x1) + x0}\n" +
		"claims: {much: {of: y, announced: 4, sense: at_least}, both: {holds: y >= 3 and root <= 2}}\n" +
		"sample: {rows: 4096, seed: 8}\nindices: {half_width: 0.05, at_most: 1_500_000}\n"
}

// Every table has the same bytes whatever the number of workers, and the answer
// is one line of words a claim.
func TestEveryWaySameBytes(t *testing.T) {
	path := write(t, everyWay())
	var want map[string][]byte
	for _, workers := range []int{1, 7} {
		o := quick(t, 0)
		o.Workers = workers
		a := mustRun(t, path, o).Answer
		got := jobs.TablesOf(t, o.Out)
		if want == nil {
			want = got
			checkEveryWay(t, a.Claims[0].HangsOn, a.Claims[1].HangsOn, got)
		}
		if len(got) != len(want) {
			t.Fatalf("%d workers: %d tables, want %d", workers, len(got), len(want))
		}
		for name := range want {
			if !bytes.Equal(got[name], want[name]) {
				t.Errorf("%d workers: %s differs from that of one worker", workers, name)
			}
		}
	}
}

func checkEveryWay(t *testing.T, much, both string, tables map[string][]byte) {
	t.Helper()
	for _, words := range []string{much, both} {
		if !strings.HasPrefix(words, "Whether ") || !strings.Contains(words, " hangs on ") {
			t.Errorf("the claim hangs on %q", words)
		}
	}
	for _, name := range []string{"indices.parquet", "tornado.parquet", "curves.parquet", "regions.parquet", "claims.parquet"} {
		if len(tables[name]) == 0 {
			t.Errorf("no %s", name)
		}
	}
}

// What progress tells adds up, whatever rounds, pairs and walks are added on the way.
func TestEveryWayCountsRuns(t *testing.T) {
	o := quick(t, 0)
	var done, of int
	o.Workers = 1
	o.Progress = func(d, all int) { done, of = d, all }
	if _, err := jobs.Run(t.Context(), write(t, everyWay()), o); err != nil {
		t.Fatal(err)
	}
	if done != of || done == 0 {
		t.Errorf("%d of %d runs are told of at the end", done, of)
	}
}
