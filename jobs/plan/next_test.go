package plan

import (
	"math"
	"reflect"
	"testing"

	"proofmass/sensitivity"
	"proofmass/sensitivity/estimate"
)

const everyStep = `format: 1
study: steps
model: formulas
inputs: {a: {between: [0, 1]}, b: {between: [0, 1]}, c: {normal: {mean: 1, sd: 0.3}}, d: {normal: {mean: 2, sd: 0.3}}, e: {between: [0, 1]}, f: {between: [0, 1]}}
together: [{inputs: [c, d], spearman: 0.5}]
outputs: {y: a * b + c + d + 0.001 * (e + f)}
claims: {large: {holds: y > 3.2}}
sample: {half_width: {chance: 0.004}, at_most: 163_840, seed: 4}
indices: {half_width: 0.05, at_most: 1_000_000, screen: yes}
`

// sharesOf has the same half-width at every index, and an excess of the total over the
// first that makes pairs of a and b.
func sharesOf(p *Plan, half float64) [][]sensitivity.Pair {
	shares := make([][]sensitivity.Pair, len(p.Index.Targets))
	for t := range shares {
		for _, s := range p.Index.Swaps {
			i := sensitivity.Index{Estimate: 0.3, Interval: estimate.Interval{Low: 0.3 - half, High: 0.3 + half}}
			pair := sensitivity.Pair{First: i, Total: i}
			if s.Name == "a" || s.Name == "b" {
				pair.Beyond = sensitivity.Index{Estimate: 0.1, Interval: estimate.Interval{Low: 0.05, High: 0.15}}
			}
			shares[t] = append(shares[t], pair)
		}
	}
	return shares
}

// The steps follow one another as what is joined says, each asked for twice with the same
// answer; every stopping rule is met on both of its sides.
func TestNext(t *testing.T) {
	p := planOf(t, everyStep)
	j := &Joined{Rounds: map[Kind]int{}, Chance: math.NaN(), Percentiles: math.NaN()}
	expect := func(kind Kind, from, count int) *Step {
		t.Helper()
		s, err := p.Next(j)
		if err != nil {
			t.Fatal(err)
		}
		again, err := p.Next(j)
		if err != nil || again.Kind != s.Kind || !reflect.DeepEqual(again.Rounds, s.Rounds) || !reflect.DeepEqual(again.Swaps, s.Swaps) {
			t.Fatalf("asked again: %v of kind %q, %v", again.Rounds, again.Kind, err)
		}
		if s.Kind != kind || len(s.Rounds) != count || count > 0 && s.Rounds[0].Number != from {
			t.Fatalf("step of kind %q with %d rounds %v, want %d of kind %q from %d", s.Kind, len(s.Rounds), s.Rounds, count, kind, from)
		}
		if count > 0 {
			j.Rounds[kind] += count
		}
		return s
	}
	expect(Sample, 0, 1)
	expect(Sample, 1, 1) // nothing is known yet: as many again
	j.Chance = 0.0041    // 1.05 times 2 rounds: one more
	expect(Sample, 2, 1)
	j.Chance = 0.004 // reached
	expect(Tornado, 0, 1)
	expect(Screen, 0, 1)
	j.Negligible = []bool{false, false, false, true, true} // c and d are one factor
	s := expect(Index, 0, 2)
	if len(s.Swaps) != 4 || len(s.Plan.Index.Aside) != 2 || s.Each() != 10 {
		t.Errorf("%d swaps, %d inputs aside, %d runs a row", len(s.Swaps), len(s.Plan.Index.Aside), s.Each())
	}
	screenedPlan := s.Plan
	j.Shares = sharesOf(screenedPlan, 0.05*1.2) // 1.1 x 1.44 x 2 = 3.2
	expect(Index, 2, 2)
	j.Shares = sharesOf(screenedPlan, math.NaN())
	expect(Index, 4, 4)
	j.Shares = sharesOf(screenedPlan, 0.0499)
	if s := expect(Shapley, 0, 8); s.Slots != sensitivity.MostSlots {
		t.Errorf("%d slots", s.Slots)
	}
	if s := expect(Pairs, 0, 8); len(s.Pairs) != 1 || len(s.Swaps) != 1 || s.PairsLeftOut != 0 {
		t.Errorf("pairs %v", s.Pairs)
	}
	expect("", 0, 0)
}

// What the study does not ask for, or allows no runs for, is no step.
func TestNextStopsWhereNothingIsAsked(t *testing.T) {
	const two = "format: 1\nstudy: two\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}\noutputs: {y: a + b}\n"
	for more, want := range map[string][]Kind{
		"indices: none\n":             {Sample, Tornado, ""},
		"indices: {at_most: 64}\n":    {Sample, Tornado, ""}, // 6 runs a row, 16 replicates
		"indices: {at_most: 10000}\n": {Sample, Tornado, Index, ""},
	} {
		p := planOf(t, two+more)
		j := &Joined{Rounds: map[Kind]int{}}
		for _, kind := range want {
			s, err := p.Next(j)
			if err != nil || s.Kind != kind {
				t.Fatalf("%q: kind %q, %v, want %q", more, s.Kind, err, kind)
			}
			j.Rounds[kind] += len(s.Rounds)
			j.Shares = sharesOf(p, 0)
		}
	}
}

// Widest passes over groups and what never varies, and counts what is not known.
func TestWidest(t *testing.T) {
	p := planOf(t, everyStep)
	shares := sharesOf(p, 0.01)
	shares[0][0].Total.High += 0.02
	if w := p.Widest(shares); math.Abs(w-0.02) > 1e-12 {
		t.Errorf("widest %g, want 0.02", w)
	}
	shares[0][0].Constant = true
	if w := p.Widest(shares); math.Abs(w-0.01) > 1e-12 {
		t.Errorf("without the constant %g, want 0.01", w)
	}
	shares[0][1].First.Interval = estimate.None()
	if w := p.Widest(shares); !math.IsInf(w, 1) {
		t.Errorf("one not known: %g", w)
	}
}

// TestNextGoesToTheLimit: where no half-width is ever reached, rounds are asked for up to
// what the study allows, and not one more or less.
func TestNextGoesToTheLimit(t *testing.T) {
	const text = "format: 1\nstudy: limit\nmodel: formulas\ninputs: {a: {between: [0, 1]}, b: {between: [0, 1]}}\noutputs: {y: a + b}\n" +
		"claims: {c: {holds: y > 1}}\nsample: {half_width: {chance: 0.001}, at_most: 114_688}\nindices: {at_most: 100_000}\n"
	p := planOf(t, text)
	j := &Joined{Rounds: map[Kind]int{}, Chance: 1, Percentiles: 1}
	for range 100 {
		s, err := p.Next(j)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Rounds) == 0 {
			break
		}
		j.Rounds[s.Kind] += len(s.Rounds)
		j.Shares = sharesOf(p, 10)
	}
	rows := p.Index.Rows * 6 // runs of a round: two designs, two inputs swapped both ways
	if got, want := j.Rounds[Sample], 7; got != want {
		t.Errorf("%d rounds of the sample, want %d", got, want)
	}
	if got, want := j.Rounds[Index], 100_000/rows; got != want || rows == 0 {
		t.Errorf("%d rounds of %d index runs, want %d", got, rows, want)
	}
}

// What is likely to follow goes by the square root of the rows, with the reserve, up to
// what is allowed; a half-width that is not known tells nothing.
func TestRoundsLater(t *testing.T) {
	for _, c := range []struct {
		done, more, most int
		wide             float64
		want             int
	}{{2, 2, 100, 2, 5}, {2, 2, 6, 2, 2}, {2, 1, 100, 1.1, 0}, {4, 0, 100, 0.9, 0}, {0, 2, 100, 3, 0}, {2, 2, 100, math.Inf(1), 0}, {2, 2, 100, 1e200, 96}} {
		if got := roundsLater(c.done, c.more, c.most, c.wide, indexReserve); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}
