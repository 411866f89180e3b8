//go:build unix

package jobs_test

import (
	"syscall"
	"time"
)

// processorTime is what this process has had of all processors: a shared machine adds little
// to it.
func processorTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
