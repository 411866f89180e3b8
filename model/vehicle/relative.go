package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/model/unit"
)

var percent, kelvin = mustUnit("%"), mustUnit("K")

func mustUnit(text string) unit.Unit {
	u, err := unit.Parse(text)
	if err != nil {
		panic("vehicle: " + err.Error())
	}
	return u
}

// relativeQuantity describes what a candidate has beside a quantity: its change or
// its difference against the baseline.
func relativeQuantity(q model.Quantity, suffix, baseline string) model.Quantity {
	r := model.Quantity{
		Name: q.Name + suffix, Unit: q.Unit, Low: math.Inf(-1), High: math.Inf(1), Computed: true,
		Meaning: q.Meaning + ", less that of " + baseline, Source: "same draw of both vehicles",
		Traits: model.Traits{Certified: q.Certified, Undivided: q.Undivided},
	}
	if q.Temperature {
		r.Unit = kelvin
	}
	if suffix == changeSuffix {
		r.Unit, r.Meaning = percent, q.Meaning+", against "+baseline+"'s"
	}
	return r
}
