package vehicle

import (
	"fmt"

	"proofmass/model/schedule"
	"proofmass/model/traction"
)

func steadyQuantities() []quantity {
	all := []quantity{
		{name: "steady_speed", unit: "km/h", limits: positive,
			usual:   usual{20, 250, practice, "m/s for km/h"},
			meaning: "a constant speed to be looked at", source: "question"},
	}
	add := func(suffix, at string, w way) {
		all = append(all,
			quantity{name: "steady_consumption" + suffix, unit: "Wh/km", limits: anyNumber, outputOnly: true,
				meaning: "chemical energy per distance at " + at,
				source:  "the same step at constant speed x the model's error", ways: []way{w}},
			quantity{name: "steady_range" + suffix, unit: "km", limits: nonNegative, outputOnly: true,
				meaning: "range at " + at, source: "usable energy / consumption",
				ways: []way{from2(rangeOf, "usable_energy", "steady_consumption"+suffix)}})
	}
	add("", "steady_speed", way{needs: steadyNeeds("steady_speed"), start: onBench(func(b *bench, out, in [][]float64) { b.steady(out[0], in, in[len(in)-1], 0) })})
	for kmh := 50; kmh <= 130; kmh += 10 {
		speed := float64(kmh*1000) / 3600
		add(fmt.Sprintf("_%d", kmh), fmt.Sprintf("%d km/h", kmh), way{needs: steadyNeeds(), start: onBench(func(b *bench, out, in [][]float64) {
			b.steady(out[0], in, nil, speed)
		})})
	}
	return all
}

func steadyNeeds(speed ...string) []string {
	return kernelNeeds("", nil, append([]string{"model_error_highway", "model_error_own_factor"}, speed...)...)
}

// unitSpeed is the schedule on which every steady speed is driven.
var unitSpeed = schedule.Steady(1)

// steady fills out with the energy per distance at the speeds, or at one speed for
// all rows, with the model's error.
//
// A schedule's speed is the same in all rows, so the car is driven at 1 m/s with
// forces and gear ratio times v: its power and its motor's speed and torque are then
// those of the car at v.
func (b *bench) steady(out []float64, in [][]float64, speeds []float64, speed float64) {
	b.load(in)
	c, s := &b.car, b.columns(9, len(out))
	for i := range out {
		v := speed
		if speeds != nil {
			v = speeds[i]
		}
		s[0][i], s[1][i], s[2][i] = c.RollingForce[i]*v, c.RollingSlope[i]*v*v, c.SpeedTerm[i]*v*v
		s[3][i], s[4][i], s[5][i] = c.AeroFactor[i]*v, v+c.HeadWind[i]-1, c.GradeForce[i]*v
		s[6][i], s[7][i], s[8][i] = c.GearRatio[i]*v, c.RegenFadeLow[i]/v, c.RegenFadeHigh[i]/v
	}
	c.RollingForce, c.RollingSlope, c.SpeedTerm = s[0], s[1], s[2]
	c.AeroFactor, c.HeadWind, c.GradeForce = s[3], s[4], s[5]
	c.GearRatio, c.RegenFadeLow, c.RegenFadeHigh = s[6], s[7], s[8]
	traction.Total(out, c, unitSpeed)
	time, highway, own := unitSpeed.Duration(), in[len(kernel)], in[len(kernel)+1]
	for i := range out {
		v := speed
		if speeds != nil {
			v = speeds[i]
		}
		out[i] = out[i] / (time * v) * highway[i] * own[i]
	}
}
