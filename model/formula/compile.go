package formula

import "math"

// A step applies one operation to whole columns. Registers are columns: first
// the inputs, then the temporaries and constants, last the result.
type step struct {
	run     kernel
	out     int
	a, b, c int     // operands, or none
	k       float64 // the constant operand of a fused kernel
	n       int     // an exponent
}

// none marks an operand that a step has not.
const none = -1

// Program compiles the expression. Each call returns a Code of its own.
func (e *Expr) Program() *Code {
	c := &compiler{code: &Code{inputs: len(e.names)}, constants: map[uint64]int{}}
	result := c.compile(fold(e.root))
	code := c.code
	code.result = len(code.fill) + code.inputs
	if n := len(code.steps); n > 0 && result >= code.inputs && !c.isConstant(result) {
		code.steps[n-1].out = code.result
	} else {
		code.steps = append(code.steps, step{run: copyColumn, out: code.result, a: result, b: none, c: none})
	}
	code.allocate()
	return code
}

type compiler struct {
	code      *Code
	free      []int          // temporaries not in use
	constants map[uint64]int // bits of a constant -> its column
}

// compile returns the register that holds the value of n, which is folded.
func (c *compiler) compile(n *node) int {
	switch n.op {
	case opNumber:
		return c.constant(n.value)
	case opName:
		return n.name
	case opIf:
		return c.choice(n)
	case opMin, opMax:
		left := c.compile(n.args[0])
		for _, arg := range n.args[1:] {
			left = c.emit(step{run: binary[n.op]}, left, c.compile(arg))
		}
		return left
	case opPower:
		return c.emit(step{run: powerKernel(n.power), n: n.power}, c.compile(n.args[0]))
	}
	if len(n.args) == 1 {
		return c.emit(step{run: unary[n.op]}, c.compile(n.args[0]))
	}
	return c.pair(n)
}

// pair compiles an operator, with a kernel of its own where one side is a
// constant or, in a sum, a multiple of something.
func (c *compiler) pair(n *node) int {
	left, right := n.args[0], n.args[1]
	if k, scaled, ok := scaledBy(right); ok && rightScaled[n.op] != nil {
		x := c.compile(left)
		return c.emit(step{run: rightScaled[n.op], k: k}, x, c.compile(scaled))
	}
	if k, scaled, ok := scaledBy(left); ok && leftScaled[n.op] != nil {
		x := c.compile(right)
		return c.emit(step{run: leftScaled[n.op], k: k}, x, c.compile(scaled))
	}
	if run := constantRight[n.op]; run != nil && right.op == opNumber {
		return c.emit(step{run: run, k: right.value}, c.compile(left))
	}
	if run := constantLeft[n.op]; run != nil && left.op == opNumber {
		return c.emit(step{run: run, k: left.value}, c.compile(right))
	}
	a := c.compile(left)
	return c.emit(step{run: binary[n.op]}, a, c.compile(right))
}

// scaledBy takes k*x or x*k apart.
func scaledBy(n *node) (k float64, x *node, ok bool) {
	if n.op != opMul {
		return 0, nil, false
	}
	if n.args[0].op == opNumber {
		return n.args[0].value, n.args[1], true
	}
	return n.args[1].value, n.args[0], n.args[1].op == opNumber
}

func (c *compiler) choice(n *node) int {
	condition, yes, no := n.args[0], n.args[1], n.args[2]
	if condition.op == opNumber && condition.value == condition.value {
		if condition.value != 0 {
			return c.compile(yes)
		}
		return c.compile(no)
	}
	x := c.compile(condition)
	y := c.compile(yes)
	return c.emit(step{run: choose}, x, y, c.compile(no))
}

// emit appends a step. Its operands are not read again, and its result may
// take the place of one of them, for a kernel reads row i before it writes it.
func (c *compiler) emit(s step, operands ...int) int {
	for i, place := range []*int{&s.a, &s.b, &s.c} {
		*place = none
		if i < len(operands) {
			*place = operands[i]
		}
	}
	for _, r := range operands {
		if r >= c.code.inputs && !c.isConstant(r) {
			c.free = append(c.free, r)
		}
	}
	s.out = c.temporary()
	c.code.steps = append(c.code.steps, s)
	return s.out
}

func (c *compiler) temporary() int {
	if n := len(c.free); n > 0 {
		r := c.free[n-1]
		c.free = c.free[:n-1]
		return r
	}
	c.code.fill = append(c.code.fill, math.NaN())
	c.code.constant = append(c.code.constant, false)
	return c.code.inputs + len(c.code.fill) - 1
}

// constant returns a column that holds x in every row.
func (c *compiler) constant(x float64) int {
	r, ok := c.constants[math.Float64bits(x)]
	if !ok {
		c.code.fill = append(c.code.fill, x)
		c.code.constant = append(c.code.constant, true)
		r = c.code.inputs + len(c.code.fill) - 1
		c.constants[math.Float64bits(x)] = r
	}
	return r
}

func (c *compiler) isConstant(r int) bool {
	return r >= c.code.inputs && c.code.constant[r-c.code.inputs]
}

// fold returns n with every part that has no names replaced by its value, NaN
// if it is infeasible. It uses the kernels, so that folding changes no bit.
func fold(n *node) *node {
	if n.op == opNumber || n.op == opName {
		return n
	}
	folded := *n
	folded.args = make([]*node, len(n.args))
	columns := make([][]float64, 0, len(n.args))
	for i, arg := range n.args {
		arg = fold(arg)
		folded.args[i] = arg
		if arg.op != opNumber {
			continue
		}
		columns = append(columns, []float64{arg.value})
		if x := arg.value; x != x && (n.op != opIf || i == 0) {
			return &node{op: opNumber, offset: n.offset, value: x, kind: n.kind}
		}
	}
	if len(columns) < len(n.args) {
		return &folded
	}
	return &node{op: opNumber, offset: n.offset, value: finite(apply(n, columns)), kind: n.kind}
}

// apply evaluates one operation on columns of one row.
func apply(n *node, columns [][]float64) float64 {
	out := []float64{math.NaN()}
	switch {
	case n.op == opIf:
		choose(out, columns[0], columns[1], columns[2], step{})
	case n.op == opPower:
		powerKernel(n.power)(out, columns[0], nil, nil, step{n: n.power})
	case len(columns) == 1:
		unary[n.op](out, columns[0], nil, nil, step{})
	default:
		copy(out, columns[0])
		for _, column := range columns[1:] {
			binary[n.op](out, out, column, nil, step{})
		}
	}
	return out[0]
}

func finite(x float64) float64 {
	if x-x != 0 {
		return math.NaN()
	}
	return x
}
