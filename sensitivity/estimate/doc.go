// Package estimate turns a column of numbers and the bounds of its replicates
// into estimates with intervals. It is the only interval code of the project.
//
// # Method
//
// A design other than independent rows (a Latin hypercube, say) is drawn as R
// replicates, each a whole design of its own. Replicates are independent of one
// another, rows inside one are not, so every interval comes from the spread over
// replicates and Student's t with R-1 degrees of freedom: for means and ratios
// by the jackknife over replicates ([Jackknife]), for percentiles around the
// pooled percentile, for chances by Wilson's interval with an effective number
// of rows ([Chance]). Independent rows have the usual intervals: t for the mean,
// order statistics for percentiles, Wilson or Clopper and Pearson for chances.
//
// A row that is NaN is infeasible: it is counted and takes part in nothing else.
// Moments are summed around the mean in fixed blocks joined in a fixed binary
// tree, so that a column and its bounds have one answer to the last bit.
//
// # Limits
//
// Replicated designs of fewer than [FewestRows] rows get no interval. A
// percentile with fewer than 50 rows of a replicate beyond it gets the interval
// of independent rows, which for a Latin hypercube is up to 1.7 times too wide,
// and says so. Infinities are refused: they are a defect of whoever made the
// column. Weighted rows are kept in memory; their errors come from replicates alone.
//
// # Sources
//
//   - Replicated designs, t interval: McKay, Beckman and Conover (1979), Technometrics 21; Owen (1992), J. R. Stat. Soc. B 54.
//   - Moments: Chan, Golub and LeVeque (1983), Am. Stat. 37.
//   - Percentiles, type 7: Hyndman and Fan (1996), Am. Stat. 50.
//   - Order statistics: David and Nagaraja (2003), Order Statistics, 3rd ed., 7.1.
//   - Coverage intervals: JCGM 101:2008, 7.7.
//   - Weighted rows: Kish (1965), Survey Sampling; Woodruff (1952), J. Am. Stat. Assoc. 47.
//   - Chances: Wilson (1927), J. Am. Stat. Assoc. 22; Clopper and Pearson (1934), Biometrika 26.
package estimate
