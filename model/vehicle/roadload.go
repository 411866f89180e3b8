package vehicle

import (
	"strings"

	"proofmass/model"
	"proofmass/sampling/portable"
)

// coastDown are the coefficients that, given, stand for rolling and drag.
var coastDown = []string{"coastdown_f0", "coastdown_f1", "coastdown_f2"}

// roadLoadQuantities declares the forces on the car: F = rolling_force + rolling_slope
// v + speed_coefficient v + aero_coefficient (v + w)|v + w| + grade_force, from rolling and
// drag coefficients or from a coast-down.
func roadLoadQuantities() []quantity {
	const judged = "judgement: bearings, brakes and tyres share it"
	inputs := []quantity{
		{name: "drag_coefficient", unit: "1", limits: positive,
			usual:   usual{0.18, 0.42, sheets, "drag area for drag coefficient"},
			meaning: "drag coefficient", source: "wind tunnel or coast-down"},
		{name: "frontal_area", unit: "m2", limits: positive,
			usual:   usual{1.8, 5.5, sheets, "drag area for frontal area"},
			meaning: "frontal area", source: "drawing"},
		{name: "drag_area", cause: byDrag, unit: "m2", limits: positive, step: true, meaning: "drag coefficient x frontal area", source: "definition",
			ways: []way{product("drag_coefficient", "frontal_area")}},
		{name: "rolling_coefficient", cause: byRolling, unit: "1", limits: positive,
			usual:   usual{0.0055, 0.016, sheets, "% left out, kg/t without its unit"},
			meaning: "rolling resistance over load at 20 degC, low speed", source: "tyre test or coast-down"},
		{name: "rolling_speed_factor", unit: "s/m", limits: nonNegative,
			meaning: "relative growth of rolling resistance with speed", source: "tyre test",
			fallback: "0 s/m", fallbackSource: "no growth assumed"},
		{name: "rolling_temperature_factor", unit: "1/K", limits: nonNegative,
			meaning:  "relative fall of rolling resistance with temperature, about 20 degC",
			source:   "coast-down correction of SAE J2263 and UN GTR 15, from memory",
			fallback: "0.0086 1/K", fallbackSource: "SAE J2263 and UN GTR 15, from memory"},
		{name: "coastdown_f0", cause: byRolling, unit: "N", limits: anyNumber,
			usual: usual{60, 300, derived, "lbf for N"},
			traits: model.Traits{Convention: model.Convention{Where: []string{"outside_temperature", "altitude", "air_pressure", "air_density"},
				Says: "The coast-down of %s stays that of the day and place it was driven: stated temperature, pressure and altitude do not touch it (only a range in the cold corrects it)."}},
			meaning: "coast-down coefficient F0", source: "filed"},
		{name: "coastdown_f1", cause: byRolling, unit: "N s/m", limits: anyNumber,
			usual:   usual{-3, 8, derived, "a force per km/h for one per m/s"},
			meaning: "coast-down coefficient F1", source: "filed"},
		{name: "coastdown_f2", cause: byDrag, unit: "N s2/m2", limits: anyNumber,
			usual:   usual{0.2, 0.9, derived, "a force per (km/h)2 for one per (m/s)2"},
			meaning: "coast-down coefficient F2", source: "filed"},
		{name: "coastdown_mass", cause: byRolling, unit: "kg", limits: positive,
			meaning: "mass at which the coast-down was driven",
			source:  "test mass of the car that the coefficients were filed for",
			ways:    []way{{fit: coastdownMass, fixed: true}}},
		{name: "coastdown_mass_share", unit: "%", limits: share, meaning: "share of F0 that goes with the car's mass", source: judged,
			fallback: "{between: [0.75, 1]}", fallbackSource: judged, judged: true},
		{name: "coastdown_f1_mass_share", unit: "%", limits: share,
			meaning: "share of F1 that goes with the car's mass", source: judged,
			fallback: "{between: [0, 0.6]}", fallbackSource: judged, judged: true},
		{name: "rolling_force_per_mass", cause: byRolling, unit: "N/kg", limits: anyNumber, step: true, outputOnly: true,
			meaning: "rolling resistance that a kilogram brings, at rest", source: "derived",
			ways: []way{coasting(from3(massSlope, "coastdown_f0", "coastdown_mass_share", "coastdown_mass")), rolling("outside_temperature")}},
		{name: "rolling_slope_per_mass", cause: byRolling, unit: "N s/(m kg)", limits: anyNumber, step: true, outputOnly: true,
			meaning: "growth of that with speed", source: "derived",
			ways: []way{coasting(always(0)), product("rolling_force_per_mass", "rolling_speed_factor").except(coastDown...)}},
		{name: "speed_coefficient_per_mass", unit: "N s/(m kg)", limits: anyNumber, step: true, outputOnly: true,
			meaning: "what a kilogram adds to the speed coefficient", source: "derived",
			ways: []way{coasting(from3(massSlope, "coastdown_f1", "coastdown_f1_mass_share", "coastdown_mass")), always(0).except(coastDown...)}},
		{name: "grade_force_per_mass", unit: "N/kg", limits: anyNumber, step: true, outputOnly: true,
			meaning: "weight of a kilogram along the road", source: "statics",
			ways: []way{from1(alongRoad, "road_slope")}},
		{name: "aero_coefficient", cause: byDrag, unit: "N s2/m2", limits: anyNumber, step: true, outputOnly: true,
			meaning: "air drag over the square of speed through the air", source: "0.5 rho Cd A, or coast-down F2",
			ways: []way{coasting(same("coastdown_f2")), product("air_density", "drag_area").halved().except(coastDown...)}},
	}
	inputs = append(inputs, quantity{name: "wltp_aero_coefficient", cause: byDrag, unit: "N s2/m2", limits: anyNumber, step: true, outputOnly: true,
		traits: model.Traits{Question: "wltp_test_mass", Convention: model.Convention{Unless: []string{"air_pressure", "altitude", "air_density"},
			Says: "WLTC is driven in the reference air of its own procedure (100 kPa), the other schedules in theirs (98.21 kPa)."}},
		meaning: "air drag over the square of speed through the air, in the WLTP test", source: "0.5 rho Cd A in the test's own air, or coast-down F2",
		ways: []way{coasting(same("coastdown_f2")), product("wltp_air_density", "drag_area").halved().except(coastDown...)}})
	return append(append(inputs, forces("", "test_mass", "", "in the US tests")...), forces("wltp_", "wltp_test_mass", "wltp_test_mass", "in the WLTP test")...)
}

// forces declares the road load of a car of the given mass, under a prefix, for a
// question that not every car is asked.
func forces(prefix, mass, question, where string) []quantity {
	traits := model.Traits{Question: question}
	declare := func(name, unit, meaning string, coast, formula way) quantity {
		return quantity{name: prefix + name, unit: unit, limits: anyNumber, step: true, outputOnly: true,
			traits:  traits,
			meaning: meaning + ", " + where,
			source:  "textbook relation; coast-down: F0 and F1 with their mass shares", ways: []way{coasting(coast), formula.except(coastDown...)}}
	}
	return []quantity{
		declare("rolling_force", "N", "rolling resistance at low speed",
			from4(coastForce, "coastdown_f0", "coastdown_mass_share", "coastdown_mass", mass), product(mass, "rolling_force_per_mass")),
		declare("rolling_slope", "N s/m", "growth of rolling resistance with speed", always(0), product(mass, "rolling_slope_per_mass")),
		declare("speed_coefficient", "N s/m", "coast-down force that goes with speed",
			from4(coastForce, "coastdown_f1", "coastdown_f1_mass_share", "coastdown_mass", mass), always(0)),
		{name: prefix + "grade_force", unit: "N", limits: anyNumber, step: true, outputOnly: true,
			traits:  traits,
			meaning: "weight along the road, " + where, source: "statics",
			ways: []way{product(mass, "grade_force_per_mass")}},
	}
}

// coasting bars a way where no coast-down is given.
func coasting(w way) way {
	inner := w
	return way{from: append([]string{}, append(inner.needs, coastDown...)...), fit: func(_ *System, c *car) plan {
		if !c.gives(coastDown) {
			return plan{}
		}
		return plan{ok: true, needs: inner.needs, eval: inner.eval}
	}}
}

// coastdownMass is the test mass of the car whose coast-down it is: the base's, at any
// depth, if the coefficients are inherited from it, or that of another car which they
// were taken from.
func coastdownMass(s *System, c *car) plan {
	f0 := c.Given["coastdown_f0"]
	if c.base != nil && f0 == c.base.Given["coastdown_f0"] {
		return s.coastdownMassOf(c.base)
	}
	name, _, _ := strings.Cut(f0, ".")
	if owner := s.cars[name]; owner != nil && owner != c && s.has(owner, "test_mass") {
		return s.coastdownMassOf(owner)
	}
	return plan{ok: true, needs: []string{"test_mass"}, eval: copyColumn}
}

func (s *System) coastdownMassOf(c *car) plan {
	name, ok := s.full(c, "coastdown_mass")
	if !ok {
		return plan{missing: []string{name}}
	}
	return plan{ok: true, needs: []string{"=" + name}, eval: copyColumn}
}

// coastForce is a coast-down coefficient of which a share goes with mass. At the mass
// of the coast-down it is the coefficient exactly, whatever the share.
func coastForce(filed, share, filedMass, mass float64) float64 {
	return filed * (1 + float64(share*((mass-filedMass)/filedMass)))
}

func massSlope(filed, share, filedMass float64) float64 { return filed * share / filedMass }

// rolling is the rolling resistance of a kilogram at the given temperature.
func rolling(temperature string) way {
	return from4(rollingPerMass, "rolling_coefficient", "rolling_temperature_factor", temperature, "road_slope").except(coastDown...)
}

func rollingPerMass(coefficient, temperatureFactor, temperature, slope float64) float64 {
	return coefficient * warmth(temperatureFactor, temperature) * gravity * portable.CosSmall(slope)
}

// warmth is the factor on rolling resistance at a temperature, 1 at 20 degC.
func warmth(factor, temperature float64) float64 {
	return 1 - float64(factor*(temperature-referenceK))
}

func alongRoad(slope float64) float64 { return gravity * portable.SinSmall(slope) }

// halved halves what the way makes.
func (w way) halved() way {
	w.form = "0.5 x " + w.form
	whole := w.eval
	w.eval = func(out, in [][]float64) {
		whole(out, in)
		for i := range out[0] {
			out[0][i] *= 0.5
		}
	}
	return w
}
