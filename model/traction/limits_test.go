package traction

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/model/schedule"
)

// TestAnyInput throws numbers of every kind at the kernel: no panic, and each energy finite or the one NaN.
func TestAnyInput(t *testing.T) {
	const n = 2000
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), math.MaxFloat64, -math.MaxFloat64,
		math.SmallestNonzeroFloat64, -1, 1}
	r := rand.New(rand.NewPCG(15, 16))
	car := randomCar(r, n)
	for i := range n {
		for range 1 + r.IntN(4) {
			(*columns(car)[r.IntN(len(between))])[i] = odd[r.IntN(len(odd))]
		}
	}
	out, byName := sinkColumns(n)
	for _, s := range []*schedule.Schedule{builtIn("nycc"), schedule.Steady(20), schedule.Steady(0), schedule.Steady(math.NaN())} {
		Split(out, car, s)
		for i, e := range totalOf(car, n, s) {
			if !isFinite(e) && math.Float64bits(e) != math.Float64bits(math.NaN()) {
				t.Errorf("%s row %d: %v (%x) is neither finite nor the one NaN", s.Name, i, e, math.Float64bits(e))
			}
			for _, column := range columns(car) {
				if x := (*column)[i]; x != x && e == e {
					t.Errorf("%s row %d: an input is NaN, the energy %v", s.Name, i, e)
				}
			}
			if a := byName["Auxiliaries"][i]; e != e && a == a {
				t.Errorf("%s row %d: infeasible, but split", s.Name, i)
			}
		}
	}
}

// TestOneInputNaN: each of the columns alone makes its row infeasible, even one that would not matter.
func TestOneInputNaN(t *testing.T) {
	for j := range between {
		car := one(map[string]float64{"Resistance": 0.1})
		(*columns(car)[j])[0] = math.NaN()
		for _, s := range []*schedule.Schedule{builtIn("udds"), schedule.Steady(20), schedule.Steady(0)} {
			if e := totalOf(car, 1, s)[0]; e == e {
				t.Errorf("column %d NaN on %s: %v", j, s.Name, e)
			}
		}
	}
}

func TestAtRest(t *testing.T) {
	s := schedule.Steady(0)
	car := one(map[string]float64{
		"RollingForce": 200, "AeroFactor": 0.5, "HeadWind": 20, "GradeForce": 900, "SpinLoss": 2, "TorqueLoss": 1,
		"IdleLoss": 250, "Auxiliaries": 500,
	})
	if got := totalOf(car, 1, s)[0]; got != 750*3600 {
		t.Errorf("an hour at rest takes %v J, want idle loss and auxiliaries alone, %v", got, 750*3600)
	}
}

// TestTailWind: air that overtakes the car pushes it.
func TestTailWind(t *testing.T) {
	out := Sinks{Aero: []float64{0}}
	Split(&out, one(map[string]float64{"AeroFactor": 0.4, "HeadWind": -15}), schedule.Steady(10))
	if want := -0.4 * 25 * 36000; math.Abs(out.Aero[0]-want) > 1e-9*math.Abs(want) {
		t.Errorf("work against air from behind %v J, want %v", out.Aero[0], want)
	}
}

// TestRecovery brakes with 10 kN at 10 m/s for a second: 100 kW at the wheels.
func TestRecovery(t *testing.T) {
	s, err := schedule.New("braking", []float64{0, 1}, []float64{10.5, 9.5})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name                    string
		share, low, high, limit float64
		want                    float64
	}{
		{"whole share", 0.8, 1, 4, math.Inf(1), 80e3},
		{"half faded", 0.8, 8, 12, math.Inf(1), 40e3},
		{"below the fade", 0.8, 10, 12, math.Inf(1), 0},
		{"step, at it", 0.8, 10, 10, math.Inf(1), 80e3},
		{"step, below it", 0.8, 10.001, 10.001, math.Inf(1), 0},
		{"limit after share and fade", 0.8, 8, 12, 30e3, 30e3},
		{"limit not reached", 0.8, 8, 12, 41e3, 40e3},
		{"no power taken", 0.8, 1, 4, 0, 0},
	} {
		car := one(map[string]float64{
			"Mass": 10000, "GearEfficiency": 0.9,
			"RegenShare": c.share, "RegenFadeLow": c.low, "RegenFadeHigh": c.high, "RegenPowerLimit": c.limit,
		})
		out := Sinks{RecoveredWheel: []float64{0}}
		Split(&out, car, s)
		if got := out.RecoveredWheel[0]; math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: recovered %v W, want %v", c.name, got, c.want)
		}
		if got := totalOf(car, 1, s)[0]; math.Abs(got+0.9*c.want) > 1e-6 {
			t.Errorf("%s: energy %v J, want %v", c.name, got, -0.9*c.want)
		}
	}
}

// TestFadeWrongWayRound: a fade that ends before it begins describes nothing.
func TestFadeWrongWayRound(t *testing.T) {
	car := one(map[string]float64{"RegenShare": 1, "RegenFadeLow": 4, "RegenFadeHigh": 3})
	if got := totalOf(car, 1, builtIn("udds"))[0]; got == got {
		t.Errorf("energy %v, want NaN", got)
	}
}

// TestDownhill: an energy below nil is a result.
func TestDownhill(t *testing.T) {
	car := one(map[string]float64{"GradeForce": -1000, "RegenShare": 1, "Resistance": 0.05})
	if got := totalOf(car, 1, schedule.Steady(20))[0]; !(got < 0) {
		t.Errorf("an hour downhill takes %v J, want less than 0", got)
	}
}
