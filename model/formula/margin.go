package formula

import (
	"math"

	"proofmass/model/unit"
)

// Margin returns how far inside a checked condition is: b - a for a <= b and
// a < b, a - b for the other way round, the smallest under and, the largest
// under or, the negative under not. It is at least 0 where the condition holds
// and at most 0 where not. It returns false if e is no checked condition, if
// its comparisons differ in dimension, or if it has an if among them. The
// margin is checked and has the same Names in the same order.
func (e *Expr) Margin() (*Expr, bool) {
	if !e.root.kind.Bool || e.types == nil && len(e.names) > 0 {
		return nil, false
	}
	root, ok := margin(e.root)
	if !ok {
		return nil, false
	}
	m := &Expr{root: root, names: e.names, offsets: e.offsets, types: e.types, currency: e.currency}
	if err := check(root, e.types); err != nil {
		return nil, false
	}
	return m, true
}

func margin(n *node) (*node, bool) {
	switch n.op {
	case opLess, opLessEqual:
		return &node{op: opSub, offset: n.offset, args: []*node{n.args[1], n.args[0]}}, true
	case opGreater, opGreaterEqual:
		return &node{op: opSub, offset: n.offset, args: n.args}, true
	case opNot, opAnd, opOr:
		args := make([]*node, len(n.args))
		for i, arg := range n.args {
			var ok bool
			if args[i], ok = margin(arg); !ok {
				return nil, false
			}
		}
		o := map[op]op{opNot: opNeg, opAnd: opMin, opOr: opMax}[n.op]
		return &node{op: o, offset: n.offset, args: args}, true
	}
	return nil, false
}

// Compare builds the condition `name op limit`, op being >=, >, <= or <, with
// the limit in SI and of dimension d. Another op counts as >=.
func Compare(name, op string, siLimit float64, d unit.Dimension) *Expr {
	o, ok := compareOps[op]
	if !ok {
		o = opGreaterEqual
	}
	return built(name, func(x func() *node) *node {
		return &node{op: o, args: []*node{x(), literal(siLimit, d)}}
	})
}

// Between builds the condition `name >= low and name <= high`, the limits in SI and of
// dimension d: each end is its own number, so that it counts to the last bit.
func Between(name string, siLow, siHigh float64, d unit.Dimension) *Expr {
	return built(name, func(x func() *node) *node {
		return &node{op: opAnd, args: []*node{
			{op: opGreaterEqual, args: []*node{x(), literal(siLow, d)}},
			{op: opLessEqual, args: []*node{x(), literal(siHigh, d)}}}}
	})
}

func built(name string, root func(x func() *node) *node) *Expr {
	x := func() *node { return &node{op: opName} }
	return &Expr{root: root(x), names: []string{name}, offsets: []int{0}}
}

func literal(x float64, d unit.Dimension) *node {
	n := &node{op: opNumber, value: math.Abs(x), kind: Type{Dimension: d, Either: d == unit.Kelvin}}
	if x < 0 {
		return &node{op: opNeg, args: []*node{n}, kind: n.kind}
	}
	return n
}
