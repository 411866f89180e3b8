//go:build !unix

package jobs_test

import "time"

var started = time.Now()

// processorTime is the time that has passed, where a system does not tell more.
func processorTime() time.Duration { return time.Since(started) }
