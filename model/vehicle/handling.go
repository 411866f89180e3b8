package vehicle

import "proofmass/model"

// handlingQuantities declares where the car's mass stands: x rearwards from the front
// axle, heights over the ground, all on the centre plane, at kerb mass without a driver.
func handlingQuantities() []quantity {
	const (
		measured        = "measured"
		handlingCaution = "Handling is that of a rigid car at kerb mass: mass saved low in the floor raises the centre of mass, which makes the static stability factor worse." + screening
		loadCaution     = "Payload and axle loads are differences of stated masses: what a vehicle may carry, and on which axle, says its plate, and a weighbridge says what it weighs; rated axle loads and tyres are not looked at."
		axes            = "parallel axes, about the new centre of mass"
	)
	item := func(name, words string) []quantity {
		return []quantity{
			{name: name + "_x", unit: "m", limits: anyNumber, meaning: "distance of the centre of " + words + " behind the front axle", source: measured},
			{name: name + "_height", unit: "m", limits: anyNumber, meaning: "height of that centre over the ground", source: measured},
			{name: name + "_yaw_inertia", unit: "kg m2", limits: nonNegative, absent: absent(0), meaning: "yaw inertia of " + words + " about that centre", source: measured},
			{name: name + "_roll_inertia", unit: "kg m2", limits: nonNegative, absent: absent(0), meaning: "roll inertia of " + words + " about that centre", source: measured},
		}
	}
	all := []quantity{
		{name: "wheelbase", unit: "m", limits: positive, usual: usual{2.3, 3.9, practice, "mm for m"}, meaning: "distance of the axles", source: "type plate"},
		{name: "track_width", unit: "m", limits: positive, usual: usual{1.40, 1.80, practice, "the outer width for the track"},
			meaning: "distance of the wheels of an axle, the mean of front and rear", source: "data sheet"},
		{name: "ground_clearance", unit: "mm", limits: positive, usual: usual{100, 400, practice, "cm for mm"},
			meaning: "height of the pack's underside over the ground, at kerb mass", source: measured},
		{name: "pack_x", unit: "m", limits: anyNumber, meaning: "distance of the pack's centre of mass behind the front axle", source: "measured, or as the lines of the bill stand",
			ways: []way{billCentre(func(l BillLine) string { return l.X }, true).reads("sum of mass x x of the lines of the bill / their mass")}},
		{name: "pack_mass_height", unit: "m", limits: positive, traits: model.Traits{Aside: true},
			meaning: "height of the pack's centre of mass over the ground", source: "sum",
			ways: []way{
				billCentre(func(l BillLine) string { return l.Z }, true).reads("sum of mass x z of the lines of the bill / their mass"),
				sum("ground_clearance", "pack_centre_height"),
			}},
	}
	all = append(all, item("displaced", "what the pack makes unnecessary")...)
	all = append(all, item("added", "what the pack makes necessary")...)
	all = append(all, item("other_change", "what else has changed against its base")...)
	return append(all,
		quantity{name: "other_change_mass", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Question: "centre_of_mass_x"},
			meaning: "change of kerb mass against its base beyond pack, displaced and added: its place must be known to say how the car handles",
			source:  "difference", ways: []way{{fit: otherChange, from: []string{"kerb_mass", "pack_mass", "displaced", "added"}}}},
		quantity{name: "centre_of_mass_x", unit: "m", limits: anyNumber,
			meaning: "distance of the centre of mass behind the front axle", source: "weighed by axle, or its base's with what was taken out and put in",
			ways: []way{{fit: movedTo(lengthways), from: []string{"kerb_mass", "pack_mass", "pack_x", "displaced", "added", "displaced_x", "added_x", "other_change_x"}}}},
		quantity{name: "centre_of_mass_height", unit: "m", limits: positive, usual: usual{0.42, 0.80, practice, "over the floor, not over the ground"},
			meaning: "height of the centre of mass over the ground", source: "measured, or its base's with what was taken out and put in",
			ways: []way{{fit: movedTo(upwards), from: []string{"kerb_mass", "pack_mass", "pack_mass_height", "displaced", "added", "displaced_height", "added_height", "other_change_height"}}}},
		quantity{name: "yaw_inertia", unit: "kg m2", limits: positive, meaning: "yaw inertia of the car about its centre of mass", source: axes,
			ways: []way{
				each(byIndex, "!dynamic_index", "kerb_mass", "driver_mass", "centre_of_mass_x", "wheelbase").reads("dynamic_index x (kerb_mass - driver_mass) x centre_of_mass_x x (wheelbase - centre_of_mass_x)"),
				{fit: movedInertia(false), from: []string{"kerb_mass", "pack_mass", "pack_x", "pack_yaw_inertia", "centre_of_mass_x", "displaced", "added",
					"displaced_x", "added_x", "other_change_x", "displaced_yaw_inertia", "added_yaw_inertia", "other_change_yaw_inertia"}},
			}},
		quantity{name: "roll_inertia", unit: "kg m2", limits: positive, meaning: "roll inertia of the car about its centre of mass", source: axes,
			ways: []way{{fit: movedInertia(true), from: []string{"kerb_mass", "pack_mass", "pack_mass_height", "pack_roll_inertia", "centre_of_mass_height", "displaced", "added",
				"displaced_height", "added_height", "other_change_height", "displaced_roll_inertia", "added_roll_inertia", "other_change_roll_inertia"}}}},
		quantity{name: "dynamic_index", unit: "1", limits: positive, usual: usual{0.75, 1.15, sheets, "roll inertia for yaw inertia"},
			meaning: "yaw inertia over mass and both distances from the centre of mass to the axles", source: "definition",
			ways: []way{each(dynamicIndex, "yaw_inertia", "kerb_mass", "driver_mass", "centre_of_mass_x", "wheelbase").reads("yaw_inertia / ((kerb_mass - driver_mass) x centre_of_mass_x x (wheelbase - centre_of_mass_x))")}},
		quantity{name: "driver_mass", unit: "kg", limits: nonNegative, outputOnly: true, step: true, traits: model.Traits{Aside: true},
			meaning: "mass of the driver that the car's mass basis counts in", source: "mass_basis",
			ways: []way{{fit: func(_ *System, c *car) plan { return plan{ok: true, eval: always(c.driver()).eval} }, form: "75 kg, or nil without one"}}},
		quantity{name: "rear_axle_load", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: loadCaution}}, meaning: "load on the rear axle at kerb mass without a driver", source: "statics",
			ways: []way{each(rearLoad, "kerb_mass", "driver_mass", "centre_of_mass_x", "wheelbase").reads("(kerb_mass - driver_mass) x centre_of_mass_x / wheelbase")}},
		quantity{name: "front_axle_load", unit: "kg", limits: anyNumber, outputOnly: true, traits: model.Traits{Convention: model.Convention{Says: loadCaution}}, meaning: "load on the front axle at kerb mass without a driver", source: "statics",
			ways: []way{from3(frontLoad, "kerb_mass", "driver_mass", "rear_axle_load").reads("kerb_mass - driver_mass - rear_axle_load")}},
		quantity{name: "static_stability_factor", unit: "1", limits: positive, outputOnly: true,
			traits:  model.Traits{Convention: model.Convention{Says: handlingCaution}},
			meaning: "track over twice the height of the centre of mass: the larger, the later a car rolls over",
			source:  "NHTSA, Federal Register 65 FR 34998 (2000)",
			ways:    []way{from2(stabilityFactor, "track_width", "centre_of_mass_height").reads("track_width / (2 x centre_of_mass_height)")}},
		quantity{name: "stability_gain", unit: "1", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Beside: "static_stability_factor"},
			meaning: "static stability factor less the baseline's; below nil the car stands worse", source: "difference",
			ways: []way{difference("static_stability_factor", baselineMark+"static_stability_factor")}},
		quantity{name: "payload", unit: "kg", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Aside: true, Convention: model.Convention{Says: loadCaution}, BelowNil: "with its driver the vehicle weighs more than its gross mass"},
			meaning: "what the vehicle may carry beside its driver", source: "gross mass - kerb mass without driver - one driver of 75 kg",
			ways: []way{from3(payload, "gross_mass", "kerb_mass", "driver_mass").reads("gross_mass - (kerb_mass - driver_mass) - 75 kg")}},
		quantity{name: "centre_of_mass_share", unit: "%", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			usual: usual{42, 60, practice, "the front axle's share for the distance behind it"}, meaning: "distance of the centre of mass behind the front axle over the wheelbase", source: "definition",
			ways: []way{quotient("centre_of_mass_x", "wheelbase")}},
		quantity{name: "roll_inertia_ratio", unit: "1", limits: anyNumber, outputOnly: true, traits: model.Traits{Aside: true},
			usual: usual{0.10, 0.18, practice, "yaw inertia for roll inertia"}, meaning: "roll inertia over mass and the square of the track", source: "definition",
			ways: []way{each(rollRatio, "roll_inertia", "kerb_mass", "driver_mass", "track_width").reads("roll_inertia / ((kerb_mass - driver_mass) x track_width^2)")}},
	)
}

func axleArms(mass, driver, x, wheelbase float64) float64 {
	return (mass - driver) * (x * (wheelbase - x))
}

func byIndex(x []float64) float64 { return x[0] * axleArms(x[1], x[2], x[3], x[4]) }

func dynamicIndex(x []float64) float64 { return x[0] / axleArms(x[1], x[2], x[3], x[4]) }

func rearLoad(x []float64) float64 { return (x[0] - x[1]) * x[2] / x[3] }

func frontLoad(kerb, driver, rear float64) float64 { return kerb - driver - rear }

func stabilityFactor(track, height float64) float64 { return track / (2 * height) }

func payload(gross, kerb, driver float64) float64 { return gross - (kerb - driver) - DriverMass }

func rollRatio(x []float64) float64 { return x[0] / ((x[1] - x[2]) * (x[3] * x[3])) }
