package portable

import "math"

// Coefficients of fdlibm's log and log1p; the notice stands in exp.go.
const (
	l1 = 6.666666666666735130e-01
	l2 = 3.999999999940941908e-01
	l3 = 2.857142874366239149e-01
	l4 = 2.222219843214978396e-01
	l5 = 1.818357216161805012e-01
	l6 = 1.531383769920937332e-01
	l7 = 1.479819860511658591e-01
)

// sqrtHalfBits is sqrt(1/2): a mantissa is taken between it and its double.
const sqrtHalfBits = 0x3fe6a09e667f3bcd

// Log returns the natural logarithm of x within 1 ulp: -Inf at 0, NaN below 0.
func Log(x float64) float64 {
	f, k, ok := logReduce(x)
	if !ok {
		return logSpecial(x)
	}
	return logScaled(f, 0, k)
}

// logReduce writes x as 2^k (1+f), 1+f between sqrt(1/2) and sqrt(2); f is
// exact. It is not ok unless x is positive and finite.
func logReduce(x float64) (f, k float64, ok bool) {
	bits := math.Float64bits(x)
	var shift float64
	if bits-1<<52 >= 0x7ff<<52-1<<52 { // not a normal positive number
		if !(x > 0) || bits == 0x7ff<<52 {
			return 0, 0, false
		}
		bits = math.Float64bits(x * (1 << 54)) // subnormal
		shift = -54
	}
	e := int64(bits-sqrtHalfBits) >> 52
	return math.Float64frombits(bits-uint64(e)<<52) - 1, float64(e) + shift, true
}

func logSpecial(x float64) float64 {
	switch {
	case x == 0:
		return math.Inf(-1)
	case x < 0:
		return math.NaN()
	}
	return x // +Inf and NaN
}

// logScaled returns k ln 2 + ln(1+f) + c.
func logScaled(f, c, k float64) float64 {
	s := f / (2 + f)
	z := float64(s * s)
	w := float64(z * z)
	t1 := float64(z * (l1 + float64(w*(l3+float64(w*(l5+float64(w*l7)))))))
	t2 := float64(w * (l2 + float64(w*(l4+float64(w*l6)))))
	half := float64(0.5 * f * f)
	return float64(k*ln2Hi) - ((half - (float64(s*(half+(t1+t2))) + (float64(k*ln2Lo) + c))) - f)
}

// Log1p returns ln(1+x) within 1 ulp, without the loss of Log(1+x) near 0.
func Log1p(x float64) float64 {
	const tiny = 1.0 / (1 << 54)
	switch {
	case !(x > -1) || math.IsInf(x, 1):
		return logSpecial(1 + x)
	case math.Abs(x) < tiny:
		return x
	case x > -0.29 && x < 0.41:
		return logScaled(x, 0, 0)
	}
	u := 1 + x
	// what the rounding of 1+x lost; 1-(u-x) is exact for u >= 2, x-(u-1) below
	c := 1 - (u - x)
	if u < 2 {
		c = x - (u - 1)
	}
	f, k, _ := logReduce(u)
	return logScaled(f, c/u, k)
}

// LogRatio returns ln(x/y), x and y > 0, with no loss where x is near y.
func LogRatio(x, y float64) float64 {
	if r := x / y; r < 0.5 || r > 2 {
		if r < 0x1p-1000 || r > 0x1p1000 { // the quotient may not hold it
			return Log(x) - Log(y)
		}
		return Log(r)
	}
	return Log1p((x - y) / y)
}
