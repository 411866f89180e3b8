//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package result

import (
	"errors"
	"os"
	"syscall"
)

var errHeld = errors.New("another process holds the lock")

// lockFile locks an open file until it is closed or the process ends. errHeld: another has
// it; any other error: this file system knows no locks.
func lockFile(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

// alive reports whether a process of this host runs.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
