package special

import (
	"math"

	"proofmass/sampling/portable"
)

// A Tail is one end of a distribution on a scale of its own: x > 0 is a distance
// from the end of the support, or from the origin of an endless tail, which
// falls.
type Tail interface {
	// Chance is that of the tail from x on: below x, or above x where it falls.
	Chance(x float64) float64
	// Density returns x f(x), which does not vanish where f does, and f'(x)/f(x).
	Density(x float64) (xf, bend float64)
	Falls() bool
}

// endless is a tail whose origin is the middle of a symmetric distribution.
type endless interface {
	peak() float64 // the density there
}

// The table of a tail reaches from the chance 1/2 down over these octaves; the
// cells of an octave are of equal width, finer where the quantile bends more.
const tableOctaves = 60

func cellsOf(octave int) (log2 int) {
	switch {
	case octave < 2:
		return 8
	case octave < 8:
		return 6
	}
	return 5
}

// leastNode bounds x from below where its table ends.
const leastNode = 1e-290

// TailTable gives the quantile x of a tail as a function of its chance. In each
// cell ln x is the polynomial of degree 5 in the logarithm of the chance that
// meets value, slope and curvature at both ends; in the first octave of an
// endless tail, which begins at x = 0, it is x itself. Cells follow from the bits
// of the chance, so no digit of a small one is lost.
//
// The error is h^6/46080 times the sixth derivative, h the width of a cell in the
// logarithm: less than the rounding.
type TailTable struct {
	t      Tail
	first  [tableOctaves]int // cell of each octave
	cells  []tailCell        // from the least chance of an octave up
	reach  int               // octaves that the table has
	middle float64           // x at the chance 1/2
	far    float64           // x at the least chance
}

type tailCell struct {
	x float64    // at the lower end
	c [5]float64 // powers 1 to 5 of the logarithm of the chance over that of the lower end
}

// tailNode is x and its first two derivatives by the logarithm of the chance.
type tailNode struct{ p, x, slope, curve float64 }

// Tail is the tail of the table.
func (s *TailTable) Tail() Tail { return s.t }

// newTailTable makes the table from x at the chance 1/2.
func newTailTable(t Tail, middle float64) *TailTable {
	s := &TailTable{t: t, middle: middle, far: middle}
	right := nodeAt(t, 0.5, middle)
	for ; s.reach < tableOctaves; s.reach++ {
		straight := middle == 0 && s.reach == 0
		n := 1 << cellsOf(s.reach)
		octave := make([]tailCell, n)
		base := math.Ldexp(1, -2-s.reach)
		for j := n - 1; j >= 0; j-- {
			p := float64(base * (1 + float64(j)/float64(n)))
			left := nodeAt(t, p, tailQuantile(t, p, right.before(p, straight)))
			if !(left.x > leastNode) {
				return s
			}
			octave[j] = cellBetween(left, right, straight)
			right = left
		}
		s.first[s.reach] = len(s.cells)
		s.cells = append(s.cells, octave...)
		s.far = right.x
	}
	return s
}

// nodeAt uses dx/dp = +-1/f(x).
func nodeAt(t Tail, p, x float64) tailNode {
	xf, bend := t.Density(x)
	slope := float64(p / xf * x)
	if e, ok := t.(endless); ok && x == 0 {
		slope, bend = p/e.peak(), 0
	}
	if t.Falls() {
		slope = -slope
	}
	return tailNode{p, x, slope, float64(slope * (1 - float64(bend*slope)))}
}

// before guesses x at the chance p, from the Taylor series.
func (n tailNode) before(p float64, straight bool) float64 {
	r := portable.LogRatio(p, n.p)
	if straight {
		return n.x + float64(r*(n.slope+0.5*float64(r*n.curve)))
	}
	l := n.logs()
	return float64(n.x * portable.Exp(float64(r*(l.slope+0.5*float64(r*l.curve)))))
}

// logs returns the derivatives of ln x.
func (n tailNode) logs() tailNode {
	s := n.slope / n.x
	return tailNode{n.p, 0, s, n.curve/n.x - float64(s*s)}
}

func cellBetween(left, right tailNode, straight bool) tailCell {
	x, step := left.x, right.x-left.x
	if !straight {
		step = portable.LogRatio(right.x, left.x)
		left, right = left.logs(), right.logs()
	}
	h := portable.LogRatio(right.p, left.p)
	c := hermite(tableNode{0, float64(h * left.slope), float64(h * h * left.curve)},
		tableNode{step, float64(h * right.slope), float64(h * h * right.curve)})
	cell, scale := tailCell{x: x}, 1.0
	for k := range cell.c {
		scale /= h
		cell.c[k] = float64(c[k+1] * scale)
	}
	return cell
}

// At returns the quantile at the chance p <= 1/2, NaN for what is no chance; far
// out, where no draw of practical designs falls, it is computed anew.
func (s *TailTable) At(p float64) float64 {
	bits := math.Float64bits(p)
	octave := 1021 - int(bits>>52) // p = 2^(-2-octave) times 1 to 2
	if octave >= s.reach || octave < 0 {
		return s.beyond(p)
	}
	log2 := cellsOf(octave)
	j := bits << 12 >> (64 - log2)
	base := math.Float64frombits(bits >> (52 - log2) << (52 - log2))
	cell := &s.cells[s.first[octave]+int(j)]
	r := log1pSmall((p - base) / base)
	c := &cell.c
	sum := float64(r * math.FMA(r, math.FMA(r, math.FMA(r, math.FMA(r, c[4], c[3]), c[2]), c[1]), c[0]))
	if octave == 0 && s.middle == 0 {
		return max(cell.x+sum, 0)
	}
	return float64(cell.x * portable.Exp(sum))
}

// log1pSmall returns ln(1+t) for 0 <= t <= 1/32, by the series of the inverse
// hyperbolic tangent of t/(2+t).
func log1pSmall(t float64) float64 {
	s := t / (2 + t)
	z := float64(s * s)
	tail := float64(z * math.FMA(z, math.FMA(z, math.FMA(z, 2.0/9, 2.0/7), 2.0/5), 2.0/3))
	return math.FMA(s, tail, 2*s)
}

// beyond is At for the middle, the far tail, its end and what is no chance.
func (s *TailTable) beyond(p float64) float64 {
	switch {
	case p == 0.5:
		return s.middle
	case p == 0 && s.t.Falls():
		return math.Inf(1)
	case p == 0:
		return 0
	case !(p > 0 && p < 0.5):
		return math.NaN()
	}
	return tailQuantile(s.t, p, s.far)
}

// tailQuantile solves chance(x) = p by Newton steps of ln chance in ln x, which
// is concave for the tails here; what leaves the bracket is halved into it.
func tailQuantile(t Tail, p, x float64) float64 {
	const least, most = -745, 709.7 // ln of what a number can hold
	lo, hi := float64(least), float64(most)
	y := portable.Log(max(x, 1e-320))
	for range 2000 {
		x = portable.Exp(y)
		c := t.Chance(x)
		if (c < p) == t.Falls() {
			hi = y
		} else {
			lo = y
		}
		xf, _ := t.Density(x)
		step := portable.Log(p/c) * c / xf
		if t.Falls() {
			step = -step
		}
		if math.Abs(step) < 1e-11 && c < 1 { // what is left is its square; the sum would round
			return float64(x * (1 + step))
		}
		next := y + step
		if !(next > lo && next < hi) || c == 0 || c == 1 {
			next = lo + 0.5*(hi-lo)
		}
		if next == y || hi-lo < 1e-15*(1+math.Abs(hi)) {
			break
		}
		y = next
	}
	return portable.Exp(y)
}
