package jobs

import (
	"errors"
	"fmt"
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
