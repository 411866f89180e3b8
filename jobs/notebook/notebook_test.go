package notebook

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

type cell struct {
	Type    string            `json:"cell_type"`
	ID      string            `json:"id"`
	Source  []string          `json:"source"`
	Outputs []json.RawMessage `json:"outputs"`
}

func cells(t *testing.T) []cell {
	t.Helper()
	var n struct {
		Cells  []cell `json:"cells"`
		Format int    `json:"nbformat"`
		Minor  int    `json:"nbformat_minor"`
	}
	if err := json.Unmarshal(text, &n); err != nil || n.Format != 4 || n.Minor != 5 {
		t.Fatalf("%v, format %d.%d", err, n.Format, n.Minor)
	}
	return n.Cells
}

// TestNothingIsFixedButTheFolder: no outputs, no path but the folder, ids that differ, and
// only tables and columns that there are. That it runs is tried by .ci/notebook.
func TestNothingIsFixedButTheFolder(t *testing.T) {
	columns, tables := map[string]bool{}, map[string]bool{"samples": true}
	for _, d := range result.Describe() {
		tables[strings.TrimSuffix(d.File, ".parquet")] = true
		for _, c := range d.Columns {
			columns[c.Name] = true
		}
	}
	ids, folders := map[string]bool{}, 0
	asked := regexp.MustCompile(`(?:claims|summary|outputs|shown|indices|shares|top|regions|levers|pulled|required|moves|measure|alone|items|readings|alone_read|combined)\["([a-z_0-9]+)"\]`)
	named := regexp.MustCompile(`table\("([a-z_]+)"\)`)
	for _, c := range cells(t) {
		if ids[c.ID] || c.ID == "" || len(c.Outputs) > 0 {
			t.Errorf("cell %q: twice, or with outputs", c.ID)
		}
		ids[c.ID] = true
		source := strings.Join(c.Source, "")
		folders += strings.Count(source, "FOLDER = ")
		if strings.Contains(source, `"/`) || strings.Contains(source, "C:") {
			t.Errorf("cell %s has a path:\n%s", c.ID, source)
		}
		for _, m := range asked.FindAllStringSubmatch(source, -1) {
			if !columns[m[1]] {
				t.Errorf("cell %s: no table has a column %s", c.ID, m[1])
			}
		}
		for _, m := range named.FindAllStringSubmatch(source, -1) {
			if !tables[m[1]] {
				t.Errorf("cell %s: there is no table %s", c.ID, m[1])
			}
		}
	}
	if folders != 1 || len(ids) < 10 {
		t.Errorf("%d folders, %d cells", folders, len(ids))
	}
}

func TestWriteKeepsAnAnalystsWork(t *testing.T) {
	folder := t.TempDir()
	path, err := Write(folder)
	if err != nil || path != filepath.Join(folder, File) {
		t.Fatal(path, err)
	}
	if _, err := Write(folder); err != nil {
		t.Errorf("the same again: %v", err)
	}
	if err := os.WriteFile(path, []byte("{}"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(folder); !errors.Is(err, ErrChanged) {
		t.Errorf("found %v", err)
	}
	if there, _ := os.ReadFile(path); string(there) != "{}" {
		t.Error("it was written over")
	}
	if _, err := Write(filepath.Join(folder, "none")); err == nil {
		t.Error("a folder that is not there")
	}
}
