// Package traction computes the battery energy that a car takes over a driving schedule.
//
// The method is backward-facing and quasi-static: the schedule prescribes speed v and acceleration a, each step's wheel
// force follows from them, and the losses are added on the way back to the battery. In each step, with the signs of a
// motor that drives,
//
//	F  = Mass (1 + RotatingShare) a + RollingForce + RollingSlope v + SpeedTerm v + AeroFactor (v + w)|v + w| + GradeForce
//	Pw = F v                                                     power at the wheels
//	Pr = min(RegenShare fade(v) max(-Pw, 0), RegenPowerLimit)    what is recovered of braking, at the wheels
//	Ps = max(Pw, 0)/GearEfficiency - GearEfficiency Pr           power at the motor's shaft
//	Pt = Ps + TorqueLoss T2 + SpinLoss n + SpinCubicLoss n3 + IdleLoss + Auxiliaries     at the battery's terminals
//	I  = 2 Pt/(U + sqrt(U2 - 4 R Pt))                            current of a source U behind a resistance R
//
// with n = v GearRatio/WheelRadius and T = Ps/n the motor's speed and torque, w the head wind and fade a straight line from
// 0 at RegenFadeLow to 1 at RegenFadeHigh. The energy is the sum of U I dt: chemical, the battery's own loss included. At
// rest there is no force and only IdleLoss and Auxiliaries count. These are textbook relations of longitudinal dynamics
// and of a source with inner resistance; the losses' form is a quadratic in torque and a cubic in speed, as is usual in maps of electric
// drives. Over a schedule with a grade of its own
// F also has Mass g sin(s), and both rolling resistances go with cos(s), s being the step's slope.
//
// A row in which any step asks for more than the battery can give, U2 < 4 R Pt, is infeasible: its result is NaN. So is a row
// with a NaN among its inputs, one whose fade speeds are the wrong way round, and one whose energy is not finite. An energy
// below nil, downhill, is a result.
//
// Every result depends on its own row alone, bit for bit, on every machine: products that meet an addition are fused
// explicitly or rounded, and the order of each sum is fixed by the schedule.
//
// Where many cars of a known box of numbers are driven, Reduce makes a schedule of fewer steps, with weights, that gives
// their energies to 1e-9: see Reduced. Over UDDS 82 of 995 steps stay for a car known to 5 %, 110 to 10 %; a list takes
// 40 to 130 ms to make.
//
// Not in it: wheel slip, cornering, limits of motor torque or power, temperatures, a state of charge that changes the battery's
// voltage.
package traction

import (
	"math"

	"proofmass/model/schedule"
)

// A Car is a block of cars, one a row: columns of equal length in SI units, every one of them set.
type Car struct {
	Mass          []float64 // kg, as tested
	RotatingShare []float64 // 1, inertia of what rotates, as a share of Mass
	RollingForce  []float64 // N, rolling resistance that does not change with speed; coast-down F0
	RollingSlope  []float64 // N s/m, rolling resistance that grows with speed
	SpeedTerm     []float64 // N s/m, coast-down F1
	AeroFactor    []float64 // N s2/m2, half of air density x drag area; coast-down F2
	HeadWind      []float64 // m/s, positive against the car
	GradeForce    []float64 // N, weight along the road, positive uphill

	GearRatio      []float64 // 1, motor turns per wheel turn
	WheelRadius    []float64 // m
	GearEfficiency []float64 // 1
	TorqueLoss     []float64 // W/(N m)2
	SpinLoss       []float64 // W s/rad
	SpinCubicLoss  []float64 // W s3/rad3
	IdleLoss       []float64 // W

	RegenShare      []float64 // 1, share of braking power at the wheels that is recovered
	RegenFadeLow    []float64 // m/s, nothing is recovered at or below it
	RegenFadeHigh   []float64 // m/s, the whole share from here on; equal to the low speed it makes a step
	RegenPowerLimit []float64 // W, at the wheels; +Inf for none

	Auxiliaries []float64 // W
	Voltage     []float64 // V, open circuit
	Resistance  []float64 // ohm
}

// inputs is how many columns a car has.
const inputs = 22

// columns are those of a car in the order of its fields.
func (car *Car) columns() [inputs][]float64 {
	return [inputs][]float64{
		car.Mass, car.RotatingShare, car.RollingForce, car.RollingSlope, car.SpeedTerm, car.AeroFactor, car.HeadWind, car.GradeForce,
		car.GearRatio, car.WheelRadius, car.GearEfficiency, car.TorqueLoss, car.SpinLoss, car.SpinCubicLoss, car.IdleLoss,
		car.RegenShare, car.RegenFadeLow, car.RegenFadeHigh, car.RegenPowerLimit, car.Auxiliaries, car.Voltage, car.Resistance,
	}
}

// newCar is a car of n rows.
func newCar(n int) *Car {
	all := make([]float64, inputs*n)
	column := func(j int) []float64 { return all[j*n : (j+1)*n : (j+1)*n] }
	return &Car{
		Mass: column(0), RotatingShare: column(1), RollingForce: column(2), RollingSlope: column(3), SpeedTerm: column(4),
		AeroFactor: column(5), HeadWind: column(6), GradeForce: column(7), GearRatio: column(8), WheelRadius: column(9),
		GearEfficiency: column(10), TorqueLoss: column(11), SpinLoss: column(12), SpinCubicLoss: column(13), IdleLoss: column(14),
		RegenShare: column(15), RegenFadeLow: column(16), RegenFadeHigh: column(17), RegenPowerLimit: column(18),
		Auxiliaries: column(19), Voltage: column(20), Resistance: column(21),
	}
}

// Total fills energy [J] with the chemical energy that each row takes over s once, NaN where the row is infeasible. Each
// column of car must have at least len(energy) rows.
func Total(energy []float64, car *Car, s *schedule.Schedule) {
	g := group{form: chosen, motion: s.Motion()}
	for i := range energy {
		g.total(energy, car, i)
	}
	g.totals(energy)
}

// total evaluates row i, or gathers it to be evaluated with others.
func (g *group) total(energy []float64, car *Car, i int) {
	c := &g.rows[g.count]
	switch {
	case !c.load(car, i):
		energy[i] = math.NaN()
	case !c.quick(g.motion):
		energy[i] = finite(c.general(g.motion))
	case g.form.lanes == 0:
		energy[i] = finite(c.folded(g.motion))
	case g.add(i):
		g.totals(energy)
	}
}

// finite makes the one NaN of all that is not finite.
func finite(x float64) float64 {
	if isFinite(x) {
		return x
	}
	return math.NaN()
}

// isFinite avoids x - x == 0, which is false on arm64 if x is a product: the two operations are fused.
func isFinite(x float64) bool { return math.Abs(x) <= math.MaxFloat64 }
