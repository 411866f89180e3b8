package estimate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

const (
	fewEvents    = 5  // fewer rows that hold, or fail: Clopper and Pearson's interval
	fewOfEach    = 5  // rows that hold, or fail, in each replicate: below, their spread says nothing
	mostInFavour = 20 // times the rows: as many effective rows as R replicates can show
)

// Count is how often something held in the rows of one replicate.
type Count struct{ Held, Rows int }

// Proportion is a chance with its interval.
type Proportion struct {
	Held, Rows    int
	Chance        float64 // Held / Rows; NaN without rows
	Interval      Interval
	EffectiveRows float64 // independent rows that would tell as much; Rows unless Method is replicates
	Method        string  // replicates | wilson | clopper_pearson | none
}

// Chance estimates a chance p from the counts of R replicates, or of one or more
// parts of independent rows. From the replicates' chances p_r
//
//	se^2 = sum_r (p_r - p)^2 / (R ),  n_eff = p (1-p) / se^2,
//
// n_eff is bounded to [n, 20 n], and the interval is Wilson's with n_eff rows and
// t of R-1 degrees of freedom. Below n the excess is noise: a Latin hypercube is
// never worse than independent rows by more than n/(n-1) (Owen 1997, SIAM J.
// Numer. Anal. 34). Where all p_r are equal, se is 0 and n_eff its bound, 20 n. Where fewer
// than 5 R rows hold or fail, and for independent rows, it is Wilson's interval on the
// counts; with fewer than 5 that hold or fail Clopper and Pearson's. Replicated designs of fewer than FewestRows rows have none.
// The error names a count that cannot be.
func Chance(replicates []Count, independent bool, o Options) (Proportion, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Proportion{}, err
	}
	p := Proportion{Interval: None(), Method: MethodNone}
	for r, c := range replicates {
		if c.Rows < 0 || c.Held < 0 || c.Held > c.Rows {
			return Proportion{}, fmt.Errorf("estimate: replicate %d: %d of %d rows cannot hold", r, c.Held, c.Rows)
		}
		p.Held += c.Held
		p.Rows += c.Rows
	}
	p.Chance = float64(p.Held) / float64(p.Rows)
	p.EffectiveRows = float64(p.Rows)
	if p.Rows == 0 || !independent && p.Rows < FewestRows {
		return p, nil
	}
	rows := float64(p.Rows)
	if effective := effectiveRows(p, replicates); !independent && effective > 0 {
		p.EffectiveRows = max(rows, min(effective, mostInFavour*rows))
		p.Method = MethodReplicates
		p.Interval = wilson(p.Chance, p.EffectiveRows, StudentQuantile(o.Level, len(replicates)-1))
		return p, nil
	}
	if min(p.Held, p.Rows-p.Held) < fewEvents {
		p.Method = MethodClopperPearson
		p.Interval = clopperPearson(p.Held, p.Rows, o.Level)
		return p, nil
	}
	p.Method = MethodWilson
	p.Interval = wilson(p.Chance, rows, normalQuantile(o.Level))
	return p, nil
}

// effectiveRows returns p (1-p) / se^2, infinite where all replicates have the same
// chance, or 0 where replicates cannot tell.
func effectiveRows(p Proportion, replicates []Count) float64 {
	n := len(replicates)
	if n < 2 || min(p.Held, p.Rows-p.Held) < fewOfEach*n {
		return 0
	}
	var square float64
	for _, c := range replicates {
		// (p_r - p) n_r/n in whole numbers: equal chances give exactly 0, and
		// replicates of unequal length count by their rows.
		d := float64(c.Held*p.Rows-p.Held*c.Rows) / (float64(p.Rows) * float64(p.Rows))
		square += float64(d * d)
	}
	r := float64(n)
	return p.Chance * (1 - p.Chance) / (square * r / (r - 1))
}

// wilson is Wilson's score interval of the chance p seen in n rows, n not
// necessarily whole: with q = z^2/n,
//
//	( p + q/2 -+ z sqrt(p (1-p)/n + q/(4 n)) ) / (1 + q).
//
// It ends exactly at 0 for p = 0 and at 1 for p = 1.
func wilson(p, n, z float64) Interval {
	q := z * z / n
	centre := (p + q/2) / (1 + q)
	half := z * math.Sqrt(float64(p*(1-p)/n)+float64(q/(4*n))) / (1 + q)
	i := Interval{centre - half, centre + half}
	if p == 0 {
		i.Low = 0
	}
	if p == 1 {
		i.High = 1
	}
	return i
}

// clopperPearson is the interval that holds the true chance at least as often as
// stated, x of n rows:
//
//	low = B(a/2; x, n-x+1), high = B(1-a/2; x+1, n-x), a = 1 - level,
//
// B the quantile of the beta distribution. With x = 0 low is 0 and high the
// closed form 1 - (a/2)^(1/n), exact however small; with x = n likewise.
func clopperPearson(x, n int, level float64) Interval {
	tail, k, rows := (1-level)/2, float64(x), float64(n)
	switch x {
	case 0:
		return Interval{0, -math.Expm1(math.Log(tail) / rows)}
	case n:
		return Interval{math.Exp(math.Log(tail) / rows), 1}
	}
	return Interval{
		mathext.InvRegIncBeta(k, rows-k+1, tail),
		mathext.InvRegIncBeta(k+1, rows-k, 1-tail),
	}
}
