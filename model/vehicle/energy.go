package vehicle

import (
	"strings"
	"sync"

	"proofmass/model"
	"proofmass/model/schedule"
	"proofmass/model/traction"
)

// drives are the schedules, in the order in which they are shown.
var drives = []struct{ name, words string }{
	{"udds", "UDDS"}, {"hwfet", "HWFET"}, {"us06", "US06"}, {"sc03", "SC03"}, {"nycc", "NYCC"}, {"wltc", "WLTC"},
}

// sinkNames are where the energy goes; the first ten add up to the total.
var sinkNames = []struct{ name, words string }{
	{"rolling", "rolling resistance"}, {"speed_term", "coast-down force that goes with speed"}, {"aero", "air drag"}, {"grade", "climbing"},
	{"kinetic", "inertia, nil over a trace that starts and ends at rest"}, {"friction_brakes", "friction brakes"}, {"gear", "gear"},
	{"drive_unit", "motor and inverter"}, {"auxiliaries", "auxiliaries and cabin"}, {"battery", "battery's resistance"},
	{"terminal", "everything behind the battery's terminals"},
}

// kernel are the columns that the energy kernel reads, in the order of load.
var kernel = []string{
	"test_mass", "rotating_mass_share", "rolling_force", "rolling_slope", "speed_coefficient", "aero_coefficient", "head_wind", "grade_force",
	"gear_ratio", "wheel_radius", "gear_efficiency", "torque_loss", "spin_loss", "spin_cubic_loss", "idle_loss",
	"regen_share", "regen_fade_low", "regen_fade_high", "regen_power_limit", "auxiliary_total", "pack_voltage", "pack_resistance",
}

// kernelOf is kernel with those of its columns that the prefix has of its own.
func kernelOf(prefix string, own ...string) []string {
	needs := append([]string(nil), kernel...)
	for i, need := range needs {
		for _, o := range own {
			if need == o {
				needs[i] = prefix + need
			}
		}
	}
	return needs
}

// kernelFor is the kernel's columns for a schedule: WLTC is driven at its own mass and in its
// own air.
func kernelFor(drive string) []string {
	if drive == "wltc" {
		return kernelOf("wltp_", "test_mass", "rolling_force", "rolling_slope", "speed_coefficient", "aero_coefficient", "grade_force")
	}
	return kernel
}

// bench is what an evaluation needs beside its columns, reused between blocks.
type bench struct {
	car     traction.Car
	sinks   traction.Sinks
	scratch [][]float64
}

var benches = sync.Pool{New: func() any { return new(bench) }}

// load points the car at the columns of kernel.
func (b *bench) load(in [][]float64) {
	b.car = traction.Car{
		Mass: in[0], RotatingShare: in[1],
		RollingForce: in[2], RollingSlope: in[3], SpeedTerm: in[4], AeroFactor: in[5], HeadWind: in[6], GradeForce: in[7],
		GearRatio: in[8], WheelRadius: in[9], GearEfficiency: in[10],
		TorqueLoss: in[11], SpinLoss: in[12], SpinCubicLoss: in[13], IdleLoss: in[14],
		RegenShare: in[15], RegenFadeLow: in[16], RegenFadeHigh: in[17], RegenPowerLimit: in[18],
		Auxiliaries: in[19], Voltage: in[20], Resistance: in[21],
	}
}

// done gives the bench back, without the caller's columns.
func (b *bench) done() {
	b.car, b.sinks = traction.Car{}, traction.Sinks{}
	benches.Put(b)
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

func energyQuantities() []quantity {
	var all []quantity
	for _, d := range drives {
		s := published(d.name)
		needs := kernelFor(d.name)
		all = append(all, quantity{name: d.name + "_total", unit: "Wh/km", limits: anyNumber, outputOnly: true,
			traits:  model.Traits{Schedule: d.name},
			meaning: "chemical energy per distance over " + d.words + ", without the model's error",
			source:  "backward-facing, quasi-static, 1 s steps",
			ways:    []way{{needs: needs, eval: totalOver(s)}}})
		split := way{needs: needs, eval: splitOver(s)}
		for _, sink := range sinkNames {
			split.out = append(split.out, d.name+"_"+sink.name)
		}
		for _, sink := range sinkNames {
			all = append(all, quantity{name: d.name + "_" + sink.name, unit: "Wh/km", limits: anyNumber, outputOnly: true,
				traits:  model.Traits{Schedule: d.name},
				meaning: "energy per distance over " + d.words + ": " + sink.words, source: "the same steps", ways: []way{split}})
		}
	}
	return all
}

func published(name string) *schedule.Schedule {
	s, ok := schedule.ByName(name)
	if !ok {
		panic("vehicle: no schedule " + strings.ToUpper(name))
	}
	return s
}

// totalOver makes energy per distance over a schedule.
func totalOver(s *schedule.Schedule) evaluate {
	distance := s.Distance()
	return func(out, in [][]float64) {
		b := benches.Get().(*bench)
		b.load(in)
		traction.Total(out[0], &b.car, s)
		divide(out[0], distance)
		b.done()
	}
}

// splitOver makes energy per distance by sink, in the order of sinkNames.
func splitOver(s *schedule.Schedule) evaluate {
	distance := s.Distance()
	return func(out, in [][]float64) {
		b := benches.Get().(*bench)
		b.load(in)
		b.sinks = traction.Sinks{
			Rolling: out[0], SpeedTerm: out[1], Aero: out[2], Grade: out[3], Kinetic: out[4], FrictionBrakes: out[5], Gear: out[6],
			DriveUnit: out[7], Auxiliaries: out[8], Battery: out[9], Terminal: out[10],
		}
		traction.Split(&b.sinks, &b.car, s)
		for _, sink := range out {
			divide(sink, distance)
		}
		b.done()
	}
}

func divide(x []float64, by float64) {
	for i := range x {
		x[i] /= by
	}
}
