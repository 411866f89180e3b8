package report

import (
	"fmt"
	"math"
	"strings"

	"proofmass/jobs/result"
)

// A Required is where a claim turns: the most probable point at which it holds, or, where it
// holds at the middle of all inputs, at which it fails.
type Required struct {
	Claim    string         `json:"claim"`
	Side     result.Turning `json:"side"`
	Distance *float64       `json:"point_distance"`
	Chance   *float64       `json:"first_order_chance"`
	Margin   *float64       `json:"margin"`
	Unit     string         `json:"margin_unit"`
	Method   result.Reached `json:"method"`
	Inputs   []Moved        `json:"inputs"` // what must move furthest first
}

// Moved is an input at that point, and where it alone turns the claim.
type Moved struct {
	Input      string   `json:"input"`
	Unit       string   `json:"unit"`
	Central    *float64 `json:"central"`
	Needed     *float64 `json:"needed"`
	Percentile *float64 `json:"percentile"`
	Distance   *float64 `json:"distance"`
	HalfAt     *float64 `json:"half_at"`
	TurnsAt    *float64 `json:"turns_at"`
	AloneAt    *float64 `json:"alone_at"`
}

func requiredOf(rows []result.RequiredRow) []Required {
	var all []Required
	for i := range rows {
		r := &rows[i]
		if len(all) == 0 || all[len(all)-1].Claim != r.Claim {
			all = append(all, Required{Claim: r.Claim, Side: r.Turning, Distance: Known(r.PointDistance), Chance: Known(r.FirstOrder), Margin: Known(r.Margin), Unit: r.MarginUnit, Method: r.Method})
		}
		q := &all[len(all)-1]
		q.Inputs = append(q.Inputs, Moved{r.Input, r.Unit, Known(r.Central), Known(r.Needed), Known(r.Percentile), Known(r.Distance), Known(r.HalfAt), Known(r.TurnsAt), Known(r.AloneAt)})
	}
	return all
}

// Required is that of a claim, nil if there is none.
func (a *Answer) Required(claim string) *Required {
	for i := range a.Requires {
		if a.Requires[i].Claim == claim {
			return &a.Requires[i]
		}
	}
	return nil
}

// How much of a point is told: inputs that move by so many normal scores at least, so many.
const worthMoving, mostMoved = 0.25, 4

// moving are the inputs that a sentence names, one at least.
func (r *Required) moving() []Moved {
	n := 0
	for n < min(len(r.Inputs), mostMoved) && r.Inputs[n].Distance != nil && math.Abs(*r.Inputs[n].Distance) >= worthMoving {
		n++
	}
	return r.Inputs[:min(max(n, 1), len(r.Inputs))]
}

// InWords says where an input must lie: "x at least 3 kg (its 88th percentile)".
func (m *Moved) InWords() string {
	if m.Needed == nil || m.Central == nil || m.Percentile == nil {
		return m.Input
	}
	side := "at most"
	if *m.Needed > *m.Central {
		side = "at least"
	}
	value := WithUnit(Numbers(m.Central, m.Needed)[1], m.Unit)
	if *m.Needed == *m.Central {
		return fmt.Sprintf("%s at %s, its middle", m.Input, value)
	}
	return fmt.Sprintf("%s %s %s (its %s percentile)", m.Input, side, value, ordinal(*m.Percentile))
}

// ordinal is a share as a percentile: "88th".
func ordinal(share float64) string {
	n := int(math.Round(100 * share))
	if n <= 0 {
		return "lowest"
	}
	if n >= 100 {
		return "highest"
	}
	end := "th"
	if n/10 != 1 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return fmt.Sprintf("%d%s", n, end)
}

// InWords says what must be true for a claim to hold, or to fail where it holds at the middle.
func (r *Required) InWords() string { return r.naming(mostMoved) }

// Briefly is InWords that names the two inputs which move furthest and counts the others.
func (r *Required) Briefly() string { return r.naming(2) }

func (r *Required) naming(n int) string {
	var words []string
	all := r.moving()
	for i := range all[:min(n, len(all))] {
		words = append(words, all[i].InWords())
	}
	if rest := len(all) - n; rest > 0 {
		words = append(words, Count(rest)+" more")
	}
	list := Listed(words)
	if len(words) > 1 {
		list += " together"
	}
	switch {
	case r.Method == result.OutOfReach && r.Side == result.TurnsToHold:
		return "nothing that is believed of the inputs makes it hold" + r.shortBy() + r.alone()
	case r.Method == result.OutOfReach:
		return "nothing that is believed of the inputs makes it fail"
	case r.Side == result.TurnsToFail:
		return "it holds with every input at its middle; what most probably breaks it: " + list
	}
	return "it most probably takes " + list
}

// shortBy says how far the best point falls short.
func (r *Required) shortBy() string {
	if r.Margin == nil {
		return ""
	}
	return fmt.Sprintf(": the best falls short by %s", WithUnit(Short(math.Abs(*r.Margin)), UnitOfDifferences(r.Unit)))
}

// alone says what one input would have to be, beliefs aside: the one that would have to leave
// its middle by the fewest of its believed widths.
func (r *Required) alone() string {
	var least *Moved
	for i := range r.Inputs {
		if m := &r.Inputs[i]; m.widthsAlone() >= 0 && (least == nil || m.widthsAlone() < least.widthsAlone()) {
			least = m
		}
	}
	if least == nil {
		return "; no single input within its limits does"
	}
	n := Numbers(least.Central, least.AloneAt)
	return fmt.Sprintf("; alone it would take %s of %s, where %s is believed", least.Input, WithUnit(n[1], least.Unit), WithUnit(n[0], least.Unit))
}

// widthsAlone is how far alone_at lies from the middle, in what the input moves a normal score
// towards the point; below 0 where that is not known.
func (m *Moved) widthsAlone() float64 {
	if m.AloneAt == nil || m.Central == nil || m.Needed == nil || m.Distance == nil || *m.Needed == *m.Central {
		return -1
	}
	return math.Abs((*m.AloneAt - *m.Central) * *m.Distance / (*m.Needed - *m.Central))
}

// writeRequires tells what must be true.
func (a *Answer) writeRequires(b *page) {
	if len(a.Requires) == 0 {
		return
	}
	b.WriteString("\nWHAT MUST BE TRUE?\n")
	b.para("The most probable point at which a claim turns: one most favourable combination, what must move furthest first; other inputs lie near their middles. Other combinations do it too.", "  ")
	for i := range a.Requires {
		r := &a.Requires[i]
		b.item(r.Claim + ": " + r.InWords())
		if half := r.halves(); half != "" {
			b.para("the chance is one half with "+half+", all else as believed", "    ")
		}
	}
}

// halves are the break-evens of single inputs, those that move furthest first.
func (r *Required) halves() string {
	var words []string
	for i := range r.Inputs {
		if m := &r.Inputs[i]; m.HalfAt != nil && m.Central != nil && len(words) < mostMoved {
			words = append(words, m.Input+" at "+WithUnit(Numbers(m.Central, m.HalfAt)[1], m.Unit))
		}
	}
	return strings.Join(words, ", or ")
}
