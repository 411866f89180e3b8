package unit

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// An Error says what is wrong with the text of a unit or a number.
type Error struct {
	Offset         int // bytes from the start of the text
	Found, Allowed string
}

func (e *Error) Error() string {
	if e.Allowed == "" {
		return e.Found
	}
	return e.Found + "; " + e.Allowed
}

// Told is what was found and what is allowed.
func (e *Error) Told() (found, allowed string) { return e.Found, e.Allowed }

// refusal makes an error of parts that are joined: what is allowed follows the first "; "
// in one that quotes nothing.
func refusal(at int, parts ...string) *Error {
	for i, part := range parts {
		if before, after, ok := strings.Cut(part, "; "); ok && part[0] != '"' {
			return &Error{at, strings.Join(parts[:i], "") + before, after + strings.Join(parts[i+1:], "")}
		}
	}
	return &Error{Offset: at, Found: strings.Join(parts, "")}
}

const (
	mostText  = 64 // bytes of a unit's text
	mostDepth = 8  // brackets within brackets
	mostPower = 12
)

const grammar = "a blank multiplies, all after the one / is below it, digits are powers: N s2/m2, W/(m K)"

// Parse reads a unit: the symbols of List, the number 1 and currency codes,
// with a blank for a product, at most one / (all that follows is below it),
// powers as digits (m2, s-1, also m^2), and brackets, each with a / of its own:
// (N m)2. A plain number may stand first below the /, as in kWh/100 km. The
// error is an *Error.
func Parse(text string) (Unit, error) {
	if len(text) > mostText {
		return Unit{}, refusal(0, "a unit of ", strconv.Itoa(len(text)), " bytes; at most ", strconv.Itoa(mostText), " are allowed")
	}
	p := &parser{text: text, unit: Unit{num: 1, den: 1}, scale: -1}
	p.blanks()
	if p.at == len(text) {
		return Unit{}, refusal(0, "no unit was found; for a plain number write 1")
	}
	if err := p.quotient(1, 0, false); err != nil {
		return Unit{}, err
	}
	if p.at < len(text) {
		return Unit{}, p.errorf(p.at, "a bracket is closed that was never opened")
	}
	if err := p.finish(); err != nil {
		return Unit{}, err
	}
	return p.unit, nil
}

// parser multiplies what it reads into unit as it goes.
type parser struct {
	text    string
	at      int
	unit    Unit
	symbols int // how many symbols were read
	scale   int // where a symbol with its own zero was read, or -1
	raised  int // the power of the last symbol
}

func (p *parser) errorf(at int, parts ...string) *Error {
	return refusal(at, parts...)
}

// finish checks the whole: degC and degF stand alone, factors stay finite.
func (p *parser) finish() error {
	u := &p.unit
	u.text = strings.TrimSpace(p.text)
	if !u.dimension.Sensible() || !(u.num > 0 && u.num < 1e200 && u.den > 0 && u.den < 1e200) {
		return p.errorf(0, "the powers in ", quote(p.text), " are too large")
	}
	if p.scale < 0 {
		return nil
	}
	symbol := wordAt(p.text[p.scale:])
	if p.symbols > 1 || p.raised != 1 {
		return p.errorf(p.scale, symbol, " is a temperature with a zero of its own and stands only alone; in a compound unit write K")
	}
	u.offset, u.absolute = bySymbol[symbol].offset, true
	return nil
}

// quotient reads a product and what is below its /; all of it counts to the
// power n. below says that it stands right below a / itself.
func (p *parser) quotient(n, depth int, below bool) error {
	if err := p.product(n, depth, below); err != nil {
		return err
	}
	if p.at == len(p.text) || p.text[p.at] != '/' {
		return nil
	}
	p.at++
	p.blanks()
	if err := p.product(-n, depth, true); err != nil {
		return err
	}
	if p.at < len(p.text) && p.text[p.at] == '/' {
		return p.errorf(p.at, "a second / was found; all that follows the first is below it: W/(m K), not W/m/K")
	}
	return nil
}

// product reads factors up to a /, a closing bracket or the end.
func (p *parser) product(n, depth int, below bool) error {
	p.blanks()
	start := p.at
	for p.blanks(); p.at < len(p.text) && p.text[p.at] != '/' && p.text[p.at] != ')'; p.blanks() {
		var err error
		switch c := p.text[p.at]; {
		case c >= '0' && c <= '9':
			err = p.number(n, below, p.at == start)
		case c == '(':
			err = p.bracket(n, depth, below && p.at == start)
		default:
			err = p.symbol(n)
		}
		if err != nil {
			return err
		}
	}
	if p.at == start {
		return p.errorf(p.at, "a unit is missing here; ", grammar)
	}
	return nil
}

func (p *parser) bracket(n, depth int, below bool) error {
	open := p.at
	if depth == mostDepth {
		return p.errorf(open, "more than ", strconv.Itoa(mostDepth), " brackets within brackets")
	}
	// What is inside is read twice: once to find its end and the power behind
	// it. Depth is bounded, and so is the work.
	inner := *p
	inner.at++
	if err := inner.quotient(1, depth+1, below); err != nil {
		return err
	}
	if inner.at == len(p.text) {
		return p.errorf(open, "this bracket is never closed")
	}
	inner.at++
	raised, err := inner.power()
	if err != nil {
		return err
	}
	if n *= raised; n > mostExponent || n < -mostExponent {
		return p.errorf(open, "the powers of this bracket are too large")
	}
	p.at = open + 1
	if err := p.quotient(n, depth+1, below); err != nil {
		return err
	}
	p.at = inner.at
	return nil
}

// number reads a plain number: the lone 1, and a factor right below the /.
// Elsewhere it is refused, lest "1 950 kg" be 1 times "950 kg".
func (p *parser) number(n int, below, leads bool) error {
	start := p.at
	for p.at < len(p.text) && p.text[p.at] >= '0' && p.text[p.at] <= '9' {
		p.at++
	}
	digits := p.text[start:p.at]
	p.blanks()
	ends := p.at == len(p.text) || p.text[p.at] == '/' || p.text[p.at] == ')'
	switch {
	case !leads || !below && !(digits == "1" && ends):
		return p.errorf(start, "found the number ", quote(digits), " in a unit; only 1 may stand above the / and one number right below it, as in kWh/100 km (thousands are written 1_950 or 1950)")
	case digits[0] == '0' || len(digits) > 6:
		return p.errorf(start, "found the number ", quote(digits), " in a unit; 1 to 999999 are allowed")
	}
	factor, err := strconv.Atoi(digits)
	if err != nil {
		return p.errorf(start, "found ", quote(digits), " in a unit")
	}
	p.unit.multiply(Unit{num: float64(factor), den: 1}, n)
	p.symbols++
	p.raised = n
	return p.tooLarge(start)
}

// symbol reads a unit or a currency and its power and multiplies it in, to the
// power n of what it stands in.
func (p *parser) symbol(n int) error {
	start := p.at
	word := wordAt(p.text[start:])
	if word == "" {
		return p.strange()
	}
	known, ok := bySymbol[word]
	if !ok {
		if !isCurrency(word) {
			return p.unknown(word)
		}
		known = Unit{dimension: Dimension{money: 1}, num: 1, den: 1, currency: word}
	}
	if start > 0 && (p.text[start-1] == '%' || word == "%" && isLetter(p.text[start-1])) {
		return p.errorf(start, "a blank stands between two units; ", grammar)
	}
	p.at += len(word)
	raised, err := p.power()
	if err != nil {
		return err
	}
	if n *= raised; n > mostExponent || n < -mostExponent {
		return p.errorf(start, "the power of ", word, " is too large")
	}
	if known.currency != "" {
		if c := p.unit.currency; c != "" && c != word {
			return p.errorf(start, "found ", word, " beside ", c, "; a unit has one currency")
		}
		p.unit.currency = word
	}
	if known.absolute {
		p.scale = start
	}
	p.symbols++
	p.raised = n
	p.unit.multiply(known, n)
	return p.tooLarge(start)
}

func (p *parser) tooLarge(at int) error {
	if u := &p.unit; !u.dimension.Sensible() || u.num > 1e200 || u.den > 1e200 {
		return p.errorf(at, "the powers up to here are too large")
	}
	return nil
}

// power reads digits behind a symbol or bracket, with an optional ^ and sign.
func (p *parser) power() (int, error) {
	start, i := p.at, p.at
	for _, sign := range []byte{'^', '-'} {
		if i < len(p.text) && p.text[i] == sign {
			i++
		}
	}
	from := i
	for i < len(p.text) && p.text[i] >= '0' && p.text[i] <= '9' {
		i++
	}
	if i == start {
		return 1, nil
	}
	n, err := strconv.Atoi(p.text[from:i])
	if err != nil || n == 0 || n > mostPower {
		return 0, p.errorf(start, "found the power ", quote(p.text[start:i]), "; whole numbers from -12 to 12 but 0 are allowed")
	}
	p.at = i
	if p.text[from-min(from, 1)] == '-' && from > start {
		n = -n
	}
	return n, nil
}

func (p *parser) blanks() {
	for p.at < len(p.text) && (p.text[p.at] == ' ' || p.text[p.at] == '\t') {
		p.at++
	}
}

// wordAt returns the run of letters at the start of text, or "%".
func wordAt(text string) string {
	if strings.HasPrefix(text, "%") {
		return "%"
	}
	for i := range len(text) {
		if !isLetter(text[i]) {
			return text[:i]
		}
	}
	return text
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// isCurrency reports whether word has the form of an ISO 4217 code and is no
// unit in wrong capitals (KWH, MPH, KVA).
func isCurrency(word string) bool {
	if len(word) != 3 || strings.ToUpper(word) != word {
		return false
	}
	for _, words := range [][]string{symbols, refusedWords, spelledWords} {
		for _, s := range words {
			if strings.EqualFold(s, word) {
				return false
			}
		}
	}
	return true
}

// longest is how much of what was found is shown.
const longest = 24

func quote(found string) string { return Quote(found, longest) }

// Quote prints what was found, cut to so many bytes, which a line of a message holds.
func Quote(found string, most int) string {
	if len(found) > most {
		for most > 0 && !utf8.RuneStart(found[most]) {
			most--
		}
		found = found[:most] + "..."
	}
	return strconv.Quote(found)
}
