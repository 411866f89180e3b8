package formula

import "math"

func copyColumn(out, x, _, _ []float64, _ step) { copy(out, x) }

func add(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		out[i] = x[i] + y[i]
	}
}

func subtract(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		out[i] = x[i] - y[i]
	}
}

func multiply(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		out[i] = x[i] * y[i]
	}
}

// divide refuses an infinite divisor, which would give 0.
func divide(out, x, y, _ []float64, _ step) {
	x, y = x[:len(out)], y[:len(out)]
	for i := range out {
		d := y[i]
		q := x[i] / d
		if math.Abs(d) > math.MaxFloat64 {
			q = math.NaN()
		}
		out[i] = q
	}
}

// addScaled is x + k*y; the product is rounded, as in all kernels.
func addScaled(out, x, y, _ []float64, s step) {
	x, y = x[:len(out)], y[:len(out)]
	k := s.k
	for i := range out {
		out[i] = x[i] + float64(k*y[i])
	}
}

func subtractScaled(out, x, y, _ []float64, s step) {
	x, y = x[:len(out)], y[:len(out)]
	k := s.k
	for i := range out {
		out[i] = x[i] - float64(k*y[i])
	}
}

// scaledLess is k*y - x.
func scaledLess(out, x, y, _ []float64, s step) {
	x, y = x[:len(out)], y[:len(out)]
	k := s.k
	for i := range out {
		out[i] = float64(k*y[i]) - x[i]
	}
}
