package portable

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
func CosSmall(x float64) float64 {
	z := float64(x * x)
	r := float64(z * (c1 + float64(z*(c2+float64(z*(c3+float64(z*(c4+float64(z*(c5+float64(z*c6)))))))))))
	half := 0.5 * z
	w := 1 - half
	return w + ((1 - w - half) + float64(z*r))
}
