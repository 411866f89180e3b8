package page

import (
	"strings"
	"testing"

	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

func averaged(mean float64) report.Averaged {
	low, high := mean-1, mean+1
	return report.Averaged{Mean: &mean, Low: &low, High: &high, P05: &low, P50: &mean, P95: &high}
}

// TestWhatMakes: a section tells the gain that is claimed first, its causes with their parts
// among the numbers, and nothing where a gain has one cause without parts.
func TestWhatMakes(t *testing.T) {
	several := report.Gain{Output: "b.label_range_change", Unit: "%", Total: averaged(8.1), Causes: []report.Cause{
		{Name: "mass", Averaged: averaged(4.9), Parts: []report.Cause{{Name: "cells", Averaged: averaged(3.9)}, {Name: "pack <i>", Averaged: averaged(1)}}},
		{Name: "air drag", Averaged: averaged(3.2)}}}
	single := report.Gain{Output: "b.city_range_change", Unit: "%", Total: averaged(2), Causes: []report.Cause{{Name: "mass", Averaged: averaged(2)}}}
	other := report.Gain{Output: "b.kerb_mass_change", Unit: "%", Total: averaged(-3), Causes: []report.Cause{
		{Name: "mass", Averaged: averaged(-3), Parts: []report.Cause{{Name: "cells", Averaged: averaged(-3)}}}}}
	d := &data{Answer: &report.Answer{Gains: []report.Gain{other, single, several}, Claims: []report.Claim{{Name: "further", Of: "b.label_range_change"}}},
		manifest: &result.Manifest{}, noted: map[string]bool{}}
	s, shown := whatMakes(d)
	if !shown || d.figures != 2 {
		t.Fatalf("shown: %t, %d figures", shown, d.figures)
	}
	heading := string(s.Heading)
	want := "Change of label range of <i>b</i>: mass +4.9, air drag +3.2; mean +8.1 points."
	if !strings.HasPrefix(heading, want) {
		t.Errorf("%s\ndoes not begin with\n%s", heading, want)
	}
	for _, part := range []string{"pack &lt;i&gt;", "\u22123.0", "+4.9"} {
		if !strings.Contains(string(s.Body), part) {
			t.Errorf("the section lacks %q", part)
		}
	}
	d.Gains = []report.Gain{single}
	if _, shown := whatMakes(d); shown {
		t.Error("a single cause without parts is told")
	}
}
