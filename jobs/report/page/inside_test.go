package page_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"proofmass/jobs/report/page"
)

// TestInside: steps from one car's mass to the other's add up, a field has as many places as
// rows times columns, a bar of energies is as long as its parts together.
func TestInside(t *testing.T) {
	folder := ranOnce(t, fmt.Sprintf(insideCars, carClaims))
	text, all := drawn(t, folder), readTables(t, folder)
	seen := map[string]bool{}
	for _, s := range figuresOf(text) {
		if seen[s.kind] = true; s.kind != "steps" {
			continue
		}
		sum := 0.0
		for _, row := range s.rows[:len(s.rows)-1] {
			sum += number(t, row[1])
		}
		if end := number(t, s.rows[len(s.rows)-1][1]); math.Abs(sum-end) > 0.05*float64(len(s.rows)) || math.Abs(end-all.inside["after.kerb_mass"].Mean) > 0.06 {
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

// flatCars are two cars, of which the second has cells with sides.
const flatCars = `
format: 1
study: flat-cells
model: vehicle
inputs: {drag_coefficient: 0.26, frontal_area: 2.31 m2, rolling_coefficient: 0.0087, usable_share: 94 %, cell_voltage: 3.62 V}
vehicles:
  before: {kerb_mass: 1733(12) kg, pack_mass: 391(8) kg, cell_diameter: 29.4 mm, cell_gap: 1 mm, cell_height: 83 mm, cell_mass: 141 g, cell_charge: 8.3 Ah, cell_count: 1980}
  after:
    based_on: before
    pack_mass: {between: [331 kg, 352 kg]}
    cell_format: prismatic
    cell_width: {between: [193 mm, 197 mm]}
    cell_thickness: 41.7(1) mm
    cell_height: 104(1) mm
    gap_across: 6 mm
    cell_mass: 1.9(1) kg
    cell_charge: 121 Ah
    cell_rows: 26
    cell_columns: 4
    cell_count: {formula: after.cell_rows * after.cell_columns}
    bond_thickness: 0.5 mm
    footprint: 1.3 m2
indices: none
sample: {rows: 256}
`

// TestFlatField: cells with sides are drawn with them, one for each place, as large as the
// scale bar says; for a talk a field that is higher than wide is turned.
func TestFlatField(t *testing.T) {
	folder := ran(t, flatCars)
	text := drawn(t, folder)
	_, rest, _ := strings.Cut(text, "-field-w-t")
	picture, _, _ := strings.Cut(rest, "</svg>")
	cells := regexp.MustCompile(`<path class="f-wash s-rule" d="M([0-9.]+) ([0-9.]+)L([0-9.]+) [0-9.]+L[0-9.]+ ([0-9.]+)`).FindAllStringSubmatch(picture, -1)
	if len(cells) != 26*4 {
		t.Fatalf("%d cells, want one for each of %d places", len(cells), 26*4)
	}
	var x1, y1, x2, y2 float64
	fmt.Sscan(strings.Join(cells[0][1:], " "), &x1, &y1, &x2, &y2)
	if got, want := (y2-y1)/(x2-x1), 195/41.7; math.Abs(got/want-1) > 0.01 {
		t.Errorf("a cell is %.3f times as long across the rows as along them, want %.3f", got, want)
	}
	for _, want := range []string{"26 rows of 4 places", "after.cell_side_of_rows", "A cut through the pack of <i>after</i>"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	all, err := page.LaidOut(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		words(t, l)
		if strings.HasPrefix(l.Name, "field-after.talk") && l.Scene.Height > 1080 {
			t.Errorf("%s is %.0f high", l.Name, l.Scene.Height)
		}
	}
}
