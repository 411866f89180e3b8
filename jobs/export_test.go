package jobs

import (
	"os"
	"path/filepath"
	"testing"

	"proofmass/jobs/result"
)

// WriteStudy puts a study into a folder of its own.
func WriteStudy(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "study.yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// RowsOf are the rows of a table of a folder: RowsOf(t, result.Summary.Read, folder).
func RowsOf[Row any](t *testing.T, read func(dir string, m *result.Manifest) ([]Row, map[string]string, error), folder string) []Row {
	t.Helper()
	m, err := result.ReadManifest(folder)
	if err != nil {
		t.Fatal(err)
	}
	rows, _, err := read(folder, m)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}
