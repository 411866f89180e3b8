package portable

import "math"

// NormalQuantile returns the x with NormalCDF(x) = p: -Inf at 0, +Inf at 1, NaN
// outside [0, 1]. It is accurate in the lower tail down to p = 1e-300; p near 1
// can't say how near, so use NormalQuantileUpper there.
//
// Method: the three stretches of Wichura (1988, AS 241), Applied Statistics 37,
// 477-484, each a straight line plus a small quotient of polynomials: what
// the quotient rounds is small beside x.
func NormalQuantile(p float64) float64 {
	q := p - 0.5
	if math.Abs(q) <= 0.425 {
		g := quotient(&quantileCentre, math.FMA(-q, q, 0.180625))
		return math.FMA(q, 2.75, float64(q*g))
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
		return math.FMA(1.53125, r-0.65625, quotient(&quantileMiddle, r-1.625))
	}
	return math.FMA(1.421875, r-0.3125, quotient(&quantileFar, r-5))
}

// quotient divides the polynomials of t with the coefficients of both columns, of
// degree 8 and 7.
func quotient(c *[9][2]float64, t float64) float64 {
	num, den := c[7][0]+float64(t*c[8][0]), c[7][1]
	for i := 6; i >= 0; i-- {
		num = c[i][0] + float64(t*num)
		den = c[i][1] + float64(t*den)
	}
	return num / den
}

// The coefficients are our own: testdata/sampling/normal_quantile_fit.py makes them,
// with relative errors of x below 2e-17.
var (
	quantileCentre = [9][2]float64{
		{0.6371328727963669, 1},
		{18.526984360025644, 45.055264091377865},
		{120.9065322466555, 792.3307833098386},
		{-1010.2342110195832, 6897.072790065555},
		{-15460.024021131692, 31153.45849276044},
		{-63802.23808210268, 70027.49454733157},
		{-96489.44661826284, 68180.51172946843},
		{-41686.95858589229, 20054.20480319346},
		{-576.9151918435489},
	}
	quantileMiddle = [9][2]float64{
		{-0.01734366379862747, 1},
		{0.13548347250709014, 2.0160076185477873},
		{0.1963000794556826, 1.634549260785124},
		{0.08006024619130174, 0.6888420549239638},
		{0.0024241100872487123, 0.16249639118047723},
		{-0.0058493270976553565, 0.02119932966694751},
		{-0.0015014626901856992, 0.0013534335057688966},
		{-0.00013453164146066626, 2.9637992946864784e-05},
		{-3.4671500242787137e-06},
	}
	quantileFar = [9][2]float64{
		{-0.007134418998896467, 1},
		{0.0439051655675646, 0.6138008220824813},
		{0.019914121769429315, 0.144983625784312},
		{0.0029735792104247246, 0.016621540400376347},
		{0.00016974976191949315, 0.0009637048901920902},
		{2.1914151681256347e-06, 2.6930092518516243e-05},
		{-8.478754541123159e-08, 3.13793231720109e-07},
		{-1.9753472293750593e-09, 1.0590274414422065e-09},
		{-8.11307106070088e-12},
	}
)
