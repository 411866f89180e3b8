package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

// Limits of the knock-down: NASA SP-8007.
const (
	thinnest   = 1500.0 // r/t
	moderately = 2.85   // gamma Z, moderately long and more
)

// canQuantities declares what one round cell's can bears along its axis.
func canQuantities() []quantity {
	const (
		nasa  = "NASA SP-8007, isotropic cylinders in axial compression (formula from programs that cite it)"
		mises = "von Mises, ends closed: first principles"
		says  = "Cans are looked at as thin tubes: without crimp, without the electrode roll inside, without fire; the crimp often gives before the wall." + screening
	)
	traits := model.Traits{Convention: model.Convention{Says: says}}
	wall := []string{"!cell_diameter", "!can_wall_thickness"}
	shell := append(wall, "can_modulus", "can_poisson", "cell_height", "can_pressure", "can_pressure_gain")
	return []quantity{
		{name: "can_wall_thickness", unit: "mm", limits: positive, usual: usual{0.12, 0.8, practice, "um for mm"}, meaning: "thickness of a round cell's can", source: "measured"},
		{name: "can_modulus", unit: "GPa", limits: positive, usual: usual{60, 215, sheets, "MPa for GPa"}, meaning: "elastic modulus of the can", source: "handbook"},
		{name: "can_poisson", unit: "1", limits: limits{0, 0.5, false}, meaning: "ratio of the can's contraction to its stretch (Poisson's)", source: "handbook",
			fallback: "0.3", fallbackSource: "handbook: low-carbon steel, from memory"},
		{name: "can_yield_strength", unit: "MPa", limits: positive, usual: usual{150, 700, sheets, "GPa for MPa"}, meaning: "yield strength of the drawn can", source: "test; ask the maker"},
		{name: "can_pressure", unit: "MPa", limits: nonNegative, absent: absent(0), usual: usual{0, 2, practice, "bar or kPa for MPa"}, meaning: "pressure inside the can over that outside", source: "question"},
		{name: "can_pressure_gain", unit: "1", limits: nonNegative, absent: absent(0),
			meaning: "what pressure inside gives back of the knock-down, over E t/r; left out: nothing, which is safe", source: "NASA SP-8007, its figure for pressurised cylinders"},
		{name: "can_knock_down", unit: "1", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true},
			meaning: "share of the classical buckling stress that imperfect cans reach", source: nasa,
			ways: []way{from2(canKnockDown, wall[0], wall[1]).reads("1 - 0.901 x (1 - exp(-sqrt(r / t) / 16)), r = (cell_diameter - can_wall_thickness) / 2, t = can_wall_thickness")}},
		{name: "can_buckling_load", unit: "kN", limits: nonNegative, outputOnly: true, traits: traits,
			meaning: "axial load at which the can buckles", source: nasa,
			ways: []way{each(bucklingLoad, shell...).reads("2 pi r t x can_modulus x t / (r x sqrt(3 x (1 - can_poisson^2))) x min(1, knock-down + can_pressure_gain x sqrt(3 x (1 - can_poisson^2))) + can_pressure x pi r^2, r and t by cell_diameter and can_wall_thickness; moderately long by cell_height")}},
		{name: "can_yield_load", unit: "kN", limits: nonNegative, outputOnly: true, traits: traits,
			meaning: "axial load at which the can's wall yields; pressure inside lowers it", source: mises,
			ways: []way{from4(yieldLoad, wall[0], wall[1], "can_yield_strength", "can_pressure").reads("2 pi r t x sqrt(can_yield_strength^2 - 0.75 x (can_pressure x r / t)^2), r and t by cell_diameter and can_wall_thickness")}},
		{name: "can_capacity", unit: "kN", limits: nonNegative, outputOnly: true, traits: traits,
			meaning: "axial load that one can bears: the smaller of buckling and yield", source: "definition",
			ways: []way{from2(math.Min, "can_buckling_load", "can_yield_load").reads("min(can_buckling_load, can_yield_load)")}},
		{name: "patch_force", unit: "kN", limits: positive, meaning: "force on a patch of the pack", source: "question"},
		{name: "patch_area", unit: "cm2", limits: positive, meaning: "area of that patch", source: "question"},
		{name: "cells_under_patch", unit: "1", limits: nonNegative, outputOnly: true, traits: traits, meaning: "cells that share that force, one at least", source: "patch over plan area of one",
			ways: []way{from2(underPatch, "patch_area", "cell_plan_area").reads("max(1, patch_area / cell_plan_area)")}},
		{name: "can_reserve_factor", unit: "1", limits: nonNegative, outputOnly: true, traits: traits,
			meaning: "what the cells under the patch bear over its force; 1 is just enough", source: "definition",
			ways: []way{from3(patchReserve, "cells_under_patch", "can_capacity", "patch_force").reads("cells_under_patch x can_capacity / patch_force")}},
		{name: "cells_needed", unit: "1", limits: nonNegative, outputOnly: true, traits: traits,
			meaning: "whole cells that it takes to bear the force", source: "definition",
			ways: []way{from2(cellsNeeded, "patch_force", "can_capacity").reads("patch_force / can_capacity, up")}},
	}
}

// midWall is the radius to the middle of a can's wall.
func midWall(diameter, wall float64) float64 { return 0.5 * (diameter - wall) }

func canKnockDown(diameter, wall float64) float64 { return knockDown(midWall(diameter, wall) / wall) }

// knockDown is NASA SP-8007's for radius over thickness.
func knockDown(slender float64) float64 {
	if !(slender < thinnest) {
		return math.NaN()
	}
	return 1 - float64(0.901*(1-portable.Exp(-math.Sqrt(slender)/16)))
}

func bucklingLoad(x []float64) float64 {
	t, modulus, nu, length, pressure, gain := x[1], x[2], x[3], x[4], x[5], x[6]
	r := midWall(x[0], t)
	wide := 1 - float64(nu*nu)
	root, gamma := math.Sqrt(3*wide), knockDown(r/t)
	if !(gamma*(length*length*math.Sqrt(wide)/(r*t)) > moderately) {
		return math.NaN()
	}
	ring := 2 * math.Pi * r * t
	stress := modulus * t / (r * root)
	return float64(ring*stress*math.Min(1, gamma+float64(gain*root))) + float64(pressure*(math.Pi*r*r))
}

func yieldLoad(diameter, t, strength, pressure float64) float64 {
	r := midWall(diameter, t)
	hoop := pressure * r / t
	left := float64(strength*strength) - float64(0.75*(hoop*hoop))
	if !(left >= 0) {
		return math.NaN() // it bursts
	}
	return 2 * math.Pi * r * t * math.Sqrt(left)
}

func underPatch(patch, cell float64) float64 { return math.Max(1, patch/cell) }

func patchReserve(cells, capacity, force float64) float64 { return cells * capacity / force }

func cellsNeeded(force, capacity float64) float64 { return math.Ceil(force/capacity - exactFit) }
