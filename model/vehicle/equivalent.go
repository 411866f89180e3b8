package vehicle

import (
	"math"

	"proofmass/model"
)

// equivalentQuantities declares consumption at the plug as miles a gallon of gasoline
// equivalent: 33,705 Wh a gallon, 40 CFR 600.
func equivalentQuantities() []quantity {
	out := func(name, words, of string) quantity {
		return quantity{name: name, unit: "MPGe", limits: nonNegative, outputOnly: true, traits: model.Traits{Aside: true, Certified: true},
			meaning: "miles a gallon of gasoline equivalent as on the label, unrounded, " + words, source: "33,705 Wh a gallon, 40 CFR 600",
			ways: []way{from2(perEnergy, of, "label_factor").reads("label_factor / " + of)}}
	}
	return []quantity{
		out("label_city_economy", "city", "udds_ac_consumption"), out("label_highway_economy", "highway", "hwfet_ac_consumption"),
		out("label_economy", "55 % of city and 45 % of highway energy", "combined_ac_consumption"),
	}
}

func perEnergy(consumption, factor float64) float64 {
	if !(consumption > 0) {
		return math.NaN()
	}
	return factor / consumption
}
