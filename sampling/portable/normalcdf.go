package portable

import "math"

// NormalCDF returns the chance that a standard normal variable is at most x,
// with a relative error of a few units in the last place in both tails, down
// to 1e-307 (x = -37.4); it is 0 below -38.5. NaN for NaN.
func NormalCDF(x float64) float64 { return normalLower(x) }

// NormalSurvival returns the chance that a standard normal variable is above
// x: NormalCDF(-x), as accurate in the upper tail.
func NormalSurvival(x float64) float64 { return normalLower(-x) }

func normalLower(x float64) float64 {
	switch {
	case x != x:
		return x
	case math.Abs(x) < centreEnd:
		return 0.5 + float64(x*polynomial(&centre, x*x))
	case x < 0:
		return normalTail(-x)
	}
	return 1 - normalTail(x)
}

// normalTail returns the chance above x >= centreEnd.
func normalTail(x float64) float64 {
	s := &tails[0]
	switch {
	case x > 40:
		return 0
	case x > 8:
		s = &tails[2]
	case x > 3:
		s = &tails[1]
	}
	w := 1 / (x + s.k)
	mills := float64(w * polynomial(&s.c, float64(s.scale*w)+s.shift))
	// the rounding of x^2/2 alone would cost 680 ulp at x = 37
	sq := float64(x * x)
	return float64(mills * expSum(-0.5*sq, -0.5*math.FMA(x, x, -sq)))
}

// polynomial returns the sum of c[i] t^i.
func polynomial(c *[14]float64, t float64) float64 {
	sum := c[13]
	for i := 12; i >= 0; i-- {
		sum = c[i] + float64(t*sum)
	}
	return sum
}

// centreEnd parts the two forms: below it (Phi(x) - 1/2)/x is a polynomial in
// x^2, above it exp(x^2/2) Phi(-x) (x+k) one in t = scale/(x+k) + shift.
const centreEnd = 0.65

// The coefficients are our own, near-minimax with relative errors below 1e-16:
// testdata/sampling/normal_cdf_fit.py makes them.
var centre = [14]float64{
	0.3989422804014327,
	-0.06649038006690544,
	0.00997355701003574,
	-0.001187328215478211,
	0.00011543468758263387,
	-9.444655971609427e-06,
	6.659678448350697e-07,
	-4.1221784466170506e-08,
	2.26390709748162e-09,
	-1.0243514292656429e-10,
}

var tails = [3]struct {
	k, scale, shift float64
	c               [14]float64
}{
	{3, 18.508474576271187, -4.084745762711864, [14]float64{ // to x = 3
		0.9198405340980625,
		0.2177112365720457,
		0.02808513808465426,
		0.0009337881317903824,
		-0.00021144705444041243,
		-1.1805258856044277e-05,
		2.7734957091218573e-06,
		4.4460188518266654e-08,
		-4.258058354771709e-08,
		2.5552923071721374e-09,
		4.597094468684775e-10,
		-9.062075030995392e-11,
		1.4931666650531082e-12,
		1.391530762834183e-12,
	}},
	{2, 19.920159680638726, -2.9920159680638725, [14]float64{ // to x = 8
		0.5469507268020213,
		0.0586173796797004,
		0.00272443762338331,
		-0.00019406768438166432,
		-2.4793948660833338e-05,
		1.871761333685514e-06,
		2.447017201429912e-07,
		-3.3161587122322205e-08,
		-1.8086178731407935e-09,
		6.421187228332821e-10,
		-1.9539019673431932e-11,
		-9.92042683541999e-12,
		1.2641919659461843e-12,
		5.82408149547901e-14,
	}},
	{3, 29.526398000624805, -1.6866604186191816, [14]float64{
		0.47919268902408513,
		0.055573157109963814,
		0.005347036968828454,
		0.00038630986034488446,
		1.4523876867206219e-05,
		-7.777711601924518e-07,
		-1.5332554642653503e-07,
		-4.818848337175695e-09,
		1.0444035348841082e-09,
		1.0667884992815752e-10,
		-6.274186778470718e-12,
		-1.5674672080961968e-12,
		2.6156374036783122e-14,
		2.1981715380142025e-14,
	}},
}
