package formula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"proofmass/sampling/portable"
)

// A made is a random expression: its text, and what it is worth, computed one
// row at a time by the rules of the package comment and by nothing else of the
// package.
type made struct {
	text  string
	value func(row []float64) float64
}

// strict applies f where every argument is finite, and makes a result that is
// not finite NaN.
func strict(f func(x ...float64) float64, args ...made) func(row []float64) float64 {
	return func(row []float64) float64 {
		x := make([]float64, len(args))
		for i, a := range args {
			if x[i] = a.value(row); x[i]-x[i] != 0 {
				return math.NaN()
			}
		}
		if y := f(x...); y-y == 0 {
			return y
		}
		return math.NaN()
	}
}

func bit(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func number(r *rand.Rand, depth int) made {
	if depth == 0 || r.IntN(8) == 0 {
		i := r.IntN(5)
		if i < 3 {
			return made{string(rune('a' + i)), func(row []float64) float64 { return row[i] }}
		}
		k := []float64{0, 1, 2.5, -3, 1e200}[r.IntN(5)]
		return made{fmt.Sprintf("(%v)", k), func([]float64) float64 { return k }}
	}
	x, y := number(r, depth-1), number(r, depth-1)
	switch r.IntN(18) {
	case 0:
		return made{"(" + x.text + " + " + y.text + ")", strict(func(v ...float64) float64 { return v[0] + v[1] }, x, y)}
	case 1:
		return made{"(" + x.text + " - " + y.text + ")", strict(func(v ...float64) float64 { return v[0] - v[1] }, x, y)}
	case 2:
		return made{x.text + " * " + y.text, strict(func(v ...float64) float64 { return v[0] * v[1] }, x, y)}.inBrackets()
	case 3:
		return made{x.text + " / " + y.text, strict(func(v ...float64) float64 { return v[0] / v[1] }, x, y)}.inBrackets()
	case 4:
		return made{"min(" + x.text + ", " + y.text + ")", strict(func(v ...float64) float64 { return math.Min(v[0], v[1]) }, x, y)}
	case 5:
		return made{"max(" + x.text + ", " + y.text + ")", strict(func(v ...float64) float64 { return math.Max(v[0], v[1]) }, x, y)}
	case 6:
		return made{"sqrt(" + x.text + ")", strict(func(v ...float64) float64 { return math.Sqrt(v[0]) }, x)}
	case 7:
		return made{"exp(" + x.text + ")", strict(func(v ...float64) float64 { return portable.Exp(v[0]) }, x)}
	case 8:
		return made{"log(" + x.text + ")", strict(func(v ...float64) float64 { return portable.Log(v[0]) }, x)}
	case 9:
		return made{"(-" + x.text + ")", strict(func(v ...float64) float64 { return -v[0] }, x)}
	case 10:
		return made{x.text + "^3", strict(func(v ...float64) float64 { return v[0] * float64(v[0]*v[0]) }, x)}.inBrackets()
	case 11:
		return made{x.text + "^-2", strict(func(v ...float64) float64 { return 1 / finite(float64(v[0]*v[0])) }, x)}.inBrackets()
	case 13: // the exponent is made no constant: a constant whole one is made of products
		e := y
		y = made{"(" + e.text + " + 0 * a)", strict(func(v ...float64) float64 { return v[0] }, e, made{"a", func(row []float64) float64 { return row[0] }})}
		return made{"(" + x.text + "^" + y.text + ")", strict(func(v ...float64) float64 {
			switch {
			case v[0] >= 0:
				return portable.Pow(v[0], v[1])
			case v[1] != math.Trunc(v[1]):
				return math.NaN()
			case math.Abs(v[1]) < 1<<53 && int64(v[1])%2 != 0:
				return -portable.Pow(-v[0], v[1])
			}
			return portable.Pow(-v[0], v[1])
		}, x, y)}
	case 14:
		name := []string{"sin", "cos", "tan", "atan"}[r.IntN(4)]
		f := map[string]func(float64) float64{"sin": portable.Sin, "cos": portable.Cos, "tan": portable.Tan, "atan": portable.Atan}[name]
		return made{name + "(" + x.text + ")", strict(func(v ...float64) float64 { return f(v[0]) }, x)}
	case 15:
		name := []string{"asin", "acos"}[r.IntN(2)]
		f := map[string]func(float64) float64{"asin": portable.Asin, "acos": portable.Acos}[name]
		return made{name + "(" + x.text + ")", strict(func(v ...float64) float64 { return f(v[0]) }, x)}
	case 16:
		return made{"atan2(" + x.text + ", " + y.text + ")", strict(func(v ...float64) float64 {
			if v[0] == 0 && v[1] == 0 {
				return math.NaN()
			}
			return portable.Atan2(v[0]+0, v[1]+0)
		}, x, y)}
	case 12:
		return made{"floor(abs(" + x.text + "))", strict(func(v ...float64) float64 { return math.Floor(math.Abs(v[0])) }, x)}
	}
	c := condition(r, depth-1)
	return made{"if(" + c.text + ", " + x.text + ", " + y.text + ")", func(row []float64) float64 {
		switch h := c.value(row); {
		case h != h:
			return h
		case h == 1:
			return finite(x.value(row))
		}
		return finite(y.value(row))
	}}
}

func (m made) inBrackets() made { return made{"(" + m.text + ")", m.value} }

func condition(r *rand.Rand, depth int) made {
	kind := r.IntN(5)
	if depth == 0 {
		depth, kind = 1, 3
	}
	switch kind {
	case 0:
		x, y := condition(r, depth-1), condition(r, depth-1)
		return made{"(" + x.text + " and " + y.text + ")", strict(func(v ...float64) float64 { return bit(v[0] == 1 && v[1] == 1) }, x, y)}
	case 1:
		x, y := condition(r, depth-1), condition(r, depth-1)
		return made{"(" + x.text + " or " + y.text + ")", strict(func(v ...float64) float64 { return bit(v[0] == 1 || v[1] == 1) }, x, y)}
	case 2:
		x := condition(r, depth-1)
		return made{"(not " + x.text + ")", strict(func(v ...float64) float64 { return bit(v[0] != 1) }, x)}
	case 3:
		x, y := number(r, depth-1), number(r, depth-1)
		return made{"(" + x.text + " <= " + y.text + ")", strict(func(v ...float64) float64 { return bit(v[0] <= v[1]) }, x, y)}
	}
	x, y := number(r, depth-1), number(r, depth-1)
	return made{"(" + x.text + " > " + y.text + ")", strict(func(v ...float64) float64 { return bit(v[0] > v[1]) }, x, y)}
}

// 3,000 random expressions over rows that meet every special value, against
// an interpreter of one row. The seed is fixed, so it passes always or never.
func TestAgainstInterpreter(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 17))
	special := []float64{0, 1, -1, 0.5, 2, -7.25, 1e-300, 1e300, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1), 710, -750}
	const rows = 1300 // more than two blocks
	columns := make([][]float64, 3)
	for j := range columns {
		columns[j] = make([]float64, rows)
		for i := range columns[j] {
			columns[j][i] = special[r.IntN(len(special))]
			if r.IntN(2) == 0 {
				columns[j][i] = r.NormFloat64()
			}
		}
	}
	feasible := 0
	for k := range 3000 {
		m := number(r, 1+k%5)
		if k%3 == 0 {
			m = condition(r, 1+k%5)
		}
		feasible += compare(t, m, columns)
	}
	if feasible < 3000*rows/10 {
		t.Errorf("only %d rows are feasible: the test sees too little", feasible)
	}
}

func compare(t *testing.T, m made, columns [][]float64) (feasible int) {
	e, err := Parse(m.text)
	if err != nil {
		t.Fatalf("%s: %v", m.text, err)
	}
	if _, err := e.Check(func(string) (Type, error) { return Type{}, nil }); err != nil {
		t.Fatalf("%s: %v", m.text, err)
	}
	in := make([][]float64, len(e.Names()))
	for i, name := range e.Names() {
		in[i] = columns[name[0]-'a']
	}
	out := make([]float64, len(columns[0]))
	e.Program().Eval(out, in)
	for i, got := range out {
		row := []float64{columns[0][i], columns[1][i], columns[2][i]}
		want := finite(m.value(row))
		if got != want && (want == want || math.Float64bits(got) != math.Float64bits(math.NaN())) {
			t.Fatalf("%s\nat %v: got %v, want %v", m.text, row, got, want)
		}
		if want == want {
			feasible++
		}
	}
	return feasible
}

// A Clone gives the same answers, and rows do not touch one another.
func TestCloneAndBlocks(t *testing.T) {
	e, err := Parse("if(a > 0, sqrt(a), a^2) * 3 + min(a, 1)")
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, 2000)
	for i := range x {
		x[i] = float64(i-1000) / 7
	}
	code := e.Program()
	whole, one := make([]float64, len(x)), make([]float64, 1)
	code.Eval(whole, [][]float64{x})
	clone := code.Clone()
	for i := range x {
		clone.Eval(one, [][]float64{x[i : i+1]})
		if one[0] != whole[i] {
			t.Fatalf("row %d: %v alone, %v in a block", i, one[0], whole[i])
		}
	}
	code.Eval(x, [][]float64{x})
	for i := range x {
		if x[i] != whole[i] {
			t.Fatalf("row %d: in place %v, want %v", i, x[i], whole[i])
		}
	}
}

func TestEvalAllocatesNothing(t *testing.T) {
	e, err := Parse("(a - b) / c * 1.5 + sqrt(exp(a)) + if(a > b, 1, 2)^3")
	if err != nil {
		t.Fatal(err)
	}
	code, out, in := e.Program(), make([]float64, 3000), [][]float64{make([]float64, 3000), make([]float64, 3000), make([]float64, 3000)}
	if n := testing.AllocsPerRun(10, func() { code.Eval(out, in) }); n != 0 {
		t.Errorf("%v allocations a run", n)
	}
}
