package portable

import "math"

// Notice is the copyright notice of what this package took over: the reduction and
// the polynomials of Exp, Expm1, Log, Log1p, the sine, the cosine and the arcs are
// those of FreeBSD's /usr/src/lib/msun/src/{e_exp,s_expm1,e_log,s_log1p,k_sin,k_cos,
// e_asin,e_acos,s_atan,e_atan2}.c, which came with it. What is changed: every
// product that meets a sum is rounded on its own.
const Notice = `Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
Developed at SunPro, a Sun Microsystems, Inc. business.
Permission to use, copy, modify, and distribute this
software is freely granted, provided that this notice
is preserved.
`

const (
	log2E = 1.44269504088896338700e+00
	// ln 2 in two parts; ln2Hi ends in 32 zero bits, so that k*ln2Hi is exact
	// for every exponent k.
	ln2Hi = 6.93147180369123816490e-01
	ln2Lo = 1.90821492927058770002e-10

	expOverflow  = 7.09782712893383973096e+02
	expUnderflow = -7.45133219101941108420e+02
)

// Exp returns e to the power x, within 1 ulp: +Inf above 709.78, 0 below
// -745.13, NaN for NaN. Results below 2.2e-308 are rounded once more.
func Exp(x float64) float64 { return expSum(x, 0) }

// expSum returns e to the power hi+lo, where lo is a small correction to hi,
// |lo| <= 1e-9. With hi+lo a product that was rounded to hi, it gives powers
// and tails without the loss of the rounding of a large exponent. Limits as Exp.
func expSum(hi, lo float64) float64 {
	const (
		p1 = 1.66666666666666657415e-01
		p2 = -2.77777777770155933842e-03
		p3 = 6.61375632143793436117e-05
		p4 = -1.65339022054652515390e-06
		p5 = 4.13813679705723846039e-08
	)
	switch {
	case hi != hi || hi > expOverflow:
		return hi + math.Inf(1)
	case hi < expUnderflow:
		return 0
	}
	k := int(float64(log2E*hi) + math.Copysign(0.5, hi))
	h := hi - float64(float64(k)*ln2Hi)
	l := float64(float64(k)*ln2Lo) - lo
	r := h - l
	t := r * r
	c := r - float64(t*(p1+float64(t*(p2+float64(t*(p3+float64(t*(p4+float64(t*p5)))))))))
	y := 1 - ((l - r*c/(2-c)) - h)
	if k < -1021 || k > 1022 {
		return math.Ldexp(y, k)
	}
	return float64(y * math.Float64frombits(uint64(1023+k)<<52)) // rounded: a caller may add to it
}

// Expm1 returns e to the power x, less 1, within 1 ulp, without the loss of
// Exp(x)-1 near 0.
func Expm1(x float64) float64 {
	const (
		tiny = 1.0 / (1 << 54)
		half = 3.46573590279972654709e-01 // ln 2 / 2
	)
	switch {
	case x != x || x > expOverflow:
		return x + math.Inf(1)
	case x < -39: // e^x is below half a unit in the last place of 1
		return -1
	case math.Abs(x) < tiny:
		return x
	case math.Abs(x) <= half:
		return expm1Reduced(x)
	}
	k := int(float64(log2E*x) + math.Copysign(0.5, x))
	hi := x - float64(float64(k)*ln2Hi)
	lo := float64(k) * ln2Lo
	r := hi - lo
	return expm1Scaled(r, (hi-r)-lo, k)
}

// expm1Terms returns x^2/2 and fdlibm's quotient for |x| <= ln 2 / 2.
func expm1Terms(x float64) (halfSquare, quotient float64) {
	const (
		q1 = -3.33333333333331316428e-02
		q2 = 1.58730158725481460165e-03
		q3 = -7.93650757867487942473e-05
		q4 = 4.00821782732936239552e-06
		q5 = -2.01099218183624371326e-07
	)
	hfx := 0.5 * x
	hxs := float64(x * hfx)
	r1 := 1 + float64(hxs*(q1+float64(hxs*(q2+float64(hxs*(q3+float64(hxs*(q4+float64(hxs*q5)))))))))
	t := 3 - float64(r1*hfx)
	return hxs, float64(hxs * ((r1 - t) / (6 - float64(x*t))))
}

func expm1Reduced(x float64) float64 {
	hxs, e := expm1Terms(x)
	return x - (float64(x*e) - hxs)
}

// expm1Scaled returns 2^k e^(x+c) - 1 for a reduced argument x+c and k != 0.
func expm1Scaled(x, c float64, k int) float64 {
	hxs, e := expm1Terms(x)
	e = float64(x*(e-c)) - c
	e -= hxs
	switch {
	case k == -1:
		return float64(0.5*(x-e)) - 0.5
	case k == 1:
		if x < -0.25 {
			return -2 * (e - (x + 0.5))
		}
		return 1 + float64(2*(x-e))
	case k <= -2 || k > 56:
		return math.Ldexp(1-(e-x), k) - 1
	case k < 20:
		return math.Ldexp((1-math.Ldexp(1, -k))-(e-x), k)
	}
	return math.Ldexp((x-(e+math.Ldexp(1, -k)))+1, k)
}
