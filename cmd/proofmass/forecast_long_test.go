//go:build long

package main

import "testing"

// Of more rows, of few rows of cars, of eight workers, of a study that nothing is asked of, of many pairs of an input and an
// output that reads all.
func TestForecastLong(t *testing.T) {
	dense := write(t, denseStudy(100, 80))
	foretold(t, [][]string{
		{studies + "product.yaml", "--rows", "400000", "--workers", "2"},
		{studies + "heron.yaml", "--rows", "100000", "--workers", "8"},
		{studies + "core-bond.yaml", "--workers", "2"},
		{studies + "drum-cell.yaml", "--rows", "1000000", "--workers", "1"},
		{dense, "--workers", "2"},
	})
}
