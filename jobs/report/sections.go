package report

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"proofmass/jobs/result"
)

func (t *tables) run(m *result.Manifest) Run {
	r := Run{Rows: m.Rows, Seed: m.Seed, Design: t.summary.meta(MetaDesign), HalfWidthReached: m.HalfWidth, Note: t.summary.meta(MetaNote)}
	if t.indices.rows() > 0 {
		r.IndexRuns = t.indices.count("model_runs", 0)
	}
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

// decides lists the outputs with what they depend on: first what claims are of, in
// the claims' order, then the others.
func (t *tables) decides(claims []Claim) []Decides {
	of := map[string]string{}
	var order []string
	for _, c := range claims {
		if c.Of != "" && of[c.Of] == "" {
			of[c.Of] = c.Name
			order = append(order, c.Of)
		}
	}
	for _, f := range []frame{t.indices, t.tornado} {
		for row := range f.rows() {
			if name := f.text("output", row); !slices.Contains(order, name) {
				order = append(order, name)
			}
		}
	}
	all := []Decides{}
	for _, name := range order {
		if d := (Decides{Output: name, Claim: of[name], Inputs: t.shares(name)}); len(d.Inputs) > 0 {
			all = append(all, d)
		}
	}
	return all
}

// shares joins indices and tornado of one output; inputs that do nothing are left
// out. Largest total index first; without indices, longest swing first.
func (t *tables) shares(output string) []Share {
	shares := []Share{}
	place := map[string]int{}
	at := func(input string) *Share {
		if _, ok := place[input]; !ok {
			place[input] = len(shares)
			shares = append(shares, Share{Input: input})
		}
		return &shares[place[input]]
	}
	for row := range t.tornado.rows() {
		if t.tornado.text("output", row) == output {
			s := at(t.tornado.text("input", row))
			s.Unit, s.OutUnit = t.tornado.text("input_unit", row), t.tornado.text("unit", row)
			s.InLow, s.InHigh = t.tornado.number("input_low", row), t.tornado.number("input_high", row)
			s.AtLow, s.AtHigh = t.tornado.number("at_low", row), t.tornado.number("at_high", row)
		}
	}
	for row := range t.indices.rows() {
		if t.indices.text("output", row) != output || t.indices.text("method", row) == "none" {
			continue
		}
		s := at(t.indices.text("input", row))
		if t.indices.text("order", row) == "first" {
			s.First = t.indices.number("estimate", row)
		} else {
			s.Total, s.Low, s.High = t.indices.number("estimate", row), t.indices.number("low", row), t.indices.number("high", row)
		}
	}
	slices.SortStableFunc(shares, func(a, b Share) int { return cmp.Compare(weight(b), weight(a)) })
	return slices.DeleteFunc(shares, func(s Share) bool { return weight(s) <= 0 })
}

// weight orders inputs: by total index where there is one, else by swing.
func weight(s Share) float64 {
	switch {
	case s.Total != nil:
		return *s.Total
	case s.AtLow != nil && s.AtHigh != nil:
		return max(*s.AtHigh-*s.AtLow, *s.AtLow-*s.AtHigh)
	}
	return 0
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
