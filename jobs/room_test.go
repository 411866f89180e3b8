package jobs

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/study"
)

// A run whose rows do not fit is refused before anything is written; one that fits, or of
// whose disk nothing is known, is not.
func TestRoom(t *testing.T) {
	folder := t.TempDir()
	s, err := Read(filepath.Join("..", "testdata", "studies", "product.yaml"), study.Options{Rows: 1_000_000})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(folder, "not", "there")
	need := SampleBytes(p)
	for _, c := range []struct {
		free          int64
		known, refuse bool
	}{{need / 2, true, true}, {need * 2, true, false}, {need, true, false}, {0, false, false}} {
		err := fits(p, out, func(asked string) (int64, bool) {
			if asked != folder {
				t.Errorf("asked of %s, want %s", asked, folder)
			}
			return c.free, c.known
		})
		var usage *UsageError
		if c.refuse != errors.As(err, &usage) || (err != nil && !strings.Contains(err.Error(), "MB are free")) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
