package report

import (
	"strings"
	"testing"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// "in every draw" is said only where it is so, and digits tell the ends of a range apart.
func TestInEveryDrawOnlyWhereItIsSo(t *testing.T) {
	for _, c := range []struct {
		size Size
		want string
	}{
		{Size{Quantity: "y", Spread: Spread{P05: ptr(50000001), P50: ptr(50000010), P95: ptr(50000019)}}, "50000001 to 50000019"},
		{Size{Quantity: "y", Spread: Spread{Unit: "kg", P05: ptr(3), P50: ptr(3), P95: ptr(3)}}, "kg in nine in ten draws"},
		{Size{Quantity: "y", Constant: true, Spread: Spread{Unit: "kg", P05: ptr(3), P50: ptr(3), P95: ptr(3)}}, "kg in every draw"},
		{Size{Quantity: "share_difference", Spread: Spread{Unit: "%", P05: ptr(1), P50: ptr(2.5), P95: ptr(3)}}, "1.0 to 3.0 points"},
	} {
		b := page{width: usualWidth}
		(&Answer{}).writeSize(&b, c.size.Quantity, true, c.size)
		if !strings.HasSuffix(b.String(), c.want+"\n") {
			t.Errorf("%q, want it to end with %q", b.String(), c.want)
		}
	}
	row := result.SummaryRow{Quantity: "y", Min: 50000000, Max: 50000020}
	if constant(&row) {
		t.Error("50000000 to 50000020 is said to be the same in every draw")
	}
	row.Max = 50000000
	if !constant(&row) {
		t.Error("50000000 in every draw is not said to be")
	}
}

// Of a vehicle that has the baseline's value in every draw nothing is repeated.
func TestNoCopiesOfTheBaseline(t *testing.T) {
	size := func(vehicle, quantity string, constant bool, x float64) Size {
		return Size{Name: vehicle + "." + quantity, Vehicle: vehicle, Quantity: quantity, Constant: constant, Spread: Spread{Unit: "kg", P05: ptr(x), P50: ptr(x), P95: ptr(x + 1)}}
	}
	a := Answer{Sizes: []Size{size("old", "mass", false, 9), size("twin", "mass", false, 9), size("new", "mass", false, 8),
		size("twin", "mass_change", true, 0), size("new", "mass_change", false, -2)}}
	for _, full := range []bool{false, true} {
		var b strings.Builder
		if err := a.Text(&b, TextOptions{Full: full}); err != nil {
			t.Fatal(err)
		}
		if strings.Count(b.String(), "twin") != 1 || !strings.Contains(b.String(), "old, twin") {
			t.Errorf("full %v: %s", full, b.String())
		}
	}
}

// An input has one share, in the words on a claim and at its bar: that of what the words
// are about.
func TestOneShareForOneInput(t *testing.T) {
	a := Answer{
		Claims: []Claim{{Name: "c", Of: "y", Verdict: result.InDoubt, Rows: 100, Held: 40, Chance: 0.4, DecidedOf: result.OfHolds, HangsOn: "Whether c holds hangs on x (76 %)."}},
		Decides: []Decides{
			{Output: "y", Of: result.OfOutput, Claims: []string{"c"}, Inputs: []Share{{Input: "x", Share: ptr(0.66), Form: result.OneAtATime, AtLow: ptr(1), AtHigh: ptr(2), InLow: ptr(3), InHigh: ptr(4)}}},
			{Output: "c", Of: result.OfHolds, Inputs: []Share{{Input: "x", Share: ptr(0.76)}}},
		},
	}
	for _, full := range []bool{false, true} {
		var b strings.Builder
		if err := a.Text(&b, TextOptions{Full: full}); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(b.String(), "66") || !strings.Contains(b.String(), "x (76 %)") || full && !strings.Contains(b.String(), " 76%  x ") {
			t.Errorf("full %v: %s", full, b.String())
		}
	}
}

// What is said of an announcement, in words.
func TestTestedInWords(t *testing.T) {
	for _, c := range []struct {
		claim Claim
		want  string
	}{
		{Claim{Announced: ptr(12), RoundedTo: ptr(1), Limit: ptr(11.5), Side: result.Above, Unit: "%"}, "at least 11.5 %, since 12 % is rounded to 1 %"},
		{Claim{Announced: ptr(-4), RoundedTo: ptr(1), Limit: ptr(-3.5), Side: result.Below, Unit: "%"}, "at most -3.5 %, since -4 % is rounded to 1 %"},
		{Claim{Announced: ptr(400), Limit: ptr(400), Side: result.Below, Unit: "kg"}, "at most 400 kg"},
		{Claim{Announced: ptr(0.6), RoundedTo: ptr(0.1), Side: result.Within, Unit: "kg"}, "from 0.55 kg to 0.65 kg, since 0.6 kg is rounded to 0.1 kg"},
		{Claim{}, ""},
	} {
		if got := c.claim.Tested(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// Verdicts are counted in a sentence.
func TestVerdictsCounted(t *testing.T) {
	for want, verdicts := range map[string][]result.Verdict{
		"Nothing is claimed; this is how large things are.":                    {},
		"Its one claim has too few draws to say.":                              {result.TooFew},
		"Both claims fall.":                                                    {result.Falls, result.Falls},
		"All three claims fall.":                                               {result.Falls, result.Falls, result.Falls},
		"Of four claims one stands, two are in doubt and one can't be judged.": {result.InDoubt, result.NotJudged, result.InDoubt, result.Stands},
	} {
		a := Answer{Claims: []Claim{{Name: study.AllClaims, Verdict: result.Falls}}}
		for _, v := range verdicts {
			a.Claims = append(a.Claims, Claim{Name: "c", Verdict: v})
		}
		if got := a.Tally(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
