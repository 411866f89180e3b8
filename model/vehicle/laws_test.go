package vehicle

import (
	"flag"
	"testing"

	"pgregory.net/rapid"

	"proofmass/model/unit"
)

// Each check makes a system of cars anew: 30 are enough beside the tests of single cases.
func init() {
	if err := flag.Set("rapid.checks", "30"); err != nil {
		panic(err)
	}
}

// anyCar draws the numbers of a car, far beyond usual ones, SI.
func anyCar(r *rapid.T) values {
	draw := func(label string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(r, label) }
	return values{
		"kerb_mass": draw("kerb_mass", 700, 4000), "drag_area": draw("drag_area", 0.3, 2), "rolling_coefficient": draw("rolling_coefficient", 0.004, 0.02),
		"series": 100, "parallel": float64(rapid.IntRange(4, 60).Draw(r, "parallel")), "cell_charge": draw("cell_charge", 5e3, 6e4), "cell_voltage": draw("cell_voltage", 3, 3.9),
		"cell_resistance": draw("cell_resistance", 0, 0.003), "usable_share": draw("usable_share", 0.5, 1), "outside_temperature": draw("outside_temperature", 250, 315),
	}
}

// TestMoreMassNeverSavesEnergy: on a level road and without recovery a heavier car takes
// no less, whatever the car.
func TestMoreMassNeverSavesEnergy(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		own := anyCar(r)
		own["regen_share"], own["built_mass"], own["all_wheel_drive"] = 0, 2000, 0
		more := rapid.Float64Range(0, 500).Draw(r, "more")
		x := newTrial(t, nil)
		x.car("light", "", own)
		x.car("heavy", "light", values{"kerb_mass": own["kerb_mass"] + more})
		found := x.run("light.udds_total", "heavy.udds_total")
		if found["heavy.udds_total"] < found["light.udds_total"] {
			r.Fatalf("%g kg more: %v", more, found)
		}
	})
}

// TestMoreCellsNeverShortenRange: at a fixed cell more strings, with their mass, carry the
// car farther, up to a pack of some 1000 kg. Beyond, it need not: the motor's loss goes
// with the square of its torque, and a car of 700 kg with 10 t of poor cells on poor
// tyres goes farther with fewer.
func TestMoreCellsNeverShortenRange(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		own := anyCar(r)
		own["kerb_mass"], own["parallel"], own["cell_charge"] = 1200+own["kerb_mass"]/4, float64(rapid.IntRange(4, 20).Draw(r, "strings")), 5e3+own["cell_charge"]/6
		own["machines"], own["all_wheel_drive"], own["cell_mass"] = 0, 0, own["cell_charge"]*own["cell_voltage"]/(rapid.Float64Range(120, 330).Draw(r, "Wh/kg")*3600)
		own["non_cell_ratio"] = rapid.Float64Range(0.1, 1).Draw(r, "non_cell_ratio")
		x := newTrial(t, nil)
		x.car("few", "", own)
		many := x.car("many", "few", values{"parallel": own["parallel"] + 1, "non_cell_ratio": own["non_cell_ratio"]})
		delete(many.Given, "kerb_mass")
		found := x.run("few.combined_range", "many.combined_range")
		if !(found["many.combined_range"] >= found["few.combined_range"]) {
			r.Fatalf("one string more: %v", found)
		}
	})
}

// TestSplitAddsUp: for any car, what is told of where the energy goes is the whole of it.
func TestSplitAddsUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		x := newTrial(t, nil)
		own := anyCar(r)
		own["all_wheel_drive"] = 0
		x.car("car", "", own)
		for _, drive := range []string{"udds", "us06"} {
			var names []string
			for _, s := range sinks[:10] {
				names = append(names, "car."+drive+"_"+s.name)
			}
			sum, found := 0.0, x.run(append(names, "car."+drive+"_total")...)
			for _, name := range names {
				sum += found[name]
			}
			if total := found["car."+drive+"_total"]; !(sum-total < 1e-9*total && total-sum < 1e-9*total) && total == total {
				r.Fatalf("%s: the parts are %g, the whole %g", drive, sum, total)
			}
		}
	})
}

// TestSpellingOfUnits: the same amount in another spelling of its unit has the same bits.
func TestSpellingOfUnits(t *testing.T) {
	pairs := [][2]string{{"Wh/kg", "kWh/t"}, {"N m", "m N"}, {"kg/m3", "kg m-3"}, {"W/(m K)", "W m-1 K-1"}, {"N s2/m2", "N/(m/s)2"}, {"Wh/km", "kWh/1000 km"}}
	rapid.Check(t, func(r *rapid.T) {
		p := rapid.SampledFrom(pairs).Draw(r, "units")
		x := rapid.Float64Range(-1e6, 1e6).Draw(r, "x")
		a, err := unit.Parse(p[0])
		if err != nil {
			r.Fatal(err)
		}
		b, err := unit.Parse(p[1])
		if err != nil {
			r.Fatal(err)
		}
		if a.ToSI(x) != b.ToSI(x) {
			r.Fatalf("%g %s is %v, %s %v", x, p[0], a.ToSI(x), p[1], b.ToSI(x))
		}
	})
}

// TestMassAloneHasItsMost: mass alone never gives more than 1/(1 - x) - 1 of range.
func TestMassAloneHasItsMost(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		own := anyCar(r)
		own["all_wheel_drive"] = 0
		saved := rapid.Float64Range(0, 0.2).Draw(r, "saved")
		x := newTrial(t, nil)
		x.car("before", "", own)
		x.car("after", "before", values{"kerb_mass": own["kerb_mass"] * (1 - saved)})
		found := x.run("after.range_change_from_mass_alone", "before.test_mass", "after.test_mass")
		share := 1 - found["after.test_mass"]/found["before.test_mass"]
		if gain := found["after.range_change_from_mass_alone"]; gain > 1/(1-share)-1+1e-9 {
			r.Fatalf("%g %% of mass gives %g %% of range", 100*share, 100*gain)
		}
	})
}
