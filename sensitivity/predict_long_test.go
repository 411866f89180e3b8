//go:build long

package sensitivity

import "testing"

func TestPredictRowsReachesLong(t *testing.T) { predictReaches(t, 400, 0.05) }
