//go:build linux && long

package main

import "testing"

// Rows that weigh what was measured take no more than others: with whole columns and their
// weights in memory a million of them took 389 MB on eight workers.
func TestPeakMemoryOfWeightedRows(t *testing.T) {
	peakOfRows(t, 1_000_000, 8, 190, "measured: [{of: z, normal: {mean: 5.2, sd: 0.5}}]\n")
}
