package page_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// TestInside: steps from one car's mass to the other's add up, a field has as many places as
// rows times columns, a bar of energies is as long as its parts together.
func TestInside(t *testing.T) {
	folder := ran(t, fmt.Sprintf(insideCars, carClaims))
	text, all := drawn(t, folder), readTables(t, folder)
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(strings.ReplaceAll(s, "−", "-"), 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	seen := map[string]bool{}
	for _, s := range figuresOf(text) {
		if seen[s.kind] = true; s.kind != "steps" {
			continue
		}
		sum := 0.0
		for _, row := range s.rows[:len(s.rows)-1] {
			sum += number(row[1])
		}
		if end := number(s.rows[len(s.rows)-1][1]); math.Abs(sum-end) > 0.05*float64(len(s.rows)) || math.Abs(end-all.inside["after.kerb_mass"].Mean) > 0.06 {
			t.Errorf("the steps add up to %v, the car weighs %v, the table says %v", sum, end, all.inside["after.kerb_mass"].Mean)
		}
		if len(s.rows) < 4 {
			t.Errorf("the steps are %v", s.rows)
		}
	}
	for _, kind := range []string{"nested", "steps", "ladder", "energy", "layers", "field", "ranges"} {
		if !seen[kind] {
			t.Errorf("there is no figure of kind %s", kind)
		}
	}
	_, rest, _ := strings.Cut(text, "-field-w-t")
	picture, _, _ := strings.Cut(rest, "</svg>")
	if n := strings.Count(picture, "h0"); n != 2*33*60 { // a disc on a disc for each place
		t.Errorf("%d discs, want two for each of %d places", n, 33*60)
	}
	if !strings.Contains(text, "of the 1980 places hold a cell") {
		t.Error("nothing is said of empty places")
	}
}
