package page

import (
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// TestMeasureNext: a claim that a measurement helps has a figure whose discs lie left of the
// ring, one that none helps a sentence; a stranger's name is escaped.
func TestMeasureNext(t *testing.T) {
	is := func(x float64) *float64 { return &x }
	learned := func(item string, gain float64) report.Learned {
		return report.Learned{Item: item, Gain: is(gain), Low: is(gain / 2), High: is(gain), Share: is(0.5), SDLeft: is(2)}
	}
	d := &data{Answer: &report.Answer{Claims: []report.Claim{{Name: "further"}, {Name: "lighter"}, {Name: "nothing"}}, Measure: []report.Measure{
		{Claim: "further", Risk: is(0.4), Unit: "km", SD: is(3), Items: []report.Learned{learned("car.<i>x", 0.1), learned("y", 0.05), learned("z", 0)}},
		{Claim: "lighter", Risk: is(0.02), Items: []report.Learned{learned("y", 0)}}}},
		manifest: &result.Manifest{}, noted: map[string]bool{}}
	s, shown := measureNext(d)
	if !shown || d.figures != 1 {
		t.Fatalf("shown: %t, %d figures", shown, d.figures)
	}
	if got, want := string(s.Heading), "Measuring <i>car.&lt;i&gt;x</i> would judge <i>further</i> rightly in 10 of 100 draws more."; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for _, part := range []string{"now 40", "wrong in 30 of 100 then", "<i>lighter</i>: no single measurement turns this verdict."} {
		if !strings.Contains(string(s.Body), part) {
			t.Errorf("the section lacks %q", part)
		}
	}
	d.Measure = nil
	if _, shown := measureNext(d); shown {
		t.Error("nothing is told of")
	}
}
