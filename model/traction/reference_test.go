package traction

import (
	"math"
	"reflect"

	"proofmass/model/schedule"
)

// reference is the energy of row i written down as in the package comment, one step after the other in order of time, and
// beside it the sum of the steps' amounts, by which differences are to be measured: the energy itself may cancel.
func reference(car *Car, i int, s *schedule.Schedule) (energy, gross float64) {
	for _, step := range s.Steps() {
		e := referencePower(car, i, step) * step.DT
		energy += e
		gross += math.Abs(e)
	}
	return energy, gross
}

func referencePower(car *Car, i int, step schedule.Step) float64 {
	v, w := step.V, car.HeadWind[i]
	n := v * car.GearRatio[i] / car.WheelRadius[i]
	shaft, torque := 0.0, 0.0
	if v > 0 {
		force := car.Mass[i]*(1+car.RotatingShare[i])*step.A + car.RollingForce[i] + car.RollingSlope[i]*v +
			car.SpeedTerm[i]*v + car.AeroFactor[i]*(v+w)*math.Abs(v+w) + car.GradeForce[i]
		wheel := force * v
		fade := 0.0
		if low, high := car.RegenFadeLow[i], car.RegenFadeHigh[i]; v >= high {
			fade = 1
		} else if v > low {
			fade = (v - low) / (high - low)
		}
		recovered := math.Min(car.RegenShare[i]*fade*math.Max(-wheel, 0), car.RegenPowerLimit[i])
		shaft = math.Max(wheel, 0)/car.GearEfficiency[i] - car.GearEfficiency[i]*recovered
		torque = shaft / n
	}
	p := shaft + car.TorqueLoss[i]*torque*torque + car.SpinLoss[i]*n + car.SpinCubicLoss[i]*n*n*n + car.IdleLoss[i] + car.Auxiliaries[i]
	u := car.Voltage[i]
	return u * 2 * p / (u + math.Sqrt(u*u-4*car.Resistance[i]*p))
}

// scalarRow is the yardstick of the benchmarks: the usual row-at-a-time loop, with what does not change from step to step taken out of
// it, a branch for driving and braking, and the steps in order of time.
func scalarRow(car *Car, i int, steps []schedule.Step) float64 {
	turn := car.GearRatio[i] / car.WheelRadius[i]
	w, k := car.HeadWind[i], car.AeroFactor[i]
	f0 := car.RollingForce[i] + car.GradeForce[i] + k*w*w
	f1 := car.RollingSlope[i] + car.SpeedTerm[i] + 2*k*w
	inertia := car.Mass[i] * (1 + car.RotatingShare[i])
	drive, brake := 1/car.GearEfficiency[i], car.GearEfficiency[i]*car.RegenShare[i]
	limit := car.GearEfficiency[i] * car.RegenPowerLimit[i]
	low, high := car.RegenFadeLow[i], car.RegenFadeHigh[i]
	torque := car.TorqueLoss[i] / (turn * turn)
	c1, c3 := car.SpinLoss[i]*turn, car.SpinCubicLoss[i]*turn*turn*turn
	rest := car.IdleLoss[i] + car.Auxiliaries[i]
	u, r4 := car.Voltage[i], 4*car.Resistance[i]
	sum := 0.0
	for _, s := range steps {
		v := s.V
		p := rest
		if v > 0 {
			force := f0 + v*(f1+v*k) + inertia*s.A
			var x float64
			if force > 0 {
				x = force * drive
			} else {
				x = force * brake
				if v < low {
					x = 0
				} else if v < high {
					x *= (v - low) / (high - low)
				}
				if -x*v > limit {
					x = -limit / v
				}
			}
			p = x*(v+torque*x) + rest + v*(c1+v*v*c3)
		}
		d := u*u - r4*p
		if d < 0 {
			return math.NaN()
		}
		sum += s.DT * (u - math.Sqrt(d))
	}
	return sum * u / (2 * car.Resistance[i])
}

// columns are the columns of a car, in the order of its fields.
func columns(car *Car) []*[]float64 {
	v := reflect.ValueOf(car).Elem()
	all := make([]*[]float64, v.NumField())
	for j := range all {
		all[j] = v.Field(j).Addr().Interface().(*[]float64)
	}
	return all
}

// sinkColumns are the columns of Sinks, in the order of its fields, made n long.
func sinkColumns(n int) (*Sinks, map[string][]float64) {
	var out Sinks
	v := reflect.ValueOf(&out).Elem()
	byName := make(map[string][]float64)
	for j := range v.NumField() {
		column := make([]float64, n)
		v.Field(j).Set(reflect.ValueOf(column))
		byName[v.Type().Field(j).Name] = column
	}
	return &out, byName
}

// one is a car of one row: no losses, no resistances, no recovery, 400 V without inner resistance, but for what set changes.
func one(set map[string]float64) *Car {
	car := new(Car)
	v := reflect.ValueOf(car).Elem()
	for j := range v.NumField() {
		v.Field(j).Set(reflect.ValueOf([]float64{0}))
	}
	plain := map[string]float64{"Mass": 1500, "GearRatio": 9, "WheelRadius": 0.33, "GearEfficiency": 1, "RegenPowerLimit": math.Inf(1), "Voltage": 400}
	for _, values := range []map[string]float64{plain, set} {
		for name, x := range values {
			v.FieldByName(name).Index(0).SetFloat(x)
		}
	}
	return car
}

func builtIn(name string) *schedule.Schedule {
	s, ok := schedule.ByName(name)
	if !ok {
		panic("no schedule " + name)
	}
	return s
}
