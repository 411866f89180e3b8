// Package sensitivity says what an output depends on: first-order and total
// Sobol' indices by pick-freeze, and the one-at-a-time tornado. It gets values of
// a function as columns and knows neither the function nor how points are drawn.
//
// # Method
//
// Let Y = f(X_1, ..., X_d) have independent inputs, or independent groups of
// inputs, and variance V. The first-order index S_i = Var(E[Y|X_i])/V is the share
// of V that goes when X_i is known; the total index T_i = E[Var(Y|all but X_i)]/V
// the share that stays when all others are known. A and B are two independent
// designs of N rows (one design of 2d columns cut in two), AB_i is A with the
// columns of input i from B: N(d+2) runs in all. With fA, fB, fAB_i the outputs,
// mu the mean of fA and fB together, V the mean of their squared deviations,
//
//	S_i = mean( (fB - mu) (fAB_i - fA) ) / V    Saltelli et al. 2010, table 2 (b)
//	T_i = mean( (fA - fAB_i)^2 ) / (2 V)        Jansen 1999
//
// Both are exactly 0 for an input that the output does not use. Sums are kept for
// each of R replicates of the whole design; the interval is the jackknife over
// replicates with Student's t, R-1 degrees of freedom.
//
// # Limits
//
// Inputs that depend on one another have no indices of their own by this method:
// swap them together, as one input. Estimates are not clipped: a first-order index
// below 0 with an interval across 0 means that nothing is there. Indices are not
// scaled to a sum of 1. An output that never varies has none. Where runs are
// infeasible the indices describe the feasible part only; above 1 % dropped
// (common practice, no source) the reader must be told.
//
// # Sources
//
//   - Sobol' (1993), Math. Model. Comput. Exp. 1; Homma and Saltelli (1996), Reliab. Eng. Syst. Saf. 52.
//   - Saltelli, Annoni, Azzini, Campolongo, Ratto and Tarantola (2010), Comput. Phys. Commun. 181.
//   - Jansen (1999), Comput. Phys. Commun. 117.
package sensitivity
