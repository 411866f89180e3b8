//go:build long

package sensitivity

import "testing"

func TestGrowingIndicesLong(t *testing.T) { growing(t, 500) }
