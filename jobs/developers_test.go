package jobs_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestDevelopersNamesWhatIsThere: every file, folder and test of which DEVELOPERS.md speaks
// exists, by its path or the end of it.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	var code strings.Builder
	err = filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		paths = append(paths, "/"+strings.TrimPrefix(filepath.ToSlash(path), "../"))
		if strings.HasSuffix(path, "_test.go") && err == nil {
			data, readErr := os.ReadFile(path)
			code.Write(data)
			err = readErr
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	ends := func(name string) bool {
		return slices.ContainsFunc(paths, func(p string) bool { return strings.HasSuffix(p, "/"+name) })
	}
	named := 0
	for _, m := range regexp.MustCompile(`[\w./-]*\w+(\.go|\.csv|\.md|\.yaml)\b`).FindAllString(string(text), -1) {
		named++
		if !ends(m) && m != "lib__cells.yaml" {
			t.Errorf("%s: there is no such file", m)
		}
	}
	for _, m := range regexp.MustCompile("`((?:cmd|jobs|model|sampling|sensitivity|testdata)(?:/\\w+)+)`").FindAllStringSubmatch(string(text), -1) {
		named++
		if !ends(m[1]) {
			t.Errorf("%s: there is no such folder", m[1])
		}
	}
	for _, m := range regexp.MustCompile(`\b(?:Fuzz|Test|Benchmark)[A-Z]\w+`).FindAllString(string(text), -1) {
		named++
		if !strings.Contains(code.String(), "func "+m+"(") {
			t.Errorf("%s: there is no such test", m)
		}
	}
	if named < 50 {
		t.Errorf("only %d names found", named)
	}
}
