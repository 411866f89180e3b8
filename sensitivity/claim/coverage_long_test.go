//go:build long

package claim

import "testing"

func TestRegionsCoverageLong(t *testing.T) {
	regionsCoverage(t, 300, 4096)
	regionsCoverage(t, 300, 512)
}
