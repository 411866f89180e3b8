package vehicle

import (
	"math"
	"slices"

	"proofmass/model"
)

// Numbers that stand for the words of cell_format.
const (
	roundCell = 0.0
	pouchCell = 2.0
)

// flatCellQuantities declares what flat-sided cells, prismatic and pouch, have in place
// of a diameter.
func flatCellQuantities() []quantity {
	return []quantity{
		{name: "cell_format", unit: "1", limits: limits{roundCell, pouchCell, false},
			traits:  model.Traits{Words: map[string]float64{"round": roundCell, "prismatic": 1, "pouch": pouchCell}},
			meaning: "form of the cells: round, prismatic or pouch; needed only where a vehicle has the measures of more than one", source: "design"},
		{name: "cell_width", unit: "mm", limits: positive,
			usual:   usual{60, 700, practice, "cm for mm"},
			meaning: "longer side in plan of one flat-sided cell, seam in", source: "data sheet"},
		{name: "cell_thickness", unit: "mm", limits: positive,
			usual:   usual{5, 90, practice, "width and thickness exchanged, cm for mm"},
			meaning: "shorter side in plan of one flat-sided cell, swelling in", source: "data sheet"},
		{name: "gap_across", unit: "mm", limits: nonNegative, absent: absent(0), traits: model.Traits{Figure: "flat field"},
			meaning: "gap between neighbouring stacks of flat-sided cells, across their width; cell_gap is the one along the stack", source: "design"},
		{name: "cell_section", unit: "cm2", limits: positive, step: true, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "plan area of one cell by itself", source: "circle, or width x thickness",
			ways: []way{shaped(from1(disc, "!cell_diameter"), product("!cell_width", "!cell_thickness")).
				reads("pi / 4 x cell_diameter^2, or cell_width x cell_thickness, by cell_format")}},
	}
}

// shaped takes the way of round cells or that of flat-sided ones, by what the vehicle
// gives: a vehicle based on one with cells of another form has both, and cell_format
// tells them apart row by row.
func shaped(round, flat way) way {
	from := slices.Concat(round.needs, flat.needs, []string{"cell_format"})
	return way{from: unmarked(from), form: "", fit: func(_ *System, c *car) plan {
		isRound, isFlat := c.gives([]string{"cell_diameter"}), c.gives([]string{"cell_width", "cell_thickness"})
		format := c.gives([]string{"cell_format"})
		switch {
		case isFlat && isRound:
			return either(round, flat)
		case isFlat && format:
			return only(flat, func(format float64) bool { return format > 0.5 })
		case format && isRound:
			return only(round, func(format float64) bool { return format < 0.5 })
		case isFlat:
			return plan{ok: true, needs: flat.needs, eval: flat.eval, start: flat.start}
		}
		return plan{ok: true, needs: round.needs, eval: round.eval, start: round.start}
	}}
}

// unmarked strips the marks of needs, each once.
func unmarked(needs []string) []string {
	var all []string
	for _, need := range needs {
		if q, ok := bare(need); ok && !slices.Contains(all, q) {
			all = append(all, q)
		}
	}
	return all
}

// either evaluates both ways and takes, row by row, the one of the cell's form.
func either(round, flat way) plan {
	needs := slices.Concat([]string{"!cell_format"}, round.needs, flat.needs)
	return plan{ok: true, needs: needs, start: func(by model.Saving) evaluate {
		roundEval, flatEval := round.begin(by), flat.begin(by)
		var other []float64
		return func(out, in [][]float64) {
			if len(other) < len(out[0]) {
				other = make([]float64, len(out[0]))
			}
			format, split := in[0], 1+len(round.needs)
			roundEval(out, in[1:split])
			flatEval([][]float64{other[:len(out[0])]}, in[split:])
			for i, form := range format {
				if form > 0.5 {
					out[0][i] = other[i]
				}
			}
		}
	}}
}

// only evaluates one way, for rows of its form: others have no value.
func only(w way, fits func(format float64) bool) plan {
	return plan{ok: true, needs: slices.Concat([]string{"!cell_format"}, w.needs), start: func(by model.Saving) evaluate {
		eval := w.begin(by)
		return func(out, in [][]float64) {
			eval(out, in[1:])
			for i, format := range in[0] {
				if !fits(format) {
					out[0][i] = math.NaN()
				}
			}
		}
	}}
}

// begin is the way's evaluation, with a memory of its own where it has one.
func (w way) begin(by model.Saving) evaluate {
	if w.start != nil {
		return w.start(by)
	}
	return w.eval
}

func box(x []float64) float64 { return x[0] * x[1] * x[2] }

// stackArea is the floor that a flat-sided cell takes with its share of the gaps.
func stackArea(width, across, thickness, gap float64) float64 {
	return (width + across) * (thickness + gap)
}
