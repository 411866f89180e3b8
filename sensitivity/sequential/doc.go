// Package sequential moves populations of points towards what plain rows hardly ever meet, in
// rounds: towards a rare event, level by level (subset simulation: Au and Beck, 2001, Prob. Eng.
// Mech. 16), or towards what was measured, from a likelihood to the power 0 up to the whole one
// (tempering: Del Moral, Doucet and Jasra, 2006, J. R. Stat. Soc. B 68).
//
// A point is a row of independent standard normal scores; what makes inputs of them, and a
// value of the inputs, is the caller's. Several independent populations tell how sure the
// result is. In each round every population picks its rows anew by their weights, and each
// row takes moves that keep the normal distribution and are accepted by its value alone
// (Papaioannou, Betz, Zwirglmaier and Straub, 2015, Prob. Eng. Mech. 41). What a round does
// hangs on the joined round before it, on the seed, and on the numbers of round, population,
// row and move: the same bits in any order, by any number of workers.
package sequential
