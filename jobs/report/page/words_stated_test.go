package page

import "testing"

// A limit keeps the digits that it has, however few those of the draws beside it are.
func TestLimitKeepsItsDigits(t *testing.T) {
	p05, limit, p95 := -12.3, -1.75, 14.8
	if rounded := figures(&p05, &limit, &p95)[1]; rounded == "−1.75" {
		t.Errorf("numbers of draws have so many digits: %s; another case is needed", rounded)
	}
	for v, want := range map[float64]string{-1.75: "−1.75", 1700: "1700", 11.5: "11.5", 0.65: "0.65"} {
		if got := stated(&v); got != want {
			t.Errorf("%v is shown as %s, want %s", v, got, want)
		}
	}
	if got := stated(nil); got != unknown {
		t.Errorf("nothing is shown as %s", got)
	}
}
