package vehicle

import (
	"math"
	"testing"
)

// openDesign is a car of a worked example: parts, gross mass and what is resized.
func openDesign() values {
	return values{"kerb_mass": 1500, "gross_mass": 2000, "body_mass": 380, "chassis_mass": 320, "drive_unit_mass": 180, "tray_mass": 120, "pack_mass": 400}
}

// Relation as in Malen, Goebbels, Wohlecker (2013), numbers made up: 100 kg saved make
// 27 kg more superfluous; by gross mass, in closed form.
func TestSecondaryMass(t *testing.T) {
	x := newTrial(t, nil)
	x.car("before", "", openDesign())
	after := x.car("after", "before", values{"pack_mass": 300, "body_resizing": 0.35, "chassis_resizing": 0.5, "drive_unit_resizing": 0.6, "tray_resizing": 0.2, "machines": 1})
	delete(after.Given, "kerb_mass")
	x.car("kept", "before", values{"pack_mass": 300})
	for q, want := range (values{"secondary_gain": 0.2125, "primary_saving": 100, "secondary_saving": 26.98412698, "kerb_mass": 1500 - 126.984127}) {
		near(t, q, x.run("after." + q)["after."+q], want, 1e-9)
	}
	near(t, "nothing is resized", x.run("kept.kerb_mass")["kept.kerb_mass"], 1400, 0)
	// m_j = m_j0 (1 + g_j (M - M_0)/M_0) of all parts adds up to the same.
	change := -126.984127
	parts := 380*0.35 + 320*0.5 + 180*0.6 + 120*0.2
	near(t, "the parts' own changes", parts*change/2000, -26.98412698, 1e-7)
	if !math.IsNaN(secondary(-100, 1)) || !math.IsNaN(secondary(-100, 1.2)) {
		t.Error("resizing without end has a result")
	}
	near(t, "a gain is as a saving", secondary(100, 0.2125), 26.98412698, 1e-9)
}

// TestSecondaryMassOfDisplaced: what is displaced is no part of the body that follows,
// and machines that are kept are not resized.
func TestSecondaryMassOfDisplaced(t *testing.T) {
	x := newTrial(t, nil)
	x.node["after.displaced.floor"] = 80
	x.car("before", "", openDesign())
	after := x.car("after", "before", values{"body_resizing": 0.5})
	after.Displaced = []string{"after.displaced.floor"}
	delete(after.Given, "kerb_mass")
	gain := 0.5 * 300 / 2000.0
	near(t, "kerb_mass", x.run("after.kerb_mass")["after.kerb_mass"], 1500-80/(1-gain), 1e-12)
	kept := x.car("kept", "before", values{"drive_unit_resizing": 0.5, "pack_mass": 300})
	delete(kept.Given, "kerb_mass")
	near(t, "machines kept", x.run("kept.kerb_mass")["kept.kerb_mass"], 1400, 0)
}
