package vehicle

import (
	"math"

	"proofmass/model"
)

const (
	cityWeight    = 0.55 // 40 CFR 600.206-12
	highwayWeight = 0.45
)

// consumptionQuantities declares consumption with the model's own error, at the cells
// and at the plug.
func consumptionQuantities(drives Drives) []quantity {
	var all []quantity
	for _, d := range drives {
		all = append(all, quantity{name: d.Schedule.Name + "_consumption", unit: "Wh/km", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Certified: d.WLTP},
			meaning: "chemical energy per distance over " + d.Words, source: "total x the model's error", ways: []way{d.withError()}})
		if d.Schedule.Published == nil {
			all = append(all, quantity{name: d.Schedule.Name + "_range", unit: "km", limits: nonNegative, outputOnly: true,
				meaning: "range over " + d.Words + ", driven again and again", source: "usable energy / consumption",
				ways: []way{from2(rangeOf, "usable_energy", d.Schedule.Name+"_consumption").reads("usable_energy / " + d.Schedule.Name + "_consumption")}})
		}
	}
	plug := func(name, where, source string, w way) {
		all = append(all, quantity{name: name, unit: "Wh/km", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Certified: true, Levers: name == "label_ac_consumption"},
			meaning: "energy from the plug per distance, " + where, source: source, ways: []way{w}})
	}
	for _, d := range drives {
		if d.Plug {
			plug(d.Schedule.Name+"_ac_consumption", d.Words+", unadjusted", "consumption / recharge efficiency",
				quotient(d.Schedule.Name+"_consumption", "recharge_efficiency"))
		}
	}
	plug("combined_ac_consumption", "55 % city and 45 % highway, unadjusted", "40 CFR 600.210-12",
		from2(combined, "udds_ac_consumption", "hwfet_ac_consumption"))
	all = append(all, quantity{name: "label_factor", cause: byLabel, unit: "1", limits: openShare,
		usual: usual{0.65, 0.8, derived, "% left out"},
		traits: model.Traits{Convention: model.Convention{
			Says: "The label is the US label: 55 % of city and 45 % of highway range, or of consumption, by label_factor."}},
		meaning: "label range over unadjusted range", source: "40 CFR 600.210-12",
		fallback: "0.7", fallbackSource: "default adjustment, 40 CFR 600.116-12"})
	plug("label_ac_consumption", "as on the label, unrounded", "combined / label factor", quotient("combined_ac_consumption", "label_factor"))
	return all
}

// withError multiplies the total by the model's error on driving of its kind.
func (d Drive) withError() way {
	total := d.Schedule.Name + "_total"
	switch d.Driving {
	case City:
		return product(total, "model_error_city", "model_error_own_factor")
	case Mixed:
		return from4(mixedError, total, "model_error_city", "model_error_highway", "model_error_own_factor")
	}
	return product(total, "model_error_highway", "model_error_own_factor")
}

// mixedError takes the geometric mean of city and highway.
func mixedError(total, city, highway, own float64) float64 {
	return total * math.Sqrt(city*highway) * own
}

func combined(city, highway float64) float64 {
	return float64(cityWeight*city) + float64(highwayWeight*highway)
}
