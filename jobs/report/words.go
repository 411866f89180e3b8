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

// Wrap breaks text into lines of at most width characters, each behind indent.
// Control characters, which a study's text may hold, are dropped.
func Wrap(text, indent string, width int) string {
	var b strings.Builder
	line := 0
	for _, word := range joined(strings.Fields(Printable(text))) {
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

// joined keeps a per cent sign on the line of its number.
func joined(words []string) []string {
	var kept []string
	for _, w := range words {
		if n := len(kept); n > 0 && strings.HasPrefix(w, "%") {
			kept[n-1] += " " + w
		} else {
			kept = append(kept, w)
		}
	}
	return kept
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

// fitName shortens a full name to n characters: from the vehicle first, since what is
// said of it stands behind the point.
func fitName(s string, n int) string {
	vehicle, quantity, found := strings.Cut(Printable(s), ".")
	room := n - len([]rune(quantity)) - 1
	if over := len([]rune(s)) > n; !over || !found || room < 4 {
		return fit(s, n)
	}
	return fit(vehicle, room) + "." + quantity
}
