//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package result

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"syscall"
)

var errHeld = errors.New("another process holds the lock")

// lockFile locks an open file until it is closed or the process ends. errHeld: another has
// it; any other error: this file system knows no locks.
func lockFile(f *os.File) error { return flock(f, syscall.LOCK_EX) }

// shareFile is lockFile, but any number may have it so.
func shareFile(f *os.File) error { return flock(f, syscall.LOCK_SH) }

func flock(f *os.File, how int) error {
	err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

// alive reports whether a process of this host runs. One that has ended and whose parent has
// not asked for its end yet runs no more, though its number is taken.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return (err == nil || errors.Is(err, syscall.EPERM)) && !ended(pid)
}

// ended reports whether Linux says so; elsewhere there is no such file. The state stands
// behind the name, in brackets, which may hold any character (proc_pid_stat(5)).
func ended(pid int) bool {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	behind := bytes.TrimLeft(stat[bytes.LastIndexByte(stat, ')')+1:], " ")
	return len(behind) > 0 && (behind[0] == 'Z' || behind[0] == 'X')
}
