package formula

import (
	"errors"
	"testing"

	"proofmass/model/unit"
)

// No text panics; what is accepted evaluates to finite values or the one NaN,
// prints to a text that is accepted, and its margin agrees with it.
func FuzzExpression(f *testing.F) {
	for _, text := range []string{
		"(boxed.kerb_mass - bonded.kerb_mass) / bonded.cell_count", "15 (kWh/100 km) + 8 % * x", "-x^2 + 2^3^2", "if(a > 1 and not b < 2 kg, min(a, b), 1e3)", "x >= -5 degC or y < 3 K",
		"0x1F + 017", "5 µm", "a == b", "1/0 + exp(-1/0)", "log10(1_000)^-3 <= abs(x)", "sqrt(x^4) / pi",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		e, err := Parse(text)
		if err != nil {
			var bad *Error
			if !errors.As(err, &bad) || bad.Offset < 0 || bad.Offset > len(text) || bad.Found == "" {
				t.Fatalf("%q: bad error %#v", text, err)
			}
			return
		}
		in := make([][]float64, len(e.Names()))
		for i := range in {
			in[i] = []float64{float64(i), -1.5}
		}
		out := []float64{0, 0}
		e.Program().Eval(out, in)
		for _, x := range out {
			if x-x != 0 && x == x {
				t.Fatalf("%q gives %v", text, x)
			}
		}
		for _, d := range []unit.Dimension{unit.One, unit.Kelvin} {
			checked(t, e, d, out, in)
		}
	})
}

func checked(t *testing.T, e *Expr, d unit.Dimension, out []float64, in [][]float64) {
	typeOf := func(name string) (Type, error) {
		return Type{Dimension: d, Temperature: d == unit.Kelvin && len(name)%2 == 0}, nil
	}
	if _, err := e.Check(typeOf); err != nil {
		return
	}
	m, ok := e.Margin()
	if !ok {
		return
	}
	if m.Currency() == "" {
		if _, err := Parse(m.String()); err != nil {
			t.Fatalf("%q: margin %q: %v", e, m, err)
		}
	}
	inside := []float64{0, 0}
	m.Program().Eval(inside, in)
	for i, x := range inside {
		if out[i] == 1 && x < 0 || out[i] == 0 && x > 0 {
			t.Fatalf("%q is %v with margin %v", e, out[i], x)
		}
	}
}
