package sensitivity

import (
	"math"

	"proofmass/sensitivity/estimate"
)

// roundSpread is half of what the widest half-width of the indices of one output
// usually is, in units of t/sqrt(N), t the Student quantile of the replicates. It
// was calibrated on replicated Latin hypercubes: the greatest half-width of all
// first and total indices of a function, times sqrt(N)/t, over 200 seeded trials of
// 16 x 256 rows:
//
//	function                                     inputs  median   90 %   99 %
//	Ishigami                                          3    0.69   0.90   1.07
//	G, a = 0 0 0                                      3    0.70   0.82   0.96
//	G, a = 0 1 4.5 9 99 99 99 99                      8    0.38   0.46   0.58
//	sum of uniforms, ranges 4 4 1.5 0.5               4    0.40   0.47   0.56
//	sum of uniforms, one of sd 1, nine of 0.1        10    0.13   0.16   0.18
//	sum of uniforms of one sd                        10    0.19   0.22   0.24
//	sum of normals, one of sd 1, nine of 0.1         10    0.13   0.16   0.18
//	sum of normals, two of sd 1, nine of 0.1         11    0.38   0.46   0.55
//	sum of normals of one sd                         10    0.19   0.22   0.24
//	exp of a sum of normals, sd 0.5 0.5 0.3 0.2       4    0.53   0.64   0.76
//
// What counts is two equal indices or a strong interaction, not the number of
// inputs.
const roundSpread = 0.35

// fewestRoundRows are 64 a replicate of 16. With half as many the intervals of small
// indices held the exact value in 92 to 94 %.
const fewestRoundRows = 2 * estimate.FewestRows

// RoundRows returns the base rows of one round of growing indices, a multiple of
// the replicates:
//
//	N = (0.35 t / halfWidth)^2, t with replicates-1 degrees of freedom.
//
// Two to six rounds reach the half-width for all indices of an output with a
// coefficient of variation below some 0.5. The runs are N(2d+2) with d inputs.
// halfWidth is positive and replicates at least 2; the answer is never below 1024 nor
// above 2^40.
func RoundRows(halfWidth float64, replicates int) int {
	replicates = max(replicates, 2)
	root := roundSpread * estimate.StudentQuantile(0.95, replicates-1) / halfWidth
	n := math.Ceil(root * root)
	if !(n < 1<<40) || halfWidth < 0 {
		n = 1 << 40
	}
	rows := max(int(n), fewestRoundRows)
	return (rows + replicates - 1) / replicates * replicates
}

// MoreRounds returns how many rounds to add to done ones of one size, where most
// are allowed and the widest half-width is wide times the one asked for: what the
// square root of the rows promises and a reserve (0.1: a tenth more), at most as many
// again. 0 means that it is reached or that no more are allowed. Few looks, since a
// half-width that is looked at often is small by chance at one of them.
func MoreRounds(done, most int, wide, reserve float64) int {
	if !(wide > 1) || done >= most {
		return 0
	}
	more := done
	if need := (1 + reserve) * float64(done) * wide * wide; need < 2*float64(done) {
		more = max(1, int(math.Ceil(need))-done)
	}
	return min(more, most-done)
}
