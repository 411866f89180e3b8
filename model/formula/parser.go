package formula

import (
	"math"
	"slices"
	"strings"

	"proofmass/model/unit"
)

const (
	mostText  = 4096 // bytes
	mostDepth = 64   // brackets, functions, signs and exponents within one another
	mostPower = 100  // size of an exponent that is made of products
)

// An Expr is an expression that was read. Its methods, but for Check and
// Margin, may be called from several goroutines at once.
type Expr struct {
	text     string // "" if the expression was not read from a text
	root     *node
	names    []string
	offsets  []int // of each name's first use
	types    []Type
	currency string
}

// Parse reads an expression. The error is an *Error.
func Parse(text string) (*Expr, error) {
	if len(text) > mostText {
		return nil, errorAt(0, "an expression of %d bytes; at most %d are allowed", len(text), mostText)
	}
	tokens, err := scan(text)
	if err != nil {
		return nil, err
	}
	p := &parser{tokens: tokens, expr: &Expr{text: strings.TrimSpace(text)}}
	if p.next().kind == tokenEnd {
		return nil, errorAt(0, "the expression is empty")
	}
	root, err := p.or()
	if err == nil && p.next().kind != tokenEnd {
		err = p.unexpected()
	}
	if err != nil {
		return nil, err
	}
	p.expr.root = root
	return p.expr, nil
}

// Names returns the distinct names in order of first use. The caller must not
// change it.
func (e *Expr) Names() []string { return e.names }

// Name returns the name that is all of the expression, or "".
func (e *Expr) Name() string {
	if e.root.op != opName {
		return ""
	}
	return e.names[e.root.name]
}

// NameOffset returns the byte offset of a name's first use, or 0.
func (e *Expr) NameOffset(name string) int {
	if i := slices.Index(e.names, name); i >= 0 {
		return e.offsets[i]
	}
	return 0
}

// Currency returns the currency code that the expression's numbers have, or
// "".
func (e *Expr) Currency() string { return e.currency }

// parser is a recursive descent with one method a level of precedence.
type parser struct {
	tokens []token
	at     int
	depth  int
	expr   *Expr
}

func (p *parser) next() *token { return &p.tokens[p.at] }

// take moves past the next token if it is one of the signs or words.
func (p *parser) take(texts ...string) (*token, bool) {
	t := p.next()
	if t.kind != tokenSign && t.kind != tokenWord || !slices.Contains(texts, t.text) {
		return t, false
	}
	p.at++
	return t, true
}

// deeper runs parse one level down.
func (p *parser) deeper(parse func() (*node, *Error)) (*node, *Error) {
	if p.depth == mostDepth {
		return nil, errorAt(p.next().offset, "more than %d levels of brackets, functions, signs and exponents within one another", mostDepth)
	}
	p.depth++
	n, err := parse()
	p.depth--
	return n, err
}

// chain reads operands joined by operators of one level, to the left.
func (p *parser) chain(operand func() (*node, *Error), ops map[string]op) (*node, *Error) {
	left, err := operand()
	for err == nil {
		t := p.next()
		o, ok := ops[t.text]
		if !ok || t.kind == tokenNumber {
			break
		}
		p.at++
		var right *node
		right, err = operand()
		left = &node{op: o, offset: t.offset, args: []*node{left, right}}
	}
	return left, err
}

var (
	orOps      = map[string]op{"or": opOr}
	andOps     = map[string]op{"and": opAnd}
	compareOps = map[string]op{"<": opLess, "<=": opLessEqual, ">": opGreater, ">=": opGreaterEqual}
	sumOps     = map[string]op{"+": opAdd, "-": opSub}
	productOps = map[string]op{"*": opMul, "/": opDiv}
)

func (p *parser) or() (*node, *Error)      { return p.chain(p.and, orOps) }
func (p *parser) and() (*node, *Error)     { return p.chain(p.not, andOps) }
func (p *parser) sum() (*node, *Error)     { return p.chain(p.product, sumOps) }
func (p *parser) product() (*node, *Error) { return p.chain(p.unary, productOps) }

func (p *parser) not() (*node, *Error) {
	t, ok := p.take("not")
	if !ok {
		return p.comparison()
	}
	arg, err := p.deeper(p.not)
	return &node{op: opNot, offset: t.offset, args: []*node{arg}}, err
}

func (p *parser) comparison() (*node, *Error) {
	left, err := p.sum()
	if err != nil {
		return nil, err
	}
	t, ok := p.take("<", "<=", ">", ">=")
	if !ok {
		return left, nil
	}
	right, err := p.sum()
	if err != nil {
		return nil, err
	}
	if second, ok := p.take("<", "<=", ">", ">="); ok {
		return nil, errorAt(second.offset, "comparisons are not chained; write a %s b and b %s c", t.text, second.text)
	}
	return &node{op: compareOps[t.text], offset: t.offset, args: []*node{left, right}}, nil
}

func (p *parser) unary() (*node, *Error) {
	if _, ok := p.take("+"); ok {
		return p.deeper(p.unary)
	}
	t, ok := p.take("-")
	if !ok {
		return p.power()
	}
	if n := p.next(); n.kind == tokenNumber && n.absolute {
		return p.negativeTemperature(t)
	}
	arg, err := p.deeper(p.unary)
	return &node{op: opNeg, offset: t.offset, args: []*node{arg}}, err
}

// negativeTemperature reads -5 degC as 268.15 K, not as minus 278.15 K.
func (p *parser) negativeTemperature(minus *token) (*node, *Error) {
	t := p.next()
	t.value = t.unit.ToSI(-t.number)
	t.text = "-" + t.text
	t.offset = minus.offset
	return p.power()
}

func (p *parser) power() (*node, *Error) {
	base, err := p.primary()
	if err != nil {
		return nil, err
	}
	t, ok := p.take("^")
	if !ok {
		return base, nil
	}
	exponent, err := p.deeper(p.unary)
	if err != nil {
		return nil, err
	}
	n, whole := wholePower(exponent)
	if !whole {
		return &node{op: opRealPower, offset: t.offset, args: []*node{base, exponent}}, nil
	}
	if hasUnit(exponent) {
		return nil, errorAt(exponent.offset, "an exponent has no unit")
	}
	return &node{op: opPower, offset: t.offset, args: []*node{base, exponent}, power: n}, nil
}

// wholePower returns the value of an exponent that is a constant whole number, so
// small that products make the power.
func wholePower(exponent *node) (int, bool) {
	folded := fold(exponent)
	x := folded.value
	if folded.op != opNumber || x != math.Trunc(x) || !(math.Abs(x) <= mostPower) {
		return 0, false
	}
	return int(x), true
}

func hasUnit(n *node) bool {
	if n.op == opNumber && n.kind.Dimension != unit.One {
		return true
	}
	return slices.ContainsFunc(n.args, hasUnit)
}

func (p *parser) primary() (*node, *Error) {
	t := p.next()
	switch {
	case t.kind == tokenNumber:
		p.at++
		return p.number(t)
	case t.kind == tokenWord:
		return p.word(t)
	case t.text == "(":
		p.at++
		inner, err := p.deeper(p.or)
		if err != nil {
			return nil, err
		}
		return inner, p.closing(t)
	}
	return nil, p.noValue()
}

// closing takes the ) that belongs to the ( at open.
func (p *parser) closing(open *token) *Error {
	if _, ok := p.take(")"); ok {
		return nil
	}
	if p.next().kind == tokenEnd {
		return errorAt(open.offset, "this bracket is never closed")
	}
	return p.unexpected()
}

func (p *parser) number(t *token) (*node, *Error) {
	n := &node{op: opNumber, offset: t.offset, value: t.value, text: t.text}
	if !t.hasUnit {
		return n, nil
	}
	d := t.unit.Dimension()
	n.kind = Type{Dimension: d, Temperature: t.absolute, Either: d == unit.Kelvin && !t.absolute}
	code := t.unit.Currency()
	if code != "" && p.expr.currency != "" && code != p.expr.currency {
		return nil, errorAt(t.offset, "found %s beside %s; a study has one currency", code, p.expr.currency)
	}
	if code != "" {
		p.expr.currency = code
	}
	return n, nil
}

// word reads pi, a function with its arguments, or a name.
func (p *parser) word(t *token) (*node, *Error) {
	p.at++
	switch t.text {
	case "pi":
		return &node{op: opNumber, offset: t.offset, value: math.Pi, text: "pi"}, nil
	case "and", "or", "not":
		return nil, errorAt(t.offset, "found %s where a value is expected; a condition within a condition stands in brackets", t.text)
	}
	if open := p.next(); open.kind == tokenSign && open.text == "(" {
		return p.call(t)
	}
	if t.text == "if" {
		return nil, errorAt(t.offset, "if has three arguments in brackets: if(condition, a, b)")
	}
	i := slices.Index(p.expr.names, t.text)
	if i < 0 {
		i = len(p.expr.names)
		p.expr.names = append(p.expr.names, t.text)
		p.expr.offsets = append(p.expr.offsets, t.offset)
	}
	return &node{op: opName, offset: t.offset, name: i}, nil
}
