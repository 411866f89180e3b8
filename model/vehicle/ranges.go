package vehicle

import "math"

func rangeQuantities() []quantity {
	show := func(name, meaning, source string, w way) quantity {
		return quantity{name: name, unit: "km", limits: nonNegative, outputOnly: true, meaning: meaning, source: source, ways: []way{w}}
	}
	const test = "usable energy / consumption"
	const label = "x label factor, unrounded (40 CFR 600.210-12)"
	return []quantity{
		show("city_range", "range over UDDS, unadjusted", test, from2(rangeOf, "usable_energy", "udds_consumption")),
		show("highway_range", "range over HWFET, unadjusted", test, from2(rangeOf, "usable_energy", "hwfet_consumption")),
		show("combined_range", "55 % of city and 45 % of highway range, unadjusted", "40 CFR 600.210-12, from memory",
			from2(combined, "city_range", "highway_range")),
		pulled(headline(4, inRanges(certified(show("label_range", "combined range as on the label", label, product("combined_range", "label_factor")))))),
		inRanges(certified(show("label_city_range", "city range as on the label", label, product("city_range", "label_factor")))),
		inRanges(certified(show("label_highway_range", "highway range as on the label", label, product("highway_range", "label_factor")))),
		inRanges(certified(show("wltc_range", "range over WLTC at the WLTP test mass", test, from2(rangeOf, "usable_energy", "wltc_consumption")))),
	}
}

// headline puts a quantity among those that every answer opens with.
func headline(place int, q quantity) quantity {
	q.traits.Headline = place
	return q
}

// pulled has it told what a unit of each lever does to the quantity.
func pulled(q quantity) quantity {
	q.traits.Levers = true
	return q
}

// inRanges puts a range into the figure of ranges.
func inRanges(q quantity) quantity {
	q.traits.Figure = "ranges"
	return q
}

// certified marks what a certification gives.
func certified(q quantity) quantity {
	q.traits.Certified = true
	return q
}

// rangeOf is how far the energy goes; there is no range where driving takes none.
func rangeOf(energy, consumption float64) float64 {
	if !(consumption > 0) {
		return math.NaN()
	}
	return energy / consumption
}
