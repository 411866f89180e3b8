package jobs

import (
	"path/filepath"
	"testing"
)

// Of runs with every kind of step, of tables that take most of the time, and of one that
// renews texts: what is done never goes back nor beyond what there is to do, ends at it, and
// is told while tables are made.
func TestProgressKnowsEveryStage(t *testing.T) {
	for name, path := range map[string]string{"steps": writeSteps(t), "tables": twenty(t), "heron": "../testdata/studies/heron.yaml"} {
		var told [][2]int
		o := Options{Out: filepath.Join(t.TempDir(), "out"), Workers: 2, Progress: func(done, of int) { told = append(told, [2]int{done, of}) }}
		if name == "heron" {
			o.Study.Rows = 1024
		}
		if _, err := Run(t.Context(), path, o); err != nil {
			t.Fatal(err)
		}
		before, ofTables := 0, 0
		end := told[len(told)-1][1]
		for _, now := range told {
			if now[0] > now[1] || now[0] < before {
				t.Errorf("%s: %d of %d after %d", name, now[0], now[1], before)
			}
			before = now[0]
			if now[1] == end && now[0] < end {
				ofTables++
			}
		}
		if before != end {
			t.Errorf("%s: ends at %d of %d", name, before, end)
		}
		if name == "tables" && ofTables < 40 {
			t.Errorf("%s: told %d times before the end", name, ofTables)
		}
	}
}
