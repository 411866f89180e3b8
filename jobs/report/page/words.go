package page

import (
	"html/template"
	"strconv"
	"strings"
	"unicode"

	"proofmass/jobs/report"
	"proofmass/jobs/report/draw"
)

// plain is a stranger's text without what could steer how it is shown; templates escape
// the rest. Blanks that bind a unit to its number stay.
func plain(s string) string {
	breaks := func(r rune) bool { return unicode.IsSpace(r) && r != '\u00a0' }
	words := strings.FieldsFunc(report.Printable(s), breaks)
	for i, word := range words {
		if len(word) > longestWord {
			words[i] = strings.ToValidUTF8(word[:longestWord], "") + "…"
		}
	}
	return strings.Join(words, " ")
}

// longestWord is how many bytes of a word are shown: an address has fewer, and the study that
// lies beside has all of it.
const longestWord = 300

// shortened is a stranger's text of so many letters at most.
func shortened(s string, most int) string {
	if letters := []rune(plain(s)); len(letters) > most {
		return strings.TrimRight(string(letters[:most-1]), " ") + "…"
	}
	return plain(s)
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

// setName makes words of a full name, its vehicle in italics.
func setName(name string) string {
	vehicle, quantity := split(name)
	if vehicle == "" {
		return safe(report.QuantityName(quantity))
	}
	return safe(report.QuantityName(quantity)) + " of <i>" + safe(vehicle) + "</i>"
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

// stated is a number that somebody wrote, or that was made of such: with the digits it has.
func stated(v *float64) string {
	if v == nil || *v != *v {
		return unknown
	}
	return draw.Signed(strconv.FormatFloat(*v, 'g', 10, 64))
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
