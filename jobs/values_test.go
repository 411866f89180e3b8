package jobs_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/result"
)

// TestValuesFromFiles runs a study that takes a column of a CSV file and one of a
// Parquet table, a result of its own, and repeats it from its result folder alone.
func TestValuesFromFiles(t *testing.T) {
	first := quick(t, 1024)
	mustRun(t, studies+"product.yaml", first)
	table, err := os.ReadFile(filepath.Join(first.Out, result.SummaryTable))
	if err != nil {
		t.Fatal(err)
	}
	path := write(t, `format: 1
model: formulas
inputs:
  weighed: {values: {file: cells.csv, column: mass}, unit: g}
  smooth: {values: {file: cells.csv, column: mass}, unit: g, smooth: 0.1, min: 68.5}
  earlier: {values: {file: summary.parquet, column: mean}}
outputs: {y: earlier * weighed + smooth}
sample: {rows: 1024, seed: 5}
`)
	folder := filepath.Dir(path)
	for name, data := range map[string][]byte{"cells.csv": []byte("# Invented.\nmass\n68.9\n69.2\n69.4\n69.0\n"), "summary.parquet": table} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	o := quick(t, 0)
	mustRun(t, path, o)
	again := jobs.Options{Out: filepath.Join(t.TempDir(), "again")}
	mustRun(t, filepath.Join(o.Out, result.StudyFile), again)
	want, got := jobs.TablesOf(t, o.Out), jobs.TablesOf(t, again.Out)
	for name := range want {
		if !bytes.Equal(want[name], got[name]) {
			t.Errorf("%s differs when the result's own study is run", name)
		}
	}
}
