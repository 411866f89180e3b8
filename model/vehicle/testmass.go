package vehicle

import "proofmass/model"

// Loads of the two test procedures [kg].
const (
	usLoad       = 136.077711 // 300 lb
	wltpLoad     = 25
	wltpLoadPart = 0.15 // of what may still be loaded, passenger cars
	wltpGoods    = 0.28 // vehicles for goods
)

func testMassQuantities() []quantity {
	return []quantity{
		{name: "test_mass", unit: "kg", limits: positive,
			traits: model.Traits{WholeCar: true, Beside: "built_mass", ByChange: true}, usual: usual{1000, 4400, practice, "lb for kg"},
			meaning: "mass in the US tests",
			source:  "kerb mass without driver + 300 lb (40 CFR 86.1803-01, from memory), no classes; or its base's filed one + change of kerb mass",
			ways:    []way{{fit: testMass, from: []string{"kerb_mass"}}}},
		{name: "wltp_test_mass", unit: "kg", limits: positive,
			meaning: "mass in the WLTP test",
			source:  "UN GTR 15, from memory: running order + 25 kg + 0.15 of what may still be loaded, 0.28 in a vehicle for goods",
			ways:    []way{{fit: wltpTestMass, from: []string{"kerb_mass", "gross_mass", "category"}}}},
		{name: "category", unit: "1", traits: model.Traits{Words: map[string]float64{"passenger": 0, "goods": 1}}, limits: share, absent: absent(0),
			meaning: "what the vehicle is for, which sets its load in the WLTP test: passenger (left out) or goods", source: "type approval: M1 or N1"},
		{name: "machines", unit: "1", traits: model.Traits{Words: map[string]float64{"kept": 0, "resized": 1}}, limits: share, absent: absent(0),
			meaning: "kept (left out): machines and pack resistance are those of the car at the root of the chain; resized: as of a car built for this one's mass",
			source:  "question"},
		{name: "built_mass", unit: "kg", limits: positive,
			meaning: "test mass of the car that machines and losses were built for",
			source:  "test mass of the car at the root of the based_on chain; its own where machines are resized",
			ways:    []way{{fit: builtMass, fixed: true}}},
	}
}

// testMass shifts a filed test mass of the base, or of what that is based on, by the
// change of kerb mass, so that its rounding to a class does not enter the change.
func testMass(s *System, c *car) plan {
	if base := s.testedBase(c); base != nil {
		test, _ := s.full(base, "test_mass")
		kerb, _ := s.full(base, "kerb_mass")
		driver := c.driver() - base.driver()
		return plan{ok: true, needs: []string{"=" + test, "kerb_mass", "=" + kerb},
			eval: from3(func(test, own, was float64) float64 { return test + (own - was - driver) }, "", "", "").eval}
	}
	driver := c.driver()
	return plan{ok: true, needs: []string{"kerb_mass"},
		eval: from1(func(kerb float64) float64 { return kerb - driver + usLoad }, "").eval}
}

// testedBase is the nearest car in the chain of bases that has a kerb mass and a test
// mass that goes back to a filed one, nil if there is none.
func (s *System) testedBase(c *car) *car {
	base := s.weighedBase(c)
	for above := base; above != nil; above = s.weighedBase(above) {
		if above.Given["test_mass"] != "" {
			return base
		}
	}
	return nil
}

func wltpTestMass(_ *System, c *car) plan {
	driver := DriverMass - c.driver() // running order has one
	return plan{ok: true, needs: []string{"kerb_mass", "gross_mass", "category"}, eval: from3(func(kerb, gross, goods float64) float64 {
		return wltpMass(kerb+driver, gross, goods)
	}, "", "", "").eval}
}

// wltpMass is the test mass of a car with mass in running order and gross mass [kg];
// goods is 1 for a vehicle for goods, else 0.
func wltpMass(runningOrder, gross, goods float64) float64 {
	unladen := runningOrder + wltpLoad
	part := wltpLoadPart + float64(goods*(wltpGoods-wltpLoadPart))
	return unladen + float64(part*(gross-unladen))
}

func builtMass(_ *System, c *car) plan {
	if c.root == nil {
		return plan{ok: true, needs: []string{"test_mass"}, eval: copyColumn}
	}
	if c.Given["machines"] == "" { // asks for no test mass of its own
		return plan{ok: true, needs: []string{rootMark + "built_mass"}, eval: copyColumn}
	}
	return plan{ok: true, needs: []string{rootMark + "built_mass", "test_mass", "machines"}, eval: from3(func(root, own, resized float64) float64 {
		return root + float64(resized*(own-root))
	}, "", "", "").eval}
}
