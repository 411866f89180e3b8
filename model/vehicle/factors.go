package vehicle

import (
	"math"
	"slices"

	"proofmass/sampling/portable"
)

// A Factor is drawn defaults that are one input to whoever reads an answer: each of
// Quantities has its Name as model.Quantity.Factor.
type Factor struct {
	Name       string
	Called     string // in a sentence
	Meaning    string
	Quantities []string
	Own        bool   // one for each chain of cars that needs it, named as its root's
	Note       string // what a reader must know of it, behind "of CAR"

	moves map[string]float64 // of its quantities
}

// Names of the factors. Losses that have no uncertain default are of LossFactor too: what
// a study states is drawn apart from it.
const (
	LossFactor  = "losses"
	ErrorFactor = "model_error"
	driveFactor = "drive"
)

// builtInFactors are the factors, whose quantities the catalogue tells.
var builtInFactors = []Factor{
	{Name: ErrorFactor, Called: "the model's own error",
		Meaning: "the model's own error: the two random numbers behind its factors on consumption in the city and on the highway, swapped as one"},
	{Name: LossFactor, Called: "what the catalogue's losses are together",
		Meaning: "losses that the study leaves to the catalogue: fitted together, hence tied by correlations and swapped as one"},
	{Name: driveFactor, Called: "the drive where it is not stated", Own: true,
		Meaning: "whether a car has one driven axle or two, where the study does not state it; one for each chain of cars",
		Note:    "it is not stated whether one axle is driven or two (all_wheel_drive): drawn, two the likelier the heavier the car was built"},
}

// Factors returns the factors of the catalogue.
func (m *Model) Factors() []Factor { return slices.Clone(m.factors) }

// allFactors gives each factor its quantities: those that were fitted together in the
// order of their fit, then any other, as declared.
func (m *Model) allFactors() []Factor {
	all := slices.Clone(builtInFactors)
	for i := range all {
		f := &all[i]
		f.moves = map[string]float64{}
		if f.Name == LossFactor {
			f.Quantities = slices.Clone(tiedLosses)
		}
		for _, e := range m.order {
			if e.factor == f.Name && e.fallback != "" {
				f.moves[e.name] = e.moves
				if !slices.Contains(f.Quantities, e.name) {
					f.Quantities = append(f.Quantities, e.name)
				}
			}
		}
	}
	return all
}

// FactorNamed returns the factor of that name.
func (m *Model) FactorNamed(name string) (Factor, bool) {
	i := slices.IndexFunc(m.factors, func(f Factor) bool { return f.Name == name })
	if i < 0 {
		return Factor{}, false
	}
	return m.factors[i], true
}

// Joint says how these of the factor's quantities, in their order there, are drawn:
// the Spearman rank correlation of each pair, nil where they are independent, and how
// far, in normal scores, each goes where the factor goes one up.
func (f Factor) Joint(quantities []string) (spearman [][]float64, shift []float64) {
	if f.Name == LossFactor {
		return jointLosses(quantities, f.moves)
	}
	for _, q := range quantities {
		shift = append(shift, f.moves[q])
	}
	return nil, shift
}

// samePercentile puts both factors of the model's error at the same percentile of their
// own: with ln city = s1 z1 and ln highway = s2 (r z1 + sqrt(1-r2) z2) a score z of both
// means z1 = z and z2 = z sqrt((1-r)/(1+r)), here for the default r = 0.7.
const samePercentile = 0.4200840252084029

// tiedLosses are the losses that were fitted together, in the order of lossCorrelation.
var tiedLosses = []string{
	"gear_efficiency", "torque_loss_factor", "idle_loss_per_mass", "spin_loss_per_mass",
	"regen_share", "auxiliary_power", "recharge_efficiency", "all_wheel_drive_extra",
}

// lossCorrelation are the correlations of the fit on 60 certified cars, above the
// diagonal; of torque_loss_factor and idle_loss_per_mass by their logarithms. TestFit
// makes them from the cars.
var lossCorrelation = [][]float64{
	{1, 0.05, 0.17, 0.15, -0.14, 0.10, -0.29, -0.06},
	{0, 1, -0.20, 0.08, 0.24, -0.13, -0.11, 0.06},
	{0, 0, 1, -0.13, 0.56, -0.19, 0.07, -0.58},
	{0, 0, 0, 1, -0.05, -0.07, 0.77, 0.05},
	{0, 0, 0, 0, 1, 0.32, 0.23, -0.17},
	{0, 0, 0, 0, 0, 1, 0.04, 0.19},
	{0, 0, 0, 0, 0, 0, 1, -0.01},
	{0, 0, 0, 0, 0, 0, 0, 1},
}

// lossPull is what one normal score of each loss does to the logarithm of energy from
// the battery, 55 % city and 45 % highway, on the mean of the 60 cars. TestLossPull
// makes it from the cars.
var lossPull = []float64{-0.0163, 0.0077, 0.0238, 0.0193, -0.0164, 0.0140, 0, 0.0057}

// jointLosses ties losses as they were fitted; any other is independent of them, with
// its own move. The factor goes up where they take more energy: each goes to its mean
// given that, which is its covariance with what all of them do, over the standard
// deviation of that.
func jointLosses(quantities []string, moves map[string]float64) (spearman [][]float64, shift []float64) {
	n := len(quantities)
	spearman, shift = make([][]float64, n), make([]float64, n)
	pull := make([]float64, n)
	for i, q := range quantities {
		if pull[i] = moves[q]; slices.Contains(tiedLosses, q) {
			pull[i] = lossPull[slices.Index(tiedLosses, q)]
		}
	}
	for i, q := range quantities {
		spearman[i] = make([]float64, n)
		for j, other := range quantities {
			r := correlationOfLosses(q, other)
			spearman[i][j] = 6 / math.Pi * portable.Asin(r/2)
			shift[i] += float64(r * pull[j])
		}
		spearman[i][i] = 1
	}
	variance := 0.0
	for i := range quantities {
		variance += float64(pull[i] * shift[i])
	}
	for i := range shift {
		if variance > 0 {
			shift[i] /= math.Sqrt(variance)
		}
	}
	return spearman, shift
}

// correlationOfLosses is that of the fit, nil for what was not fitted.
func correlationOfLosses(q, other string) float64 {
	a, b := slices.Index(tiedLosses, q), slices.Index(tiedLosses, other)
	switch {
	case q == other:
		return 1
	case a < 0 || b < 0:
		return 0
	}
	return lossCorrelation[min(a, b)][max(a, b)]
}
