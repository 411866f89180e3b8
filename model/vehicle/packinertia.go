package vehicle

import "proofmass/model"

// packInertiaQuantities declares the inertia of the pack about its own centre, from
// where its cells stand.
func packInertiaQuantities() []quantity {
	const grid = "parallel axes, place by place in closed form; what is not cell as a uniform box"
	gridNeeds := []string{"cells_mass", "cell_count", "!cell_rows", "!cell_columns", "empty_where", "rows_run", "cell_height",
		"pitch_along_row", "pitch_of_rows", "layout_shift", "cell_side_along_row", "cell_side_of_rows", "cell_roundness", "pack_mass", "pack_length", "pack_width", "pack_height"}
	told := "cells_mass at the places of cell_rows and cell_columns as far as cell_count fills them, by empty_where, rows_run, pitch_along_row, pitch_of_rows and layout_shift, each with its own inertia by cell_side_along_row, cell_side_of_rows, cell_height and cell_roundness; the rest of pack_mass over pack_length x pack_width x pack_height"
	step := func(name, unit, meaning, source string, w way) quantity {
		return quantity{name: name, unit: unit, limits: nonNegative, step: true, outputOnly: true, traits: model.Traits{Aside: true}, meaning: meaning, source: source, ways: []way{w}}
	}
	// drawn is a step that a drawing of cells from above needs where they are flat-sided.
	drawn := func(name, unit, meaning, source string, w way) quantity {
		q := step(name, unit, meaning, source, w)
		q.traits.Figure = "flat field"
		return q
	}
	return []quantity{
		{name: "rows_run", unit: "1", limits: share, absent: absent(0), traits: model.Traits{Words: map[string]float64{"along": 0, "across": 1}},
			meaning: "how rows of cells run: along the car (left out) or across; flat-sided cells are stacked along their row", source: "design"},
		drawn("pitch_along_row", "mm", "distance of neighbouring cells in a row", "definition",
			shaped(same("cell_pitch"), sum("!cell_thickness", "cell_gap")).reads("cell_pitch, or cell_thickness + cell_gap, by cell_format")),
		step("pitch_of_rows", "mm", "distance of neighbouring rows", "sqrt(3)/2 of the pitch where hexagonal",
			shaped(from2(rowPitch, "cell_pitch", "layout"), sum("!cell_width", "gap_across")).reads("cell_pitch x sqrt(3) / 2 or x 1 by layout, or cell_width + gap_across, by cell_format")),
		step("layout_shift", "mm", "shift of every other row", "half a pitch where hexagonal",
			shaped(from2(rowShift, "cell_pitch", "layout"), each(func(x []float64) float64 { return float64(0 * x[0]) }, "!cell_width")).reads("cell_pitch / 2 or 0 by layout; 0 with cell_width, by cell_format")),
		drawn("cell_side_along_row", "mm", "a cell's measure along its row", "data sheet", shaped(same("!cell_diameter"), same("!cell_thickness")).reads("cell_diameter or cell_thickness, by cell_format")),
		drawn("cell_side_of_rows", "mm", "a cell's measure across its row", "data sheet", shaped(same("!cell_diameter"), same("!cell_width")).reads("cell_diameter or cell_width, by cell_format")),
		drawn("cell_roundness", "1", "1 for a round cell, else 0", "form",
			shaped(each(func(x []float64) float64 { return 1 + float64(0*x[0]) }, "!cell_diameter"), each(func(x []float64) float64 { return float64(0 * x[0]) }, "!cell_width")).reads("1 with cell_diameter, 0 with cell_width, by cell_format")),
		{name: "pack_yaw_inertia", unit: "kg m2", limits: nonNegative, traits: model.Traits{Aside: true}, meaning: "yaw inertia of the pack about its own centre", source: grid,
			ways: []way{billInertia(false).reads("pack_mass x mean square of the distances of the lines of the bill from their centre, their own extent with them"), each(packYaw, gridNeeds...).reads(told), from3(plateInertia, "pack_mass", "pack_length", "pack_width").reads("pack_mass x (pack_length^2 + pack_width^2) / 12")}},
		{name: "pack_roll_inertia", unit: "kg m2", limits: nonNegative, traits: model.Traits{Aside: true}, meaning: "roll inertia of the pack about its own centre", source: grid,
			ways: []way{billInertia(true).reads("pack_mass x mean square of the distances of the lines of the bill from their centre, their own extent with them"), each(packRoll, gridNeeds...).reads(told), from3(plateInertia, "pack_mass", "pack_width", "pack_height").reads("pack_mass x (pack_width^2 + pack_height^2) / 12")}},
	}
}

func rowPitch(pitch, layout float64) float64 {
	if layout < 0.5 {
		return pitch * halfRoot3
	}
	return pitch
}

func rowShift(pitch, layout float64) float64 {
	if layout < 0.5 {
		return 0.5 * pitch
	}
	return float64(0 * pitch)
}

// plateInertia is that of a uniform rectangle or box about its centre.
func plateInertia(mass, a, b float64) float64 {
	return mass * (float64(a*a) + float64(b*b)) / 12
}

// field is the spread of cells about the middle of their grid: mean squares of the
// distances along and across the rows, each cell's own extent left out.
type field struct{ along, across float64 }

// standing is the field of the cells of x, as packYaw and packRoll read it. Places at
// the rows' ends are left empty by shortening the rows; a spread leaves every mean
// square as it was.
func standing(x []float64) field {
	count, rows, columns, where, pitch, rowPitch, shift := x[1], x[2], x[3], x[4], x[7], x[8], x[9]
	if where < 0.5 {
		columns = count / rows
	}
	return field{
		along:  float64(pitch*pitch*(float64(columns*columns)-1))/12 + float64(0.25*shift*shift),
		across: float64(rowPitch*rowPitch*(float64(rows*rows)-1)) / 12,
	}
}

func packYaw(x []float64) float64 {
	f, cells, side, width, round := standing(x), x[0], x[10], x[11], x[12]
	own := (float64(side*side) + float64(width*width)) / 12
	if round > 0.5 {
		own = side * side / 8
	}
	return float64(cells*(f.along+f.across+own)) + plateInertia(x[13]-cells, x[14], x[15])
}

func packRoll(x []float64) float64 {
	f, cells, run, height, side, width, round := standing(x), x[0], x[5], x[6], x[10], x[11], x[12]
	spread, own := f.across, width
	if run > 0.5 {
		spread, own = f.along, side
	}
	around := own * own / 12
	if round > 0.5 {
		around = own * own / 16
	}
	return float64(cells*(spread+around+float64(height*height)/12)) + plateInertia(x[13]-cells, x[15], x[16])
}
