package uncertain

import (
	"fmt"
	"math"
	"strings"

	"proofmass/model"
	"proofmass/model/unit"
)

// limitsText says what a quantity may be, in its display unit.
func limitsText(q model.Quantity) string {
	show := func(x float64) string { return InUnit(x, q.Unit) }
	var parts []string
	if !math.IsInf(q.Low, -1) {
		word := "at least "
		if q.LowOpen {
			word = "more than "
		}
		parts = append(parts, word+show(q.Low))
	}
	if !math.IsInf(q.High, 1) {
		parts = append(parts, "at most "+show(q.High))
	}
	return strings.Join(parts, " and ")
}

// InUnit prints an SI value in a unit.
func InUnit(x float64, u unit.Unit) string {
	text := fmt.Sprintf("%.10g", u.FromSI(x))
	if u.String() != "1" {
		text += " " + u.String()
	}
	return text
}
