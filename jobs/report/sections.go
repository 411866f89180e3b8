package report

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/result"
)

func (t *tables) run(m *result.Manifest) Run {
	r := Run{Rows: m.Rows, Seed: m.Seed, Design: t.meta[MetaDesign], HalfWidthReached: m.HalfWidth, Note: t.meta[MetaNote], PairsLeftOut: m.PairsLeftOut, IndexRuns: m.IndexRuns}
	if m.Reduced != nil {
		r.Reduced = &Reduced{m.Reduced}
	}
	r.HalfWidthAsked = t.asked(MetaHalfWidth)
	if g := m.Stopping; g != nil {
		r.Stopping = &Stopping{ChanceReached: g.Chance, PercentilesReached: g.Percentiles,
			ChanceAsked: t.asked(MetaChance), PercentilesAsked: t.asked(MetaPercentiles)}
		for _, round := range m.Rounds {
			if round.Kind == result.SampleKind {
				r.Stopping.Rounds++
			}
		}
	}
	return r
}

// asked is a number that the summary table states, nil if it does not.
func (t *tables) asked(key string) *float64 {
	x, err := strconv.ParseFloat(t.meta[key], 64)
	if err != nil {
		return nil
	}
	return &x
}

func (t *tables) claims() []Claim {
	claims := []Claim{}
	for i := range t.claimed {
		r := &t.claimed[i]
		c := claimOf(r)
		if of := t.output(c.Of); of != nil {
			s := spread(of).in(r.AnnouncedIn)
			c.Seen = &s
		}
		claims = append(claims, c)
	}
	return claims
}

// claimOf is a claim as a row of its table tells it.
func claimOf(r *result.ClaimRow) Claim {
	c := Claim{Name: r.Claim, Text: r.Text, Of: r.Of, SaidBy: r.SaidBy, Low: Known(r.ChanceLow), High: Known(r.ChanceHigh), Method: string(r.Method),
		Held: r.Held, Failed: r.Failed, Infeasible: r.Infeasible, Rows: r.Rows}
	if r.Chance == r.Chance {
		c.Chance = r.Chance
	}
	c.Verdict = r.Verdict
	c.Halved, c.Doubled, c.Guesses, c.Defaults, c.WidthRows = Known(r.Halved), Known(r.Doubled), r.Guesses, r.Defaults, r.WidthRows
	c.Announced, c.RoundedTo, c.Limit = Known(r.Announced), Known(r.RoundedTo), Known(r.Limit)
	c.Sense, c.Side, c.Unit = r.Sense, r.Side, r.AnnouncedIn
	c.Frequency = frequency(c)
	return c
}

// output is the summary of a stored column, nil where there is none of that name.
func (t *tables) output(name string) *result.SummaryRow {
	for i := range t.summary {
		if name != "" && t.summary[i].Output == name {
			return &t.summary[i]
		}
	}
	return nil
}

// constant reports whether an output is the same in every draw, up to what rounding
// leaves of it.
func constant(r *result.SummaryRow) bool {
	low, high := differs(r.Quantity, Known(r.Min)), differs(r.Quantity, Known(r.Max))
	return r.P50 == r.P50 && low != nil && high != nil && *high-*low <= 1e-12*max(*high, -*low)
}

// list is a list of words in the summary's metadata, nil where there is none.
func (t *tables) list(key string) []string {
	var words []string
	_ = json.Unmarshal([]byte(t.meta[key]), &words)
	return words
}

func (t *tables) headline() []string { return t.list(MetaHeadline) }

// sizes are the headline quantities, stated or computed, then the other outputs that
// are stored.
func (t *tables) sizes() []Size {
	sizes := []Size{}
	headline, silent := t.headline(), t.list(MetaSilent)
	add := func(r *result.SummaryRow) {
		sizes = append(sizes, Size{Name: r.Output, Vehicle: r.Vehicle, Quantity: r.Quantity, Infeasible: r.Infeasible,
			Constant: constant(r), Silent: slices.Contains(silent, r.Quantity), Spread: spread(r)})
	}
	for _, q := range headline {
		for i := range t.summary {
			if r := &t.summary[i]; r.Vehicle != "" && strings.TrimSuffix(r.Quantity, "_change") == q {
				add(r)
			}
		}
	}
	for i := range t.summary {
		if r := &t.summary[i]; r.Role == result.RoleOutput && !slices.Contains(headline, strings.TrimSuffix(r.Quantity, "_change")) {
			add(r)
		}
	}
	return sizes
}

// Guessed reports whether a way of knowing is neither a measurement nor a record.
func Guessed(howKnown string) bool {
	return slices.Contains([]string{"guess", "rule", "announced", "leaked"}, howKnown)
}

func (t *tables) assumed() Assumed {
	a := Assumed{Defaults: []Input{}, Guessed: []Input{}, HowKnown: map[string]int{}, LeftOut: []LeftOut{}, Tied: []Tied{}}
	for i := range t.summary {
		r := &t.summary[i]
		in := Input{Name: r.Output, StatedAs: r.StatedAs, HowKnown: r.HowKnown, Source: r.Source, Constant: r.Role == result.RoleConstant}
		switch {
		case r.Origin == result.Default:
			a.Defaults = append(a.Defaults, in)
			continue
		case r.Role != result.RoleInput:
			continue
		case in.HowKnown == "":
			a.HowKnown["not said"]++
		default:
			a.HowKnown[in.HowKnown]++
		}
		if Guessed(in.HowKnown) {
			a.Guessed = append(a.Guessed, in)
		}
	}
	_ = json.Unmarshal([]byte(t.meta[MetaLeftOut]), &a.LeftOut) // absent: nothing was left out
	_ = json.Unmarshal([]byte(t.meta[MetaTied]), &a.Tied)       // absent: all inputs are independent
	return a
}
