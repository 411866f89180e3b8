package formula

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"proofmass/model/unit"
)

type tokenKind uint8

const (
	tokenEnd tokenKind = iota
	tokenNumber
	tokenWord
	tokenSign
)

// A token is a number with its unit, a word or a sign.
type token struct {
	kind     tokenKind
	offset   int
	text     string
	number   float64 // as written
	value    float64 // in SI
	unit     unit.Unit
	hasUnit  bool
	absolute bool
}

// refusedSigns are what other languages write, with what to write here.
var refusedSigns = []struct{ sign, advice string }{
	{"==", "== on numbers is refused, for a drawn number never equals another exactly; use <=, >= or abs(a - b) <= h"},
	{"!=", "!= on numbers is refused, for a drawn number never equals another exactly; use <, > or abs(a - b) > h"},
	{"<>", "<> on numbers is refused, for a drawn number never equals another exactly; use <, > or abs(a - b) > h"},
	{"=<", "write <="}, {"=>", "write >="},
	{"=", "= compares nothing here; use <, <=, > or >="},
	{"&&", "write and"}, {"||", "write or"}, {"!", "write not"}, {"**", "write ^ for a power"},
	{"%", "% is a unit and stands after a number: 8 %"},
	{"≤", "write <="}, {"≥", "write >="}, {"−", "write the minus of the keyboard: -"}, {"–", "write the minus of the keyboard: -"},
	{"×", "write *"}, {"·", "write *"}, {"÷", "write /"}, {"²", "write ^2"}, {"³", "write ^3"}, {"π", "write pi"}, {"√", "write sqrt(...)"},
	{"[", "only round brackets are allowed"}, {"]", "only round brackets are allowed"}, {"{", "only round brackets are allowed"}, {"}", "only round brackets are allowed"},
}

// signTokens lists the longer ones first.
var signTokens = []string{"<=", ">=", "<", ">", "+", "-", "*", "/", "^", "(", ")", ","}

// scan cuts text into tokens; the last is tokenEnd.
func scan(text string) ([]token, *Error) {
	var tokens []token
	for at := 0; ; {
		at += blanks(text[at:])
		if at == len(text) {
			return append(tokens, token{kind: tokenEnd, offset: at}), nil
		}
		var t token
		var end int
		var err *Error
		switch c := text[at]; {
		case isDigit(c) || c == '.' && at+1 < len(text) && isDigit(text[at+1]):
			t, end, err = scanNumber(text, at)
		case isLetter(c) || c == '_':
			t, end, err = scanWord(text, at)
		default:
			t, end, err = scanSign(text, at)
		}
		if err != nil {
			return nil, err
		}
		tokens = append(tokens, t)
		at = end
	}
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func blanks(text string) int {
	return len(text) - len(strings.TrimLeft(text, " \t\r\n"))
}

// run returns the length of the start of text made of what ok accepts.
func run(text string, ok func(c byte) bool) int {
	n := 0
	for n < len(text) && ok(text[n]) {
		n++
	}
	return n
}

func scanSign(text string, at int) (token, int, *Error) {
	rest := text[at:]
	for _, r := range refusedSigns {
		if strings.HasPrefix(rest, r.sign) {
			return token{}, 0, errorAt(at, "found %q: %s", r.sign, r.advice)
		}
	}
	for _, s := range signTokens {
		if strings.HasPrefix(rest, s) {
			return token{kind: tokenSign, offset: at, text: s}, at + len(s), nil
		}
	}
	r, size := utf8.DecodeRuneInString(rest)
	if unicode.IsLetter(r) {
		return token{}, 0, errorAt(at, "found %s: names have a-z, 0-9 and _ only", quote(rest[:size]))
	}
	return token{}, 0, errorAt(at, "found %s, which no expression has; allowed are numbers, names, + - * / ^ < <= > >= and brackets", quote(rest[:size]))
}

// scanWord reads a name, a function or a keyword.
func scanWord(text string, at int) (token, int, *Error) {
	n := run(text[at:], func(c byte) bool { return isLetter(c) || isDigit(c) || c == '_' || c == '.' })
	word := text[at : at+n]
	parts := strings.Split(word, ".")
	for _, part := range parts {
		if !isSnake(part) && !strings.HasPrefix(text[at+n:], "(") {
			return token{}, 0, errorAt(at, "%s is no name: names are a-z, 0-9 and _, start with a letter, and have their parts joined by one dot: bonded.kerb_mass", quote(word))
		}
	}
	if len(parts) > 4 {
		return token{}, 0, errorAt(at, "%s has more than four parts", quote(word))
	}
	return token{kind: tokenWord, offset: at, text: word}, at + n, nil
}

func isSnake(part string) bool {
	if part == "" || part[0] < 'a' || part[0] > 'z' {
		return false
	}
	return strings.Trim(part, "abcdefghijklmnopqrstuvwxyz0123456789_") == "" && part == strings.ToLower(part)
}

// scanNumber reads a number and the unit behind it.
func scanNumber(text string, at int) (token, int, *Error) {
	end := at + numberLength(text[at:])
	x, err := unit.ParseNumber(text[at:end])
	if err != nil {
		return token{}, 0, noUnit(at, err, "")
	}
	t := token{kind: tokenNumber, offset: at, text: text[at:end], number: x, value: x}
	from, to, next := unitAfter(text, end)
	if from == to && next == end {
		return t, end, nil
	}
	u, err := unit.Parse(text[from:to])
	if err != nil {
		return token{}, 0, refuseUnit(text, t, from, to, err)
	}
	t.unit, t.hasUnit, t.absolute = u, true, u.Absolute()
	t.text, t.value = text[at:next], u.ToSI(x)
	if math.IsInf(t.value, 0) {
		return token{}, 0, errorAt(at, "%s is out of range", quote(t.text))
	}
	return t, next, nil
}

// numberLength returns how much of text is one number: also of one that
// ParseNumber refuses by name, as 0x1F.
func numberLength(text string) int {
	if len(text) > 1 && text[0] == '0' && strings.ContainsRune("xXoObB", rune(text[1])) {
		return run(text, func(c byte) bool { return isDigit(c) || isLetter(c) || c == '_' })
	}
	n := run(text, func(c byte) bool { return isDigit(c) || c == '_' || c == '.' })
	if n == len(text) || text[n]|0x20 != 'e' {
		return n
	}
	sign := 0
	if n+1 < len(text) && (text[n+1] == '+' || text[n+1] == '-') {
		sign = 1
	}
	digits := run(text[n+1+sign:], isDigit)
	if digits == 0 {
		return n
	}
	return n + 1 + sign + digits
}

// unitAfter finds the unit behind the number that ends at end: its text is
// text[from:to], and what follows it starts at next. Without a unit all are
// end.
func unitAfter(text string, end int) (from, to, next int) {
	at := end + blanks(text[end:])
	rest := text[at:]
	if strings.HasPrefix(rest, "(") {
		to = at + matching(rest)
		return at + 1, to, min(to+1, len(text))
	}
	word := rest[:run(rest, func(c byte) bool { return isLetter(c) || isDigit(c) || c == '_' })]
	if first, _ := utf8.DecodeRuneInString(rest); !startsUnit(first) || word == "and" || word == "or" {
		return end, end, end
	}
	to = at
	for _, r := range rest {
		if !strings.ContainsRune("%/^_°", r) && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			break
		}
		to += utf8.RuneLen(r)
	}
	return at, to, to
}

// startsUnit also accepts foreign letters, for unit.Parse to refuse by name.
func startsUnit(r rune) bool {
	return r == '%' || r == '°' || unicode.IsLetter(r) && r != 'π'
}

// matching returns the offset of the bracket that closes the one text starts
// with, or the length of text.
func matching(text string) int {
	depth := 0
	for i := range len(text) {
		switch text[i] {
		case '(':
			depth++
		case ')':
			depth--
		}
		if depth == 0 {
			return i
		}
	}
	return len(text)
}

// refuseUnit says why what stands behind a number is no unit, and what else
// may have been meant.
func refuseUnit(text string, number token, from, to int, err error) *Error {
	found := text[from:to]
	if text[from-1] == '(' {
		return errorAt(from-1, "a bracket right behind a number holds its unit, and %s is none: %v (for a product write %s * (...))", quote(found), err, number.text)
	}
	offset := from
	if e, ok := err.(*unit.Error); ok {
		offset += e.Offset
	}
	i := strings.IndexAny(found, "/^")
	switch {
	case i > 0 && i == len(found)-1:
		return errorAt(offset, "%s is no unit; put blanks around an operator, and brackets around a unit that has blanks or brackets: 15 (kWh/100 km)", quote(found))
	case i > 0 && !strings.Contains(err.Error(), "did you mean"):
		return errorAt(offset, "%s is no unit; if %q is an operator, put blanks around it: %s %s %c %s", quote(found), found[i], number.text, clip(found[:i]), found[i], clip(found[i+1:]))
	case isSnake(found):
		return noUnit(offset, err, fmt.Sprintf(" (for a product write %s * %s)", number.text, clip(found)))
	}
	return noUnit(offset, err, "")
}

func clip(found string) string { return strings.Trim(quote(found), `"`) }
