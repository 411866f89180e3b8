package report

import (
	"math"
	"testing"
)

// What was announced in miles is shown in miles: 1 mile is 1.609344 km, exactly
// (international yard and pound, 1959).
func TestSpreadInTheAnnouncedUnit(t *testing.T) {
	s := Spread{Unit: "km", P05: ptr(1.609344), P50: ptr(160.9344), P95: nil}
	if got := s.in("mile"); got.Unit != "mile" || *got.P05 != 1 || math.Abs(*got.P50-100) > 1e-12 || got.P95 != nil {
		t.Errorf("in miles: %s %g %g %v", got.Unit, *got.P05, *got.P50, got.P95)
	}
	for _, other := range []string{"", "km", "kg", "no unit"} {
		if got := s.in(other); got != s {
			t.Errorf("in %q: %+v, want it unchanged", other, got)
		}
	}
}
