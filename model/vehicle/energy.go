package vehicle

import (
	"slices"

	"proofmass/model"
	"proofmass/model/traction"
)

// sinks are where the energy goes, with the columns of the kernel that hold it; the
// first ten add up to the total.
var sinks = []struct {
	name, words string
	column      func(s *traction.Sinks) *[]float64
}{
	{"rolling", "rolling resistance", func(s *traction.Sinks) *[]float64 { return &s.Rolling }},
	{"speed_term", "coast-down force that goes with speed", func(s *traction.Sinks) *[]float64 { return &s.SpeedTerm }},
	{"aero", "air drag", func(s *traction.Sinks) *[]float64 { return &s.Aero }},
	{"grade", "climbing", func(s *traction.Sinks) *[]float64 { return &s.Grade }},
	{"kinetic", "inertia, nil over a trace that starts and ends at rest", func(s *traction.Sinks) *[]float64 { return &s.Kinetic }},
	{"friction_brakes", "friction brakes", func(s *traction.Sinks) *[]float64 { return &s.FrictionBrakes }},
	{"gear", "gear", func(s *traction.Sinks) *[]float64 { return &s.Gear }},
	{"drive_unit", "motor and inverter", func(s *traction.Sinks) *[]float64 { return &s.DriveUnit }},
	{"auxiliaries", "auxiliaries and cabin", func(s *traction.Sinks) *[]float64 { return &s.Auxiliaries }},
	{"battery", "battery's resistance", func(s *traction.Sinks) *[]float64 { return &s.Battery }},
	{"terminal", "everything behind the battery's terminals", func(s *traction.Sinks) *[]float64 { return &s.Terminal }},
}

// kernel is what the energy kernel reads: the quantity of a car and the field that it
// fills.
var kernel = []struct {
	quantity string
	field    func(c *traction.Car) *[]float64
}{
	{"test_mass", func(c *traction.Car) *[]float64 { return &c.Mass }},
	{"rotating_mass_share", func(c *traction.Car) *[]float64 { return &c.RotatingShare }},
	{"rolling_force", func(c *traction.Car) *[]float64 { return &c.RollingForce }},
	{"rolling_slope", func(c *traction.Car) *[]float64 { return &c.RollingSlope }},
	{"speed_coefficient", func(c *traction.Car) *[]float64 { return &c.SpeedTerm }},
	{"aero_coefficient", func(c *traction.Car) *[]float64 { return &c.AeroFactor }},
	{"head_wind", func(c *traction.Car) *[]float64 { return &c.HeadWind }},
	{"grade_force", func(c *traction.Car) *[]float64 { return &c.GradeForce }},
	{"gear_ratio", func(c *traction.Car) *[]float64 { return &c.GearRatio }},
	{"wheel_radius", func(c *traction.Car) *[]float64 { return &c.WheelRadius }},
	{"gear_efficiency", func(c *traction.Car) *[]float64 { return &c.GearEfficiency }},
	{"torque_loss", func(c *traction.Car) *[]float64 { return &c.TorqueLoss }},
	{"spin_loss", func(c *traction.Car) *[]float64 { return &c.SpinLoss }},
	{"spin_cubic_loss", func(c *traction.Car) *[]float64 { return &c.SpinCubicLoss }},
	{"idle_loss", func(c *traction.Car) *[]float64 { return &c.IdleLoss }},
	{"regen_share", func(c *traction.Car) *[]float64 { return &c.RegenShare }},
	{"regen_fade_low", func(c *traction.Car) *[]float64 { return &c.RegenFadeLow }},
	{"regen_fade_high", func(c *traction.Car) *[]float64 { return &c.RegenFadeHigh }},
	{"regen_power_limit", func(c *traction.Car) *[]float64 { return &c.RegenPowerLimit }},
	{"auxiliary_total", func(c *traction.Car) *[]float64 { return &c.Auxiliaries }},
	{"pack_voltage", func(c *traction.Car) *[]float64 { return &c.Voltage }},
	{"pack_resistance", func(c *traction.Car) *[]float64 { return &c.Resistance }},
}

// kernelNeeds are the quantities of kernel, those that the prefix has of its own by its
// names, and more behind them.
func kernelNeeds(prefix string, own []string, more ...string) []string {
	needs := make([]string, 0, len(kernel)+len(more))
	for _, k := range kernel {
		if slices.Contains(own, k.quantity) {
			needs = append(needs, prefix+k.quantity)
		} else {
			needs = append(needs, k.quantity)
		}
	}
	return append(needs, more...)
}

// wltpOwn are the kernel's quantities that a car has of its own in the WLTP test: it is
// driven at another mass and in other air.
var wltpOwn = []string{"test_mass", "rolling_force", "rolling_slope", "speed_coefficient", "aero_coefficient", "grade_force"}

// kernelNeeds are the kernel's quantities for the schedule.
func (d Drive) kernelNeeds(more ...string) []string {
	switch {
	case d.WLTP:
		return kernelNeeds("wltp_", wltpOwn, more...)
	case d.USTest: // inertia alone is read from the mass: the forces hold the car's own
		needs := kernelNeeds("", nil, more...)
		needs[slices.Index(needs, "test_mass")] = "inertia_mass"
		return needs
	}
	return kernelNeeds("", nil, more...)
}

// bench is what an evaluation needs beside its columns, one for each worker.
type bench struct {
	car     traction.Car
	sinks   traction.Sinks
	scratch [][]float64
	saving  *saving // nil: none
}

// onBench is an evaluation with a bench.
func onBench(eval func(b *bench, out, in [][]float64)) start {
	return func(by model.Saving) evaluate {
		b := new(bench)
		b.saving, _ = by.(*saving)
		return func(out, in [][]float64) {
			eval(b, out, in)
			b.car, b.sinks = traction.Car{}, traction.Sinks{} // keeps no column of the caller
		}
	}
}

// load points the car at the columns of kernelNeeds.
func (b *bench) load(in [][]float64) {
	for i := range kernel {
		*kernel[i].field(&b.car) = in[i]
	}
}

// columns returns count columns of n rows to write into.
func (b *bench) columns(count, n int) [][]float64 {
	for len(b.scratch) < count {
		b.scratch = append(b.scratch, nil)
	}
	for i := range b.scratch[:count] {
		if cap(b.scratch[i]) < n {
			b.scratch[i] = make([]float64, n)
		}
		b.scratch[i] = b.scratch[i][:n]
	}
	return b.scratch[:count]
}

// beyondPack is why an energy over a schedule has no value; see traction.
const beyondPack = "the pack cannot deliver the power that driving takes there (pack_voltage, pack_resistance), or regen_fade_low lies above regen_fade_high"

func energyQuantities(drives Drives) []quantity {
	var all []quantity
	for _, d := range drives {
		name, needs, r := d.Schedule.Name, d.kernelNeeds(), d.road()
		all = append(all, quantity{name: name + "_total", unit: "Wh/km", limits: anyNumber, outputOnly: true, traits: model.Traits{NoValue: beyondPack},
			meaning: "chemical energy per distance over " + d.Words + ", without the model's error",
			source:  "backward-facing, quasi-static, 1 s steps",
			ways:    []way{{needs: needs, start: r.total(), over: r.name}}})
		split := way{needs: needs, start: r.split(), over: r.name}
		for _, sink := range sinks {
			split.out = append(split.out, name+"_"+sink.name)
		}
		for _, sink := range sinks {
			all = append(all, quantity{name: name + "_" + sink.name, unit: "Wh/km", limits: anyNumber, outputOnly: true, traits: model.Traits{Figure: figureOf(sink.name, d.Words)},
				meaning: "energy per distance over " + d.Words + ": " + sink.words, source: "the same steps", ways: []way{split}})
		}
	}
	return all
}

// figureOf is the figure of a schedule's energies, which shows those that add up.
func figureOf(sink, schedule string) string {
	if sink == "terminal" {
		return ""
	}
	return "energy over " + schedule
}

func divide(x []float64, by float64) {
	for i := range x {
		x[i] /= by
	}
}
