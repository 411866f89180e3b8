package marginal

// tailed is a marginal with a table for either half.
type tailed interface {
	below(p float64) float64 // the value at the chance p <= 1/2 below
	above(q float64) float64
}

// fromBelow returns the quantile of a chance from 0 to 1; 1-p is exact above 1/2.
func fromBelow[M tailed](m M, p float64) float64 {
	if p > 0.5 {
		return m.above(1 - p)
	}
	return m.below(p)
}

func fromAbove[M tailed](m M, q float64) float64 {
	if q > 0.5 {
		return m.below(1 - q)
	}
	return m.above(q)
}

func fillBelow[M tailed](m M, x, u []float64) {
	for i, p := range u {
		x[i] = fromBelow(m, p)
	}
}

func fillAbove[M tailed](m M, x, q []float64) {
	for i, p := range q {
		x[i] = fromAbove(m, p)
	}
}
