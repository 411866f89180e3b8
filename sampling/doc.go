// Package sampling is the house of what draws the rows of a Monte Carlo study: points
// of the unit cube by a design, values by the quantile functions of marginal
// distributions, ties between inputs by a copula. It has no code of its own.
//
//	design    points of the unit cube, keyed randomness
//	marginal  distributions of single inputs; it uses special
//	copula    several inputs tied together; it uses marginal
//	special   incomplete gamma and beta functions, and tables of their quantiles
//	portable  exp, log, normal distribution ... with equal bits on every machine
//
// All use portable, and no others than these arrows say use one another.
//
// # Draws are a function, not a stream
//
// A point depends on the seed, a purpose ("sample", "index"), the input's name, the
// round, the replicate and the row: package design tells the rest. A value depends on
// its point and its marginal, tied ones on the points of their group. Any worker makes
// any rows. The bits of every draw are the same on every machine: only exact
// operations of package math are used, and portable for the rest. Draws are frozen by
// tests.
//
// # Sources
//
// They stand at each design, marginal and function. Where none does, the formula is the
// definition.
package sampling
