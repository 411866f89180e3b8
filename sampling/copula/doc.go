// Package copula ties inputs together by their ranks: each keeps its marginal
// distribution and, where it leads its group, its design points.
//
//	d, err := copula.NewDependence(spearman) // a matrix of Spearman's rank correlations
//	d.Fill(x, marginals, spare)              // x: a column of points an input, values after
//
// A Redraw draws some of them anew given the others, which Shapley effects ask for. A
// matrix that no inputs can have is refused with what is nearest (Impossible).
//
// A tied value costs about three times a free one (44 to 50 ns for 15:
// BenchmarkDependence): each goes from chance to score and back.
package copula
