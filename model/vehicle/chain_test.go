package vehicle

import "testing"

// TestChainsCountFromTheBase: each car counts its masses from the car that it is based
// on, at any depth, not from the first of the chain.
func TestChainsCountFromTheBase(t *testing.T) {
	x := newTrial(t, nil)
	x.car("line", "", values{"kerb_mass": 1900, "pack_mass": 450})
	x.car("heavy_trim", "line", values{"kerb_mass": 2000})
	delete(x.car("new_pack", "heavy_trim", values{"pack_mass": 400}).Given, "kerb_mass")
	delete(x.car("newer_pack", "new_pack", values{"pack_mass": 380}).Given, "kerb_mass")
	found := x.run("new_pack.kerb_mass", "newer_pack.kerb_mass", "new_pack.test_mass")
	near(t, "new_pack.kerb_mass", found["new_pack.kerb_mass"], 1950, 0)
	near(t, "newer_pack.kerb_mass", found["newer_pack.kerb_mass"], 1930, 0)
	near(t, "new_pack.test_mass", found["new_pack.test_mass"], 1950+usLoad, 1e-15)
}

// TestChainOfItems: what the base has displaced and added is in its kerb mass already.
func TestChainOfItems(t *testing.T) {
	x := newTrial(t, nil)
	x.node["lean.displaced.floor"], x.node["leaner.displaced.rail"], x.node["lean.added.frame"] = 20, 3, 5
	x.car("line", "", values{"kerb_mass": 1900, "pack_mass": 450})
	lean := x.car("lean", "line", values{"kerb_mass": 1850})
	lean.Displaced, lean.Added = []string{"lean.displaced.floor"}, []string{"lean.added.frame"}
	leaner := x.car("leaner", "lean", nil)
	leaner.Displaced, leaner.Added = []string{"lean.displaced.floor", "leaner.displaced.rail"}, []string{"lean.added.frame"}
	delete(leaner.Given, "kerb_mass")
	same := x.car("same", "lean", nil)
	same.Displaced, same.Added = []string{"lean.displaced.floor"}, []string{"lean.added.frame"}
	delete(same.Given, "kerb_mass")
	found := x.run("leaner.kerb_mass", "same.kerb_mass", "leaner.displaced_mass")
	near(t, "leaner.kerb_mass", found["leaner.kerb_mass"], 1847, 1e-15)
	near(t, "same.kerb_mass", found["same.kerb_mass"], 1850, 0)
	near(t, "leaner.displaced_mass", found["leaner.displaced_mass"], 23, 0)
}

// TestChainOfTestMasses: a filed test mass in the middle of a chain is what the cars
// based on it shift; one at its root is shifted by all changes since.
func TestChainOfTestMasses(t *testing.T) {
	x := newTrial(t, nil)
	x.car("line", "", values{"kerb_mass": 1900, "pack_mass": 450, "test_mass": 2041.2})
	delete(x.car("heavy_trim", "line", values{"kerb_mass": 2000}).Given, "test_mass")
	light := x.car("light", "heavy_trim", values{"pack_mass": 400})
	delete(light.Given, "kerb_mass")
	delete(light.Given, "test_mass")
	x.car("filed", "light", values{"test_mass": 2100, "kerb_mass": 1955})
	last := x.car("last", "filed", values{"pack_mass": 390})
	delete(last.Given, "kerb_mass")
	delete(last.Given, "test_mass")
	found := x.run("heavy_trim.test_mass", "light.test_mass", "last.test_mass", "last.kerb_mass")
	near(t, "heavy_trim.test_mass", found["heavy_trim.test_mass"], 2141.2, 1e-14)
	near(t, "light.test_mass", found["light.test_mass"], 2091.2, 1e-14)
	near(t, "last.kerb_mass", found["last.kerb_mass"], 1945, 1e-14)
	near(t, "last.test_mass", found["last.test_mass"], 2090, 1e-14)
}

// TestFiledWLTPTestMass: a filed mass in the WLTP test is shifted by what the formula makes of
// the change, so that what the formula misses of the filed one does not pass for a change. The
// category that a car states is its own procedure's, so a mass filed for another is no base.
func TestFiledWLTPTestMass(t *testing.T) {
	for _, gross := range []float64{0, 2300} { // the shift needs none
		x := newTrial(t, nil)
		line := values{"kerb_mass": 1900, "pack_mass": 450, "wltp_test_mass": 2150}
		if gross > 0 {
			line["gross_mass"] = gross
		}
		x.car("line", "", line)
		derived := func(name, base string, own values) {
			c := x.car(name, base, own)
			delete(c.Given, "kerb_mass")
			delete(c.Given, "wltp_test_mass")
		}
		derived("light", "line", values{"pack_mass": 400})
		derived("lighter", "light", values{"pack_mass": 390})
		x.cars[len(x.cars)-1].MassBasis = "eu_running_order"
		asked := []string{"light.wltp_test_mass", "lighter.wltp_test_mass"}
		if gross > 0 {
			derived("loaded", "light", values{"gross_mass": gross + 100})
			derived("van", "light", values{"category": 1})
			asked = append(asked, "loaded.wltp_test_mass", "van.wltp_test_mass")
		}
		found := x.run(asked...)
		near(t, "light", found["light.wltp_test_mass"], 2150-0.85*50, 1e-14)
		near(t, "lighter", found["lighter.wltp_test_mass"], 2150-0.85*60, 1e-14)
		if gross > 0 {
			near(t, "loaded", found["loaded.wltp_test_mass"], 2150-0.85*50+0.15*100, 1e-14)
			near(t, "van", found["van.wltp_test_mass"], 1950+0.28*(gross-1950), 1e-14)
		}
	}
}

// TestChainWithoutAMass: a link without a kerb mass of its own is passed over.
func TestChainWithoutAMass(t *testing.T) {
	x := newTrial(t, nil)
	x.car("line", "", values{"kerb_mass": 1900, "pack_mass": 450})
	middle := x.car("middle", "line", values{"pack_energy": 85 * 3.6e6})
	delete(middle.Given, "kerb_mass")
	delete(middle.Given, "pack_mass")
	x.car("end", "middle", values{"pack_mass": 430})
	near(t, "end.kerb_mass", x.run("end.kerb_mass")["end.kerb_mass"], 1880, 0)
}

// TestCoastdownInAChain: a coast-down stated in the middle of a chain goes with mass in
// the cars based on it, as it does between two cars alone.
func TestCoastdownInAChain(t *testing.T) {
	road := values{"kerb_mass": 2000, "coastdown_f0": 150, "coastdown_f1": 1.2, "coastdown_f2": 0.4}
	gain := func(chain bool) float64 {
		x := newTrial(t, values{"pack_energy": 78 * 3.6e6, "usable_share": 0.95})
		base := ""
		if chain {
			x.car("line", "", values{"kerb_mass": 1900})
			base = "line"
		}
		x.car("filed", base, road)
		x.car("light", "filed", values{"kerb_mass": 1800})
		found := x.run("light.combined_range", "filed.combined_range", "light.coastdown_mass", "light.built_mass", "filed.built_mass")
		near(t, "light.coastdown_mass", found["light.coastdown_mass"], 2000+usLoad, 1e-15)
		near(t, "light.built_mass", found["light.built_mass"], found["filed.built_mass"], 0)
		return found["light.combined_range"]/found["filed.combined_range"] - 1
	}
	alone, chained := gain(false), gain(true)
	if alone < 0.03 || chained < 0.03 {
		t.Errorf("a kerb mass 10 %% less gains %.1f %% alone, %.1f %% in a chain; want above 3", 100*alone, 100*chained)
	}
	near(t, "gain in a chain", chained, alone, 0.05) // losses go with the mass of the line's first car
}

// TestCoastdownTakenFromAnotherCar: coefficients that a second base brings were driven
// at that car's mass.
func TestCoastdownTakenFromAnotherCar(t *testing.T) {
	x := newTrial(t, nil)
	x.car("line", "", values{"kerb_mass": 1900})
	x.car("sister", "", values{"kerb_mass": 2000, "coastdown_f0": 150, "coastdown_f1": 1.2, "coastdown_f2": 0.4})
	c := x.car("mixed", "line", nil)
	for _, q := range coastDown {
		c.Given[q] = "sister." + q
	}
	near(t, "mixed.coastdown_mass", x.run("mixed.coastdown_mass")["mixed.coastdown_mass"], 2000+usLoad, 1e-15)
}
