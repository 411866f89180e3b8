// Package portable has elementary functions and the normal distribution with
// equal bits on every machine.
//
// The functions of package math that are not exact (Exp, Log, Pow, Erf, the
// trigonometric ones) differ between architectures, and even between two
// machines of one architecture with the same binary. A draw, or a model's
// output, must not; so whatever reaches one is computed here.
//
// # Method
//
// Only operations that IEEE 754 rounds exactly are used, in a fixed order: a
// product that meets a sum is rounded first (float64(x*y), so that no compiler
// fuses it) or stands inside math.FMA. Errors, the largest found against a
// table of values made with 60 digits (testdata/sampling/portable.csv), in
// units in the last place (ulp):
//
//	Exp Expm1 Log Log1p     0.7
//	Pow                     0.9
//	SinSmall CosSmall       0.6, for |x| <= pi/4
//	Sin Cos                 0.6, for every x
//	Tan                     1.4, for every x
//	Asin Acos Atan          0.8
//	Atan2                   1.1
//	NormalCDF               2.2, in both tails down to 1e-300
//	NormalQuantile          1.8, from either tail down to 1e-300
//
// # Limits
//
// NormalQuantile takes a probability that is a float64: near 1 it can't be
// told better than to 1.1e-16. NormalQuantileUpper takes the chance above
// instead. Arguments of SinSmall and CosSmall are not reduced. math.FMA is
// slow, though right, on processors without such an instruction (before 2013).
//
// # Sources
//
//   - Exp, Expm1, Log, Log1p, sine and cosine, arcs: fdlibm, Sun Microsystems 1993
//     (Notice), with products rounded.
//   - Reduction of angles: Payne and Hanek (1983), SIGNUM Newsletter 18, 19-24.
//   - Pow: the logarithm's series summed in pairs, as in Dekker (1971), Numer.
//     Math. 18, 224-242, with the exact sum of Knuth (TAOCP 2, section 4.2.2).
//   - NormalCDF: own polynomials, testdata/sampling/normal_cdf_fit.py.
//   - NormalQuantile: the stretches of Wichura (1988), AS 241, Appl. Stat. 37,
//     477-484, with own coefficients, testdata/sampling/normal_quantile_fit.py.
package portable
