package study

import (
	"math"
	"strings"
	"testing"
)

const factsStudy = `format: 1
model: formulas
inputs:
  a: 3.0(5) kg
  t: {normal: {mean: 20 degC, sd: 3 K}}
outputs:
  double: {formula: a * 2, unit: g}
measured:
  - {of: double, value: 6.2(1) kg, source: a scale}
  - {of: double, likely: 6200 g, within: 5 %}
  - {of: double, student: {freedom: 4, middle: 6.2 kg, scale: 0.1 kg}}
  - {of: double, normal: {mean: 6.2, sd: 0.1}, unit: kg, rounded_to: 0.2 kg}
  - {of: double, between: [6 kg, 6.4 kg]}
  - {of: t, normal: {mean: 68 degF, sd: 1 K}}
  - {of: a, value: 3.2(1) kg, withdrawn: the scale was broken}
`

func TestFacts(t *testing.T) {
	s := mustRead(t, Options{}, factsStudy)
	if len(s.Facts) != 6 || len(s.Withdrawn) != 1 || s.Withdrawn[0].Name != "a" {
		t.Fatalf("%d facts, %d withdrawn; want 6 and 1", len(s.Facts), len(s.Withdrawn))
	}
	for i, want := range []struct{ value, sd, greatest float64 }{
		{6.2, 0.1, math.Log(1 / (0.1 * math.Sqrt(2*math.Pi)))},
		{6.2, 0.05 * 6.2 / 1.6448536269514722, math.NaN()},
		{6.2, 0.1 * math.Sqrt2, math.Log(0.375 / 0.1)}, // t of 4 degrees of freedom is 3/8 at 0
		{6.2, math.Sqrt(0.01 + 0.01/3), math.Log(math.Erf(1 / math.Sqrt2))},
		{6.2, 0.2 / math.Sqrt(3), math.Log(1 / 0.4)},
		{293.15, 1, math.Log(1 / math.Sqrt(2*math.Pi))},
	} {
		f := &s.Facts[i]
		if math.Abs(f.Value()-want.value) > 1e-12*want.value || math.Abs(f.SD()-want.sd) > 1e-12 {
			t.Errorf("fact %d (%s): %v with sd %v, want %v and %v", i, f.Text, f.Value(), f.SD(), want.value, want.sd)
		}
		if got := f.Greatest(); want.greatest == want.greatest && math.Abs(got-want.greatest) > 1e-12 {
			t.Errorf("fact %d (%s): greatest %v, want %v", i, f.Text, got, want.greatest)
		}
	}
	if s.Facts[0].Free.Source != "a scale" || s.Facts[3].Text != "normal, mean 6.2 kg, sd 0.1 kg, rounded to 0.2 kg" {
		t.Errorf("told as %q, %q", s.Facts[0].Free.Source, s.Facts[3].Text)
	}
}

// A fact that was withdrawn counts as not stated: it may stand beside what facts may not stand beside, and what it is of may be
// withdrawn too. What changed in a fact is told with the rest of the history.
func TestPastFacts(t *testing.T) {
	const past = "measured: [{of: y, normal: {mean: 1, sd: 0.5}, withdrawn: the gauge was broken, history: [{on: 2 May, what: withdrawn}]}]\n"
	for what, text := range map[string]string{
		"choices":    "outputs: {y: x * c}\nchoices: {c: [1, 2]}\nbest: {maximise: y}\n",
		"could_mean": "outputs: {y: x, z: 2 * x}\nclaims: {much: {of: y, announced: 1, sense: at_least, could_mean: [z]}}\n",
		"an output":  "outputs: {y: {formula: x, withdrawn: as a whole}, z: 2 * x}\n",
	} {
		s := mustRead(t, Options{}, "format: 1\nmodel: formulas\ninputs: {x: {normal: {mean: 0, sd: 1}}}\n"+text+past)
		if n := len(s.Withdrawn); len(s.Facts) != 0 || n == 0 || s.Withdrawn[n-1].Why != "the gauge was broken" {
			t.Errorf("beside %s: facts %v, withdrawn %v", what, s.Facts, s.Withdrawn)
		}
		if len(s.History) != 1 || s.History[0].Of != "y measured" || s.History[0].On != "2 May" {
			t.Errorf("beside %s: history %v", what, s.History)
		}
	}
	s := mustRead(t, Options{}, strings.Replace(factsStudy, "source: a scale", "source: a scale, history: [{on: 3 May, what: weighed again}]", 1))
	if len(s.History) != 1 || s.History[0].Of != "double measured" {
		t.Errorf("history %v", s.History)
	}
}

// Texts of a fact change no number; what it says does.
func TestFactsDigest(t *testing.T) {
	before := mustRead(t, Options{}, factsStudy).NumbersDigest
	if got := mustRead(t, Options{}, strings.Replace(factsStudy, "a scale", "another scale", 1)).NumbersDigest; got != before {
		t.Error("another source gives another digest of numbers")
	}
	if got := mustRead(t, Options{}, strings.Replace(factsStudy, "6.2(1) kg", "6.2(2) kg", 1)).NumbersDigest; got == before {
		t.Error("another uncertainty gives the same digest of numbers")
	}
}
