package report

import (
	"fmt"
	"math"
	"strconv"

	"proofmass/jobs/result"
)

// frequency says a chance as a natural frequency: "about 1 in 6 draws hold it".
func frequency(c Claim) string {
	switch {
	case c.Rows == 0:
		return "there are no draws"
	case c.Infeasible == c.Rows:
		return fmt.Sprintf("all of %s draws are infeasible", Grouped(c.Rows))
	case c.Verdict == result.NotJudged && 2*c.Infeasible <= c.Rows:
		return "it rests on what contradicts itself"
	case c.Rare():
		return c.rarely()
	case c.Held == 0 && c.High != nil && *c.High > 0:
		return fmt.Sprintf("none of %s draws holds it: at most 1 in %s", Grouped(c.Rows), Grouped(roundDown(1 / *c.High)))
	case c.Held == 0:
		return fmt.Sprintf("none of %s draws holds it", Grouped(c.Rows))
	case c.Held == c.Rows && c.Low != nil && *c.Low < 1:
		return fmt.Sprintf("every one of %s draws holds it: all but at most 1 in %s", Grouped(c.Rows), Grouped(roundDown(1/(1-*c.Low))))
	case c.Held == c.Rows:
		return fmt.Sprintf("every one of %s draws holds it", Grouped(c.Rows))
	}
	if text := c.vague(); text != "" {
		return text
	}
	low, high := 0.0, 1.0
	if c.Low != nil && c.High != nil {
		low, high = *c.Low, *c.High
	}
	held := ratioOf(c.Chance, low, high) + " draws hold it"
	if c.Side == result.Within && c.Verdict == result.InDoubt && high <= result.FallsTo {
		return held + "; the others lie on both sides of it, wider than it is"
	}
	return held
}

// vague says no more of a chance of weighted rows than its interval does, where that reaches
// much further from none or all than the chance.
func (c *Claim) vague() string {
	const further = 5
	switch {
	case c.Method != string(result.WeightedChance) || c.Low == nil || c.High == nil:
	case *c.High < 0.5 && *c.High > further*c.Chance:
		return "at most 1 in " + Grouped(roundDown(1 / *c.High)) + " draws hold it"
	case *c.Low > 0.5 && 1-*c.Low > further*(1-c.Chance):
		return "all but at most 1 in " + Grouped(roundDown(1/(1-*c.Low))) + " draws hold it"
	}
	return ""
}

// Often says a chance that is known as it is: "about 1 in 6".
func Often(chance float64) string {
	switch {
	case chance <= 0:
		return "nil"
	case chance >= 1:
		return "all but certain"
	}
	return ratioOf(chance, 0, 1)
}

// ratioOf is a ratio of two counts, each of two digits at most, that lies in the interval
// of a chance and near it: "about 2 in 5"; of nearly all "all but about 1 in 200". Where no
// such ratio lies in a narrow interval, it says on which side of the ratio the chance is.
func ratioOf(chance, low, high float64) string {
	if chance > 0.99 {
		return "all but " + ratioOf(1-chance, 1-high, 1-low)
	}
	within := 0.05 * min(chance, 1-chance)
	fits := func(k, n int64) bool {
		r := float64(k) / float64(n)
		return k > 0 && k < n && k < 100 && low <= r && r <= high && math.Abs(r-chance) <= within
	}
	about := func(k, n int64) string { return fmt.Sprintf("about %d in %s", k, Grouped(n)) }
	if n := twoDigits(1 / chance); fits(1, n) {
		return about(1, n)
	}
	if n := twoDigits(1 / (1 - chance)); fits(n-1, n) {
		return about(n-1, n)
	}
	for _, n := range []int64{2, 3, 4, 5, 10, 20, 100} { // that a person pictures at once
		if k := int64(math.Round(chance * float64(n))); fits(k, n) {
			return about(k, n)
		}
	}
	for _, step := range []int64{10, 5, 1} { // round numbers first: 17 in 60 before 15 in 53
		for size := int64(1); size < 1_000_000; size *= 10 {
			for n := 10 + step; n < 100; n += step {
				if k := int64(math.Round(chance * float64(n*size))); fits(k, n*size) {
					if size == 1 { // 5 in 8, not 25 in 40; but 2 in 250, not 1 in 125
						n, k = n/commonDivisor(k, n), k/commonDivisor(k, n)
					}
					return about(k, n*size)
				}
			}
		}
	}
	return beside(chance)
}

func commonDivisor(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// beside says on which side of the nearest simple ratio a chance lies.
func beside(chance float64) string {
	k, n := int64(1), twoDigits(1/chance)
	if all := twoDigits(1 / (1 - chance)); all <= 100 && off(chance, all-1, all) < off(chance, k, n) {
		k, n = all-1, all
	}
	for _, of := range []int64{2, 3, 4, 5, 10, 20, 100} {
		if near := int64(math.Round(chance * float64(of))); near > 0 && near < of && near < 100 && off(chance, near, of) < off(chance, k, n) {
			k, n = near, of
		}
	}
	side := "a little over"
	if float64(k)/float64(n) > chance {
		side = "a little under"
	}
	return fmt.Sprintf("%s %d in %s", side, k, Grouped(n))
}

func off(chance float64, k, n int64) float64 { return math.Abs(float64(k)/float64(n) - chance) }

// twoDigits rounds a number from 1 on to two digits.
func twoDigits(x float64) int64 {
	power := math.Pow(10, max(0, math.Floor(math.Log10(x))-1))
	return int64(math.Round(x/power) * power)
}

// roundDown cuts a number from 1 on to two digits, so that "at most 1 in" stays true.
func roundDown(x float64) int64 {
	power := math.Pow(10, max(0, math.Floor(math.Log10(x))-1))
	return int64(math.Floor(x/power+1e-9) * power)
}

// Percent writes the chance and, where there is one, its interval in per cent, with
// digits enough to tell the ends of the interval apart.
func (c *Claim) Percent() string {
	switch alone := strconv.FormatFloat(100*c.Chance, 'g', 3, 64) + " %"; {
	case c.Low == nil || c.High == nil:
		return alone + "; no interval"
	case c.Rare() && (c.Chance == 0 || c.Chance == 1):
		return alone
	case !c.Rare() && (c.Held == 0 || c.Held == c.Rows):
		return alone
	}
	p, low, high := 100*c.Chance, 100**c.Low, 100**c.High
	digits, most, rest := 1, 6, min(p, 100-p)
	if c.Rare() {
		most = 10
	}
	if c.vague() != "" {
		rest = 100 // the interval says no more of it
	}
	for digits < most && (math.Abs(high-low) < math.Pow(10, -float64(digits)) || rest < math.Pow(10, -float64(digits))) {
		digits++
	}
	write := func(x float64) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	return fmt.Sprintf("%s %%, %s to %s", write(p), write(low), write(high))
}
