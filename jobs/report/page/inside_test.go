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
	if !strings.Contains(text, `data-h="drawn">33</td>`) {
		t.Error("a count of 33 rows is not told as 33")
	}
	_, heading, _ := strings.Cut(text, `<h2 id="makes-h">`)
	heading, _, _ = strings.Cut(heading, "</h2>")
	if !strings.Contains(heading, " −") || strings.Contains(heading, " -") {
		t.Errorf("the heading of what makes the difference has no true minus signs: %q", heading)
	}
	if !strings.Contains(text, "of the 1980 places hold a cell") {
		t.Error("nothing is said of empty places")
	}
}

// TestElsewhere: where figures show some vehicles only, the page says where the others stand.
func TestElsewhere(t *testing.T) {
	others := "  third: {based_on: after}\n  fourth: {based_on: after}\n  fifth: {based_on: after}\n  sixth: {based_on: after}\n  large: {based_on: after, pack_mass: 341(6) kg, cell_rows: 41, footprint: 2.6 m2, filled_share: {between: [0.80, 0.81]}}"
	text := drawn(t, ran(t, fmt.Sprintf(insideCars, others+carClaims)))
	after := func(kind string) string { // what stands between the last figure of a kind and the next of another
		rest := text[strings.LastIndex(text, `-`+kind+`">`):]
		_, rest, _ = strings.Cut(rest, "</figure>")
		rest, _, _ = strings.Cut(rest, "<figure")
		return rest
	}
	for kind, want := range map[string]string{
		"energy": "The same of one other vehicle stands in inside.parquet.",
		"steps":  "The same of four other vehicles stands in inside.parquet.",
		"layers": "The same of four other vehicles stands in inside.parquet.",
		"field":  "Not drawn, for having more than 2,000 places: the field of large.",
	} {
		if got := after(kind); !strings.Contains(got, want) {
			t.Errorf("behind the figures of kind %s stands %q, want %q", kind, got, want)
		}
	}
	if want := "The first 12 bars; the numbers have "; !strings.Contains(text, want) {
		t.Errorf("nothing says %q", want)
	}
}
