package study

import (
	"math"
	"testing"
)

// TestFamilies reads every distribution with parameters of its own; mean and sd
// are those of their definitions.
func TestFamilies(t *testing.T) {
	third := 1.0 / 3
	for _, tt := range []struct {
		line, text string
		mean, sd   float64
	}{
		{"{beta: {a: 2, b: 5}}", "beta, a 2, b 5", 2.0 / 7, math.Sqrt(10.0/8) / 7},
		{"{beta: {low: 10 g, high: 20 g, a: 1, b: 1}}", "beta, a 1, b 1, low 10 g, high 20 g", 0.015, 0.01 / math.Sqrt(12)},
		{"{gamma: {shape: 4, scale: 3 g}}", "gamma, shape 4, scale 3 g", 0.012, 0.006},
		{"{gamma: {shape: 4, scale: 2 K, from: 20 degC}}", "gamma, shape 4, scale 2 K, from 20 degC", 301.15, 4},
		{"{weibull: {shape: 1, scale: 3, from: 2}, unit: km}", "weibull, shape 1, scale 3 km, from 2 km", 5000, 3000},
		{"{student: {freedom: 4}}", "student, freedom 4", 0, math.Sqrt2},
		{"{student: {freedom: 4, middle: 20 degC, scale: 1 K}}", "student, freedom 4, middle 20 degC, scale 1 K", 293.15, math.Sqrt2},
		{"{student: {freedom: 4, scale: 2 mm}}", "student, freedom 4, scale 2 mm", 0, 0.002 * math.Sqrt2},
		{"{arcsine: [-1, 1]}", "arcsine from -1 to 1", 0, math.Sqrt(0.5)},
		{"{trapezoidal: [0, 1, 3, 4]}", "trapezoidal, rising from 0 to 1, falling from 3 to 4", 2, math.Sqrt((16 + 4) / 24.0)},
		{"{curvilinear_trapezoidal: {low: -1, high: 1, half_width: 0.5}}", "curvilinear trapezoidal, low -1, high 1, half width 0.5", 0, math.Sqrt(third + 0.25/9)},
		{"{readings: [10, 11, 12, 13, 14]}", "mean of 5 readings", 12, math.Sqrt(2.5/5) * math.Sqrt(4.0/2)},
		{"{values: {file: x.csv, column: y}, unit: g}", "5 values of y in x.csv", 0.003, 0.001 * math.Sqrt2},
		{"{values: {file: x.csv, column: y}, unit: g, smooth: 2}", "5 values of y in x.csv, smoothed by 2 g", 0.003, 0.001 * math.Sqrt(6)},
		{"{triangular: [1, 2, 3], ends: 5-95 %}", "triangular from 1 over 2 to 3, which are percentiles (ends 5-95 %)", 2, 1 / math.Sqrt(6) / (1 - math.Sqrt(0.1))},
	} {
		s := mustRead(t, Options{}, "format: 1\nmodel: formulas\ninputs:\n  a: "+tt.line+"\noutputs: {o: a}\n", "x.csv", "x, y\n0,1\n0,2\n0,3\n0,4\n0,5\n")
		in := s.Inputs[0]
		mean, sd := in.Marginal.Mean(), in.Marginal.SD()
		if in.Text != tt.text || !(math.Abs(mean-tt.mean) <= 1e-12*(tt.sd+math.Abs(tt.mean))) || !(math.Abs(sd-tt.sd) <= 1e-12*tt.sd) {
			t.Errorf("%s: %q, mean %v, sd %v; want %q, %v, %v", tt.line, in.Text, mean, sd, tt.text, tt.mean, tt.sd)
		}
	}
}

// TestEndsArePercentiles has 5 % and 10 % lie beyond the ends as stated.
func TestEndsArePercentiles(t *testing.T) {
	for _, line := range []string{"triangular: [4, 9, 10], ends: 5-90 %", "pert: [4, 9, 10], ends: 5-90 %", "pert: [4, 4, 10], ends: 5-90 %", "triangular: [4, 10, 10], ends: 5-90 %"} {
		s := mustRead(t, Options{}, "format: 1\nmodel: formulas\ninputs:\n  a: {"+line+"}\noutputs: {o: a}\n")
		m := s.Inputs[0].Marginal
		if below, above := m.CDF(4), m.Survival(10); math.Abs(below-0.05) > 1e-12 || math.Abs(above-0.1) > 1e-12 {
			t.Errorf("%s: %v below 4, %v above 10", line, below, above)
		}
	}
}

// TestValuesAreKept has a file of values kept once with the study, and found in
// given/ where a result keeps it.
func TestValuesAreKept(t *testing.T) {
	const study = "format: 1\nmodel: formulas\ninputs:\n  a: {values: {file: lib/x.csv, column: y}}\n  b: {values: {file: lib/x.csv, column: z}}\noutputs: {o: a + b}\n"
	const data = "y,z\n1,2\n3,4\n"
	s := mustRead(t, Options{}, study, "lib/x.csv", data)
	if len(s.Files) != 2 || s.Files[1].Name != "lib__x.csv" || string(s.Files[1].Data) != data {
		t.Errorf("files %+v", s.Files)
	}
	mustRead(t, Options{}, study, "given/lib__x.csv", data)
}
