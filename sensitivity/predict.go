package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// spread is the widest half-width to expect of an index, in units of t/sqrt(N), t
// the Student quantile of the replicates. It was calibrated on 16 replicated Latin
// hypercubes: the greatest half-width of all first and total indices of a function,
// times sqrt(N)/t, over 1600 to 100 seeded trials (N = 1024 to 16384; the figures
// do not depend on N and are the middle of three):
//
//	function                                     inputs  median   90 %   99 %
//	Ishigami                                          3    1.21   1.51   1.74
//	G, a = 0 0 0                                      3    1.17   1.39   1.60
//	G, a = 0 1 4.5 9 99 99 99 99                      8    1.10   1.34   1.59
//	sum of uniforms, ranges 4 4 1.5 0.5               4    0.84   1.02   1.14
//	sum of uniforms, one of sd 1, nine of 0.1        10    1.02   1.26   1.48
//	sum of uniforms of one sd                        10    0.54   0.61   0.68
//	sum of normals, one of sd 1, nine of 0.1         10    1.01   1.27   1.49
//	sum of normals, two of sd 1, nine of 0.1         11    0.84   1.02   1.17
//	sum of normals of one sd                         10    0.54   0.61   0.69
//	exp of a sum of normals, sd 0.3 and nine of 0.1  10    1.06   1.28   1.53
//	exp of a sum of normals, sd 0.5 0.5 0.3 0.2       4    2.04   3.13   6.62
//
// What counts is one index near 1 or a strong interaction, not the number of
// inputs. With all rows but the last as the ten outputs of a study
// (predict_test.go): 1.7 was enough for all of them in 391 of 400 trials, 1.8 in
// 400. It is not enough for the last row, an output with a coefficient of
// variation of 0.9 and a long tail, for which no number fixed beforehand is.
const spread = 1.7

// PredictRows returns the base rows N, a multiple of the replicates, with which
// all 95 % intervals of the indices of some ten outputs reach the half-width in
// the great majority of studies:
//
//	N = (1.7 t / halfWidth)^2, t with replicates-1 degrees of freedom.
//
// The runs are N(d+2) with d inputs. halfWidth is positive and replicates at
// least 2; the answer is never below estimate.FewestRows nor above 2^40.
func PredictRows(halfWidth float64, replicates int) int {
	replicates = max(replicates, 2)
	root := spread * estimate.StudentQuantile(0.95, replicates-1) / halfWidth
	n := math.Ceil(root * root)
	if !(n < 1<<40) || halfWidth < 0 {
		n = 1 << 40
	}
	rows := max(int(n), estimate.FewestRows)
	return (rows + replicates - 1) / replicates * replicates
}
