package study

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// One small file must not become gigabytes because many inputs take its column, nor many files that are each allowed.
func TestManyValues(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "x.csv"), []byte("x\n"+strings.Repeat("1\n2\n", 500_000)), 0o666); err != nil {
		t.Fatal(err)
	}
	large := []byte("x\n1\n#" + strings.Repeat(" ", 16<<20-100))
	for i := range 5 {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("large%d.csv", i)), large, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for what, c := range map[string]struct {
		inputs int
		file   func(i int) string
		want   string
	}{
		"a million values":       {1, func(int) string { return "x.csv" }, ""},
		"five million values":    {5, func(int) string { return "x.csv" }, "more than 4000000 values in all"},
		"three files of 16 MiB":  {3, func(i int) string { return fmt.Sprintf("large%d.csv", i) }, ""},
		"more files than can be": {5, func(i int) string { return fmt.Sprintf("large%d.csv", i) }, "at most 67108864 are read"},
	} {
		text := "format: 1\nmodel: formulas\ninputs:\n"
		sum := "0"
		for i := range c.inputs {
			text += fmt.Sprintf("  i%d: {values: {file: %s, column: x}}\n", i, c.file(i))
			sum += fmt.Sprintf(" + i%d", i)
		}
		path := filepath.Join(folder, "s.yaml")
		if err := os.WriteFile(path, []byte(text+"outputs: {y: "+sum+"}\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		_, err := Read(path, Options{})
		if (err == nil) != (c.want == "") || err != nil && (!strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "s.yaml:")) {
			t.Errorf("%s: error %v, want %s", what, err, c.want)
		}
	}
}
