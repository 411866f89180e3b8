package uncertain

import (
	"proofmass/jobs/study/source"
	"proofmass/model/unit"
)

// Price reads what a measurement costs: in the study's one currency, or a bare number, which
// counts in it.
func (x *Context) Price(f source.Field) (float64, bool) {
	const allowed = "a price is money, as in 60 EUR, or a bare number"
	a, ok := x.amount(f, "60")
	if !ok || !certain(f, a) {
		return 0, false
	}
	switch {
	case !a.bare && a.unit.Dimension() != unit.Money:
		f.Err(f.What()+" has the dimension "+a.unit.Dimension().String(), allowed)
		return 0, false
	case !(a.x > 0):
		f.Err(f.What(), "a price is more than 0; what costs nothing has none")
		return 0, false
	}
	if a.bare {
		return a.x, true
	}
	return a.unit.ToSI(a.x), true
}
