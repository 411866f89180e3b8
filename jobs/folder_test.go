package jobs

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A full disk is a failure, exit code 1; a folder that may not be written to is mended by naming another, exit code 2.
func TestErrorsOfTheFolder(t *testing.T) {
	for err, mendable := range map[error]bool{syscall.ENOSPC: false, syscall.EMFILE: false, syscall.EACCES: true, syscall.EROFS: true} {
		got := ofFolder(fmt.Errorf("r cannot be written to: %w", err))
		if errors.As(got, new(*UsageError)) != mendable || got.Error() != "--out r cannot be written to: "+err.Error() {
			t.Errorf("%v: %v, a usage error: %t", err, got, !mendable)
		}
	}
}

// A folder inside a result, and a link that leads nowhere, are refused in words of our own.
func TestNamesThatCannotBeFolders(t *testing.T) {
	at := t.TempDir()
	result := filepath.Join(at, "result")
	o := Options{Out: result}
	o.Study.Rows = 16
	if _, err := Run(t.Context(), "../testdata/studies/ishigami.yaml", o); err != nil {
		t.Fatal(err)
	}
	one, other := filepath.Join(at, "one"), filepath.Join(at, "other")
	for from, to := range map[string]string{one: other, other: one} {
		if err := os.Symlink(to, from); err != nil {
			t.Fatal(err)
		}
	}
	for path, want := range map[string]string{
		filepath.Join(result, "new"): "lies inside the result " + result, filepath.Join(result, "given", "deep", "new"): "lies inside the result " + result,
		one: "round in a circle", filepath.Join(one, "new"): "round in a circle", result: "", filepath.Join(at, "new"): "",
	} {
		if err := mayBeFolder(path); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
}
