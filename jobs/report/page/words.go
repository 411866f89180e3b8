package page

import (
	"html/template"
	"strings"
	"unicode"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// plain is a stranger's text without what could steer how it is shown; templates escape
// the rest. Blanks that bind a unit to its number stay.
func plain(s string) string {
	breaks := func(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }
	return strings.Join(strings.FieldsFunc(report.Printable(s), breaks), " ")
}

// safe escapes text for HTML that is put together by hand.
func safe(s string) string { return template.HTMLEscapeString(plain(s)) }

// unknown stands in place of a number that nobody knows.
const unknown = "–"

// inDraws says the middle of the draws and where nine in ten lie, of what figures writes of
// these three.
func inDraws(f []string, unit string) string {
	if f[0] == unknown || f[2] == unknown {
		return "middle " + with(f[1], unit) + "; " + report.TooFewCount
	}
	return "middle " + with(f[1], unit) + ", nine in ten draws " + f[0] + " to " + with(f[2], unit)
}

// figures writes numbers of one quantity with digits that their spread deserves, with true
// minus signs.
func figures(values ...*float64) []string {
	all := report.Numbers(values...)
	for i := range all {
		if all[i] = draw.Signed(all[i]); values[i] == nil || *values[i] != *values[i] {
			all[i] = unknown
		}
	}
	return all
}

// with puts a unit behind a number, not to be parted from it.
func with(number, unit string) string {
	if unit == "" || unit == "1" {
		return number
	}
	return number + "\u00a0" + plain(unit)
}

// capital makes the first letter a capital one.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
