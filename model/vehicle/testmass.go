package vehicle

// Loads of the two test procedures [kg].
const (
	usLoad       = 136.077711 // 300 lb
	wltpLoad     = 25
	wltpLoadPart = 0.15 // of what may still be loaded, passenger cars
)

func testMassQuantities() []quantity {
	return []quantity{
		{name: "test_mass", unit: "kg", limits: positive,
			meaning: "mass in the US tests",
			source:  "kerb mass without driver + 300 lb (40 CFR 86.1803-01, from memory), no classes; or the root's filed one + change of kerb mass",
			ways:    []way{{fit: testMass, from: []string{"kerb_mass"}}}},
		{name: "wltp_test_mass", unit: "kg", limits: positive,
			meaning: "mass in the WLTP test",
			source:  "UN GTR 15, from memory: running order + 25 kg + 0.15 of what may still be loaded",
			ways:    []way{{fit: wltpTestMass, from: []string{"kerb_mass", "gross_mass"}}}},
		{name: "built_mass", unit: "kg", limits: positive,
			meaning: "test mass of the car that machines and losses were built for",
			source:  "test mass of the car at the root of the based_on chain",
			ways:    []way{{fit: builtMass, fixed: true}}},
	}
}

// testMass shifts a filed test mass of the root by the change of kerb mass, so that
// its rounding to a class does not enter the change.
func testMass(_ *System, c *car) plan {
	if c.root != nil && c.root.Given["test_mass"] != "" {
		driver := c.driver() - c.root.driver()
		return plan{ok: true, needs: []string{rootMark + "test_mass", "kerb_mass", rootMark + "kerb_mass"},
			eval: from3(func(test, own, root float64) float64 { return test + (own - root - driver) }, "", "", "").eval}
	}
	driver := c.driver()
	return plan{ok: true, needs: []string{"kerb_mass"},
		eval: from1(func(kerb float64) float64 { return kerb - driver + usLoad }, "").eval}
}

func wltpTestMass(_ *System, c *car) plan {
	driver := driverMass - c.driver() // running order has one
	return plan{ok: true, needs: []string{"kerb_mass", "gross_mass"}, eval: from2(func(kerb, gross float64) float64 {
		return wltpMass(kerb+driver, gross)
	}, "", "").eval}
}

// wltpMass is the test mass of a car with mass in running order and gross mass [kg].
func wltpMass(runningOrder, gross float64) float64 {
	unladen := runningOrder + wltpLoad
	return unladen + float64(wltpLoadPart*(gross-unladen))
}

func builtMass(_ *System, c *car) plan {
	need := "test_mass"
	if c.root != nil {
		need = rootMark + "built_mass"
	}
	return plan{ok: true, needs: []string{need}, eval: copyColumn}
}
