package unit

import (
	"strings"
	"unicode/utf8"
)

// spellings are ways to write a unit that people use and that Parse refuses
// in favour of the one spelling on the right.
var spellings = map[string]string{
	"kgs": "kg", "lbs": "lb", "mi": "mile", "miles": "mile", "inch": "in", "inches": "in", "feet": "ft",
	"sec": "s", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "kph": "km/h", "kmh": "km/h", "kmph": "km/h",
	"deg": "degree", "degrees": "degree", "Celsius": "degC", "Kelvin": "K", "liter": "l", "litre": "l",
	"Ohm": "ohm", "percent": "%", "tonne": "t", "ton": "t", "Nm": "N m", "psi": "lbf/in2",
}

// signs are characters outside the grammar with what to write instead.
var signs = map[rune]string{
	'°': "degC or degree", 'µ': "um", 'μ': "um", 'Ω': "ohm", '²': "2", '³': "3", '€': "EUR", '$': "USD", '£': "GBP",
	'·': "a blank", '*': "a blank", '⋅': "a blank", '×': "a blank", '-': "digits right behind a symbol: s-1", '^': "digits right behind a symbol: m2",
}

// unknown refuses a word and names the nearest unit.
func (p *parser) unknown(word string) error {
	hint, ok := spellings[word]
	if !ok {
		hint = Nearest(word, symbols)
	}
	if hint == "" && len(word) > 1 {
		hint = glued(word)
	}
	if hint != "" {
		return p.errorf(p.at, quote(word), " is no unit; did you mean ", hint, "?")
	}
	return p.errorf(p.at, quote(word), " is no unit; allowed are the units of `proofmass list units` and three-letter currency codes; ", grammar)
}

// glued finds two units written without the blank between them: Nm, kgm.
func glued(word string) string {
	for i := len(word) - 1; i > 0; i-- {
		_, left := bySymbol[word[:i]]
		_, right := bySymbol[word[i:]]
		if left && right {
			return word[:i] + " " + word[i:]
		}
	}
	return ""
}

// strange refuses a character that starts no symbol.
func (p *parser) strange() error {
	r, size := utf8.DecodeRuneInString(p.text[p.at:])
	found := quote(p.text[p.at : p.at+size])
	if hint, ok := signs[r]; ok {
		return p.errorf(p.at, "found ", found, " in a unit; write ", hint)
	}
	if strings.ContainsRune("+.,:;=<>", r) {
		return p.errorf(p.at, "found ", found, " in a unit; ", grammar)
	}
	return p.errorf(p.at, "found ", found, " in a unit; letters, digits, %, / and brackets are allowed")
}
