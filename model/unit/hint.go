package unit

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// spellings are ways to write a unit that people use and that Parse refuses
// in favour of the one spelling on the right. One with a blank or a / is looked for
// in what follows too.
var spellings = map[string]string{
	"kgs": "kg", "kilo": "kg", "lbs": "lb", "gr": "g",
	"mi": "mile", "miles": "mile", "inches": "in", "feet": "ft",
	"sec": "s", "secs": "s", "mins": "min", "hr": "h", "hrs": "h",
	"d": "day", "yr": "year", "yrs": "year", "a": "A or year",
	"kph": "km/h", "kmh": "km/h", "kmph": "km/h", "mps": "m/s", "U/min": "rpm", "rev/min": "rpm", "r/min": "rpm",
	"deg": "degree", "degrees": "degree", "deg C": "degC", "deg F": "degF", "degrees C": "degC", "degrees F": "degF",
	"celsius": "degC", "fahrenheit": "degF", "F": "degF", "c": "degC or C",
	"L": "l", "cc": "cm3", "ccm": "cm3",
	"Ohm": "ohm", "amp": "A", "amps": "A",
	"percent": "%", "pct": "%", "ton": "t", "tons": "t", "Nm": "N m", "psi": "lbf/in2", "bhp": "hp", "cv": "PS", "ch": "PS",
}

// refused are words that stand for something that has no unit of its own here, with
// what to write instead.
var refused = map[string]string{
	"VA": "apparent power has the unit W here; write W", "kVA": "apparent power has the unit W here; write kW", "MVA": "apparent power has the unit W here; write MW",
	"VAr": "reactive power has the unit W here; write W", "kVAr": "reactive power has the unit W here; write kW",
	"mW": "m is milli; write W: 1 mW is 0.001 W", "mPa": "m is milli; write Pa: 1 mPa is 0.001 Pa", "kV": "no unit of the list; write V: 1 kV is 1000 V", "kA": "no unit of the list; write A: 1 kA is 1000 A",
	"kHz": "no unit of the list; write Hz: 1 kHz is 1000 Hz", "GW": "no unit of the list; write MW: 1 GW is 1000 MW", "GWh": "no unit of the list; write MWh: 1 GWh is 1000 MWh",
	"mpg": "a consumption by volume; write l/100 km: 1 mile a US gallon is 235.2 l/100 km over it", "gal": "several gallons are in use; write l: 1 US gallon is 3.785 l",
	"gallon": "several gallons are in use; write l: 1 US gallon is 3.785 l", "oz": "several ounces are in use; write g: 1 oz (weight) is 28.35 g",
	"Btu": "several are in use; write kJ: 1 Btu is 1.055 kJ", "cal": "several are in use; write J: 1 cal is 4.184 J", "kcal": "several are in use; write kJ: 1 kcal is 4.184 kJ",
	"atm": "no unit of the list; write kPa: 1 atm is 101.325 kPa", "ppb": "no unit of the list; write ppm: 1 ppb is 0.001 ppm",
	"pcs": countAdvice, "cells": countAdvice, "cell": countAdvice, "pieces": countAdvice, "units": countAdvice, "x": countAdvice,
}

const countAdvice = "a count has no unit; write the number alone"

// signs are characters outside the grammar with what stands for them in it.
var signs = map[rune]string{
	'°': "degC or degree", 'µ': "um", 'μ': "um", 'Ω': "ohm", '²': "2", '³': "3", '€': "EUR", '$': "USD", '£': "GBP", '‰': "% : 1 of 1000 is 0.1 %",
	'·': "a blank", '*': "a blank", '⋅': "a blank", '×': "a blank", '-': "digits right behind a symbol: s-1", '^': "digits right behind a symbol: m2",
}

// plain writes a unit with the signs of print in the grammar's own.
var plain = strings.NewReplacer("°C", "degC", "°F", "degF", "° C", "degC", "° F", "degF", "°", "degree", "℃", "degC", "µ", "u", "μ", "u", "Ω", "ohm", "Ω", "ohm",
	"⁻", "-", "−", "-", "¹", "1", "²", "2", "³", "3", "⁴", "4", "€", "EUR", "$", "USD", "£", "GBP", "·", " ", "⋅", " ", "×", " ", "*", " ")

// unknown refuses a word and names the nearest unit.
func (p *parser) unknown(word string) error {
	if advice, ok := refusedWord(word); ok {
		return p.errorf(p.at, quote(word), " is no unit; ", advice)
	}
	hint := p.spelled(word)
	if hint == "" {
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

// spelled is the unit that another spelling stands for, that of two words first.
func (p *parser) spelled(word string) string {
	rest := p.text[p.at:]
	if len(rest) > len(word)+1 {
		if second := wordAt(rest[len(word)+1:]); second != "" {
			if hint, ok := spellings[rest[:len(word)+1+len(second)]]; ok {
				return hint
			}
		}
	}
	if hint, ok := spellings[word]; ok {
		return hint
	}
	lower := strings.ToLower(word)
	if hint, ok := spellings[lower]; ok {
		return hint
	}
	return byName[singular.Replace(lower+" ")]
}

// singular brings the name of a unit into the spelling of the list.
var singular = strings.NewReplacer("gramme", "gram", "meter", "metre", "liter", "litre", "s ", "", " ", "")

// byName has the symbols of units whose name is one word.
var byName = names()

func names() map[string]string {
	symbolOf := map[string]string{}
	for _, e := range table {
		if name, _, _ := strings.Cut(e.Meaning, ","); !strings.Contains(name, " ") {
			symbolOf[name] = e.Symbol
		}
	}
	return symbolOf
}

// refusedWord finds a refused word, also in capitals.
func refusedWord(word string) (advice string, ok bool) {
	if advice, ok = refused[word]; ok || word != strings.ToUpper(word) || len(word) < 3 {
		return advice, ok
	}
	for _, known := range refusedWords {
		if strings.EqualFold(known, word) {
			return refused[known], true
		}
	}
	return "", false
}

var refusedWords, spelledWords = sortedKeys(refused), sortedKeys(spellings)

func sortedKeys(words map[string]string) []string {
	keys := make([]string, 0, len(words))
	for word := range words {
		keys = append(keys, word)
	}
	slices.Sort(keys)
	return keys
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

// strange refuses a character that starts no symbol. Where the signs of print are all
// that is wrong the whole unit is told.
func (p *parser) strange() error {
	r, size := utf8.DecodeRuneInString(p.text[p.at:])
	found := quote(p.text[p.at : p.at+size])
	if whole := plain.Replace(p.text); whole != p.text {
		if _, err := Parse(whole); err == nil {
			return p.errorf(p.at, "found ", found, " in a unit; write ", strings.TrimSpace(whole))
		}
	}
	if hint, ok := signs[r]; ok {
		return p.errorf(p.at, "found ", found, " in a unit; write ", hint)
	}
	if strings.ContainsRune("+.,:;=<>", r) {
		return p.errorf(p.at, "found ", found, " in a unit; ", grammar)
	}
	return p.errorf(p.at, "found ", found, " in a unit; letters, digits, %, / and brackets are allowed")
}
