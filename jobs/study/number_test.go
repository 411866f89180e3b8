package study

import (
	"math"
	"testing"
)

// TestAmounts reads numbers as a study writes them. Standard uncertainties in
// parentheses: JCGM 100:2008, 7.2.2, examples 2 and 3 (100.021 47(35) g,
// 100.021 47(0.000 35) g).
func TestAmounts(t *testing.T) {
	tests := []struct {
		text  string
		kind  Kind
		value float64
		sd    float64
	}{
		{"68 g", Constant, 0.068, 0}, {"68g", Constant, 0.068, 0}, {"1_000 kg", Constant, 1000, 0}, {"1e3 kg", Constant, 1000, 0},
		{"-0.5 kg", Constant, -0.5, 0}, {"'12 g'", Constant, 0.012, 0}, {".5 t", Constant, 500, 0},
		{"1950(30) kg", Uncertain, 1950, 30}, {"78.0(12) kg", Uncertain, 78, 1.2}, {"100.02147(35) g", Uncertain, 0.10002147, 3.5e-7},
		{"100.02147(0.00035) g", Uncertain, 0.10002147, 3.5e-7}, {"1_950(30) kg", Uncertain, 1950, 30}, {"1.5e3(2) kg", Uncertain, 1500, 200},
		{"{value: 68, unit: g}", Constant, 0.068, 0}, {"{value: 68.0(5), unit: g}", Uncertain, 0.068, 0.0005},
		{"{normal: {mean: 68, sd: 2 g}, unit: g}", Uncertain, 0.068, 0.002}, {"{likely: 100 g, within: 10 %}", Uncertain, 0.1, 0.01 / 1.6448536269514722},
		{"{likely: 100, within: 5, unit: g}", Uncertain, 0.1, 0.005 / 1.6448536269514722},
		{"{lognormal: {mean: 2 kg, sd: 100 g}}", Uncertain, 2, 0.1}, {"{between: [0 g, 1 kg]}", Uncertain, 0.5, 1 / math.Sqrt(12)},
		{"{one_of: {1 kg: 1, 3 kg: 1}}", Uncertain, 2, 1},
	}
	for _, tt := range tests {
		s, err := readText(t, Options{}, "format: 1\nmodel: formulas\ninputs:\n  a: "+tt.text+"\noutputs: {y: 2 * a}\n")
		if err != nil {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		in := s.Inputs[0]
		mean, sd := in.Value, 0.0
		if in.Kind == Uncertain {
			mean, sd = in.Marginal.Mean(), in.Marginal.SD()
		}
		if in.Kind != tt.kind || math.Abs(mean-tt.value) > 1e-9*math.Abs(tt.value) || math.Abs(sd-tt.sd) > 1e-9*tt.sd {
			t.Errorf("%s: kind %d, mean %v, sd %v; want %d, %v, %v", tt.text, in.Kind, mean, sd, tt.kind, tt.value, tt.sd)
		}
	}
}

// TestTemperatures has spreads of temperatures in K and levels in degC or K.
func TestTemperatures(t *testing.T) {
	for _, tt := range []struct {
		text     string
		mean, sd float64
	}{
		{"{normal: {mean: 20 degC, sd: 2 K}}", 293.15, 2}, {"{normal: {mean: 20, sd: 2}, unit: degC}", 293.15, 2},
		{"20(2) degC", 293.15, 2}, {"{likely: 20 degC, within: 3 K}", 293.15, 3 / 1.6448536269514722},
		{"{between: [290.15 K, 23 degC]}", 293.15, 6 / math.Sqrt(12)},
	} {
		s, err := readText(t, Options{}, "format: 1\ninputs:\n  outside_temperature: "+tt.text+"\nvehicles: {a: {kerb_mass: 1900 kg}}\n")
		if err != nil {
			t.Errorf("%s: %v", tt.text, err)
			continue
		}
		m := s.Inputs[0].Marginal
		if math.Abs(m.Mean()-tt.mean) > 1e-9 || math.Abs(m.SD()-tt.sd) > 1e-9 {
			t.Errorf("%s: mean %v, sd %v; want %v, %v", tt.text, m.Mean(), m.SD(), tt.mean, tt.sd)
		}
	}
}
