package portable

import "math"

// Pow returns x to the power y for x >= 0, within 1 ulp: Pow(x, 0) = 1,
// Pow(0, y) = 0 for y > 0 and +Inf for y < 0, NaN for x < 0 or a NaN.
//
// y ln x is carried to about 65 bits beyond its binary point: a rounded
// exponent of 700 alone would cost 500 ulp.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case !(x >= 0) || y != y:
		return math.NaN()
	case x == 0 || math.IsInf(x, 1) || math.IsInf(y, 0):
		if (y > 0) == (x > 1) {
			return math.Inf(1)
		}
		return 0
	}
	hi, lo := logPair(x)
	p := float64(y * hi)
	switch {
	case p > 710:
		return math.Inf(1)
	case p < -746:
		return 0
	}
	return expSum(p, math.FMA(y, hi, -p)+float64(y*lo))
}

// logPair returns ln x for positive finite x as a sum of two numbers, with a
// relative error near 2^-65. It is the series 2 (s + s^3/3 + s^5/5 + ...) of
// s = f/(2+f), its first two terms in pairs.
func logPair(x float64) (hi, lo float64) {
	const (
		thirdsHi = 2.0 / 3
		thirdsLo = 3.7007434154171886e-17 // 2/3 - thirdsHi
	)
	f, k, _ := logReduce(x)
	den := 2 + f
	denLo := f - (den - 2)
	s := f / den
	sLo := (math.FMA(-s, den, f) - float64(s*denLo)) / den
	z := float64(s * s)
	zLo := math.FMA(s, s, -z) + float64(2*s*sLo)
	c := float64(s * z)
	cLo := math.FMA(s, z, -c) + (float64(s*zLo) + float64(sLo*z))
	t := float64(c * thirdsHi)
	tLo := math.FMA(c, thirdsHi, -t) + (float64(c*thirdsLo) + float64(cLo*thirdsHi))
	rest := float64(float64(c*z) * logSeries(z))

	hi, lo = twoSum(2*s, t)
	lo += tLo + rest + float64(2*sLo)
	a, aLo := twoSum(float64(k*ln2Hi), hi)
	return twoSum(a, aLo+(lo+float64(k*ln2Lo)))
}

// logSeries is 2/5 + 2z/7 + 2z^2/9 + ..., enough terms for z <= 0.0295.
func logSeries(z float64) float64 {
	sum := 2.0 / 29
	for _, c := range [...]float64{2.0 / 27, 2.0 / 25, 2.0 / 23, 2.0 / 21, 2.0 / 19, 2.0 / 17, 2.0 / 15, 2.0 / 13, 2.0 / 11, 2.0 / 9, 2.0 / 7, 2.0 / 5} {
		sum = c + float64(z*sum)
	}
	return sum
}

// twoSum returns a+b and its rounding error (Knuth).
func twoSum(a, b float64) (sum, err float64) {
	sum = a + b
	v := sum - a
	return sum, (a - (sum - v)) + (b - v)
}
