package vehicle

import "proofmass/model"

// panes are the glazed openings, with the words for them.
var panes = []struct{ name, words string }{
	{"windscreen", "windscreen"}, {"side_glass", "side windows"}, {"rear_glass", "rear window"}, {"roof_glass", "glass roof"},
}

func glazingQuantities() []quantity {
	const handbook = "handbook, from memory"
	all := []quantity{
		{name: "glass_density", unit: "kg/m3", limits: positive, meaning: "density of soda-lime glass", source: "EN 572-1, from memory",
			fallback: "2500 kg/m3", fallbackSource: "EN 572-1, from memory"},
		{name: "interlayer_density", unit: "kg/m3", limits: positive,
			meaning: "density of the interlayer of laminated glass (polyvinyl butyral)", source: handbook,
			fallback: "1070 kg/m3", fallbackSource: handbook},
	}
	var stated []string // what shows that a pane is there
	for _, pane := range panes {
		name, words := pane.name, pane.words
		area, glass, interlayer := name+"_area", name+"_thickness", name+"_interlayer"
		stated = append(stated, area, glass)
		all = append(all,
			quantity{name: area, unit: "m2", limits: nonNegative, meaning: "area of the " + words, source: "design"},
			quantity{name: glass, unit: "mm", limits: nonNegative,
				meaning: "thickness of glass in the " + words + ", all layers of glass together", source: "design"},
			quantity{name: interlayer, unit: "mm", limits: nonNegative, absent: absent(0),
				meaning: "thickness of the interlayer in the " + words, source: "design"},
			quantity{name: name + "_mass", unit: "kg", limits: nonNegative, traits: model.Traits{PartOf: "glazing_mass"}, absent: absent(0, area, glass),
				meaning: "mass of the " + words, source: "area x sum of thickness x density",
				ways: []way{
					from5(paneMass, "!"+area, "!"+glass, "glass_density", interlayer, "interlayer_density"),
				}},
		)
	}
	return append(all,
		quantity{name: "glazing_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "kerb_mass"},
			absent:  absent(0, stated...),
			meaning: "mass of all panes", source: "sum over panes",
			ways: []way{{by: "parts", from: []string{partsMark + "glazing_mass"}, fit: func(s *System, c *car) plan { return knownSum(s, c, "glazing_mass") }}}},
		quantity{name: "adhesive_bead_section", unit: "mm2", limits: positive,
			meaning: "cross-section of the windows' bead of adhesive", source: "design"},
		quantity{name: "adhesive_bead_length", unit: "m", limits: positive, meaning: "length of that bead", source: "design"},
		quantity{name: "adhesive_density", unit: "kg/m3", limits: positive,
			meaning: "density of the windows' adhesive", source: "data sheet"},
		quantity{name: "adhesive_mass", unit: "kg", limits: nonNegative,
			traits:  model.Traits{PartOf: "kerb_mass"},
			absent:  absent(0, "adhesive_bead_section", "adhesive_bead_length", "adhesive_density"),
			meaning: "mass of the windows' adhesive", source: "section x length x density",
			ways: []way{product("!adhesive_bead_section", "!adhesive_bead_length", "!adhesive_density")}},
	)
}

func paneMass(area, glass, glassDensity, interlayer, interlayerDensity float64) float64 {
	return area * (float64(glass*glassDensity) + float64(interlayer*interlayerDensity))
}

// knownSum adds up those of the parts of a whole that the car has; it is for a car that has
// one at least, and says what is lacking of those stated in part.
func knownSum(s *System, c *car, whole string) plan {
	p := plan{eval: addUp}
	for _, part := range s.model.parts[whole] {
		switch s.source(c, part).kind {
		case given, made:
			p.needs = append(p.needs, part)
		case lacking:
			p.missing = append(p.missing, c.Name+"."+part)
			p.inPart = p.inPart || s.model.named[part].absent != nil
		}
	}
	p.ok = len(p.needs) > 0 && len(p.missing) == 0
	return p
}
