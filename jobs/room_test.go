package jobs

import (
	"errors"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"proofmass/jobs/study"
)

// Choices that may be dropped early are refused only where not even the least of their rows
// fit, and the message tells those.
func TestRoomOfChoices(t *testing.T) {
	s, err := Read(WriteStudy(t, Choosing), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	least := float64(p.LeastChoiceRows()) / float64(p.ChoiceRows())
	if !(least < 0.7) {
		t.Fatalf("%g of the rows at least: the test shows nothing", least)
	}
	for share, refuse := range map[float64]bool{0.9 * least: true, 1.1 * least: false} {
		err := fits(p, Options{Out: t.TempDir()}, func(string) (int64, bool) { return int64(share * float64(SampleBytes(p))), true })
		if refuse != (err != nil) || refuse && !strings.Contains(err.Error(), strconv.Itoa(p.LeastChoiceRows())+" rows take") {
			t.Errorf("room for %g of all rows: %v", share, err)
		}
	}
}

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
		err := fits(p, Options{Out: out}, func(asked string) (int64, bool) {
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
