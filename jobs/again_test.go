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

// TestAgainTheSameBytes: of nine further runs all agree by chance in one of 2^9 where two
// things stand in one order or the other.
func TestAgainTheSameBytes(t *testing.T) {
	againTheSameBytes(t, 9, write(t, creditInDoubt))
	againTheSameBytes(t, 1, studies+"everything.yaml", studies+"trade-space.yaml", studies+"heron.yaml", studies+"gum-9.3.yaml")
}

// againTheSameBytes runs each study and then some more times in one process and compares
// every byte of every table and of the answer: check's findings stand in both.
func againTheSameBytes(t *testing.T, more int, paths ...string) {
	t.Helper()
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			want := allBytes(t, path)
			for range more {
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
