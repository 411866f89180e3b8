// Package design places the rows of a Monte Carlo study in the unit cube.
//
//	d, err := design.Latin(seed, 131072)
//	d.Fill(u, "sample", "kerb_mass", round, replicate, from)
//
// # Points are a function, not a stream
//
// A point depends on the seed, a purpose ("sample", "index"), the input's name,
// the round, the replicate, the size of the replicate (but for random and sobol)
// and the row; for sobol and halton on the number of the column too, for
// latin_low_correlation on the columns before it. Any worker makes any rows. Adding
// an input leaves the draws of the others as they were with latin and random, and
// of those before it with all. Each number is a hash of its Key and its
// place.
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
// # Designs compared
//
// Errors at 8192 rows: mean, p05, p95 in % of the width from p05 to p95; chance of 0.02
// in 0.01 (TestDesignErrors and TestDesignSpreadOfHeron of jobs; the last three columns
// once, by code that is gone):
//
//	function                                      random               latin                 halton                sobol                  lattice               folded lattice        orthogonal array
//	additive                                      .30 .55 .71 .148     .0065 .59 .56 .129    .015 .44 .38 .092     .0064 .37 .44 .088     .031 .33 .33 .094     0 .40 .40 .088        .0060 .43 .45 .118
//	Ishigami                                      .37 1.18 1.00 .142   .172 .96 .91 .133     .034 .58 .57 .083     .0095 .57 .56 .095     .0003 .57 .57 .066    0 .37 .31 .055        .028 .56 .53 .103
//	product                                       .32 .22 1.45 .148    .111 .23 1.14 .129    .026 .17 .78 .092     .019 .15 .89 .088      .055 .13 .66 .094     .017 .16 .82 .088     .033 .17 .92 .118
//	heron (two claims; before its figures moved)  .28 .85 .70 .12/.12  .011 .49 .57 .08/.15  .066 .54 .50 .10/.10  .0096 .45 .40 .07/.11  .024 .49 .33 .05/.14  .017 .40 .36 .09/.10  .0025 .21 .21 .03/.05 (35,344 rows)
//
// The first three rows are rms errors; heron's is the spread over 24 seeds (the
// committed test uses 16). On accuracy alone sobol wins: a mean up to 18 times better
// where inputs interact (Ishigami), percentiles and chances by a tenth to two fifths.
// latin is kept all the same, since a draw of it belongs to an input's name: sobol's
// dimensions go by position (an input added in front changes the draws behind it), and
// it takes powers of two and at most 128 inputs with indices. latin_low_correlation is
// mixed (1024 rows: mean of the product .146 for .270, of the additive function .065
// for .056).
//
// Lattices and orthogonal arrays are not in the product (last three columns: rank-1
// lattices built component by component with weights 1/j^2, each replicate shifted at
// random, without and with the baker's transformation; Tang's Latin hypercubes on
// Bose's arrays, 8464 rows). An array's percentiles err a fifth to two fifths less than
// latin's with as many rows, but nowhere less than sobol's by more than a tenth, and a
// replicate takes p^2 rows, p a prime not below the inputs less one: heron needs 35,344
// rows, where latin has .0032 .31 .26 .04/.05 and sobol (32,768) .0028 .21 .19 .03/.04.
// A lattice's percentiles err up to a quarter less than sobol's with 6 inputs, but its
// mean 3 to 5 times more, and twice with heron's 45; Ishigami, periodic in 3 inputs, is
// its best case. Folding mends part of the mean (its zeros come of the symmetry of two
// functions). Each number of rows and inputs needs a search for a vector, and weights
// that nothing in a study tells. Who wants that accuracy has sobol.
package design
