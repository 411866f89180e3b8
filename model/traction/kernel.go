package traction

import (
	"math"

	"proofmass/model/schedule"
)

// The battery's current has two forms. (U - sqrt(U2 - 4 R P))/(2 R) costs no division in a step, but each step's power is off by up to
// 1.1e-16 U2/(2 R) watts; 2 P/(U + sqrt(U2 - 4 R P)) loses nothing and holds for R = 0. The first is taken where R is at
// least quickAbove U2, so that it is off by a nanowatt at most, and where the roundings of at least quickSteps steps even out. Packs of cars
// have R from 1e-7 to 1e-6 U2 (common practice, no source).
const (
	quickAbove = 5e-8 // 1/W
	quickSteps = 16
)

// quick tells whether folded is right for the car: it depends on the row and the schedule alone.
func (c *row) quick(m *schedule.Motion) bool {
	return m.Slopes == nil && c.wind >= -m.Slowest && c.r >= quickAbove*c.volt2 && len(m.Steps) >= quickSteps && c.drive >= 0 && c.brake >= 0 && c.limit <= 0
}

// folded is the hot loop, for a car that meets the air from ahead in every step. An infeasible step is the root of a negative
// number, NaN, and stays in the sum.
func (c *row) folded(m *schedule.Motion) float64 {
	f0, f1, f2, inertia := c.f0, c.f1, c.f2, c.inertia
	torque, spin, cubic, fixed := c.torque, c.spin, c.cubic, c.idle+c.aux
	volt, volt2, r4 := c.volt, c.volt2, -4*c.r
	sum := 0.0
	for i := range m.Steps {
		s := &m.Steps[i]
		v := s.V
		force := math.FMA(inertia, s.A, math.FMA(s.V2, f2, math.FMA(v, f1, f0)))
		shaft := c.shaft(force, s)
		p := math.FMA(shaft, math.FMA(torque, shaft, v), math.FMA(v, math.FMA(s.V2, cubic, spin), fixed))
		sum = math.FMA(s.DT, volt-math.Sqrt(math.FMA(r4, p, volt2)), sum)
	}
	return c.chemical(sum, m)
}

// chemical is the energy for twice the charge, summed over the steps without R.
func (c *row) chemical(sum float64, m *schedule.Motion) float64 {
	return c.withRest(sum/(2*c.r), m) * c.volt
}

// shaft is the motor's force at the wheel's rim [N] for a force of the wheel on the road.
func (c *row) shaft(force float64, s *schedule.Moving) float64 {
	if force > 0 {
		return force * c.drive
	}
	x := force * c.brake
	if share := (s.V - c.low) * c.fade; share < 1 {
		x *= max(share, 0)
	}
	if most := c.limit * s.Inverse; x < most {
		return most
	}
	return x
}

// general is the loop for every other car: the wind may blow from behind, the resistance may
// be nil, the road may rise and fall.
func (c *row) general(m *schedule.Motion) float64 {
	charge := 0.0
	for i := range m.Steps {
		s := &m.Steps[i]
		shaft := c.shaft(c.force(s.V, s.A)+c.onSlope(m, i), s)
		charge = math.FMA(s.DT, c.current(c.power(shaft, s)), charge)
	}
	return c.withRest(charge, m) * c.volt
}

// force is the force of the wheels on the road [N] with the wind from ahead or behind.
func (c *row) force(v, a float64) float64 {
	still := math.FMA(c.inertia, a, math.FMA(v, c.slope+c.speed, c.rolling+c.grade))
	return math.FMA(c.air, c.windSquare(v), still)
}

// onSlope is what step i's own slope adds to the force [N]: weight along it, and less weight on the tyres.
func (c *row) onSlope(m *schedule.Motion, i int) float64 {
	if m.Slopes == nil {
		return 0
	}
	slope, v := &m.Slopes[i], m.Steps[i].V
	return math.FMA(c.weight, slope.Sin, float64(slope.Cos1*math.FMA(v, c.slope, c.rolling)))
}

// power is the power at the battery's terminals [W] for a force of the motor at the rim.
func (c *row) power(shaft float64, s *schedule.Moving) float64 {
	spin := math.FMA(s.V, math.FMA(s.V2, c.cubic, c.spin), c.idle+c.aux)
	return math.FMA(shaft, math.FMA(c.torque, shaft, s.V), spin)
}

// withRest adds the charge [C] that is drawn at rest.
func (c *row) withRest(charge float64, m *schedule.Motion) float64 {
	if m.Rest == 0 {
		return charge
	}
	return math.FMA(m.Rest, c.current(c.idle+c.aux), charge)
}

// windSquare is the square of the air's speed against the car, with its sign [m2/s2].
func (c *row) windSquare(v float64) float64 { return (v + c.wind) * math.Abs(v+c.wind) }

// current is the battery's current [A] at a power [W] at its terminals; NaN if it cannot give that.
func (c *row) current(p float64) float64 {
	return 2 * p / (c.volt + math.Sqrt(math.FMA(-4*c.r, p, c.volt2)))
}
