//go:build long

package jobs

import "testing"

func TestEveryStudyInAnyOrder(t *testing.T) {
	for _, path := range studiesLike(t, "*.yaml") {
		anyOrder(t, path, 512, 5)
	}
}
