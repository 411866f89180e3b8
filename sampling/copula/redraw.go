package copula

import (
	"math"
	"proofmass/sampling/portable"
	"slices"
)

// A Redraw draws some inputs of a Dependence anew from their law given the others:
// what the conditional variances of Shapley effects ask for. It needs no random numbers
// but two independent rows A and B of joint normal scores:
//
//	w_U = wB_U + K (wA_C - wB_C),  K = R_UC R_CC^+
//
// has, given A, exactly the law of the scores U given the scores C of A: K wA_C is
// their conditional mean, and wB_U - K wB_C, the error of the best linear guess, has the
// conditional covariance and is independent of wA_C. (Conditioning by kriging: Journel
// and Huijbregts, 1978, Mining Geostatistics, chapter 7; Chiles and Delfiner, 2012,
// Geostatistics, section 7.3.1.) Marginals may be any: they are functions of their scores.
//
// An input that the others fix, by a perfect tie or where the matrix is singular, keeps
// its score of A. It never changes once made and serves all goroutines.
type Redraw struct {
	dependence *Dependence
	redrawn    []bool   // of each input: not all fixed by the ones kept
	anew       []int    // free inputs that are redrawn
	terms      [][]term // of each of anew
}

// term is one coefficient of K.
type term struct {
	input  int
	factor float64
}

// fixed is the standard deviation, of a score given others, below which it counts
// as fixed by them: the root of onTheEdge.
const fixed = 1e-7

// Redraw prepares the redraw of the inputs with swapped[input] given all others of the
// group. It takes about n^3 multiplications for n inputs; what it keeps, a number for
// each pair of an input redrawn and one kept.
func (d *Dependence) Redraw(swapped []bool) *Redraw {
	r := &Redraw{dependence: d, redrawn: make([]bool, len(d.lead))}
	places, kept := d.keptFirst(swapped)
	factor := d.reordered(places)
	for k := kept; k < len(places); k++ {
		if own := factor[k][kept:]; math.Sqrt(portable.Dot(own, own)) > fixed {
			r.anew = append(r.anew, d.free[places[k]])
			r.terms = append(r.terms, d.kriging(factor, places, k, kept))
		}
	}
	for _, i := range r.anew {
		r.redrawn[i] = true
	}
	for j, i := range d.lead {
		r.redrawn[j] = r.redrawn[i]
	}
	return r
}

// keptFirst returns the places in d.free of inputs that stay, and after them those that
// are swapped along with everything that is perfectly tied to them.
func (d *Dependence) keptFirst(swapped []bool) (places []int, kept int) {
	stays := make([]bool, len(d.lead)) // of a lead
	for j, i := range d.lead {
		stays[i] = stays[i] || !swapped[j]
	}
	var last []int
	for k, i := range d.free {
		if stays[i] {
			places = append(places, k)
		} else {
			last = append(last, k)
		}
	}
	return append(places, last...), len(places)
}

// reordered returns the lower triangular factor of the correlation of the free scores
// in another order: rows of the present factor, made orthogonal one after the other
// (modified Gram-Schmidt: Bjorck, 1967, BIT 7, 1-21). Unlike a Cholesky factor of the
// correlations it does not square what is nearly singular; own, since draws hang on its
// bits. A diagonal below fixed is 0, its
// column too.
func (d *Dependence) reordered(places []int) [][]float64 {
	factor, basis := make([][]float64, len(places)), make([][]float64, len(places))
	for i, k := range places {
		rest := make([]float64, len(places))
		copy(rest, d.lower[k])
		factor[i], basis[i] = make([]float64, i+1), rest
		for j, q := range basis[:i] {
			c := portable.Dot(q, rest)
			factor[i][j] = c
			for m, v := range q {
				rest[m] -= float64(c * v)
			}
		}
		length := math.Sqrt(portable.Dot(rest, rest))
		if length <= fixed {
			clear(rest)
			continue
		}
		factor[i][i] = length
		for m := range rest {
			rest[m] /= length
		}
	}
	return factor
}

// kriging returns the row of K for the score at the given row of the factor: it
// solves K L = row from the last column, L the factor of the kept scores. A column of 0
// belongs to a score that those before it fix: it gets nothing.
func (d *Dependence) kriging(factor [][]float64, places []int, row, kept int) []term {
	rest := slices.Clone(factor[row][:kept])
	var terms []term
	for c := kept - 1; c >= 0; c-- {
		if rest[c] == 0 || factor[c][c] == 0 {
			continue
		}
		k := rest[c] / factor[c][c]
		terms = append(terms, term{d.free[places[c]], k})
		for m, v := range factor[c][:c] {
			rest[m] -= float64(k * v)
		}
	}
	return terms
}

// Redrawn reports whether Fill gives the input another score than A's: not if
// it is not swapped, nor if what is not swapped fixes it.
func (r *Redraw) Redrawn(input int) bool { return r.redrawn[input] }

// Fill gives to, a column an input of the group, the scores of A with those redrawn. wA and wB have the scores of independent rows, as Scores makes them, none
// of their columns in to. Each row is a function of its rows in A and B alone. Nothing is
// allocated.
func (r *Redraw) Fill(to, wA, wB [][]float64) {
	for j, anew := range r.redrawn {
		if !anew {
			copy(to[j], wA[j])
		}
	}
	for k, i := range r.anew {
		copy(to[i], wB[i])
		for _, t := range r.terms[k] {
			addMultiple(to[i], t.factor, wA[t.input], wB[t.input])
		}
	}
	for j, i := range r.dependence.lead {
		if i != j && r.redrawn[j] {
			r.dependence.tie(to, j)
		}
	}
}

// addMultiple adds c (a - b) to w.
func addMultiple(w []float64, c float64, a, b []float64) {
	a, b = a[:len(w)], b[:len(w)]
	for row := range w {
		w[row] += float64(c * (a[row] - b[row]))
	}
}
