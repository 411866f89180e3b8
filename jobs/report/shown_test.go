package report

import (
	"math"
	"testing"

	"proofmass/jobs/result"
	"proofmass/jobs/shown"
)

// TestShownEverywhere: rows of every table that is told are in the units that are asked for,
// of differences without the zero of a scale. Factors: NIST SP 811 (2008), appendix B, exact:
// a pound is 0.45359237 kg, a mile 1609.344 m, t/degC = (t/degF - 32)/1.8.
func TestShownEverywhere(t *testing.T) {
	const lb, mile = 0.45359237, 1.609344
	rows := &tables{
		causes:   []result.CauseRow{{Output: "a.label_range", Unit: "km", Mean: 10}, {Output: "cell", Unit: "degC", Mean: -10, P05: -20}},
		levers:   []result.LeverRow{{Output: "a.label_range", Unit: "km", Mean: 3, P05: 2, P95: 4}, {Output: "cell", Unit: "degC", Mean: 5}},
		requires: []result.RequiredRow{{Input: "a.kerb_mass", Unit: "kg", Central: 1400, Needed: 1300, HalfAt: 1350, TurnsAt: 1320, AloneAt: 1280, Distance: -2, Margin: -7, MarginUnit: "km"}, {Input: "cell", Unit: "degC", Needed: 25}},
		measure:  []result.MeasureRow{{Item: "a.kerb_mass", Error: 2, ErrorUnit: "kg", SD: 9, Unit: "km"}},
	}
	rows.shown(shown.New([]shown.Wish{{Of: "range", In: "mile"}, {Of: "mass", In: "lb"}, {Of: "cell", In: "degF"}}))
	causes, levers, requires, measure := rows.causes, rows.levers, rows.requires, rows.measure
	for _, x := range []struct {
		what      string
		got, want float64
		unit, in  string
	}{
		{"a cause", causes[0].Mean, 10 / mile, causes[0].Unit, "mile"},
		{"a cause of temperature", causes[1].Mean, -18, causes[1].Unit, "degF"},
		{"its percentile", causes[1].P05, -36, causes[1].Unit, "degF"},
		{"a lever", levers[0].Mean, 3 / mile, levers[0].Unit, "mile"},
		{"its percentile", levers[0].P95, 4 / mile, levers[0].Unit, "mile"},
		{"a lever on temperature", levers[1].Mean, 9, levers[1].Unit, "degF"},
		{"a middle", requires[0].Central, 1400 / lb, requires[0].Unit, "lb"},
		{"a point", requires[0].Needed, 1300 / lb, requires[0].Unit, "lb"},
		{"an even chance", requires[0].HalfAt, 1350 / lb, requires[0].Unit, "lb"},
		{"a turn", requires[0].TurnsAt, 1320 / lb, requires[0].Unit, "lb"},
		{"a turn alone", requires[0].AloneAt, 1280 / lb, requires[0].Unit, "lb"},
		{"normal scores", requires[0].Distance, -2, "", ""},
		{"a margin", requires[0].Margin, -7, requires[0].MarginUnit, "km"},
		{"a temperature", requires[1].Needed, 77, requires[1].Unit, "degF"},
		{"a gauge's error", measure[0].Error, 2 / lb, measure[0].ErrorUnit, "lb"},
		{"the spread of a margin", measure[0].SD, 9, measure[0].Unit, "km"},
	} {
		if math.Abs(x.got-x.want) > 1e-12*math.Abs(x.want) || x.unit != x.in {
			t.Errorf("%s is %g %s, want %g %s", x.what, x.got, x.unit, x.want, x.in)
		}
	}
}
