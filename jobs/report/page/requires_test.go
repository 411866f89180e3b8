package page

import (
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// TestMustBeTrue: a point has a figure, what nothing believed reaches a sentence with what one
// input would have to be; a stranger's name is escaped.
func TestMustBeTrue(t *testing.T) {
	is := func(x float64) *float64 { return &x }
	moved := report.Moved{Input: "car.<i>mass", Unit: "kg", Central: is(1500), Needed: is(1420), Percentile: is(0.12), Distance: is(-1.175), AloneAt: is(1380)}
	near := report.Moved{Input: "near", Unit: "1", Central: is(1), Needed: is(1.01), Percentile: is(0.52), Distance: is(0.05)}
	d := &data{Answer: &report.Answer{Requires: []report.Required{
		{Claim: "further", Side: result.TurnsToHold, Method: result.AtMinimum, Inputs: []report.Moved{moved, near}},
		{Claim: "never", Side: result.TurnsToHold, Method: result.OutOfReach, Margin: is(-12), Unit: "km", Inputs: []report.Moved{moved}}}},
		manifest: &result.Manifest{}, noted: map[string]bool{}}
	s, shown := mustBeTrue(d)
	if !shown || d.figures != 1 {
		t.Fatalf("shown: %t, %d figures", shown, d.figures)
	}
	if got, want := string(s.Heading), "<i>further</i>: it most probably takes car.&lt;i&gt;mass at most 1420 kg (its 12th percentile)."; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	want := "nothing that is believed of the inputs makes it hold: the best falls short by 12.0 km; alone it would take car.&lt;i&gt;mass of 1380 kg, where 1500 kg is believed."
	if !strings.Contains(string(s.Body), want) || !strings.Contains(string(s.Body), "near") {
		t.Errorf("%s\nlacks %s", s.Body, want)
	}
	d.Requires = nil
	if _, shown := mustBeTrue(d); shown {
		t.Error("nothing is told of")
	}
}
