package vehicle

import (
	"math"
	"slices"
	"testing"

	"proofmass/model"
	"proofmass/model/schedule"
)

// TestWeightClasses: 40 CFR 86.129 as recorded (upper part from memory), band edges in whole
// pounds.
func TestWeightClasses(t *testing.T) {
	for pounds, want := range map[float64]float64{2937: 2875, 2938: 3000, 3937: 3875, 3938: 4000, 4125: 4000, 4126: 4250, 5375: 5250, 5376: 5500, 5750: 5500, 5751: 6000,
		6250: 6000, 6251: 6500, 3812: 3750, 3813: 3875, 1010: 1000} {
		if got := testWeightClass(pounds); got != want {
			t.Errorf("%g lb: class %g, want %g", pounds, got, want)
		}
	}
	if x := testWeightClass(math.NaN()); x == x {
		t.Errorf("no number has the class %g", x)
	}
}

// TestSavingInsideAClass: 3790 lb less 66 lb stays in the class of 4000 lb (example of the
// same table): the stepped reading has no gain in inertia, and rolling goes on with the mass.
func TestSavingInsideAClass(t *testing.T) {
	x := newTrial(t, values{"drag_area": 0.62, "rolling_coefficient": 0.009, "all_wheel_drive": 0})
	x.car("heavy", "", values{"kerb_mass": 3790 * pound, "usable_energy": 57 * 3.6e6, "weight_classes": 1})
	x.car("light", "heavy", values{"kerb_mass": 3724 * pound})
	x.car("smooth", "heavy", values{"kerb_mass": 3790 * pound, "weight_classes": 0})
	x.car("lower", "heavy", values{"kerb_mass": 3600 * pound})
	found := x.run("heavy.test_mass", "heavy.equivalent_test_mass", "light.equivalent_test_mass", "light.inertia_mass", "lower.inertia_mass", "smooth.inertia_mass",
		"heavy.label_range", "light.label_range", "smooth.label_range", "heavy.label_range_by_mass", "light.label_range_by_mass", "light.label_range_by_class", "heavy.rolling_force", "light.rolling_force")
	near(t, "loaded weight", found["heavy.test_mass"]/pound, 4090, 1e-6)
	near(t, "class before", found["heavy.equivalent_test_mass"]/pound, 4000, 1e-12)
	near(t, "class after", found["light.equivalent_test_mass"]/pound, 4000, 1e-12)
	near(t, "class of a lighter one", found["lower.inertia_mass"]/pound, 3875, 1e-12)
	near(t, "by mass", found["heavy.label_range_by_mass"], found["smooth.label_range"], 1e-12)
	near(t, "by class", found["light.label_range_by_class"], found["light.label_range"], 1e-12)
	stepped := found["light.label_range"]/found["heavy.label_range"] - 1
	smooth := found["light.label_range_by_mass"]/found["heavy.label_range_by_mass"] - 1
	if !(stepped > 0 && stepped < smooth) || !(found["light.rolling_force"] < found["heavy.rolling_force"]) {
		t.Errorf("a saving inside a class brings %g, smoothly %g", stepped, smooth)
	}
}

// TestClassesAreOfTheUSTests: a trace of one's own and a range in the cold are driven at the
// car's own mass, whichever class its inertia has on a dynamometer.
func TestClassesAreOfTheUSTests(t *testing.T) {
	drives := append(Published(), Drive{Schedule: schedule.Steady(20).Between(0, 1), Words: "own", Driving: Highway})
	drives[len(drives)-1].Schedule.Name = "own"
	for _, d := range drives {
		needs := d.kernelNeeds()
		if byClass := slices.Contains(needs, "inertia_mass"); byClass != slices.Contains([]string{"udds", "hwfet", "us06", "sc03", "nycc"}, d.Schedule.Name) {
			t.Errorf("%s: inertia by class %t", d.Schedule.Name, byClass)
		}
	}
	x := newTrial(t, values{"drag_area": 0.62, "rolling_coefficient": 0.009, "all_wheel_drive": 0, "cold_temperature": 263.15, "cold_energy_factor": 0.9, "cabin_conductance": 90, "cabin_low": 291, "cabin_high": 296, "heating_performance": 2, "cooling_performance": 3})
	x.car("smooth", "", values{"kerb_mass": 3790 * pound, "usable_energy": 57 * 3.6e6})
	x.car("stepped", "smooth", values{"kerb_mass": 3790 * pound, "weight_classes": 1})
	found := x.run("smooth.cold_range", "stepped.cold_range", "smooth.udds_total", "stepped.udds_total")
	if found["smooth.cold_range"] != found["stepped.cold_range"] || found["smooth.udds_total"] == found["stepped.udds_total"] {
		t.Errorf("%v", found)
	}
}

// TestElasticityIsOfTheOwnMass: a per cent of mass is one of the car's own, whichever class of
// weight its inertia is in.
func TestElasticityIsOfTheOwnMass(t *testing.T) {
	x := newTrial(t, values{"drag_area": 0.62, "rolling_coefficient": 0.009, "all_wheel_drive": 0})
	x.car("smooth", "", values{"kerb_mass": 3790 * pound, "usable_energy": 57 * 3.6e6})
	x.car("stepped", "smooth", values{"kerb_mass": 3790 * pound, "weight_classes": 1})
	found := x.run("smooth.udds_range_mass_elasticity", "stepped.udds_range_mass_elasticity", "stepped.inertia_mass", "stepped.test_mass")
	near(t, "elasticity", found["stepped.udds_range_mass_elasticity"], found["smooth.udds_range_mass_elasticity"], 1e-12)
	if found["stepped.inertia_mass"] == found["stepped.test_mass"] {
		t.Error("the class weighs what the car does: nothing is shown")
	}
}

// TestSpeedOfLeastEnergy: first principles, v = (P eta / (rho Cd A))^(1/3): 500 W, 0.88,
// 1.2041 kg/m3, 0.6 m2; the rolling resistance does not matter.
func TestSpeedOfLeastEnergy(t *testing.T) {
	const v = 8.476429545
	for _, rolling := range []float64{0.006, 0.012} {
		at := func(speed float64) float64 {
			x := newTrial(t, steadyOnly(values{"auxiliary_power": 500, "gear_efficiency": 0.88, "air_density": 1.2041, "drag_area": 0.6, "rolling_coefficient": rolling, "steady_speed": speed}))
			x.car("car", "", values{"test_mass": 1600})
			return x.run("car.steady_consumption")["car.steady_consumption"]
		}
		least := at(v)
		for _, away := range []float64{-0.01, 0.01} {
			second := (at(v*(1+away)) - least) / (away * away)
			if !(second > 0) || math.Abs((at(v*(1+away))-at(v*(1-away)))/(2*away)) > 0.05*second {
				t.Errorf("rolling %g: the least energy does not stand at %g m/s", rolling, v)
			}
		}
	}
}

// TestRangeOfALighterCar: first principles: where a share s of the consumption goes with
// mass a car lighter by 6 % goes 1/(1 - 0.06 s) - 1 further, 3.412616339 % at 0.55.
func TestRangeOfALighterCar(t *testing.T) {
	x := newTrial(t, steadyOnly(values{"auxiliary_power": 0, "gear_efficiency": 0.9, "air_density": 1.2, "drag_area": 147.09975 * 0.45 / 0.55 / (0.5 * 1.2 * 625),
		"rolling_coefficient": 0.01, "steady_speed": 25, "usable_energy": 57 * 3.6e6}))
	x.car("car", "", values{"test_mass": 1500})
	x.car("lighter", "", values{"test_mass": 1410})
	found := x.run("car.steady_range", "lighter.steady_range")
	near(t, "range gained", found["lighter.steady_range"]/found["car.steady_range"]-1, 0.03412616339, 1e-9)
}

func steadyOnly(more values) values {
	all := values{"torque_loss": 0, "spin_loss": 0, "idle_loss": 0, "pack_resistance": 0, "outside_temperature": 293.15, "all_wheel_drive": 0, "model_error_city": 1, "model_error_highway": 1}
	for q, v := range more {
		all[q] = v
	}
	return all
}

// TestSolverIsExactWhereItIsLinear: first principles: consumption 100 + 0.035 M Wh/km, 1500 kg
// and 6 kg/kWh, 95 % usable, 450 km: E = R (a + b M)/(950 - R b k) = 80.21624781 kWh.
func TestSolverIsExactWhereItIsLinear(t *testing.T) {
	rules := map[string]model.Rule{
		"car.range": {Out: []string{"car.range"}, Needs: []string{"energy", "fixed"}, Eval: from2(func(e, fixed float64) float64 {
			return 950 * e / (100 + 0.035*(fixed+6*e))
		}, "", "").eval},
		"energy": model.Sampled("energy"), "fixed": model.Sampled("fixed"),
	}
	program, err := model.Compile([]string{"car.range"}, func(name string) (model.Rule, error) { return rules[name], nil })
	if err != nil {
		t.Fatal(err)
	}
	w := (&nested{program: nestedProgram{program}, needs: []string{"=fixed"}, own: 0, order: []int{1}}).worker()
	start := []float64{80.21624781, 60, 100, 150, 25, 310, 19, 60, 60}
	fixed := []float64{1500, 1500, 1500, 1500, 1500, 1500, 1500, 1500, math.NaN()}
	target := []float64{450, 450, 450, 450, 450, 450, 450, 5000, 450}
	w.set([][]float64{fixed})
	got := make([]float64, len(start))
	w.solve(got, start, target)
	for i, e := range got {
		switch {
		case i < 6:
			near(t, "energy", e, 80.21624781, 1e-9)
		case e == e:
			t.Errorf("from %g for %g km: %g where there is none between a quarter and four times", start[i], target[i], e)
		}
	}
}

// TestNothingIsFreedByItemsThatAreNone: where items are asked for, what equal stiffness would
// free does not count, whether it can be said or not.
func TestNothingIsFreedByItemsThatAreNone(t *testing.T) {
	if x := freedIf(0, math.NaN()); x != 0 {
		t.Errorf("%g kg are displaced by no items", x)
	}
	if x := freedIf(1, 12); x != 12 {
		t.Errorf("%g kg are displaced by stiffness", x)
	}
	if x := freedIf(1, math.NaN()); x == x {
		t.Errorf("%g kg are displaced by a stiffness that has no value", x)
	}
}
