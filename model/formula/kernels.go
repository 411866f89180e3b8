package formula

import (
	"math"

	"proofmass/sampling/portable"
)

// A kernel computes out row by row from up to three columns of the same
// length, any of which may be out itself. Values that are not finite mark
// infeasible rows: a kernel hands them on as anything not finite. Sums and
// products do so by themselves; x*0, which is 0 for a finite x and NaN for
// others, does it elsewhere.
type kernel func(out, x, y, z []float64, s step)

var unary = map[op]kernel{
	opNot: notColumn, opNeg: negate, opAbs: absolute, opSqrt: squareRoot, opExp: exponential,
	opLog: logarithm, opLog10: logarithm10, opFloor: floor, opCeil: ceiling,
	opSin: each(portable.Sin), opCos: each(portable.Cos), opTan: each(portable.Tan),
	opAsin: each(portable.Asin), opAcos: each(portable.Acos), opAtan: each(portable.Atan),
}

var binary = map[op]kernel{
	opAdd: add, opSub: subtract, opMul: multiply, opDiv: divide, opMin: smaller, opMax: larger,
	opLess: less, opLessEqual: lessEqual, opGreater: swapped(less), opGreaterEqual: swapped(lessEqual),
	opAnd: multiply, opOr: orColumns, opRealPower: eachPair(realPower), opAtan2: eachPair(angle),
}

// constantRight and constantLeft have the kernels for x op k and k op x. Sums
// and products need none: they store one row a cycle, and to load a constant
// beside takes no longer.
var (
	constantRight = map[op]kernel{opLess: below, opLessEqual: atMost, opGreater: above, opGreaterEqual: atLeast}
	constantLeft  = map[op]kernel{opLess: above, opLessEqual: atLeast, opGreater: below, opGreaterEqual: atMost}
)

// rightScaled and leftScaled have the kernels for x op k*y and k*y op x.
var (
	rightScaled = map[op]kernel{opAdd: addScaled, opSub: subtractScaled}
	leftScaled  = map[op]kernel{opAdd: addScaled, opSub: scaledLess}
)

func negate(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = -x[i]
	}
}

func squareRoot(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = math.Sqrt(x[i])
	}
}

func smaller(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		a, b := x[i], y[i]
		out[i] = min(a, b) + (float64(a*0) + float64(b*0))
	}
}

func larger(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		a, b := x[i], y[i]
		out[i] = max(a, b) + (float64(a*0) + float64(b*0))
	}
}
