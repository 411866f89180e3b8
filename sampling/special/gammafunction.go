package special

import (
	"math"

	"proofmass/sampling/portable"
)

// The gamma function in the forms that the tails of gamma, beta and Student
// need. Sources: DLMF 5.11.1 (Stirling's series), 5.5.1 (recurrence) and 5.7.3
// (series about 1).

// stirling are the coefficients B_2k / (2k (2k-1)) of Stirling's series.
var stirling = [...]float64{1.0 / 12, -1.0 / 360, 1.0 / 1260, -1.0 / 1680, 1.0 / 1188, -691.0 / 360360, 1.0 / 156, -3617.0 / 122400}

// stirlingFrom is where that many terms of the series give 17 digits.
const stirlingFrom = 16

// scaledGamma returns Gamma(a) / (sqrt(2 pi/a) (a/e)^a) for a > 0, within 2 ulp:
// it is near 1 for all but small a, and no a overflows.
func scaledGamma(a float64) float64 {
	if a >= stirlingFrom {
		t := 1 / float64(a*a)
		sum := 0.0
		for k := len(stirling) - 1; k >= 0; k-- {
			sum = float64(sum*t) + stirling[k]
		}
		return portable.Exp(sum / a)
	}
	product, b, n := portable.Pair{Hi: 1}, portable.Pair{Hi: a}, 0.0
	for ; b.Hi < stirlingFrom; n++ { // Gamma(a) = Gamma(b) / (a (a+1) ... (b-1))
		product = product.Product(b)
		b = b.Plus(portable.Pair{Hi: 1})
	}
	// what the powers of both leave: a ln(b/a) + n (ln b - 1)
	e := b.Log().Minus(portable.LogPair(a)).Times(a).Plus(b.Log().Minus(portable.Pair{Hi: 1}).Times(n))
	return float64(scaledGamma(b.Hi)*math.Sqrt(a/b.Hi)*e.Exp()) / product.Hi * (1 - product.Lo/product.Hi)
}

// zetaLess1 are zeta(k)-1 for k = 2, 3, ...
var zetaLess1 = [...]float64{
	0.64493406684822643647, 0.2020569031595942854, 0.082323233711138191516, 0.036927755143369926331,
	0.017343061984449139715, 0.0083492773819228268398, 0.0040773561979443393787, 0.0020083928260822144179,
	0.00099457512781808533715, 0.0004941886041194645587, 0.00024608655330804829864, 0.00012271334757848914675,
	0.000061248135058704829259, 0.000030588236307020493552, 0.000015282259408651871733, 7.6371976378997622736e-6,
	3.8172932649998398565e-6, 1.9082127165539389257e-6, 9.5396203387279611315e-7, 4.7693298678780646312e-7,
	2.3845050272773299e-7, 1.1921992596531107307e-7, 5.9608189051259479612e-8, 2.9803503514652280186e-8,
	1.4901554828365041235e-8, 7.450711789835429492e-9, 3.7253340247884570548e-9, 1.8626597235130490064e-9,
	9.3132743241966818287e-10, 4.656629065033784073e-10, 2.328311833676505492e-10, 1.1641550172700519776e-10,
	5.8207720879027008892e-11, 2.9103850444970996869e-11, 1.4551921891041984236e-11, 7.2759598350574810145e-12,
	3.6379795473786511902e-12, 1.8189896503070659476e-12,
}

// logGamma1p returns ln Gamma(1+a) for 0 <= a <= 1, with a relative error near
// 1e-16 for small a.
func logGamma1p(a float64) float64 {
	const oneLessEuler = 0.42278433509846713939
	sum := 0.0
	for i := len(zetaLess1) - 1; i >= 0; i-- {
		sum = float64(-a*sum) + zetaLess1[i]/float64(i+2)
	}
	return float64(a*(oneLessEuler+float64(a*sum))) - portable.Log1p(a)
}
