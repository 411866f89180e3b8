//go:build long

package sensitivity

import "testing"

func TestCoverageCornersLong(t *testing.T) { coverageCorners(t, 1000) }

func TestCoverageRareClassesLong(t *testing.T) { coverageRareClasses(t, 300) }

func TestMeanAbsolutePerSDLong(t *testing.T) { meanAbsolutePerSD(t, 1000) }

func TestCoverageWeightedLong(t *testing.T) { coverageWeighted(t, 500) }
