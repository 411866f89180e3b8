package formula

import "proofmass/model/unit"

// A Type is what kind of value an expression has.
type Type struct {
	Dimension unit.Dimension
	Bool      bool // a condition, 1 or 0
	// For the dimension K: an absolute temperature; neither flag is a
	// difference; Either serves as both, as a number written in K does.
	Temperature, Either bool
}

// String prints the dimension in base units, with the unit's own name if it
// has one: "kg m2/s2 (J)"; "yes/no" for a condition.
func (t Type) String() string {
	if t.Bool {
		return "yes/no"
	}
	text := t.Dimension.String()
	if name := unit.SI(t.Dimension).String(); name != text {
		text += " (" + name + ")"
	}
	return text
}

type op uint8

const (
	opNumber op = iota
	opName
	opOr
	opAnd
	opNot
	opLess
	opLessEqual
	opGreater
	opGreaterEqual
	opAdd
	opSub
	opMul
	opDiv
	opNeg
	opPower
	opIf
	opMin
	opMax
	opAbs
	opSqrt
	opExp
	opLog
	opLog10
	opFloor
	opCeil
	opRealPower // of two arguments; opPower has a whole exponent
	opSin
	opCos
	opTan
	opAsin
	opAcos
	opAtan
	opAtan2
)

var signs = map[op]string{
	opOr: "or", opAnd: "and", opNot: "not", opLess: "<", opLessEqual: "<=", opGreater: ">", opGreaterEqual: ">=",
	opAdd: "+", opSub: "-", opMul: "*", opDiv: "/", opNeg: "-", opPower: "^", opRealPower: "^",
}

// functionOf returns the name of a function's op, or "".
func functionOf(o op) string {
	for _, f := range functions {
		if f.op == o {
			return f.name
		}
	}
	return ""
}

// A node is a part of an expression. Nodes are not changed after Parse, but
// for kind, which Check fills.
type node struct {
	op     op
	offset int // of the operator, the function, the name or the number
	args   []*node
	value  float64 // of a number, SI
	text   string  // of a number, as written; "" if it was computed
	name   int     // of a name: its index in Expr.names
	power  int     // exponent of opPower
	kind   Type
}
