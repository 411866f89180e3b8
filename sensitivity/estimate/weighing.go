package estimate

// Estimates over weighted rows come from sums over replicates, never over rows: with A_r
// the sum of weight times value in replicate r, B_r that of the weights and m = A/B,
//
//	se^2 = sum_r d_r^2 / (R ),  d_r = (A_r - m B_r) / mean B.
//
// Kish's effective number of rows is ESS = (sum w)^2 / sum w^2 (1965, Survey Sampling).

// weightedBlocks is the number of parts that independent rows are cut into for the error.
const weightedBlocks = 16

// A Weighing is the weight of the rows of one replicate, and of those of them that hold.
type Weighing struct{ Held, All, Square float64 } // Square: sum of the squares of the weights

// Add takes a row.
func (w *Weighing) Add(weight float64, holds bool) {
	w.All += weight
	w.Square += float64(weight * weight)
	if holds {
		w.Held += weight
	}
}

// Kish is the effective number of rows.
func (w Weighing) Kish() float64 { return w.All * w.All / w.Square }

// WeightedChance is Chance for weighted rows. With n = p (1-p)/se^2 the interval is
// Wilson's with n rows, at most 20 ESS, where 5 R effective rows hold and fail, else with
// the less of n and ESS; with ESS where none or all hold. Held and Rows are not set. There
// is none with fewer than 2 replicates.
func WeightedChance(replicates []Weighing, o Options) (Proportion, error) {
	o, err := o.withDefaults()
	if err != nil {
		return Proportion{}, err
	}
	var all Weighing
	for _, w := range replicates {
		all.Held += w.Held
		all.All += w.All
		all.Square += w.Square
	}
	p := Proportion{Interval: None(), Method: MethodNone, Chance: all.Held / all.All}
	p.EffectiveRows = all.Kish()
	if len(replicates) < 2 || !(all.All > 0) {
		return p, nil
	}
	p.EffectiveRows = effectiveWeights(replicates, p.Chance, p.EffectiveRows)
	p.Method = MethodReplicates
	p.Interval = wilson(p.Chance, p.EffectiveRows, StudentQuantile(o.Level, len(replicates)-1))
	return p, nil
}

// effectiveWeights is the number of independent rows that would tell a chance as well.
func effectiveWeights(replicates []Weighing, chance, kish float64) float64 {
	if !(chance > 0 && chance < 1) {
		return kish
	}
	var mean, square float64
	for _, w := range replicates {
		mean += w.All / float64(len(replicates))
	}
	for _, w := range replicates {
		d := (w.Held - float64(chance*w.All)) / mean
		square += float64(d * d)
	}
	r := float64(len(replicates))
	n := chance * (1 - chance) * r * (r - 1) / square // infinite where all agree
	if min(chance, 1-chance)*kish >= fewOfEach*r {
		return min(n, mostInFavour*kish)
	}
	return min(n, kish)
}

// Blocks returns the bounds of the replicates of n rows, or of 16 equal parts of independent
// ones: what the errors of weighted rows are made of.
func (d Rows) Blocks(n int) ([]int, error) {
	bounds, err := d.Replicates(n)
	if err != nil || !d.Independent || len(bounds) > 2 {
		return bounds, err
	}
	parts := max(1, min(weightedBlocks, n))
	bounds = []int{0}
	for r := 1; r <= parts; r++ {
		bounds = append(bounds, n*r/parts)
	}
	return bounds, nil
}
