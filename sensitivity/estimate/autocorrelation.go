package estimate

import "math"

// autocorrelation is the coefficient of the rows x with those that stand lag rows
// later, around the mean m of all of them:
//
//	sum (x[i]-m) (x[i+lag]-m) / sum (x[i]-m)^2
//
// as NIST defines it (Engineering Statistics Handbook, 1.3.5.12). NaN for a
// constant column and for a lag that leaves no pair. No result of a study asks for it: it
// certifies sums of paired products against the NIST StRD sets, beside mean and sd.
func autocorrelation(x []float64, lag int) float64 {
	if lag < 0 || lag >= len(x) {
		return math.NaN()
	}
	n := float64(len(x))
	mean := x[0] + sumAround(x, x[0])/n
	// what the rounding of the mean left, as in moments
	rest := sumAround(x, mean) / n
	var pairs, squares compensated
	for i, v := range x {
		d := v - mean - rest
		squares.addProduct(d, d)
		if i+lag < len(x) {
			pairs.addProduct(d, x[i+lag]-mean-rest)
		}
	}
	return pairs.total() / squares.total()
}

// sumAround is the sum of x - centre.
func sumAround(x []float64, centre float64) float64 {
	var s compensated
	for _, v := range x {
		s.add(v - centre)
	}
	return s.total()
}

// compensated is a sum that carries its own rounding errors (Ogita, Rump and Oishi
// 2005, SIAM J. Sci. Comput. 26, 1955-1988: as good as sums of twice the digits).
type compensated struct{ sum, lost float64 }

func (c *compensated) add(v float64) {
	s := c.sum + v
	t := s - c.sum
	c.lost += (c.sum - (s - t)) + (v - t)
	c.sum = s
}

func (c *compensated) addProduct(a, b float64) {
	p := float64(a * b)
	c.add(p)
	c.lost += math.FMA(a, b, -p)
}

func (c *compensated) total() float64 { return c.sum + c.lost }
