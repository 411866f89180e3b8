package page_test

import (
	"fmt"
	"strings"
	"testing"

	"proofmass/jobs/report/draw"
	"proofmass/jobs/report/page"
)

// crowd is a study of so many vehicles, inputs of its own and claims.
func crowd(vehicles, inputs, claims, rows int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "format: 1\nstudy: crowd-of-%d-%d-%d\nmodel: vehicle\ninputs:\n", vehicles, inputs, claims)
	b.WriteString("  drag_coefficient: {between: [0.25, 0.27]}\n  frontal_area: 2.31 m2\n  rolling_coefficient: {normal: {mean: 0.0087, sd: 0.0004}}\n  usable_share: 94 %\n")
	var sum []string
	if inputs > 0 {
		b.WriteString("own:\n")
		for i := range inputs {
			fmt.Fprintf(&b, "  part_of_the_structure_number_%03d: {between: [%d g, %d g], unit: g, meaning: a bracket, how_known: guess}\n", i, 30+i, 60+2*i)
			sum = append(sum, fmt.Sprintf("part_of_the_structure_number_%03d", i))
		}
	}
	b.WriteString("vehicles:\n  the_car_of_today: {kerb_mass: 1733(12) kg, pack_mass: 391(8) kg, pack_energy: 61(1) kWh}\n")
	for v := 1; v < vehicles; v++ {
		fmt.Fprintf(&b, "  candidate_%02d: {based_on: the_car_of_today, pack_mass: {between: [%d kg, %d kg]}}\n", v, 320-v, 352-v)
	}
	if inputs > 0 {
		b.WriteString("outputs:\n")
		for i := 0; i < len(sum); i += 100 {
			fmt.Fprintf(&b, "  brackets_from_%d: {formula: %s, unit: kg, meaning: mass of brackets}\n", i, strings.Join(sum[i:min(i+100, len(sum))], " + "))
		}
	}
	if claims > 0 {
		b.WriteString("claims:\n")
		for c := range claims {
			fmt.Fprintf(&b, "  claim_number_%d_of_a_long_list: {of: candidate_%02d.%s, announced: %s, rounded_to: 0.1 %%, sense: at_least}\n", c, 1+c%(vehicles-1),
				[]string{"kerb_mass_change", "label_range_change"}[c%2], []string{fmt.Sprintf("-%d.%d %%", 2+c/10, c%10), fmt.Sprintf("%d.%d %%", 1+c/10, c%10)}[c%2])
		}
	}
	fmt.Fprintf(&b, "sample: {rows: %d}\n", rows)
	return b.String()
}

const rooted = `
format: 1
study: roots
model: formulas
inputs:
  width: {between: [1 m, 2 m]}
  height: {between: [-0.5 m, 2 m]}
  depth: {lognormal: {median: 4.1 mm, factor: 3}}
outputs:
  side: {formula: sqrt(width * height), unit: m}
  far: {formula: width / depth, unit: '1'}
claims:
  large: {of: side, announced: 0.4 m, rounded_to: 0.1 m, sense: at_least}
  thin: {of: far, announced: 410, sense: about, rounded_to: 200}
  other: {holds: side > depth}
sample: {rows: 2048}
`

// TestLaidOut: of studies small and large every word of every drawing stands inside it, and
// none on another; the page stays below 2 MB.
func TestLaidOut(t *testing.T) {
	for name, study := range map[string]string{
		"what is inside": fmt.Sprintf(insideCars, carClaims),
		"one vehicle":    crowd(1, 0, 0, 512), "two, three inputs": crowd(2, 3, 1, 512), "twelve, thirty claims": crowd(12, 0, 30, 256),
		"three hundred inputs": crowd(2, 300, 3, 512), "infeasible": rooted, "seldom": rare,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			folder := ranOnce(t, study)
			if text := drawn(t, folder); len(text) > 2_000_000 {
				t.Errorf("the page has %d bytes", len(text))
			} else if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
				t.Error("a number that is none stands on the page")
			}
			all, err := page.LaidOut(folder)
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range all {
				words(t, l)
			}
		})
	}
}

// words checks where the words of a drawing stand.
func words(t *testing.T, l page.Laid) {
	type box struct {
		left, right, top, bottom float64
		words                    string
	}
	var boxes []box
	for _, shape := range l.Scene.Shapes {
		w, ok := shape.(*draw.Text)
		if !ok || w.Words == "" {
			continue
		}
		wide, x := w.Width(), w.At.X
		switch w.Anchor {
		case draw.Middle:
			x -= wide / 2
		case draw.End:
			x -= wide
		}
		b := box{x, x + wide, w.At.Y - 0.72*w.Size, w.At.Y, w.Words}
		if slack := 0.5 * w.Size; b.left < -slack || b.right > l.Scene.Width+slack || b.top < -slack || b.bottom > l.Scene.Height+slack {
			t.Errorf("%s: %q stands at %.0f to %.0f, %.0f, outside %.0f by %.0f", l.Name, b.words, b.left, b.right, b.bottom, l.Scene.Width, l.Scene.Height)
		}
		for _, o := range boxes {
			if b.left < o.right-1 && o.left < b.right-1 && b.top < o.bottom-1 && o.top < b.bottom-1 {
				t.Errorf("%s: %q and %q stand on one another", l.Name, o.words, b.words)
			}
		}
		boxes = append(boxes, b)
	}
}
