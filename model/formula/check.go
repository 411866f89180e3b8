package formula

import (
	"proofmass/model/unit"
)

// Check gives every part its type, asking typeOf once for each name, and
// returns the type of the whole. The first thing wrong is an *Error; one of
// typeOf is wrapped at the name's first use. Call Check before Margin.
func (e *Expr) Check(typeOf func(name string) (Type, error)) (Type, error) {
	types := make([]Type, len(e.names))
	for i, name := range e.names {
		t, err := typeOf(name)
		if err != nil {
			return Type{}, &Error{Offset: e.offsets[i], Found: err.Error(), cause: err}
		}
		if t.Dimension != unit.Kelvin {
			t.Temperature, t.Either = false, false
		}
		types[i] = t
	}
	if err := check(e.root, types); err != nil {
		return Type{}, err
	}
	e.types = types
	return e.root.kind, nil
}

func check(n *node, types []Type) *Error {
	for _, arg := range n.args {
		if err := check(arg, types); err != nil {
			return err
		}
	}
	var err *Error
	switch n.op {
	case opNumber:
	case opName:
		n.kind = types[n.name]
	case opOr, opAnd, opNot:
		n.kind, err = Type{Bool: true}, conditions(n, n.args)
	case opLess, opLessEqual, opGreater, opGreaterEqual:
		_, err = alike(n, n.args)
		n.kind = Type{Bool: true}
	case opMin, opMax:
		n.kind, err = alike(n, n.args)
	case opIf:
		n.kind, err = checkIf(n)
	case opAdd, opSub:
		n.kind, err = checkSum(n)
	default:
		n.kind, err = checkProduct(n)
	}
	if err == nil && !n.kind.Dimension.Sensible() {
		err = errorAt(n.offset, "the dimension %s has powers above 24", n.kind.Dimension)
	}
	return err
}

func label(n *node) string {
	if name := functionOf(n.op); name != "" {
		return name
	}
	return signs[n.op]
}

// conditions requires that every argument is a condition.
func conditions(n *node, args []*node) *Error {
	for _, arg := range args {
		if !arg.kind.Bool {
			return errorAt(arg.offset, "%s needs a condition, but found a number in %s", label(n), arg.kind)
		}
	}
	return nil
}

// numbers requires that no argument is a condition.
func numbers(n *node, args []*node) *Error {
	for _, arg := range args {
		if arg.kind.Bool {
			return errorAt(arg.offset, "%s needs numbers, but found a condition; if(condition, 1, 0) makes a number of one", label(n))
		}
	}
	return nil
}

// alike requires numbers of one dimension, and temperatures all absolute or
// all differences, and returns their common type.
func alike(n *node, args []*node) (Type, *Error) {
	if err := numbers(n, args); err != nil {
		return Type{}, err
	}
	common := args[0].kind
	for _, arg := range args[1:] {
		if err := sameDimension(n, args[0], arg); err != nil {
			return Type{}, err
		}
		switch t := arg.kind; {
		case common.Either:
			common = t
		case !t.Either && t.Temperature != common.Temperature:
			return Type{}, errorAt(n.offset, "%s: an absolute temperature and a difference of temperatures do not compare", label(n))
		}
	}
	return common, nil
}

func sameDimension(n, left, right *node) *Error {
	a, b := left.kind, right.kind
	if a.Dimension == b.Dimension {
		return nil
	}
	hint := ""
	for _, side := range [][2]*node{{left, right}, {right, left}} {
		if side[0].op == opNumber && side[0].kind.Dimension == unit.One {
			hint = "; a number needs its unit too: " + side[0].text + " " + unit.SI(side[1].kind.Dimension).String()
		}
	}
	if functionOf(n.op) != "" {
		return errorAt(n.offset, "%s(%s, %s): all must have the same dimension%s", label(n), a, b, hint)
	}
	return errorAt(n.offset, "%s %s %s: both sides must have the same dimension%s", a, label(n), b, hint)
}

func checkIf(n *node) (Type, *Error) {
	if err := conditions(n, n.args[:1]); err != nil {
		return Type{}, err
	}
	yes, no := n.args[1], n.args[2]
	if yes.kind.Bool && no.kind.Bool {
		return Type{Bool: true}, nil
	}
	return alike(n, n.args[1:])
}

// checkSum knows the sums of temperatures: absolute +- difference is absolute,
// absolute - absolute a difference, and no other sum has an absolute one.
func checkSum(n *node) (Type, *Error) {
	left, right := n.args[0], n.args[1]
	if err := numbers(n, n.args); err != nil {
		return Type{}, err
	}
	if err := sameDimension(n, left, right); err != nil {
		return Type{}, err
	}
	a, b := left.kind, right.kind
	sum := Type{Dimension: a.Dimension}
	if a.Dimension != unit.Kelvin {
		return sum, nil
	}
	difference := !b.Temperature && !b.Either
	switch {
	case n.op == opAdd && a.Temperature && b.Temperature:
		return sum, errorAt(n.offset, "two absolute temperatures have no sum; a difference is written in K")
	case n.op == opAdd:
		sum.Temperature = a.Temperature || b.Temperature
		sum.Either = !sum.Temperature && (a.Either || b.Either)
	case b.Temperature && !a.Temperature && !a.Either:
		return sum, errorAt(n.offset, "an absolute temperature can't be taken from a difference")
	case b.Temperature: // a difference
	case difference:
		sum.Temperature, sum.Either = a.Temperature, a.Either
	default: // less a number in K, which is either
		sum.Either = a.Temperature || a.Either
	}
	return sum, nil
}

// checkProduct gives the type of all that needs no likeness of its arguments.
func checkProduct(n *node) (Type, *Error) {
	if err := numbers(n, n.args); err != nil {
		return Type{}, err
	}
	x := n.args[0].kind
	switch n.op {
	case opMul:
		return product(n, x.Dimension.Times(n.args[1].kind.Dimension)), nil
	case opDiv:
		return product(n, x.Dimension.Over(n.args[1].kind.Dimension)), nil
	case opRealPower:
		return Type{}, checkRealPower(n)
	case opAtan2:
		_, err := alike(n, n.args)
		return Type{}, err
	case opPower:
		return product(n, x.Dimension.Power(n.power)), nil
	case opAbs:
		return x, nil
	case opNeg:
		if x.Temperature {
			return x, errorAt(n.offset, "an absolute temperature has no negative; a temperature below zero is written -5 degC")
		}
		return x, nil
	case opSqrt:
		root, ok := x.Dimension.Root()
		if !ok {
			return x, errorAt(n.offset, "sqrt(%s): no unit has this square", x)
		}
		return product(n, root), nil
	}
	if x.Dimension != unit.One {
		return x, errorAt(n.offset, "%s(%s): the argument must be a plain number; divide by a unit first", label(n), x)
	}
	return Type{}, nil
}

// checkRealPower requires plain numbers: a unit to a power that is not a constant
// whole number is none.
func checkRealPower(n *node) *Error {
	base, exponent := n.args[0], n.args[1]
	if exponent.kind.Dimension != unit.One {
		return errorAt(n.offset, "%s ^ %s: an exponent has no unit", base.kind, exponent.kind)
	}
	if base.kind.Dimension != unit.One {
		return errorAt(n.offset, "%s ^ ...: only a constant whole exponent from -%d to %d may stand at a number with a unit; divide by a unit first, or take sqrt",
			base.kind, mostPower, mostPower)
	}
	return nil
}

// product is the type of a product: in K it is a difference if a difference
// was scaled, else it may be either.
func product(n *node, d unit.Dimension) Type {
	t := Type{Dimension: d, Either: d == unit.Kelvin}
	for _, arg := range n.args {
		if k := arg.kind; k.Dimension == unit.Kelvin && !k.Temperature && !k.Either {
			t.Either = false
		}
	}
	return t
}
