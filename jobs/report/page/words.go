package page

import (
	"html/template"
	"strings"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// plain is a stranger's text without what could steer how it is shown; templates escape
// the rest.
func plain(s string) string { return strings.Join(strings.Fields(report.Printable(s)), " ") }

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

// quantityName makes words of a quantity's name: "kerb_mass_change" is "change of kerb mass".
func quantityName(quantity string) string {
	if of, found := strings.CutSuffix(quantity, "_change"); found {
		return "change of " + quantityName(of)
	}
	if of, found := strings.CutSuffix(quantity, "_difference"); found {
		return "difference of " + quantityName(of)
	}
	words := strings.Split(quantity, "_")
	for i, word := range words {
		if initials[word] {
			words[i] = strings.ToUpper(word)
		}
	}
	return strings.Join(words, " ")
}

// initials are words of names that are written in capitals in a sentence.
var initials = map[string]bool{"ac": true, "hwfet": true, "nycc": true, "sc03": true, "udds": true, "us06": true, "wltc": true, "wltp": true}

// capital makes the first letter a capital one.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
