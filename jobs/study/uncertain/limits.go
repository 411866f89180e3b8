package uncertain

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model"
	"proofmass/model/unit"
	"proofmass/sampling/marginal"
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
	return withUnit(fmt.Sprintf("%.10g", u.FromSI(x)), u)
}

// withUnit adds a unit to a number; a plain one has none.
func withUnit(number string, u unit.Unit) string {
	if u.String() == "1" {
		return number
	}
	return number + " " + u.String()
}

// sensible refuses a value that is neither a word nor a whole number where only these
// make sense.
func (r *item) sensible(x float64, text string, at source.Field) bool {
	q := r.q
	switch {
	case q == nil:
		return true
	case len(q.Words) > 0 && !slices.Contains(slices.Collect(maps.Values(q.Words)), x):
		at.Err(source.Quote(text)+" is no "+q.Name, q.Name+" is "+source.Listed(slices.Sorted(maps.Keys(q.Words)), "or"))
	case q.Whole && x != math.Trunc(x):
		at.Err(source.Quote(text)+" is no whole number", q.Name+" counts pieces: "+InUnit(math.Floor(x), q.Unit)+" or "+InUnit(math.Ceil(x), q.Unit))
	default:
		return true
	}
	return false
}

// singleValues refuses a distribution without single values of what is a count or a
// word: 95.4 cells in series are no pack.
func (r *item) singleValues() bool {
	q := r.q
	if !(q.Whole || len(q.Words) > 0) || marginal.Discrete(r.s.Marginal) {
		return true
	}
	allowed := q.Name + " counts pieces: one_of: {95: 1, 96: 3} gives each number a weight"
	if len(q.Words) > 0 {
		words := slices.Sorted(maps.Keys(q.Words))
		allowed = q.Name + " is " + source.Listed(words, "or") + ": one_of: {" + strings.Join(words, ": 1, ") + ": 1} gives each a weight"
	}
	r.at.Err(source.Quote(r.s.Text)+" has values in between", allowed)
	return false
}

// Shares of a distribution that may lie outside the limits of its quantity: up to
// beyond a draw there is counted as infeasible, and rare; up to mostCut the distribution
// is cut there, as who writes 12(3) kg of a mass means. Common practice, no source.
const (
	beyond  = 1e-6
	mostCut = 1e-3
)

// within holds the item to the limits of its quantity.
func (r *item) within(q *model.Quantity) bool {
	switch {
	case q == nil || r.s.Kind == Formula:
		return true
	case r.s.Kind == Constant && q.Allows(r.s.Value):
		return r.sensible(r.s.Value, r.s.Text, r.at)
	case r.s.Kind == Constant:
		r.at.Err(source.Quote(r.s.Text)+" is outside its limits", q.Name+" is "+limitsText(*q)+perCent(*q, r.s.Value))
		return false
	}
	if !r.singleValues() {
		return false
	}
	below, above := r.outside(q)
	switch share := below + above; {
	case share <= beyond:
		return true
	case share <= mostCut && r.cut(q, below, above):
		return true
	case share > 0.999:
		r.at.Err(source.Quote(r.s.Text)+" is outside its limits", q.Name+" is "+limitsText(*q)+perCent(*q, r.s.Marginal.Quantile(0.5)))
		return false
	}
	var advice []string
	if below > beyond/10 {
		advice = append(advice, "min")
	}
	if above > beyond/10 {
		advice = append(advice, "max")
	}
	r.at.Err(fmt.Sprintf("a share of %.2g lies outside its limits", below+above),
		q.Name+" is "+limitsText(*q)+"; truncate with "+source.Listed(advice, "and")+", or choose another distribution")
	return false
}

// outside is how much of the distribution lies below and above the limits.
func (r *item) outside(q *model.Quantity) (below, above float64) {
	if !math.IsInf(q.Low, -1) {
		edge := q.Low
		if !q.LowOpen {
			edge = math.Nextafter(q.Low, math.Inf(-1))
		}
		below = r.s.Marginal.CDF(edge)
	}
	if !math.IsInf(q.High, 1) {
		above = r.s.Marginal.Survival(q.High)
	}
	return below, above
}

// cut truncates at the limits beyond which a share worth telling lies, and says so.
func (r *item) cut(q *model.Quantity, below, above float64) bool {
	low, high := math.Inf(-1), math.Inf(1)
	var at []string
	if below > beyond/10 {
		low, at = q.Low, append(at, InUnit(q.Low, q.Unit))
	}
	if above > beyond/10 {
		high, at = q.High, append(at, InUnit(q.High, q.Unit))
	}
	m, err := marginal.Truncate(r.s.Marginal, low, high)
	if err != nil {
		return false
	}
	r.s.Marginal, r.s.Cut = m, below+above
	r.s.Text += ", cut at " + source.Listed(at, "and")
	return true
}

// perCent tells one who left the sign out: a share is at most 1.
func perCent(q model.Quantity, x float64) string {
	if q.Unit.String() != "%" || x <= q.High || x > 100 {
		return ""
	}
	return fmt.Sprintf(": per cent are written with their sign, as in %.4g %%", x)
}
