package traction

import (
	"math"

	"proofmass/model/schedule"
)

// flows are those sums over a schedule that no closed form gives.
type flows struct {
	charge   float64 // C, drawn from the battery
	heat     float64 // J, in its resistance
	positive float64 // J, work of the wheels where they drive
	negative float64 // J, where they brake, counted positive
	back     float64 // J, recovered, at the shaft
	rim2     float64 // N2 s, force of the motor at the rim, squared
	air      float64 // J, work against the air
}

// atRest adds what happens at rest.
func (c *row) atRest(f flows, m *schedule.Motion) flows {
	f.charge = c.withRest(f.charge, m)
	if m.Rest > 0 {
		i := c.current(c.idle + c.aux)
		f.heat = math.FMA(m.Rest, float64(float64(c.r*i)*i), f.heat)
	}
	return f
}

// foldedFlows is folded with more sums.
func (c *row) foldedFlows(m *schedule.Motion) (f flows) {
	for i := range m.Steps {
		s := &m.Steps[i]
		force := math.FMA(c.inertia, s.A, math.FMA(s.V2, c.f2, math.FMA(s.V, c.f1, c.f0)))
		shaft := c.shaft(force, s)
		drop := c.volt - math.Sqrt(math.FMA(-4*c.r, c.power(shaft, s), c.volt2)) // 2 R I
		f.charge = math.FMA(s.DT, drop, f.charge)
		f.heat = math.FMA(s.DT, float64(drop*drop), f.heat)
		f.atWheel(force, shaft, s)
	}
	return c.unfold(f, m)
}

// unfold divides charge and heat, summed as twice and four times themselves without R, and
// adds the work against the air.
func (c *row) unfold(f flows, m *schedule.Motion) flows {
	f.charge /= 2 * c.r
	f.heat /= 4 * c.r
	f.air = c.air * math.FMA(float64(c.wind*c.wind), m.V1, math.FMA(2*c.wind, m.V2, m.V3))
	return f
}

// generalFlows is general with more sums.
func (c *row) generalFlows(m *schedule.Motion) (f flows) {
	for i := range m.Steps {
		s := &m.Steps[i]
		force := c.force(s.V, s.A) + c.onSlope(m, i)
		shaft := c.shaft(force, s)
		current := c.current(c.power(shaft, s))
		f.charge = math.FMA(s.DT, current, f.charge)
		f.heat = math.FMA(s.DT, float64(float64(c.r*current)*current), f.heat)
		f.air = math.FMA(s.DT, float64(float64(c.air*c.windSquare(s.V))*s.V), f.air)
		f.atWheel(force, shaft, s)
	}
	return f
}

// atWheel adds what a step does at the wheels and at the shaft.
func (f *flows) atWheel(force, shaft float64, s *schedule.Moving) {
	way := float64(s.V * s.DT)
	if force > 0 {
		f.positive = math.FMA(force, way, f.positive)
	} else {
		f.negative = math.FMA(-force, way, f.negative)
		f.back = math.FMA(-shaft, way, f.back)
	}
	f.rim2 = math.FMA(s.DT, float64(shaft*shaft), f.rim2)
}

// sinks makes the columns of Sinks of a feasible car from its flows and the sums that belong to the schedule.
func (c *row) sinks(f *flows, m *schedule.Motion) (sums [sinks]float64) {
	time := m.Rest + m.Time
	sums[rolling] = math.FMA(c.rolling, m.V1, float64(c.slope*m.V2))
	if m.Slopes != nil {
		sums[rolling] = math.FMA(c.rolling, m.CosV1, math.FMA(c.slope, m.CosV2, sums[rolling]))
	}
	sums[speedTerm] = c.speed * m.V2
	sums[aero] = f.air
	if sums[grade] = c.grade * m.V1; m.Slopes != nil {
		sums[grade] = math.FMA(c.weight, m.SinV, sums[grade])
	}
	sums[kinetic] = c.inertia * m.AV
	sums[positiveWheel] = f.positive
	sums[negativeWheel] = f.negative
	sums[recoveredWheel] = float64(f.back * c.drive)
	sums[frictionBrakes] = f.negative - sums[recoveredWheel]
	sums[gear] = (f.positive + f.back) * (c.drive - 1)
	spin := math.FMA(c.spin, m.V1, math.FMA(c.cubic, m.V3, float64(c.idle*time)))
	sums[driveUnit] = math.FMA(c.torque, f.rim2, spin)
	sums[auxiliaries] = float64(c.aux * time)
	shaft := math.FMA(f.positive, c.drive, -f.back)
	sums[terminal] = shaft + sums[driveUnit] + sums[auxiliaries]
	sums[battery] = f.heat
	sums[total] = f.charge * c.volt
	return sums
}
