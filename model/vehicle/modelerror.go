package vehicle

import (
	"math"

	"proofmass/sampling/portable"
)

// certifiedOwnError is the default of a certified candidate's model_error_own.
const certifiedOwnError = "{normal: {mean: 0, sd: 0.02}}"

// errorWithConstantLosses are the defaults where no loss is uncertain: then the
// model's own error has to carry what the losses' spread does not.
var errorWithConstantLosses = map[string]string{
	"model_error_sd_city": "0.076", "model_error_sd_highway": "0.048", "model_error_correlation": "0.70",
}

// modelErrorQuantities declares how wrong the model is: factors on city-like and
// highway-like consumption, one draw for all cars, so that they cancel in a gain.
func modelErrorQuantities() []quantity {
	const normal = "{normal: {mean: 0, sd: 1}}"
	const fit = "error of the model on 60 certified cars (open certification data)"
	hidden := func(name, meaning, text string, l limits) quantity {
		return quantity{name: name, unit: "1", limits: l,
			meaning: meaning, source: fit, fallback: text, fallbackSource: fit, shared: true}
	}
	return []quantity{
		hidden("model_error_z1", "standard normal number behind the model's error", normal, anyNumber),
		hidden("model_error_z2", "second standard normal number behind the model's error", normal, anyNumber),
		hidden("model_error_sd_city", "standard deviation of the logarithm of the model's error in the city", "0.047", nonNegative),
		hidden("model_error_sd_highway", "the same on the highway", "0.038", nonNegative),
		hidden("model_error_correlation", "correlation of the two", "0.58", limits{-1, 1, false}),
		{name: "model_error_city", unit: "1", limits: positive,
			meaning: "factor of the model's error on city-like consumption", source: fit, shared: true,
			ways: []way{from2(cityError, "model_error_z1", "model_error_sd_city")}},
		{name: "model_error_highway", unit: "1", limits: positive,
			meaning: "factor of the model's error on highway-like consumption", source: fit, shared: true,
			ways: []way{from4(highwayError, "model_error_z1", "model_error_z2", "model_error_sd_highway", "model_error_correlation")}},
		{name: "model_error_own", unit: "1", limits: anyNumber,
			meaning:  "logarithm of a candidate's own factor on consumption: what the model misses of the change, and the test's own scatter",
			source:   "judgement",
			fallback: "0", fallbackSource: "what does physics give; certified: yes asks for the certified figure (sd 0.02, judgement)"},
		{name: "model_error_own_factor", unit: "1", limits: positive, step: true, outputOnly: true,
			meaning: "a candidate's own factor on consumption; 1 for the baseline", source: "exp(model_error_own)",
			ways: []way{{fit: ownFactor, from: []string{"model_error_own"}}}},
	}
}

func cityError(z1, sd float64) float64 { return portable.Exp(sd * z1) }

func highwayError(z1, z2, sd, correlation float64) float64 {
	rest := math.Sqrt(1 - float64(correlation*correlation))
	return portable.Exp(sd * (float64(correlation*z1) + float64(rest*z2)))
}

func ownFactor(s *System, c *car) plan {
	if c == s.baseline {
		return plan{ok: true, eval: always(1).eval}
	}
	return plan{ok: true, needs: []string{"model_error_own"}, eval: from1(portable.Exp, "").eval}
}
