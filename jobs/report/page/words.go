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

// figures writes numbers of one quantity with digits that their spread deserves, with true
// minus signs.
func figures(values ...*float64) []string {
	all := report.Numbers(values...)
	for i := range all {
		all[i] = draw.Signed(all[i])
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

// nameInWords makes words of a full name: "change of kerb mass of bonded".
func nameInWords(name string) string {
	vehicle, quantity := split(name)
	if vehicle == "" {
		return report.QuantityName(quantity)
	}
	return report.QuantityName(quantity) + " of " + vehicle
}
