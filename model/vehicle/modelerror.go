package vehicle

import (
	"math"

	"proofmass/model"
	"proofmass/sampling/portable"
)

// certifiedOwnError is the default of a certified candidate's model_error_own.
const certifiedOwnError = "{normal: {mean: 0, sd: 0.02}}"

// What the tied defaults of the losses cause of the total error: standard deviations of
// the logarithm of consumption from the plug. TestSpreadOfLosses draws them.
const (
	lossesCity    = 0.018
	lossesHighway = 0.008
)

// LossSpread is what the tied defaults of the losses cause: standard deviations of the
// logarithm of consumption from the plug, in the city and on the highway.
func (*Model) LossSpread() (city, highway float64) { return lossesCity, lossesHighway }

// errorMass is the mass for which the error's spread in the city is declared [kg].
const errorMass = 2200.0

// lightest and heaviest are the masses of the cars that error and drive were fitted on
// [kg]. Beyond them there is no evidence, and the values of the ends are taken.
const lightest, heaviest = 1500.0, 3000.0

// modelErrorQuantities declares how wrong the model is: factors on city-like and
// highway-like consumption, one draw for all cars, so that they cancel in a gain. Their
// spread is what the tied defaults of the losses leave of the total, however a study
// states its losses. In the city it grows with the mass that the car was built for, that
// of the root of its chain, so that variants of one car have one factor.
func modelErrorQuantities() []quantity {
	const normal = "{normal: {mean: 0, sd: 1}}"
	const fit = "error of the model on 71 lines of certified cars (open certification data), each left out of the fit"
	shown := []string{"model_error_city", "model_error_highway"}
	behind := func(name, meaning, text string, l limits) quantity {
		return quantity{name: name, unit: "1", limits: l,
			meaning: meaning, source: fit, fallback: text, fallbackSource: fit, shared: true}
	}
	hidden := func(name, meaning string, moves float64) quantity {
		q := behind(name, meaning, normal, anyNumber)
		q.factor, q.moves, q.shownAs = ErrorFactor, moves, shown
		return q
	}
	ofConsumption := model.Traits{Question: "udds_total"}
	return []quantity{
		hidden("model_error_z1", "standard normal number behind the model's error", 1),
		hidden("model_error_z2", "second standard normal number behind the model's error", samePercentile),
		behind("model_error_sd_city", "standard deviation of the logarithm of the error in the city of a car built for 2200 kg, losses in", "0.080", nonNegative),
		behind("model_error_growth", "power of the mass with which that grows", "2", anyNumber),
		behind("model_error_sd_highway", "standard deviation of the logarithm of the error on the highway, losses in", "0.049", nonNegative),
		behind("model_error_correlation", "correlation of the two", "0.70", limits{-1, 1, false}),
		{name: "model_error_city", cause: byError, unit: "1", limits: positive, step: true, traits: ofConsumption,
			meaning: "factor of the model's error on city-like consumption", source: fit,
			ways: []way{ofRoot("model_error_city", from4(cityError, "model_error_z1", "model_error_sd_city", "model_error_growth", "built_mass"))}},
		{name: "model_error_highway", cause: byError, unit: "1", limits: positive, step: true, traits: ofConsumption,
			meaning: "factor of the model's error on highway-like consumption", source: fit,
			ways: []way{ofRoot("model_error_highway", from4(highwayError, "model_error_z1", "model_error_z2", "model_error_sd_highway", "model_error_correlation"))}},
		{name: "model_error_own", unit: "1", limits: anyNumber,
			meaning:  "logarithm of a candidate's own factor on consumption: what the model misses of the change, and the test's own scatter",
			source:   "judgement",
			fallback: "0", fallbackSource: "what does physics give; certified: yes asks for the certified figure (sd 0.02, judgement)", judged: true},
		{name: "model_error_own_factor", cause: byError, unit: "1", limits: positive, step: true, outputOnly: true, traits: ofConsumption,
			meaning: "a candidate's own factor on consumption; 1 for the baseline", source: "exp(model_error_own)",
			ways: []way{{fit: ownFactor, from: []string{"model_error_own"}}}},
	}
}

// rest is what the losses leave of a total error, both as standard deviations.
func rest(total, losses float64) float64 {
	return math.Sqrt(max(0, float64(total*total)-float64(losses*losses)))
}

// cityError is a lognormal factor whose total spread grows with a power of the mass.
func cityError(z1, total, growth, mass float64) float64 {
	total *= portable.Pow(evident(mass)/errorMass, growth)
	return portable.Exp(rest(total, lossesCity) * z1)
}

// evident is the nearest mass for which there is evidence.
func evident(mass float64) float64 { return min(max(mass, lightest), heaviest) }

// ofRoot is what the car at the root of a chain has by the way, and all based on it with
// it.
func ofRoot(name string, w way) way {
	return way{fixed: true, from: w.needs, fit: func(_ *System, c *car) plan {
		if c.root != nil {
			return plan{ok: true, needs: []string{rootMark + name}, eval: copyColumn}
		}
		return plan{ok: true, needs: w.needs, eval: w.eval}
	}}
}

func highwayError(z1, z2, total, correlation float64) float64 {
	other := math.Sqrt(1 - float64(correlation*correlation))
	return portable.Exp(rest(total, lossesHighway) * (float64(correlation*z1) + float64(other*z2)))
}

func ownFactor(s *System, c *car) plan {
	if c == s.baseline {
		return plan{ok: true, eval: always(1).eval}
	}
	return plan{ok: true, needs: []string{"model_error_own"}, eval: from1(portable.Exp, "").eval}
}
