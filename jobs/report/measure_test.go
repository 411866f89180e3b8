package report

import (
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// TestMeasureInWords: what helps is told with what it leaves, the best for the money apart;
// where nothing alone turns the likelier answer a pair that does, else that nothing does.
func TestMeasureInWords(t *testing.T) {
	row := func(item, other string, low, gain, high, price float64, forMoney int64) result.MeasureRow {
		return result.MeasureRow{Claim: "c", Item: item, Other: other, Risk: 0.46, Gain: gain, GainLow: low, GainHigh: high, Price: price, PriceUnit: "EUR", RankForMoney: forMoney}
	}
	a := &Answer{Claims: []Claim{{Name: "c"}}, Measure: measuresOf([]result.MeasureRow{row("x", "", 0.14, 0.15, 0.16, 900, 2), row("y", "", 0.1, 0.12, 0.13, 100, 1), row("z", "", 0, 0.01, 0.02, 1, 0)})}
	m := a.Next("c")
	if got, want := m.InWords(), "x for 900 EUR: then 31 of 100 draws are judged wrongly, now 46 (15 fewer, 14 to 16)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := m.list(), "x for 900 EUR (15 fewer, 14 to 16); y for 100 EUR (12 fewer, 10 to 13); most for the money: y for 100 EUR"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	next, money := m.short()
	if want := "measure x for 900 EUR: wrong in 31 of 100 then, 46 now"; next != want {
		t.Errorf("%q, want %q", next, want)
	}
	if want := "y for 100 EUR: wrong in 34 of 100 then"; money != want {
		t.Errorf("%q, want %q", money, want)
	}
	a.Measure = measuresOf([]result.MeasureRow{row("x", "", 0, 0, 0, 1, 0), row("x", "y", 0.14, 0.2, 0.25, 1, 0)})
	if got := a.Next("c").InWords(); !strings.HasPrefix(got, "no single measurement turns this verdict; x and y") || !strings.Contains(got, "26 of 100") {
		t.Errorf("%q", got)
	}
	a.Measure = a.Measure[:0]
	if a.Next("c") != nil {
		t.Error("something of nothing")
	}
	for x, want := range map[float64]string{0: "0", 0.0004: "less than 0.1", 0.0123: "1.2", 0.456: "46"} {
		if got := Hundred(x); got != want {
			t.Errorf("%g: %q, want %q", x, got, want)
		}
	}
}
