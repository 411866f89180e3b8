package report

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/result"
)

func (t *tables) run(m *result.Manifest) Run {
	r := Run{Rows: m.Rows, Seed: m.Seed, Design: t.summary.meta(MetaDesign), HalfWidthReached: m.HalfWidth, Note: t.summary.meta(MetaNote), PairsLeftOut: m.PairsLeftOut, IndexRuns: m.IndexRuns}
	r.HalfWidthAsked = t.asked(MetaHalfWidth)
	if g := m.Growth; g != nil {
		r.Growth = &Growth{ChanceReached: g.Chance, PercentilesReached: g.Percentiles,
			ChanceAsked: t.asked(MetaChance), PercentilesAsked: t.asked(MetaPercentiles)}
		for _, round := range m.Rounds {
			if round.Kind == result.SampleKind {
				r.Growth.Rounds++
			}
		}
	}
	return r
}

// asked is a number that the summary table states, nil if it does not.
func (t *tables) asked(key string) *float64 {
	x, err := strconv.ParseFloat(t.summary.meta(key), 64)
	if err != nil {
		return nil
	}
	return &x
}

func (t *tables) claims() []Claim {
	claims := []Claim{}
	f := t.claimsTable
	for row := range f.rows() {
		c := Claim{Name: f.text("claim", row), Text: f.text("text", row), Of: f.text("of", row), SaidBy: f.text("said_by", row),
			Low: f.number("chance_low", row), High: f.number("chance_high", row), Method: f.text("method", row),
			Held: f.count("held", row), Failed: f.count("failed", row), Infeasible: f.count("infeasible", row), Rows: f.count("rows", row)}
		if chance := f.number("chance", row); chance != nil {
			c.Chance = *chance
		}
		c.Verdict, c.Frequency = verdict(c), frequency(c)
		if at := t.summary.find("output", c.Of); c.Of != "" && at >= 0 {
			s := t.summary.spread(at).in(f.text("announced_in", row))
			c.Seen = &s
		}
		claims = append(claims, c)
	}
	return claims
}

// headline are the quantities that come first, stated or computed.
var headline = []string{"kerb_mass", "pack_mass", "usable_energy", "label_range"}

// sizes are the headline quantities, then the other outputs that are stored.
func (t *tables) sizes() []Size {
	sizes := []Size{}
	add := func(row int) {
		f := t.summary
		sizes = append(sizes, Size{Name: f.text("output", row), Vehicle: f.text("vehicle", row),
			Quantity: f.text("quantity", row), Infeasible: f.count("infeasible", row), Spread: f.spread(row)})
	}
	for _, q := range headline {
		for row := range t.summary.rows() {
			if t.summary.text("vehicle", row) != "" && strings.TrimSuffix(t.summary.text("quantity", row), "_change") == q {
				add(row)
			}
		}
	}
	for row := range t.summary.rows() {
		q := strings.TrimSuffix(t.summary.text("quantity", row), "_change")
		if t.summary.text("role", row) == "output" && !slices.Contains(headline, q) {
			add(row)
		}
	}
	return sizes
}

// guessed are the ways of knowing that are no measurement and no record.
var guessed = []string{"guess", "rule", "announced", "leaked"}

func (t *tables) assumed() Assumed {
	a := Assumed{Defaults: []Input{}, Guessed: []Input{}, HowKnown: map[string]int{}, LeftOut: []LeftOut{}, Tied: []Tied{}}
	f := t.summary
	for row := range f.rows() {
		in := Input{Name: f.text("output", row), StatedAs: f.text("stated_as", row), HowKnown: f.text("how_known", row), Source: f.text("source", row), Constant: f.text("role", row) == "constant"}
		switch {
		case f.text("origin", row) == "default":
			a.Defaults = append(a.Defaults, in)
			continue
		case f.text("role", row) != "input":
			continue
		case in.HowKnown == "":
			a.HowKnown["not said"]++
		default:
			a.HowKnown[in.HowKnown]++
		}
		if slices.Contains(guessed, in.HowKnown) {
			a.Guessed = append(a.Guessed, in)
		}
	}
	_ = json.Unmarshal([]byte(f.meta(MetaLeftOut)), &a.LeftOut) // absent: nothing was left out
	_ = json.Unmarshal([]byte(f.meta(MetaTied)), &a.Tied)       // absent: all inputs are independent
	return a
}
