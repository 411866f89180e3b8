package uncertain

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"proofmass/jobs/study/source"
	"proofmass/model/formula"
	"proofmass/model/unit"
)

// amount is a number as written: in its own unit, perhaps with a standard
// uncertainty in parentheses as JCGM 100 (2008), 7.2.2 writes it.
type amount struct {
	x, sd float64
	hasSD bool
	unit  unit.Unit
	bare  bool // no unit was written
}

var (
	numberHead  = regexp.MustCompile(`^[+-]?([0-9][0-9_]*(\.[0-9_]*)?|\.[0-9][0-9_]*)([eE][+-]?[0-9]+)?`)
	uncertainty = regexp.MustCompile(`^\(([0-9]+(\.[0-9]+)?)\)`)
	thousands   = regexp.MustCompile(`^ [0-9]{3}\b`)
	gluedUnit   = regexp.MustCompile(`^(\p{L}|[°%])\P{N}*$`) // 388Kg, 20°C; not 0x1F
	exponent    = regexp.MustCompile(`^[eE][+-]?$`)
)

// amount reads a number with or without a unit. example is a right one.
func (x *Context) amount(f source.Field, example string) (a amount, ok bool) {
	text, ok := f.Text("a number is expected, as in " + example)
	if !ok {
		return a, false
	}
	number := numberHead.FindString(text)
	rest := text[len(number):]
	switch {
	case number == "":
		number, rest = firstWord(text)
	case thousands.MatchString(rest):
		f.Err(f.What(), "a number has no blanks: thousands are written 1_000")
		return a, false
	}
	if u := uncertainty.FindStringSubmatch(rest); u != nil {
		a.hasSD, rest = true, rest[len(u[0]):]
		a.sd = deviation(number, u[1])
	}
	if rest != "" && rest[0] != ' ' {
		if _, err := unit.Parse(rest); err != nil && !a.hasSD && (!gluedUnit.MatchString(rest) || exponent.MatchString(rest)) {
			number, rest = firstWord(text)
		}
	}
	if a.x, ok = parseNumber(f, number, example); !ok {
		return a, false
	}
	a.unit, a.bare, ok = x.unit(f, text, len(text)-len(strings.TrimLeft(rest, " ")))
	return a, ok
}

// firstWord splits a text at its first blank.
func firstWord(text string) (word, rest string) {
	if i := strings.IndexByte(text, ' '); i >= 0 {
		return text[:i], text[i:]
	}
	return text, ""
}

// deviation is the standard uncertainty that the digits in parentheses give a
// number: of its last digits, or as written where they have a decimal point.
func deviation(number, digits string) float64 {
	sd, _ := strconv.ParseFloat(digits, 64)
	if strings.Contains(digits, ".") {
		return sd
	}
	mantissa, exponent, _ := strings.Cut(strings.ToLower(strings.ReplaceAll(number, "_", "")), "e")
	power, _ := strconv.Atoi(exponent)
	if _, decimals, ok := strings.Cut(mantissa, "."); ok {
		power -= len(decimals)
	}
	sd, _ = strconv.ParseFloat(digits+"e"+strconv.Itoa(power), 64)
	return sd
}

// unit reads the unit that the text has from byte at on.
func (x *Context) unit(f source.Field, text string, at int) (u unit.Unit, bare, ok bool) {
	if at >= len(text) {
		return u, true, true
	}
	u, err := unit.Parse(text[at:])
	if err != nil {
		if bad := new(unit.Error); errors.As(err, &bad) {
			at += bad.Offset
		}
		noNumber(f, at, err, "97 g")
		return u, false, false
	}
	return u, false, x.sameCurrency(f, u.Currency())
}

func parseNumber(f source.Field, number, example string) (float64, bool) {
	x, err := unit.ParseNumber(number)
	if err != nil {
		noNumber(f, 0, err, example)
	}
	return x, err == nil
}

// noNumber reports a text that is no number with a unit; an expression is told how
// it is written.
func noNumber(f source.Field, offset int, err error, example string) {
	text := f.Raw()
	if e, bad := formula.Parse(text); bad == nil && len(e.Names()) > 0 && strings.ContainsAny(text, "+-*/^(") {
		f.Err(f.What(), "an expression is written {formula: "+source.Printable(text, 60)+"}")
		return
	}
	if advice := slip(text); advice != "" {
		f.Err(f.What(), source.Printable(advice, 200))
		return
	}
	m := source.MessageOf(err)
	if m.Allowed == "" || strings.HasPrefix(m.Allowed, "decimal digits") {
		m.Allowed = "a number with its unit is expected, as in " + example
	}
	f.ErrAt(offset, source.Printable(m.Found, 200), source.Printable(m.Allowed, 200))
}
