package report

import (
	"math"
	"strconv"
	"strings"
)

// unknown stands in place of a number that nobody knows.
const unknown = "-"

// TooFewCount stands in place of ends that the draws which still count are too few to tell.
const TooFewCount = "too few draws count to say where nine in ten lie"

// Numbers writes values of one quantity with the digits that their spread
// deserves: two of it. What is nil or NaN is not known.
func Numbers(values ...*float64) []string {
	low, high := math.Inf(1), math.Inf(-1)
	whole := true
	known := func(v *float64) bool { return v != nil && *v == *v }
	for _, v := range values {
		if known(v) {
			low, high = min(low, *v), max(high, *v)
			whole = whole && *v == math.Trunc(*v)
		}
	}
	text := make([]string, len(values))
	for i, v := range values {
		if !known(v) {
			text[i] = unknown
		} else {
			text[i] = withoutMinusZero(number(*v, low, high, whole))
		}
	}
	return text
}

// Beyond these sizes numbers are written with an exponent.
const huge, tiny = 1e7, 1e-4

// longest is the size up to which all digits are written where it takes them to tell
// the ends of a range apart.
const longest = 1e12

func number(v, low, high float64, whole bool) string {
	size, spread := max(high, -low), high-low
	digits := 1.0 // behind the first, that tell the ends apart
	if spread > 0 {
		digits = math.Ceil(math.Log10(size/spread)) + 1
	}
	switch {
	case spread == 0 && (size < tiny || size >= huge):
		return strconv.FormatFloat(v, 'g', 5, 64)
	case spread == 0: // five digits, the others nil: never 4e+05
		x, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 5, 64), 64)
		return strconv.FormatFloat(x, 'f', -1, 64)
	case size < tiny || size >= huge && (digits < 6 || size >= longest):
		return strconv.FormatFloat(v, 'e', int(max(1, min(16, digits))), 64)
	case whole:
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', decimals(spread), 64)
}

// Short writes a number with three digits.
func Short(v float64) string {
	if size := math.Abs(v); v == 0 || size >= huge || size < tiny {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	return strconv.FormatFloat(v, 'f', max(0, 2-int(math.Floor(math.Log10(math.Abs(v))))), 64)
}

// alike reports whether two numbers are the same to the last digit, or both not known.
func alike(x, y *float64) bool {
	return x == nil && y == nil || x != nil && y != nil && *x == *y
}

// leftOver in any display unit is what rounding leaves of a difference that is nil.
const leftOver = 1e-9

// differs is a value of a quantity that is a change, a difference or a remainder: 0
// where it is no more than rounding.
func differs(quantity string, v *float64) *float64 {
	for _, suffix := range []string{"_change", "_difference", "_remainder"} {
		if v != nil && strings.HasSuffix(quantity, suffix) && math.Abs(*v) < leftOver {
			return new(float64)
		}
	}
	return v
}

// WithUnit adds a unit; a plain number has none.
func WithUnit(number, unit string) string {
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
