package vehicle

import (
	"testing"

	"proofmass/model/schedule"
	"proofmass/model/traction"
)

// First principles: a trace of 0.5 s steps that does not end as it began. What the car
// gains in speed is a sink of its own, and the sinks add up.
func TestTraceOfHalfSeconds(t *testing.T) {
	speeds := []float64{2, 2.6, 3.4, 4.4, 5, 5.2, 4.6, 3.4, 2.2}
	seconds := make([]float64, len(speeds))
	for i := range seconds {
		seconds[i] = 0.5 * float64(i)
	}
	s, err := schedule.New("trip", seconds, speeds)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "distance", s.Distance(), 15.35, 1e-12)
	one := func(x float64) []float64 { return []float64{x} }
	ideal := traction.Car{Mass: one(1650), RotatingShare: one(0.04), RollingForce: one(120), RollingSlope: one(0), SpeedTerm: one(0), AeroFactor: one(0.4), HeadWind: one(0), GradeForce: one(0),
		GearRatio: one(9), WheelRadius: one(0.3), GearEfficiency: one(1), TorqueLoss: one(0), SpinLoss: one(0), SpinCubicLoss: one(0), IdleLoss: one(0),
		RegenShare: one(1), RegenFadeLow: one(0), RegenFadeHigh: one(1e-9), RegenPowerLimit: one(1e12), Auxiliaries: one(0), Voltage: one(400), Resistance: one(0)}
	sum := traction.Sinks{}
	columns := make([][]float64, len(sinks))
	for i := range sinks {
		columns[i] = one(0)
		*sinks[i].column(&sum) = columns[i]
	}
	traction.Split(&sum, &ideal, s)
	total := one(0)
	traction.Total(total, &ideal, s)
	near(t, "energy", total[0], 20975.312-18304.8798, 1e-9)
	near(t, "kinetic", sum.Kinetic[0], 720.72, 1e-9)
	near(t, "rolling, air and kinetic", sum.Rolling[0]+sum.Aero[0]+sum.Kinetic[0], total[0], 1e-9)
	none := ideal
	none.RegenShare = one(0)
	traction.Total(total, &none, s)
	near(t, "positive work", total[0], 20975.312, 1e-9)
}
