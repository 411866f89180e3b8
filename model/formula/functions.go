package formula

import (
	"math"

	"proofmass/sampling/portable"
)

func absolute(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = math.Abs(x[i])
	}
}

func floor(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = math.Floor(x[i])
	}
}

func ceiling(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = math.Ceil(x[i])
	}
}

func exponential(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = portable.Exp(x[i]) + float64(x[i]*0)
	}
}

func logarithm(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = naturalLog(x[i])
	}
}

func logarithm10(out, x, _, _ []float64, _ step) {
	x = x[:len(out)]
	for i := range out {
		out[i] = commonLog(x[i])
	}
}

// naturalLog is NaN for what has none, 0 included.
func naturalLog(x float64) float64 {
	if !(x > 0) {
		return math.NaN()
	}
	return portable.Log(x) + float64(x*0)
}

// commonLog is the natural logarithm over ln 10, and exact at the doubles
// nearest to whole powers of ten.
func commonLog(x float64) float64 {
	y := naturalLog(x) / math.Ln10
	n := math.Round(y)
	if math.Abs(y-n) < 1e-12 && math.Abs(n) <= mostTen && x == powersOfTen[int(n)+mostTen] {
		return n
	}
	return y
}

const mostTen = 22

var powersOfTen = [2*mostTen + 1]float64{
	1e-22, 1e-21, 1e-20, 1e-19, 1e-18, 1e-17, 1e-16, 1e-15, 1e-14, 1e-13, 1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 1e-1,
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// powerKernel returns the kernel of x^n.
func powerKernel(n int) kernel {
	if n == 2 {
		return func(out, x, _, _ []float64, s step) { multiply(out, x, x, nil, s) }
	}
	return powers
}

// powers squares and multiplies from the lowest binary digit of the exponent
// up; a negative exponent takes the reciprocal of the whole.
func powers(out, x, _, _ []float64, s step) {
	x = x[:len(out)]
	for i := range out {
		p, square := 1+float64(x[i]*0), x[i]
		for n := max(s.n, -s.n); n > 0; n >>= 1 {
			if n&1 == 1 {
				p *= square
			}
			if n > 1 {
				square *= square
			}
		}
		if s.n < 0 {
			p = 1/p + float64(p*0)
		}
		out[i] = p
	}
}

// each is the kernel of a function of one number.
func each(f func(float64) float64) kernel {
	return func(out, x, _, _ []float64, _ step) {
		x = x[:len(out)]
		for i := range out {
			out[i] = f(x[i]) + float64(x[i]*0)
		}
	}
}

// eachPair is the kernel of a function of two numbers.
func eachPair(f func(x, y float64) float64) kernel {
	return func(out, x, y, _ []float64, _ step) {
		x, y = x[:len(out)], y[:len(out)]
		for i := range out {
			a, b := x[i], y[i]
			out[i] = f(a, b) + (float64(a*0) + float64(b*0))
		}
	}
}

// realPower is x to the power y. A negative x has one only where y is whole.
func realPower(x, y float64) float64 {
	if x >= 0 {
		return portable.Pow(x, y)
	}
	if y != math.Trunc(y) {
		return math.NaN()
	}
	p := portable.Pow(-x, y)
	if math.Mod(y, 2) != 0 {
		return -p
	}
	return p
}

// angle is that of the point (x, y) from the x axis. The origin has none, and a
// zero no sign.
func angle(y, x float64) float64 {
	if x == 0 && y == 0 {
		return math.NaN()
	}
	return portable.Atan2(y+0, x+0)
}
