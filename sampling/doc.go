// Package sampling gives the rows of a Monte Carlo study: points of the unit
// cube by a design, and values by the quantile functions of marginal
// distributions.
//
//	design, err := sampling.Latin(seed, 131072)
//	mass, err := sampling.Normal(1950, 30)
//	design.Fill(u, "sample", "kerb_mass", round, replicate, from)
//	mass.Fill(u, u)
//
// # Draws are a function, not a stream
//
// A point depends on the seed, a purpose ("sample", "index"), the input's name,
// the round, the replicate, the size of the replicate (but for random and sobol)
// and the row; for sobol and halton on the number of the column too, for
// latin_low_correlation on the columns before it. Any worker makes any rows. Adding
// an input leaves the draws of the others as they were with latin and random, and
// of those before it with all. Each number is a hash of its Key and its
// place. PCG is there for work with an order of its own.
//
// The bits of every draw are the same on every machine: only exact operations
// of package math are used, and sampling/portable for the rest. Draws are
// frozen by tests; PERT's may change by 1e-12 of the distance to the nearer
// end if its table is ever made anew.
//
// # Designs
//
// Latin (16 replicates, each a Latin hypercube) is the default: what adds up
// input by input cancels out of the error of a mean (Stein, 1987, Technometrics
// 29, 143-151). Sobol and Halton also take out what interacts, as far as it is
// smooth; their columns are numbered, and the first ones are the best spread.
// LatinLowCorrelation, for up to 2,000 rows, takes correlation by chance out of
// Latin. In all of them rows are not independent: errors come from the spread of
// the replicates, never from s/sqrt(rows). Random has independent rows. The error
// of the mean of smooth functions of 4 columns, from 64 to 4096 rows a replicate,
// fell as the rows to the power -0.45 to -0.48 (random, latin, which starts lower),
// -1.0 (halton), -1.2 to -1.3 (sobol): TestSlopes.
//
// # Marginals
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
// Inputs are independent but for those that a Dependence ties. Draws resolve a chance near 1 no better than
// 1.1e-16, so the far upper tail beyond it is never drawn. A truncated mean
// and sd are numeric integrals, good to about 1e-12 of the sd. A marginal must
// have a finite mean and sd.
//
// # Sources
//
// They stand at each design and marginal. Where none does, the formula is the
// distribution's definition.
package sampling
