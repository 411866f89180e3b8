package vehicle

import "proofmass/model"

// Numbers that stand for the words of layout.
const (
	hexagonal = 0.0
	square    = 1.0
)

// halfRoot3 is sqrt(3)/2: the distance of hexagonal rows over the pitch.
const halfRoot3 = 0.86602540378443864676372317075293618

func layoutQuantities() []quantity {
	const picture = "counted, for example on a picture"
	return []quantity{
		{name: "layout", unit: "1", limits: share,
			traits:  model.Traits{Figure: "field", Words: map[string]float64{"hexagonal": hexagonal, "square": square}},
			meaning: "how round cells stand: hexagonal (0) or square (1)", source: "design"},
		{name: "cell_gap", unit: "mm", limits: nonNegative,
			usual:   usual{0.3, 4, practice, "the pitch for the gap"},
			absent:  absent(0),
			meaning: "gap between neighbouring cells", source: "design"},
		{name: "cell_pitch", unit: "mm", limits: positive, traits: model.Traits{Figure: "field"}, step: true,
			meaning: "distance of neighbouring cells' axes", source: "diameter + gap",
			ways: []way{sum("cell_diameter", "cell_gap")}},
		{name: "cell_plan_area", unit: "cm2", limits: positive, step: true, outputOnly: true,
			meaning: "floor that one cell takes with its share of the gaps",
			source:  "sqrt(3)/2 p2 hexagonal, p2 square (Conway and Sloane, Sphere Packings, ch. 1); flat-sided cells by their sides and gaps",
			ways: []way{shaped(from2(planArea, "cell_pitch", "layout"),
				from4(stackArea, "!cell_width", "gap_across", "!cell_thickness", "cell_gap"))}},
		{name: "cell_interstice", unit: "cm2", limits: nonNegative, step: true, outputOnly: true,
			meaning: "floor between cells, for each cell", source: "plan area less the cell's own section",
			ways: []way{difference("cell_plan_area", "cell_section")}},
		{name: "cell_rows", unit: "1", limits: positive,
			traits:  model.Traits{Figure: "field", Whole: true},
			meaning: "rows of cells", source: picture},
		{name: "cell_columns", unit: "1", limits: positive,
			traits:  model.Traits{Figure: "field", Whole: true},
			meaning: "cells in a row", source: picture},
		{name: "filled_share", unit: "%", limits: openShare, meaning: "share of the grid's places that hold a cell", source: picture},
		{name: "series", unit: "1", limits: positive,
			traits: model.Traits{Whole: true}, usual: usual{80, 240, practice, "series and parallel exchanged"},
			meaning: "cells or groups in series", source: "design",
			ways: []way{quotient("!cell_count", "!parallel").undoneBy()}},
		{name: "parallel", unit: "1", limits: positive,
			traits: model.Traits{Whole: true}, usual: usual{1, 90, practice, "series and parallel exchanged"},
			meaning: "cells in parallel", source: "design",
			ways: []way{quotient("cell_count", "!series").undoneBy("cell_count", "cell_rows", "cell_columns", "filled_share")}},
		{name: "cell_count", unit: "1", limits: positive,
			traits:  model.Traits{Figure: "field", Whole: true},
			meaning: "cells in the pack", source: "series x parallel, or counted, or as many as fit the floor",
			ways: []way{
				product("!series", "!parallel").called("strings"),
				product("cell_rows", "cell_columns", "filled_share").called("picture"),
				same("cells_that_fit").called("room"),
			}},
		{name: "cell_count_by_strings", unit: "1", limits: positive,
			traits:     model.Traits{RouteTo: "cell_count", Beside: "cell_count"},
			outputOnly: true,
			meaning:    "cells in the pack by a second route: series x parallel", source: "cross-check",
			ways: []way{secondRoute("cell_count", "strings", product("!series", "!parallel"))}},
		{name: "cell_count_by_picture", unit: "1", limits: positive,
			traits:     model.Traits{RouteTo: "cell_count", Beside: "cell_count"},
			outputOnly: true,
			meaning:    "cells in the pack by a second route: rows x columns x filled share", source: "cross-check",
			ways: []way{secondRoute("cell_count", "picture", product("cell_rows", "cell_columns", "filled_share"))}},
	}
}

func planArea(pitch, layout float64) float64 {
	if layout < 0.5 {
		return halfRoot3 * pitch * pitch
	}
	return pitch * pitch
}
