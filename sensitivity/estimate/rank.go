package estimate

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// RankCorrelations returns Spearman's rank correlation of every two columns of the
// same length: Pearson's of their ranks, equal values sharing the mean of theirs
// (Kendall and Gibbons, 1990, Rank Correlation Methods, 5th ed., ch. 3). Rows with
// a NaN in any column are left out. It is NaN where a column has one value.
func RankCorrelations(columns [][]float64) [][]float64 {
	ranks := make([][]float64, len(columns))
	kept := complete(columns)
	for j, x := range columns {
		ranks[j] = centredRanks(x, kept)
	}
	r := make([][]float64, len(columns))
	for i := range r {
		r[i] = make([]float64, len(columns))
		for j := range i + 1 {
			r[i][j] = stat.Correlation(ranks[i], ranks[j], nil)
			r[j][i] = r[i][j]
		}
	}
	return r
}

// complete lists the rows without a NaN.
func complete(columns [][]float64) []int32 {
	var kept []int32
	if len(columns) == 0 {
		return nil
	}
rows:
	for row := range columns[0] {
		for _, x := range columns {
			if x[row] != x[row] {
				continue rows
			}
		}
		kept = append(kept, int32(row))
	}
	return kept
}

// centredRanks are the ranks of the kept rows less their mean; all are multiples
// of 1/2, and exact.
func centredRanks(x []float64, kept []int32) []float64 {
	order := make([]int32, len(kept)) // places in kept
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Compare(x[kept[a]], x[kept[b]]) })
	ranks, mean := make([]float64, len(kept)), float64(len(kept)-1)/2
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && x[kept[order[to]]] == x[kept[order[from]]] {
			to++
		}
		for _, i := range order[from:to] {
			ranks[i] = float64(from+to-1)/2 - mean
		}
		from = to
	}
	return ranks
}
