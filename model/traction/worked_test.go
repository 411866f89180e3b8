package traction

import (
	"math"
	"testing"

	"proofmass/model/schedule"
)

const wattHour = 3600.0

func holds(t *testing.T, name string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: %.12g, want %.12g", name, got, want)
	}
}

func splitOne(car *Car, s *schedule.Schedule) *Sinks {
	out, _ := sinkColumns(1)
	Split(out, car, s)
	return out
}

// TestFiledCarWheelWork meets the wheel work that stands beside a row of the open certification data (US EPA, certified
// vehicle test results; 3375 lb, coast-down 29 lbf, 0.297 lbf/mph, 0.0178 lbf/mph2), an independent computation printed to four digits:
// 124.4, 53.2, 122.2 and 10.9 Wh/km; further digits first principles. 1 lb = 0.45359237 kg, 1 lbf = 4.4482216152605 N exactly.
func TestFiledCarWheelWork(t *testing.T) {
	const lbf, mph = 4.4482216152605, 0.44704
	car := one(map[string]float64{
		"Mass": 3375 * 0.45359237, "RotatingShare": 0.015,
		"RollingForce": 29 * lbf, "SpeedTerm": 0.297 * lbf / mph, "AeroFactor": 0.0178 * lbf / (mph * mph),
	})
	for _, c := range []struct {
		schedule           string
		positive, negative float64 // Wh/km
		printed, alike     float64
	}{
		{"udds", 124.39722529969794, 53.22404808356032, 124.4, 53.2},
		{"hwfet", 122.19018961588972, 10.935245800370783, 122.2, 10.9},
	} {
		s := builtIn(c.schedule)
		out := splitOne(car, s)
		per := wattHour * s.Distance() / 1000
		holds(t, c.schedule+" positive", out.PositiveWheel[0]/per, c.positive, 1e-9)
		holds(t, c.schedule+" negative", out.NegativeWheel[0]/per, c.negative, 1e-9)
		if p, n := out.PositiveWheel[0]/per, out.NegativeWheel[0]/per; math.Abs(p-c.printed) > 0.05 || math.Abs(n-c.alike) > 0.05 {
			t.Errorf("%s: %.4f and %.4f Wh/km do not round to %v and %v", c.schedule, p, n, c.printed, c.alike)
		}
	}
}

// TestPlainCarWheelWork: first principles, computed apart from this project: 1900 kg, rolling coefficient 0.009, drag area 0.6 m2, air
// 1.2 kg/m3, rotating share 0.04. Rolling is m g c over the distance whatever the schedule.
func TestPlainCarWheelWork(t *testing.T) {
	car := one(map[string]float64{
		"Mass": 1900, "RotatingShare": 0.04, "RollingForce": 1900 * 9.80665 * 0.009, "AeroFactor": 0.5 * 1.2 * 0.6,
	})
	for _, c := range []struct {
		schedule                 string
		positive, negative, aero float64 // Wh/km
	}{
		{"udds", 140.89310087656122, 72.39572115735109, 21.91579221921014},
		{"hwfet", 115.39099863559063, 17.075909408661026, 51.73350172692961},
		{"us06", 199.44948837441382, 75.88145175250963, 76.98644912190423},
		{"wltc", 152.30166595420857, 54.252863149066755, 51.46721530514184},
	} {
		s := builtIn(c.schedule)
		out := splitOne(car, s)
		per := wattHour * s.Distance() / 1000
		holds(t, c.schedule+" positive", out.PositiveWheel[0]/per, c.positive, 1e-9)
		holds(t, c.schedule+" negative", out.NegativeWheel[0]/per, c.negative, 1e-9)
		holds(t, c.schedule+" rolling", out.Rolling[0]/per, 46.5815875, 1e-9)
		holds(t, c.schedule+" aero", out.Aero[0]/per, c.aero, 1e-9)
	}
}

// TestCycleEnergyDemand: UN GTR No. 15 Annex 7 section 5, force f0 + f1 v + f2 v2 + 1.03 TM a, energy where it is positive;
// f0 110 N, f1 0.6 N/(km/h), f2 0.03 N/(km/h)2, TM 1850 kg. Value by first principles.
func TestCycleEnergyDemand(t *testing.T) {
	car := one(map[string]float64{
		"Mass": 1850, "RotatingShare": 0.03, "RollingForce": 110, "SpeedTerm": 0.6 * 3.6, "AeroFactor": 0.03 * 3.6 * 3.6,
	})
	holds(t, "cycle energy demand", splitOne(car, builtIn("wltc")).PositiveWheel[0], 12664194.667258758, 1e-9)
}

// TestTrapezoid: 0 to 20 m/s in 20 s, 30 s at 20 m/s, to rest in 20 s, in steps of 1 s; 1500 kg, F0 130 N, F2 0.38 N s2/m2,
// rotating share 0.04. First principles in closed form: the cubes of 0.5 ... 19.5 add up to n2(2 n2 - 1)/8 = 39950 for n = 20.
func TestTrapezoid(t *testing.T) {
	var seconds, speeds []float64
	for k := range 71 {
		seconds = append(seconds, float64(k))
		speeds = append(speeds, min(float64(k), 20, float64(70-k)))
	}
	s, err := schedule.New("trapezoid", seconds, speeds)
	if err != nil {
		t.Fatal(err)
	}
	car := one(map[string]float64{"RotatingShare": 0.04, "RollingForce": 130, "AeroFactor": 0.38})
	out := splitOne(car, s)
	holds(t, "positive", out.PositiveWheel[0], 522381, 1e-12)
	holds(t, "negative", out.NegativeWheel[0], 270819, 1e-12)
	holds(t, "aero", out.Aero[0], 0.38*(2*39950+30*8000), 1e-12)
	holds(t, "distance", s.Distance(), 1000, 1e-15)
	up := splitOne(car, s.Between(0, 20))
	holds(t, "work up", up.PositiveWheel[0], 353181, 1e-12)
	holds(t, "kinetic energy gained", up.Kinetic[0], 0.5*1.04*1500*400, 1e-12)
}

// TestSteadySpeed: first principles, F = m g c + rho CdA v2/2 and Wh/km = (F/eta + P/v)/3.6 at 100 km/h; 1900 kg, rolling
// coefficient 0.009, drag area 0.6 m2, air 1.2041 kg/m3, auxiliaries 500 W, efficiency 0.88.
func TestSteadySpeed(t *testing.T) {
	car := one(map[string]float64{
		"Mass": 1900, "RollingForce": 1900 * 9.80665 * 0.009, "AeroFactor": 0.5 * 1.2041 * 0.6, "Auxiliaries": 500,
		"GearEfficiency": 0.88,
	})
	s := schedule.Steady(100 / 3.6)
	out := splitOne(car, s)
	holds(t, "wheel power", out.PositiveWheel[0]/3600, 12400.57130144033, 1e-12)
	holds(t, "consumption", totalOf(car, 1, s)[0]/wattHour/100, 145.91558297091282, 1e-12)
}

// TestGrade: first principles, 1900 kg on a rise of 6 in 100: the weight along the road is m g sin(atan 0.06) = 1115.951 N.
func TestGrade(t *testing.T) {
	angle := math.Atan(0.06)
	car := one(map[string]float64{
		"Mass": 1900, "GradeForce": 1900 * 9.80665 * math.Sin(angle), "RollingForce": 1900 * 9.80665 * 0.009 * math.Cos(angle),
	})
	out := splitOne(car, schedule.Steady(10))
	holds(t, "work uphill", out.Grade[0], 1115.9511924477154*36000, 1e-12)
	holds(t, "rolling", out.Rolling[0], 1900*9.80665*0.009*0.9982048454657787*36000, 1e-12)
	holds(t, "total", totalOf(car, 1, schedule.Steady(10))[0], out.Grade[0]+out.Rolling[0], 1e-12)
}

// TestBatteryCurrent: first principles, U = 350 V behind 0.08 ohm: I = (U - sqrt(U2 - 4 R P))/(2 R), at most U2/(4 R) = 382812.5 W.
func TestBatteryCurrent(t *testing.T) {
	standing := schedule.Steady(0)
	for _, c := range []struct{ power, current, heat float64 }{
		{100e3, 307.2988804385847, 7554.608153504607},
		{-60e3, -165.19127808983887, 60e3 - 57816.9473314436},
		{1, 0.00285714472303451, 0.08 * 0.00285714472303451 * 0.00285714472303451},
	} {
		car := one(map[string]float64{"Voltage": 350, "Resistance": 0.08, "Auxiliaries": c.power})
		out := splitOne(car, standing)
		holds(t, "chemical energy", totalOf(car, 1, standing)[0]/3600, 350*c.current, 1e-12)
		holds(t, "loss", out.Battery[0]/3600, c.heat, 1e-11)
	}
	for power, feasible := range map[float64]bool{382812: true, 382813: false} {
		car := one(map[string]float64{"Voltage": 350, "Resistance": 0.08, "Auxiliaries": power})
		if e := totalOf(car, 1, standing)[0]; (e == e) != feasible {
			t.Errorf("%v W of at most 382812.5: energy %v", power, e)
		}
	}
}

// TestNoResistance: R = 0 takes what is asked for, exactly.
func TestNoResistance(t *testing.T) {
	for _, power := range []float64{1, 1e-3, 123.456, 1e5, -7e4} {
		car := one(map[string]float64{"Voltage": 371.3, "Auxiliaries": power})
		if got := totalOf(car, 1, schedule.Steady(0))[0]; math.Abs(got-power*3600) > 4e-16*math.Abs(power*3600) {
			t.Errorf("%v W for an hour: %.17g J", power, got)
		}
	}
}
