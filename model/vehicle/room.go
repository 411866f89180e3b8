package vehicle

import (
	"math"

	"proofmass/model"
)

const (
	exactFit = 1e-9 // of a pitch: an exact fit counts, whatever rounding makes of it
	places   = "places(room, size, pitch) = floor((room - size) / pitch + 1e-9) + 1, 0 where room is below size"
)

// Numbers that stand for the words of cooling_place, empty_places and empty_where.
const (
	coolingBelow, coolingAbove, coolingBeside = 0.0, 1.0, 2.0
	leftEmpty, potted, dummies                = 0.0, 1.0, 2.0
	emptyAtEnds, emptySpread                  = 0.0, 1.0
)

// roomQuantities declares the floor that a pack may fill, and how many cells stand on
// it.
func roomQuantities() []quantity {
	const drawing = "drawing"
	room := func(name, meaning, of string) quantity {
		return quantity{name: name, unit: "m", limits: positive, step: true, outputOnly: true, meaning: meaning,
			source: "envelope less clearances and rails on both sides",
			ways:   []way{from3(insideOf, of, "side_clearance", "rail_wall_thickness").reads(of + " - 2 x (side_clearance + rail_wall_thickness)")}}
	}
	count := func(name, meaning string, f func(x []float64) float64, needs ...string) quantity {
		return quantity{name: name, unit: "1", limits: nonNegative, outputOnly: true, meaning: meaning, source: places, ways: []way{each(f, needs...)}}
	}
	stacked := []string{"cell_width", "cell_thickness", "cell_gap", "gap_across", "end_plate_thickness", "cells_per_module"}
	return []quantity{
		{name: "floor_length", unit: "m", limits: positive, usual: usual{0.8, 4, practice, "mm for m"},
			meaning: "length of the floor that the pack may fill, along the car", source: drawing},
		{name: "floor_width", unit: "m", limits: positive, usual: usual{0.7, 2, practice, "mm for m"},
			meaning: "width of that floor", source: drawing},
		{name: "floor_height", unit: "mm", limits: positive, usual: usual{70, 400, practice, "cm for mm"},
			meaning: "height of the room for the pack", source: drawing},
		{name: "side_clearance", unit: "mm", limits: nonNegative, absent: absent(0),
			meaning: "free space left on each side of that floor", source: drawing},
		{name: "rail_wall_thickness", unit: "mm", limits: nonNegative, absent: absent(0), usual: usual{0, 6, practice, "cm for mm"},
			meaning: "thickness of the wall of the pack's side rails", source: drawing},
		{name: "end_plate_thickness", unit: "mm", limits: nonNegative, absent: absent(0),
			meaning: "thickness of the plate at each end of a stack of flat-sided cells", source: drawing},
		{name: "cells_per_module", unit: "1", limits: positive, absent: absent(1), traits: model.Traits{Whole: true},
			meaning: "cells that are put in or left out together", source: "design"},
		room("room_length", "length left for cells", "floor_length"),
		room("room_width", "width left for cells", "floor_width"),
		count("places_hexagonal_along", "round cells that fit in hexagonal rows along the car", hexagonalAlong, "room_length", "room_width", "cell_diameter", "cell_pitch"),
		count("places_hexagonal_across", "round cells that fit in hexagonal rows across the car", hexagonalAlong, "room_width", "room_length", "cell_diameter", "cell_pitch"),
		count("places_square", "round cells that fit in a square grid", squarePlaces, "room_length", "room_width", "cell_diameter", "cell_pitch"),
		count("places_stacked_along", "flat-sided cells that fit in stacks along the car", stackedAlong, append([]string{"room_length", "room_width"}, stacked...)...),
		count("places_stacked_across", "flat-sided cells that fit in stacks across the car", stackedAlong, append([]string{"room_width", "room_length"}, stacked...)...),
		{name: "cells_that_fit", unit: "1", limits: nonNegative, outputOnly: true,
			meaning: "cells that fit the floor, the better way round; for round cells as layout says",
			source:  "the largest of the counts above",
			ways: []way{shaped(from4(mostRound, "places_hexagonal_along", "places_hexagonal_across", "places_square", "layout"),
				from2(math.Max, "places_stacked_along", "places_stacked_across")).
				reads("the larger of places_hexagonal_along and places_hexagonal_across, or places_square, by layout; of places_stacked_along and places_stacked_across, by cell_format")}},
		{name: "height_left", unit: "mm", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "height of the room less that of the pack; below nil it does not fit", source: "difference",
			ways: []way{difference("floor_height", "pack_height")}},
		{name: "places_left", unit: "1", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "cells that fit the floor less those of the pack; below nil they do not fit", source: "difference",
			ways: []way{difference("cells_that_fit", "cell_count")}},
		{name: "cells_placed", unit: "1", limits: positive, step: true, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "cells of the pack; no number where they do not fit the floor or the height that is stated", source: "cell_count",
			ways: []way{{fit: cellsPlaced, from: []string{"cell_count", "cells_that_fit", "floor_height", "pack_height"},
				form: "cell_count, infeasible above cells_that_fit or where pack_height is above floor_height"}}},
		{name: "empty_places", unit: "1", limits: limits{leftEmpty, dummies, false}, absent: absent(leftEmpty),
			traits:  model.Traits{Words: map[string]float64{"empty": leftEmpty, "potted": potted, "dummy": dummies}},
			meaning: "what stands where the grid holds no cell: empty (left out), potted or dummy", source: "design"},
		{name: "empty_where", unit: "1", limits: share, absent: absent(emptyAtEnds),
			traits:  model.Traits{Words: map[string]float64{"ends": emptyAtEnds, "spread": emptySpread}},
			meaning: "where these places are: at the rows' ends (left out), cells clustered to the middle, or spread", source: "design"},
		{name: "dummy_mass", unit: "g", limits: nonNegative, absent: absent(0),
			meaning: "mass of what fills one place in a cell's stead, where empty_places is dummy", source: "design"},
		{name: "empty_places_mass", unit: "kg", limits: nonNegative, absent: absent(0, "empty_places"),
			traits:  model.Traits{PartOf: "pack_mass", IfAny: true},
			meaning: "mass of what fills the places without a cell",
			source:  "potted over the whole plan area of a place, or a dummy",
			ways: []way{each(emptyMass, "!cell_rows", "!cell_columns", "cell_count", "!empty_places", "cell_plan_area", "bonded_height", "fill_share", "filler_density", "dummy_mass").
				reads("(cell_rows x cell_columns - cell_count) x (cell_plan_area x bonded_height x fill_share x filler_density where empty_places is potted, dummy_mass where it is dummy)")}},
	}
}

func insideOf(envelope, clearance, wall float64) float64 {
	return envelope - float64(2*(clearance+wall))
}

// placesIn is how many things of a size stand in a row at a pitch.
func placesIn(room, size, pitch float64) float64 {
	if !(room >= size) {
		if room < size {
			return 0
		}
		return math.NaN()
	}
	return math.Floor((room-size)/pitch+exactFit) + 1
}

// hexagonalAlong counts round cells in rows along the first side: every other row is
// shifted by half a pitch.
func hexagonalAlong(x []float64) float64 {
	along, across, diameter, pitch := x[0], x[1], x[2], x[3]
	rows := placesIn(across, diameter, float64(pitch*halfRoot3))
	whole, shifted := placesIn(along, diameter, pitch), placesIn(along-float64(0.5*pitch), diameter, pitch)
	return float64(math.Ceil(0.5*rows)*whole) + float64(math.Floor(0.5*rows)*shifted)
}

func squarePlaces(x []float64) float64 {
	return placesIn(x[0], x[2], x[3]) * placesIn(x[1], x[2], x[3])
}

// stackedAlong counts flat-sided cells whose stacks run along the first side, in whole
// modules.
func stackedAlong(x []float64) float64 {
	along, across, width, thickness, gap, gapAcross, plate, module := x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]
	stack := placesIn(along-float64(2*plate), thickness, thickness+gap)
	return float64(math.Floor(stack/module+exactFit)*module) * placesIn(across, width, width+gapAcross)
}

func mostRound(along, across, squared, layout float64) float64 {
	if layout < 0.5 {
		return math.Max(along, across)
	}
	return squared
}

// cellsPlaced lets no more cells stand than the room that is stated has places for.
func cellsPlaced(s *System, c *car) plan {
	p := plan{ok: true, needs: []string{"cell_count"}, eval: copyColumn}
	plan, height := s.has(c, "cells_that_fit"), c.gives([]string{"floor_height"}) && s.has(c, "pack_height")
	switch {
	case plan && height:
		return eachOf(func(x []float64) float64 {
			return ifFits(ifFits(x[0], x[0], x[1]), x[2], x[3])
		}, []string{"cell_count", "cells_that_fit", "pack_height", "floor_height"})
	case plan:
		return eachOf(func(x []float64) float64 { return ifFits(x[0], x[0], x[1]) }, []string{"cell_count", "cells_that_fit"})
	case height:
		return eachOf(func(x []float64) float64 { return ifFits(x[0], x[1], x[2]) }, []string{"cell_count", "pack_height", "floor_height"})
	}
	return p
}

// ifFits is x where size is not above room, but for rounding.
func ifFits(x, size, room float64) float64 {
	if size <= float64(room*(1+exactFit)) {
		return x
	}
	return math.NaN()
}

func emptyMass(x []float64) float64 {
	empty := float64(x[0]*x[1]) - x[2]
	switch {
	case x[3] > 1.5:
		return empty * x[8]
	case x[3] > 0.5:
		return empty * x[4] * x[5] * x[6] * x[7]
	}
	return float64(empty * 0)
}
