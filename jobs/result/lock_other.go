//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package result

import (
	"errors"
	"os"
)

var errHeld = errors.New("another process holds the lock")

// lockFile: the system has no lock that we know; what the file says must do.
func lockFile(*os.File) error { return errors.ErrUnsupported }

func shareFile(*os.File) error { return errors.ErrUnsupported }

// alive reports whether a process of this host runs.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err == nil {
		_ = p.Release()
	}
	return err == nil
}
