package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Chances from which a claim is said to stand, and up to which to fall. Common
// practice, no source: 19 of 20.
const stands, falls = 0.95, 0.05

func verdict(c Claim) string {
	switch {
	case c.Rows == 0 || 2*c.Infeasible > c.Rows:
		return "can't be judged"
	case c.Chance >= stands:
		return "stands"
	case c.Chance <= falls:
		return "falls"
	}
	return "in doubt"
}

// frequency says a chance as a natural frequency: "about 1 in 6 draws hold it".
func frequency(c Claim) string {
	switch {
	case c.Rows == 0:
		return "there are no draws"
	case c.Infeasible == c.Rows:
		return fmt.Sprintf("all of %s draws are infeasible", Grouped(c.Rows))
	case c.Held == 0 && c.High != nil && *c.High > 0:
		return fmt.Sprintf("none of %s draws holds it: at most 1 in %s", Grouped(c.Rows), Grouped(int64(math.Floor(1 / *c.High))))
	case c.Held == 0:
		return fmt.Sprintf("none of %s draws holds it", Grouped(c.Rows))
	case c.Held == c.Rows:
		return fmt.Sprintf("every one of %s draws holds it", Grouped(c.Rows))
	}
	k, n := ratio(c.Chance)
	return fmt.Sprintf("about %s in %s draws hold it", Grouped(k), Grouped(n))
}

// ratio is the simplest k in n within 0.02 of a chance, n up to 10; near 0 and 1
// it is one in n, or all but one.
func ratio(chance float64) (k, n int64) {
	switch rest := 1 - chance; {
	case chance < 0.1:
		return 1, int64(math.Round(1 / chance))
	case rest < 0.1:
		n = int64(math.Round(1 / rest))
		return n - 1, n
	}
	for n = 2; n < 10; n++ {
		k = int64(math.Round(chance * float64(n)))
		if k > 0 && k < n && math.Abs(chance-float64(k)/float64(n)) <= 0.02 {
			return k, n
		}
	}
	return int64(math.Round(chance * 10)), 10
}

// Grouped writes a count with a comma between thousands.
func Grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// percent writes a chance and, where there is one, its interval in per cent, with
// digits enough to tell the ends of the interval apart.
func percent(c Claim) string {
	switch alone := strconv.FormatFloat(100*c.Chance, 'g', 3, 64) + " %"; {
	case c.Low == nil || c.High == nil:
		return alone + "; too few draws to say how sure"
	case c.Held == 0 || c.Held == c.Rows:
		return alone
	}
	p, low, high := 100*c.Chance, 100**c.Low, 100**c.High
	digits := 1
	for digits < 6 && math.Abs(high-low) < math.Pow(10, -float64(digits)) {
		digits++
	}
	write := func(x float64) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	return fmt.Sprintf("%s %%, %s to %s", write(p), write(low), write(high))
}

// negligible in any display unit: what is left of a sum that should be nil.
const negligible = 1e-9

// numbers writes values of one quantity with the digits that their spread
// deserves: two of it.
func numbers(values ...*float64) []string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if v != nil {
			low, high = min(low, *v), max(high, *v)
		}
	}
	text := make([]string, len(values))
	for i, v := range values {
		switch {
		case v == nil:
			text[i] = "-"
		case high == low:
			text[i] = strconv.FormatFloat(*v, 'g', 5, 64)
		case max(high, -low) < negligible:
			text[i] = "0"
		default:
			text[i] = withoutMinusZero(strconv.FormatFloat(*v, 'f', decimals(high-low), 64))
		}
	}
	return text
}

// alike writes pairs of values of one quantity with the same digits: two of the
// smallest difference within a pair, but no more than three of the largest.
func alike(pairs [][2]*float64) [][2]string {
	smallest, largest := math.Inf(1), 0.0
	for _, p := range pairs {
		if p[0] != nil && p[1] != nil {
			if d := math.Abs(*p[1] - *p[0]); d > 0 {
				smallest, largest = min(smallest, d), max(largest, d)
			}
		}
	}
	text := make([][2]string, len(pairs))
	for i, p := range pairs {
		for k, v := range p {
			switch {
			case v == nil:
				text[i][k] = "-"
			case largest == 0:
				text[i][k] = strconv.FormatFloat(*v, 'g', 5, 64)
			default:
				text[i][k] = withoutMinusZero(strconv.FormatFloat(*v, 'f', min(decimals(smallest), decimals(largest/10)), 64))
			}
		}
	}
	return text
}

// withUnit adds a unit; a plain number has none.
func withUnit(number, unit string) string {
	if unit == "" || unit == "1" {
		return number
	}
	return number + " " + unit
}

func decimals(spread float64) int {
	return max(0, min(9, 1-int(math.Floor(math.Log10(spread)))))
}

func withoutMinusZero(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// Wrap breaks text into lines of at most width characters, each behind indent.
// Control characters, which a study's text may hold, are dropped.
func Wrap(text, indent string, width int) string {
	var b strings.Builder
	line := 0
	for _, word := range strings.Fields(Printable(text)) {
		switch size := len([]rune(word)); {
		case line == 0:
			b.WriteString(indent + word)
			line = len(indent) + size
		case line+1+size > width:
			b.WriteString("\n" + indent + word)
			line = len(indent) + size
		default:
			b.WriteString(" " + word)
			line += 1 + size
		}
	}
	b.WriteString("\n")
	return b.String()
}

// Printable keeps a stranger's text from steering a terminal.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return ' '
		}
		return r
	}, s)
}

// fit shortens a name to n characters.
func fit(s string, n int) string {
	r := []rune(Printable(s))
	if len(r) <= n {
		return string(r)
	}
	return string(r[:n-2]) + ".."
}
