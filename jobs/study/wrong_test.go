package study

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "rewrite testdata from the current output; review the diff")

// TestWrongStudies reads every file of testdata/wrong. The messages that it must
// give, and no others, stand in wrong.txt below the file's name.
func TestWrongStudies(t *testing.T) {
	const folder = "../../testdata/wrong"
	t.Chdir(folder)
	want, err := os.ReadFile("wrong.txt")
	if err != nil && !*update {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("%d wrong studies, %v; want at least 60", len(files), err)
	}
	var got strings.Builder
	for _, file := range files {
		start := time.Now()
		_, err := Read(file, Options{})
		if d := time.Since(start); d > patience {
			t.Errorf("%s: refused after %v", file, d)
		}
		var all Errors
		if !errors.As(err, &all) || len(all) == 0 {
			t.Errorf("%s: error is %v, want Errors", file, err)
		}
		for _, e := range all {
			got.WriteString(e.Error() + "\n")
		}
		got.WriteString("\n")
	}
	if *update {
		if err := os.WriteFile("wrong.txt", []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	compareLines(t, got.String(), string(want))
}

// compareLines reports each difference by line.
func compareLines(t *testing.T, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		line := func(lines []string) string {
			if i < len(lines) {
				return lines[i]
			}
			return "(none)"
		}
		if line(g) != line(w) {
			t.Errorf("line %d:\n got %s\nwant %s", i+1, line(g), line(w))
		}
	}
}
