package portable

import "math"

// NormalQuantile returns the x with NormalCDF(x) = p: -Inf at 0, +Inf at 1, NaN
// outside [0, 1]. It is accurate in the lower tail down to p = 1e-300; p near 1
// can't say how near, so use NormalQuantileUpper there.
//
// Method: algorithm AS 241, PPND16, of Wichura (1988), Applied Statistics 37,
// 477-484: a quotient of two polynomials of degree 7 on each of three stretches.
func NormalQuantile(p float64) float64 {
	q := p - 0.5
	if math.Abs(q) <= 0.425 {
		r := 0.180625 - float64(q*q)
		return float64(q * quotient(&quantileCentre, r))
	}
	switch {
	case q < 0:
		return -quantileTail(p)
	case q > 0:
		return quantileTail(1 - p)
	}
	return p // NaN
}

// NormalQuantileUpper returns the x with NormalSurvival(x) = q, accurate in the
// upper tail down to q = 1e-300: minus NormalQuantile(q).
func NormalQuantileUpper(q float64) float64 { return -NormalQuantile(q) }

// quantileTail returns the x above which the chance is p < 0.075.
func quantileTail(p float64) float64 {
	if !(p > 0) {
		return -Log(p) // +Inf at 0, NaN below
	}
	r := math.Sqrt(-Log(p))
	if r <= 5 {
		return quotient(&quantileMiddle, r-1.6)
	}
	return quotient(&quantileFar, r-5)
}

// quotient divides the polynomials of t with the coefficients of both columns.
func quotient(c *[8][2]float64, t float64) float64 {
	num, den := c[7][0], c[7][1]
	for i := 6; i >= 0; i-- {
		num = math.FMA(t, num, c[i][0])
		den = math.FMA(t, den, c[i][1])
	}
	return num / den
}

var (
	quantileCentre = [8][2]float64{
		{3.3871328727963666080, 1},
		{133.14166789178437745, 42.313330701600911252},
		{1971.5909503065514427, 687.18700749205790830},
		{13731.693765509461125, 5394.1960214247511077},
		{45921.953931549871457, 21213.794301586595867},
		{67265.770927008700853, 39307.895800092710610},
		{33430.575583588128105, 28729.085735721942674},
		{2509.0809287301226727, 5226.4952788528545610},
	}
	quantileMiddle = [8][2]float64{
		{1.42343711074968357734, 1},
		{4.63033784615654529590, 2.05319162663775882187},
		{5.76949722146069140550, 1.67638483018380384940},
		{3.64784832476320460504, 0.689767334985100004550},
		{1.27045825245236838258, 0.148103976427480074590},
		{0.241780725177450611770, 1.51986665636164571966e-2},
		{2.27238449892691845833e-2, 5.47593808499534494600e-4},
		{7.74545014278341407640e-4, 1.05075007164441684324e-9},
	}
	quantileFar = [8][2]float64{
		{6.65790464350110377720, 1},
		{5.46378491116411436990, 0.599832206555887937690},
		{1.78482653991729133580, 0.136929880922735805310},
		{0.296560571828504891230, 1.48753612908506148525e-2},
		{2.65321895265761230930e-2, 7.86869131145613259100e-4},
		{1.24266094738807843860e-3, 1.84631831751005468180e-5},
		{2.71155556874348757815e-5, 1.42151175831644588870e-7},
		{2.01033439929228813265e-7, 2.04426310338993978564e-15},
	}
)
