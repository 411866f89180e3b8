package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

const (
	fittedCars = "fitted on 60 certified cars (open certification data)"
	priorOnly  = "judgement before the fit; the certification data do not tell"
)

// driveQuantities declares gear, motor and braking. Machines are sized for the car as
// built: losses go with built_mass, so a lightened car keeps those of its root.
func driveQuantities() []quantity {
	return []quantity{
		{name: "rotating_mass_share", cause: byDrive, unit: "%", limits: nonNegative,
			meaning: "inertia of what rotates, as a share of the car's mass", source: "usual practice of SAE J2263, from memory",
			fallback: "0.03", fallbackSource: "usual practice of SAE J2263, from memory; 0.015 to 0.06 changes nothing in the fit"},
		{name: "gear_ratio", cause: byDrive, unit: "1", limits: positive,
			usual:   usual{4, 16, practice, "the inverse ratio"},
			meaning: "motor turns for each wheel turn", source: "data sheet",
			fallback: "9.0", fallbackSource: "nominal: it cancels in default losses"},
		{name: "wheel_radius", cause: byDrive, unit: "m", limits: positive,
			usual:   usual{0.25, 0.45, practice, "the diameter for the radius"},
			meaning: "radius at which the wheel rolls", source: "data sheet",
			fallback: "0.33 m", fallbackSource: "nominal: it cancels in default losses"},
		{name: "gear_efficiency", cause: byDrive, factor: LossFactor, unit: "1", limits: openShare,
			usual:   usual{0.9, 1, practice, "the loss for the efficiency, % left out"},
			meaning: "efficiency of the gear", source: "test bench",
			fallback: "{normal: {mean: 0.971, sd: 0.0095}, max: 0.995}", fallbackSource: priorOnly, judged: true},
		{name: "torque_loss_factor", factor: LossFactor, unit: "s", limits: nonNegative,
			meaning: "drive-unit loss over the square of wheel force, times built mass", source: "test bench",
			fallback: "{lognormal: {median: 0.101 s, factor: 1.768267}}", fallbackSource: priorOnly, judged: true},
		{name: "idle_loss_per_mass", factor: LossFactor, unit: "W/kg", limits: nonNegative,
			meaning: "drive-unit loss at no load, over built mass", source: "test bench",
			fallback: "{lognormal: {median: 0.122 W/kg, factor: 1.433329}}", fallbackSource: fittedCars},
		{name: "spin_loss_per_mass", factor: LossFactor, unit: "N/kg", limits: nonNegative,
			meaning: "drive-unit loss over speed, over built mass", source: "test bench",
			fallback: "{normal: {mean: 0.0074 N/kg, sd: 0.0039 N/kg}, min: 0 N/kg}", fallbackSource: fittedCars},
		{name: "drive_draw", unit: "1", limits: share, factor: driveFactor, moves: 1, shownAs: []string{"all_wheel_drive"}, own: true,
			meaning: "number between 0 and 1 behind the drive of a chain of cars that does not state it", source: fittedCars,
			fallback: "{between: [0, 1]}", fallbackSource: fittedCars},
		{name: "all_wheel_drive", unit: "1", limits: share, step: true,
			traits:  model.Traits{Question: "udds_total", Words: map[string]float64{"no": 0, "yes": 1}},
			meaning: "1 if both axles are driven, else 0", source: "data sheet; not stated: drawn, both the likelier the heavier the car was built",
			ways: []way{ofRoot("all_wheel_drive", from2(drivenBoth, "drive_draw", "built_mass"))}},
		{name: "all_wheel_drive_extra", factor: LossFactor, unit: "1", limits: nonNegative,
			meaning: "what a second driven axle adds to the idle loss, relative", source: "test bench",
			fallback: "{normal: {mean: 0.60, sd: 0.24}, min: 0}", fallbackSource: fittedCars},
		{name: "torque_loss", cause: byDrive, factor: LossFactor, unit: "W/(N m)2", limits: nonNegative, step: true,
			meaning: "drive-unit loss over the square of motor torque",
			source:  "torque_loss_factor (gear_ratio/wheel_radius)2 / built_mass",
			ways:    []way{from4(torqueLoss, "torque_loss_factor", "gear_ratio", "wheel_radius", "built_mass")}},
		{name: "spin_loss", cause: byDrive, factor: LossFactor, unit: "W s/rad", limits: nonNegative, step: true,
			meaning: "drive-unit loss over motor speed", source: "spin_loss_per_mass built_mass wheel_radius / gear_ratio",
			ways: []way{from4(spinLoss, "spin_loss_per_mass", "built_mass", "wheel_radius", "gear_ratio")}},
		{name: "spin_cubic_loss", cause: byDrive, factor: LossFactor, unit: "W s3/rad3", limits: nonNegative,
			meaning: "drive-unit loss over the cube of motor speed", source: "test bench",
			fallback: "0 W s3/rad3", fallbackSource: "not to be told from air drag"},
		{name: "idle_loss", cause: byDrive, factor: LossFactor, unit: "W", limits: nonNegative, step: true,
			meaning: "drive-unit loss at no load",
			source:  "idle_loss_per_mass built_mass (1 + all_wheel_drive all_wheel_drive_extra); where machine_power is stated idle_loss_per_mass machine_power / usual_machine_power",
			ways:    []way{{fit: idleByPower, from: []string{"idle_loss_per_mass", "machine_power", "usual_machine_power"}}, idleByMass}},
		{name: "idle_loss_by_mass", unit: "W", limits: nonNegative, outputOnly: true,
			meaning: "drive-unit loss at no load by a second route: the car's mass and drive, where the machines' power is stated", source: "cross-check",
			ways: []way{{from: idleByMass.needs, fit: func(_ *System, c *car) plan {
				return plan{ok: c.Given["machine_power"] != "" && c.Given["idle_loss"] == "", needs: idleByMass.needs, eval: idleByMass.eval}
			}}}},
		{name: "machine_power", unit: "kW", limits: positive, meaning: "peak power of all traction machines", source: "data sheet"},
		{name: "usual_machine_power", unit: "W/kg", limits: positive,
			meaning: "peak power over built mass of a car whose idle loss is that of its mass, one driven axle", source: "common practice, no source",
			fallback:       "{normal: {mean: 80 W/kg, sd: 12 W/kg}, min: 40 W/kg}",
			fallbackSource: "common practice, no source; the certification data hold no power", judged: true},
		{name: "regen_share", cause: byRecovery, factor: LossFactor, unit: "%", limits: share,
			usual:   usual{50, 100, practice, "% left out"},
			meaning: "share of braking power at the wheels that is recovered", source: "test bench",
			fallback: "{normal: {mean: 0.923, sd: 0.039}, max: 1}", fallbackSource: fittedCars},
		{name: "regen_fade_low", cause: byRecovery, unit: "m/s", limits: nonNegative,
			usual:   usual{0, 4, practice, "km/h for m/s"},
			meaning: "speed below which nothing is recovered", source: "test bench",
			fallback: "1.0 m/s", fallbackSource: priorOnly, judged: true},
		{name: "regen_fade_high", cause: byRecovery, unit: "m/s", limits: nonNegative,
			usual:   usual{1, 12, practice, "km/h for m/s"},
			meaning: "speed from which the whole share is recovered", source: "test bench",
			fallback: "4.0 m/s", fallbackSource: priorOnly, judged: true},
		{name: "regen_power_limit", cause: byRecovery, unit: "kW", limits: nonNegative, absent: absent(infinite),
			meaning: "most power recovered at the wheels; none if absent", source: "data sheet"},
	}
}

func torqueLoss(factor, ratio, radius, mass float64) float64 {
	turn := ratio / radius
	return factor * turn * turn / mass
}

func spinLoss(perMass, mass, radius, ratio float64) float64 { return perMass * mass * radius / ratio }

// idleByMass is what the fit on certified cars knows.
var idleByMass = from4(idleLoss, "idle_loss_per_mass", "built_mass", "all_wheel_drive", "all_wheel_drive_extra")

// idleByPower goes by the size of the machines: powerful cars of one size lose more than
// others. What is resized with the car loses in proportion to the mass built for.
func idleByPower(s *System, c *car) plan {
	p := plan{ok: c.Given["machine_power"] != "", needs: []string{"idle_loss_per_mass", "machine_power", "usual_machine_power"}}
	p.eval = from3(func(perMass, power, usual float64) float64 { return perMass * power / usual }, "", "", "").eval
	of := c // whose power it is
	for of.base != nil && of.base.Given["machine_power"] == c.Given["machine_power"] {
		of = of.base
	}
	if before, ok := s.full(of, "built_mass"); ok && of != c && c.Given["machines"] != "" {
		p.needs = append(p.needs, "built_mass", "="+before)
		p.eval = from5(func(perMass, power, usual, built, before float64) float64 {
			return perMass * power / usual * (built / before)
		}, "", "", "", "", "").eval
	}
	return p
}

func idleLoss(perMass, mass, allWheel, extra float64) float64 {
	return perMass * mass * (1 + float64(allWheel*extra))
}

// The chance of two driven axles, a logistic function of the logarithm of the mass that
// the car was built for, fitted on the 60 cars (27 have two). TestDrive makes it anew.
const (
	bothHalf   = 2230.0 // mass of an even chance [kg]
	bothGrowth = 24.0   // of the log odds with the logarithm of the mass
)

func chanceOfBoth(mass float64) float64 {
	return 1 / (1 + portable.Exp(-bothGrowth*portable.Log(evident(mass)/bothHalf)))
}

func drivenBoth(draw, mass float64) float64 {
	if draw > 1-chanceOfBoth(mass) {
		return 1
	}
	if draw != draw || mass != mass {
		return math.NaN()
	}
	return 0
}
