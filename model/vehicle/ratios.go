package vehicle

import "proofmass/model"

// ratioQuantities declares what finds most slips of size: ratios and differences of
// quantities that are each plausible alone. They are looked at wherever they can be
// had and stored only where a study names them.
func ratioQuantities() []quantity {
	ratio := func(name, unit, meaning, source string, band usual, w way) quantity {
		return quantity{name: name, unit: unit, limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			usual: band, meaning: meaning, source: source, ways: []way{w}}
	}
	return []quantity{
		ratio("cell_density", "kg/l", "mass over volume of one cell", "definition",
			usual{1.7, 3.2, derived, "g for kg, cm for mm, the radius for the diameter"}, quotient("cell_mass", "cell_volume")),
		ratio("cell_voltage_drop", "V", "voltage that one cell loses at a current which empties it in an hour", "resistance x charge / 1 h",
			usual{0.03, 0.25, derived, "ohm for mohm, the pack's resistance for a cell's, a figure at 1 kHz"}, from2(voltageDrop, "cell_resistance", "cell_charge")),
		ratio("cells_floor_share", "%", "share of the pack's plan area that its cells take, gaps between them included", "count x plan area of one / footprint",
			usual{40, 100, practice, "a footprint smaller than the cells on it, or cells in layers"}, from3(volumeShare, "cell_count", "cell_plan_area", "footprint")),
		ratio("pack_mass_share", "%", "share of the kerb mass that is pack", "definition",
			usual{15, 40, practice, "lb for kg, g for kg"}, quotient("pack_mass", "kerb_mass")),
		ratio("load_capacity", "kg", "what the car may carry beyond its kerb mass", "gross mass - kerb mass",
			usual{300, 1800, practice, "the load for the gross mass, lb for kg"}, difference("gross_mass", "kerb_mass")),
		ratio("test_load", "kg", "load in the US tests beyond the kerb mass", "test mass - kerb mass",
			usual{0, 300, practice, "the test mass of a lighter trim, lb for kg"}, difference("test_mass", "kerb_mass")),
		ratio("wltp_test_load", "kg", "load in the WLTP test beyond the kerb mass", "WLTP test mass - kerb mass",
			usual{25, 600, practice, "the test mass of a lighter trim, the gross mass for it"}, difference("wltp_test_mass", "kerb_mass")),
		ratio("road_load_share", "%", "road load at 80 km/h over the car's weight", "forces on a level road in still air / (test mass x g)",
			usual{1.2, 3, derived, "lbf for N, a force per km/h for one per m/s"},
			way{needs: []string{"rolling_force", "rolling_slope", "speed_coefficient", "aero_coefficient", "test_mass"}, eval: roadLoadShare}),
		ratio("regen_fade_span", "m/s", "speeds over which recovery sets in", "regen_fade_high - regen_fade_low",
			usual{0.2, 12, practice, "regen_fade_low above regen_fade_high"}, difference("regen_fade_high", "regen_fade_low")),
	}
}

func voltageDrop(resistance, charge float64) float64 { return resistance * charge / 3600 }

func roadLoadShare(out, in [][]float64) {
	const v = 80 / 3.6
	for i := range out[0] {
		slopes := float64(v * (in[1][i] + in[2][i]))
		out[0][i] = (in[0][i] + slopes + float64(in[3][i]*(v*v))) / (in[4][i] * gravity)
	}
}
