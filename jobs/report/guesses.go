package report

import (
	"fmt"
	"math"

	"proofmass/jobs/result"
)

// widthRange is the smallest and the largest of a claim's chances: as stated, and with all
// guessed widths halved and doubled. It is not there where the claim rests on no guessed width.
func (c *Claim) widthRange() (low, high float64, there bool) {
	if c.Halved == nil || c.Doubled == nil {
		return 0, 0, false
	}
	return min(c.Chance, *c.Halved, *c.Doubled), max(c.Chance, *c.Halved, *c.Doubled), true
}

// Behind is what stands in brackets behind a chance: how far the widths that are but guesses
// move it, else the chance in per cent with its interval. It says what the verdict rests on.
func (c *Claim) Behind() string {
	low, high, there := c.widthRange()
	switch {
	case c.Rows == 0 || c.Infeasible == c.Rows:
		return ""
	case !there && !c.Rare() && (c.Held == 0 || c.Held == c.Rows):
		return c.restsOnDefaults("rests on ")
	case !there:
		return c.Percent() + c.restsOnDefaults("; rests on ")
	}
	return fmt.Sprintf("%s with its %s halved and doubled%s", c.widthWords(low, high), guessedWidths(c.Guesses), c.restsOnDefaults(", and rests on "))
}

func guessedWidths(n int64) string {
	if n == 1 {
		return "guessed width"
	}
	return Grouped(n) + " guessed widths"
}

func (c *Claim) restsOnDefaults(head string) string {
	switch c.Defaults {
	case 0:
		return ""
	case 1:
		return head + "1 default"
	}
	return head + Grouped(c.Defaults) + " defaults"
}

// widthWords are the ends of the range in words: "1 in 12 to 1 in 4".
func (c *Claim) widthWords(low, high float64) string {
	from, to := c.endWords(low), c.endWords(high)
	words := from + " to " + to
	if from == to {
		words = "still " + to
	}
	switch {
	case c.Verdict == result.Stands && low < result.StandsFrom, c.Verdict == result.Falls && high > result.FallsTo:
		words = "only as firm as guesses: " + words
	}
	return words
}

// endWords is a chance that few draws tell: of none it says below what it must lie.
func (c *Claim) endWords(chance float64) string {
	n := float64(c.WidthRows)
	switch below := 3 / n; {
	case chance < below:
		return "under 1 in " + Grouped(roundDown(n/3))
	case chance > 1-below:
		return "all but under 1 in " + Grouped(roundDown(n/3))
	}
	return ratio(chance)
}

// ratio is a chance as "1 in 12" where it is rare, "11 in 12" where it nearly always comes,
// else in tenths or twentieths.
func ratio(chance float64) string {
	switch {
	case chance < 0.28:
		return "1 in " + Grouped(twoDigits(1/chance))
	case chance > 0.99:
		return "all but 1 in " + Grouped(twoDigits(1/(1-chance)))
	case chance > 0.72:
		n := twoDigits(1 / (1 - chance))
		return fmt.Sprintf("%d in %d", n-1, n)
	}
	for _, of := range []int64{2, 3, 5, 10} {
		if k := math.Round(chance * float64(of)); math.Abs(k/float64(of)-chance) <= 0.02 {
			return fmt.Sprintf("%.0f in %d", k, of)
		}
	}
	return fmt.Sprintf("%.0f in 20", math.Round(20*chance))
}

// fullBehind tells the chance in per cent too.
func (c *Claim) fullBehind() string {
	if _, _, there := c.widthRange(); !there {
		return c.Percent() + c.restsOnDefaults("; rests on ")
	}
	return c.Behind() + "; " + c.Percent()
}

// brackets says what stands in them.
func (a *Answer) brackets() string {
	guessed, sampled := false, false
	for i := range a.Claims {
		if _, _, there := a.Claims[i].widthRange(); there {
			guessed = true
		} else {
			sampled = true
		}
	}
	switch {
	case guessed && sampled:
		return "if guesses err, or sampling error"
	case guessed:
		return "if guesses err"
	}
	return "sampling error alone"
}
