package sensitivity

import "math"

// products are sums over rows of the weight times two columns, inputs first and
// outputs behind. Values are deviations from the mean of all rows in a unit near the
// greatest, so that a far mean costs no digits.
type products struct {
	inputs, columns int
	rows            int
	weight, square  float64   // of the weights and of their squares
	first           []float64 // of each column
	cross           []float64 // of input i and column j >= i, at i*columns + j
	own             []float64 // of each column with itself
}

func newProducts(inputs, columns int) products {
	return products{
		inputs: inputs, columns: columns, first: make([]float64, columns),
		cross: make([]float64, inputs*columns), own: make([]float64, columns),
	}
}

// joinedBut sums the products of all blocks but one.
func joinedBut(blocks []products, without int) *products {
	p := newProducts(blocks[0].inputs, blocks[0].columns)
	for r, o := range blocks {
		if r != without {
			p.add(o)
		}
	}
	return &p
}

func (p *products) add(o products) {
	p.rows += o.rows
	p.weight += o.weight
	p.square += o.square
	for i, v := range o.first {
		p.first[i] += v
		p.own[i] += o.own[i]
	}
	for i, v := range o.cross {
		p.cross[i] += v
	}
}

// chunk is the number of rows whose deviations are held at a time.
const chunk = 128

// products are those of each block; replicate r joins block r mod 32.
func (f *fitted) products(columns [][]float64, inputs int) []products {
	frames := make([]frame, len(columns))
	for j, c := range columns {
		frames[j] = frameOf(c, f.weight)
	}
	blocks := make([]products, min(len(f.ends)-1, MostSlots))
	for r := range blocks {
		blocks[r] = newProducts(inputs, len(columns))
	}
	plain, weighted := make([]float64, len(columns)*chunk), make([]float64, len(columns)*chunk)
	for r := range len(f.ends) - 1 {
		for from := f.ends[r]; from < f.ends[r+1]; from += chunk {
			to := min(from+chunk, f.ends[r+1])
			for j, c := range columns {
				for i, v := range c[from:to] {
					d := (v - frames[j].centre) / frames[j].unit
					plain[j*chunk+i], weighted[j*chunk+i] = d, f.weight[from+i]*d
				}
			}
			blocks[r%len(blocks)].addChunk(plain, weighted, f.weight[from:to])
		}
	}
	return blocks
}

// frameOf is the weighted mean of v, and a unit near its spread, exact for one value.
func frameOf(v, weight []float64) frame {
	if len(v) == 0 {
		return frame{unit: 1}
	}
	low, high := v[0], v[0]
	var sum, weights float64
	for i, x := range v {
		low, high = min(low, x), max(high, x)
		weights += weight[i]
		sum += float64(weight[i] * (x - v[0]))
	}
	centre := v[0] + sum/weights
	if !(centre >= low && centre <= high) {
		centre = low + (high-low)/2
	}
	_, exponent := math.Frexp(high - low)
	return frame{centre: centre, unit: math.Ldexp(1, max(exponent, -1000))}
}

func (p *products) addChunk(plain, weighted, weight []float64) {
	n := len(weight)
	p.rows += n
	for _, w := range weight {
		p.weight += w
		p.square += float64(w * w)
	}
	for i := range p.columns {
		a := weighted[i*chunk:][:n]
		p.first[i] += total(a)
		p.own[i] += dot(a, plain[i*chunk:][:n])
		if i >= p.inputs {
			continue
		}
		for j := i + 1; j < p.columns; j++ {
			p.cross[i*p.columns+j] += dot(a, plain[j*chunk:][:n])
		}
	}
}

// dot sums in four strands, always the same.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s, t, u, v float64
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s += a[i] * b[i]
		t += a[i+1] * b[i+1]
		u += a[i+2] * b[i+2]
		v += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s += a[i] * b[i]
	}
	return (s + t) + (u + v)
}

// A solution is what least squares says of all outputs.
type solution struct {
	coefficients []float64 // of output j and input i at j*inputs + i
	shares       []float64 // adjusted R^2 of an output
	used         int       // inputs with a coefficient
	rows         float64   // as many rows of equal weight: Kish's effective number
}

const (
	noSpread  = 1e-13 // variance of a column beside its mean square: nothing but rounding
	collinear = 1e-10 // what the inputs before leave of an input's variance
)

// solve is own, though gonum's mat.Cholesky takes a quarter of its 0.2 ms for 40 inputs (a
// hundredth of a regression): that fails where an input is a function of those before it.
//
// It works on the correlations, by Cholesky's method in the order of the inputs. An
// input that those before it give is passed over.
func (p *products) solve() solution {
	outputs := p.columns - p.inputs
	s := solution{coefficients: make([]float64, outputs*p.inputs), shares: make([]float64, outputs)}
	s.rows = p.weight * p.weight / p.square
	fill(s.coefficients, math.NaN())
	fill(s.shares, math.NaN())
	if p.rows < 2 {
		return s
	}
	spread := p.spreads()
	root, used := p.root(spread)
	s.used = len(used)
	freedom := s.rows - float64(len(used)) - 1
	if float64(p.rows) < float64(p.inputs)+2 || !(freedom > 1e-9) {
		return s
	}
	solved := make([]float64, len(used))
	for j := range outputs {
		column := p.inputs + j
		if spread[column] == 0 {
			continue
		}
		share := p.forward(root, used, spread, column, solved)
		s.shares[j] = 1 - (1-share)*(s.rows-1)/freedom
		backward(root, solved)
		for k, i := range used {
			s.coefficients[j*p.inputs+i] = solved[k]
		}
	}
	return s
}

func fill(v []float64, x float64) {
	for i := range v {
		v[i] = x
	}
}

// spreads are the standard deviations of all columns, 0 where there is nothing but
// rounding or what is no number.
func (p *products) spreads() []float64 {
	spread := make([]float64, p.columns)
	for i := range spread {
		square, mean := p.own[i]/p.weight, p.first[i]/p.weight
		if v := square - mean*mean; v > noSpread*square {
			spread[i] = math.Sqrt(v)
		}
	}
	return spread
}

// correlation of input i and column j.
func (p *products) correlation(i, j int, spread []float64) float64 {
	if i > j {
		i, j = j, i
	}
	c := p.cross[i*p.columns+j]/p.weight - p.first[i]/p.weight*(p.first[j]/p.weight)
	return c / (spread[i] * spread[j])
}

// root returns the rows of Cholesky's lower triangle of the correlations, and the
// inputs that they belong to.
func (p *products) root(spread []float64) (root [][]float64, used []int) {
	for i := range p.inputs {
		if spread[i] == 0 {
			continue
		}
		row, left := make([]float64, len(used)+1), 1.0
		for k, other := range used {
			row[k] = (p.correlation(other, i, spread) - dot(row[:k], root[k][:k])) / root[k][k]
			left -= row[k] * row[k]
		}
		if !(left > collinear) {
			continue
		}
		row[len(used)] = math.Sqrt(left)
		root, used = append(root, row), append(used, i)
	}
	return root, used
}

// forward solves root v = correlations with the column; the share explained is v'v.
func (p *products) forward(root [][]float64, used []int, spread []float64, column int, v []float64) (share float64) {
	for k, i := range used {
		v[k] = (p.correlation(i, column, spread) - dot(root[k][:k], v[:k])) / root[k][k]
		share += v[k] * v[k]
	}
	return share
}

// backward solves root' b = v in the place of v.
func backward(root [][]float64, v []float64) {
	for k := len(v) - 1; k >= 0; k-- {
		v[k] /= root[k][k]
		for i := range k {
			v[i] -= root[k][i] * v[k]
		}
	}
}
