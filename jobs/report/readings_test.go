package report

import (
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// Readings that are equally often compatible are not told as if one were the best.
func TestEqualReadings(t *testing.T) {
	told := func(chances ...float64) string {
		var rows []result.ReadingRow
		for i, chance := range chances {
			of := string(rune('a' + i))
			for _, claim := range []string{"c", ""} {
				rows = append(rows, result.ReadingRow{Claim: claim, Of: of, Chance: chance, Low: chance - 0.01, High: chance + 0.01, Held: int64(1000 * chance), Rows: 1000})
			}
		}
		return readingsOf(rows).Told()
	}
	for want, got := range map[string]string{
		"together equally often in both: ":                         told(0.2, 0.2),
		"together equally often in all of them: ":                  told(0.2, 0.2, 0.2),
		"together equally often in 2, less often in the others: ":  told(0.1, 0.2, 0.2),
		"together most often as stated: ":                          told(0.3, 0.2),
		"together most often with c as b: ":                        told(0.2, 0.3),
		"Of 2 combinations of what the claims could mean none has": told(0, 0),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}
