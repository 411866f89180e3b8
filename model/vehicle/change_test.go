package vehicle

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// weighed is a car given at the top, with pack and losses by default.
func weighed() values {
	return values{"kerb_mass": 1950, "pack_mass": 480, "gross_mass": 2400, "drag_area": 0.6, "rolling_coefficient": 0.009, "usable_energy": 2.5e8, "body_mass": 310}
}

// TestKerbMassByChange: root's kerb mass - old pack + new pack - displaced + added, and
// whatever else changed.
func TestKerbMassByChange(t *testing.T) {
	x := newTrial(t, nil)
	x.car("boxed", "", weighed())
	x.node["bonded.displaced.floor"], x.node["bonded.displaced.beam"], x.node["bonded.added.sill"] = 20, 11, 4
	c := x.car("bonded", "boxed", values{"pack_mass": 430, "body_mass": 300})
	c.Displaced, c.Added = []string{"bonded.displaced.floor", "bonded.displaced.beam"}, []string{"bonded.added.sill"}
	delete(c.Given, "kerb_mass")
	found := x.run("bonded.kerb_mass", "bonded.kerb_mass_change", "bonded.kerb_mass_difference", "bonded.displaced_mass", "bonded.added_mass",
		"bonded.built_mass", "bonded.test_mass_difference", "bonded.net_pack_mass", "bonded.kerb_remainder", "boxed.kerb_remainder")
	for q, want := range map[string]float64{
		"bonded.kerb_mass": 1950 - 50 - 10 - 31 + 4, "bonded.kerb_mass_difference": -87, "bonded.kerb_mass_change": -87.0 / 1950,
		"bonded.displaced_mass": 31, "bonded.added_mass": 4, "bonded.built_mass": 1950 + usLoad, "bonded.test_mass_difference": -87,
		"bonded.net_pack_mass": 403, "boxed.kerb_remainder": 1160, "bonded.kerb_remainder": 1160, // what stayed, stayed
	} {
		near(t, q, found[q], want, 1e-12)
	}
}

// TestNoChange: a candidate that states the pack it already has gains exactly nothing,
// though its kerb mass, losses and road load are computed anew.
func TestNoChange(t *testing.T) {
	for _, basis := range []string{"us_curb", "eu_running_order"} {
		x := newTrial(t, values{"model_error_city": 1.037, "coastdown_mass_share": 0.83, "coastdown_f1_mass_share": 0.31})
		base := weighed()
		base["test_mass"] = 2155.3
		base["coastdown_f0"], base["coastdown_f1"], base["coastdown_f2"] = 131.7, 2.13, 0.411
		base["steady_speed"] = 31
		x.car("boxed", "", base).MassBasis = basis
		x.node["same.displaced.none"] = 0
		c := x.car("same", "boxed", values{"pack_mass": 480})
		c.Displaced, c.MassBasis = []string{"same.displaced.none"}, basis
		delete(c.Given, "kerb_mass")
		delete(c.Given, "test_mass")
		s := x.system()
		compared := 0
		var wanted []string
		for _, name := range s.Outputs("same") {
			if _, err := s.Rule(name + differenceSuffix); err == nil {
				wanted = append(wanted, name+differenceSuffix)
			}
		}
		for name, d := range x.run(wanted...) {
			compared++
			if d != 0 {
				t.Errorf("%s = %g from no change", name, d)
			}
		}
		if got := x.run("same.range_change_from_mass_alone")["same.range_change_from_mass_alone"]; got != 0 {
			t.Errorf("range_change_from_mass_alone = %g from no change of mass", got)
		}
		if compared < 140 {
			t.Errorf("only %d quantities compared", compared)
		}
	}
}

// TestKerbMassOfChangesThatCannotBeWeighed: what a candidate states of its pack must
// show in its kerb mass, or there is none.
func TestKerbMassOfChangesThatCannotBeWeighed(t *testing.T) {
	x := newTrial(t, nil)
	x.car("plain", "", values{"kerb_mass": 1500})
	c := x.car("bonded", "plain", values{"cell_mass": 0.07})
	delete(c.Given, "kerb_mass")
	if _, err := x.system().Rule("bonded.kerb_mass"); err == nil {
		t.Error("the new cells' mass is lost in bonded.kerb_mass")
	}
	x = newTrial(t, nil)
	x.car("plain", "", values{"kerb_mass": 1500})
	c = x.car("bonded", "plain", values{"pack_mass": 300})
	delete(c.Given, "kerb_mass")
	_, err := x.system().Rule("bonded.kerb_mass")
	if err == nil || !strings.Contains(err.Error(), "plain.pack_mass") {
		t.Errorf("error %v, want one that asks for plain.pack_mass", err)
	}
}

// TestFiledTestMass: a filed test mass is shifted by the change of kerb mass.
func TestFiledTestMass(t *testing.T) {
	x := newTrial(t, nil)
	base := weighed()
	base["test_mass"] = 2155.3
	x.car("boxed", "", base)
	c := x.car("light", "boxed", values{"kerb_mass": 1850})
	delete(c.Given, "test_mass")
	near(t, "light.test_mass", x.run("light.test_mass")["light.test_mass"], 2055.3, 1e-14)
}

// TestMassBasis: the driver counts once, whichever basis the masses are on.
func TestMassBasis(t *testing.T) {
	x := newTrial(t, nil)
	us, eu := weighed(), weighed()
	eu["kerb_mass"] += 75
	x.car("us", "", us)
	x.car("eu", "", eu).MassBasis = "eu_running_order"
	x.car("mixed", "us", values{"pack_mass": 480}).MassBasis = "eu_running_order"
	delete(x.cars[2].Given, "kerb_mass")
	parts := subsystemMasses()
	x.car("parts", "", parts).MassBasis = "eu_running_order"
	found := x.run("us.test_mass", "eu.test_mass", "us.wltp_test_mass", "eu.wltp_test_mass", "mixed.kerb_mass", "mixed.test_mass", "parts.kerb_mass", "parts.test_mass")
	for name, want := range map[string]float64{"us.test_mass": 1950 + usLoad, "eu.test_mass": 1950 + usLoad, "us.wltp_test_mass": 2050 + 0.15*350, "eu.wltp_test_mass": 2050 + 0.15*350,
		"mixed.kerb_mass": 2025, "mixed.test_mass": 1950 + usLoad, "parts.kerb_mass": 1575, "parts.test_mass": 1500 + usLoad} {
		near(t, name, found[name], want, 1e-14)
	}
}

func TestMadeFrom(t *testing.T) {
	for q, parts := range map[string][]string{
		"kerb_mass":       {"displaced", "added", "pack_mass", "cell_mass", "body_mass", "windscreen_area", "filler_density"},
		"test_mass":       {"kerb_mass", "displaced", "pack_specific_energy"},
		"pack_mass":       {"cell_charge", "non_cell_ratio", "face_sheet_thickness", "layout"},
		"pack_energy":     {"cell_charge", "cell_rows", "pack_specific_energy"},
		"parallel":        {"cell_count", "cell_rows"},
		"cell_count":      {"series", "parallel", "cell_rows"},
		"pack_resistance": {"series", "cell_resistance", "outside_temperature", "built_mass"},
		"usable_energy":   {"pack_energy", "usable_share"},
	} {
		for _, part := range parts {
			if !slices.Contains(BuiltIn().MadeFrom(q), part) {
				t.Errorf("%s is not made from %s", q, part)
			}
		}
	}
	for q, parts := range map[string][]string{
		"kerb_mass": {"kerb_mass", "test_mass", "drag_area"}, "built_mass": {"kerb_mass", "test_mass"}, "torque_loss": {"kerb_mass"}, "coastdown_mass": {"test_mass"},
		"cell_mass": {"cell_mass", "pack_mass", "cell_charge"}, "usable_energy": {"pack_mass"}, "parallel": {"series"}, "series": {"cell_count"},
	} {
		for _, part := range parts {
			if slices.Contains(BuiltIn().MadeFrom(q), part) {
				t.Errorf("%s is made from %s", q, part)
			}
		}
	}
	if got := BuiltIn().MadeFrom("colour"); len(got) != 0 {
		t.Errorf("made from %v", got)
	}
}

// TestOwnError: the baseline has none; a certified car has its own draw.
func TestOwnError(t *testing.T) {
	x := newTrial(t, nil)
	x.car("boxed", "", weighed())
	x.car("physics", "boxed", nil)
	x.car("filed", "boxed", nil).Certified = true
	x.car("stated", "boxed", values{"model_error_own": 0.1})
	s := x.system()
	for name, want := range map[string]string{"physics": "model_error_own", "filed": "filed.model_error_own"} {
		rule, err := s.Rule(name + ".model_error_own_factor")
		if err != nil || !slices.Equal(rule.Needs, []string{want}) {
			t.Errorf("%s needs %v, %v; want %s", name, rule.Needs, err, want)
		}
	}
	if got := BuiltIn().DefaultText("filed.model_error_own"); got != certifiedOwnError {
		t.Errorf("default %q", got)
	}
	found := x.run("boxed.model_error_own_factor", "physics.label_range_change", "stated.city_range_change", "filed.model_error_own_factor")
	near(t, "boxed", found["boxed.model_error_own_factor"], 1, 0)
	near(t, "filed", found["filed.model_error_own_factor"], 1, 0)
	near(t, "stated", found["stated.city_range_change"], 1/1.1051709180756477-1, 1e-12)
	if got := found["physics.label_range_change"]; got != 0 {
		t.Errorf("physics: %g", got)
	}
}

// TestModelError: two standard normals make factors with the correlation stated and the
// spread that the losses leave of the total, by the formula of a bivariate normal.
func TestModelError(t *testing.T) {
	for _, x := range []struct{ z1, z2, city, hwy float64 }{
		{0, 0, 1, 1}, {1, 0, 1.078962574, 1.034170856}, {0, 1, 1, 1.034873148}, {-1, -1, 0.9268162066, 0.9343736601},
	} {
		near(t, "city", cityError(x.z1, math.Hypot(0.076, lossesCity), 2, 2200), x.city, 1e-9)
		near(t, "highway", highwayError(x.z1, x.z2, math.Hypot(0.048, lossesHighway), 0.7), x.hwy, 1e-9)
	}
	near(t, "less than the losses cause", cityError(3, 0.01, 2, 2200), 1, 0)
	// of a car built for half as much again the total is 1.5 squared times as large
	near(t, "heavier", cityError(1, 0.04, 2, 3000), math.Exp(math.Sqrt(math.Pow(0.04*900/484, 2)-lossesCity*lossesCity)), 1e-12)
	near(t, "beyond the heaviest", cityError(1, 0.04, 2, 4000), cityError(1, 0.04, 2, 3000), 0)
	near(t, "below the lightest", cityError(1, 0.08, 2, 900), cityError(1, 0.08, 2, 1500), 0)
}

// TestDrivenBoth: a chain of cars has one drive where none is stated, by the mass it was
// built for; what is stated stays.
func TestDrivenBoth(t *testing.T) {
	near(t, "chance at an even mass", chanceOfBoth(bothHalf), 0.5, 1e-12)
	if light, heavy := chanceOfBoth(1600), chanceOfBoth(2700); light > 0.01 || heavy < 0.98 || light <= 0 || heavy >= 1 {
		t.Errorf("chances %g and %g", light, heavy)
	}
	for _, x := range []struct{ draw, mass, want float64 }{{0.49, bothHalf, 0}, {0.51, bothHalf, 1}, {0.001, 2700, 0}, {0.02, 2700, 1}, {0.99, 1600, 0}} {
		if got := drivenBoth(x.draw, x.mass); got != x.want {
			t.Errorf("draw %g, %g kg: %g axles more, want %g", x.draw, x.mass, got, x.want)
		}
	}
	x := newTrial(t, nil)
	x.car("line", "", values{"test_mass": 2400})
	x.car("lighter", "line", values{"test_mass": 1500})
	x.car("other", "", values{"test_mass": 1500})
	x.car("stated", "line", values{"all_wheel_drive": 0})
	s := x.system()
	for name, want := range map[string]string{"lighter.all_wheel_drive": "line.all_wheel_drive", "line.all_wheel_drive": "line.drive_draw", "other.all_wheel_drive": "other.drive_draw",
		"stated.all_wheel_drive": "stated.all_wheel_drive", "lighter.model_error_city": "line.model_error_city"} {
		rule, err := s.Rule(name)
		if name == want {
			if err == nil {
				t.Errorf("%s: a rule makes what is stated", name)
			}
		} else if err != nil || !slices.Contains(rule.Needs, want) {
			t.Errorf("%s needs %v, %v; want %s", name, rule.Needs, err, want)
		}
	}
	found := x.run("line.all_wheel_drive", "lighter.all_wheel_drive", "other.all_wheel_drive", "stated.idle_loss", "line.idle_loss")
	for name, want := range map[string]float64{"line.all_wheel_drive": 1, "lighter.all_wheel_drive": 1, "other.all_wheel_drive": 0, "stated.idle_loss": 0.122 * 2400, "line.idle_loss": 0.122 * 2400 * 1.6} {
		near(t, name, found[name], want, 1e-12)
	}
}

// TestStringsOfANewCount: a new count keeps the cells in series and changes the strings.
func TestStringsOfANewCount(t *testing.T) {
	x := newTrial(t, nil)
	x.car("boxed", "", values{"series": 101, "parallel": 20, "cell_voltage": 3.6})
	x.car("bonded", "boxed", values{"cell_count": 2222})
	x.car("longer", "boxed", values{"series": 110})
	found := x.run("bonded.parallel", "bonded.pack_voltage", "longer.cell_count", "longer.pack_voltage")
	for name, want := range map[string]float64{"bonded.parallel": 22, "bonded.pack_voltage": 363.6, "longer.cell_count": 2200, "longer.pack_voltage": 396} {
		near(t, name, found[name], want, 1e-14)
	}
}
