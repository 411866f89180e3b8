package report

import "testing"

func TestJointInWords(t *testing.T) {
	chance, low, high := 0.25, 0.24, 0.26
	for want, j := range map[string]Joint{
		"where a holds (4,000 draws) b does so in about 1 in 4 of them (25.0 %, 24.0 to 26.0)": {Chance: &chance, Low: &low, High: &high, Both: 1000, Rows: 4000},
		"where a holds (4,000 draws) b does so in none of them: they exclude each other":       {Rows: 4000, Excludes: true},
		"where a holds (4 draws) b does so in no draw":                                         {Rows: 4},
		"where a holds (4 draws) b does so in every one of them":                               {Both: 4, Rows: 4},
		"where a holds: in no draw, so nothing is known of b there":                            {},
	} {
		if j.Claim, j.Given = "b", "a"; j.InWords() != want {
			t.Errorf("%q, want %q", j.InWords(), want)
		}
	}
}
