package unit

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// mostNumber bounds a number's text in bytes; the shortest text of a double
// has at most 24.
const mostNumber = 64

// mistake is a way of writing a number that is refused by name. The first
// whose pattern matches speaks; $1 and $2 in the advice are its groups.
type mistake struct {
	pattern *regexp.Regexp
	advice  string
}

var mistakes = []mistake{
	{regexp.MustCompile(`^[+-]?0[xX]`), "hexadecimal numbers are not allowed; write it in decimal digits"},
	{regexp.MustCompile(`^[+-]?0[bB][01_]*$`), "binary numbers are not allowed; write it in decimal digits"},
	{regexp.MustCompile(`^[+-]?0[oO]`), "octal numbers are not allowed; write it in decimal digits"},
	{regexp.MustCompile(`^([+-]?)0+_*([1-9][0-9_]*|0)$`), "a leading 0 could mean an octal number; write $1$2"},
	{regexp.MustCompile(`^([+-]?)0+([0-9][0-9_]*[.eE].*)$`), "a number starts with one 0 at most; write $1$2"},
	{regexp.MustCompile(`^(?i)[+-]?\.?inf(inity)?$`), "an infinite value is not allowed; leave the limit out"},
	{regexp.MustCompile(`^(?i)[+-]?\.?nan$`), "NaN is not allowed; leave the value out"},
	{regexp.MustCompile(`^\d{4}-\d{1,2}(-\d{1,2})?([tT ].*)?$`), "this is a date, not a number"},
	{regexp.MustCompile(`^[+-]?\d+(:\d+)+(\.\d*)?$`), "this is a time of day or a base 60 number; write it in one unit, as in 90 min"},
	{regexp.MustCompile(`^([+-]?[1-9]\d{0,2}),(\d{3})$`), "a comma is not allowed: write ${1}_$2 for a thousand, $1.$2 for a decimal point"},
	{regexp.MustCompile(`^([+-]?\d+),(\d+)$`), "the decimal sign is a point: write $1.$2"},
	{regexp.MustCompile(`^[+-]?\d{1,3}(\.\d{3})+,\d+$`), "the decimal sign is a point, and nothing but _ groups digits: 1_950.5"},
	{regexp.MustCompile(`^[+-]?\d{1,3}(\.\d{3}){2,}$`), "a number has one point; digits are grouped by _: 1_000"},
	{regexp.MustCompile(`^[+-]?\d{1,3}(,\d{3})+(\.\d*)?$`), "commas are not allowed; digits may be grouped by _: 1_000"},
	{regexp.MustCompile(`^[+-]?\d+(['’ ]\d+)+$`), "digits are grouped by _ only: 1_000"},
	{regexp.MustCompile(`^[−–]`), "the sign is not the minus of the keyboard: write -"},
	{regexp.MustCompile(`^\d+/\d+$`), "a fraction is not a number; write it as a decimal, or as a formula"},
	{regexp.MustCompile(`^[+-]?\.?_+\d|^[+-]?[\d_]*\._|^[+-]?\.?\d[\d_.eE+-]*_(\D|$)`), "a _ stands only between two digits"},
	{regexp.MustCompile(`^[+-]?\.?\d[\d_.]*[eE][+-]?$`), "the digits of the exponent are missing"},
}

var (
	wellFormed = regexp.MustCompile(`^[+-]?(\d(_?\d)*(\.(\d(_?\d)*)?)?|\.\d(_?\d)*)([eE][+-]?\d+)?$`)
	octal      = regexp.MustCompile(`^[+-]?0_?\d`)
	notZero    = regexp.MustCompile(`^[^eE]*[1-9]`)
)

// ParseNumber reads a number in the project's own grammar: decimal digits with
// an optional sign, point, exponent, and _ between digits (1_000, 1e3, -0.5).
// Octal, hexadecimal and binary numbers, infinities, NaN, dates, base 60,
// decimal commas and what a double can't hold are refused, each by name. The
// text has no blanks around it. The error is an *Error.
func ParseNumber(text string) (float64, error) {
	refuse := func(parts ...string) (float64, error) {
		return 0, refusal(0, parts...)
	}
	if text == "" {
		return refuse("no number was found")
	}
	if len(text) > mostNumber {
		return refuse("a number of ", strconv.Itoa(len(text)), " characters; at most ", strconv.Itoa(mostNumber), " are allowed")
	}
	if !wellFormed.MatchString(text) || octal.MatchString(text) {
		return refuse(quote(text), " is no number; ", advice(text))
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(text, "_", ""), 64)
	if err != nil || math.IsInf(x, 0) {
		return refuse(quote(text), " is out of range; the largest number is about 1.8e308")
	}
	if x == 0 && notZero.MatchString(text) {
		return refuse(quote(text), " is out of range; the smallest number above 0 is about 4.9e-324")
	}
	return x, nil
}

func advice(text string) string {
	for _, m := range mistakes {
		if at := m.pattern.FindStringSubmatchIndex(text); at != nil {
			return string(m.pattern.ExpandString(nil, m.advice, text, at))
		}
	}
	return "decimal digits are allowed, with a sign, a point and an exponent: -0.5, 1e3, 1_000"
}
