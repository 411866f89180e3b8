package claim

import (
	"cmp"
	"math"
	"slices"
)

// A NearestPoint is where a claim turns nearest to the middle of all inputs: the most probable
// point at which a claim that fails there holds, or one that holds there fails.
type NearestPoint struct {
	Z        []float64 // normal scores of the inputs
	Distance float64   // beta, the length of Z
	Margin   float64   // there; of the side that is reached: at least 0 but for rounding
	Fails    bool      // the claim holds at the middle, and Z is where it fails
	How      Found
}

// A Found says what is known of a nearest point.
type Found string

// How a point was found: a minimum by its conditions; the nearest that the search met, as in
// a corner of several conditions; the best where nothing within 6 standard
// deviations of each input turns the claim.
const (
	AtMinimum  Found = "point"
	NearestMet Found = "nearest_met"
	OutOfReach Found = "out_of_reach"
)

const (
	farthestScore = 6.0
	scoreStep     = 1e-3 // of central differences
	pointRounds   = 50
	atLimit       = 1e-6 // of the margin there, as a share of that at the middle
	alongNormal   = 1e-3 // of the point beside its gradient's line
	lineBits      = 30   // of a search on a line
)

// Margins evaluates how far inside the claim points of normal scores lie, a row each; what is
// NaN is infeasible and lies outside.
type Margins func(z [][]float64) ([]float64, error)

// Nearest finds the point: the steps of Hasofer and Lind (1974, J. Eng. Mech. 100) and
// Rackwitz and Fiessler (1978, Comput. Struct. 9) with the merit function of Zhang and Der
// Kiureghian (1995, IFIP WG 7.5), from the middle and from each start, then every score alone
// is moved back to its middle as far as the claim lets it, which settles the steps of lists and
// corners on the axes, and the steps are taken again. It is a function of its arguments alone.
func Nearest(inputs int, g Margins, starts [][]float64) (NearestPoint, error) {
	middle := make([]float64, inputs)
	at, err := g([][]float64{middle})
	if err != nil {
		return NearestPoint{}, err
	}
	s := search{g: g, inputs: inputs, sign: 1, scale: math.Abs(at[0])}
	if at[0] >= 0 {
		s.sign = -1
	}
	if !(s.scale > 0) || math.IsInf(s.scale, 0) {
		s.scale = 1
	}
	best := NearestPoint{Z: middle, Distance: math.Inf(1), Margin: math.Inf(-1), How: OutOfReach}
	for _, from := range append([][]float64{middle}, starts...) {
		p, err := s.from(from)
		if err != nil {
			return p, err
		}
		if nearer(p, best) {
			best = p
		}
	}
	best.Fails = s.sign < 0
	return best, nil
}

// nearer prefers what is reached, then what is near, else what is almost reached.
func nearer(p, q NearestPoint) bool {
	if (p.How == OutOfReach) != (q.How == OutOfReach) {
		return q.How == OutOfReach
	}
	if p.How == OutOfReach {
		return p.Margin > q.Margin
	}
	return p.Distance < q.Distance-1e-9
}

type search struct {
	g      Margins
	inputs int
	sign   float64 // 1: where it holds is sought, -1: where it fails
	scale  float64
}

// margins are those of the side that is sought; what is infeasible holds nowhere.
func (s *search) margins(z [][]float64) ([]float64, error) {
	m, err := s.g(z)
	for i, v := range m {
		if m[i] = s.sign * v; v != v {
			m[i] = s.sign * math.Inf(-1)
		}
	}
	return m, err
}

func (s *search) one(z []float64) (float64, error) {
	m, err := s.margins([][]float64{z})
	if err != nil {
		return 0, err
	}
	return m[0], nil
}

// gradient is by central differences, and the margin at z.
func (s *search) gradient(z []float64) (grad []float64, at float64, err error) {
	rows := [][]float64{z}
	for i := range z {
		for _, h := range []float64{scoreStep, -scoreStep} {
			row := slices.Clone(z)
			row[i] += h
			rows = append(rows, row)
		}
	}
	m, err := s.margins(rows)
	if err != nil {
		return nil, 0, err
	}
	grad = make([]float64, len(z))
	for i := range grad {
		up, down := m[1+2*i], m[2+2*i]
		if d := (up - down) / (2 * scoreStep); up != m[0] && down != m[0] && !math.IsInf(d, 0) && d == d {
			grad[i] = d // else it is on a step of a list, or does nothing
		}
	}
	return grad, m[0], nil
}

// from searches from one start. Scores on which nothing hangs but by steps are held where they
// are, moved back to their middles as far as they can be, and held there again.
func (s *search) from(start []float64) (NearestPoint, error) {
	p, err := s.descend(start)
	if err != nil || p.How == OutOfReach {
		return p, err
	}
	q, err := s.shrink(p)
	if err != nil || q.Distance > p.Distance-alongNormal {
		if p.How == AtMinimum {
			return p, err
		}
		return q, err
	}
	again, err := s.descend(q.Z)
	if err == nil && nearer(again, q) || again.How == AtMinimum && again.Distance < q.Distance+1e-6 {
		return again, err
	}
	return q, err
}

// descend takes the steps.
func (s *search) descend(start []float64) (NearestPoint, error) {
	z := slices.Clone(start)
	none := NearestPoint{Z: z, Distance: length(z), How: OutOfReach}
	met := none // the nearest that was on the side sought
	met.Distance = math.Inf(1)
	almost := none
	almost.Margin = math.Inf(-1)
	see := func(z []float64, m float64) {
		if l := length(z); m >= -float64(atLimit*s.scale) && l < met.Distance {
			met = NearestPoint{Z: slices.Clone(z), Distance: l, Margin: m, How: NearestMet}
		}
		if m > almost.Margin {
			almost = NearestPoint{Z: slices.Clone(z), Distance: length(z), Margin: m, How: OutOfReach}
		}
	}
	for range pointRounds {
		grad, m, err := s.gradient(z)
		if err != nil {
			return none, err
		}
		see(z, m)
		steep := float64(length(grad) * length(grad))
		if !(steep > 0) || math.IsInf(m, 0) {
			break
		}
		if math.Abs(m) <= float64(atLimit*s.scale) && beside(z, grad) <= alongNormal {
			return NearestPoint{Z: z, Distance: length(z), Margin: m, How: AtMinimum}, nil
		}
		moved, err := s.step(z, grad, m, steep, see)
		if err != nil {
			return none, err
		}
		if moved == nil {
			break
		}
		z = moved
	}
	if math.IsInf(met.Distance, 0) {
		return almost, nil
	}
	return met, nil
}

// step goes towards the point of the linearised margin, by halves until the merit falls; nil
// where it does not.
func (s *search) step(z, grad []float64, m, steep float64, see func([]float64, float64)) ([]float64, error) {
	to, dot := make([]float64, len(z)), 0.0
	for i := range z {
		dot += float64(grad[i] * z[i])
	}
	for i := range z {
		if to[i] = z[i]; grad[i] != 0 {
			to[i] = min(max((dot-m)/steep*grad[i], -farthestScore), farthestScore)
		}
	}
	weight := float64(2*max(length(z), length(to))/math.Sqrt(steep)) + 10/math.Sqrt(steep)
	merit := func(z []float64, m float64) float64 {
		return float64(length(z)*length(z))/2 + float64(weight*math.Abs(m))
	}
	now := merit(z, m)
	rows, share := make([][]float64, 8), 1.0
	for k := range rows {
		rows[k] = make([]float64, len(z))
		for i := range z {
			rows[k][i] = z[i] + float64(share*(to[i]-z[i]))
		}
		share /= 2
	}
	found, err := s.margins(rows)
	if err != nil {
		return nil, err
	}
	for k, row := range rows {
		see(row, found[k])
		if merit(row, found[k]) < now-1e-12 {
			return row, nil
		}
	}
	return nil, nil
}

// shrink moves the whole point, then each score alone, back to its middle as far as the claim
// lets it, the largest first, again and again until nothing moves.
func (s *search) shrink(p NearestPoint) (NearestPoint, error) {
	order := make([]int, s.inputs)
	for range 10 {
		before := p.Distance
		if err := s.back(&p, -1); err != nil {
			return p, err
		}
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(p.Z[b]), math.Abs(p.Z[a])) })
		for _, i := range order {
			if math.Abs(p.Z[i]) > 1e-9 {
				if err := s.back(&p, i); err != nil {
					return p, err
				}
			}
		}
		if before-p.Distance < 1e-6 {
			break
		}
	}
	p.Distance = length(p.Z)
	return p, nil
}

// back moves one score, or all (-1), towards the middle as far as a search on the line finds.
func (s *search) back(p *NearestPoint, input int) error {
	at := func(share float64) []float64 {
		z := slices.Clone(p.Z)
		for i := range z {
			if input < 0 || i == input {
				z[i] *= share
			}
		}
		return z
	}
	limit := float64(atLimit * s.scale)
	margin, err := s.one(at(0))
	if err != nil {
		return err
	}
	share := 0.0
	if margin < -limit {
		turn := NewTurn(margin+limit, p.Margin+limit, lineBits)
		margin = p.Margin
		for {
			var more bool
			if share, more = turn.Next(); !more {
				break
			}
			m, err := s.one(at(share))
			if err != nil {
				return err
			}
			if m >= -limit {
				margin = m
			}
			turn.Tell(share, m+limit, m >= -limit)
		}
	}
	p.Z, p.Margin = at(share), margin
	p.Distance = length(p.Z)
	return nil
}

func length(z []float64) float64 {
	sum := 0.0
	for _, x := range z {
		sum += float64(x * x)
	}
	return math.Sqrt(sum)
}

// beside is how far a point lies from the line of a gradient through the middle, but for
// scores that are held.
func beside(z, grad []float64) float64 {
	dot, l := 0.0, length(grad)
	for i := range z {
		dot += float64(z[i] * grad[i] / l)
	}
	square := 0.0
	for i := range z {
		if grad[i] == 0 {
			continue
		}
		d := z[i] - float64(dot*grad[i]/l)
		square += float64(d * d)
	}
	return math.Sqrt(square)
}
