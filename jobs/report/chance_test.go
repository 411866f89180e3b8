package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

func TestFrequency(t *testing.T) {
	for _, c := range []struct {
		claim Claim
		want  string
	}{
		{Claim{Rows: 0}, "there are no draws"},
		{Claim{Rows: 131072, High: ptr(2.8e-5)}, "none of 131,072 draws holds it: at most 1 in 35,000"},
		{Claim{Rows: 100}, "none of 100 draws holds it"},
		{Claim{Rows: 4096, Held: 4096, Chance: 1}, "every one of 4,096 draws holds it"},
		{Claim{Rows: 4096, Held: 4096, Chance: 1, Low: ptr(0.9991), High: ptr(1)}, "every one of 4,096 draws holds it: all but at most 1 in 1,100"},
		{Claim{Rows: 6000, Held: 1000, Chance: 1.0 / 6}, "about 1 in 6 draws hold it"},
		{Claim{Rows: 6000, Held: 5000, Chance: 5.0 / 6}, "about 5 in 6 draws hold it"},
		{Claim{Rows: 1000, Held: 485, Chance: 0.485}, "about 1 in 2 draws hold it"},
		{Claim{Rows: 1000, Held: 700, Chance: 0.7}, "about 7 in 10 draws hold it"},
		{Claim{Rows: 1000, Held: 15, Chance: 0.015}, "about 1 in 67 draws hold it"},
		{Claim{Rows: 1000, Held: 900, Chance: 0.9, Low: ptr(0.898), High: ptr(0.902)}, "about 9 in 10 draws hold it"},
		{Claim{Rows: 4096, Held: 2560, Chance: 0.625, Low: ptr(0.621), High: ptr(0.629)}, "about 5 in 8 draws hold it"},
		{Claim{Rows: 131072, Held: 47, Chance: 1.0 / 2789, Low: ptr(0.00027), High: ptr(0.00048)}, "about 1 in 2,800 draws hold it"},
		{Claim{Rows: 1000, Held: 992, Chance: 0.992, Low: ptr(0.985), High: ptr(0.996)}, "all but about 1 in 120 draws hold it"},
		{Claim{Rows: 1000, Held: 990, Chance: 0.99, Low: ptr(0.982), High: ptr(0.995)}, "about 99 in 100 draws hold it"},
		{Claim{Rows: 2_000_000, Held: 1_005_000, Chance: 0.5025, Low: ptr(0.5018), High: ptr(0.5032)}, "a little over 1 in 2 draws hold it"},
	} {
		if got := frequency(c.claim); got != c.want {
			t.Errorf("%d of %d: %q, want %q", c.claim.Held, c.claim.Rows, got, c.want)
		}
	}
}

// A ratio lies in the interval beside it, or says on which side of it the chance is; it
// has two digits at most, and is near.
func TestRatioLiesInItsInterval(t *testing.T) {
	beside := 0
	for i := 1; i < 2000; i++ {
		p := float64(i) / 2000
		for _, rows := range []float64{20, 300, 4096, 131072, 1e7} {
			half := 2 * math.Sqrt(p*(1-p)/rows)
			low, high := max(0, p-half), min(1, p+half)
			text := ratioOf(p, low, high)
			said := ratioSaid(t, text)
			switch {
			case strings.Contains(text, "over"):
				beside++
				if inside := strings.HasPrefix(text, "all but"); (said < p) == inside {
					t.Errorf("%g is said as %q", p, text)
				}
			case strings.Contains(text, "under"):
				beside++
				if inside := strings.HasPrefix(text, "all but"); (said > p) == inside {
					t.Errorf("%g is said as %q", p, text)
				}
			case said < low || said > high:
				t.Errorf("%g, %g to %g, is said as %q", p, low, high, text)
			}
			if edge := min(p, 1-p); math.Abs(said-p) > 0.2*edge {
				t.Errorf("%g is said as %q: far off", p, text)
			}
		}
	}
	if beside > 1000 {
		t.Errorf("%d of 9995 chances have no ratio of their own", beside)
	}
}

// ratioSaid reads the chance that a ratio says.
func ratioSaid(t *testing.T, text string) float64 {
	t.Helper()
	words := strings.Fields(strings.ReplaceAll(text, ",", ""))
	var k, n float64
	if _, err := fmt.Sscanf(strings.Join(words[len(words)-3:], " "), "%g in %g", &k, &n); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	for _, count := range []float64{k, n} {
		if digits := strings.TrimRight(strconv.FormatFloat(count, 'f', 0, 64), "0"); len(digits) > 2 {
			t.Errorf("%q has more than two digits", text)
		}
	}
	if strings.HasPrefix(text, "all but") {
		return 1 - k/n
	}
	return k / n
}

func TestPercentTellsItsEndsApart(t *testing.T) {
	for _, c := range []struct {
		claim Claim
		want  string
	}{
		{Claim{Rows: 10, Held: 4, Chance: 0.4}, "40 %; no interval"},
		{Claim{Rows: 9, Held: 4, Chance: 0.48, Low: ptr(0.4791), High: ptr(0.4822)}, "48.0 %, 47.9 to 48.2"},
		{Claim{Rows: 9, Held: 4, Chance: 0.00021, Low: ptr(0.00018), High: ptr(0.00024)}, "0.021 %, 0.018 to 0.024"},
		{Claim{Rows: 2048, Held: 1, Chance: 1. / 2048, Low: ptr(1.2e-5), High: ptr(0.0027)}, "0.05 %, 0.00 to 0.27"}, // not 0.0 %
		{Claim{Rows: 2048, Held: 2047, Chance: 2047. / 2048, Low: ptr(0.9973), High: ptr(0.999988)}, "99.95 %, 99.73 to 100.00"},
		{Claim{Rows: 4096, Held: 4095, Chance: 1 - 7e-12, Low: ptr(0.9689), High: ptr(1), Method: string(result.WeightedChance)}, "100.0 %, 96.9 to 100.0"}, // a hair below all, by weights
		{Claim{Rows: 9, Held: 9, Chance: 1, Low: ptr(0.99), High: ptr(1)}, "100 %"},
	} {
		if got := c.claim.Percent(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
