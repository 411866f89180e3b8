package jobs_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/report"
)

// creditInDoubt has displaced parts of 103.5 kg, or one unit of the last place less,
// as they are added in one order or another: 104 or 103 kg in words.
const creditInDoubt = `format: 1
indices: none
inputs: {drag_coefficient: 0.23, frontal_area: 2.3 m2, rolling_coefficient: 0.008, usable_energy: 75 kWh}
vehicles:
  a: {kerb_mass: 1870 kg}
  b: {based_on: a, displaced: {floor: 33.3 kg, beams: 41.3 kg, lid: 14.1 kg, frame: 14.8 kg}}
claims: {lighter: {of: b.kerb_mass_change, announced: -5 %, sense: at_least}}
`

// TestTenTimesTheSameBytes runs every study ten times in one process and compares
// every byte of every table and of the answer: check's findings stand in both.
func TestTenTimesTheSameBytes(t *testing.T) {
	paths, err := filepath.Glob(studies + "*.yaml")
	if err != nil || len(paths) < 10 {
		t.Fatalf("%d studies, %v", len(paths), err)
	}
	for _, path := range append(paths, write(t, creditInDoubt)) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			want := allBytes(t, path)
			for range 9 {
				for name, got := range allBytes(t, path) {
					if !bytes.Equal(got, want[name]) {
						t.Fatalf("%s: another time\n%s\nfor\n%s", name, printed(name, got), printed(name, want[name]))
					}
				}
			}
		})
	}
}

// allBytes are the bytes of all that a small run gives, by file.
func allBytes(t *testing.T, path string) map[string][]byte {
	t.Helper()
	o := quick(t, 32)
	answer := mustRun(t, path, o).Answer
	files := jobs.TablesOf(t, o.Out)
	var text bytes.Buffer
	if err := answer.Text(&text, report.TextOptions{Folder: "folder", Full: true}); err != nil {
		t.Fatal(err)
	}
	files["answer.txt"] = text.Bytes()
	told, err := json.Marshal(answer)
	if err != nil {
		t.Fatal(err)
	}
	files["answer.json"] = told
	if err := os.RemoveAll(o.Out); err != nil {
		t.Fatal(err)
	}
	return files
}

// printed is what a reader of a failure can use.
func printed(name string, data []byte) string {
	if strings.HasSuffix(name, ".parquet") {
		return "other bytes"
	}
	return string(data)
}
