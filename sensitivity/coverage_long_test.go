//go:build long

package sensitivity

import "testing"

func TestCoverageIndicesLong(t *testing.T) { coverageIndices(t, 2000, 4096) }

func TestCoverageColumnsLong(t *testing.T) { coverageColumns(t, 2000, 16*1024) }

func TestCoveragePairsLong(t *testing.T) { coveragePairs(t, 1000, 4096) }
