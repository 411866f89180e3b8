package vehicle

import "proofmass/model"

// wltcPhases are the parts of the WLTC by samples, at rest where they join, and the two
// that make up its city.
var wltcPhases = []struct {
	name, words string
	from, to    int
}{
	{"low", "low-speed phase", 0, 589}, {"medium", "medium-speed phase", 589, 1022}, {"high", "high-speed phase", 1022, 1477},
	{"extra_high", "extra-high-speed phase", 1477, 1800}, {"city", "low- and medium-speed phases together", 0, 1022},
}

// phaseQuantities declares consumption over the WLTC's phases, each over its own distance:
// they add up in energy, not in energy per distance.
func phaseQuantities(drives Drives) []quantity {
	wltc := drives.named("wltc")
	var all []quantity
	for _, p := range wltcPhases {
		if wltc.Schedule.Published == nil || len(wltc.Schedule.Seconds) <= p.to {
			return nil // a schedule of that name that has no such phases
		}
		name := "wltc_" + p.name
		part := road{name, wltc.Schedule.Between(p.from, p.to)}
		all = append(all,
			quantity{name: name + "_total", unit: "Wh/km", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
				meaning: "chemical energy per distance over the " + p.words + " of WLTC, without the model's error", source: "the same steps; UN GTR 15 Annex 1",
				ways: []way{{needs: wltc.kernelNeeds(), start: part.total()}}},
			quantity{name: name + "_consumption", unit: "Wh/km", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true, Certified: true},
				meaning: "chemical energy per distance over the " + p.words + " of WLTC", source: "total x the model's error",
				ways: []way{from4(mixedError, name+"_total", "model_error_city", "model_error_highway", "model_error_own_factor").
					reads(name + "_total x sqrt(model_error_city x model_error_highway) x model_error_own_factor")}},
		)
	}
	return all
}
