package sensitivity

import (
	"maps"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"proofmass/sampling/portable"
)

// A testFunction of points of the unit cube has exact indices.
type testFunction struct {
	name         string
	f            func(u []float64) float64
	mean         float64
	first, total []float64
	closed       func(u uint32) float64 // Var(E[Y | X_u]), u a set of inputs as bits
}

// withIndices derives the indices of d inputs from the closed variances.
func (fn testFunction) withIndices(d int) testFunction {
	v := fn.variance(d)
	for i := range d {
		fn.first = append(fn.first, fn.closed(1<<i)/v)
		fn.total = append(fn.total, 1-fn.closed((1<<d-1)&^(1<<i))/v)
	}
	return fn
}

func (fn testFunction) variance(d int) float64 { return fn.closed(1<<d - 1) }

// ofParts sums the parts of the variance, by set of inputs, that lie within u.
func ofParts(parts map[uint32]float64) func(u uint32) float64 {
	sets := slices.Sorted(maps.Keys(parts))
	return func(u uint32) float64 {
		var v float64
		for _, w := range sets {
			if w&^u == 0 {
				v += parts[w]
			}
		}
		return v
	}
}

// ishigami is sin x1 + 7 sin^2 x2 + 0.1 x3^4 sin x1 on (-pi, pi)^3: Ishigami and
// Homma (1990). From its analysis of variance, a = 7, b = 0.1:
//
//	V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = b^2 pi^8 (1/18 - 1/50).
func ishigami() testFunction { return ishigamiWith(7, 0.1) }

func ishigamiWith(a, b float64) testFunction {
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
		mean:   a / 2.0,
		closed: ofParts(map[uint32]float64{1: v1, 2: v2, 5: v13}),
		first:  []float64{v1 / v, v2 / v, 0},
		total:  []float64{(v1 + v13) / v, v2 / v, v13 / v},
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
	g.closed = func(u uint32) float64 {
		within := 1.0
		for i, c := range a {
			if u>>i&1 == 1 {
				within *= 1 + 1/(3*(1+c)*(1+c))
			}
		}
		return within - 1
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
	l.closed = func(u uint32) float64 {
		var v float64
		for ; u != 0; u &= u - 1 {
			c := ranges[bits.TrailingZeros32(u)]
			v += c * c / 12
		}
		return v
	}
	l.f = func(u []float64) float64 {
		var y float64
		for i, c := range ranges {
			y += c * u[i]
		}
		return y
	}
	return l
}

// many is the G-function of 20 inputs.
func many() testFunction {
	return gFunction("g20", 0, 0, 1, 1, 4.5, 4.5, 4.5, 4.5, 9, 9, 9, 9, 99, 99, 99, 99, 99, 99, 99, 99)
}

// product is x1 x2 with x1 normal (2, 0.5) and x2 normal (3, 1). With m and s their
// means and deviations, V1 = s1^2 m2^2, V2 = s2^2 m1^2, V12 = s1^2 s2^2.
func product() testFunction {
	return testFunction{
		name: "product",
		f: func(u []float64) float64 {
			return (2 + 0.5*normal(u[0])) * (3 + normal(u[1]))
		},
		mean:   6,
		closed: ofParts(map[uint32]float64{1: 0.25 * 9, 2: 4, 3: 0.25}),
	}.withIndices(2)
}

// paired is the change from the baseline 2.8 x1 + x3 to the candidate 3 x1 + x2,
// of which x1 is shared; x standard normal.
func paired() testFunction {
	return testFunction{
		name: "paired",
		f: func(u []float64) float64 {
			x1, x2, x3 := normal(u[0]), normal(u[1]), normal(u[2])
			return (3*x1 + x2) - (2.8*x1 + x3)
		},
		closed: ofParts(map[uint32]float64{1: 0.2 * 0.2, 2: 1, 4: 1}),
	}.withIndices(3)
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

// independent draws n points of d columns.
func independent(random *rand.Rand, n, d int) [][]float64 {
	columns := make([][]float64, d)
	for j := range columns {
		columns[j] = make([]float64, n)
		for i := range n {
			columns[j][i] = random.Float64()
		}
	}
	return columns
}

func newRandom(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 11)) }

func normal(u float64) float64 { return portable.NormalQuantile(u) }

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
	singles := make([]uint32, len(fn.first))
	for i := range singles {
		singles[i] = 1 << i
	}
	return pickFreezeGroups(fn, seed, rows, replicates, singles)
}

// pickFreezeGroups does so for groups of inputs, each a set of bits.
func pickFreezeGroups(fn testFunction, seed uint64, rows, replicates int, groups []uint32) *PickFreeze {
	d := len(fn.first)
	random := newRandom(seed)
	p := NewPickFreeze(len(groups), 1)
	for r := range replicates {
		u := latin(random, rows/replicates, 2*d)
		a, b := u[:d], u[d:]
		fA, fB := values(fn.f, a), values(fn.f, b)
		s := p.NewSums()
		s.AddBase(0, fA, fB)
		for i, g := range groups {
			ab, ba := a, b
			for ; g != 0; g &= g - 1 {
				k := bits.TrailingZeros32(g)
				ab, ba = swapped(ab, b, k), swapped(ba, a, k)
			}
			s.AddSwapped(i, 0, fA, fB, values(fn.f, ab), values(fn.f, ba))
		}
		p.Join(r, s)
	}
	return p
}
