// Package sensitivity says what an output depends on. It gets values of a function as
// columns and knows neither the function nor how points are drawn.
//
// # Swapped rows
//
// Let Y = f(X_1, ..., X_d) have independent inputs, or independent groups of
// inputs, and variance V. The first-order index S_i = Var(E[Y|X_i])/V is the share
// of V that goes when X_i is known; the total index T_i = E[Var(Y|all but X_i)]/V
// the share that stays when all others are known; S_ij is what goes when both are
// known beyond S_i and S_j. A and B are two independent designs of N rows (one design
// of 2d columns cut in two), AB_i is A with the columns of input i from B, BA_i the
// other way round: N(2d+2) runs in all. With fA, fB, fAB, fBA the outputs,
//
//	S_i = 2 sum (fBA - fB)(fA - fAB)            / sum [(fA - fB)^2 + (fBA - fAB)^2]
//	T_i = sum [(fA - fAB)^2 + (fB - fBA)^2]     / the same
//
// ([PickFreeze]; Azzini, Mara and Rosati 2021, Environ. Model. Softw. 144, from memory).
// Of six published pairs of estimators these have the least mean square error for a
// run of the model (compare_long_test.go has the table). Both are exactly 0 for an
// input that the output does not use, and only differences enter, so that a mean far
// above the spread costs no digits. Sums are kept for each of R replicates of the whole
// design; every interval is the jackknife over replicates with Student's t.
//
// # Other questions
//
//   - [Classes]: from the rows of a sample, without a further run: first-order index,
//     distances of conditional distributions, curves of the conditional mean.
//   - [Regress]: standardised regression coefficients, of values and of ranks.
//   - [Shapley]: shares for inputs that depend on one another.
//   - [Effects]: elementary effects of many inputs from few rows.
//   - [TornadoPoints]: each input moved alone.
//
// # Limits
//
// Inputs that depend on one another have no indices of their own by swapping: swap
// them together, as one input, and take Shapley effects. Estimates are not clipped: a
// first-order index below 0 with an interval across 0 means that nothing is there.
// Indices are not scaled to a sum of 1. An output that never varies has none. Where
// runs are infeasible the indices describe the feasible part only; above 1 % dropped
// (common practice, no source) the reader must be told.
//
// # Sources
//
//   - Sobol' (1993), Math. Model. Comput. Exp. 1; Homma and Saltelli (1996), Reliab. Eng. Syst. Saf. 52.
//   - Saltelli, Annoni, Azzini, Campolongo, Ratto and Tarantola (2010), Comput. Phys. Commun. 181.
package sensitivity
