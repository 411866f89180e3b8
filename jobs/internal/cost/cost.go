// Package cost measures what a call takes, for tests of hostile input.
package cost

import (
	"runtime"
	"time"
)

// Of calls f and returns how many bytes the program allocated meanwhile, freed or not, which is above what it held at any
// time, and how long it took.
func Of(f func()) (bytes uint64, took time.Duration) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	start := time.Now()
	f()
	took = time.Since(start)
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc, took
}
