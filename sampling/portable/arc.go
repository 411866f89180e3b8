package portable

import "math"

// Coefficients and forms of fdlibm's e_asin.c, e_acos.c, s_atan.c and e_atan2.c; the
// notice stands in exp.go.

// arcRatio is the rational function R(z) of asin(x) = x + x R(x^2), |x| <= 1/2.
func arcRatio(z float64) float64 {
	const (
		p0 = 1.66666666666666657415e-01
		p1 = -3.25565818622400915405e-01
		p2 = 2.01212532134862925881e-01
		p3 = -4.00555345006794114027e-02
		p4 = 7.91534994289814532176e-04
		p5 = 3.47933107596021167570e-05
		q1 = -2.40339491173441421878e+00
		q2 = 2.02094576023350569471e+00
		q3 = -6.88283971605453293030e-01
		q4 = 7.70381505559019352791e-02
	)
	p := float64(z * (p0 + float64(z*(p1+float64(z*(p2+float64(z*(p3+float64(z*(p4+float64(z*p5)))))))))))
	q := 1 + float64(z*(q1+float64(z*(q2+float64(z*(q3+float64(z*q4)))))))
	return p / q
}

// arcEnd returns s = sqrt(z) as an upper half without low bits and a rest, and R(z):
// near its ends the arc is 2 (s + s R(z)) with z = (1-|x|)/2.
func arcEnd(z float64) (upper, rest float64) {
	s := math.Sqrt(z)
	upper = math.Float64frombits(math.Float64bits(s) &^ 0xffffffff)
	rest = (z - float64(upper*upper)) / (s + upper)
	return upper, rest + float64(arcRatio(z)*s)
}

// Asin returns the arc whose sine is x, from -pi/2 to pi/2, within 1 ulp; NaN
// outside [-1, 1].
func Asin(x float64) float64 {
	switch a := math.Abs(x); {
	case !(a <= 1):
		return math.NaN()
	case a < 0.5:
		return x + float64(x*arcRatio(float64(x*x)))
	case a == 1:
		return math.Copysign(halfPi1, x)
	default:
		upper, rest := arcEnd(0.5 * (1 - a))
		return math.Copysign(math.Pi/4-((float64(2*rest)-halfPi2)-(math.Pi/4-float64(2*upper))), x)
	}
}

// Acos returns the arc whose cosine is x, from 0 to pi, within 1 ulp; NaN outside
// [-1, 1].
func Acos(x float64) float64 {
	switch a := math.Abs(x); {
	case !(a <= 1):
		return math.NaN()
	case x == 1:
		return 0
	case x == -1:
		return math.Pi
	case a < 0.5:
		return halfPi1 - (x - (halfPi2 - float64(x*arcRatio(float64(x*x)))))
	case x < 0:
		z := 0.5 * (1 + x)
		s := math.Sqrt(z)
		w := float64(arcRatio(z)*s) - halfPi2
		return math.Pi - float64(2*(s+w))
	default:
		upper, rest := arcEnd(0.5 * (1 - x))
		return 2 * (upper + rest)
	}
}

// Atan returns the arc whose tangent is x, from -pi/2 to pi/2, within 1 ulp.
func Atan(x float64) float64 {
	a := math.Abs(x)
	switch {
	case x != x:
		return math.NaN()
	case a >= 1<<66:
		return math.Copysign(halfPi1+halfPi2, x)
	case a < 7.0/16:
		return x - float64(x*arcTangent(x))
	}
	var high, low, t float64
	switch {
	case a < 11.0/16:
		high, low, t = 4.63647609000806093515e-01, 2.26987774529616870924e-17, (float64(2*a)-1)/(2+a)
	case a < 19.0/16:
		high, low, t = math.Pi/4, halfPi2/2, (a-1)/(a+1)
	case a < 39.0/16:
		high, low, t = 9.82793723247329054082e-01, 1.39033110312309984516e-17, (a-1.5)/(1+float64(1.5*a))
	default:
		high, low, t = halfPi1, halfPi2, -1/a
	}
	return math.Copysign(high-((float64(t*arcTangent(t))-low)-t), x)
}

// arcTangent is 1 - atan(x)/x for |x| < 7/16.
func arcTangent(x float64) float64 {
	const (
		a0  = 3.33333333333329318027e-01
		a1  = -1.99999999998764832476e-01
		a2  = 1.42857142725034663711e-01
		a3  = -1.11111104054623557880e-01
		a4  = 9.09088713343650656196e-02
		a5  = -7.69187620504482999495e-02
		a6  = 6.66107313738753120669e-02
		a7  = -5.83357013379057348645e-02
		a8  = 4.97687799461593236017e-02
		a9  = -3.65315727442169155270e-02
		a10 = 1.62858201153657823623e-02
	)
	z := float64(x * x)
	w := float64(z * z)
	even := float64(z * (a0 + float64(w*(a2+float64(w*(a4+float64(w*(a6+float64(w*(a8+float64(w*a10)))))))))))
	odd := float64(w * (a1 + float64(w*(a3+float64(w*(a5+float64(w*(a7+float64(w*a9)))))))))
	return even + odd
}

// Atan2 returns the angle of the point (x, y) from the x axis, from -pi to pi,
// within 2 ulp; zeros and infinities as in IEEE 754-2019, 9.2.1.
func Atan2(y, x float64) float64 {
	switch {
	case x != x || y != y:
		return math.NaN()
	case y == 0:
		if math.Signbit(x) {
			return math.Copysign(math.Pi, y)
		}
		return y
	case x == 0:
		return math.Copysign(halfPi1, y)
	case math.IsInf(x, 0) && math.IsInf(y, 0):
		x, y = math.Copysign(1, x), math.Copysign(1, y)
	}
	a := Atan(math.Abs(y / x))
	if math.Signbit(x) {
		a = math.Pi - (a - 2*halfPi2)
	}
	return math.Copysign(a, y)
}
