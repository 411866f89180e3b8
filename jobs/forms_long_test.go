//go:build long

package jobs_test

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestSameTablesInEveryFormLong(t *testing.T) {
	var names []string
	for _, path := range allStudies(t) {
		if name := filepath.Base(path); name != "drum-cell.yaml" && !strings.HasPrefix(name, "gum-") {
			names = append(names, name)
		}
	}
	sameTablesInEveryForm(t, names...)
}
