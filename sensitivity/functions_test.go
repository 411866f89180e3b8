package sensitivity

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A testFunction of points of the unit cube has exact indices.
type testFunction struct {
	name         string
	f            func(u []float64) float64
	mean         float64
	first, total []float64
}

// ishigami is sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1 on (-pi, pi)^3: Ishigami and
// Homma (1990). From its analysis of variance, a = 7, b = 0.1:
//
//	V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = b^2 pi^8 (1/18 - 1/50).
func ishigami() testFunction {
	const a, b = 7, 0.1
	pi4 := math.Pow(math.Pi, 4)
	v1, v2, v13 := (1+b*pi4/5)*(1+b*pi4/5)/2, a*a/8.0, b*b*pi4*pi4*(1.0/18-1.0/50)
	v := v1 + v2 + v13
	return testFunction{
		name: "ishigami",
		f: func(u []float64) float64 {
			x1, x2, x3 := math.Pi*(2*u[0]-1), math.Pi*(2*u[1]-1), math.Pi*(2*u[2]-1)
			s := math.Sin(x2)
			return math.Sin(x1)*(1+b*x3*x3*x3*x3) + a*s*s
		},
		mean:  a / 2.0,
		first: []float64{v1 / v, v2 / v, 0},
		total: []float64{(v1 + v13) / v, v2 / v, v13 / v},
	}
}

// gFunction is the product of (|4u_i - 2| + a_i)/(1 + a_i): Saltelli and Sobol'
// (1995). V_i = 1/(3 (1+a_i)^2), V = prod (1+V_i) - 1, and the total variance of
// input i is V_i prod_{j != i} (1+V_j).
func gFunction(name string, a ...float64) testFunction {
	product := 1.0
	for _, c := range a {
		product *= 1 + 1/(3*(1+c)*(1+c))
	}
	g := testFunction{name: name, mean: 1}
	for _, c := range a {
		v := 1 / (3 * (1 + c) * (1 + c))
		g.first = append(g.first, v/(product-1))
		g.total = append(g.total, v*product/(1+v)/(product-1))
	}
	g.f = func(u []float64) float64 {
		y := 1.0
		for i, c := range a {
			y *= (math.Abs(4*u[i]-2) + c) / (1 + c)
		}
		return y
	}
	return g
}

// linear is the sum of c_i u_i, with the given range of each term.
func linear(name string, ranges ...float64) testFunction {
	l := testFunction{name: name}
	var v float64
	for _, c := range ranges {
		v += c * c
		l.mean += c / 2
	}
	for _, c := range ranges {
		l.first = append(l.first, c*c/v)
	}
	l.total = l.first
	l.f = func(u []float64) float64 {
		var y float64
		for i, c := range ranges {
			y += c * u[i]
		}
		return y
	}
	return l
}

func testFunctions() []testFunction {
	return []testFunction{
		ishigami(),
		gFunction("g3", 0, 0, 0),
		gFunction("g8", 0, 1, 4.5, 9, 99, 99, 99, 99),
		linear("linear", 4, -4, 0.5, 1.5), // 4x1 - 2x2 + x3 + 0.5x4 on (0,1)(0,2)(0,0.5)(0,3)
	}
}

// Values of the closed forms above, evaluated elsewhere with 20 digits.
func TestClosedForms(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"ishigami S1", ishigami().first[0], 0.31390519114781145221},
		{"ishigami S2", ishigami().first[1], 0.4424111447900408148},
		{"ishigami ST1", ishigami().total[0], 0.5575888552099591852},
		{"ishigami ST3", ishigami().total[2], 0.24368366406214773298},
		{"g8 S1", testFunctions()[2].first[0], 0.71619216887903330683},
		{"g8 ST1", testFunctions()[2].total[0], 0.78714412665927498013},
		{"g8 ST6", testFunctions()[2].total[5], 0.00010494905191950601382},
		{"g3 S2", testFunctions()[1].first[1], 0.24324324324324324324},
		{"g3 ST2", testFunctions()[1].total[1], 0.43243243243243243243},
		{"linear S1", testFunctions()[3].first[0], 0.46376811594202898551},
		{"linear S3", testFunctions()[3].first[2], 0.0072463768115942028986},
	} {
		if math.Abs(c.got-c.want) > 1e-12*c.want {
			t.Errorf("%s: %.17g, want %.17g", c.name, c.got, c.want)
		}
	}
}

// latin draws n points of a Latin hypercube in d columns (McKay, Beckman and
// Conover 1979).
func latin(random *rand.Rand, n, d int) [][]float64 {
	columns := make([][]float64, d)
	for j := range columns {
		c := make([]float64, n)
		for i, stratum := range random.Perm(n) {
			c[i] = (float64(stratum) + random.Float64()) / float64(n)
		}
		columns[j] = c
	}
	return columns
}

// values evaluates f on columns.
func values(f func([]float64) float64, columns [][]float64) []float64 {
	y := make([]float64, len(columns[0]))
	u := make([]float64, len(columns))
	for i := range y {
		for j, c := range columns {
			u[j] = c[i]
		}
		y[i] = f(u)
	}
	return y
}

// swapped returns the columns of a with column i of b.
func swapped(a, b [][]float64, i int) [][]float64 {
	c := append([][]float64(nil), a...)
	c[i] = b[i]
	return c
}

// pickFreeze runs replicates of rows/replicates rows, one slice each.
func pickFreeze(fn testFunction, seed uint64, rows, replicates int) *PickFreeze {
	d := len(fn.first)
	random := rand.New(rand.NewPCG(seed, 11))
	p := NewPickFreeze(d, 1, replicates, nil)
	for r := range replicates {
		u := latin(random, rows/replicates, 2*d)
		a, b := u[:d], u[d:]
		fA, fB := values(fn.f, a), values(fn.f, b)
		s := p.NewSums()
		s.AddBase(0, fA, fB)
		for i := range d {
			s.AddSwapped(i, 0, fA, fB, values(fn.f, swapped(a, b, i)))
		}
		p.Join(r, s)
	}
	return p
}
