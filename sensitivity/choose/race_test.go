package choose

import (
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sensitivity/estimate"
)

// field is choices whose figure is the mean of so many values a replicate, each value that of
// the choice and noise of the row that all choices share in part.
type field struct {
	choices, rows, looks int
	value                func(choice int, own, shared float64) float64
}

// run lets them race for the best, each look with twice the replicates.
func (f field) run(seed uint64, rules Rules) *Race {
	r := rand.New(rand.NewPCG(seed, 7))
	race := NewRace(rules, f.choices)
	for n, done := 16, 0; n <= 16<<(f.looks-1); n *= 2 {
		in := race.In()
		for ; done < n; done++ {
			sums := make([]float64, f.choices)
			for range f.rows {
				shared := r.NormFloat64()
				for i := range sums {
					sums[i] += f.value(i, r.NormFloat64(), shared)
				}
			}
			for _, i := range in {
				race.Add(i, 0, []float64{sums[i] / float64(f.rows)})
			}
		}
		race.Look()
	}
	return race
}

func means(looks, rows int) Rules {
	return Rules{Figures: []Figure{{Percentile: math.NaN(), Rows: rows}}, Best: &Aim{}, Level: 0.95, Looks: looks}
}

// What is far off goes at the second look, the best stays and is told for sure.
func TestBestOfFew(t *testing.T) {
	race := field{6, 8, 5, func(i int, own, shared float64) float64 { return float64(i) + own + 3*shared }}.run(1, means(5, 8))
	for i, s := range race.Standings() {
		if want := map[bool]Word{true: Yes, false: No}[i == 5]; s.Best != want || s.Out != (i != 5) || i != 5 && s.For != 5 {
			t.Errorf("choice %d: %+v", i, s)
		}
	}
	if first := race.Standings()[0]; first.Look != 1 {
		t.Errorf("choice 0 left at look %d", first.Look)
	}
}

// Equal choices stay and none of them is called the best.
func TestEqualsStay(t *testing.T) {
	race := field{3, 8, 3, func(_ int, _, shared float64) float64 { return shared }}.run(2, means(3, 8))
	for i, s := range race.Standings() {
		if s.Out || s.Best != Maybe {
			t.Errorf("choice %d: %+v", i, s)
		}
	}
}

// A choice that surely misses a demand goes and sends no other away; one of which that is
// not known sends none away either.
func TestUnfit(t *testing.T) {
	rules := Rules{Figures: []Figure{{Percentile: math.NaN()}, {Chance: true, Rows: 1000}}, Best: &Aim{}, Demands: []Demand{{Figure: 1, Limit: 0.9}}, Level: 0.95, Looks: 2}
	race := NewRace(rules, 4)
	r := rand.New(rand.NewPCG(3, 3))
	value, chance := []float64{9, 8, 5, 4}, []float64{0.5, 0.9, 0.97, 0.98}
	for look := range 2 {
		for range 16 << look {
			for i := range value {
				race.Add(i, 0, []float64{value[i] + 0.1*r.NormFloat64()})
				race.Add(i, 1, []float64{chance[i] + 0.005*r.NormFloat64()})
			}
		}
		race.Look()
	}
	want := []Standing{{Best: No, Front: No, Out: true, Look: 1, For: Unfit}, {Best: Maybe, Front: No, For: 1}, {Best: Maybe, Front: No, For: 2}, {Best: No, Front: No, Out: true, Look: 1, For: 2}}
	for i, s := range race.Standings() {
		if s != want[i] {
			t.Errorf("choice %d: %+v, want %+v", i, s, want[i])
		}
	}
}

// A demand that hardly a row misses is judged by all rows where a replicate has too few such
// rows to judge it by: of 2048 with a chance of 0.9987, some 2.7 fail.
func TestDemandByAllRows(t *testing.T) {
	for _, c := range []struct {
		limit float64
		below bool
		want  Word
	}{{0.9999, false, No}, {0.9987, false, Maybe}, {0.99, false, Yes}, {0.9999, true, Yes}, {0.99, true, No}} {
		rules := Rules{Figures: []Figure{{Percentile: math.NaN()}, {Chance: true, Rows: 2048}}, Best: &Aim{}, Demands: []Demand{{1, c.limit, c.below}}, Level: 0.95, Looks: 1}
		race := NewRace(rules, 1)
		r := rand.New(rand.NewPCG(5, 5))
		for range 16 {
			held := 0
			for range 2048 {
				if r.Float64() < 0.9987 {
					held++
				}
			}
			race.Add(0, 0, []float64{r.NormFloat64()})
			race.Add(0, 1, []float64{float64(held) / 2048})
		}
		race.Look()
		if got := race.Standings()[0].Best; got != c.want {
			t.Errorf("limit %v, below %v: %s, want %s", c.limit, c.below, got, c.want)
		}
	}
}

// Where there is one look alone, what is far off is told all the same.
func TestOneLook(t *testing.T) {
	race := field{4, 8, 1, func(i int, own, shared float64) float64 { return 3*float64(i) + own + 3*shared }}.run(1, means(1, 8))
	for i, s := range race.Standings() {
		if want := map[bool]Word{true: Yes, false: No}[i == 3]; s.Best != want {
			t.Errorf("choice %d: %+v", i, s)
		}
	}
}

// Constants are told at the first look, exactly; what no replicate has is unfit.
func TestExact(t *testing.T) {
	race := NewRace(means(1, 1), 3)
	for range 16 {
		race.Add(0, 0, []float64{1})
		race.Add(1, 0, []float64{2})
		race.Add(2, 0, []float64{math.NaN()})
	}
	race.Look()
	s := race.Standings()
	if s[0].For != 1 || s[0].Best != No || s[1].Best != Yes || s[2].For != Unfit || !s[2].Out {
		t.Errorf("%+v", s)
	}
}

// A percentile with few rows beyond it in each replicate sends nobody away.
func TestPercentileOfFewRows(t *testing.T) {
	for _, rows := range []int{499, 500} {
		rules := Rules{Figures: []Figure{{Percentile: 0.1, Rows: rows}}, Best: &Aim{}, Level: 0.95, Looks: 2}
		race := field{2, 1, 2, func(i int, own, _ float64) float64 { return float64(10*i) + own }}.run(4, rules)
		if out := race.Standings()[0].Out; out != (rows == 500) {
			t.Errorf("%d rows: %+v", rows, race.Standings())
		}
	}
}

// Of a known front every member stays, and what is off goes.
func TestFront(t *testing.T) {
	at := [][2]float64{{0, 0}, {1, 1}, {2, 3}, {0.9, 2}, {0.5, 1.5}, {2, 3}}
	on := []bool{true, true, true, false, false, true} // more of the first, less of the second; the last equals the third
	rules := Rules{Figures: []Figure{{Percentile: math.NaN()}, {Percentile: math.NaN()}}, Front: []Aim{{Figure: 0}, {Figure: 1, Lower: true}}, Level: 0.95, Looks: 3}
	race := NewRace(rules, len(at))
	r := rand.New(rand.NewPCG(5, 5))
	for n, done := 16, 0; n <= 64; n *= 2 {
		for ; done < n; done++ {
			x, y := r.NormFloat64(), r.NormFloat64()
			for i, a := range at {
				own := 0.01 * r.NormFloat64()
				if i == 2 || i == 5 {
					own = 0
				}
				race.Add(i, 0, []float64{a[0] + 0.1*x + own})
				race.Add(i, 1, []float64{a[1] + 0.1*y - own})
			}
		}
		race.Look()
	}
	for i, s := range race.Standings() {
		if s.Out == on[i] || on[i] && s.Front != Yes {
			t.Errorf("choice %d: %+v", i, s)
		}
	}
}

// Clear differences go whatever the skewness: the test for it does not turn round.
func TestClearlyOffThoughSkewed(t *testing.T) {
	race := field{2, 1, 2, func(i int, own, _ float64) float64 {
		return float64(100*i) - float64(i)*math.Exp(own)
	}}.run(6, means(2, 1))
	if s := race.Standings(); !s[0].Out {
		t.Errorf("%+v", s)
	}
	if estimate.StudentQuantile(0.95, 15) < 2 {
		t.Error("no quantile")
	}
}
