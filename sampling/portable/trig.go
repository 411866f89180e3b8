package portable

import "math"

// Coefficients of fdlibm's k_sin.c and k_cos.c; the notice stands in exp.go.
const (
	s1 = -1.66666666666666324348e-01
	s2 = 8.33333333332248946124e-03
	s3 = -1.98412698298579493134e-04
	s4 = 2.75573137070700676789e-06
	s5 = -2.50507602534068634195e-08
	s6 = 1.58969099521155010221e-10

	c1 = 4.16666666666666019037e-02
	c2 = -1.38888888888741095749e-03
	c3 = 2.48015872894767294178e-05
	c4 = -2.75573143513906633035e-07
	c5 = 2.08757232129817482790e-09
	c6 = -1.13596475577881948265e-11
)

// SinSmall returns the sine of x, in radians, within 1 ulp. It holds for
// |x| <= pi/4 only and must not be used beyond.
func SinSmall(x float64) float64 {
	z := float64(x * x)
	r := s2 + float64(z*(s3+float64(z*(s4+float64(z*(s5+float64(z*s6)))))))
	return x + float64(float64(z*x)*(s1+float64(z*r)))
}

// CosSmall returns the cosine of x, in radians, within 1 ulp. It holds for
// |x| <= pi/4 only and must not be used beyond.
func CosSmall(x float64) float64 { return cosSmall(x, 0) }

// sinSmall is the sine of x+y, y a correction to x.
func sinSmall(x, y float64) float64 {
	z := float64(x * x)
	v := float64(z * x)
	r := s2 + float64(z*(s3+float64(z*(s4+float64(z*(s5+float64(z*s6)))))))
	return x - ((float64(z*(float64(0.5*y)-float64(v*r))) - y) - float64(v*s1))
}

// cosSmall is the cosine of x+y, y a correction to x.
func cosSmall(x, y float64) float64 {
	z := float64(x * x)
	r := float64(z * (c1 + float64(z*(c2+float64(z*(c3+float64(z*(c4+float64(z*(c5+float64(z*c6)))))))))))
	half := 0.5 * z
	w := 1 - half
	return w + ((1 - w - half) + (float64(z*r) - float64(x*y)))
}

// Sin returns the sine of x, in radians, within 1 ulp for every finite x, however
// large; NaN for what is not finite.
func Sin(x float64) float64 {
	if math.Abs(x) <= math.Pi/4 {
		return SinSmall(x)
	}
	return quarter(x, 0)
}

// Cos returns the cosine of x, in radians, within 1 ulp for every finite x, however
// large; NaN for what is not finite.
func Cos(x float64) float64 {
	if math.Abs(x) <= math.Pi/4 {
		return CosSmall(x)
	}
	return quarter(x, 1)
}

// quarter is the sine of x + turn pi/2.
func quarter(x float64, turn int) float64 {
	if x-x != 0 {
		return math.NaN()
	}
	k, hi, lo := reduce(x)
	switch (k + turn) & 3 {
	case 0:
		return sinSmall(hi, lo)
	case 1:
		return cosSmall(hi, lo)
	case 2:
		return -sinSmall(hi, lo)
	}
	return -cosSmall(hi, lo)
}

// Tan returns the tangent of x, in radians, within 2 ulp for every finite x; NaN
// for what is not finite. It is a quotient: no float64 is a pole.
func Tan(x float64) float64 {
	switch {
	case x-x != 0:
		return math.NaN()
	case math.Abs(x) < 1.0/(1<<27): // x^3/3 is below the last place; keeps -0
		return x
	}
	k, hi, lo := reduce(x)
	s, c := sinSmall(hi, lo), cosSmall(hi, lo)
	if k&1 == 1 {
		return -c / s
	}
	return s / c
}
