package vehicle

import (
	"math"

	"proofmass/model"
)

// pound in kg, exactly.
const pound = 0.45359237

// weightClassQuantities declares the inertia that a car has on a US dynamometer, which goes
// in steps: inertia alone, since rolling resistance comes from a coast-down at whatever mass
// the car had.
func weightClassQuantities(drives Drives) []quantity {
	const (
		table = "40 CFR 86.129, its upper part from memory; loaded weight to whole pounds first (our reading)"
		says  = "Inertia on the dynamometer goes in classes of weight for %s: a saving inside a class brings no inertia, one over its edge a whole step (label_range_by_mass is without classes)."
	)
	reading := func(name, prefix, meaning string) quantity {
		needs := kernelNeeds(prefix, []string{"test_mass"}, "usable_energy", "model_error_city", "model_error_highway", "model_error_own_factor", "label_factor")
		return quantity{name: name, unit: "km", limits: nonNegative, outputOnly: true,
			traits:  model.Traits{Question: "weight_classes", Beside: "label_range", Certified: true},
			meaning: meaning, source: "the same steps; " + table,
			ways: []way{{needs: needs, start: labelWith(drives.named("udds").road(), drives.named("hwfet").road())}}}
	}
	return []quantity{
		{name: "weight_classes", unit: "1", limits: share, absent: absent(0), traits: model.Traits{Words: map[string]float64{"no": 0, "yes": 1}},
			meaning: "whether inertia in the US tests goes in classes of weight (yes) or with the car's mass (no, left out)", source: "question"},
		{name: "equivalent_test_mass", unit: "kg", limits: positive, outputOnly: true, traits: model.Traits{Aside: true},
			meaning: "test mass in its class of weight", source: table, ways: []way{from1(equivalentMass, "test_mass").reads("test_mass in its class")}},
		{name: "inertia_mass", unit: "kg", limits: positive, outputOnly: true, step: true,
			traits:  model.Traits{Aside: true, Convention: model.Convention{Says: says, Where: []string{"weight_classes"}}},
			meaning: "mass that is accelerated in the US tests: the test mass, or that of its class", source: "weight_classes",
			ways: []way{{fit: inertiaMass, from: []string{"test_mass", "equivalent_test_mass", "weight_classes"},
				form: "test_mass, or equivalent_test_mass where weight_classes is yes"}}},
		reading("label_range_by_class", "equivalent_", "label range with inertia in classes of weight, whatever weight_classes says"),
		reading("label_range_by_mass", "", "label range with inertia that goes with the car's mass, whatever weight_classes says"),
	}
}

func inertiaMass(_ *System, c *car) plan {
	if !c.gives([]string{"weight_classes"}) {
		return plan{ok: true, needs: []string{"test_mass"}, eval: copyColumn}
	}
	return plan{ok: true, needs: []string{"test_mass", "equivalent_test_mass", "weight_classes"}, eval: from3(func(own, class, yes float64) float64 {
		if yes == 1 {
			return class
		}
		return own
	}, "", "", "").eval}
}

func equivalentMass(mass float64) float64 { return pound * testWeightClass(math.Round(mass/pound)) }

// testWeightClass is the equivalent test weight of a loaded weight in whole pounds: steps of
// 125 lb up to 4000, of 250 to 5500, of 500 above; a band begins half a step below its
// weight, but where the step changes.
func testWeightClass(pounds float64) float64 {
	switch {
	case pounds <= 3937:
		return math.Max(1000, 125*math.Floor((pounds+62)/125))
	case pounds <= 5375:
		return 250 * math.Floor((pounds+124)/250)
	}
	return 500 * math.Floor((pounds+249)/500)
}

// labelWith is the label range of a car whose mass in the kernel is another's.
func labelWith(udds, hwfet road) start {
	return onBench(func(b *bench, out, in [][]float64) {
		y, rest := out[0], in[len(kernel):]
		usable, city, highway, own, factor := rest[0], rest[1], rest[2], rest[3], rest[4]
		b.load(in)
		far := b.columns(1, len(y))[0]
		b.total(y, udds)
		b.total(far, hwfet)
		for i := range y {
			inCity := rangeOf(usable[i], y[i]/udds.schedule.Distance()*city[i]*own[i])
			onHighway := rangeOf(usable[i], far[i]/hwfet.schedule.Distance()*highway[i]*own[i])
			y[i] = combined(inCity, onHighway) * factor[i]
		}
	})
}
