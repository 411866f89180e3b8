package formula

import (
	"strconv"
	"strings"

	"proofmass/model/unit"
)

// String returns the expression as it was written, or, of one that was built,
// a text that Parse reads back (but for money), numbers in coherent SI units.
func (e *Expr) String() string {
	if e.text != "" {
		return e.text
	}
	return (&printer{names: e.names}).text(e.root, 0)
}

type printer struct {
	names []string
}

// levels of binding, the loosest first.
const (
	bindsOr = iota
	bindsAnd
	bindsNot
	bindsCompare
	bindsSum
	bindsProduct
	bindsUnary
	bindsPower
	bindsTightest
)

func level(o op) int {
	switch o {
	case opOr:
		return bindsOr
	case opAnd:
		return bindsAnd
	case opNot:
		return bindsNot
	case opLess, opLessEqual, opGreater, opGreaterEqual:
		return bindsCompare
	case opAdd, opSub:
		return bindsSum
	case opMul, opDiv:
		return bindsProduct
	case opNeg:
		return bindsUnary
	case opPower, opRealPower:
		return bindsPower
	}
	return bindsTightest
}

// text prints n, in brackets if it binds looser than its place asks.
func (p *printer) text(n *node, least int) string {
	l := level(n.op)
	var s string
	switch {
	case n.op == opNumber:
		return p.number(n, false)
	case n.op == opName:
		return p.names[n.name]
	case n.op == opNeg && n.args[0].op == opNumber && n.args[0].text == "":
		s = p.number(n.args[0], true)
	case functionOf(n.op) != "":
		args := make([]string, len(n.args))
		for i, arg := range n.args {
			args[i] = p.text(arg, 0)
		}
		return functionOf(n.op) + "(" + strings.Join(args, ", ") + ")"
	case n.op == opNot:
		s = "not " + p.text(n.args[0], l)
	case n.op == opNeg:
		s = "-" + p.text(n.args[0], l)
	case n.op == opPower || n.op == opRealPower:
		s = p.base(n.args[0]) + "^" + p.text(n.args[1], bindsUnary)
	case l == bindsCompare:
		s = p.text(n.args[0], l+1) + " " + signs[n.op] + " " + p.text(n.args[1], l+1)
	default:
		s = p.text(n.args[0], l) + " " + signs[n.op] + " " + p.text(n.args[1], l+1)
	}
	if l < least {
		return "(" + s + ")"
	}
	return s
}

// base prints what a power is of. A number with its unit needs brackets, for
// the unit would take the exponent: 8 %^2.
func (p *printer) base(n *node) string {
	s := p.text(n, bindsPower+1)
	if n.op == opNumber && strings.ContainsAny(s, "- ") || n.op == opNumber && n.kind.Dimension != unit.One {
		return "(" + s + ")"
	}
	return s
}

// number prints a number with its unit. A built one is positive, negative
// says that its value counts with a minus.
func (p *printer) number(n *node, negative bool) string {
	if n.text != "" {
		return n.text
	}
	x := n.value
	if negative {
		x = -x
	}
	symbol := unit.SI(n.kind.Dimension).String()
	number := strconv.FormatFloat(x, 'g', -1, 64)
	if symbol == "1" {
		return number
	}
	if strings.ContainsAny(symbol, " (-") {
		symbol = "(" + symbol + ")"
	}
	return number + " " + symbol
}
