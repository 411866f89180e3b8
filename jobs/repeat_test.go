package jobs_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestRepeatWithoutAName runs a study that does not say its name, and again from its
// result folder, where its file has another: every table has the same bytes.
func TestRepeatWithoutAName(t *testing.T) {
	path := filepath.Join(t.TempDir(), "called-so.yaml")
	text := []byte("format: 1\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [1, 2]}}\noutputs: {y: a * b}\nclaims: {big: {holds: y > 1}}\n")
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
	first, second := quick(t, 1024), quick(t, 0)
	once, again := mustRun(t, path, first), mustRun(t, filepath.Join(first.Out, "study.yaml"), second)
	if once.Answer.Study != again.Answer.Study {
		t.Errorf("the study is called %q, then %q", once.Answer.Study, again.Answer.Study)
	}
	tables, err := filepath.Glob(filepath.Join(first.Out, "*.parquet"))
	if err != nil || len(tables) == 0 {
		t.Fatal(tables, err)
	}
	for _, table := range tables {
		a, err1 := os.ReadFile(table)
		b, err2 := os.ReadFile(filepath.Join(second.Out, filepath.Base(table)))
		if err1 != nil || err2 != nil || !bytes.Equal(a, b) {
			t.Errorf("%s has other bytes: %v, %v", filepath.Base(table), err1, err2)
		}
	}
}
