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
	return built(name, func(x *node) *node {
		return &node{op: o, args: []*node{x, literal(siLimit, d)}}
	})
}

// About builds the condition `abs(name - centre) <= half`, both in SI and of
// dimension d.
func About(name string, siCentre, siHalf float64, d unit.Dimension) *Expr {
	return built(name, func(x *node) *node {
		distance := &node{op: opSub, args: []*node{x, literal(siCentre, d)}}
		if siCentre < 0 && d != unit.Kelvin {
			distance = &node{op: opAdd, args: []*node{x, literal(-siCentre, d)}}
		}
		half := literal(siHalf, d)
		half.kind.Either = false
		return &node{op: opLessEqual, args: []*node{{op: opAbs, args: []*node{distance}}, half}}
	})
}

func built(name string, root func(x *node) *node) *Expr {
	return &Expr{root: root(&node{op: opName}), names: []string{name}, offsets: []int{0}}
}

func literal(x float64, d unit.Dimension) *node {
	n := &node{op: opNumber, value: math.Abs(x), kind: Type{Dimension: d, Either: d == unit.Kelvin}}
	if x < 0 {
		return &node{op: opNeg, args: []*node{n}, kind: n.kind}
	}
	return n
}
