package portable

// Dot returns the sum of x[i] y[i] in the order of i, each product rounded; y is at
// least as long as x.
func Dot(x, y []float64) float64 {
	sum := 0.0
	for i := range x {
		sum += float64(x[i] * y[i])
	}
	return sum
}
