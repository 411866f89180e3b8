package copula

import (
	"errors"
	"fmt"
	"math"

	"proofmass/sampling/marginal"
	"proofmass/sampling/portable"
)

// A Dependence ties several inputs together by a Gaussian copula: their normal
// scores are jointly normal, their marginals stay as they are. It never changes
// once made and serves all goroutines.
//
// The Pearson correlation of the scores is 2 sin(pi s/6) for a Spearman correlation
// s (Pearson, 1907; Kruskal, 1958, J. Am. Stat. Assoc. 53), exact for continuous
// marginals. Between discrete ones the correlation of the draws is smaller.
// Extremes of two inputs come together less often than in some real data: the
// normal copula has no tail dependence.
type Dependence struct {
	lead    []int       // of each input: itself, or the earlier one that it is perfectly tied to
	sign    []float64   // -1 where it goes against its lead
	free    []int       // inputs that are their own lead
	lower   [][]float64 // Cholesky factor of the correlation of the free scores
	pearson [][]float64 // of all scores
}

// mostTied keeps the factor of a group within what one worker has in its cache.
const mostTied = 100

// onTheEdge is how far rounding may push what is exactly singular.
const onTheEdge = 1e-14

// NewDependence makes the copula with these Spearman correlations: a symmetric
// matrix with 1 on the diagonal, 2 to 100 inputs. Inputs correlated by 1 or -1 have the
// same score or its negative. The error is an *Impossible where no inputs can be
// correlated so; nothing is repaired.
func NewDependence(spearman [][]float64) (*Dependence, error) {
	if err := checkCorrelations(spearman); err != nil {
		return nil, err
	}
	d := &Dependence{pearson: pearsonOf(spearman, 1)}
	if !d.follow(spearman) {
		return nil, newImpossible(spearman)
	}
	between := make([][]float64, len(d.free))
	for k, i := range d.free {
		for _, j := range d.free {
			between[k] = append(between[k], d.pearson[i][j])
		}
	}
	var ok bool
	if d.lower, ok = cholesky(between, -onTheEdge); !ok {
		return nil, newImpossible(spearman)
	}
	return d, nil
}

func checkCorrelations(s [][]float64) error {
	if len(s) < 2 || len(s) > mostTied {
		return fmt.Errorf("got %d inputs; 2 to %d can be tied together", len(s), mostTied)
	}
	for i := range s {
		if len(s[i]) != len(s) {
			return fmt.Errorf("row %d has %d numbers for %d inputs", i+1, len(s[i]), len(s))
		}
	}
	for i := range s {
		for j, x := range s[i] {
			switch {
			case !(x >= -1 && x <= 1):
				return fmt.Errorf("a correlation is from -1 to 1, got %v", x)
			case i == j && x != 1:
				return errors.New("an input's correlation with itself is 1")
			case x != s[j][i]:
				return fmt.Errorf("row %d has %v for input %d, row %d has %v for input %d", i+1, x, j+1, j+1, s[j][i], i+1)
			}
		}
	}
	return nil
}

// pearsonOf are the correlations of the scores with all of Spearman's times factor.
func pearsonOf(spearman [][]float64, factor float64) [][]float64 {
	p := make([][]float64, len(spearman))
	for i := range p {
		p[i] = make([]float64, len(spearman))
		for j, s := range spearman[i] {
			p[i][j] = pearson(factor * s)
		}
		p[i][i] = 1
	}
	return p
}

func pearson(spearman float64) float64 {
	if math.Abs(spearman) == 1 {
		return spearman
	}
	return 2 * portable.Sin(float64(math.Pi*spearman)/6)
}

// spearmanOf is the inverse of pearson.
func spearmanOf(pearson float64) float64 { return 6 / math.Pi * portable.Asin(pearson/2) }

// follow finds the inputs that are perfectly tied to an earlier one. It fails if
// two such are not correlated alike with a third.
func (d *Dependence) follow(s [][]float64) bool {
	for j := range s {
		d.lead, d.sign = append(d.lead, j), append(d.sign, 1)
		for _, i := range d.free {
			if math.Abs(s[i][j]) == 1 {
				d.lead[j], d.sign[j] = i, s[i][j]
				break
			}
		}
		if d.lead[j] == j {
			d.free = append(d.free, j)
		}
	}
	for j, i := range d.lead {
		for k := range s {
			if s[j][k] != d.sign[j]*s[i][k] {
				return false
			}
		}
	}
	return true
}

// cholesky is own: draws hang on its bits, and gonum sums in an order and with
// instructions of the machine.
//
// It returns the lower triangle L of a = L L', false where a pivot lies
// below least. A pivot within rounding of 0 is 0, its column too. Every sum runs in
// the order of the columns, every product is rounded.
func cholesky(a [][]float64, least float64) ([][]float64, bool) {
	l := make([][]float64, len(a))
	for i := range a {
		l[i] = make([]float64, i+1)
		for j := range i + 1 {
			rest := a[i][j]
			for k := range j {
				rest -= float64(l[i][k] * l[j][k])
			}
			switch {
			case i == j && !(rest >= least):
				return nil, false
			case i == j && rest > onTheEdge:
				l[i][i] = math.Sqrt(rest)
			case i == j:
			case l[j][j] > 0:
				l[i][j] = rest / l[j][j]
			case math.Abs(rest) > 1e-12: // more than rounding hangs on an input that is none of its own
				return nil, false
			}
		}
	}
	return l, true
}

// Pearson returns the correlation of the normal scores of inputs i and j.
func (d *Dependence) Pearson(i, j int) float64 { return d.pearson[i][j] }

// Fill turns points into values: x has a column an input, in the order of the
// matrix, each with as many independent points of (0, 1), in their place the values of
// marginals m. spare holds at least a column. Each row is a function of its points
// alone. Nothing is allocated. It is Scores and then Values.
func (d *Dependence) Fill(x [][]float64, m []marginal.Marginal, spare []float64) {
	d.Scores(x)
	d.Values(x, m, spare)
}

// Scores turns points into normal scores with the correlations of Pearson: x is as
// for Fill.
func (d *Dependence) Scores(x [][]float64) {
	for _, j := range d.free {
		for i, u := range x[j] {
			x[j][i] = portable.NormalQuantile(u)
		}
	}
	for k := len(d.free) - 1; k >= 0; k-- { // from the last: each needs the scores before it as they were drawn
		d.mix(x, k)
	}
	for j, i := range d.lead {
		if i != j {
			d.tie(x, j)
		}
	}
}

// Values turns normal scores, a column an input, into the values of marginals m in
// their place. Columns may be of different length, none too: each value is a function
// of its score alone. spare holds at least the longest column.
func (d *Dependence) Values(w [][]float64, m []marginal.Marginal, spare []float64) {
	for j := range w {
		fillScores(w[j], m[j], spare[:len(w[j])])
	}
}

// tie gives input j the score of its lead, or the negative.
func (d *Dependence) tie(w [][]float64, j int) {
	for row, v := range w[d.lead[j]] {
		w[j][row] = d.sign[j] * v
	}
}

// mix makes the score of free input k of the drawn ones.
func (d *Dependence) mix(x [][]float64, k int) {
	w, l := x[d.free[k]], d.lower[k]
	for row := range w {
		w[row] = float64(l[k] * w[row])
	}
	for m, z := range d.free[:k] {
		for row, v := range x[z] {
			w[row] += float64(l[m] * v)
		}
	}
}

// fillScores turns normal scores into values, each from its own tail: positive
// ones by the chance above them.
func fillScores(w []float64, m marginal.Marginal, spare []float64) {
	below, above := 0, len(w)
	for _, v := range w {
		if v > 0 {
			above--
			spare[above] = portable.NormalSurvival(v)
		} else {
			spare[below] = portable.NormalCDF(v)
			below++
		}
	}
	m.Fill(spare[:below], spare[:below])
	marginal.FillUpper(m, spare[above:], spare[above:])
	below, above = 0, len(w)
	for row, v := range w {
		if v > 0 {
			above--
			w[row] = spare[above]
		} else {
			w[row] = spare[below]
			below++
		}
	}
}
