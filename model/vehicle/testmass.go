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
		{name: "test_mass", cause: byMass, unit: "kg", limits: positive,
			traits: model.Traits{WholeCar: true, Beside: "built_mass", ByChange: true}, usual: usual{1000, 4400, practice, "lb for kg"},
			meaning: "mass in the US tests",
			source:  "kerb mass without driver + 300 lb (40 CFR 86.1803-01, from memory), no classes; or its base's filed one + change of kerb mass",
			ways:    []way{{fit: testMass, from: []string{"kerb_mass"}}}},
		{name: "wltp_test_mass", cause: byMass, unit: "kg", limits: positive,
			meaning: "mass in the WLTP test",
			source:  "UN GTR 15, from memory: running order + 25 kg + 0.15 of what may still be loaded, 0.28 in a vehicle for goods; or its base's filed one + what that makes of the change",
			ways:    []way{{fit: wltpTestMass, from: []string{"kerb_mass", "gross_mass", "category"}}}},
		{name: "category", unit: "1", traits: model.Traits{Words: map[string]float64{"passenger": 0, "goods": 1}}, limits: share, absent: absent(0),
			meaning: "what the vehicle is for, which sets its load in the WLTP test: passenger (left out) or goods", source: "type approval: M1 or N1"},
		{name: "machines", unit: "1", traits: model.Traits{Words: map[string]float64{"kept": 0, "resized": 1}}, limits: share, absent: absent(0),
			meaning: "kept (left out): machines and pack resistance are those of the car at the root of the chain; resized: as of a car built for this one's mass",
			source:  "question"},
		{name: "built_mass", unit: "kg", limits: positive,
			traits: model.Traits{Convention: model.Convention{OfVariants: true, Unless: []string{"machines"},
				Says: "Machines of %s are kept as built for the car at the root of the chain, whatever the mass (`machines: resized` sizes them anew, and a lighter car then gains more)."}},
			meaning: "test mass of the car that machines and losses were built for",
			source:  "test mass of the car at the root of the based_on chain; its own where machines are resized",
			ways:    []way{{fit: builtMass, fixed: true}}},
	}
}

// testMass shifts a filed test mass of the base, or of what that is based on, by the
// change of kerb mass, so that its rounding to a class does not enter the change.
func testMass(s *System, c *car) plan {
	if base := s.testedBase(c, "test_mass"); base != nil {
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

// testedBase is the nearest car in the chain of bases that has a kerb mass and a mass in
// that test that goes back to a filed one, nil if there is none.
func (s *System) testedBase(c *car, test string) *car {
	base := s.weighedBase(c)
	for above := base; above != nil; above = s.weighedBase(above) {
		if above.Given[test] != "" {
			return base
		}
	}
	return nil
}

func wltpTestMass(s *System, c *car) plan {
	if base := s.testedBase(c, "wltp_test_mass"); base != nil && base.Given["category"] == c.Given["category"] {
		return s.wltpByChange(c, base)
	}
	driver := DriverMass - c.driver() // running order has one
	return plan{ok: true, needs: []string{"kerb_mass", "gross_mass", "category"}, eval: from3(func(kerb, gross, goods float64) float64 {
		return wltpMass(kerb+driver, gross, goods)
	}, "", "", "").eval}
}

// wltpByChange shifts the base's mass in the WLTP test, which goes back to a filed one, by
// what the formula makes of the change of kerb mass, and of gross mass where both state it.
func (s *System) wltpByChange(c, base *car) plan {
	test, _ := s.full(base, "wltp_test_mass")
	kerb, _ := s.full(base, "kerb_mass")
	driver := c.driver() - base.driver()
	shifted := func(test, own, was, goods float64) float64 {
		return test + float64((1-wltpPart(goods))*(own-was-driver))
	}
	needs := []string{"=" + test, "kerb_mass", "=" + kerb, "category"}
	own, was := c.Given["gross_mass"], base.Given["gross_mass"]
	if own == was || own == "" || was == "" {
		return plan{ok: true, needs: needs, eval: from4(shifted, "", "", "", "").eval}
	}
	return plan{ok: true, needs: append(needs, "="+own, "="+was), eval: func(out, in [][]float64) {
		for i := range out[0] {
			goods := in[3][i]
			out[0][i] = shifted(in[0][i], in[1][i], in[2][i], goods) + float64(wltpPart(goods)*(in[4][i]-in[5][i]))
		}
	}}
}

// wltpMass is the test mass of a car with mass in running order and gross mass [kg];
// goods is 1 for a vehicle for goods, else 0.
func wltpMass(runningOrder, gross, goods float64) float64 {
	unladen := runningOrder + wltpLoad
	return unladen + float64(wltpPart(goods)*(gross-unladen))
}

// wltpPart is the part of what may still be loaded that is carried in the test.
func wltpPart(goods float64) float64 {
	return wltpLoadPart + float64(goods*(wltpGoods-wltpLoadPart))
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
