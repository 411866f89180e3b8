package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/model/schedule"
	"proofmass/model/traction"
)

// massStep is the relative step of mass on either side, for elasticities.
const massStep = 0.01

// perMass are the columns that say what a kilogram adds to the road load, in the
// order in which reweigh reads them behind the kernel's.
var perMass = []string{"rolling_force_per_mass", "rolling_slope_per_mass", "speed_coefficient_per_mass", "grade_force_per_mass"}

func elasticityQuantities(drives Drives) []quantity {
	var all []quantity
	for _, d := range drives {
		needs := kernelNeeds("", nil, perMass...) // of the car's own mass, in whatever class of weight its inertia is
		if d.WLTP {
			needs = d.kernelNeeds(perMass...)
		}
		all = append(all, quantity{name: d.Schedule.Name + "_range_mass_elasticity", unit: "1", limits: anyNumber, outputOnly: true,
			meaning: "per cent of range over " + d.Words + " for each per cent of the car's mass, machines and pack kept",
			source:  "central difference of 1 % on either side",
			ways:    []way{{needs: needs, start: rangeElasticity(d.Schedule)}}})
	}
	needs := marked(baselineMark, kernelNeeds("", nil, perMass...))
	needs = append(needs, "baseline:udds_total", "baseline:hwfet_total", "baseline:model_error_city", "baseline:model_error_highway",
		"test_mass")
	return append(all, quantity{name: "range_change_from_mass_alone", unit: "%", limits: anyNumber, outputOnly: true, traits: model.Traits{Figure: "pair"},
		meaning: "change of label range if nothing but the mass of the baseline were the candidate's",
		source:  "the baseline's steps at the candidate's test mass",
		ways:    []way{{needs: needs, start: massAlone(drives.named("udds").road(), drives.named("hwfet").road()), unless: []string{"weight_classes"}}}})
}

func marked(mark string, names []string) []string {
	all := make([]string, len(names))
	for i, name := range names {
		all[i] = mark + name
	}
	return all
}

// reweigh loads the car and puts it at other masses; scratch of six columns.
func (b *bench) reweigh(in [][]float64, mass func(i int, own float64) float64) {
	b.load(in)
	c, s, add := &b.car, b.columns(6, len(in[0])), in[len(kernel):]
	for i, own := range c.Mass {
		m := mass(i, own)
		dm := m - own
		s[0][i] = m
		s[1][i] = math.FMA(add[0][i], dm, c.RollingForce[i])
		s[2][i] = math.FMA(add[1][i], dm, c.RollingSlope[i])
		s[3][i] = math.FMA(add[2][i], dm, c.SpeedTerm[i])
		s[4][i] = math.FMA(add[3][i], dm, c.GradeForce[i])
	}
	c.Mass, c.RollingForce, c.RollingSlope, c.SpeedTerm, c.GradeForce = s[0], s[1], s[2], s[3], s[4]
}

// rangeElasticity compares, over all steps since it is a small difference, the ranges, which go as one over the energies, of a car a
// little heavier and a little lighter.
func rangeElasticity(s *schedule.Schedule) start {
	heavier := func(_ int, own float64) float64 { return float64(own * (1 + massStep)) }
	lighter := func(_ int, own float64) float64 { return float64(own * (1 - massStep)) }
	return onBench(func(b *bench, out, in [][]float64) {
		y := out[0]
		b.reweigh(in, heavier)
		traction.Total(y, &b.car, s)
		b.reweigh(in, lighter)
		low := b.columns(6, len(y))[5]
		traction.Total(low, &b.car, s)
		for i, high := range y {
			y[i] = (low[i] - high) / (low[i] + high) / massStep
			if !(low[i] > 0 && high > 0) {
				y[i] = math.NaN()
			}
		}
	})
}

// massAlone drives the baseline at the candidate's test mass.
func massAlone(udds, hwfet road) start {
	return onBench(func(b *bench, out, in [][]float64) {
		y := out[0]
		rest := in[len(kernel)+len(perMass):]
		cityTotal, highwayTotal, cityError, highwayError, mass := rest[0], rest[1], rest[2], rest[3], rest[4]
		b.reweigh(in, func(i int, _ float64) float64 { return mass[i] })
		city := b.columns(6, len(y))[5]
		b.total(y, hwfet)
		b.total(city, udds)
		uddsDistance, hwfetDistance := udds.schedule.Distance(), hwfet.schedule.Distance()
		for i := range y {
			before := combined(rangeOf(1, cityTotal[i]*cityError[i]), rangeOf(1, highwayTotal[i]*highwayError[i]))
			after := combined(rangeOf(1, city[i]/uddsDistance*cityError[i]), rangeOf(1, y[i]/hwfetDistance*highwayError[i]))
			y[i] = after/before - 1
		}
	})
}
