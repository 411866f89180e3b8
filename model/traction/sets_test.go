package traction

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"proofmass/model/schedule"
)

// set is a file of testdata/traction: an invented car and what an independent reference model gives for it.
type set struct {
	Inputs  map[string]any
	Outputs struct {
		Derived    map[string]float64
		Schedules  map[string]map[string]*float64
		Steady     map[string]map[string]*float64
		WLTP       map[string]*float64
		WLTPPhases map[string]map[string]*float64 `json:"wltp_phases"`
	}
}

func readSet(t *testing.T, path string) *set {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := new(set)
	if err := json.Unmarshal(text, s); err != nil {
		t.Fatal(err)
	}
	return s
}

// input is a number of the file; null counts as 0.
func (s *set) input(name string) float64 {
	switch x := s.Inputs[name].(type) {
	case float64:
		return x
	case string:
		return math.Inf(1)
	}
	return 0
}

// car is the set's car at a test mass.
func (s *set) car(mass float64) *Car {
	slope := s.input("road_slope")
	weight := mass * 9.80665
	rolling := weight * math.Cos(slope) * s.input("rolling_coefficient") *
		(1 - s.input("rolling_temperature_factor")*(s.input("outside_temperature")-293.15))
	load := map[string]float64{
		"RollingForce": rolling,
		"RollingSlope": rolling * s.input("rolling_speed_factor"),
		"AeroFactor":   0.5 * s.Outputs.Derived["air_density"] * s.input("drag_coefficient") * s.input("frontal_area"),
	}
	if s.Inputs["coastdown_f0"] != nil {
		share := s.input("coastdown_mass_share")
		load = map[string]float64{
			"RollingForce": s.input("coastdown_f0") * ((1 - share) + share*mass/s.input("coastdown_mass")),
			"SpeedTerm":    s.input("coastdown_f1"),
			"AeroFactor":   s.input("coastdown_f2"),
		}
	}
	for field, name := range map[string]string{
		"RotatingShare": "rotating_mass_share", "HeadWind": "head_wind", "GearRatio": "gear_ratio", "WheelRadius": "wheel_radius",
		"GearEfficiency": "gear_efficiency", "TorqueLoss": "torque_loss", "SpinLoss": "spin_loss", "SpinCubicLoss": "spin_cubic_loss",
		"IdleLoss": "idle_loss", "RegenShare": "regen_share", "RegenFadeLow": "regen_fade_low", "RegenFadeHigh": "regen_fade_high",
		"RegenPowerLimit": "regen_power_limit",
	} {
		load[field] = s.input(name)
	}
	load["Mass"] = mass
	load["GradeForce"] = weight * math.Sin(slope)
	load["Auxiliaries"] = s.Outputs.Derived["auxiliary_total"]
	load["Voltage"] = s.Outputs.Derived["pack_voltage"]
	load["Resistance"] = s.Outputs.Derived["pack_resistance"]
	return one(load)
}

// TestSets holds every number of the sets to 1e-9; those that Total and Split do not give for a whole schedule are gathered
// from its seconds one by one.
func TestSets(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/traction/*.json")
	if err != nil || len(paths) != 4 {
		t.Fatalf("%d sets found, 4 expected (%v)", len(paths), err)
	}
	for _, path := range paths {
		s := readSet(t, path)
		t.Run(strings.TrimSuffix(filepath.Base(path), ".json"), func(t *testing.T) { checkSet(t, s) })
	}
}

func checkSet(t *testing.T, s *set) {
	tested := s.car(s.Outputs.Derived["test_mass"])
	for name, want := range s.Outputs.Schedules {
		checkEnergies(t, name, tested, builtIn(strings.TrimSuffix(name, "_class3b")), want)
	}
	for speed, want := range s.Outputs.Steady {
		kmh, err := strconv.ParseFloat(speed, 64)
		if err != nil {
			t.Fatal(err)
		}
		checkEnergies(t, "steady "+speed, tested, schedule.Steady(kmh/3.6), want)
	}
	wltp := s.car(s.Outputs.Derived["wltp_test_mass"])
	wltc := builtIn("wltc")
	checkEnergies(t, "wltp", wltp, wltc, s.Outputs.WLTP)
	if len(s.Outputs.WLTPPhases) != len(wltc.Phases) {
		t.Fatalf("%d phases, want %d", len(wltc.Phases), len(s.Outputs.WLTPPhases))
	}
	for _, phase := range wltc.Phases {
		name := strings.ReplaceAll(phase.Name, " ", "_")
		checkEnergies(t, "wltp "+name, wltp, wltc.Between(phase.From, phase.To), s.Outputs.WLTPPhases[name])
	}
}

var fieldOf = map[string]string{
	"rolling": "Rolling", "speed_term": "SpeedTerm", "aero": "Aero", "grade": "Grade", "kinetic": "Kinetic",
	"friction_brakes": "FrictionBrakes", "gear": "Gear", "drive_unit": "DriveUnit", "auxiliaries": "Auxiliaries",
	"battery": "Battery", "terminal": "Terminal", "positive_wheel": "PositiveWheel", "negative_wheel": "NegativeWheel",
	"recovered_wheel": "RecoveredWheel",
}

func checkEnergies(t *testing.T, name string, car *Car, s *schedule.Schedule, want map[string]*float64) {
	t.Helper()
	if len(want) != 21 {
		t.Fatalf("%s: %d numbers in the set, 21 expected", name, len(want))
	}
	got := secondBySecond(car, s)
	if got["infeasible_steps"] > 0 {
		for _, gathered := range []string{"min_power", "max_power", "discharge_only"} {
			got[gathered] = math.NaN()
		}
	}
	total := []float64{0}
	Total(total, car, s)
	perKm := 3600 * s.Distance() / 1000
	got["total"] = total[0] / perKm
	out, byName := sinkColumns(1)
	Split(out, car, s)
	for key, field := range fieldOf {
		got[key] = byName[field][0] / perKm
	}
	got["distance_km"] = s.Distance() / 1000
	got["max_terminal_power_possible"] = largestPower(car)
	for key, w := range want {
		g, ok := got[key]
		if w == nil {
			if g == g {
				t.Errorf("%s: %s = %v, want NaN: infeasible", name, key, g)
			}
			continue
		}
		tolerance := 1e-9 * math.Abs(*w)
		if key == "kinetic" {
			tolerance = 1e-9
		}
		if !ok || !(math.Abs(g-*w) <= tolerance) {
			t.Errorf("%s: %s = %.15g, want %.15g", name, key, g, *w)
		}
	}
}

// secondBySecond runs the steps of s as schedules of their own: the lowest and the highest chemical power [W], what is drawn alone [Wh/km]
// and how many are infeasible.
func secondBySecond(car *Car, s *schedule.Schedule) map[string]float64 {
	low, high, drawn, infeasible := math.Inf(1), math.Inf(-1), 0.0, 0.0
	for k, step := range s.Steps() {
		e := []float64{0}
		Total(e, car, s.Between(k, k+1))
		if e[0] != e[0] {
			infeasible++
			continue
		}
		power := e[0] / step.DT
		low, high = min(low, power), max(high, power)
		drawn += max(0, e[0])
	}
	return map[string]float64{
		"min_power": low, "max_power": high, "infeasible_steps": infeasible, "discharge_only": drawn / (3.6 * s.Distance()),
	}
}

// largestPower finds by bisection the largest power [W] that the battery gives: at rest, as auxiliaries.
func largestPower(car *Car) float64 {
	standing := schedule.Steady(0)
	idle := one(map[string]float64{"Voltage": car.Voltage[0], "Resistance": car.Resistance[0]})
	low, high := 0.0, 1e9
	for range 100 {
		mid := (low + high) / 2
		idle.Auxiliaries[0] = mid
		e := []float64{0}
		if Total(e, idle, standing); e[0] == e[0] {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
