// Package marginal has the distributions of single uncertain inputs, drawn by their
// quantile functions.
//
//	mass, err := marginal.Normal(1950, 30)
//	mass.Fill(x, u) // u: points of (0, 1)
//
// # Distributions
//
// Between, LogBetween, Triangular, PERT (and TriangularEnds, PERTEnds, whose ends
// are percentiles), Normal, Likely, LogNormal, LogNormalMeanSD, Beta, Gamma,
// Weibull, Student, Arcsine, Trapezoidal, CurvilinearTrapezoidal, Percentiles,
// OneOf, Readings, Resampled, Smoothed, Constant; Truncate limits any of them.
// All numbers are in one unit of the caller's choice, from 1e-6 and less to
// 1e15 and more. Constructors refuse what is no distribution with a message
// that says what is allowed; the caller adds where it stood.
//
// Values agree with the exact quantile to a few units in the last place of the
// value, or of the ends or mean that it is counted from, down to chances of
// 1e-300 in either tail; PERT's to 5e-13 of the distance to the nearer end. In
// each tail of the others the chance of a quantile is the chance asked for within
// 4 units in the last place and what 4 units of the value (of a lognormal's score) bring; up to 8 for
// shapes and degrees of freedom near their limits. Beta, Gamma and Student draw
// from tables that take 3 to 20 ms to make and about 120 kB a half.
// Tests hold them against testdata/sampling/distributions.csv (60 digits).
//
// # Limits
//
// A chance near 1 is resolved no better than to 1.1e-16, so the far upper tail beyond it
// is never drawn. A truncated mean and sd are numeric integrals, good to about 1e-12 of
// the sd. A marginal must have a finite mean and sd. Draws are frozen by tests; PERT's
// may change by 1e-12 of the distance to the nearer end if its table is ever made anew.
package marginal
