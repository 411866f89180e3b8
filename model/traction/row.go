package traction

import "math"

// gravity is the standard acceleration of free fall [m/s2].
const gravity = 9.80665

// row is what one car needs in every step, computed once.
type row struct {
	inertia        float64 // kg, mass with what rotates
	rolling, slope float64 // N, N s/m
	speed          float64 // N s/m
	air, wind      float64 // N s2/m2, m/s
	grade, weight  float64 // N, over the whole schedule; N, of the mass
	f0, f1, f2     float64 // N, N s/m, N s2/m2: all forces but inertia folded, right where v + wind >= 0

	drive, brake   float64 // force at the shaft over force at the wheel, driving and braking
	limit          float64 // of recovery, at the shaft, W, below nil
	low, fade      float64 // m/s, s/m: recovery fades in from low on, by fade for each m/s
	torque         float64 // s/kg: torque loss is torque x (shaft force at the wheel's rim) squared
	spin, cubic    float64 // N, N s2/m2: spin losses as forces at the rim
	idle, aux      float64 // W
	volt, volt2, r float64 // V, V2, ohm
}

// load gathers row i of the columns; false if one of its numbers is NaN or the fade speeds are the wrong way round.
func (c *row) load(car *Car, i int) bool {
	c.inertia = car.Mass[i] * (1 + car.RotatingShare[i])
	c.rolling, c.slope, c.speed = car.RollingForce[i], car.RollingSlope[i], car.SpeedTerm[i]
	c.weight = car.Mass[i] * gravity
	c.air, c.wind, c.grade = car.AeroFactor[i], car.HeadWind[i], car.GradeForce[i]
	c.drive = 1 / car.GearEfficiency[i]
	c.brake, c.limit = car.GearEfficiency[i]*car.RegenShare[i], -car.GearEfficiency[i]*car.RegenPowerLimit[i]
	c.idle, c.aux = car.IdleLoss[i], car.Auxiliaries[i]
	c.volt, c.r = car.Voltage[i], car.Resistance[i]
	turn := car.GearRatio[i] / car.WheelRadius[i] // motor radians per metre
	c.torque = car.TorqueLoss[i] / float64(turn*turn)
	c.spin = car.SpinLoss[i] * turn
	c.cubic = car.SpinCubicLoss[i] * float64(turn*float64(turn*turn))
	c.volt2 = c.volt * c.volt
	c.f0 = math.FMA(c.air, float64(c.wind*c.wind), c.rolling+c.grade)
	c.f1 = math.FMA(c.air, 2*c.wind, c.slope+c.speed)
	c.f2 = c.air
	fades := c.fades(car.RegenFadeLow[i], car.RegenFadeHigh[i])
	return fades && c.known()
}

// fades sets how recovery fades in between two speeds [m/s]; false where they are the wrong
// way round or NaN. Equal speeds make a step, of infinite slope: 0 x infinity, NaN, counts
// as the whole share.
func (c *row) fades(low, high float64) bool {
	c.low, c.fade = low, 1/(high-low)
	switch {
	case math.IsInf(low, 1):
		c.low, c.fade = math.MaxFloat64, 1 // never
	case math.IsInf(low, -1):
		c.low, c.fade = 0, math.Inf(1) // always
	}
	return low <= high
}

// known is false if any of the car's numbers is NaN. Most would reach the energy by themselves; limits and fade speeds would only
// fail their comparisons and be passed over. A sum without NaN has none among its terms, and opposite infinities are rare.
func (c *row) known() bool {
	sum := (c.inertia + c.rolling + c.slope + c.speed) + (c.air + c.wind + c.grade + c.drive) +
		(c.brake + c.torque + c.spin + c.cubic) + (c.idle + c.aux + c.volt + c.r) + c.limit
	if sum == sum {
		return true
	}
	for _, x := range [...]float64{c.inertia, c.rolling, c.slope, c.speed, c.air, c.wind, c.grade, c.drive, c.brake, c.limit,
		c.torque, c.spin, c.cubic, c.idle, c.aux, c.volt, c.r} {
		if x != x {
			return false
		}
	}
	return true
}
