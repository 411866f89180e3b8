//go:build long

package claim

import "testing"

func TestRegionsCoverageLong(t *testing.T) {
	regionsCoverage(t, 300, 4096)
	regionsCoverage(t, 300, 512)
}

func TestWorthCoverageLong(t *testing.T) {
	worthCoverage(t, 200, 4096)
	worthCoverage(t, 60, 16384)
}
