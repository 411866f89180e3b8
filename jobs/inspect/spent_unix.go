//go:build unix

package inspect

import (
	"syscall"
	"time"
)

// spent is what this process has had of all processors: other programs add little to it.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return since()
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
