package report

import (
	"strings"
	"testing"
)

func ptr(x float64) *float64 { return &x }

func TestFrequency(t *testing.T) {
	for _, c := range []struct {
		claim Claim
		want  string
	}{
		{Claim{Rows: 0}, "there are no draws"},
		{Claim{Rows: 131072, High: ptr(2.8e-5)}, "none of 131,072 draws holds it: at most 1 in 35,714"},
		{Claim{Rows: 100}, "none of 100 draws holds it"},
		{Claim{Rows: 4096, Held: 4096, Chance: 1}, "every one of 4,096 draws holds it"},
		{Claim{Rows: 6000, Held: 1000, Chance: 1.0 / 6}, "about 1 in 6 draws hold it"},
		{Claim{Rows: 6000, Held: 5000, Chance: 5.0 / 6}, "about 5 in 6 draws hold it"},
		{Claim{Rows: 1000, Held: 485, Chance: 0.485}, "about 1 in 2 draws hold it"},
		{Claim{Rows: 1000, Held: 700, Chance: 0.7}, "about 5 in 7 draws hold it"},
		{Claim{Rows: 1000, Held: 15, Chance: 0.015}, "about 1 in 67 draws hold it"},
		{Claim{Rows: 1000, Held: 992, Chance: 0.992}, "about 124 in 125 draws hold it"},
	} {
		if got := frequency(c.claim); got != c.want {
			t.Errorf("%d of %d: %q, want %q", c.claim.Held, c.claim.Rows, got, c.want)
		}
	}
}

// The ratio said is never further than 0.05 from the chance, nor, near 0 and 1,
// by more than a third of the distance to the end.
func TestRatioIsNear(t *testing.T) {
	for i := 1; i < 1000; i++ {
		p := float64(i) / 1000
		k, n := ratio(p)
		said := float64(k) / float64(n)
		if d := said - p; d > 0.05 || d < -0.05 || k < 0 || k > n {
			t.Errorf("%g is said as %d in %d", p, k, n)
		}
		if edge := min(p, 1-p); edge < 0.1 && (min(said, 1-said) > edge*1.34 || min(said, 1-said) < edge*0.66) {
			t.Errorf("%g is said as %d in %d", p, k, n)
		}
	}
}

func TestVerdictWords(t *testing.T) {
	for chance, want := range map[float64]string{0: "falls", 0.05: "falls", 0.0501: "in doubt", 0.9499: "in doubt", 0.95: "stands", 1: "stands"} {
		if got := verdict(Claim{Rows: 100, Chance: chance}); got != want {
			t.Errorf("%g %s, want %s", chance, got, want)
		}
	}
	if got := verdict(Claim{Rows: 100, Infeasible: 51, Chance: 0.04}); got != "can't be judged" {
		t.Errorf("with 51 of 100 draws infeasible: %s", got)
	}
}

func TestNumbersShareTheirDigits(t *testing.T) {
	for _, c := range []struct {
		in   []*float64
		want string
	}{
		{[]*float64{ptr(1477.3), ptr(1492.1), ptr(1507.4)}, "1477 1492 1507"},
		{[]*float64{ptr(-0.04), ptr(0.001), ptr(0.05)}, "-0.040 0.001 0.050"},
		{[]*float64{ptr(5), ptr(5)}, "5 5"},
		{[]*float64{nil, ptr(2.25)}, "- 2.25"},
		{[]*float64{ptr(40), ptr(42)}, "40 42"},
		{[]*float64{ptr(-2.5e-11), ptr(2e-11)}, "-2.5e-11 2.0e-11"},
		{[]*float64{ptr(1.23456e23), ptr(1.24e23)}, "1.2346e+23 1.2400e+23"},
		{[]*float64{ptr(1e-300), ptr(1e300)}, "1.0e-300 1.0e+300"},
		{[]*float64{ptr(-0.0004), ptr(1)}, "0.0 1.0"},
	} {
		if got := strings.Join(numbers(c.in...), " "); got != c.want {
			t.Errorf("numbers = %q, want %q", got, c.want)
		}
	}
}

func TestPercentTellsItsEndsApart(t *testing.T) {
	for _, c := range []struct {
		claim Claim
		want  string
	}{
		{Claim{Rows: 10, Held: 4, Chance: 0.4}, "40 %; too few draws to say how sure"},
		{Claim{Rows: 9, Held: 4, Chance: 0.48, Low: ptr(0.4791), High: ptr(0.4822)}, "48.0 %, 47.9 to 48.2"},
		{Claim{Rows: 9, Held: 4, Chance: 0.00021, Low: ptr(0.00018), High: ptr(0.00024)}, "0.021 %, 0.018 to 0.024"},
		{Claim{Rows: 9, Held: 9, Chance: 1, Low: ptr(0.99), High: ptr(1)}, "100 %"},
	} {
		if got := percent(c.claim); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestWrapKeepsAStrangersTextInItsPlace(t *testing.T) {
	text := "bond\x1b[31mred\x07 and\r\nmore \u202ewords " + strings.Repeat("long ", 40)
	got := Wrap(text, "    ", 80)
	if strings.ContainsAny(got, "\x1b\x07\r\u202e") {
		t.Errorf("control characters pass: %q", got)
	}
	for _, line := range strings.Split(strings.TrimSuffix(got, "\n"), "\n") {
		if len([]rune(line)) > 80 || !strings.HasPrefix(line, "    ") {
			t.Errorf("line %q", line)
		}
	}
	if got := fit("größere_bezeichnung", 10); got != "größere_.." {
		t.Errorf("fit = %q", got)
	}
}
